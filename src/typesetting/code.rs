//! The square code of a notice (ISO/IEC 18004): a payload into rows of dark and light modules.
//!
//! Segments, error correction and function patterns are the `qrcode` crate's. Its own whole call spends nearly all of
//! its time on scoring the eight masks module by module; here a row of modules is one machine word, all masks are scored
//! side by side, and what the codes of a version have in common is asked of the crate once and kept. The mask chosen is the
//! one that the crate chooses.

mod codewords;
mod line;
mod score;
mod segments;

use std::sync::OnceLock;

use qrcode::bits::Bits;
use qrcode::canvas::{Canvas, MaskPattern};
use qrcode::ec::construct_codewords;
use qrcode::types::QrError;
use qrcode::{Color, EcLevel, QrResult, Version};

use crate::survey::value::Environment;
use codewords::Codewords;
use line::{Line, Word};
use score::Candidates;

/// Modules of white that every side of a code needs around it (ISO/IEC 18004, quiet zone).
pub const QUIET_ZONE: u16 = 4;

/// How much of a code may be lost before it cannot be read; the shares are the standard's approximate ones.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Level {
    /// About 7 % of the codewords.
    Low,
    /// About 15 %.
    Medium,
    /// About 25 %.
    Quartile,
    /// About 30 %.
    High,
}

/// A payload that no code of the level can carry.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct TooLong {
    /// Bytes of the payload.
    pub bytes: usize,
}

/// The modules of a code, without its quiet zone.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Code {
    /// Modules along a side, from 21 to 177.
    pub side: u16,
    /// Row by row from the top, `side.div_ceil(64)` words each, bit 0 of the first word leftmost; 1 is dark.
    pub rows: Vec<u64>,
}

impl Code {
    /// The smallest code that carries `payload` at a level of error correction.
    ///
    /// Text beyond ASCII is declared as UTF-8 (extended channel interpretation 26) and kept in byte mode, so that no
    /// reader takes a run of it for Shift JIS.
    ///
    /// # Errors
    /// [`TooLong`] if version 40 is too small, which at [`Level::Medium`] is above 2,331 bytes.
    pub fn of(payload: &str, level: Level) -> Result<Self, TooLong> {
        let correction = level.correction();
        let bits = encode(payload, correction).map_err(|_| TooLong { bytes: payload.len() })?;
        let version = bits.version();
        let data = bits.into_bytes();
        Ok(match kept(version, level) {
            Some(Kept::Narrow(stencil)) => stencil.fill(&data),
            Some(Kept::Middling(stencil)) => stencil.fill(&data),
            Some(Kept::Wide(stencil)) => stencil.fill(&data),
            None => drawn_whole(version, correction, &data),
        })
    }

    /// A code without modules, as large as the one that [`Code::of`] would make.
    ///
    /// # Errors
    /// [`TooLong`] as there.
    pub fn blank(payload: &str, level: Level) -> Result<Self, TooLong> {
        let too_long = TooLong { bytes: payload.len() };
        let version = if payload.is_ascii() {
            segments::of(payload, level.correction(), |version, _| version).ok_or(too_long)?
        } else {
            encode(payload, level.correction()).map_err(|_| too_long)?.version()
        };
        Ok(Self { side: version.width().unsigned_abs(), rows: Vec::new() })
    }
}

/// How a code is made of a payload: [`Code::of`], or [`Code::blank`] where only its side is asked for.
pub type Make = fn(&str, Level) -> Result<Code, TooLong>;

/// The level of a notice that must stand up to an environment: [`Level::Medium`] inside a building, where a code is
/// lost to a scratch, and [`Level::Quartile`] where sun, weather, water, solvents or heat wear away whole patches of
/// print. [`Level::High`] is never chosen: it costs more modules than it saves once each must be 0.4 mm (common
/// practice).
#[must_use]
pub const fn level_for(environment: &Environment) -> Level {
    let Environment { indoor: _, outdoor, sun, washdown, solvent, heat, cold } = *environment;
    let extreme = heat.is_some() || cold.is_some();
    if outdoor || sun || washdown || solvent || extreme { Level::Quartile } else { Level::Medium }
}

impl Level {
    const fn correction(self) -> EcLevel {
        match self {
            Self::Low => EcLevel::L,
            Self::Medium => EcLevel::M,
            Self::Quartile => EcLevel::Q,
            Self::High => EcLevel::H,
        }
    }
}

/// ISO/IEC 18004 assigns the character set UTF-8 this number.
const UTF_8: u32 = 26;

/// The terminated and padded bits of a payload, in the smallest version that holds them.
fn encode(payload: &str, correction: EcLevel) -> QrResult<Bits> {
    if payload.is_ascii() {
        let encoded = segments::of(payload, correction, |version, segments| {
            let mut bits = Bits::new(version);
            bits.push_segments(payload.as_bytes(), segments.iter().copied())?;
            bits.push_terminator(correction)?;
            Ok(bits)
        });
        return encoded.unwrap_or(Err(QrError::DataTooLong));
    }
    let mut last = Err(QrError::DataTooLong);
    for version in 1..=40 {
        last = encode_as_utf_8(payload, Version::Normal(version), correction);
        if last.is_ok() {
            break;
        }
    }
    last
}

fn encode_as_utf_8(payload: &str, version: Version, correction: EcLevel) -> QrResult<Bits> {
    let mut bits = Bits::new(version);
    bits.push_eci_designator(UTF_8)?;
    bits.push_byte_data(payload.as_bytes())?;
    bits.push_terminator(correction)?;
    Ok(bits)
}

/// What all codes of one version and level have in common.
struct Stencil<W> {
    side: u16,
    codewords: Codewords,
    /// The module that each bit of the codewords colours, in their order: its row, and in that row itself.
    order: Vec<(u16, W)>,
    /// The whole symbol under each mask, format information included, as it is when every codeword is zero.
    masked: Vec<Line<W>>,
}

/// A stencil in the narrowest word that holds its rows.
enum Kept {
    /// Versions 1 to 3, up to 29 modules a side: of most links.
    Narrow(Stencil<u32>),
    /// Versions 4 to 11, up to 61 modules a side.
    Middling(Stencil<u64>),
    /// Versions 12 to 27, up to 125 modules a side.
    Wide(Stencil<u128>),
}

/// Stencils by version and level, made when first used. A row of version 28 or more does not fit a word: such a symbol,
/// which nobody would print on a notice, is left to the crate.
static KEPT: [[OnceLock<Kept>; 4]; 27] = [const { [const { OnceLock::new() }; 4] }; 27];

fn kept(version: Version, level: Level) -> Option<&'static Kept> {
    let Version::Normal(number) = version else { return None };
    let levels = KEPT.get(usize::try_from(number - 1).ok()?)?;
    let slot = match (level, levels) {
        (Level::Low, [slot, ..]) | (Level::Medium, [_, slot, ..]) => slot,
        (Level::Quartile, [.., slot, _]) | (Level::High, [.., slot]) => slot,
    };
    let correction = level.correction();
    Some(slot.get_or_init(|| match version.width() {
        ..=32 => Kept::Narrow(Stencil::new(version, correction)),
        33..=64 => Kept::Middling(Stencil::new(version, correction)),
        65.. => Kept::Wide(Stencil::new(version, correction)),
    }))
}

/// The standard's eight masks in the order of their numbers, which decides between equal scores.
const MASKS: [MaskPattern; 8] = [
    MaskPattern::Checkerboard,
    MaskPattern::HorizontalLines,
    MaskPattern::VerticalLines,
    MaskPattern::DiagonalLines,
    MaskPattern::LargeCheckerboard,
    MaskPattern::Fields,
    MaskPattern::Diamonds,
    MaskPattern::Meadow,
];

impl<W: Word> Stencil<W> {
    fn new(version: Version, correction: EcLevel) -> Self {
        let side = version.width();
        let mut bare = Canvas::new(version, correction);
        bare.draw_all_functional_patterns();
        let masked = MASKS.map(|mask| {
            let mut canvas = bare.clone();
            canvas.apply_mask(mask);
            lines::<W>(&canvas.into_colors(), side)
        });
        let under =
            |row: usize| Line::under(masked.each_ref().map(|lines| lines.get(row).copied().unwrap_or(W::LIGHT)));
        let side = side.unsigned_abs();
        let order = order_of_bits(&bare, side).into_iter().map(|(row, column)| (row, W::from(1) << u32::from(column)));
        Self {
            side,
            codewords: Codewords::new(version, correction),
            order: order.collect(),
            masked: (0..usize::from(side)).map(under).collect(),
        }
    }

    /// Colours the codewords of data into the symbol under the best mask, which is the first of those that score lowest.
    fn fill(&self, data: &[u8]) -> Code {
        let mut bits = vec![W::LIGHT; usize::from(self.side)];
        for (&word, modules) in self.codewords.of(data).iter().zip(self.order.chunks(8)) {
            let mut left = word;
            while left != 0 {
                let first = left.leading_zeros();
                left &= !(0x80 >> first);
                let module = modules.get(first as usize);
                if let Some((line, dark)) =
                    module.and_then(|&(row, dark)| Some((bits.get_mut(usize::from(row))?, dark)))
                {
                    *line = *line | dark;
                }
            }
        }
        let candidates = Candidates::new(self.masked.iter().zip(&bits).map(|(&under, &bit)| under ^ Line::all(bit)));
        let penalties = candidates.penalties();
        let best = penalties.iter().enumerate().min_by_key(|(_, penalty)| **penalty).map_or(0, |(mask, _)| mask);
        let mut rows = Vec::with_capacity(usize::from(self.side) * 2);
        candidates.under_mask(best).for_each(|line| line.append_to(&mut rows));
        Code { side: self.side, rows }
    }
}

/// The modules of a canvas, row by row, as words.
fn lines<W: Word>(colors: &[Color], side: i16) -> Vec<W> {
    let line = |row: &[Color]| {
        let dark = row.iter().zip(0_u32..).filter(|(color, _)| **color == Color::Dark);
        dark.fold(W::LIGHT, |line, (_, column)| line | W::from(1) << column)
    };
    colors.chunks(usize::from(side.unsigned_abs())).map(line).collect()
}

/// Row and column of every codeword bit in order, read off the crate's own placement: each pass draws one binary digit
/// of every bit's number, counted from 1, and a module that stays light in every pass carries no codeword.
fn order_of_bits(bare: &Canvas, side: u16) -> Vec<(u16, u16)> {
    let area = usize::from(side).pow(2);
    let blank = bare.clone().into_colors();
    let mut numbers = vec![0_usize; area];
    for digit in 0..usize::BITS - area.leading_zeros() {
        let words: Vec<u8> = (0..area.div_ceil(8)).map(|word| digits_of_word(word, digit)).collect();
        let mut canvas = bare.clone();
        canvas.draw_data(&words, &[]);
        for ((number, color), blank) in numbers.iter_mut().zip(canvas.into_colors()).zip(&blank) {
            *number |= usize::from(color != *blank) << digit;
        }
    }
    let mut order: Vec<(usize, (u16, u16))> = numbers.into_iter().zip(modules(side)).collect();
    order.retain(|(number, _)| *number > 0);
    order.sort_unstable();
    order.into_iter().map(|(_, module)| module).collect()
}

/// The word whose eight bits hold one binary digit of their own numbers, counted from 1.
fn digits_of_word(word: usize, digit: u32) -> u8 {
    (1..=8).fold(0, |bits, bit| bits << 1 | u8::from((word * 8 + bit) >> digit & 1 == 1))
}

/// Row and column of every module of a symbol, row by row.
fn modules(side: u16) -> impl Iterator<Item = (u16, u16)> {
    (0..side).flat_map(move |row| (0..side).map(move |column| (row, column)))
}

/// A symbol too wide for one word, drawn and masked by the crate.
fn drawn_whole(version: Version, correction: EcLevel, data: &[u8]) -> Code {
    let Ok((data, check)) = construct_codewords(data, version, correction) else {
        unreachable!("every version has blocks at every level")
    };
    let mut canvas = Canvas::new(version, correction);
    canvas.draw_all_functional_patterns();
    canvas.draw_data(&data, &check);
    let side = version.width().unsigned_abs();
    let colors = canvas.apply_best_mask().into_colors();
    let word = |part: &[Color]| lines::<u64>(part, 64).into_iter().fold(0, |_, word| word);
    let rows = colors.chunks(usize::from(side)).flat_map(|row| row.chunks(64).map(word)).collect();
    Code { side, rows }
}

#[cfg(test)]
mod tests;
