//! Sizes by name: ISO 216, Letter, and width by height in millimetres.

use crate::length::{Length, Size};

/// Papers and notices that have a name, standing upright, in millimetres: ISO 216, and ANSI/ASME Y14.1 for Letter.
const NAMED: [(&str, f64, f64); 8] = [
    ("A3", 297.0, 420.0),
    ("A4", 210.0, 297.0),
    ("A5", 148.0, 210.0),
    ("A6", 105.0, 148.0),
    ("A7", 74.0, 105.0),
    ("A8", 52.0, 74.0),
    ("A9", 37.0, 52.0),
    ("Letter", 215.9, 279.4),
];

/// No paper that this program prints on is longer, in millimetres.
const LONGEST: f64 = 2_000.0;

/// A size by its name, standing upright, or `105x74` in millimetres; `None` for anything else.
#[must_use]
pub fn parse_size(text: &str) -> Option<Size> {
    let text = text.trim();
    if let Some((_, width, height)) = NAMED.iter().find(|(name, _, _)| name.eq_ignore_ascii_case(text)) {
        return Some(Size::new(Length::mm(*width), Length::mm(*height)));
    }
    let (width, height) = text.split_once(['x', 'X', '×'])?;
    Some(Size::new(side(width)?, side(height)?))
}

/// The name of a paper however it lies, `A4`, or its size in millimetres.
#[must_use]
pub fn paper_name(paper: Size) -> String {
    let upright = if paper.width > paper.height { paper.turned() } else { paper };
    let named = NAMED.iter().find(|(_, width, height)| upright == Size::new(Length::mm(*width), Length::mm(*height)));
    named.map_or_else(|| paper.to_string(), |(name, _, _)| (*name).to_owned())
}

fn side(text: &str) -> Option<Length> {
    let millimetres: f64 = text.trim().trim_end_matches("mm").trim_end().parse().ok()?;
    (millimetres > 0.0 && millimetres <= LONGEST).then(|| Length::mm(millimetres))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn iso_216_sizes_are_half_of_the_next_one_rounded_down() {
        // ISO 216:2007: each size is the one before halved along its longer side, rounded down to whole millimetres.
        for pair in NAMED[..7].windows(2) {
            assert_eq!((pair[1].1, pair[1].2), ((pair[0].2 / 2.0).floor(), pair[0].1), "{}", pair[1].0);
        }
    }

    #[test]
    fn sizes_are_read_by_name_and_in_millimetres() {
        let size = |width, height| Some(Size::new(Length::mm(width), Length::mm(height)));
        assert_eq!(parse_size(" a4 "), size(210.0, 297.0));
        assert_eq!(parse_size("105x74"), size(105.0, 74.0));
        assert_eq!(parse_size("60.5 × 20 mm"), size(60.5, 20.0));
        for wrong in ["", "A", "A12", "105", "105x", "-1x5", "0x5", "1e9x5", "nanx5", "infx5"] {
            assert_eq!(parse_size(wrong), None, "{wrong}");
        }
        assert_eq!(paper_name(Size::new(Length::mm(297.0), Length::mm(210.0))), "A4");
        assert_eq!(paper_name(Size::new(Length::mm(100.0), Length::mm(50.0))), "100 x 50 mm");
    }
}
