//! The files of one run: checked before any work, written one after the other, put in place together.

use std::io::{self, Write};
use std::path::{Path, PathBuf};
use std::sync::Arc;

use super::arguments::General;
use super::failure::Failure;
use super::progress::{Meter, Progress};
use super::terminal::Terminal;
use crate::files::{self, Destination, Draft};

/// Files that take their names together, or not at all.
pub(super) struct Outputs {
    waiting: std::vec::IntoIter<Destination>,
    drafts: Vec<Draft>,
    terminal: Terminal,
    meter: Option<Arc<Meter>>,
    /// How far the writing is, once somebody has asked.
    progress: Option<Arc<Progress>>,
    /// Whether there are several.
    several: bool,
}

impl Outputs {
    /// Checks where the files go; `keep` names files that are read, beside the job file, and must not be overwritten.
    pub(super) fn check(paths: &[PathBuf], keep: &[PathBuf], general: &General) -> Result<Self, Failure> {
        let paths: Vec<&Path> = paths.iter().map(PathBuf::as_path).collect();
        let inputs: Vec<&Path> = keep.iter().map(PathBuf::as_path).chain(general.job.as_deref()).collect();
        let destinations = files::check_all(&paths, &inputs, general.force)?;
        let terminal = Terminal::new(general);
        let (meter, several) = (general.meter.clone(), destinations.len() > 1);
        Ok(Self { waiting: destinations.into_iter(), drafts: Vec::new(), terminal, meter, progress: None, several })
    }

    /// Shows how far the writing is.
    pub(super) fn progress(&mut self) -> Arc<Progress> {
        let begun = || Arc::new(Progress::on(self.terminal, self.meter.clone()));
        Arc::clone(self.progress.get_or_insert_with(begun))
    }

    /// Writes the next file by a function, and returns its name beside what the function returns.
    pub(super) fn write<T>(
        &mut self,
        content: impl FnOnce(&mut Draft) -> io::Result<T>,
    ) -> Result<(String, T), Failure> {
        let destination = self.waiting.next().ok_or_else(|| Failure::could_not_run("more files than were checked"))?;
        let name = destination.path().display().to_string();
        let mut draft = destination.begin()?;
        let made = content(&mut draft).map_err(|error| self.ended(draft.failed(error).into()))?;
        self.drafts.push(draft);
        Ok((name, made))
    }

    /// Writes the next file by a function, reads it again as it lies on the disk, and lets `check` look at it. What
    /// gives nothing back, such as standard output, is made in memory and goes out after the check.
    pub(super) fn write_checked<T, C>(
        &mut self,
        content: impl FnOnce(&mut dyn Write) -> io::Result<T>,
        check: impl FnOnce(Arc<Vec<u8>>) -> Result<C, Failure>,
    ) -> Result<(String, T, C), Failure> {
        let destination = self.waiting.next().ok_or_else(|| Failure::could_not_run("more files than were checked"))?;
        let name = destination.path().display().to_string();
        let mut draft = destination.begin()?;
        let (made, checked) = if draft.can_be_read() {
            let made = content(&mut draft).map_err(|error| Failure::from(draft.failed(error)))?;
            let written = draft.written()?.unwrap_or_default();
            (made, check(Arc::new(written))?)
        } else {
            let mut bytes = Vec::new();
            let made = content(&mut bytes).map_err(|error| Failure::from(draft.failed(error)))?;
            let bytes = Arc::new(bytes);
            let checked = check(Arc::clone(&bytes))?;
            draft.write_all(&bytes).map_err(|error| self.ended(draft.failed(error).into()))?;
            (made, checked)
        };
        self.drafts.push(draft);
        Ok((name, made, checked))
    }

    /// Puts all files in place.
    pub(super) fn publish(self) -> Result<(), Failure> {
        let mut there = Vec::new();
        self.publish_after(&mut there).map_err(|failure| failure.leaving(&there))
    }

    /// Puts all files in place behind those that a run has written before; after a failure `there` names what is in place
    /// all the same, and the failure does not.
    pub(super) fn publish_after(mut self, there: &mut Vec<String>) -> Result<(), Failure> {
        files::publish(std::mem::take(&mut self.drafts)).map(|_| ()).map_err(|error| {
            there.extend(error.published.iter().map(|published| published.path.display().to_string()));
            self.ended(error.failure.into())
        })
    }

    /// A failure of one of them: where several were to be made, that nobody reads standard output leaves the rest unmade.
    fn ended(&self, failure: Failure) -> Failure {
        if self.several { failure.with_more_to_do() } else { failure }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const USUAL: General = General { force: true, ..General::USUAL };

    #[test]
    fn what_does_not_pass_its_check_leaves_the_old_file_as_it_was() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("notices.pdf");
        let write = |content: &'static [u8], passes: bool| {
            let mut outputs = Outputs::check(std::slice::from_ref(&path), &[], &USUAL).unwrap();
            outputs.write_checked(
                |out| out.write_all(content),
                |bytes| {
                    // What is checked is what lies on the disk.
                    assert_eq!(**bytes, *content);
                    if passes { Ok(()) } else { Err(Failure::OurDefect { message: "a lie".into() }) }
                },
            )?;
            outputs.publish()
        };
        write(b"right", true).unwrap();
        assert_eq!(write(b"wrong", false).unwrap_err().exit_code(), 70);
        assert_eq!(files::read(&path, 100).unwrap(), b"right");
        let left = std::fs::read_dir(folder.path()).unwrap().count();
        assert_eq!(left, 1, "a draft was left behind");
    }
}
