//! Heights of letters and signs, held against published tables.

use noticewright::drawing::Face;
use noticewright::length::Length;
use noticewright::typesetting::{LetterFloor, Typesetter, fonts, sign};

/// Distance in m, capitals in mm at 16 minutes of arc (ISO 9241-3, as computed by NUREG-0700's formula 2 D tan(8')) and at
/// D/200 (FAA advice).
const TABLE: [(f64, f64, f64); 6] = [
    (0.5, 2.33, 2.50),
    (0.71, 3.30, 3.55),
    (1.0, 4.65, 5.00),
    (2.0, 9.31, 10.00),
    (3.0, 13.96, 15.00),
    (5.0, 23.27, 25.00),
];

#[test]
fn letter_floors_are_those_of_the_table() {
    for (distance, minutes, share) in TABLE {
        let distance = Length::mm(distance * 1_000.0);
        let height = |floor: LetterFloor| floor.height(distance).to_mm();
        assert!((height(LetterFloor::SixteenMinutes) - minutes).abs() < 0.006, "{distance}");
        assert!((height(LetterFloor::TwoHundredth) - share).abs() < 0.000_5, "{distance}");
    }
}

#[test]
fn a_floor_is_never_rounded_below_the_rule() {
    for millimetres in 200..3_000 {
        let distance = Length::mm(f64::from(millimetres) + 0.3);
        assert!(LetterFloor::TwoHundredth.height(distance) * 200 >= distance);
        let exact = 2.0 * distance.to_mm() * (8.0_f64 / 60.0).to_radians().tan();
        assert!(LetterFloor::SixteenMinutes.height(distance).to_mm() >= exact - 1e-9);
    }
}

#[test]
fn strokes_of_the_faces_suit_dark_letters_on_white() {
    // DOD-HDBK-791: about 1/6 of the height for dark on light. Medium, the face of what must be read, is the closest.
    let share = |face| {
        let font = rustybuzz::ttf_parser::Face::parse(fonts::bytes(face), 0).unwrap();
        stem(&font) / f64::from(fonts::heights(face).capital)
    };
    let distance = |face| (share(face) - 1.0 / 6.0).abs();
    assert!(distance(Face::Medium) < distance(Face::Regular) && distance(Face::Medium) < distance(Face::Bold));
    assert!(distance(Face::Medium) < 0.02, "{}", share(Face::Medium));
}

/// Width of the upright bar of the capital L at its top, in font units.
fn stem(font: &rustybuzz::ttf_parser::Face<'_>) -> f64 {
    struct Points(Vec<(f32, f32)>);
    impl rustybuzz::ttf_parser::OutlineBuilder for Points {
        fn move_to(&mut self, x: f32, y: f32) {
            self.0.push((x, y));
        }
        fn line_to(&mut self, x: f32, y: f32) {
            self.0.push((x, y));
        }
        fn quad_to(&mut self, _: f32, _: f32, x: f32, y: f32) {
            self.0.push((x, y));
        }
        fn curve_to(&mut self, _: f32, _: f32, _: f32, _: f32, x: f32, y: f32) {
            self.0.push((x, y));
        }
        fn close(&mut self) {}
    }
    let mut points = Points(Vec::new());
    font.outline_glyph(font.glyph_index('L').unwrap(), &mut points);
    let top = points.0.iter().map(|point| point.1).fold(0.0, f32::max);
    let at_top: Vec<f32> = points.0.iter().filter(|point| (point.1 - top).abs() < 1.0).map(|point| point.0).collect();
    f64::from(at_top.iter().copied().fold(f32::MIN, f32::max) - at_top.iter().copied().fold(f32::MAX, f32::min))
}

#[test]
fn a_sign_of_a_width_is_as_high_as_the_registered_one() {
    // ISO 7010 W012 in a public-domain redraw: 600 wide, 524 high.
    for height in [10.0, 17.5, 25.0, 50.0] {
        let width = sign::width(Length::mm(height)).to_mm();
        assert!((height / width - 524.0 / 600.0).abs() < 0.001);
    }
}

#[test]
fn widths_equal_those_of_a_reference_shaper() {
    // rustybuzz follows HarfBuzz 10, another version than the one the program uses; fonts of 1000 units to the em.
    let typesetter = Typesetter::new();
    for face in Face::ALL {
        let font = rustybuzz::Face::from_slice(fonts::bytes(face), 0).unwrap();
        for text in ["Isolate at all 12 points", "AVATAR, Ty To 7.4 kW", "Łódź · Wyłącznik Q7", "460\u{a0}V d.c."]
        {
            let mut buffer = rustybuzz::UnicodeBuffer::new();
            buffer.push_str(text);
            let off = |tag| rustybuzz::Feature::new(rustybuzz::ttf_parser::Tag::from_bytes(tag), 0, ..);
            let shaped = rustybuzz::shape(&font, &[off(b"liga"), off(b"clig")], buffer);
            let width: i32 = shaped.glyph_positions().iter().map(|position| position.x_advance).sum();
            assert_eq!(typesetter.line(face, text).unwrap().width, width, "{face:?} {text}");
        }
    }
}
