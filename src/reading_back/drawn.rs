//! Whether a glyph is drawn as the character that it tells: a person sees the shape, not the text behind it.

use std::collections::{BTreeMap, HashMap};
use std::sync::LazyLock;

use hayro_interpret::font::{Glyph, GlyphIdentifier};
use kurbo::{BezPath, PathEl, Point};
use skrifa::instance::{LocationRef, Size};
use skrifa::outline::{DrawSettings, OutlinePen};
use skrifa::{FontRef, MetadataProvider};

use crate::drawing::Face;
use crate::typesetting::fonts;

/// A glyph that tells one character and is drawn as another.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Drawn {
    /// What a reader of the text gets.
    pub told: char,
    /// What is seen.
    pub shape: char,
}

/// The glyphs met so far by one reader, each compared once.
#[derive(Default)]
pub(super) struct Letters {
    known: HashMap<(GlyphIdentifier, Option<char>), Option<Drawn>>,
}

/// The shape of an outline: the points of its steps, to the nearest font unit.
type Outline = Vec<(u8, [i32; 2])>;

/// The characters of every shape in the faces as they came from their makers.
static SHAPES: LazyLock<BTreeMap<Outline, Vec<char>>> = LazyLock::new(|| {
    let mut shapes: BTreeMap<Outline, Vec<char>> = BTreeMap::new();
    for face in Face::ALL {
        add_face(fonts::bytes(face), &mut shapes);
    }
    shapes
});

impl Letters {
    /// The fault of a glyph that tells one character and has the shape of others only. A shape that is no character's
    /// own, such as an accent moved aside, proves nothing.
    pub(super) fn compare(&mut self, glyph: &Glyph<'_>, told: &str) -> Option<Drawn> {
        let Glyph::Outline(glyph) = glyph else { return None };
        let mut characters = told.chars();
        let told = characters.next().filter(|_| characters.next().is_none())?;
        let known = self.known.entry((glyph.identifier(), Some(told)));
        known.or_insert_with(|| compared(&glyph.outline(), told)).clone()
    }
}

fn compared(outline: &BezPath, told: char) -> Option<Drawn> {
    let characters = SHAPES.get(&steps(outline))?;
    let shape = characters.first().copied()?;
    (!characters.iter().any(|character| super::words::seen_as(*character) == super::words::seen_as(told)))
        .then_some(Drawn { told, shape })
}

fn steps(outline: &BezPath) -> Outline {
    let mut steps = Outline::new();
    let mut push = |kind: u8, points: &[Point]| {
        #[expect(clippy::cast_possible_truncation, reason = "font units are small")]
        steps.extend(points.iter().map(|point| (kind, [point.x.round() as i32, point.y.round() as i32])));
    };
    for element in outline.elements() {
        match element {
            PathEl::MoveTo(to) => push(0, &[*to]),
            PathEl::LineTo(to) => push(1, &[*to]),
            PathEl::QuadTo(control, to) => push(2, &[*control, *to]),
            PathEl::CurveTo(first, second, to) => push(3, &[*first, *second, *to]),
            PathEl::ClosePath => {}
        }
    }
    steps
}

fn add_face(file: &[u8], shapes: &mut BTreeMap<Outline, Vec<char>>) {
    let Ok(font) = FontRef::new(file) else { return };
    let outlines = font.outline_glyphs();
    for (code, glyph) in font.charmap().mappings() {
        let (Some(character), Some(glyph)) = (char::from_u32(code), outlines.get(glyph)) else { continue };
        let mut pen = PathPen::default();
        let settings = DrawSettings::unhinted(Size::unscaled(), LocationRef::default());
        if glyph.draw(settings, &mut pen).is_ok() {
            shapes.entry(steps(&pen.0)).or_default().push(character);
        }
    }
}

#[derive(Default)]
struct PathPen(BezPath);

impl OutlinePen for PathPen {
    fn move_to(&mut self, x: f32, y: f32) {
        self.0.move_to(point(x, y));
    }

    fn line_to(&mut self, x: f32, y: f32) {
        self.0.line_to(point(x, y));
    }

    fn quad_to(&mut self, cx: f32, cy: f32, x: f32, y: f32) {
        self.0.quad_to(point(cx, cy), point(x, y));
    }

    fn curve_to(&mut self, cx0: f32, cy0: f32, cx1: f32, cy1: f32, x: f32, y: f32) {
        self.0.curve_to(point(cx0, cy0), point(cx1, cy1), point(x, y));
    }

    fn close(&mut self) {
        self.0.close_path();
    }
}

fn point(x: f32, y: f32) -> Point {
    Point::new(f64::from(x), f64::from(y))
}
