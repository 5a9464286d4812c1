//! What a document keeps to beside the format itself: nothing more, the standard of archives, or one of printing works.
//!
//! The requirements of ISO 15930 are given from memory; no clause of it was read.

use std::io;
use std::sync::Arc;

use super::archive;
use super::profile::Profile;
use crate::length::Size;

/// What a document is exchanged by.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub enum Standard {
    /// For a printer at hand: PDF 1.7 and no more.
    #[default]
    Plain,
    /// PDF/A-1b (ISO 19005-1, level B): a document that is read can be opened and looks the same for as long as it is kept.
    Archive,
    /// PDF/X-1a:2003 (ISO 15930-4): process and spot colours for a printing condition that is named, not described.
    X1a(PrintingCondition),
    /// PDF/X-4 (ISO 15930-7): the printing condition is described by a profile that travels with the document.
    X4 {
        /// The profile.
        profile: Arc<Profile>,
        /// The registered condition that it describes, if somebody says so.
        condition: Option<PrintingCondition>,
    },
}

/// A printing condition by its reference name in the characterisation data registry of the International Color
/// Consortium, `http://www.color.org`.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct PrintingCondition {
    name: &'static str,
    meaning: &'static str,
}

/// Reference names and what they stand for, from memory but for the first name in each row, which secondary sources
/// show as a reference name of that registry. A condition that is not here can be described by its profile.
const REGISTERED: [(&str, &str); 7] = [
    ("FOGRA39", "Offset printing on coated paper, ISO 12647-2:2004/Amd 1"),
    ("FOGRA47", "Offset printing on uncoated white paper, ISO 12647-2:2004/Amd 1"),
    ("FOGRA51", "Offset printing on premium coated paper, ISO 12647-2:2013"),
    ("FOGRA52", "Offset printing on wood-free uncoated white paper, ISO 12647-2:2013"),
    ("CGATS TR 001", "Web offset printing of publications in the USA"),
    ("CGATS TR 006", "Sheet-fed offset printing on coated paper in the USA"),
    ("JC200103", "Offset printing on coated paper in Japan"),
];

impl PrintingCondition {
    /// Where the names are registered.
    pub const REGISTRY: &'static str = "http://www.color.org";

    /// The condition that is named where nobody chooses one: the ICC registry lists it.
    pub const USUAL: &'static str = "FOGRA39";

    /// The condition with this reference name; `None` for one that is not known here to be registered.
    #[must_use]
    pub fn registered(name: &str) -> Option<Self> {
        let found = REGISTERED.into_iter().find(|(known, _)| *known == name.trim());
        found.map(|(name, meaning)| Self { name, meaning })
    }

    /// Every reference name that is known here.
    #[must_use]
    pub fn names() -> [&'static str; 7] {
        REGISTERED.map(|(name, _)| name)
    }

    /// Its reference name.
    #[must_use]
    pub const fn name(self) -> &'static str {
        self.name
    }

    /// What it stands for.
    #[must_use]
    pub const fn meaning(self) -> &'static str {
        self.meaning
    }
}

impl Standard {
    /// The standard of printing works by name; `None` for any other document.
    #[must_use]
    pub const fn name(&self) -> Option<&'static str> {
        match self {
            Self::Plain | Self::Archive => None,
            Self::X1a(_) => Some("PDF/X-1a:2003"),
            Self::X4 { .. } => Some("PDF/X-4"),
        }
    }

    /// The colours that it is made for, in words: `printing condition FOGRA39`, `profile "Coated paper"`.
    #[must_use]
    pub fn colours(&self) -> String {
        match self {
            Self::Plain | Self::Archive => String::new(),
            Self::X1a(condition) => format!("printing condition {}", condition.name),
            Self::X4 { profile, .. } => format!("profile \"{}\"", profile.description()),
        }
    }

    /// The version of the format that it is written in.
    pub(super) const fn version(&self) -> &'static str {
        match self {
            Self::Plain => "1.7",
            Self::Archive | Self::X1a(_) => "1.4",
            Self::X4 { .. } => "1.6",
        }
    }

    /// # Errors
    /// `InvalidData` for a page that is too large for it.
    pub(super) fn check_page(&self, size: Size) -> io::Result<()> {
        match self {
            Self::Archive => archive::check_page(size),
            Self::Plain | Self::X1a(_) | Self::X4 { .. } => Ok(()),
        }
    }

    /// Whether the cutting contour may lie on a layer of its own.
    pub(super) const fn has_layers(&self) -> bool {
        matches!(self, Self::X4 { .. })
    }
}
