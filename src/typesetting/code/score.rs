//! How unlike a good symbol one is, by the four rules of ISO/IEC 18004 (8.8.2 in the edition of 2006).

use super::line::Line;

/// Light rows kept over a symbol and under it, since the third rule looks beyond its edges.
const OVER: usize = 4;
const UNDER: usize = 10;

/// A symbol under one of the masks.
pub(super) struct Candidate<L> {
    padded: Vec<L>,
    side: usize,
}

impl<L: Line> Candidate<L> {
    /// A symbol that is all light.
    pub(super) fn new(side: u16) -> Self {
        let side = usize::from(side);
        Self { padded: vec![L::LIGHT; OVER + side + UNDER], side }
    }

    /// Draws its rows, from the top.
    pub(super) fn draw(&mut self, lines: impl Iterator<Item = L>) {
        self.padded.iter_mut().skip(OVER).take(self.side).zip(lines).for_each(|(line, drawn)| *line = drawn);
    }

    /// Its rows, from the top.
    pub(super) fn lines(&self) -> &[L] {
        self.padded.get(OVER..OVER + self.side).unwrap_or_default()
    }

    /// What the four rules add up to, less what the three finder patterns always cost; `None` as soon as it is clear that
    /// this is not below a limit. The third rule comes last: it takes longest, and mostly nobody needs it any more.
    pub(super) fn penalty_below(&self, limit: u32) -> Option<u32> {
        let symbol = self.lines();
        let without_finders = runs_and_blocks(symbol) + balance(symbol);
        let below = |penalty: &u32| *penalty < limit;
        Some(without_finders).filter(below).map(|penalty| penalty + finders(&self.padded)).filter(below)
    }
}

/// The first so many modules of a row.
fn first<L: Line>(count: usize) -> L {
    let beyond = u32::try_from(count).map_or(L::LIGHT, |count| !L::LIGHT << count);
    !beyond
}

/// The first two rules. A run of `n` >= 5 modules of one colour in a row or column costs `n - 2`: one for each place where
/// five alike end, and two more for the first of them. A block of 2 x 2 modules of one colour costs 3.
fn runs_and_blocks<L: Line>(symbol: &[L]) -> u32 {
    let (whole, without_last) = (first(symbol.len()), first::<L>(symbol.len() - 1));
    let mut count = Count::new();
    let (mut above, mut pairs_above, mut runs_above) = (None, L::LIGHT, L::LIGHT);
    // Where a module is like the one above it, and where two such follow each other, in this row and in rows before.
    let (mut like_above, mut three, mut three_above) = (L::LIGHT, L::LIGHT, L::LIGHT);
    for &line in symbol {
        let pairs = !(line ^ line >> 1) & without_last;
        let fours = pairs & pairs >> 1;
        let across = fours & fours >> 2;
        let like = above.map_or(L::LIGHT, |above| !(line ^ above) & whole);
        let three_here = like & like_above;
        let down = three_here & three_above;
        let block = like & pairs & pairs_above;
        count.add([across, down, block], [across & !(across << 1), down & !runs_above, block]);
        (above, pairs_above, runs_above) = (Some(line), pairs, down);
        (like_above, three_above, three) = (like, three, three_here);
    }
    count.total()
}

/// Dark modules of many rows, counted column by column in binary digits that are rows themselves: what a processor without
/// an instruction for it takes a dozen steps to count is then counted once in sixteen times.
struct Count<L> {
    ones: L,
    twos: L,
    fours: L,
    eights: L,
    /// How often a column went beyond fifteen.
    sixteens: u32,
}

impl<L: Line> Count<L> {
    const fn new() -> Self {
        Self { ones: L::LIGHT, twos: L::LIGHT, fours: L::LIGHT, eights: L::LIGHT, sixteens: 0 }
    }

    /// Adds rows whose modules count for one, and rows whose modules count for two.
    fn add(&mut self, ones: [L; 3], twos: [L; 3]) {
        let (sum, carry) = added(self.ones, ones[0], ones[1]);
        let (ones, two) = (sum ^ ones[2], sum & ones[2]);
        let (sum, four) = added(self.twos, twos[0], twos[1]);
        let (sum, further) = added(sum, twos[2], carry);
        let (twos, last) = (sum ^ two, sum & two);
        let (sum, eight) = added(self.fours, four, further);
        let (fours, other) = (sum ^ last, sum & last);
        let (eights, sixteen) = added(self.eights, eight, other);
        self.sixteens += sixteen.dark();
        (self.ones, self.twos, self.fours, self.eights) = (ones, twos, fours, eights);
    }

    fn total(&self) -> u32 {
        let Self { ones, twos, fours, eights, sixteens } = self;
        ones.dark() + 2 * twos.dark() + 4 * fours.dark() + 8 * eights.dark() + 16 * sixteens
    }
}

/// The sum of three binary digits in every column, and what is carried.
fn added<L: Line>(one: L, other: L, third: L) -> (L, L) {
    let half = one ^ other;
    (half ^ third, one & other | half & third)
}

/// What three finder patterns, each crossed by three rows and three columns, add to the third rule in every symbol.
const FINDERS: u32 = 3 * (3 + 3) * 40;

/// Third rule: dark and light 1:1:3:1:1 with four light modules on either side costs 40; outside the symbol all is
/// light.
fn finders<L: Line>(padded: &[L]) -> u32 {
    let across: u32 = padded.iter().map(|&line| finders_across(line)).sum();
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
