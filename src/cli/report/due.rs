//! What is due by a record, in the machine-readable report.

use serde::Serialize;

use crate::notice::Subject;
use crate::records::due::{Asked, Cause, Due, Row};
use crate::records::{Entry, line};

/// What is due, as a script sees it. Days are year-month-day.
#[derive(Debug, Serialize)]
pub struct DueReport {
    /// The day.
    on: String,
    /// Up to which day what is coming is listed.
    until: String,
    /// Months from one inspection to the next.
    interval_months: u16,
    /// Notices that the record knew on the day.
    notices: usize,
    /// Those of them that were taken away.
    withdrawn: usize,
    /// Entries dated after the day, which were not looked at.
    later_entries: usize,
    /// What is due before what is coming, each the most urgent first.
    rows: Vec<RowEntry>,
}

#[derive(Debug, Serialize)]
struct RowEntry {
    number: String,
    /// `due` or `coming`.
    state: &'static str,
    to_do: String,
    /// The most urgent first.
    causes: Vec<CauseEntry>,
    /// A copy that is printed and not fixed; nothing without one.
    ready: Option<ReadyEntry>,
    /// Whether a new copy must be printed.
    needs_print: bool,
    /// `enclosure`, `isolator` or `standing notice`; nothing where its printing is not recorded.
    subject: Option<&'static str>,
    designation: Option<String>,
    area: Option<String>,
    position: Option<String>,
    /// Where it is, where that is not its own position.
    place: String,
}

#[derive(Debug, Serialize)]
struct CauseEntry {
    reason: &'static str,
    since: String,
    why: String,
}

#[derive(Debug, Serialize)]
struct ReadyEntry {
    printed: String,
    revision: String,
}

impl DueReport {
    /// What was asked, and what came of it.
    #[must_use]
    pub fn new(asked: Asked, due: &Due<'_>) -> Self {
        Self {
            on: asked.on.to_string(),
            until: asked.until.to_string(),
            interval_months: asked.interval,
            notices: due.notices,
            withdrawn: due.withdrawn,
            later_entries: due.later,
            rows: due.rows.iter().map(row).collect(),
        }
    }
}

fn row(row: &Row<'_>) -> RowEntry {
    let subject: Option<Subject> = row.print.map(|print| print.subject);
    RowEntry {
        number: row.number.to_owned(),
        state: row.state(),
        to_do: row.to_do(),
        causes: row.causes.iter().map(cause).collect(),
        ready: row.ready.map(ready),
        needs_print: row.needs_print(),
        subject: subject.map(line::subject_name),
        designation: row.print.map(|print| print.designation.clone()),
        area: row.print.map(|print| print.area.clone()),
        position: row.print.map(|print| print.position.clone()),
        place: row.place.to_owned(),
    }
}

fn cause(cause: &Cause) -> CauseEntry {
    CauseEntry { reason: cause.reason.name(), since: cause.day.to_string(), why: cause.why.clone() }
}

fn ready(entry: &Entry) -> ReadyEntry {
    ReadyEntry { printed: entry.date.to_string(), revision: entry.revision.clone() }
}
