//! The ways in which a label is marked.

use std::fmt;

use serde::Deserialize;

/// How a label is marked.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Process {
    /// Toner.
    Laser,
    /// Ink drops.
    Inkjet,
    /// A ribbon melted on.
    ThermalTransfer,
    /// Cut or burnt into the material.
    Engraving,
    /// A printing works.
    Press,
}

impl Process {
    /// The process of a name.
    #[must_use]
    pub fn named(name: &str) -> Option<Self> {
        let all = [Self::Laser, Self::Inkjet, Self::ThermalTransfer, Self::Engraving, Self::Press];
        all.into_iter().find(|process| process.name() == name)
    }

    /// The process as sheet formats spell it.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Laser => "laser",
            Self::Inkjet => "inkjet",
            Self::ThermalTransfer => "thermal-transfer",
            Self::Engraving => "engraving",
            Self::Press => "press",
        }
    }

    /// What it does, for people: `marked by a laser printer`.
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            Self::Laser => "printed with toner",
            Self::Inkjet => "printed with ink drops",
            Self::ThermalTransfer => "printed by thermal transfer",
            Self::Engraving => "engraved",
            Self::Press => "printed by a printing works",
        }
    }
}

impl fmt::Display for Process {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.name())
    }
}
