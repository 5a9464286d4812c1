//! Where plates are cut out of a sheet: the outline of each, as a thin line for the machine.

use super::{Placed, Production, SheetFormat};
use crate::drawing::{Drawing, Ink, Path};
use crate::length::{Length, Size};

/// Width of a line that is only followed: a thousandth of an inch, about the finest that machines and readers tell from
/// an area (common practice).
const FOLLOWED: Length = Length::um(25);

/// The edges of the plates on a sheet of a format; nothing where labels come off the sheet in another way.
pub(super) fn of(format: &SheetFormat, placed: &[Placed]) -> Drawing {
    match format.production {
        Production::Engraving(_) => around(placed, format.paper, format.corner_radius),
        Production::Office | Production::Roll(_) | Production::Press(_) => Drawing::new(format.paper),
    }
}

/// The edges around labels on a sheet. A plate is as large as its notice, also in a larger cell: no larger one may have
/// room where it is fixed.
pub(super) fn around(placed: &[Placed], sheet: Size, corner_radius: Length) -> Drawing {
    let mut edges = Drawing::new(sheet);
    for room in placed.iter().map(Placed::room) {
        let radius = corner_radius.min(room.size.width.min(room.size.height) / 2);
        edges.stroke(Path::rounded(room, radius), Ink::CutContour, FOLLOWED);
    }
    edges
}
