//! What one page shows, gathered by a reader that is not ours: runs of text with their places, marks, pictures.

use hayro_interpret::font::{Glyph, GlyphRun};
use hayro_interpret::hayro_cmap::BfString;
use hayro_interpret::hayro_syntax::object::Dict;
use hayro_interpret::{BlendMode, ClipPath, Device, DrawMode, DrawProps, Image, ImageDrawProps, SoftMask};
use kurbo::{Affine, BezPath, Point, Rect, Shape, Vec2};

use super::drawn::{Drawn, Letters};

/// Everything that a page shows, in millimetres from its upper left corner, `y` down.
#[derive(Debug, Default)]
pub(super) struct Seen {
    /// The text, in the order in which it is painted.
    pub(super) runs: Vec<Run>,
    /// Paths that are filled or drawn along.
    pub(super) marks: Vec<Mark>,
    /// Pictures of dots, which are not read.
    pub(super) pictures: usize,
}

/// Glyphs that one operator shows.
#[derive(Clone, Debug)]
pub(super) struct Run {
    /// What a reader gets from them; a glyph without a text counts as U+FFFD.
    pub(super) text: String,
    /// Where the pen starts and where it ends, on the baseline.
    pub(super) start: Point,
    pub(super) end: Point,
    /// What one em along the baseline and one em upwards come to.
    pub(super) along: Vec2,
    pub(super) up: Vec2,
    /// The span to which it belongs if that carries its own text.
    pub(super) span: Option<Span>,
    /// A glyph whose shape is that of another character than it tells: the two.
    pub(super) misdrawn: Option<Drawn>,
    /// False where it is painted over, clipped away or never painted.
    pub(super) visible: bool,
}

/// A span with a text of its own (ISO 32000-1, 14.9.4).
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Span {
    /// Its number on the page.
    pub(super) number: usize,
    /// What it says.
    pub(super) text: String,
}

/// A path in its place.
#[derive(Clone, Debug)]
pub(super) struct Mark {
    pub(super) path: BezPath,
    pub(super) bounds: Rect,
}

/// Gathers what a page shows.
pub(super) struct Gathering<'l> {
    pub(super) seen: Seen,
    letters: &'l mut Letters,
    clips: Vec<Rect>,
    /// For every marked content that is open, whether it carries a text.
    open: Vec<bool>,
    span: Option<Span>,
    spans: usize,
}

impl<'l> Gathering<'l> {
    pub(super) fn new(letters: &'l mut Letters) -> Self {
        Self { seen: Seen::default(), letters, clips: Vec::new(), open: Vec::new(), span: None, spans: 0 }
    }

    fn is_clipped(&self, run: &Run) -> bool {
        let middles = [run.start, run.end].map(|point| point + run.up * 0.2);
        self.clips.iter().any(|clip| middles.iter().any(|middle| !clip.inflate(0.01, 0.01).contains(*middle)))
    }

    /// Text under a path that is filled later can no longer be seen.
    fn paint_over(&mut self, path: &BezPath, bounds: Rect) {
        for run in self.seen.runs.iter_mut().filter(|run| run.visible) {
            let places = [0.1, 0.5, 0.9].map(|share| run.start.lerp(run.end, share) + run.up * 0.35);
            if places.iter().any(|place| bounds.contains(*place) && path.winding(*place) != 0) {
                run.visible = false;
            }
        }
    }
}

impl Device<'_> for Gathering<'_> {
    fn draw_path(&mut self, path: &BezPath, props: DrawProps<'_>, mode: &DrawMode) {
        let path = props.transform * path.clone();
        let bounds = path.bounding_box();
        if matches!(mode, DrawMode::Fill(_) | DrawMode::FillAndStroke(..)) {
            self.paint_over(&path, bounds);
        }
        self.seen.marks.push(Mark { path, bounds });
    }

    fn draw_glyph_run(&mut self, run: &GlyphRun<'_, '_>, props: DrawProps<'_>, mode: &DrawMode) {
        let glyphs = run.glyphs();
        let (Some(first), Some(last)) = (glyphs.first(), glyphs.last()) else { return };
        let place = |glyph: Affine| props.transform * glyph;
        let (start, end) = (place(first.transform()), place(last.transform()));
        let [along_x, along_y, up_x, up_y, ..] = start.as_coeffs();
        let mut gathered = Run {
            text: String::new(),
            start: start * Point::ZERO,
            end: end * Point::new(advance(last), 0.0),
            along: Vec2::new(along_x, along_y) * 1_000.0,
            up: Vec2::new(up_x, up_y) * 1_000.0,
            span: self.span.clone(),
            misdrawn: None,
            visible: !matches!(mode, DrawMode::Invisible),
        };
        for glyph in glyphs {
            let told = match glyph.as_unicode() {
                Some(BfString::Char(character)) => character.to_string(),
                Some(BfString::String(text)) => text,
                None => char::REPLACEMENT_CHARACTER.to_string(),
            };
            if gathered.misdrawn.is_none() {
                gathered.misdrawn = self.letters.compare(glyph, &told);
            }
            gathered.text.push_str(&told);
        }
        gathered.visible &= !self.is_clipped(&gathered);
        self.seen.runs.push(gathered);
    }

    fn draw_image(&mut self, _: Image<'_, '_>, _: ImageDrawProps<'_>) {
        self.seen.pictures += 1;
    }

    fn push_clip_path(&mut self, clip: &ClipPath) {
        self.clips.push(clip.path.bounding_box());
    }

    fn push_clip_rect(&mut self, rect: &Rect) {
        self.clips.push(*rect);
    }

    fn pop_clip(&mut self) {
        self.clips.pop();
    }

    fn push_transparency_group(&mut self, _: f32, _: Option<SoftMask<'_>>, _: BlendMode) {}

    fn pop_transparency_group(&mut self) {}

    fn begin_marked_content(&mut self, _: &[u8], properties: Option<&Dict<'_>>) {
        let text = properties.and_then(|properties| actual_text(properties));
        self.open.push(text.is_some());
        if let Some(text) = text {
            self.spans += 1;
            self.span = Some(Span { number: self.spans, text });
        }
    }

    fn end_marked_content(&mut self) {
        if self.open.pop() == Some(true) {
            self.span = None;
        }
    }
}

/// How far the pen goes on after a glyph, in thousandths of the em.
fn advance(glyph: &Glyph<'_>) -> f64 {
    let advance = match glyph {
        Glyph::Outline(glyph) => glyph.advance_width(),
        Glyph::Type3(glyph) => glyph.advance_width(),
    };
    advance.map_or(0.0, f64::from)
}

/// The text that a span carries: UTF-16 with a byte order mark, or one byte a character.
fn actual_text(properties: &Dict<'_>) -> Option<String> {
    let text = properties.get::<hayro_interpret::hayro_syntax::object::String<'_>>(b"ActualText".as_slice())?;
    let bytes = text.as_bytes();
    let Some(units) = bytes.strip_prefix(&[0xFE, 0xFF]) else {
        return Some(bytes.iter().map(|byte| char::from(*byte)).collect());
    };
    let units = units.as_chunks::<2>().0.iter().map(|pair| u16::from_be_bytes(*pair));
    let characters = char::decode_utf16(units);
    Some(characters.map(|character| character.unwrap_or(char::REPLACEMENT_CHARACTER)).collect())
}
