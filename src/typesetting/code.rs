//! The square code of a notice (ISO/IEC 18004): a payload into rows of dark and light modules.
//!
//! Segments, error correction and function patterns are the `qrcode` crate's. Its own whole call spends nearly all of
//! its time on scoring the eight masks module by module; here a row of modules is one machine word, and the patterns of
//! a version are drawn once and kept. The mask chosen is the one that the crate chooses.

use std::ops::{BitAnd, BitOr, BitXor, Not, Shl, Shr};
use std::sync::OnceLock;

use qrcode::bits::{Bits, encode_auto};
use qrcode::canvas::{Canvas, MaskPattern};
use qrcode::ec::construct_codewords;
use qrcode::{Color, EcLevel, QrResult, Version};

use crate::survey::value::Environment;

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
        let coded = encode(payload, correction).and_then(|bits| {
            let version = bits.version();
            Ok((version, construct_codewords(&bits.into_bytes(), version, correction)?))
        });
        let (version, (data, check)) = coded.map_err(|_| TooLong { bytes: payload.len() })?;
        Ok(match kept(version, level) {
            Some(Kept::Narrow(stencil)) => stencil.fill(&data, &check),
            Some(Kept::Wide(stencil)) => stencil.fill(&data, &check),
            None => drawn_whole(version, correction, &data, &check),
        })
    }

    /// A code without modules, as large as the one that [`Code::of`] would make.
    ///
    /// # Errors
    /// [`TooLong`] as there.
    pub fn blank(payload: &str, level: Level) -> Result<Self, TooLong> {
        let bits = encode(payload, level.correction()).map_err(|_| TooLong { bytes: payload.len() })?;
        Ok(Self { side: bits.version().width().unsigned_abs(), rows: Vec::new() })
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
    let Environment { indoor: _, outdoor, sun, washdown, solvent, heat } = *environment;
    if outdoor || sun || washdown || solvent || heat.is_some() { Level::Quartile } else { Level::Medium }
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
        return encode_auto(payload.as_bytes(), correction);
    }
    let mut last = Err(qrcode::types::QrError::DataTooLong);
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

/// A row of modules in one machine word, bit 0 leftmost.
trait Line:
    Copy
    + PartialEq
    + BitAnd<Output = Self>
    + BitOr<Output = Self>
    + BitXor<Output = Self>
    + Not<Output = Self>
    + Shl<u32, Output = Self>
    + Shr<u32, Output = Self>
{
    /// All light.
    const LIGHT: Self;
    /// One dark module, leftmost.
    const FIRST: Self;
    /// How many modules are dark.
    fn dark(self) -> u32;
    /// Appends the row to the words of a code.
    fn append_to(self, rows: &mut Vec<u64>);
}

impl Line for u64 {
    const LIGHT: Self = 0;
    const FIRST: Self = 1;

    fn dark(self) -> u32 {
        self.count_ones()
    }

    fn append_to(self, rows: &mut Vec<u64>) {
        rows.push(self);
    }
}

impl Line for u128 {
    const LIGHT: Self = 0;
    const FIRST: Self = 1;

    fn dark(self) -> u32 {
        self.count_ones()
    }

    #[expect(clippy::cast_possible_truncation, reason = "the word is cut into its two halves")]
    fn append_to(self, rows: &mut Vec<u64>) {
        rows.extend([self as u64, (self >> 64) as u64]);
    }
}

/// What all codes of one version and level have in common.
struct Stencil<L> {
    side: u16,
    /// Row and column of the module that each bit of the codewords colours, in their order.
    order: Vec<(u16, u16)>,
    /// For each mask the whole symbol, format information included, as it is when every codeword is zero.
    masked: Vec<Vec<L>>,
}

/// A stencil in the narrowest word that holds its rows.
enum Kept {
    /// Versions 1 to 11, up to 61 modules a side.
    Narrow(Stencil<u64>),
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
        ..=64 => Kept::Narrow(Stencil::new(version, correction)),
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

impl<L: Line> Stencil<L> {
    fn new(version: Version, correction: EcLevel) -> Self {
        let side = version.width();
        let mut bare = Canvas::new(version, correction);
        bare.draw_all_functional_patterns();
        let masked = MASKS.map(|mask| {
            let mut canvas = bare.clone();
            canvas.apply_mask(mask);
            lines(&canvas.into_colors(), side)
        });
        Self { side: side.unsigned_abs(), order: order_of_bits(&bare, side), masked: masked.into() }
    }

    /// Colours the codewords into the symbol under the best mask.
    fn fill(&self, data: &[u8], check: &[u8]) -> Code {
        let mut bits = vec![L::LIGHT; usize::from(self.side)];
        let words = data.iter().chain(check).flat_map(|word| (0..8).rev().map(move |bit| word >> bit & 1 == 1));
        for (dark, &(row, column)) in words.zip(&self.order) {
            if let (true, Some(line)) = (dark, bits.get_mut(usize::from(row))) {
                *line = *line | L::FIRST << u32::from(column);
            }
        }
        let symbols = self.masked.iter().map(|masked| masked.iter().zip(&bits).map(|(&under, &bit)| under ^ bit));
        let best = symbols.map(Iterator::collect).min_by_key(|symbol: &Vec<L>| penalty(symbol));
        let mut rows = Vec::with_capacity(usize::from(self.side) * 2);
        best.into_iter().flatten().for_each(|line| line.append_to(&mut rows));
        Code { side: self.side, rows }
    }
}

/// The modules of a canvas, row by row, as words.
fn lines<L: Line>(colors: &[Color], side: i16) -> Vec<L> {
    let line = |row: &[Color]| {
        let dark = row.iter().zip(0_u32..).filter(|(color, _)| **color == Color::Dark);
        dark.fold(L::LIGHT, |line, (_, column)| line | L::FIRST << column)
    };
    colors.chunks(usize::from(side.unsigned_abs())).map(line).collect()
}

/// Row and column of every codeword bit in order, read off the crate's own placement: each pass draws one binary digit
/// of every bit's number, counted from 1, and a module that stays light in every pass carries no codeword.
fn order_of_bits(bare: &Canvas, side: i16) -> Vec<(u16, u16)> {
    let area = usize::from(side.unsigned_abs()).pow(2);
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
    let mut order: Vec<(usize, (u16, u16))> = numbers.into_iter().zip(modules(side.unsigned_abs())).collect();
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

/// How unlike a good symbol this one is, by the four rules of ISO/IEC 18004 (8.8.2 in the edition of 2006), less what
/// the three finder patterns always cost.
fn penalty<L: Line>(symbol: &[L]) -> u32 {
    let across: u32 = symbol.iter().map(|&line| runs_across(line, symbol.len())).sum();
    across + runs_down(symbol, symbol.len()) + blocks(symbol) + finders(symbol) + balance(symbol)
}

/// The first so many modules of a row.
fn first<L: Line>(count: usize) -> L {
    let beyond = u32::try_from(count).map_or(L::LIGHT, |count| !L::LIGHT << count);
    !beyond
}

/// First rule, within a row: a run of `n` >= 5 modules of one colour costs `n - 2`.
fn runs_across<L: Line>(line: L, side: usize) -> u32 {
    let pair = !(line ^ line >> 1) & first(side - 1);
    let four = pair & pair >> 1;
    let run = four & four >> 2;
    run.dark() + 2 * (run & !(run << 1)).dark()
}

/// First rule, within the columns.
fn runs_down<L: Line>(symbol: &[L], side: usize) -> u32 {
    let (mut cost, mut before) = (0, L::LIGHT);
    for window in symbol.windows(5) {
        let &[a, b, c, d, e] = window else { continue };
        let run = !((a ^ b) | (b ^ c) | (c ^ d) | (d ^ e)) & first(side);
        cost += run.dark() + 2 * (run & !before).dark();
        before = run;
    }
    cost
}

/// Second rule: every block of 2 x 2 modules of one colour costs 3.
fn blocks<L: Line>(symbol: &[L]) -> u32 {
    let inside = first(symbol.len() - 1);
    let block = |window: &[L]| match *window {
        [a, b] => (!((a ^ b) | (a ^ a >> 1) | (b ^ b >> 1)) & inside).dark(),
        _ => 0,
    };
    3 * symbol.windows(2).map(block).sum::<u32>()
}

/// What three finder patterns, each crossed by three rows and three columns, add to the third rule in every symbol.
const FINDERS: u32 = 3 * (3 + 3) * 40;

/// Third rule: dark and light 1:1:3:1:1 with four light modules on either side costs 40; outside the symbol all is
/// light.
fn finders<L: Line>(symbol: &[L]) -> u32 {
    let across: u32 = symbol.iter().map(|&line| finders_across(line)).sum();
    let outside = |count| std::iter::repeat_n(L::LIGHT, count);
    let padded: Vec<L> = outside(4).chain(symbol.iter().copied()).chain(outside(10)).collect();
    let down: u32 = padded.windows(15).map(finders_down).sum();
    (40 * (across + down)).saturating_sub(FINDERS)
}

fn finders_across<L: Line>(line: L) -> u32 {
    let finder = line & !(line >> 1) & line >> 2 & line >> 3 & line >> 4 & !(line >> 5) & line >> 6;
    if finder == L::LIGHT {
        return 0;
    }
    let left = line << 1 | line << 2 | line << 3 | line << 4;
    let right = line >> 7 | line >> 8 | line >> 9 | line >> 10;
    (finder & !(left & right)).dark()
}

/// The finders of all columns whose first module is the fifth of the fifteen rows.
fn finders_down<L: Line>(window: &[L]) -> u32 {
    let &[p, q, r, s, a, b, c, d, e, f, g, t, u, v, w] = window else { return 0 };
    let finder = a & !b & c & d & e & !f & g;
    if finder == L::LIGHT {
        return 0;
    }
    (finder & !((p | q | r | s) & (t | u | v | w))).dark()
}

/// Fourth rule: the share of dark modules costs twice the per cent by which it is off a half. The standard rounds to
/// steps of 5 %; the crate, whose choice is kept, to half per cents.
fn balance<L: Line>(symbol: &[L]) -> u32 {
    let area = u32::try_from(symbol.len().pow(2)).unwrap_or(u32::MAX);
    let dark: u32 = symbol.iter().map(|line| line.dark()).sum();
    (dark * 200 / area).abs_diff(100)
}

/// A symbol too wide for one word, drawn and masked by the crate.
fn drawn_whole(version: Version, correction: EcLevel, data: &[u8], check: &[u8]) -> Code {
    let mut canvas = Canvas::new(version, correction);
    canvas.draw_all_functional_patterns();
    canvas.draw_data(data, check);
    let side = version.width().unsigned_abs();
    let colors = canvas.apply_best_mask().into_colors();
    let word = |part: &[Color]| lines::<u64>(part, 64).into_iter().fold(0, |_, word| word);
    let rows = colors.chunks(usize::from(side)).flat_map(|row| row.chunks(64).map(word)).collect();
    Code { side, rows }
}

#[cfg(test)]
mod tests;
