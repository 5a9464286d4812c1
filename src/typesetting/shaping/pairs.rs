//! Lines of Latin letters put together from what the shaper does to each pair of them.
//!
//! In the faces that come with the program a letter's place depends on the letter behind it and on nothing else: kerning
//! is in pairs, and only marks that combine change a glyph. So each pair is shaped once, by the shaper itself, and a line
//! is a walk along its pairs. A pair in which the shaper does anything else sends the whole line to the shaper; the
//! tests hold lines of either kind against it.

use std::sync::LazyLock;
use std::sync::atomic::{AtomicU16, Ordering};

use super::{Ready, face_index, ready, shape_with};
use crate::drawing::{Face, Glyph};

/// Printable ASCII, and the printable letters and signs of Latin-1 without the soft hyphen, which is not seen.
const LETTERS: usize = 95 + 96;

/// What is known of a pair that nobody has met.
const UNMET: u16 = 0;
/// What is known of a pair to which the shaper does more than kern.
const NOT_PLAIN: u16 = u16::MAX;
/// What is known of a pair without kerning.
const NO_KERN: i16 = 0x4000;

/// What a face does to single letters and to pairs.
struct Pairs {
    ready: &'static Ready,
    /// Glyph and advance of each letter by itself; glyph 0 where the face does not have it.
    letters: Vec<(u16, i16)>,
    /// By first and second letter, how the first one's advance changes.
    kerns: Vec<AtomicU16>,
}

static PAIRS: [LazyLock<Option<Pairs>>; Face::ALL.len()] = [
    LazyLock::new(|| Pairs::of(Face::Regular)),
    LazyLock::new(|| Pairs::of(Face::Medium)),
    LazyLock::new(|| Pairs::of(Face::Bold)),
];

/// The glyphs of a line; `None` where some letter or pair of it is not plain, and the shaper must be asked.
pub(super) fn glyphs(face: Face, text: &str) -> Option<Vec<Glyph>> {
    PAIRS.get(face_index(face))?.as_ref()?.line(text)
}

/// The number of a letter.
fn number(letter: char) -> Option<usize> {
    match letter {
        ' '..='~' => Some(letter as usize - 0x20),
        '\u{AD}' => None,
        '\u{A0}'..='\u{FF}' => Some(letter as usize - 0xA0 + 95),
        _ => None,
    }
}

/// The letter of a number.
fn letter(number: usize) -> Option<char> {
    let code = if number < 95 { number + 0x20 } else { number - 95 + 0xA0 };
    char::from_u32(u32::try_from(code).ok()?)
}

impl Pairs {
    fn of(face: Face) -> Option<Self> {
        let ready = ready(face)?;
        let alone = |number| {
            let text = letter(number)?.to_string();
            let glyphs = shape_with(ready, &text).ok()?;
            let [glyph] = glyphs.as_slice() else { return None };
            (glyph.shift == 0 && glyph.rise == 0).then_some((glyph.id, glyph.advance))
        };
        Some(Self {
            ready,
            letters: (0..LETTERS).map(|number| alone(number).unwrap_or_default()).collect(),
            kerns: std::iter::repeat_with(|| AtomicU16::new(UNMET)).take(LETTERS * LETTERS).collect(),
        })
    }

    fn line(&self, text: &str) -> Option<Vec<Glyph>> {
        let mut glyphs: Vec<Glyph> = Vec::with_capacity(text.len());
        let mut before: Option<(usize, &mut Glyph)> = None;
        for (at, letter) in text.char_indices() {
            let number = number(letter)?;
            let &(id, advance) = self.letters.get(number).filter(|(id, _)| *id != 0)?;
            if let Some((first, glyph)) = before {
                glyph.advance += self.kern(first, number)?;
            }
            glyphs.push(Glyph { id, advance, shift: 0, rise: 0, cluster: u16::try_from(at).ok()? });
            before = glyphs.last_mut().map(|glyph| (number, glyph));
        }
        Some(glyphs)
    }

    /// How a letter's advance changes before another; `None` where the pair is not plain.
    fn kern(&self, first: usize, second: usize) -> Option<i16> {
        let slot = self.kerns.get(first * LETTERS + second)?;
        // Whoever meets a pair first works it out; two that meet it at once write the same.
        let known = match slot.load(Ordering::Relaxed) {
            UNMET => {
                let found = self.shaped(first, second).unwrap_or(NOT_PLAIN);
                slot.store(found, Ordering::Relaxed);
                found
            }
            known => known,
        };
        if known == NOT_PLAIN { None } else { i16::try_from(known).ok().map(|known| known - NO_KERN) }
    }

    /// What the shaper does to a pair; `None` if that is anything but to change the first advance.
    fn shaped(&self, first: usize, second: usize) -> Option<u16> {
        let text = String::from_iter([letter(first)?, letter(second)?]);
        let alone = [self.letters.get(first)?, self.letters.get(second)?];
        let glyphs = shape_with(self.ready, &text).ok()?;
        let ([one, other], [(id, advance), (next, step)]) = (glyphs.as_slice(), alone) else { return None };
        let plain = [one, other].iter().all(|glyph| glyph.shift == 0 && glyph.rise == 0);
        let same = plain && (one.id, other.id, other.advance) == (*id, *next, *step);
        let kern = one.advance.checked_sub(*advance).filter(|kern| same && kern.unsigned_abs() < 0x2000)?;
        u16::try_from(kern + NO_KERN).ok()
    }
}
