//! The record of an enclosure as a square code, as its notice carries it.

use std::sync::Arc;

use crate::drawing::{Drawing, Item, Modules};
use crate::length::{Length, Point, Size};
use crate::notice::Notice;
use crate::typesetting::code::{Code, Level, QUIET_ZONE};

/// Side of a module; never below 0.4 mm, as on notices.
const MODULE: Length = Length::um(500);
const LEAST_MODULE: Length = Length::um(400);

/// A code of more modules gets the smaller ones.
const MANY: u16 = 45;

/// The code of a notice, with its quiet zone; `None` where it carries none, or its own words, which stand on the card.
pub(super) fn code(notice: &Notice) -> Option<Arc<Drawing>> {
    let payload = notice.code.clone().filter(|_| !notice.carries_text())?;
    let Code { side, rows } = Code::of(&payload, Level::Medium).ok()?;
    let module = if side > MANY { LEAST_MODULE } else { MODULE };
    let quiet = module * i32::from(QUIET_ZONE);
    let whole = module * i32::from(side) + quiet * 2;
    let mut drawing = Drawing::new(Size::new(whole, whole));
    drawing.items.push(Item::Modules(Modules { origin: Point::new(quiet, quiet), module, side, rows, payload }));
    Some(Arc::new(drawing))
}
