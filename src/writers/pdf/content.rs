//! The content of a page: a drawing's marks into operators.
//!
//! One matrix turns the page's points into hundredths of a millimetre from the upper left corner, with `y` growing
//! upwards: coordinates are then short whole numbers, with one digit after the point where a micrometre must be kept.
//! (In whole micrometres the factor of the matrix would be so small that readers which keep sixteen binary digits after
//! the point would lose a thousandth of every length.)

use std::cell::RefCell;
use std::ops::{BitOr, Shl};
use std::sync::Arc;

use libdeflater::{CompressionLvl, Compressor};

use super::fonts::UsedGlyphs;
use super::marked::{self, Marks};
use super::{code, colour, plates, shape, text};
use crate::drawing::{Drawing, Face, Group, Ink, Item};
use crate::length::{Dots, Length, Point, Rect, Size};
use crate::sheets::{Correction, Page, Palette, Placed, Reading};

/// Points in one hundredth of a millimetre: 72 / 2540.
const POINTS_A_UNIT: f64 = 72.0 / 2_540.0;

/// A page ready to be added: its deflated operators, and what they use.
#[derive(Clone, Debug)]
pub struct EncodedPage {
    pub(super) boxes: Boxes,
    /// What comes before its own operators and is alike on other pages.
    pub(super) opening: Option<Opening>,
    pub(super) deflated: Vec<u8>,
    /// The operators of the cutting contours, which go on with the state of the others; none on most pages.
    pub(super) contours: Vec<u8>,
    pub(super) glyphs: UsedGlyphs,
    pub(super) groups: Vec<Arc<Group>>,
    /// What a reader is told of it; nothing for a page that is only looked at.
    pub(super) marks: Option<Marks>,
}

/// What a page begins with, which others may begin with too.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Opening {
    paper: Size,
    correction: Correction,
    repeated: Arc<Drawing>,
}

impl Opening {
    /// Whether another begins alike; that its drawing is the same is seen without a look at its marks.
    pub(super) fn is_like(&self, other: &Self) -> bool {
        let same = Arc::ptr_eq(&self.repeated, &other.repeated);
        same && self.paper == other.paper && self.correction == other.correction
    }

    /// Its operators. What follows must not rely on any ink, width or font that they set.
    pub(super) fn draw<'a>(&self, palette: &'a Palette) -> Content<'a> {
        let mut content = Content::new(palette);
        content.page_matrix(self.paper, self.correction);
        content.drawing(&self.repeated);
        content
    }
}

/// The boxes of a page, measured as the page is: from its upper left corner, `y` down.
#[derive(Clone, Copy, Debug)]
pub(super) struct Boxes {
    /// The medium.
    pub(super) size: Size,
    /// What is left when it is trimmed.
    pub(super) trim: Rect,
    /// How far the print goes on beyond that.
    pub(super) bleed: Length,
}

/// Room for the operators of a page: most sheets of notices take no more.
const ROOM: usize = 24 << 10;

/// Turns a page into operators in the colours of a process. Uses nothing else, so pages may be encoded on any thread in
/// any order.
#[must_use]
pub fn encode(page: &Page, palette: &Palette) -> EncodedPage {
    let mut content = Content::new(palette);
    content.bytes.reserve(ROOM);
    let is_read = page.reading != Reading::default();
    let opening = Opening { paper: page.size, correction: page.correction, repeated: Arc::clone(&page.repeated) };
    let opening = Some(opening).filter(|opening| !is_read && !opening.repeated.items.is_empty());
    if opening.is_none() {
        content.page_matrix(page.size, page.correction);
    }
    let marks = is_read.then(|| marked::draw(&mut content, page));
    if marks.is_none() {
        content.drawing(&page.furniture);
        page.placed.iter().for_each(|placed| content.placed(placed));
    }
    let deflated = content.deflate();
    // The page is kept until it is written, and its contours are few.
    content.bytes = Vec::new();
    let decorates = marks.is_some() && !page.contours.items.is_empty();
    content.bytes.extend_from_slice(if decorates { marked::ARTIFACT } else { b"" });
    content.drawing(&page.contours);
    content.bytes.extend_from_slice(if decorates { marked::END } else { b"" });
    let boxes = Boxes { size: page.size, trim: page.trim, bleed: page.bleed };
    let Content { bytes: contours, glyphs, groups, .. } = content;
    EncodedPage { boxes, opening, deflated, contours, glyphs, groups, marks }
}

/// Entries of the dictionary of a form in which a group of this size is stored, with its resources as they are written.
pub(super) fn form_entries(size: Size, resources: &[u8]) -> String {
    let mut entries = b"/Type/XObject/Subtype/Form/BBox[0 ".to_vec();
    push_length(&mut entries, -size.height);
    entries.push(b' ');
    push_length(&mut entries, size.width);
    entries.extend_from_slice(b" 0]/Resources ");
    entries.extend_from_slice(resources);
    String::from_utf8_lossy(&entries).into_owned()
}

/// Operators under way, with what is set in the graphics state so that nothing is set twice.
pub(super) struct Content<'a> {
    /// What each ink is.
    pub(super) palette: &'a Palette,
    /// The operators.
    pub(super) bytes: Vec<u8>,
    /// The glyphs shown.
    pub(super) glyphs: UsedGlyphs,
    /// The groups placed, each once.
    pub(super) groups: Vec<Arc<Group>>,
    /// What is set now.
    pub(super) state: State,
}

/// The part of the graphics state that marks set.
#[derive(Clone, Copy, Default)]
pub(super) struct State {
    pub(super) fill: Option<Ink>,
    pub(super) stroke: Option<Ink>,
    pub(super) overprint: Option<bool>,
    pub(super) width: Option<Length>,
    pub(super) font: Option<(Face, Length)>,
    /// The left end of the last line of text while its text object is open: the next moves on from there.
    pub(super) line: Option<Point>,
}

impl<'a> Content<'a> {
    /// Nothing yet, in the colours of a process.
    pub(super) fn new(palette: &'a Palette) -> Self {
        let (bytes, glyphs, groups) = (Vec::new(), UsedGlyphs::default(), Vec::new());
        Self { palette, bytes, glyphs, groups, state: State::default() }
    }

    /// The marks of a drawing, whose upper left corner is the origin.
    pub(super) fn drawing(&mut self, drawing: &Drawing) {
        for item in &drawing.items {
            self.mark(item, drawing.dots);
        }
        self.end_text();
    }

    /// One mark of a drawing that is made for these dots.
    pub(super) fn item(&mut self, item: &Item, dots: Option<Dots>) {
        self.mark(item, dots);
        self.end_text();
    }

    /// Ends the text object that is open, before anything that has no place in one.
    fn end_text(&mut self) {
        if self.state.line.take().is_some() {
            self.bytes.extend_from_slice(b"ET\n");
        }
    }

    /// One mark of a drawing that is made for these dots. A text object is left open for more lines.
    fn mark(&mut self, item: &Item, dots: Option<Dots>) {
        if !matches!(item, Item::Text { .. }) {
            self.end_text();
        }
        match item {
            Item::Path { path, paint } => shape::push(self, path, *paint),
            Item::Text { line, origin, em, ink } => text::push(self, line, *origin, *em, *ink),
            Item::Modules(modules) => code::push(self, modules, dots),
            Item::Group { group, at } => self.group(group, *at),
        }
    }

    /// A label in its place; one that is turned has its own upper left corner at the upper right of its room.
    pub(super) fn placed(&mut self, placed: &Placed) {
        let right = Point::new(placed.room().right(), placed.corner.y);
        let (turn, corner): (&[u8], _) =
            if placed.turned { (b"0 -1 1 0 ", right) } else { (b"1 0 0 1 ", placed.corner) };
        self.saved(|content| {
            content.bytes.extend_from_slice(turn);
            content.point(corner);
            content.bytes.extend_from_slice(b"cm\n");
            content.drawing(&placed.drawing);
        });
    }

    /// What `draw` adds, with the graphics state put back afterwards.
    pub(super) fn saved(&mut self, draw: impl FnOnce(&mut Self)) {
        let state = self.state;
        self.bytes.extend_from_slice(b"q\n");
        draw(self);
        self.bytes.extend_from_slice(b"Q\n");
        self.state = state;
    }

    /// Two coordinates, each with a space behind it.
    pub(super) fn point(&mut self, point: Point) {
        self.length(point.x);
        self.length(-point.y);
    }

    /// A length with a space behind it.
    pub(super) fn length(&mut self, length: Length) {
        push_spelt(&mut self.bytes, length, Some(b' '));
    }

    /// Sets the ink of fills and text; whether anything is painted with it.
    pub(super) fn fill_ink(&mut self, ink: Ink) -> bool {
        if self.state.fill != Some(ink) {
            let Some(colour) = self.palette.colour(ink) else { return false };
            self.state.fill = Some(ink);
            colour::push(&mut self.bytes, &colour, colour::Use::Fill);
        }
        self.overprint(ink);
        true
    }

    /// Sets the ink of lines; whether anything is painted with it.
    pub(super) fn stroke_ink(&mut self, ink: Ink) -> bool {
        if self.state.stroke != Some(ink) {
            let Some(colour) = self.palette.colour(ink) else { return false };
            self.state.stroke = Some(ink);
            colour::push(&mut self.bytes, &colour, colour::Use::Stroke);
        }
        self.overprint(ink);
        true
    }

    /// Sets whether the next mark leaves the other plates as they are below it, where there are plates.
    fn overprint(&mut self, ink: Ink) {
        let Some(over) = self.palette.overprints(ink).filter(|over| self.state.overprint != Some(*over)) else {
            return;
        };
        self.state.overprint = Some(over);
        self.bytes.extend_from_slice(if over { plates::OVER } else { plates::OUT });
    }

    /// The operators deflated.
    pub(super) fn deflate(&self) -> Vec<u8> {
        deflated(&self.bytes)
    }

    /// Whole page: points to hundredths of a millimetre, origin up at the left, the printer's error made good (scale, then
    /// skew, then offset); round joins and ends for every line that follows.
    fn page_matrix(&mut self, paper: Size, correction: Correction) {
        let (across, down) = correction.scales();
        let (left, top) = (correction.offset.x.to_points(), (paper.height - correction.offset.y).to_points());
        if correction.is_skewed() {
            // In points and by itself, so that readers which keep few digits lose nothing of it. Upwards is positive here.
            let (across, down) = (-correction.skew_across / 1_000.0, -correction.skew_down / 1_000.0);
            self.matrix([1.0, across, down, 1.0, left, top]);
            self.bytes.push(b'\n');
        }
        let (left, top) = if correction.is_skewed() { (0.0, 0.0) } else { (left, top) };
        self.matrix([POINTS_A_UNIT * across, 0.0, 0.0, POINTS_A_UNIT * down, left, top]);
        self.bytes.extend_from_slice(b"\n1 j 1 J\n");
    }

    /// Puts a matrix before the current one.
    fn matrix(&mut self, numbers: [f64; 6]) {
        for number in numbers {
            push_number(&mut self.bytes, number, 9);
            self.bytes.push(b' ');
        }
        self.bytes.extend_from_slice(b"cm");
    }

    /// Places a group by its name.
    fn group(&mut self, group: &Arc<Group>, at: Rect) {
        if !self.groups.iter().any(|known| Arc::ptr_eq(known, group)) {
            self.groups.push(Arc::clone(group));
        }
        let ratio = |to: Length, from: Length| f64::from(to.to_um()) / f64::from(from.to_um().max(1));
        let size = group.drawing.size;
        self.saved(|content| {
            push_number(&mut content.bytes, ratio(at.size.width, size.width), 7);
            content.bytes.extend_from_slice(b" 0 0 ");
            push_number(&mut content.bytes, ratio(at.size.height, size.height), 7);
            content.bytes.push(b' ');
            content.point(at.origin);
            content.bytes.extend_from_slice(b"cm ");
            push_name(&mut content.bytes, group.name.as_bytes());
            content.bytes.extend_from_slice(b" Do\n");
        });
    }
}

/// A name, with every byte that is not a plain letter, digit, hyphen or plus sign written by its number.
pub(super) fn push_name(bytes: &mut Vec<u8>, name: &[u8]) {
    bytes.push(b'/');
    for byte in name {
        if byte.is_ascii_alphanumeric() || matches!(byte, b'-' | b'+') {
            bytes.push(*byte);
        } else {
            bytes.extend_from_slice(format!("#{byte:02X}").as_bytes());
        }
    }
}

/// A length in hundredths of a millimetre: `7400`, `-12.3`.
pub(super) fn push_length(bytes: &mut Vec<u8>, length: Length) {
    push_spelt(bytes, length, None);
}

/// A length with a space behind it or without. Nothing is written as often as this, so it is spelt from its end into one
/// word, sign and all, and appended whole: thirteen bytes at most.
fn push_spelt(bytes: &mut Vec<u8>, length: Length, behind: Option<u8>) {
    let micrometres = length.to_um();
    let (whole, rest) = (micrometres.unsigned_abs() / 10, micrometres.unsigned_abs() % 10);
    // With sign, point and blank a short one takes eight bytes, as most do on a label.
    if whole < 10_000 {
        let (spelt, count) = spelt::<u64>((whole, rest), micrometres < 0, behind);
        push_first(bytes, spelt.to_le_bytes(), count);
    } else {
        let (spelt, count) = spelt::<u128>((whole, rest), micrometres < 0, behind);
        push_first(bytes, spelt.to_le_bytes(), count);
    }
}

/// A number of hundredths of a millimetre and of tenths of them, the first letter in the lowest byte, and how many letters.
#[inline]
fn spelt<W>((mut whole, rest): (u32, u32), is_negative: bool, behind: Option<u8>) -> (W, usize)
where
    W: From<u8> + From<u16> + Shl<u32, Output = W> + BitOr<Output = W>,
{
    let mut spelt = W::from(behind.unwrap_or_default());
    let mut count = usize::from(behind.is_some());
    let digit = |number: u32| W::from(b'0' + u8::try_from(number % 10).unwrap_or_default());
    if rest != 0 {
        spelt = spelt << 16 | digit(rest) << 8 | W::from(b'.');
        count += 2;
    }
    let is_below_one = whole == 0;
    while whole >= 10 {
        let Some(pair) = PAIRS.get(whole as usize % 100) else { unreachable!("there are a hundred pairs") };
        spelt = spelt << 16 | W::from(*pair);
        count += 2;
        whole /= 100;
    }
    if whole != 0 || is_below_one {
        spelt = spelt << 8 | digit(whole);
        count += 1;
    }
    if is_negative {
        spelt = spelt << 8 | W::from(b'-');
        count += 1;
    }
    (spelt, count)
}

/// The two digits of each number below a hundred, the first in the lower byte.
static PAIRS: [u16; 100] = pairs();

#[expect(clippy::indexing_slicing, reason = "a constant: beyond its end it would not compile")]
const fn pairs() -> [u16; 100] {
    let mut pairs = [0; 100];
    let mut number = 0;
    while number < 100 {
        let (tens, ones) = (number as u16 / 10, number as u16 % 10);
        pairs[number] = (b'0' as u16 + tens) | (b'0' as u16 + ones) << 8;
        number += 1;
    }
    pairs
}

/// The first `count` of some bytes. To copy all of a short array and cut it off costs less than to copy as many as there
/// happen to be.
#[inline]
pub(super) fn push_first<const N: usize>(bytes: &mut Vec<u8>, given: [u8; N], count: usize) {
    let end = bytes.len() + count;
    bytes.extend_from_slice(&given);
    bytes.truncate(end);
}

/// A length in points, to a ten-thousandth.
pub(super) fn push_points(bytes: &mut Vec<u8>, length: Length) {
    push_number(bytes, length.to_points(), 4);
}

/// A whole number. Most numbers of a code and many kerns are below a hundred, and those are spelt out here.
pub(super) fn push_integer(bytes: &mut Vec<u8>, number: i64) {
    match u8::try_from(number) {
        Ok(digit @ 0..=9) => bytes.push(b'0' + digit),
        Ok(two @ 10..=99) => bytes.extend_from_slice(&[b'0' + two / 10, b'0' + two % 10]),
        Err(_) if (-99..0).contains(&number) => {
            bytes.push(b'-');
            push_integer(bytes, -number);
        }
        Ok(_) | Err(_) => bytes.extend_from_slice(itoa::Buffer::new().format(number).as_bytes()),
    }
}

/// A number with so many digits after the point at most; PDF knows no exponents.
#[expect(clippy::cast_possible_truncation, reason = "what does not fit is spelt the long way")]
pub(super) fn push_number(bytes: &mut Vec<u8>, number: f64, digits: u8) {
    let scale = 10_i64.pow(u32::from(digits));
    let scaled = (number * 10_f64.powi(i32::from(digits))).round();
    if scaled.abs() > 9e15 || scaled.is_nan() {
        let digits = usize::from(digits);
        let text = format!("{number:.digits$}");
        bytes.extend_from_slice(text.trim_end_matches('0').trim_end_matches('.').as_bytes());
        return;
    }
    let scaled = scaled as i64;
    if scaled < 0 {
        bytes.push(b'-');
    }
    let (whole, mut rest) = (scaled.abs() / scale, scaled.abs() % scale);
    push_integer(bytes, whole);
    let mut step = scale;
    if rest > 0 {
        bytes.push(b'.');
    }
    while rest > 0 {
        step /= 10;
        bytes.push(b'0' + (rest / step) as u8);
        rest %= step;
    }
}

/// How hard the deflater tries.
///
/// Measured with four labels a page, of six lines and a code of 29 modules: 4400 bytes a label become 895, 863, 840 and 765
/// at levels 1, 2, 3 and 6, and each of these steps takes more time than it saves in writing.
const LEVEL: i32 = 1;

/// Deflates within a zlib wrapper.
///
/// Deflater and room are kept for each thread: made anew for each page, the holes that they leave between the pages'
/// small results cost more memory than all the notices of a large survey.
pub(super) fn deflated(bytes: &[u8]) -> Vec<u8> {
    thread_local! {
        static STATE: RefCell<(Compressor, Vec<u8>)> = {
            let level = CompressionLvl::new(LEVEL).unwrap_or_default();
            RefCell::new((Compressor::new(level), Vec::new()))
        };
    }
    STATE.with_borrow_mut(|(deflater, room)| {
        let most = deflater.zlib_compress_bound(bytes.len());
        if room.len() < most {
            room.resize(most, 0);
        }
        match deflater.zlib_compress(bytes, room) {
            Ok(count) => room.get(..count).unwrap_or_default().to_vec(),
            // It refuses only where there is less room than it asked for.
            Err(_) => unreachable!("a deflater has as much room as it asked for"),
        }
    })
}
