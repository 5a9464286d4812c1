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
        let across: u32 = symbol.iter().map(|&line| runs_across(line, symbol.len())).sum();
        let without_finders = across + runs_down(symbol, symbol.len()) + blocks(symbol) + balance(symbol);
        let below = |penalty: &u32| *penalty < limit;
        Some(without_finders).filter(below).map(|penalty| penalty + finders(&self.padded)).filter(below)
    }
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
