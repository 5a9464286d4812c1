//! `records import`: what was filled into an inspection list becomes entries, all of them or none.

use super::kept::{self, Adding, Record};
use super::today;
use crate::cli::arguments::{General, ImportOf, ReportForm};
use crate::cli::failure::Failure;
use crate::cli::languages;
use crate::cli::pipeline;
use crate::cli::report::counted;
use crate::cli::report::json::Report;
use crate::cli::terminal::Terminal;
use crate::files;
use crate::job::Job;
use crate::records::Ledger;
use crate::records::list::{self, ReadOptions, Reading, Taken, Usual};

/// Reads the list, judges every row, and records what is new.
pub(super) fn perform(arguments: &ImportOf, general: &General, terminal: Terminal) -> Result<(), Failure> {
    let (path, job) = Record::path_here(general)?;
    let now = today::today()?;
    let usual = usual(arguments)?;
    let reading = read(arguments, general, &job)?;
    kept::must_be_there(&path)?;
    let adding = Adding::open(path, job.limits().file_bytes, general, terminal)?;
    let ledger = Ledger::of(&adding.record.reading.entries);
    let taken = list::take(&reading, &ledger, &usual, now);
    let findings = [reading.findings.as_slice(), &taken.findings].concat();
    if general.report == ReportForm::Json {
        terminal.stream(|out| Report::new(&job.job.edition, &findings).write(out))?;
    } else {
        terminal.complain(&pipeline::render_findings(&findings, general.report, terminal.message_colour()));
    }
    if let Err(faulty) = pipeline::judge(&findings, general.strict) {
        terminal.say("nothing was recorded\n");
        return Err(faulty);
    }
    if !taken.entries.is_empty() {
        adding.add(&taken.entries)?;
    }
    terminal.say(&told(&taken, &reading));
    Ok(())
}

fn usual(arguments: &ImportOf) -> Result<Usual, Failure> {
    let date = arguments.date.as_deref().map(|day| today::day(Some(day), "--date")).transpose()?;
    Ok(Usual { date, by: arguments.by.clone().unwrap_or_default() })
}

fn read(arguments: &ImportOf, general: &General, job: &Job) -> Result<Reading, Failure> {
    let encoding = general.encoding.as_deref().map(languages::encoding).transpose()?;
    let limits = job.limits();
    let bytes = files::read(&arguments.list, limits.file_bytes).map_err(Failure::of_input)?;
    let options = ReadOptions { encoding, limits, ..ReadOptions::new(arguments.list.display().to_string()) };
    Ok(list::read(&bytes, &options))
}

/// `recorded 12 entries; 2 rows were recorded before; 3 rows say neither condition nor event and are left out`
fn told(taken: &Taken, reading: &Reading) -> String {
    let mut parts = vec![match taken.entries.len() {
        0 => "nothing new to record".to_owned(),
        1 => "recorded 1 entry".to_owned(),
        count => format!("recorded {count} entries"),
    }];
    let were = |count: usize, was: &str, were: &str| {
        format!("{} {}", counted(count, "row"), if count == 1 { was } else { were })
    };
    if taken.known > 0 {
        parts.push(were(taken.known, "was recorded before", "were recorded before"));
    }
    if reading.left_out > 0 {
        let (one, more) =
            ("says neither condition nor event and is left out", "say neither condition nor event and are left out");
        parts.push(were(reading.left_out, one, more));
    }
    parts.join("; ") + "\n"
}
