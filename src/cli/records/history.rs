//! `records history`: what stands of a notice, what was printed of it, and everything that happened to it.

use super::kept::{self, Record};
use super::numbers;
use crate::cli::arguments::{General, HistoryOf, ReportForm};
use crate::cli::failure::Failure;
use crate::cli::report::{counted, marks, visible};
use crate::cli::terminal::Terminal;
use crate::length::Length;
use crate::records::{Condition, Entry, Known, Ledger, Print, Statement};

/// Shows it, the oldest entry first.
pub(super) fn perform(asked: &HistoryOf, general: &General, terminal: Terminal) -> Result<(), Failure> {
    let (path, job) = Record::path_here(general)?;
    kept::must_be_there(&path)?;
    let record = Record::read(path, job.limits().file_bytes)?;
    record.judge(general, terminal)?;
    let ledger = Ledger::of(&record.reading.entries);
    let known = ledger.find(&asked.number).ok_or_else(|| unknown(&asked.number, &ledger))?;
    match general.report {
        ReportForm::Json => {
            let findings = &record.reading.findings;
            terminal.stream(|out| marks::write(findings, &marks::History::from(known), out))?;
        }
        ReportForm::Text | ReportForm::Short => terminal.print(&told(known, asked.says))?,
    }
    Ok(())
}

/// A number that the record does not have.
fn unknown(number: &str, ledger: &Ledger<'_>) -> Failure {
    let hint = numbers::nearest(number, ledger).map_or_else(
        || format!("the record knows {}", counted(ledger.notices.len(), "notice")),
        |near| format!("is it {near}?"),
    );
    Failure::with_hint(format!("the record has no notice `{number}`"), hint)
}

fn told(known: &Known<'_>, says: bool) -> String {
    let mut lines = vec![known.number.to_owned(), known.in_words()];
    let mut said: Option<&Statement> = None;
    for entry in &known.entries {
        lines.push(line(entry));
        let Some(print) = entry.print.as_deref() else { continue };
        lines.extend(printed(print));
        if says {
            lines.extend(statement(&print.says, said));
            said = Some(&print.says);
        }
    }
    lines.iter().map(|line| visible(line) + "\n").collect()
}

/// `  2026-11-24  inspected: faded, rev B, by JD, note: sun on it`
fn line(entry: &Entry) -> String {
    let named = |name: &str, text: &str| (!text.is_empty()).then(|| format!("{name} {text}"));
    let parts = [
        named("rev", &entry.revision),
        named("by", &entry.by),
        named("at", &entry.place),
        named("photo", &entry.photo),
        named("note:", &entry.note),
    ];
    let condition = entry.condition.map(|condition: Condition| format!(": {}", condition.name())).unwrap_or_default();
    let mut line = format!("  {}  {}{condition}", entry.date, entry.event.name());
    parts.into_iter().flatten().for_each(|part| line.push_str(&format!(", {part}")));
    line
}

/// What was printed, and on what; two lines below its entry.
fn printed(print: &Print) -> [String; 2] {
    let or = |text: &str, other: &str| if text.is_empty() { other.to_owned() } else { text.to_owned() };
    let issued = if print.issued.is_empty() { String::new() } else { format!("issued {}, ", print.issued) };
    let file = match (print.file.as_str(), print.page) {
        ("", _) => "document not known".to_owned(),
        (file, 0) => file.to_owned(),
        (file, page) => format!("{file} page {page} cell {}", print.cell),
    };
    let copies = if print.copies > 1 { format!(", {} copies", print.copies) } else { String::new() };
    let (material, process) = (or(&print.material, "material not known"), or(&print.process, "method not known"));
    let place = or(&print.environment, "not said what it must stand up to");
    let high = |what: &str, height: Option<Length>| height.map(|it| format!(", {what} {it} mm")).unwrap_or_default();
    let heights = high("capitals", print.letters) + &high("sign", print.sign);
    [
        format!("              {issued}{}{heights} on {}, {file}{copies}", print.size, print.format),
        format!("              {material}, {process}; {place}; lasts: {}", print.lasts),
    ]
}

/// What a printing said, part by part; behind the first only what it says anew, and what it no longer says.
fn statement(says: &Statement, before: Option<&Statement>) -> Vec<String> {
    let written =
        |sign: char, part: &crate::records::Part| format!("            {sign} {}: {}", part.kind.name(), part.text);
    let Some(before) = before else { return says.0.iter().map(|part| written(' ', part)).collect() };
    if before == says {
        return vec!["              says the same as the printing before".to_owned()];
    }
    let gone = before.0.iter().filter(|part| !says.0.contains(part)).map(|part| written('-', part));
    let new = says.0.iter().filter(|part| !before.0.contains(part)).map(|part| written('+', part));
    let changed: Vec<String> = gone.chain(new).collect();
    if changed.is_empty() { vec!["              says the same in another order".to_owned()] } else { changed }
}
