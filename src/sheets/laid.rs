//! What lies where on a page, for somebody who shows a plan instead of printing it.

use super::Document;
use super::packed::Slot;
use crate::length::Rect;

/// A label on a page.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Laid {
    /// Index of the label.
    pub label: usize,
    /// The room that it has there.
    pub room: Rect,
    /// Whether it lies turned by a quarter.
    pub turned: bool,
}

impl Document {
    /// What lies on a page, from 0; nothing on a page that it does not have.
    #[must_use]
    pub fn laid(&self, page: usize) -> Vec<Laid> {
        let Some(part) = self.part_of(page) else { return Vec::new() };
        let on_page = part.on_page(page - part.first_page).into_iter();
        on_page.map(|(label, Slot { room, turned })| Laid { label, room, turned }).collect()
    }
}
