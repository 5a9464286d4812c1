//! What changed between two states of the notices, and how dangerous the older state has become to a person who trusts it.
//!
//! A [`Version`] is a notice as one side knows it: as composed from a survey, or as kept at a printing. [`compare`] holds
//! two lists of them against each other, [`check`] a survey against what a record says is fixed on site; both come to
//! [`Changes`], the most dangerous first. Whatever cannot be told apart by the words counts as the more dangerous case.

mod beside;
mod check;
mod compare;
mod danger;
mod difference;
mod document;
mod doubt;
mod fit;
mod lying;
mod pairs;
mod points;
mod rows;
mod site;
mod speech;
mod version;
mod voltages;

pub use beside::{Line, beside};
pub use check::check;
pub use compare::{Asked, Change, Changes, Fate, compare};
pub use danger::Danger;
pub use difference::{Difference, What, differences};
pub use document::{Against, Document, HEAD, Pictures, Titles};
pub use doubt::Doubt;
pub use fit::{Devices, Measure, Needs, Sizes};
pub use rows::rows;
pub use site::{SiteChange, on_site};
pub use version::Version;

#[cfg(test)]
mod tests;
