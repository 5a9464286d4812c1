//! `records list`: an inspection list to fill in by hand.

use std::io::Write as _;

use super::asked;
use super::due::CHECK_FIRST;
use super::kept::{self, Record};
use crate::cli::arguments::{General, ListOf, ReportForm};
use crate::cli::document;
use crate::cli::failure::Failure;
use crate::cli::outputs::Outputs;
use crate::cli::report::json::{OutputEntry, Report};
use crate::cli::report::{counted, visible};
use crate::cli::terminal::Terminal;
use crate::records::due::Row;
use crate::records::{Ledger, list};
use crate::schedule::csv;

/// Writes the list.
pub(super) fn perform(arguments: &ListOf, general: &General, terminal: Terminal) -> Result<(), Failure> {
    let is_workbook = is_workbook(arguments)?;
    let (path, job) = Record::path_here(general)?;
    let asked = asked::by(&arguments.by, &job)?;
    kept::must_be_there(&path)?;
    let record = Record::read(path, job.limits().file_bytes)?;
    record.judge(general, terminal)?;
    let (ledger, due) = asked::due(Ledger::of(&record.reading.entries), &arguments.which, asked)?;
    let rows = list::rows(&ledger, &due, arguments.due);
    if rows.is_empty() {
        let message =
            if arguments.due { "nothing is due by the record" } else { "the record has no notice to look at" };
        return Err(Failure::with_hint(message, "`noticewright records due` tells what the record knows"));
    }
    let mut outputs =
        Outputs::check(std::slice::from_ref(&arguments.output), std::slice::from_ref(&record.path), general)?;
    let (path, bytes) = outputs.write(|out| {
        if !is_workbook {
            return csv::write(out, rows.iter().cloned());
        }
        let made = list::make(&rows, &document::info(&job, "inspection list"))?;
        out.write_all(&made.bytes)?;
        Ok(u64::try_from(made.bytes.len()).unwrap_or(u64::MAX))
    })?;
    outputs.publish()?;
    terminal.say(&format!("{}: {}\n", visible(&path), counted(rows.len(), "notice")));
    if due.rows.iter().any(Row::is_to_fix) {
        terminal.say(&format!("{CHECK_FIRST}\n"));
    }
    if general.report == ReportForm::Json {
        let mut report = Report::new(&job.job.edition, &record.reading.findings);
        let notices = rows.len();
        report.outputs(vec![OutputEntry { path, pages: 0, notices, bytes, read_back: None, packed: Vec::new() }]);
        terminal.stream(|out| report.write(out))?;
    }
    Ok(())
}

/// By the ending of its name; a list is filled in, so that it needs a file.
fn is_workbook(arguments: &ListOf) -> Result<bool, Failure> {
    let ending = arguments.output.extension().map(|ending| ending.to_string_lossy().to_ascii_lowercase());
    match ending.as_deref() {
        Some("xlsx") => Ok(true),
        Some("csv") => Ok(false),
        _ => {
            let message = format!("`{}` does not say what it is to be", arguments.output.display());
            Err(Failure::with_hint(message, "let its name end in .csv or .xlsx"))
        }
    }
}
