//! Text into glyphs with kerning.

mod pairs;

use std::cell::RefCell;
use std::hash::BuildHasher;
use std::sync::{Arc, LazyLock};

use foldhash::fast::FixedState;
use harfrust::{
    Buffer, ClusterLevel, Direction, Feature, Font, Script, ShapeOptions, ShapePlan, ShaperFont, Tag, shape,
};

use super::{Misfit, fonts};
use crate::drawing::{Face, Glyph, GlyphLine};

/// Lines that a thread keeps, each in the slot of its text.
const KEPT: usize = 1_024;

thread_local! {
    static RECENT: RefCell<Vec<Option<Arc<GlyphLine>>>> = RefCell::new(vec![None; KEPT]);
}

/// One line of text, kerned, without ligatures so that every glyph belongs to its own characters. Each thread keeps some of
/// those that it shaped last, since most lines of a survey are said again and again.
///
/// # Errors
/// [`Misfit::MissingGlyph`] for the first character that the face does not have.
pub(super) fn line(face: Face, text: &str) -> Result<Arc<GlyphLine>, Misfit> {
    RECENT.with_borrow_mut(|recent| {
        let Some(slot) = recent.get_mut(slot_of(face, text)) else { return shaped(face, text).map(Arc::new) };
        if let Some(line) = slot.as_ref().filter(|line| line.face == face && *line.text == *text) {
            return Ok(Arc::clone(line));
        }
        let line = Arc::new(shaped(face, text)?);
        *slot = Some(Arc::clone(&line));
        Ok(line)
    })
}

const fn face_index(face: Face) -> usize {
    match face {
        Face::Regular => 0,
        Face::Medium => 1,
        Face::Bold => 2,
    }
}

/// The slot of a line.
fn slot_of(face: Face, text: &str) -> usize {
    let hash = FixedState::default().hash_one((face_index(face), text));
    usize::try_from(hash % KEPT as u64).unwrap_or_default()
}

/// A face made ready for shaping, with one plan for each script that it covers.
struct Ready {
    font: Font,
    latin: ShapePlan,
    greek: ShapePlan,
    cyrillic: ShapePlan,
}

static READY: [LazyLock<Option<Ready>>; 3] = [
    LazyLock::new(|| Ready::new(Face::Regular)),
    LazyLock::new(|| Ready::new(Face::Medium)),
    LazyLock::new(|| Ready::new(Face::Bold)),
];

/// Ligatures are off: a PDF reader then gets exactly the characters of the survey.
fn features() -> [Feature; 2] {
    [Feature::new(Tag::new(b"liga"), 0, ..), Feature::new(Tag::new(b"clig"), 0, ..)]
}

impl Ready {
    fn new(face: Face) -> Option<Self> {
        let font = Font::new(fonts::bytes(face), 0)?;
        let plan = |script| ShapePlan::new(&font, Direction::LeftToRight, Some(script), None, &features());
        let (latin, greek, cyrillic) = (plan(Script::LATIN), plan(Script::GREEK), plan(Script::CYRILLIC));
        Some(Self { font, latin, greek, cyrillic })
    }

    /// The plan for the first letter that is not Latin, or the Latin one.
    fn plan(&self, text: &str) -> (Script, &ShapePlan) {
        let script = |character: char| match character {
            '\u{370}'..='\u{3ff}' | '\u{1f00}'..='\u{1fff}' => Some((Script::GREEK, &self.greek)),
            '\u{400}'..='\u{52f}' => Some((Script::CYRILLIC, &self.cyrillic)),
            _ => None,
        };
        text.chars().find_map(script).unwrap_or((Script::LATIN, &self.latin))
    }
}

thread_local! {
    static BUFFER: RefCell<Buffer> = RefCell::new(Buffer::new());
}

/// The face made ready.
fn ready(face: Face) -> Option<&'static Ready> {
    READY.get(face_index(face)).and_then(|ready| ready.as_ref())
}

fn shaped(face: Face, text: &str) -> Result<GlyphLine, Misfit> {
    let glyphs = match pairs::glyphs(face, text) {
        Some(glyphs) => glyphs,
        None => shape_with(ready(face).ok_or_else(|| missing(text, 0))?, text)?,
    };
    let width = glyphs.iter().map(|glyph| i32::from(glyph.advance)).sum();
    Ok(GlyphLine { face, text: text.into(), glyphs, width })
}

/// The glyphs of a text, from the shaper itself.
fn shape_with(ready: &Ready, text: &str) -> Result<Vec<Glyph>, Misfit> {
    BUFFER.with_borrow_mut(|buffer| {
        let (script, plan) = ready.plan(text);
        buffer.clear();
        buffer.set_cluster_level(ClusterLevel::MonotoneCharacters);
        buffer.push_str(text);
        buffer.set_direction(Direction::LeftToRight);
        buffer.set_script(Some(script));
        let options = ShapeOptions::new().plan(Some(plan));
        shape(&ShaperFont::new(&ready.font), buffer, options).map_err(|_| missing(text, 0))?;
        collect(buffer, text)
    })
}

/// The glyphs of a shaped buffer; glyph 0 is the font's mark for a character that it does not have.
fn collect(buffer: &Buffer, text: &str) -> Result<Vec<Glyph>, Misfit> {
    let pairs = buffer.glyph_infos().iter().zip(buffer.glyph_positions());
    pairs
        .map(|(info, position)| {
            let glyph = Glyph {
                id: u16::try_from(info.glyph_id).ok().filter(|id| *id != 0)?,
                advance: i16::try_from(position.x_advance).ok()?,
                shift: i16::try_from(position.x_offset).ok()?,
                rise: i16::try_from(position.y_offset).ok()?,
                cluster: u16::try_from(info.cluster).ok()?,
            };
            Some(glyph)
        })
        .zip(buffer.glyph_infos())
        .map(|(glyph, info)| glyph.ok_or_else(|| missing(text, info.cluster)))
        .collect()
}

fn missing(text: &str, at: u32) -> Misfit {
    let rest = usize::try_from(at).ok().and_then(|at| text.get(at..));
    let character = rest.and_then(|rest| rest.chars().next()).unwrap_or(char::REPLACEMENT_CHARACTER);
    Misfit::MissingGlyph { character, text: text.to_owned() }
}

#[cfg(test)]
mod tests;
