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

/// The thinnest straight stroke of letters and figures of a face, in font units: where a letter breaks first when it is
/// cut too small. It is the bar of the e. The figures stand here as those of [`heights`] do.
#[must_use]
pub const fn thinnest(face: Face) -> i32 {
    match face {
        Face::Regular => 60,
        Face::Medium => 72,
        Face::Bold => 87,
    }
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

    /// Gathers the outlines of a glyph as polygons, curves in 32 steps.
    #[derive(Default)]
    struct Corners(Vec<Vec<(f32, f32)>>);

    impl Corners {
        fn curve(&mut self, control: &[(f32, f32)]) {
            let start = *self.0.last().unwrap().last().unwrap();
            for step in 1..=32_u8 {
                let t = f32::from(step) / 32.0;
                let mut points = [&[start], control].concat();
                while points.len() > 1 {
                    let mix = |a: (f32, f32), b: (f32, f32)| (a.0 + (b.0 - a.0) * t, a.1 + (b.1 - a.1) * t);
                    points = points.windows(2).map(|pair| mix(pair[0], pair[1])).collect();
                }
                self.0.last_mut().unwrap().push(points[0]);
            }
        }
    }

    impl skrifa::outline::OutlinePen for Corners {
        fn move_to(&mut self, x: f32, y: f32) {
            self.0.push(vec![(x, y)]);
        }
        fn line_to(&mut self, x: f32, y: f32) {
            self.0.last_mut().unwrap().push((x, y));
        }
        fn quad_to(&mut self, cx: f32, cy: f32, x: f32, y: f32) {
            self.curve(&[(cx, cy), (x, y)]);
        }
        fn curve_to(&mut self, ax: f32, ay: f32, bx: f32, by: f32, x: f32, y: f32) {
            self.curve(&[(ax, ay), (bx, by), (x, y)]);
        }
        fn close(&mut self) {}
    }

    /// The lengths inside a letter along an upright line at a share of its width, from below; its outlines do not
    /// overlap.
    fn chords(face: Face, letter: char, share: f32) -> Vec<f32> {
        let font = FontRef::new(bytes(face)).unwrap();
        let glyph = font.charmap().map(letter).unwrap();
        let bounds = GlyphMetrics::new(&font, Size::unscaled(), LocationRef::default()).bounds(glyph).unwrap();
        let x = bounds.x_min + (bounds.x_max - bounds.x_min) * share + 0.013;
        let mut corners = Corners::default();
        let settings = skrifa::outline::DrawSettings::unhinted(Size::unscaled(), LocationRef::default());
        font.outline_glyphs().get(glyph).unwrap().draw(settings, &mut corners).unwrap();
        let mut crossings = Vec::new();
        for outline in &corners.0 {
            for (a, b) in outline.iter().zip(outline.iter().cycle().skip(1)) {
                if (a.0 > x) != (b.0 > x) {
                    crossings.push(a.1 + (x - a.0) / (b.0 - a.0) * (b.1 - a.1));
                }
            }
        }
        crossings.sort_by(f32::total_cmp);
        crossings.chunks_exact(2).map(|pair| pair[1] - pair[0]).collect()
    }

    #[test]
    fn the_thinnest_strokes_are_those_of_the_outlines() {
        let found = Face::ALL.map(|face| {
            // Where these letters have a level stroke halfway along.
            let letters = "AEFHLTZefotz02357".chars();
            let strokes = letters.flat_map(|letter| chords(face, letter, 0.5).into_iter().map(move |c| (c, letter)));
            strokes.min_by(|one, other| one.0.total_cmp(&other.0)).unwrap()
        });
        let stated = Face::ALL.map(|face| thinnest(face) as f32);
        assert_eq!(found.map(|(stroke, _)| stroke.floor()), stated, "{found:?}");
    }
}
