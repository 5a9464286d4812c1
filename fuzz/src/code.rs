//! Square codes read again by a library that had no part in making them.

use noticewright::typesetting::code::Code;

/// The text that a code carries; `None` if it cannot be read.
#[must_use]
pub fn decoded(code: &Code) -> Option<String> {
    let side = usize::from(code.side);
    let words = side.div_ceil(64);
    let is_dark = |x: usize, y: usize| code.rows[y * words + x / 64] >> (x % 64) & 1 == 1;
    rqrr::Grid::new(rqrr::SimpleGrid::from_func(side, is_dark)).decode().ok().map(|(_, text)| text)
}
