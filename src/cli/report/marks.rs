//! Records in the machine-readable report: what was recorded in a run, and what became of one notice.

use std::io::{self, Write};

use serde::Serialize;

use super::json::{self, FindingEntry};
use crate::finding::Finding;
use crate::records::{Condition, Entry, Event, Known, Print, Refusal, Standing};

/// A report of a command that looks at no survey: version, tool and findings, then what is its own.
#[derive(Serialize)]
struct Headed<'a, T> {
    version: u32,
    tool: String,
    findings: Vec<FindingEntry<'a>>,
    #[serde(flatten)]
    own: &'a T,
}

/// Nothing but findings.
#[derive(Debug, Serialize)]
pub struct Nothing {}

/// What a run recorded.
#[derive(Debug, Serialize)]
pub struct Recorded<'a> {
    /// The record file as it was named.
    pub file: String,
    /// The entries that were added.
    pub recorded: Vec<EntryReport<'a>>,
    /// How many were there already, and were not added again.
    pub already: usize,
    /// Notices that a pattern met, and of which it cannot be so.
    pub passed_over: Vec<PassedOver<'a>>,
}

/// A notice that was passed over.
#[derive(Debug, Serialize)]
pub struct PassedOver<'a> {
    number: &'a str,
    because: String,
}

/// One entry of a record.
#[derive(Debug, Serialize)]
pub struct EntryReport<'a> {
    date: String,
    event: &'static str,
    number: &'a str,
    revision: &'a str,
    fingerprint: &'a str,
    condition: Option<&'static str>,
    by: &'a str,
    place: &'a str,
    photo: &'a str,
    note: &'a str,
    #[serde(skip_serializing_if = "Option::is_none")]
    print: Option<PrintReport<'a>>,
}

/// What was printed.
#[derive(Debug, Serialize)]
struct PrintReport<'a> {
    designation: &'a str,
    area: &'a str,
    position: &'a str,
    issued: &'a str,
    size_mm: [f64; 2],
    format: &'a str,
    material: &'a str,
    process: &'a str,
    environment: &'a str,
    /// Years, `5-7`; empty where it is not known.
    lasts: String,
    file: &'a str,
    page: Option<u32>,
    sheet_cell: Option<u32>,
    copies: u32,
    /// What was printed together has the same number.
    run: u32,
    says: Vec<[&'a str; 2]>,
}

/// Everything that is known of one notice.
#[derive(Debug, Serialize)]
pub struct History<'a> {
    number: &'a str,
    standing: StandingReport<'a>,
    entries: Vec<EntryReport<'a>>,
}

#[derive(Debug, Serialize)]
struct StandingReport<'a> {
    /// `not-fixed`, `fixed`, `missing` or `withdrawn`.
    state: &'static str,
    since: Option<String>,
    /// Revision and fingerprint of the copy that is fixed, where they are known.
    revision: Option<&'a str>,
    fingerprint: Option<&'a str>,
    inspected: Option<String>,
    condition: Option<&'static str>,
    in_words: String,
}

/// Writes a report.
///
/// # Errors
/// The stream's own error.
pub fn write(findings: &[Finding], own: &impl Serialize, out: &mut impl Write) -> io::Result<()> {
    let tool = format!("noticewright {}", env!("CARGO_PKG_VERSION"));
    json::write_escaped(&Headed { version: 1, tool, findings: findings.iter().map(json::finding).collect(), own }, out)
}

impl<'a> From<&'a Refusal> for PassedOver<'a> {
    fn from(refusal: &'a Refusal) -> Self {
        Self { number: refusal.number(), because: refusal.message() }
    }
}

impl<'a> From<&'a Entry> for EntryReport<'a> {
    fn from(entry: &'a Entry) -> Self {
        Self {
            date: entry.date.to_string(),
            event: entry.event.name(),
            number: &entry.number,
            revision: &entry.revision,
            fingerprint: &entry.fingerprint,
            condition: entry.condition.map(Condition::name),
            by: &entry.by,
            place: &entry.place,
            photo: &entry.photo,
            note: &entry.note,
            print: entry.print.as_deref().map(print),
        }
    }
}

fn print(print: &Print) -> PrintReport<'_> {
    let known = |number: u32| (number > 0).then_some(number);
    PrintReport {
        designation: &print.designation,
        area: &print.area,
        position: &print.position,
        issued: &print.issued,
        size_mm: [print.size.width.to_mm(), print.size.height.to_mm()],
        format: &print.format,
        material: &print.material,
        process: &print.process,
        environment: &print.environment,
        lasts: print.lasts.cell(),
        file: &print.file,
        page: known(print.page),
        sheet_cell: known(print.cell),
        copies: print.copies,
        run: print.run,
        says: print.says.0.iter().map(|part| [part.kind.name(), part.text.as_str()]).collect(),
    }
}

impl<'a> From<&'a Known<'a>> for History<'a> {
    fn from(known: &'a Known<'a>) -> Self {
        let entries = known.entries.iter().map(|entry| EntryReport::from(*entry)).collect();
        Self { number: known.number, standing: standing(known), entries }
    }
}

fn standing<'a>(known: &'a Known<'a>) -> StandingReport<'a> {
    let standing = known.standing();
    let (state, since, print, inspected) = match standing {
        Standing::NotFixed => ("not-fixed", None, None, None),
        Standing::Fixed { by, print, inspected } => ("fixed", Some(by), print, inspected),
        Standing::Missing(entry) => ("missing", Some(entry), None, Some(entry)),
        Standing::Withdrawn(entry) => ("withdrawn", Some(entry), None, None),
    };
    let inspected = inspected.filter(|entry| entry.event == Event::Inspected);
    StandingReport {
        state,
        since: since.map(|entry| entry.date.to_string()),
        revision: print.map(|print| print.revision.as_str()),
        fingerprint: print.map(|print| print.fingerprint.as_str()),
        inspected: inspected.map(|entry| entry.date.to_string()),
        condition: inspected.and_then(|entry| entry.condition).map(Condition::name),
        in_words: known.in_words(),
    }
}
