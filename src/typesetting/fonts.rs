//! The embedded faces: their bytes and the heights of their letters.

use crate::drawing::Face;

/// Heights of a face, in font units above the baseline (the descent below it).
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Heights {
    /// Font units to the em.
    pub units_per_em: i32,
    /// Flat capitals, such as H.
    pub capital: i32,
    /// Figures, overshoot included.
    pub digit: i32,
    /// Flat small letters, such as x.
    pub small: i32,
    /// The highest stem of a small letter, such as d.
    pub ascender: i32,
    /// How far the lowest small letter reaches below the baseline, such as p, as a positive number.
    pub descender: i32,
}

/// The whole font file of a face.
#[must_use]
pub const fn bytes(face: Face) -> &'static [u8] {
    match face {
        Face::Regular => include_bytes!("../../fonts/IBMPlexSans-Regular.ttf"),
        Face::Medium => include_bytes!("../../fonts/IBMPlexSans-Medium.ttf"),
        Face::Bold => include_bytes!("../../fonts/IBMPlexSans-Bold.ttf"),
    }
}

/// The name of a face as PDF readers and people know it.
#[must_use]
pub const fn name(face: Face) -> &'static str {
    match face {
        Face::Regular => "IBMPlexSans-Regular",
        Face::Medium => "IBMPlexSans-Medium",
        Face::Bold => "IBMPlexSans-Bold",
    }
}

/// The heights of a face. The figures stand here so that nothing is parsed to know them; a test measures the outlines.
#[must_use]
pub const fn heights(face: Face) -> Heights {
    let (small, ascender) = match face {
        Face::Regular => (516, 740),
        Face::Medium => (520, 744),
        Face::Bold => (525, 749),
    };
    Heights { units_per_em: 1_000, capital: 698, digit: 710, small, ascender, descender: 212 }
}

#[cfg(test)]
mod tests {
    use super::*;
    use skrifa::instance::{LocationRef, Size};
    use skrifa::metrics::GlyphMetrics;
    use skrifa::{FontRef, MetadataProvider};

    #[test]
    fn the_files_are_those_whose_origin_is_written_down() {
        use sha2::Digest;
        let provenance = include_str!("../../fonts/README.md");
        for face in Face::ALL {
            let digest: String = sha2::Sha256::digest(bytes(face)).iter().map(|byte| format!("{byte:02x}")).collect();
            assert!(provenance.contains(&format!("{}.ttf", name(face))) && provenance.contains(&digest), "{face:?}");
        }
    }

    #[test]
    fn heights_are_those_of_the_outlines() {
        for face in Face::ALL {
            let font = FontRef::new(bytes(face)).unwrap();
            let metrics = GlyphMetrics::new(&font, Size::unscaled(), LocationRef::default());
            let bounds = |letter: char| metrics.bounds(font.charmap().map(letter).unwrap()).unwrap();
            let heights = heights(face);
            let table = font.metrics(Size::unscaled(), LocationRef::default());
            let measured = (
                i32::from(table.units_per_em),
                bounds('H').y_max,
                ('0'..='9').map(|digit| bounds(digit).y_max).fold(0.0, f32::max),
                bounds('x').y_max,
                ('a'..='z').map(|letter| bounds(letter).y_max).fold(0.0, f32::max),
                ('a'..='z').map(|letter| bounds(letter).y_min).fold(0.0, f32::min),
            );
            let stated = (
                heights.units_per_em,
                heights.capital as f32,
                heights.digit as f32,
                heights.small as f32,
                heights.ascender as f32,
                -heights.descender as f32,
            );
            assert_eq!(measured, stated, "{face:?} {:?}", table.cap_height);
        }
    }
}
