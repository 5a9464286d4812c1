//! `records history`: everything that happened to a notice.

use super::kept::Record;
use crate::cli::arguments::{General, HistoryOf};
use crate::cli::failure::Failure;
use crate::cli::report::visible;
use crate::cli::terminal::Terminal;
use crate::records::{Condition, Entry, Known, Ledger};

/// Shows it, the oldest entry first.
pub(super) fn perform(asked: &HistoryOf, general: &General, terminal: Terminal) -> Result<(), Failure> {
    let (path, job) = Record::path_here(general)?;
    let record = Record::read(path, job.limits().file_bytes)?;
    record.judge(general, terminal)?;
    let ledger = Ledger::of(&record.reading.entries);
    let known = ledger.find(&asked.number).ok_or_else(|| unknown(&asked.number, &ledger))?;
    Ok(terminal.print(&told(known))?)
}

/// A number that the record does not have.
fn unknown(number: &str, ledger: &Ledger<'_>) -> Failure {
    let numbers: Vec<&str> = ledger.notices.iter().map(|known| known.number).collect();
    let hint = crate::cli::pipeline::nearest(number, &numbers)
        .map_or("`noticewright records due` lists what the record has".to_owned(), |near| format!("is it `{near}`?"));
    Failure::with_hint(format!("the record has no notice `{number}`"), hint)
}

fn told(known: &Known<'_>) -> String {
    let lines = known.entries.iter().map(|entry| visible(&line(entry)) + "\n");
    std::iter::once(visible(known.number) + "\n").chain(lines).collect()
}

/// `  2026-11-24  inspected, faded, rev B, by JD: sun on it`
fn line(entry: &Entry) -> String {
    let named = |name: &str, text: &str| (!text.is_empty()).then(|| format!("{name} {text}"));
    let condition = entry.condition.map(Condition::name).map(str::to_owned);
    let parts = [
        condition,
        named("rev", &entry.revision),
        named("by", &entry.by),
        named("at", &entry.place),
        named("photo", &entry.photo),
    ];
    let mut line = format!("  {}  {}", entry.date, entry.event.name());
    parts.into_iter().flatten().for_each(|part| line.push_str(&format!(", {part}")));
    if !entry.note.is_empty() {
        line.push_str(&format!(": {}", entry.note));
    }
    line
}
