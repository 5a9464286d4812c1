//! The one table of everything that can be found: code, severity, and the text that explains it; one file a stage.

use std::sync::LazyLock;

use super::Severity;

/// Declares the codes of a stage: the doc text of each is what `noticewright why CODE` prints.
macro_rules! codes {
    ($($(#[doc = $line:literal])+ $constant:ident = $name:literal, $severity:ident;)+) => {
        $(
            $(#[doc = $line])+
            pub const $constant: Code = Code {
                name: $name,
                severity: Severity::$severity,
                explanation: concat!($($line, "\n"),+),
            };
        )+

        /// The codes of this stage, in order.
        pub(super) const STAGE: &[Code] = &[$($constant),+];
    };
}

mod deciding;
mod joining;
mod reading;
mod records;
mod setting;
mod sheets;
mod standing;
mod supplies;

pub(super) mod names {
    //! Every code by name, for the stages that report it.
    pub use super::deciding::*;
    pub use super::joining::*;
    pub use super::reading::*;
    pub use super::records::*;
    pub use super::setting::*;
    pub use super::sheets::*;
    pub use super::standing::*;
    pub use super::supplies::*;
}

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

/// Every kind of finding there is, in the order of the stages that report it.
#[must_use]
pub fn table() -> &'static [Code] {
    static TABLE: LazyLock<Vec<Code>> = LazyLock::new(|| {
        let of_files = [reading::STAGE, supplies::STAGE, standing::STAGE];
        let later = [joining::STAGE, deciding::STAGE, setting::STAGE, sheets::STAGE, records::STAGE];
        of_files.into_iter().chain(later).flatten().copied().collect()
    });
    &TABLE
}

/// The kind of finding with this name.
#[must_use]
pub fn find(name: &str) -> Option<Code> {
    table().iter().copied().find(|code| code.name == name)
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
