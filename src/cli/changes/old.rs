//! The old side of `changes`: a survey with its own files, or a record.

use std::collections::HashMap;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use super::{Arguments, doubt, versions};
use crate::cli::arguments::General;
use crate::cli::failure::Failure;
use crate::cli::pipeline::{self, Loaded};
use crate::cli::prepared;
use crate::cli::records::{Record, next};
use crate::cli::report::visible;
use crate::files;
use crate::finding::Finding;
use crate::records::changes::{Doubt, Version};
use crate::records::{Event, Ledger, Standing};

/// What the new survey is held against.
pub(super) enum Old {
    /// An older survey.
    Survey(Box<Loaded>),
    /// What was printed.
    Record(Arc<Record>),
}

impl Old {
    /// Reads OLD: a record is told by its first line. That of the new survey is not read again.
    pub(super) fn load(arguments: &Arguments, general: &General, new: &Loaded) -> Result<Self, Failure> {
        if let Some(record) = new.record.as_ref().filter(|record| record.path == arguments.old && !record.is_empty()) {
            return Ok(Self::Record(Arc::clone(record)));
        }
        if super::is_record(&arguments.old)? {
            let limit = new.job.limits().file_bytes;
            return Ok(Self::Record(Arc::new(Record::read(arguments.old.clone(), limit)?)));
        }
        let named = |own: &Option<PathBuf>, of_both: &Option<PathBuf>| own.clone().or_else(|| of_both.clone());
        let general = General {
            job: named(&arguments.old_job, &general.job),
            supplies: named(&arguments.old_supplies, &general.supplies),
            standing: named(&arguments.old_standing, &general.standing),
            ..general.clone()
        };
        Ok(Self::Survey(Box::new(pipeline::load(&arguments.old, &general)?)))
    }

    /// What stops the run.
    pub(super) fn stopping(&self, strict: bool) -> Vec<&Finding> {
        let findings = match self {
            Self::Survey(loaded) => &loaded.findings,
            Self::Record(record) => &record.reading.findings,
        };
        findings.iter().filter(|finding| pipeline::stops(finding, strict)).collect()
    }

    /// What its errors keep from being judged.
    pub(super) fn doubt(&self, strict: bool) -> Doubt {
        match self {
            Self::Survey(loaded) => doubt(loaded, strict),
            Self::Record(_) => Doubt::of(self.stopping(strict), &[]),
        }
    }

    /// Its notices; of a record the last printing of each that was not taken away.
    pub(super) fn versions(&self) -> Vec<Version<'_>> {
        match self {
            Self::Survey(loaded) => as_printed(loaded),
            Self::Record(record) => {
                let ledger = Ledger::of(&record.reading.entries);
                let stands = ledger.notices.iter().filter(|known| !matches!(known.standing(), Standing::Withdrawn(_)));
                stands.filter_map(Version::last_left).collect()
            }
        }
    }

    /// What is to be said before anything else: what stands on site is another question than what was printed last.
    pub(super) fn opening(&self, general: &General, new: &Path) -> String {
        match self {
            Self::Survey(_) => String::new(),
            Self::Record(_) => {
                let check = next(general, &["records", "check"], new, &[]);
                format!("held against the last printing of each notice; what stands on site: `{}`\n\n", visible(&check))
            }
        }
    }

    /// The files that it was read from.
    pub(super) fn files(&self, arguments: &Arguments) -> Vec<PathBuf> {
        match self {
            Self::Survey(loaded) => prepared::files_read(loaded, Some(&arguments.old), &[], None),
            Self::Record(record) => vec![record.path.clone()],
        }
    }
}

/// The notices of an older survey. A record gives a notice the revision of its next printing, which an older one never had:
/// it has the revision of the printing that said the same, else that of its own job.
fn as_printed(loaded: &Loaded) -> Vec<Version<'_>> {
    let mut versions = versions(loaded, &[]);
    let Some(record) = &loaded.record else { return versions };
    let printings = record.reading.entries.iter().filter(|entry| entry.event == Event::Printed);
    let revisions: HashMap<(&str, &str), &str> =
        printings.map(|entry| ((entry.number.as_str(), entry.fingerprint.as_str()), entry.revision.as_str())).collect();
    for version in &mut versions {
        let printed = revisions.get(&(version.number, version.fingerprint)).copied();
        version.revision = printed.unwrap_or(&loaded.job.job.revision);
    }
    versions
}

/// Standard input holds one file, and is read once.
pub(super) fn refuse_two_streams(arguments: &Arguments, general: &General) -> Result<(), Failure> {
    let old = |own: &Option<PathBuf>, of_both: &Option<PathBuf>| own.clone().or_else(|| of_both.clone());
    let read = [
        Some(arguments.old.clone()),
        Some(arguments.new.clone()),
        general.supplies.clone(),
        general.standing.clone(),
        old(&arguments.old_supplies, &general.supplies),
        old(&arguments.old_standing, &general.standing),
    ];
    let streams = read.iter().flatten().filter(|path| *path == Path::new(files::STANDARD)).count();
    if streams < 2 {
        return Ok(());
    }
    Err(Failure::with_hint(
        "standard input holds one file, and several are to come from it",
        "name a file for the others",
    ))
}
