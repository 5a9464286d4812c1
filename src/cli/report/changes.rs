//! Changes of notices in the machine-readable report, version 1. Fields are only ever added.

use std::io::{self, Write};

use serde::Serialize;

use super::json::{FindingEntry, OutputEntry, finding, write_escaped};
use crate::finding::Finding;
use crate::notice::Subject;
use crate::records::changes::{Against, Change, Changes, Difference, Fate, SiteChange, Version, on_site};

/// A comparison as a script sees it.
#[derive(Debug, Serialize)]
pub struct ChangesReport<'a> {
    version: u32,
    tool: String,
    old: &'a str,
    new: &'a str,
    findings: Vec<FindingEntry<'a>>,
    /// What changed on site, isolator by isolator.
    isolators: Vec<SiteEntry>,
    /// The most dangerous first.
    changes: Vec<ChangeEntry<'a>>,
    counts: Option<Counts>,
    /// The notices of the delta label run; left out without one.
    #[serde(skip_serializing_if = "Option::is_none")]
    labels: Option<LabelsEntry>,
    outputs: Vec<OutputEntry>,
}

#[derive(Debug, Serialize)]
struct SiteEntry {
    what: &'static str,
    device: String,
    old: String,
    new: String,
    makes_false: Vec<String>,
}

#[derive(Debug, Serialize)]
struct ChangeEntry<'a> {
    number: &'a str,
    change: &'static str,
    /// 1 is the greatest.
    rank: usize,
    danger: &'static str,
    danger_in_words: &'static str,
    advice: &'static str,
    subject: Option<&'static str>,
    designation: &'a str,
    area: &'a str,
    note: &'a str,
    differences: Vec<DifferenceEntry<'a>>,
    old: Option<VersionEntry<'a>>,
    new: Option<VersionEntry<'a>>,
}

#[derive(Debug, Serialize)]
struct DifferenceEntry<'a> {
    what: &'static str,
    danger: &'static str,
    at: &'a str,
    old: &'a str,
    new: &'a str,
}

#[derive(Debug, Serialize)]
struct VersionEntry<'a> {
    revision: &'a str,
    fingerprint: &'a str,
    area: &'a str,
    position: &'a str,
    says: Vec<PartEntry<'a>>,
}

#[derive(Debug, Serialize)]
struct PartEntry<'a> {
    kind: &'static str,
    text: &'a str,
}

#[derive(Debug, Serialize)]
struct Counts {
    new: usize,
    altered: usize,
    not_fit: usize,
    moved: usize,
    withdrawn: usize,
    not_judged: usize,
    false_copies: usize,
    unchanged: usize,
}

#[derive(Debug, Serialize)]
struct LabelsEntry {
    path: String,
    notices: Vec<String>,
}

impl<'a> ChangesReport<'a> {
    /// A report of two files and what was found in them.
    #[must_use]
    pub fn new(old: &'a str, new: &'a str, findings: impl IntoIterator<Item = &'a Finding>) -> Self {
        Self {
            version: 1,
            tool: format!("noticewright {}", env!("CARGO_PKG_VERSION")),
            old,
            new,
            findings: findings.into_iter().map(finding).collect(),
            isolators: Vec::new(),
            changes: Vec::new(),
            counts: None,
            labels: None,
            outputs: Vec::new(),
        }
    }

    /// Adds what changed.
    pub fn changes(&mut self, changes: &'a Changes<'a>, against: Against) {
        self.isolators = on_site(&changes.changed).iter().map(site).collect();
        self.changes = changes.changed.iter().map(|change| entry(change, against)).collect();
        self.counts = Some(Counts {
            new: changes.count(Fate::New),
            altered: changes.count(Fate::Altered),
            not_fit: changes.count(Fate::NotFit),
            moved: changes.count(Fate::Moved),
            withdrawn: changes.count(Fate::Withdrawn),
            not_judged: changes.count(Fate::NotJudged),
            false_copies: changes.count(Fate::FalseCopy),
            unchanged: changes.unchanged,
        });
    }

    /// Adds the numbers of the notices that were printed, and into which document.
    pub fn labels(&mut self, path: String, notices: impl IntoIterator<Item = String>) {
        self.labels = Some(LabelsEntry { path, notices: notices.into_iter().collect() });
    }

    /// Adds the files written.
    pub fn outputs(&mut self, outputs: Vec<OutputEntry>) {
        self.outputs = outputs;
    }

    /// Writes the report as indented JSON with a line end.
    ///
    /// # Errors
    /// The stream's own error.
    pub fn write(&self, out: &mut impl Write) -> io::Result<()> {
        write_escaped(self, out)
    }
}

fn site(change: &SiteChange<'_>) -> SiteEntry {
    SiteEntry {
        what: change.what.name(),
        device: change.designation.to_owned(),
        old: change.from.to_owned(),
        new: change.to.to_owned(),
        makes_false: change.makes_false.iter().map(|&number| number.to_owned()).collect(),
    }
}

fn entry<'a>(change: &'a Change<'a>, against: Against) -> ChangeEntry<'a> {
    let subject = change.subject();
    ChangeEntry {
        number: change.number,
        change: against.word(change.fate),
        rank: change.danger.rank(),
        danger: change.danger.name(),
        danger_in_words: change.danger.in_words(),
        advice: change.danger.advice(),
        subject: subject.map(|subject| match subject {
            Subject::Enclosure => "enclosure",
            Subject::Device => "device",
            Subject::Standing => "standing",
        }),
        designation: change.designation(),
        area: change.area(),
        note: &change.note,
        differences: change
            .differences
            .iter()
            .map(|one| difference(one, subject.unwrap_or(Subject::Enclosure)))
            .collect(),
        old: change.old.as_ref().map(version),
        new: change.new.as_ref().map(version),
    }
}

fn difference(one: &Difference, subject: Subject) -> DifferenceEntry<'_> {
    DifferenceEntry { what: one.what.on(subject), danger: one.danger.name(), at: &one.at, old: &one.old, new: &one.new }
}

fn version<'a>(version: &'a Version<'a>) -> VersionEntry<'a> {
    VersionEntry {
        revision: version.revision,
        fingerprint: version.fingerprint,
        area: version.area,
        position: version.position,
        says: version.says.0.iter().map(|part| PartEntry { kind: part.kind.name(), text: &part.text }).collect(),
    }
}
