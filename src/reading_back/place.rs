//! Where a label lies on the page that was printed: from millimetres of the page to those of the label.

use kurbo::{Affine, Rect};

use crate::length;
use crate::sheets::{Correction, Page, Placed};

/// Millimetres of the sheet as it was planned to millimetres of the page: the printer's measured error is made good on
/// the page, so that the paper comes out as planned.
pub(super) fn corrected(correction: Correction) -> Affine {
    let (across, down) = correction.scales();
    let offset = (correction.offset.x.to_mm(), correction.offset.y.to_mm());
    let skew = Affine::skew(correction.skew_down / 1_000.0, correction.skew_across / 1_000.0);
    Affine::translate(offset) * skew * Affine::scale_non_uniform(across, down)
}

/// The page to a label's own coordinates, from its upper left corner.
pub(super) fn to_label(page: &Page, placed: &Placed) -> Affine {
    let room = rect(placed.room());
    let to_sheet = if placed.turned {
        // The label's own corner is the upper right one of its room, and its lines run down the page.
        Affine::translate((room.x1, room.y0)) * Affine::new([0.0, 1.0, -1.0, 0.0, 0.0, 0.0])
    } else {
        Affine::translate((room.x0, room.y0))
    };
    (corrected(page.correction) * to_sheet).inverse()
}

/// A label's room on its own: its corner is the origin.
pub(super) fn own_room(placed: &Placed) -> Rect {
    let size = placed.drawing.size;
    Rect::new(0.0, 0.0, size.width.to_mm(), size.height.to_mm())
}

/// A box in millimetres.
pub(super) fn rect(rect: length::Rect) -> Rect {
    Rect::new(rect.origin.x.to_mm(), rect.origin.y.to_mm(), rect.right().to_mm(), rect.bottom().to_mm())
}
