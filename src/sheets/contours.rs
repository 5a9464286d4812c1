//! Where labels are cut out of a sheet: the outline of each, as a thin line for the machine.

use super::Placed;
use crate::drawing::{Drawing, Ink, Path};
use crate::length::{Length, Size};

/// Width of a line that is only followed: a thousandth of an inch, about the finest that machines and readers tell from
/// an area (common practice).
pub(super) const FOLLOWED: Length = Length::um(25);

/// A quarter of a point, as printing works want it (common practice).
pub(super) const QUARTER_POINT: Length = Length::um(88);

/// The edges around labels on a sheet, with the corners of the format as far as a label has room for them. A plate is as
/// large as its notice, also in a larger cell: no larger one may have room where it is fixed.
pub(super) fn around(placed: &[Placed], sheet: Size, corner_radius: Length, width: Length) -> Drawing {
    let mut contours = Drawing::new(sheet);
    for room in placed.iter().map(Placed::room) {
        let radius = corner_radius.min(room.size.width.min(room.size.height) / 2);
        contours.stroke(Path::rounded(room, radius), Ink::Contour, width);
    }
    contours
}
