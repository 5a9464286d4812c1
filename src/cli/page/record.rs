//! What the record knows of every notice, and what of it is no longer true by the survey.

use serde::Serialize;

use super::answer::{Answer, json};
use super::findings::{self, FindingAnswer};
use super::shown::Shown;
use crate::cli::changes;
use crate::cli::records;
use crate::cli::report::changes::ChangesReport;
use crate::cli::selection::Wanted;
use crate::files;
use crate::records::changes::{Against, check};
use crate::records::{Condition, Known, Ledger, Standing};

#[derive(Serialize)]
struct RecordAnswer<'a> {
    record: Option<String>,
    hint: Option<String>,
    notices: Vec<KnownAnswer<'a>>,
    record_findings: Vec<FindingAnswer>,
    /// The same as of `records check`; empty without a record.
    #[serde(flatten)]
    check: ChangesReport<'a>,
}

#[derive(Serialize)]
struct KnownAnswer<'a> {
    number: &'a str,
    stands: String,
    state: &'static str,
    revision: &'a str,
    condition: Option<&'static str>,
    since: Option<String>,
    area: &'a str,
}

/// What stands by the record.
pub(super) fn answer(shown: &Shown, strict: bool) -> Answer {
    let loaded = &shown.loaded;
    let Some(record) = &loaded.record else {
        let (message, hint) = records::nowhere().told();
        let hint = format!("{message}; {}", hint.unwrap_or_default());
        let check = ChangesReport::new("", &shown.origin.name, &[]);
        let (notices, record_findings) = (Vec::new(), Vec::new());
        return Ok(json(&RecordAnswer { record: None, hint: Some(hint), notices, record_findings, check }));
    };
    let ledger = Ledger::of(&record.reading.entries);
    let name = record.path.display().to_string();
    let not_there = (!files::exists(&record.path)).then(|| records::missing().to_owned());
    let wanted = Wanted::new(&[], None)?;
    let doubt = changes::doubt(loaded, strict);
    let found = check(&ledger, changes::versions(loaded, &[]), &doubt, &wanted.of_both_sides());
    let mut report = ChangesReport::new(&name, &shown.origin.name, &[]);
    report.changes(&found, Against::Fixed);
    Ok(json(&RecordAnswer {
        record: Some(name.clone()),
        hint: not_there,
        notices: ledger.notices.iter().map(known).collect(),
        record_findings: findings::several(shown, &record.reading.findings),
        check: report,
    }))
}

fn known<'a>(known: &Known<'a>) -> KnownAnswer<'a> {
    let printed = known.printed();
    let last = printed.map_or("", |(entry, _)| entry.revision.as_str());
    let (state, since, revision, condition) = match known.standing() {
        Standing::NotFixed => ("printed", printed.map(|(entry, _)| entry.date), last, None),
        Standing::Fixed { by, print, inspected } => {
            let revision = print.map_or("", |print| print.revision.as_str());
            ("fixed", Some(by.date), revision, inspected.and_then(|seen| seen.condition))
        }
        Standing::Missing(entry) => ("missing", Some(entry.date), last, Some(Condition::Missing)),
        Standing::Withdrawn(entry) => ("withdrawn", Some(entry.date), last, None),
    };
    KnownAnswer {
        number: known.number,
        stands: known.in_words(),
        state,
        revision,
        condition: condition.map(Condition::name),
        since: since.map(|day| day.to_string()),
        area: printed.map_or("", |(_, print)| print.area.as_str()),
    }
}
