//! What labels are made of and how they are marked, what each material stands up to, and whether its mark is rubbed off.
//!
//! The classes are data (`classes.toml`); a job file adds its own. Where a survey says nothing of a place, nothing is said
//! of the material either: silence is no proof that it lasts.

mod change;
mod classes;
mod fitness;
mod life;
mod process;
mod rub;

use serde::Deserialize;

use crate::survey::value::Surface;

pub use change::{Change, Refusal};
pub use classes::{Materials, built_in};
pub use fitness::{Place, conducts, suits};
pub use life::Life;
pub use process::Process;
pub use rub::{Expectation, Requirement, RubTest, rub_test};

/// A class of material. Its figures are ranges, and `basis` says where they come from.
#[derive(Clone, Debug, PartialEq, Eq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Material {
    /// The class as sheet formats spell it.
    pub name: String,
    /// What it is.
    pub words: String,
    /// Lowest service temperature, degrees Celsius.
    pub coldest: i16,
    /// Highest service temperature, degrees Celsius.
    pub hottest: i16,
    /// How long it lasts indoors.
    pub indoor_years: Life,
    /// How long it lasts in the open and in the sun; [`Life::NONE`] where it is not meant for that.
    pub outdoor_years: Life,
    /// The usual ways of marking it.
    pub marked_by: Vec<Process>,
    /// The ways whose mark stays when it is washed down.
    pub washdown_marked_by: Vec<Process>,
    /// The ways whose mark, and the material with it, stand up to oil, spirit and common solvents.
    pub solvent_marked_by: Vec<Process>,
    /// Whether a plate of it must be kept off live parts.
    pub conductive: bool,
    /// What it may be fixed on.
    pub surfaces: Vec<Surface>,
    /// What else must be known of it.
    pub notes: String,
    /// Where the figures come from.
    pub basis: String,
}

#[cfg(test)]
mod tests;
