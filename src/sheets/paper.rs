//! Sizes by name: ISO 216, Letter, and width by height in millimetres.

use crate::length::{ISO_216, Length, Size};

/// Letter by ANSI/ASME Y14.1, standing upright.
const LETTER: (&str, Size) = ("Letter", Size::new(Length::um(215_900), Length::um(279_400)));

/// No paper that this program prints on is longer, in millimetres.
const LONGEST: f64 = 2_000.0;

/// A size by its name, standing upright, or `105x74` in millimetres; `None` for anything else.
#[must_use]
pub fn parse_size(text: &str) -> Option<Size> {
    let text = text.trim();
    if let Some((_, size)) = named().find(|(name, _)| name.eq_ignore_ascii_case(text)) {
        return Some(size);
    }
    let (width, height) = text.split_once(['x', 'X', '×'])?;
    Some(Size::new(side(width)?, side(height)?))
}

/// The name of a paper however it lies, `A4`, or its size in millimetres.
#[must_use]
pub fn paper_name(paper: Size) -> String {
    let upright = if paper.width > paper.height { paper.turned() } else { paper };
    named().find(|(_, size)| *size == upright).map_or_else(|| paper.to_string(), |(name, _)| name.to_owned())
}

/// Papers and notices that have a name, standing upright.
fn named() -> impl Iterator<Item = (&'static str, Size)> {
    ISO_216.into_iter().map(|(name, size)| (name, size.turned())).chain([LETTER])
}

fn side(text: &str) -> Option<Length> {
    let millimetres: f64 = text.trim().trim_end_matches("mm").trim_end().parse().ok()?;
    // What is less than half a micrometre is nothing.
    let is_likely = millimetres > 0.0 && millimetres <= LONGEST;
    is_likely.then(|| Length::mm(millimetres)).filter(|side| *side > Length::ZERO)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn sizes_are_read_by_name_and_in_millimetres() {
        let size = |width, height| Some(Size::new(Length::mm(width), Length::mm(height)));
        assert_eq!(parse_size(" a4 "), size(210.0, 297.0));
        assert_eq!(parse_size("105x74"), size(105.0, 74.0));
        assert_eq!(parse_size("60.5 × 20 mm"), size(60.5, 20.0));
        for wrong in ["", "A", "A12", "105", "105x", "-1x5", "0x5", "0.0004x5", "1e9x5", "nanx5", "infx5"] {
            assert_eq!(parse_size(wrong), None, "{wrong}");
        }
        assert_eq!(paper_name(Size::new(Length::mm(297.0), Length::mm(210.0))), "A4");
        assert_eq!(paper_name(Size::new(Length::mm(100.0), Length::mm(50.0))), "100 x 50 mm");
    }
}
