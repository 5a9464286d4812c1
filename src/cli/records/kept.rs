//! The record file of a run: found, read, and added to.

use std::path::{Path, PathBuf};

use crate::cli::arguments::{General, ReportForm};
use crate::cli::failure::Failure;
use crate::cli::pipeline;
use crate::cli::report::{marks, visible};
use crate::cli::terminal::Terminal;
use crate::files::{self, Journal};
use crate::finding::Finding;
use crate::job::Job;
use crate::records::{self, Entry, Reading};

/// A record as it was read.
pub(in crate::cli) struct Record {
    /// The file.
    pub path: PathBuf,
    /// What it holds.
    pub reading: Reading,
}

/// A record that nobody else can change until this is dropped.
pub(in crate::cli) struct Adding {
    /// The record as it was read.
    pub record: Record,
    journal: Journal,
}

impl Record {
    /// The file that was named, or the one that the job names; `None` without either.
    pub(in crate::cli) fn path(general: &General, job: &Job, job_folder: &Path) -> Option<PathBuf> {
        pipeline::path_beside(general.records.as_ref(), &job.job.records, job_folder)
    }

    /// The file of a run without a survey: the job file that was named, or the one in the folder of the run, names it.
    ///
    /// # Errors
    /// A job file that is not understood; no file named anywhere.
    pub(in crate::cli) fn path_here(general: &General) -> Result<(PathBuf, Job), Failure> {
        let (job, folder) = pipeline::load_job(Some(Path::new("")), general)?;
        let path = Self::path(general, &job, &folder).ok_or_else(nowhere)?;
        Ok((path, job))
    }

    /// Reads a record; a file that is not there is an empty one.
    ///
    /// # Errors
    /// Those of [`files::look`].
    pub(in crate::cli) fn read(path: PathBuf, limit: u64) -> Result<Self, Failure> {
        let bytes = files::look(&path, limit).map_err(Failure::of_input)?.unwrap_or_default();
        let reading = records::read(&bytes, &path.display().to_string());
        Ok(Self { path, reading })
    }

    /// Whether nothing is known by it.
    pub(in crate::cli) fn is_empty(&self) -> bool {
        self.reading.entries.is_empty()
    }

    /// Shows what is wrong with it.
    ///
    /// # Errors
    /// [`Failure::Faulty`] where that stops the run.
    pub(in crate::cli) fn judge(&self, general: &General, terminal: Terminal) -> Result<(), Failure> {
        judge(&self.reading.findings, general, terminal)
    }
}

/// A command that adds to what was printed, or looks at it, where there is no file yet.
///
/// # Errors
/// [`Failure::CouldNotRun`] if it is not there.
pub(in crate::cli) fn must_be_there(path: &Path) -> Result<(), Failure> {
    if files::exists(path) {
        return Ok(());
    }
    let message = format!("there is no record `{}` yet", path.display());
    Err(Failure::with_hint(message, MADE_BY))
}

/// Where a record comes from. One that was lost, or left behind with an older folder, is not begun anew.
const MADE_BY: &str = "it is made by `labels --record` or `records printed`; if there was one, for notices that are printed \
                       or fixed already, bring it back or name it with `--records`";

/// What to know of a record that is not there, for somebody without a terminal.
pub(in crate::cli) const fn missing() -> &'static str {
    MADE_BY
}

/// What to know of a record that a run has begun: it counts revisions from here.
pub(in crate::cli) const BEGUN: &str = "that record is new: if notices of this site were recorded before, bring the old \
                                        record back instead, or one revision comes to stand for two texts";

/// The same where a survey says enough to go on without a record.
pub(in crate::cli) fn say_if_not_there(path: &Path, terminal: Terminal) {
    if !files::exists(path) {
        let path = visible(&path.display().to_string());
        terminal
            .complain(&format!("there is no record `{path}` yet, so nothing is known of what was printed or fixed\n"));
    }
}

/// Shows findings; in a report for scripts only where they stop the run, since a run that goes on reports them itself.
///
/// # Errors
/// [`Failure::Faulty`] where they stop the run.
pub(in crate::cli) fn judge(findings: &[Finding], general: &General, terminal: Terminal) -> Result<(), Failure> {
    let judged = pipeline::judge(findings, general.strict);
    match general.report {
        ReportForm::Json if judged.is_err() => {
            terminal.stream(|out| marks::write(findings, &marks::Nothing {}, out))?
        }
        ReportForm::Json => (),
        ReportForm::Text | ReportForm::Short => {
            terminal.complain(&pipeline::render_findings(findings, general.report, terminal.message_colour()));
        }
    }
    judged
}

/// What to do where no record is named.
pub(in crate::cli) fn nowhere() -> Failure {
    Failure::with_hint(
        "no record is named",
        "name its file with `--records`, or with `records` under [job] in the job file; it is made with the first entry",
    )
}

impl Adding {
    /// Opens a record to add to it, and keeps everybody else out until this is dropped. Nothing is added to what is not
    /// understood.
    ///
    /// # Errors
    /// Those of [`Journal::open`], [`Journal::read`] and [`Record::judge`].
    pub(in crate::cli) fn open(
        path: PathBuf,
        limit: u64,
        general: &General,
        terminal: Terminal,
    ) -> Result<Self, Failure> {
        let adding = Self::locked(path, limit)?;
        adding.record.judge(general, terminal)?;
        Ok(adding)
    }

    /// The same for a caller who looks himself whether it is understood.
    ///
    /// # Errors
    /// Those of [`Journal::open`] and [`Journal::read`].
    pub(in crate::cli) fn locked(path: PathBuf, limit: u64) -> Result<Self, Failure> {
        let mut journal = Journal::open(&path)?;
        let bytes = journal.read(limit).map_err(Failure::of_input)?;
        let reading = records::read(&bytes, &path.display().to_string());
        Ok(Self { record: Record { path, reading }, journal })
    }

    /// Adds entries, all of them or none, and returns once they are on the disk.
    ///
    /// # Errors
    /// That of [`Journal::append`].
    pub(in crate::cli) fn add(mut self, entries: &[Entry]) -> Result<(), Failure> {
        let mut text = self.record.reading.before_next.clone();
        entries.iter().for_each(|entry| text.push_str(&records::line::written(entry)));
        self.journal.append(self.record.reading.complete, text.as_bytes())?;
        Ok(())
    }
}
