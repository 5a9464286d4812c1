//! Why a run ends without doing what was asked, and with which exit code.

use super::report::visible;
use crate::files::FileError;
use crate::job::JobFault;

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
    },
}

impl Failure {
    /// A run that could not go on.
    pub(super) fn could_not_run(message: impl Into<String>) -> Self {
        Self::CouldNotRun { message: message.into(), hint: None }
    }

    /// A run that could not go on, and what to do about it.
    pub(super) fn with_hint(message: impl Into<String>, hint: impl Into<String>) -> Self {
        Self::CouldNotRun { message: message.into(), hint: Some(hint.into()) }
    }

    /// A job file that is not understood.
    pub(super) fn job(file: &str, fault: &JobFault) -> Self {
        let line = fault.line.map(|line| format!(":{line}")).unwrap_or_default();
        Self::could_not_run(format!("{file}{line}: {}", fault.message))
    }

    /// The same about a file that the job file names by a key, where nothing better is known to be done; an option names
    /// another.
    pub(super) fn of_job(self, key: &str, option: &str) -> Self {
        self.hinted(&format!("the job file names it: {key}; `{option}` names another"))
    }

    /// The same with what to do about it, where nothing better is known.
    pub(super) fn hinted(self, what: &str) -> Self {
        match self {
            Self::CouldNotRun { message, hint: None } => Self::with_hint(message, what),
            Self::CouldNotRun { .. }
            | Self::OurDefect { .. }
            | Self::Faulty
            | Self::PartlyWritten
            | Self::NotTrue
            | Self::NobodyReads => self,
        }
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

    /// What standard error shows; nothing where the findings have said it all.
    pub(super) fn message(&self) -> String {
        match self {
            Self::Faulty | Self::PartlyWritten | Self::NotTrue | Self::NobodyReads => String::new(),
            Self::OurDefect { message } => lines_visible(&format!("defect: {}\n", message.trim_end())),
            Self::CouldNotRun { message, hint } => {
                let hint = hint.as_ref().map(|hint| format!("\nhint: {hint}\n")).unwrap_or_default();
                lines_visible(&format!("error: {}\n{hint}", message.trim_end()))
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
        Self::CouldNotRun { message: with_causes(&error), hint: hint.map(str::to_owned) }
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
