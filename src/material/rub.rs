//! The rub test that a label's mark must pass, by the way it is marked.
//!
//! Requirement: IEC 61439-1 10.2.7 (from memory), with the same pattern in IEC 60335-1 7.14 and IEC 61008-1 9.3 (read in
//! national editions): 15 s by hand with water, then 15 s with petroleum spirit, on the same place. IEC 62368-1, annex F,
//! rubs with water and with spirit on different places or samples, which is milder: a mark that passes the first passes
//! it too. What is expected of a class is common practice and no test: a sample proves it.

use std::fmt;

use super::{Material, Process};

/// What is asked of a mark, and what may be expected of it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct RubTest {
    /// What is asked.
    pub requirement: Requirement,
    /// What may be expected.
    pub expectation: Expectation,
}

/// What is asked of a mark.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Requirement {
    /// Moulded, pressed and engraved marks are not rubbed.
    Exempt,
    /// Fifteen seconds with water, then fifteen with petroleum spirit.
    WaterThenSpirit,
}

/// What may be expected of a mark that is rubbed.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Expectation {
    /// Nothing to be expected, since it is not rubbed.
    NotRubbed,
    /// The mark lies under a film or in the material.
    Passes,
    /// Toner and ink without a film over them, and anything on paper.
    Fails,
    /// It depends on ribbon or ink, or the class is not usually marked so.
    NotKnown,
}

/// The rub test of a class marked in one way.
#[must_use]
pub fn rub_test(material: &Material, process: Process) -> RubTest {
    let expectation = if !material.marked_by.contains(&process) {
        Expectation::NotKnown
    } else if process == Process::Engraving {
        return RubTest { requirement: Requirement::Exempt, expectation: Expectation::NotRubbed };
    } else if material.washdown_marked_by.contains(&process) && material.solvent_marked_by.contains(&process) {
        Expectation::Passes
    } else {
        match process {
            Process::Laser | Process::Inkjet => Expectation::Fails,
            // A works may print with inks that stand it, and a resin ribbon may hold on film; nothing holds on paper.
            Process::ThermalTransfer | Process::Press | Process::Engraving => Expectation::NotKnown,
        }
    };
    RubTest { requirement: Requirement::WaterThenSpirit, expectation }
}

impl Requirement {
    /// The word that reports show.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Exempt => "exempt",
            Self::WaterThenSpirit => "water-then-spirit",
        }
    }
}

impl Expectation {
    /// The word that reports show.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::NotRubbed => "not-rubbed",
            Self::Passes => "passes",
            Self::Fails => "fails",
            Self::NotKnown => "not-known",
        }
    }
}

impl RubTest {
    /// Whether a person should look at it before ordering.
    #[must_use]
    pub const fn is_doubtful(self) -> bool {
        matches!(self.expectation, Expectation::Fails | Expectation::NotKnown)
    }
}

/// In words: what is asked, then what may be expected.
impl fmt::Display for RubTest {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self.requirement {
            Requirement::Exempt => "exempt, since the mark is engraved",
            Requirement::WaterThenSpirit => "15 s with water, then 15 s with petroleum spirit",
        })?;
        f.write_str(match self.expectation {
            Expectation::NotRubbed => "",
            Expectation::Passes => "; expected to pass, which a sample proves",
            Expectation::Fails => "; not expected to pass without a film over the print",
            Expectation::NotKnown => "; not known to pass: try a sample",
        })
    }
}
