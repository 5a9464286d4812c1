//! What is wrong with the user's data: code, severity, place, message, help.
//!
//! Findings are about the survey and are many; errors are about the machine and are one. A finding never stops the
//! stage that made it.

mod codes;

use std::sync::Arc;

pub use codes::{Code, find, table};

pub mod code {
    //! Every code by name, for the stages that report it.
    pub use super::codes::names::*;
}

/// How much a finding matters.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Severity {
    /// A better way is known; nothing is wrong with the notice.
    Advice,
    /// The notice can be printed, but a person must look at this first.
    Warning,
    /// The notice would say something false or unproved: nothing is printed.
    Error,
}

impl Severity {
    /// The word that reports show.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Advice => "advice",
            Self::Warning => "warning",
            Self::Error => "error",
        }
    }
}

/// Where in the user's files a finding lies, with what is needed to show it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Place {
    /// The file as the user named it; `-` is standard input.
    pub file: Arc<str>,
    /// Line of the file, from 1; for a spreadsheet, its row.
    pub line: u32,
    /// Character of that line, from 1; for a spreadsheet, its column.
    pub column: u32,
    /// The header of the column, as the file spells it; empty for a finding about the whole row or file.
    pub column_name: String,
    /// The spreadsheet address, `F14`; empty for a finding about the whole file.
    pub address: String,
    /// The cell's text as it stands in the file.
    pub cell: String,
    /// The whole line of text as it stands in the file; empty for a spreadsheet.
    pub line_text: String,
}

impl Place {
    /// `survey.csv, line 14, column isolator, F14`
    #[must_use]
    pub fn in_words(&self) -> String {
        let mut words = format!("{}, line {}", self.file, self.line);
        if !self.column_name.is_empty() {
            words.push_str(&format!(", column {}", self.column_name));
        }
        if !self.address.is_empty() {
            words.push_str(&format!(", {}", self.address));
        }
        words
    }
}

/// One thing that is wrong, or could be better, in the user's data.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Finding {
    /// Which kind of thing was found; it also fixes the severity.
    pub code: Code,
    /// What is wrong, in one sentence without a full stop; literals in backticks.
    pub message: String,
    /// What to do about it, where that can be said.
    pub help: Option<String>,
    /// Where it was found; `None` for something that has no one place.
    pub place: Option<Place>,
    /// The enclosure whose notice is touched; `None` if it is the whole survey.
    pub enclosure: Option<String>,
}

impl Finding {
    /// A finding without place, help or enclosure.
    #[must_use]
    pub fn new(code: Code, message: impl Into<String>) -> Self {
        Self { code, message: message.into(), help: None, place: None, enclosure: None }
    }

    /// The same finding with what to do about it.
    #[must_use]
    pub fn help(mut self, help: impl Into<String>) -> Self {
        self.help = Some(help.into());
        self
    }

    /// The same finding at its place.
    #[must_use]
    pub fn at(mut self, place: Place) -> Self {
        self.place = Some(place);
        self
    }

    /// The same finding, touching one enclosure's notice.
    #[must_use]
    pub fn about(mut self, enclosure: impl Into<String>) -> Self {
        self.enclosure = Some(enclosure.into());
        self
    }

    /// How much this finding matters.
    #[must_use]
    pub fn severity(&self) -> Severity {
        self.code.severity
    }
}
