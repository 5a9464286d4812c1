//! How unlike a good symbol one is, by the four rules of ISO/IEC 18004 (8.8.2 in the edition of 2006), under all masks at once.

use super::line::{Line, MASKS, Word, paired};

/// Light rows kept over a symbol and under it, since the third rule looks beyond its edges.
const OVER: usize = 4;
const UNDER: usize = 10;

/// A number for each mask.
type PerMask = [u32; MASKS];

/// A symbol under each of the masks.
pub(super) struct Candidates<W> {
    padded: Vec<Line<W>>,
    side: usize,
}

impl<W: Word> Candidates<W> {
    /// Symbols with these rows, from the top.
    pub(super) fn new(lines: impl ExactSizeIterator<Item = Line<W>>) -> Self {
        let side = lines.len();
        let mut padded = Vec::with_capacity(OVER + side + UNDER);
        padded.resize(OVER, Line::LIGHT);
        padded.extend(lines);
        padded.resize(OVER + side + UNDER, Line::LIGHT);
        Self { padded, side }
    }

    /// The rows of one of them, from the top.
    pub(super) fn under_mask(&self, mask: usize) -> impl Iterator<Item = W> {
        self.lines().iter().map(move |line| line.under_mask(mask))
    }

    fn lines(&self) -> &[Line<W>] {
        self.padded.get(OVER..OVER + self.side).unwrap_or_default()
    }

    /// What the four rules add up to under each mask, less what the three finder patterns always cost.
    pub(super) fn penalties(&self) -> PerMask {
        let symbol = self.lines();
        summed([runs_and_blocks(symbol), finders(&self.padded), balance(symbol)])
    }
}

/// The first so many modules of a row.
fn first<W: Word>(count: usize) -> Line<W> {
    let width = 8 * size_of::<W>();
    let beyond = u32::try_from(count).ok().filter(|_| count < width).map_or(W::LIGHT, |count| !W::LIGHT << count);
    Line::all(!beyond)
}

/// The first two rules. A run of `n` >= 5 modules of one colour in a row or column costs `n - 2`: one for each place where
/// five alike end, and two more for the first of them. A block of 2 x 2 modules of one colour costs 3.
fn runs_and_blocks<W: Word>(symbol: &[Line<W>]) -> PerMask {
    let (whole, without_last) = (first::<W>(symbol.len()), first::<W>(symbol.len() - 1));
    let mut count = Count::new();
    // Nothing is like the row above the first.
    let (mut above, mut is_first) = (Line::LIGHT, true);
    let (mut pairs_above, mut runs_above) = (Line::LIGHT, Line::LIGHT);
    // Where a module is like the one above it, and where two such follow each other, in this row and in rows before.
    let (mut like_above, mut three_above, mut three_before) = (Line::LIGHT, Line::LIGHT, Line::LIGHT);
    for &line in symbol {
        let pairs = !(line ^ line >> 1) & without_last;
        let fours = pairs & pairs >> 1;
        let across = fours & fours >> 2;
        let like = if is_first { Line::LIGHT } else { !(line ^ above) & whole };
        let three = like & like_above;
        let down = three & three_before;
        let block = like & pairs & pairs_above;
        count.add([across, down, block], [across & !(across << 1), down & !runs_above, block]);
        (above, is_first, pairs_above, runs_above) = (line, false, pairs, down);
        (like_above, three_before, three_above) = (like, three_above, three);
    }
    count.total()
}

/// Dark modules of many rows, counted column by column in binary digits that are rows themselves: what a processor without
/// an instruction for it takes a dozen steps to count is then counted once in sixteen times.
struct Count<W> {
    ones: Line<W>,
    twos: Line<W>,
    fours: Line<W>,
    eights: Line<W>,
    /// How often a column went beyond fifteen.
    sixteens: PerMask,
}

impl<W: Word> Count<W> {
    const fn new() -> Self {
        Self { ones: Line::LIGHT, twos: Line::LIGHT, fours: Line::LIGHT, eights: Line::LIGHT, sixteens: [0; MASKS] }
    }

    /// Adds rows whose modules count for one, and rows whose modules count for two.
    #[inline]
    fn add(&mut self, ones: [Line<W>; 3], twos: [Line<W>; 3]) {
        let (sum, carry) = added(self.ones, ones[0], ones[1]);
        let (ones, two) = (sum ^ ones[2], sum & ones[2]);
        let (sum, four) = added(self.twos, twos[0], twos[1]);
        let (sum, further) = added(sum, twos[2], carry);
        let (twos, last) = (sum ^ two, sum & two);
        let (sum, eight) = added(self.fours, four, further);
        let (fours, other) = (sum ^ last, sum & last);
        let (eights, sixteen) = added(self.eights, eight, other);
        self.sixteens = summed([self.sixteens, sixteen.dark()]);
        (self.ones, self.twos, self.fours, self.eights) = (ones, twos, fours, eights);
    }

    fn total(&self) -> PerMask {
        let Self { ones, twos, fours, eights, sixteens } = self;
        let times = |count: PerMask, worth: u32| count.map(|count| count * worth);
        summed([
            ones.dark(),
            times(twos.dark(), 2),
            times(fours.dark(), 4),
            times(eights.dark(), 8),
            times(*sixteens, 16),
        ])
    }
}

/// Numbers added up for each mask; no symbol comes near what a word holds, and to watch for it forbids to add several at once.
#[inline]
fn summed(numbers: impl IntoIterator<Item = PerMask>) -> PerMask {
    numbers.into_iter().fold([0; MASKS], |sum, number| paired(sum, number, u32::wrapping_add))
}

/// The sum of three binary digits in every column, and what is carried.
#[inline]
fn added<W: Word>(one: Line<W>, other: Line<W>, third: Line<W>) -> (Line<W>, Line<W>) {
    let half = one ^ other;
    (half ^ third, one & other | half & third)
}

/// What three finder patterns, each crossed by three rows and three columns, add to the third rule in every symbol.
const FINDERS: u32 = 3 * (3 + 3) * 40;

/// Third rule: dark and light 1:1:3:1:1 with four light modules on either side costs 40; outside the symbol all is
/// light.
fn finders<W: Word>(padded: &[Line<W>]) -> PerMask {
    let across = padded.iter().map(|line| finders_across(*line));
    let found = summed([summed(across), summed(padded.windows(15).map(finders_down))]);
    found.map(|found| (40 * found).saturating_sub(FINDERS))
}

#[inline]
fn finders_across<W: Word>(line: Line<W>) -> PerMask {
    let finder = line & !(line >> 1) & line >> 2 & line >> 3 & line >> 4 & !(line >> 5) & line >> 6;
    if finder == Line::LIGHT {
        return [0; MASKS];
    }
    let left = line << 1 | line << 2 | line << 3 | line << 4;
    let right = line >> 7 | line >> 8 | line >> 9 | line >> 10;
    (finder & !(left & right)).dark()
}

/// The finders of all columns whose first module is the fifth of the fifteen rows.
#[inline]
fn finders_down<W: Word>(window: &[Line<W>]) -> PerMask {
    let &[p, q, r, s, a, b, c, d, e, f, g, t, u, v, w] = window else { return [0; MASKS] };
    let finder = a & !b & c & d & e & !f & g;
    if finder == Line::LIGHT {
        return [0; MASKS];
    }
    (finder & !((p | q | r | s) & (t | u | v | w))).dark()
}

/// Fourth rule: the share of dark modules costs twice the per cent by which it is off a half. The standard rounds to
/// steps of 5 %; the crate, whose choice is kept, to half per cents.
fn balance<W: Word>(symbol: &[Line<W>]) -> PerMask {
    let area = u32::try_from(symbol.len().pow(2)).unwrap_or(u32::MAX);
    let dark = summed(symbol.iter().map(|line| line.dark()));
    dark.map(|dark| (dark * 200 / area).abs_diff(100))
}
