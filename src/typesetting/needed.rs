//! How large a copy of a notice must be set, whoever set it and when.

use super::LetterFloor;
use super::plate::{Floors, tag};
use crate::length::{Length, Size};
use crate::notice::{Notice, Subject};

/// The least heights of what is read and seen from a distance.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Needed {
    /// Of the capitals.
    pub letters: Length,
    /// From how far they are read.
    pub distance: Length,
    /// Of the warning sign; `None` where the notice carries none.
    pub sign: Option<Length>,
}

impl Needed {
    /// What a notice needs on a plate of a size: a tag is read from a distance of its own.
    #[must_use]
    pub fn of(notice: &Notice, size: Size, floor: LetterFloor) -> Self {
        let tag = notice.tag.as_ref().filter(|_| tag::is_tag(notice, size));
        let distance = tag.map_or(notice.reading_distance, |tag| tag.reading_distance);
        let floors = Floors::of(notice, floor);
        let letters = tag.map_or(Length::mm(floors.letter), |_| floor.height(distance));
        Self {
            letters: letters.max(notice.least.capitals.unwrap_or_default()),
            distance,
            sign: (notice.subject == Subject::Enclosure).then(|| Length::mm(floors.sign)),
        }
    }
}
