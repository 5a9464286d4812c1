//! The one table of everything that can be found: code, severity, and the text that explains it.

use super::Severity;

/// A kind of finding. Two codes are the same if their names are.
#[derive(Clone, Copy, Debug)]
pub struct Code {
    /// What is found, in words joined by hyphens: stable from version to version.
    pub name: &'static str,
    /// How much it matters.
    pub severity: Severity,
    /// What it means, why it matters and how to mend it.
    pub explanation: &'static str,
}

impl PartialEq for Code {
    fn eq(&self, other: &Self) -> bool {
        self.name == other.name
    }
}

impl Eq for Code {}

/// Declares the codes: the doc text of each is what `noticewright why CODE` prints.
macro_rules! codes {
    ($($(#[doc = $line:literal])+ $constant:ident = $name:literal, $severity:ident;)+) => {
        pub(super) mod names {
            use super::{Code, Severity};
            $(
                $(#[doc = $line])+
                pub const $constant: Code = Code {
                    name: $name,
                    severity: Severity::$severity,
                    explanation: concat!($($line, "\n"),+),
                };
            )+
        }

        /// Every kind of finding there is, in the order of the stages that report it.
        #[must_use]
        pub const fn table() -> &'static [Code] {
            &[$(names::$constant),+]
        }
    };
}

/// The kind of finding with this name.
#[must_use]
pub fn find(name: &str) -> Option<Code> {
    table().iter().copied().find(|code| code.name == name)
}

codes! {
    // ---- reading the survey -------------------------------------------------------------------------------------
    /// A quotation mark opens a field and none closes it: everything to the end of the file is one field.
    ///
    /// Rows would be lost without a word. The place shown is where the mark opened. Close it, or double it if it
    /// belongs to the text.
    UNCLOSED_QUOTE = "unclosed-quote", Error;

    // ---- joining the rows into a network ------------------------------------------------------------------------
    /// A device is named but not where it is.
    ///
    /// A notice that names an isolator without its place sends a person looking while the enclosure is live. Give the
    /// location in the same order as the devices.
    ISOLATOR_WITHOUT_LOCATION = "isolator-without-location", Error;

    // ---- deciding which notices are needed ----------------------------------------------------------------------
    /// A declared voltage to earth is lower than the one that follows from the nominal voltage and the earthing.
    ///
    /// A notice that understates the voltage can kill. Correct the cell, or the nominal voltage or earthing beside it.
    VOLTAGE_UNDERSTATED = "voltage-understated", Error;

    // ---- saying and setting it ----------------------------------------------------------------------------------
    /// The notice does not fit at the smallest letters that can be read from the reading distance.
    ///
    /// Text is never cut or shrunk below that. Give the enclosure more space, a larger size, shorter place names or a
    /// shorter reading distance.
    NOTICE_DOES_NOT_FIT = "notice-does-not-fit", Error;
    /// The job asks for a language for which there are no messages.
    ///
    /// English is built in; every other language is a message file that the job names beside its tag. Check the spelling of
    /// the tag (`cy`, `de-AT`) and give the file.
    LANGUAGE_UNKNOWN = "language-unknown", Error;
    /// A message file is not written in Fluent syntax at this line.
    ///
    /// What cannot be read cannot be said. A message is `name = text` from the first character of a line; what it goes on
    /// with is indented.
    MESSAGE_FILE_SYNTAX = "message-file-syntax", Error;
    /// A message file does not give a message that notices say.
    ///
    /// A notice that is silent in one of its languages misleads whoever reads that one. Add the message.
    MESSAGE_MISSING = "message-missing", Error;
    /// A message file gives the same message twice.
    ///
    /// Only one of them can be said, and it may not be the one that was checked. Remove the other.
    MESSAGE_REPEATED = "message-repeated", Error;
    /// A message file gives a message that no notice says.
    ///
    /// It is probably a misspelling of one that is missing. Correct or remove it.
    MESSAGE_UNKNOWN = "message-unknown", Warning;
    /// A message leaves out one of its arguments, at least in one of its plural variants.
    ///
    /// The notice would lose a place, a device or a figure in that language. Name the argument, `{ $device }`, in every
    /// variant.
    MESSAGE_ARGUMENT_MISSING = "message-argument-missing", Error;
    /// A message names an argument that it does not have.
    ///
    /// It would be printed as a name in braces. The arguments are those that the
    /// English message has.
    MESSAGE_ARGUMENT_UNKNOWN = "message-argument-unknown", Error;
    /// A message refers to something that cannot be resolved: a term or message that is not there, a function, itself.
    ///
    /// Write the words out instead.
    MESSAGE_UNRESOLVED = "message-unresolved", Error;
    /// A message file does not name who checked its translation.
    ///
    /// A word that is wrong on a warning notice can kill. Let an electrician who speaks the language read every message,
    /// then add the name: `translation-checked-by = NAME`.
    TRANSLATION_UNCHECKED = "translation-unchecked", Advice;

    // ---- laying it on sheets ------------------------------------------------------------------------------------
    /// No sheet format at hand has a cell of the size that the notice needs.
    ///
    /// `noticewright sheets` lists the formats; a format of your own is one small file in the same form.
    NO_SHEET_FOR_SIZE = "no-sheet-for-size", Error;
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_are_unique_and_explained() {
        let mut names: Vec<_> = table().iter().map(|code| code.name).collect();
        names.sort_unstable();
        let count = names.len();
        names.dedup();
        assert_eq!(names.len(), count);
        assert!(table().iter().all(|code| code.explanation.trim().len() > 40));
    }
}
