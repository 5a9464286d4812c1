//! The supplies of one enclosure, from its live parts up to every source: as a one-line diagram, and as a text tree.
//!
//! First an outline of what matters of the network, then layers with the sources at the top and the enclosure at the
//! bottom, then places, wires and symbols. Nothing in here knows a file format: the drawing is one value like any other.

mod facts;
mod outline;
mod region;

mod tree;

mod cells;
mod layers;
mod lettering;
mod order;
mod pen;
mod picture;
mod place;
mod route;
mod straight;
mod symbols;
mod title;

use facts::Case;

use crate::drawing::Drawing;
use crate::network::Network;
use crate::rules::Decision;
use crate::supplies::Supplies;
use crate::survey::Survey;
use crate::typesetting::{Misfit, Typesetter};

/// The one-line diagram of an enclosure's supplies, with the points of isolation marked by the numbers of its notice. Its
/// size follows from what it shows.
///
/// # Errors
/// [`Misfit::MissingGlyph`] for the first character that the embedded faces do not have.
pub fn of(
    survey: &Survey,
    supplies: Option<&Supplies>,
    network: &Network,
    decision: &Decision,
    typesetter: &Typesetter,
) -> Result<Drawing, Misfit> {
    picture::draw(&Case::new(survey, supplies, network, decision), typesetter)
}

/// The supply path as text lines: a tree from the live parts of each row up to the sources, with the points of isolation
/// marked by number, `[1]`. Texts are those of the user's files, with nothing made harmless.
#[must_use]
pub fn text_tree(survey: &Survey, supplies: Option<&Supplies>, network: &Network, decision: &Decision) -> Vec<String> {
    tree::lines(&Case::new(survey, supplies, network, decision))
}
