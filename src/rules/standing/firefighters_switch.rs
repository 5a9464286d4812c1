//! Firefighter's switch: the plate at the switch by which the fire service makes high-voltage lamps and signs dead.
//!
//! Reason: water on a lit discharge lamp or sign kills who holds the hose; the switch must be found in smoke.
//!
//! Reference: BS 7671:2018+A4:2026, 537.4 (from texts that quote it): a plate of at least 150 x 100 mm with the words,
//! in letters of at least 36 point; the switch red, OFF at the top. A point is 1/72 inch, so 36 point are 12.7 mm from
//! line to line of solid type and about 9.1 mm in the capitals; no lower capitals are used. No sheet prints red: order
//! a red plate, or fix the plate beside a red switch.
//!
//! In the list: `kind` is `firefighters-switch`. A `size` below the published one is an error.
//!
//! Example: the switch outside the shop front of the cold store, for its illuminated sign.

use super::{Asked, Words, capitals_of, points};
use crate::length::Size;
use crate::rules::clause::Confidence;

pub(super) const ASKED: Asked = Asked {
    words: Words::Prescribed(Confidence::Secondary),
    plate: Some(Size::whole_mm(150, 100)),
    capitals: Some(capitals_of(points(36))),
    is_advised: false,
    because: "to be fixed on or beside the switch, which is red and whose OFF position is at the top",
};
