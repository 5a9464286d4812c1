//! A drawing as one-colour outlines for a machine that cuts or burns: everything black united, and what lies over it in
//! another colour taken out, so that nothing is engraved twice and exactly the black that is seen is engraved.

mod region;

pub use region::TOLERANCE_UM;

use super::outlines;
use crate::drawing::{Drawing, Ink};
use region::Region;

/// The drawing as a single black shape: closed outlines of straight lines, the outer ones running one way and holes the
/// other, so that the even-odd and the non-zero rule fill the same. No outline crosses another or itself. Curves are
/// followed to within [`TOLERANCE_UM`]; corners lie on whole micrometres.
#[must_use]
pub fn engraved(drawing: &Drawing) -> Drawing {
    let mut regions: Vec<Region> = Vec::new();
    for shape in outlines::shapes(drawing) {
        match effect(shape.ink) {
            Effect::Engraved => regions.push(Region::of(&shape)),
            Effect::LeftStanding => {
                let standing = Region::of(&shape);
                regions.iter_mut().for_each(|region| region.take_out(&standing));
            }
            Effect::Nothing => {}
        }
    }
    let mut engraved = Drawing::new(drawing.size);
    let path = Region::united(&regions).path();
    if !path.segments.is_empty() {
        engraved.fill(path, Ink::Black);
    }
    engraved
}

/// What an ink comes to where there is only one colour.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Effect {
    Engraved,
    LeftStanding,
    Nothing,
}

const fn effect(ink: Ink) -> Effect {
    match ink {
        Ink::Black | Ink::Grey => Effect::Engraved,
        // The material itself is yellow or white there.
        Ink::White | Ink::SignalYellow => Effect::LeftStanding,
        Ink::Contour | Ink::Register => Effect::Nothing,
    }
}

#[cfg(test)]
mod tests;
