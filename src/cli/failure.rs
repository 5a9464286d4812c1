//! Why a run ends without doing what was asked, and with which exit code.

use super::report::visible;
use crate::files::FileError;
use crate::job::JobFault;

/// So many files are named where a run stopped between them.
const NAMED: usize = 3;

/// The end of a run that did not do what was asked.
#[derive(Debug)]
pub(super) enum Failure {
    /// The survey has errors (or, if asked to be strict, warnings); they were shown, and nothing was written.
    Faulty,
    /// The survey has errors, they were shown, and the rest was written as asked.
    PartlyWritten,
    /// What was looked for was found, and told: fixed notices that are no longer true.
    NotTrue,
    /// Whoever read our standard output has seen enough and went away, which is no mistake of anybody.
    NobodyReads,
    /// What was made is not what the survey says: a defect of this program. Nothing was put in place.
    OurDefect {
        /// What differs, and where.
        message: String,
    },
    /// The run itself could not go on: usage, files, space.
    CouldNotRun {
        /// What went wrong.
        message: String,
        /// What to do about it.
        hint: Option<String>,
        /// The files that are in place all the same, where that is known.
        left: Option<Vec<String>>,
    },
}

impl Failure {
    /// A run that could not go on.
    pub(super) fn could_not_run(message: impl Into<String>) -> Self {
        Self::CouldNotRun { message: message.into(), hint: None, left: None }
    }

    /// A run that could not go on, and what to do about it.
    pub(super) fn with_hint(message: impl Into<String>, hint: impl Into<String>) -> Self {
        Self::CouldNotRun { message: message.into(), hint: Some(hint.into()), left: None }
    }

    /// A job file that is not understood.
    pub(super) fn job(file: &str, fault: &JobFault) -> Self {
        let line = fault.line.map(|line| format!(":{line}")).unwrap_or_default();
        Self::could_not_run(format!("{file}{line}: {}", fault.message))
    }

    /// A file that is measured by the limits of a job.
    pub(super) fn of_input(error: FileError) -> Self {
        let too_large = matches!(error, FileError::TooLarge { .. });
        let failure = Self::from(error);
        if too_large {
            failure.hinted("`file_bytes` under [limits] in the job file says how many are accepted")
        } else {
            failure
        }
    }

    /// The same about a file that the job file names by a key, where nothing better is known to be done; an option names
    /// another.
    pub(super) fn of_job(self, key: &str, option: &str) -> Self {
        self.hinted(&format!("the job file names it: {key}; `{option}` names another"))
    }

    /// The same with what to do about it, where nothing better is known.
    pub(super) fn hinted(self, what: &str) -> Self {
        match self {
            Self::CouldNotRun { message, hint: None, left } => {
                Self::CouldNotRun { message, hint: Some(what.to_owned()), left }
            }
            Self::CouldNotRun { .. }
            | Self::OurDefect { .. }
            | Self::Faulty
            | Self::PartlyWritten
            | Self::NotTrue
            | Self::NobodyReads => self,
        }
    }

    /// The same with what is in place all the same, of a run that writes several files one after the other; what it leaves
    /// is told once, however often this is said.
    pub(super) fn leaving(self, written: &[String]) -> Self {
        let Self::CouldNotRun { message, hint, left } = self else { return self };
        let left = [written, left.as_deref().unwrap_or_default()].concat();
        Self::CouldNotRun { message, hint, left: Some(left) }
    }

    /// The same with a further sentence.
    pub(super) fn and_also(self, what: &str) -> Self {
        let Self::CouldNotRun { message, hint, left } = self else { return self };
        Self::CouldNotRun { message: format!("{message}; {what}"), hint, left }
    }

    /// The same of a run that was to make more than standard output: whoever read that went away, and the rest is not there.
    pub(super) fn with_more_to_do(self) -> Self {
        let Self::NobodyReads = self else { return self };
        let message = "whoever read standard output went away before the document was whole; nothing else was written";
        Self::with_hint(message, "give `-o` a file")
    }

    /// The number that the shell sees.
    pub(super) const fn exit_code(&self) -> u8 {
        match self {
            Self::NobodyReads => 0,
            Self::Faulty | Self::PartlyWritten | Self::NotTrue => 1,
            Self::CouldNotRun { .. } => 2,
            Self::OurDefect { .. } => super::DEFECT,
        }
    }

    /// What went wrong, and what to do about it, for somebody who has no terminal.
    pub(super) fn told(&self) -> (String, Option<String>) {
        match self {
            Self::CouldNotRun { message, hint, .. } => (message.clone(), hint.clone()),
            Self::OurDefect { message } => (format!("a defect of noticewright: {message}"), None),
            Self::Faulty => ("the survey has errors, and nothing was made".to_owned(), None),
            Self::PartlyWritten => ("what has errors was left out".to_owned(), None),
            Self::NotTrue => ("fixed notices are no longer true".to_owned(), None),
            Self::NobodyReads => ("nobody reads it".to_owned(), None),
        }
    }

    /// What standard error shows; nothing where the findings have said it all.
    pub(super) fn message(&self) -> String {
        match self {
            Self::Faulty | Self::PartlyWritten | Self::NotTrue | Self::NobodyReads => String::new(),
            Self::OurDefect { message } => lines_visible(&format!("defect: {}\n", message.trim_end())),
            Self::CouldNotRun { message, hint, left } => {
                let hint = hint.as_ref().map(|hint| format!("\nhint: {hint}\n")).unwrap_or_default();
                let left = left.as_deref().map(what_is_there).unwrap_or_default();
                lines_visible(&format!("error: {}{left}\n{hint}", message.trim_end()))
            }
        }
    }
}

/// Everything but standard output is written through `files`, whose errors name the file.
impl From<std::io::Error> for Failure {
    fn from(error: std::io::Error) -> Self {
        Self::could_not_run(format!("cannot write to standard output: {error}"))
    }
}

impl From<FileError> for Failure {
    fn from(error: FileError) -> Self {
        if error.is_broken_pipe() {
            return Self::NobodyReads;
        }
        let hint = match &error {
            FileError::Exists { .. } => Some("`--force` replaces it"),
            FileError::Protected { .. } => Some("take the write protection away if it may be replaced"),
            FileError::Changing { .. } => Some("close the program that saves it, then run this again"),
            FileError::Changed { .. } => Some("read it again, and look whether the change is still right"),
            FileError::Write { source, .. } if source.kind() == std::io::ErrorKind::PermissionDenied => {
                Some("look who may write this file, and whether it is open in another program")
            }
            FileError::Read { .. }
            | FileError::TooLarge { .. }
            | FileError::IsFolder { .. }
            | FileError::Outside { .. }
            | FileError::IsInput { .. }
            | FileError::Twice { .. }
            | FileError::NoFolder { .. }
            | FileError::Busy { .. }
            | FileError::Write { .. }
            | FileError::Rename { .. } => None,
        };
        Self::CouldNotRun { message: with_causes(&error), hint: hint.map(str::to_owned), left: None }
    }
}

/// What a run that stopped between its files has put in place.
fn what_is_there(written: &[String]) -> String {
    let names = written.iter().take(NAMED).map(|name| format!("`{name}`")).collect::<Vec<_>>().join(", ");
    match written.len() {
        0 => "; nothing was written".to_owned(),
        1..=NAMED => format!("; these are written: {names}"),
        all => format!("; these are written: {names} and {} more", all - NAMED),
    }
}

/// A message may quote a file or an argument of the user: nothing but its line ends may act on the terminal.
fn lines_visible(message: &str) -> String {
    message
        .split_inclusive('\n')
        .map(|line| line.strip_suffix('\n').map_or_else(|| visible(line), |line| visible(line) + "\n"))
        .collect()
}

/// An error and what caused it, in one line.
pub(super) fn with_causes(error: &dyn std::error::Error) -> String {
    let causes = std::iter::successors(error.source(), |cause| cause.source());
    std::iter::once(error.to_string()).chain(causes.map(ToString::to_string)).collect::<Vec<_>>().join(": ")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_may_not_be_written_comes_with_what_to_do() {
        let failed = |kind: std::io::ErrorKind| FileError::Write { path: "records.csv".into(), source: kind.into() };
        let message = Failure::from(failed(std::io::ErrorKind::PermissionDenied)).message();
        assert!(message.contains("records.csv") && message.contains("hint: look who may write"), "{message}");
        assert!(!Failure::from(failed(std::io::ErrorKind::StorageFull)).message().contains("hint"));
    }
}
