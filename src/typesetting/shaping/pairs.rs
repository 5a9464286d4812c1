//! Lines of Latin letters put together from what the shaper does to each pair of them.
//!
//! In the faces that come with the program a letter's place depends on the letter behind it and on nothing else: kerning
//! is in pairs, and only marks that combine change a glyph. So each pair is shaped once, by the shaper itself, and a line
//! is a walk along its pairs. A pair in which the shaper does anything else sends the whole line to the shaper; the
//! tests hold lines of either kind against it.

use std::sync::atomic::{AtomicU16, Ordering};
use std::sync::{LazyLock, OnceLock};

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

/// What a face does to single letters and to pairs. Whoever meets a letter or a pair first asks the shaper, so that a short
/// run pays for no more than it says.
struct Pairs {
    ready: &'static Ready,
    /// `None` where the face does not have the letter, or it is not plain.
    letters: Vec<OnceLock<Option<Letter>>>,
}

/// A letter by itself, and before others.
struct Letter {
    id: u16,
    advance: i16,
    /// By the letter behind it, how its advance changes.
    kerns: Box<[AtomicU16]>,
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
        Some(Self { ready: ready(face)?, letters: std::iter::repeat_with(OnceLock::new).take(LETTERS).collect() })
    }

    fn line(&self, text: &str) -> Option<Vec<Glyph>> {
        let mut glyphs: Vec<Glyph> = Vec::with_capacity(text.len());
        let mut before: Option<(usize, &Letter, &mut Glyph)> = None;
        for (at, letter) in text.char_indices() {
            let number = number(letter)?;
            let letter = self.letter(number)?;
            if let Some((first, alone, glyph)) = before {
                glyph.advance += self.kern((first, alone), (number, letter))?;
            }
            let (id, advance) = (letter.id, letter.advance);
            glyphs.push(Glyph { id, advance, shift: 0, rise: 0, cluster: u16::try_from(at).ok()? });
            before = glyphs.last_mut().map(|glyph| (number, letter, glyph));
        }
        Some(glyphs)
    }

    fn letter(&self, number: usize) -> Option<&Letter> {
        self.letters.get(number)?.get_or_init(|| self.alone(number)).as_ref()
    }

    /// What the shaper makes of a letter by itself.
    fn alone(&self, number: usize) -> Option<Letter> {
        let glyphs = shape_with(self.ready, &letter(number)?.to_string()).ok()?;
        let [glyph] = glyphs.as_slice() else { return None };
        let plain = glyph.shift == 0 && glyph.rise == 0 && glyph.id != 0;
        let kerns = || std::iter::repeat_with(|| AtomicU16::new(UNMET)).take(LETTERS).collect();
        plain.then(|| Letter { id: glyph.id, advance: glyph.advance, kerns: kerns() })
    }

    /// How a letter's advance changes before another; `None` where the pair is not plain.
    fn kern(&self, first: (usize, &Letter), second: (usize, &Letter)) -> Option<i16> {
        let slot = first.1.kerns.get(second.0)?;
        // Two that meet a pair at once write the same.
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
    fn shaped(&self, first: (usize, &Letter), second: (usize, &Letter)) -> Option<u16> {
        let text = String::from_iter([letter(first.0)?, letter(second.0)?]);
        let glyphs = shape_with(self.ready, &text).ok()?;
        let ([one, other], [first, second]) = (glyphs.as_slice(), [first.1, second.1]) else { return None };
        let plain = [one, other].iter().all(|glyph| glyph.shift == 0 && glyph.rise == 0);
        let same = plain && (one.id, other.id, other.advance) == (first.id, second.id, second.advance);
        let kern = one.advance.checked_sub(first.advance).filter(|kern| same && kern.unsigned_abs() < 0x2000)?;
        u16::try_from(kern + NO_KERN).ok()
    }
}
