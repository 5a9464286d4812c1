//! The job file, `job.toml` beside the survey: what holds for the whole run, as options for each stage.

mod documents;
mod identity;
mod limits;
mod notices;
mod options;
mod press;
mod printer;
mod revisions;

use std::collections::BTreeMap;

use serde::Deserialize;

use crate::material::{Change, Materials, Refusal};
use crate::sheets::in_plain_words;
use crate::survey::is_hidden;
use crate::writers::pdf::Moment;

pub use documents::Documents;
pub use identity::{EDITION, Identity};
pub use limits::LimitChanges;
pub use notices::{Floor, Notices, Qr};
pub use press::PressWorks;
pub use printer::Printer;
pub use revisions::RevisionEntry;

/// A job file, message file or sheet format beyond this many bytes is none.
pub const LARGEST_FILE: u64 = 1 << 20;

/// Everything that a job file may say. An empty file is a valid one.
#[derive(Clone, Debug, Default, PartialEq, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct Job {
    /// What the job is.
    pub job: Identity,
    /// The revision table, in the order in which it is printed.
    pub revisions: Vec<RevisionEntry>,
    /// How notices are worded and sized.
    pub notices: Notices,
    /// The sheet format for a notice size: `a7 = "a4-a7-6"`. A name, or a path beside the job file.
    pub sheets: BTreeMap<String, String>,
    /// What stands on documents that are read.
    pub documents: Documents,
    /// What an empty cell of a survey column means.
    pub defaults: BTreeMap<String, String>,
    /// A house's own header, and the column of the survey, the supplies file or the list of standing notices that it
    /// stands for.
    pub headers: BTreeMap<String, String>,
    /// What each printer does wrong, by the printer's name.
    pub printers: BTreeMap<String, Printer>,
    /// The printing works.
    pub press: PressWorks,
    /// Classes of material that the program does not have, or whose maker says otherwise, by their name.
    pub materials: BTreeMap<String, Change>,
    /// Limits that differ from the usual ones.
    pub limits: LimitChanges,
}

/// What is wrong with a job file, and where.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct JobFault {
    /// Line from 1, where known.
    pub line: Option<usize>,
    /// What is wrong.
    pub message: String,
}

/// Reads a job file.
///
/// # Errors
/// The first thing that is not understood, with its line.
pub fn read(text: &str) -> Result<Job, JobFault> {
    let job: Job = toml::from_str(text).map_err(|error| JobFault {
        line: error.span().map(|span| line_of(text, span.start)),
        message: in_plain_words(error.message()),
    })?;
    let job = job.checked()?;
    job.known_materials()
        .map_err(|refusal| JobFault { line: Some(line_of(text, refusal.span.start)), message: refusal.message })?;
    Ok(job)
}

fn line_of(text: &str, byte: usize) -> usize {
    text.bytes().take(byte).filter(|&byte| byte == b'\n').count() + 1
}

impl Job {
    /// The classes of material of this job: the program's own, altered and added to.
    ///
    /// # Errors
    /// [`Refusal`] for a class that cannot be used.
    fn known_materials(&self) -> Result<Materials, Refusal> {
        self.materials.iter().try_fold(Materials::default(), |known, (name, change)| known.with(name, change))
    }

    /// Takes the job only if every value can be used.
    fn checked(self) -> Result<Self, JobFault> {
        self.job.check()?;
        revisions::check(&self.revisions, &self.job)?;
        self.documents.check()?;
        self.notices.check()?;
        self.press.check()?;
        self.read_options("", None)?;
        self.printers.iter().try_for_each(|(name, printer)| printer.check(name))?;
        Ok(self)
    }
}

/// A day, or the first day of a month; `None` for anything else.
fn moment(date: &str) -> Option<Moment> {
    let number = |part: &str| part.parse::<i64>().ok().filter(|_| part.len() <= 4);
    let parts = date.trim().split('-').map(number).collect::<Option<Vec<_>>>()?;
    match parts.as_slice() {
        [year, month] => Moment::day(*year, *month, 1),
        [year, month, day] => Moment::day(*year, *month, *day),
        _ => None,
    }
}

/// Texts, by their keys, that are printed on one line: nothing in them is hidden or ends a line.
fn one_line_each(texts: &[(&str, &String)]) -> Result<(), JobFault> {
    texts.iter().try_for_each(|(key, text)| one_line(key, text))
}

fn one_line(key: &str, text: &str) -> Result<(), JobFault> {
    match text.chars().find(|&c| is_hidden(c) || matches!(c, '\t' | '\n' | '\r')) {
        None => Ok(()),
        Some(hidden) => {
            let number = u32::from(hidden);
            Err(fault(format!("`{key}` holds the hidden character U+{number:04X}; type it again")))
        }
    }
}

const fn fault(message: String) -> JobFault {
    JobFault { line: None, message }
}

#[cfg(test)]
mod tests;
