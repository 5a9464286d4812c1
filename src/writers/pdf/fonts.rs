//! What the writer must know of the embedded faces, and which of their glyphs a document shows.

use std::collections::BTreeMap;
use std::sync::LazyLock;

use skrifa::instance::{LocationRef, Size};
use skrifa::{FontRef, MetadataProvider};

use crate::drawing::Face;
use crate::typesetting::fonts;

/// Widths and characters of one face, by glyph number.
pub(super) struct FaceTable {
    glyphs: Vec<Known>,
}

/// What is known of a glyph.
#[derive(Clone, Copy)]
pub(super) struct Known {
    /// How it is shown.
    pub(super) spelt: Spelt,
    /// The character that a reader gets from it; `None` for ligatures and alternates.
    pub(super) character: Option<char>,
}

/// What is needed of a glyph to show it.
#[derive(Clone, Copy)]
pub(super) struct Spelt {
    /// Its number as it stands in a literal string, and how many bytes of this count.
    pub(super) bytes: [u8; 4],
    pub(super) count: u8,
    /// How far the pen goes on after it without kerning, in font units.
    pub(super) width: u16,
}

impl Spelt {
    /// Two bytes, with a stroke before each that would end or change the string. A bare return would be read as a line
    /// feed.
    fn of(glyph: u16, width: u16) -> Self {
        let mut spelt = Self { bytes: [0; 4], count: 0, width };
        for byte in glyph.to_be_bytes() {
            match byte {
                b'(' | b')' | b'\\' => spelt.add([b'\\', byte]),
                b'\r' => spelt.add(*b"\\r"),
                other => spelt.add([other]),
            }
        }
        spelt
    }

    fn add<const N: usize>(&mut self, bytes: [u8; N]) {
        for (slot, byte) in self.bytes.iter_mut().skip(usize::from(self.count)).zip(bytes) {
            *slot = byte;
            self.count += 1;
        }
    }
}

impl FaceTable {
    /// How far the pen goes on after a glyph without kerning, in font units.
    pub(super) fn width(&self, glyph: u16) -> u16 {
        self.spelt(glyph).width
    }

    /// A glyph of the face.
    pub(super) fn known(&self, glyph: u16) -> Option<&Known> {
        self.glyphs.get(usize::from(glyph))
    }

    /// A glyph as it is shown.
    pub(super) fn spelt(&self, glyph: u16) -> Spelt {
        self.known(glyph).map_or_else(|| Spelt::of(glyph, 0), |known| known.spelt)
    }

    /// The character that a reader gets from a glyph; `None` for ligatures and alternates.
    pub(super) fn character(&self, glyph: u16) -> Option<char> {
        self.known(glyph)?.character
    }
}

/// The table of a face, made when first asked for.
pub(super) fn table(face: Face) -> &'static FaceTable {
    static REGULAR: LazyLock<FaceTable> = LazyLock::new(|| read_table(fonts::bytes(Face::Regular)));
    static MEDIUM: LazyLock<FaceTable> = LazyLock::new(|| read_table(fonts::bytes(Face::Medium)));
    static BOLD: LazyLock<FaceTable> = LazyLock::new(|| read_table(fonts::bytes(Face::Bold)));
    by_face(face, &REGULAR, &MEDIUM, &BOLD)
}

/// The name under which a face is a resource of every page.
pub(super) const fn resource(face: Face) -> &'static [u8] {
    match face {
        Face::Regular => b"/R",
        Face::Medium => b"/M",
        Face::Bold => b"/B",
    }
}

#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "advances are small and whole")]
fn read_table(file: &'static [u8]) -> FaceTable {
    let Ok(font) = FontRef::new(file) else {
        // The faces are compiled in; the tests read all three.
        return FaceTable { glyphs: Vec::new() };
    };
    let metrics = font.glyph_metrics(Size::unscaled(), LocationRef::default());
    let glyphs = metrics.glyph_count();
    let width = |glyph: u32| metrics.advance_width(glyph.into()).unwrap_or_default().round() as u16;
    let mut characters = vec![None; glyphs as usize];
    for (code, glyph) in font.charmap().mappings() {
        let slot = characters.get_mut(glyph.to_u32() as usize);
        let character = char::from_u32(code).filter(|character| !only_for_compatibility(*character)).map(searched);
        if let (Some(slot), Some(character)) = (slot, character) {
            *slot = Some(slot.map_or(character, |known: char| known.min(character)));
        }
    }
    let known = |((number, glyph), character)| Known { spelt: Spelt::of(number, width(glyph)), character };
    FaceTable { glyphs: (0..=u16::MAX).zip(0..glyphs).zip(characters).map(known).collect() }
}

/// What a person types to find a character: the space or hyphen of the keyboard for one that must not break.
pub(super) const fn searched(character: char) -> char {
    match character {
        '\u{A0}' | '\u{202F}' => ' ',
        '\u{2011}' => '-',
        other => other,
    }
}

/// Ligatures with a code of their own: a reader must get the letters.
const fn only_for_compatibility(character: char) -> bool {
    matches!(character, '\u{FB00}'..='\u{FB06}')
}

/// The glyphs that something shows.
#[derive(Clone, Debug, Default)]
pub(super) struct UsedGlyphs {
    /// For each face, one bit a glyph.
    bits: [Vec<u64>; Face::ALL.len()],
    /// Text of glyphs that have no character of their own.
    texts: BTreeMap<(Face, u16), Box<str>>,
}

/// Where the glyphs of one face are noted that have characters of their own.
pub(super) struct Shown<'a>(&'a mut [u64]);

impl Shown<'_> {
    /// Notes a glyph.
    pub(super) fn note(&mut self, glyph: u16) {
        if let Some(word) = self.0.get_mut(usize::from(glyph / 64)) {
            *word |= 1 << (glyph % 64);
        }
    }
}

impl UsedGlyphs {
    /// Where to note the glyphs of a face, with room for each.
    pub(super) fn of_face(&mut self, face: Face, table: &FaceTable) -> Shown<'_> {
        let bits = self.bits_mut(face);
        let words = table.glyphs.len().div_ceil(64);
        if bits.len() < words {
            bits.resize(words, 0);
        }
        Shown(bits)
    }

    /// Notes a glyph that has a character of its own.
    pub(super) fn note(&mut self, face: Face, glyph: u16) {
        let bits = self.bits_mut(face);
        let word = usize::from(glyph / 64);
        if bits.len() <= word {
            bits.resize(word + 1, 0);
        }
        if let Some(word) = bits.get_mut(word) {
            *word |= 1 << (glyph % 64);
        }
    }

    /// Notes a glyph with the text that it shows; no text if a glyph before it shows that already.
    pub(super) fn note_text(&mut self, face: Face, glyph: u16, text: &str) {
        self.note(face, glyph);
        if text.is_empty() {
            return;
        }
        let known = self.texts.entry((face, glyph)).or_insert_with(|| text.into());
        // Whatever the order of pages, the same text is kept.
        if text < &**known {
            *known = text.into();
        }
    }

    /// Adds what something else shows.
    pub(super) fn merge(&mut self, other: &Self) {
        for (mine, theirs) in self.bits.iter_mut().zip(&other.bits) {
            if mine.len() < theirs.len() {
                mine.resize(theirs.len(), 0);
            }
            mine.iter_mut().zip(theirs).for_each(|(mine, theirs)| *mine |= theirs);
        }
        for ((face, glyph), text) in &other.texts {
            self.note_text(*face, *glyph, text);
        }
    }

    /// The glyphs of one face that are shown, in ascending order.
    pub(super) fn of(&self, face: Face) -> Vec<u16> {
        let [regular, medium, bold] = &self.bits;
        let bits = by_face(face, regular, medium, bold);
        (0..=u16::MAX).take(bits.len() * 64).filter(|glyph| is_set(bits, *glyph)).collect()
    }

    /// The text that a reader gets from a glyph.
    pub(super) fn text(&self, face: Face, glyph: u16) -> String {
        match (self.texts.get(&(face, glyph)), table(face).character(glyph)) {
            (Some(text), _) => text.to_string(),
            (None, Some(character)) => character.to_string(),
            (None, None) => String::new(),
        }
    }

    fn bits_mut(&mut self, face: Face) -> &mut Vec<u64> {
        let [regular, medium, bold] = &mut self.bits;
        by_face(face, regular, medium, bold)
    }
}

fn by_face<T>(face: Face, regular: T, medium: T, bold: T) -> T {
    match face {
        Face::Regular => regular,
        Face::Medium => medium,
        Face::Bold => bold,
    }
}

fn is_set(bits: &[u64], glyph: u16) -> bool {
    bits.get(usize::from(glyph / 64)).is_some_and(|word| word >> (glyph % 64) & 1 == 1)
}
