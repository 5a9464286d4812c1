//! How unlike a good symbol each of the eight masked ones is (ISO/IEC 18004, 8.8.2 in the edition of 2006).

use super::masked::{Counts, Line, Masked};

/// The penalty of the symbol under each mask, by the four rules, less what the three finder patterns always cost.
pub(super) fn penalties<L: Line>(symbol: &[Masked<L>]) -> Counts {
    let across: Counts = symbol.iter().map(|&line| runs_across(line, symbol.len())).sum();
    across + runs_down(symbol, symbol.len()) + blocks(symbol) + finders(symbol) + balance(symbol)
}

/// The first so many modules of a row.
fn first<L: Line>(count: usize) -> Masked<L> {
    let beyond = u32::try_from(count).map_or(L::LIGHT, |count| !L::LIGHT << count);
    Masked::all(!beyond)
}

/// First rule, within a row: a run of `n` >= 5 modules of one colour costs `n - 2`.
fn runs_across<L: Line>(line: Masked<L>, side: usize) -> Counts {
    let pair = !(line ^ line >> 1) & first(side - 1);
    let four = pair & pair >> 1;
    let run = four & four >> 2;
    run.dark() + (run & !(run << 1)).dark() * 2
}

/// First rule, within the columns.
fn runs_down<L: Line>(symbol: &[Masked<L>], side: usize) -> Counts {
    let (mut cost, mut before) = (Counts::default(), Masked::all(L::LIGHT));
    for window in symbol.windows(5) {
        let &[a, b, c, d, e] = window else { continue };
        let run = !((a ^ b) | (b ^ c) | (c ^ d) | (d ^ e)) & first(side);
        cost = cost + run.dark() + (run & !before).dark() * 2;
        before = run;
    }
    cost
}

/// Second rule: every block of 2 x 2 modules of one colour costs 3.
fn blocks<L: Line>(symbol: &[Masked<L>]) -> Counts {
    let inside = first(symbol.len() - 1);
    let block = |window: &[Masked<L>]| match *window {
        [a, b] => (!((a ^ b) | (a ^ a >> 1) | (b ^ b >> 1)) & inside).dark(),
        _ => Counts::default(),
    };
    symbol.windows(2).map(block).sum::<Counts>() * 3
}

/// What three finder patterns, each crossed by three rows and three columns, add to the third rule in every symbol.
const FINDERS: u32 = 3 * (3 + 3) * 40;

/// Third rule: dark and light 1:1:3:1:1 with four light modules on either side costs 40; outside the symbol all is
/// light.
fn finders<L: Line>(symbol: &[Masked<L>]) -> Counts {
    let across: Counts = symbol.iter().map(|&line| finders_across(line)).sum();
    let outside = |count| std::iter::repeat_n(Masked::all(L::LIGHT), count);
    let padded: Vec<_> = outside(4).chain(symbol.iter().copied()).chain(outside(10)).collect();
    let down: Counts = padded.windows(15).map(finders_down).sum();
    ((across + down) * 40).map(|cost| cost.saturating_sub(FINDERS))
}

fn finders_across<L: Line>(line: Masked<L>) -> Counts {
    let finder = line & !(line >> 1) & line >> 2 & line >> 3 & line >> 4 & !(line >> 5) & line >> 6;
    let left = line << 1 | line << 2 | line << 3 | line << 4;
    let right = line >> 7 | line >> 8 | line >> 9 | line >> 10;
    (finder & !(left & right)).dark()
}

/// The finders of all columns whose first module is the fifth of the fifteen rows.
fn finders_down<L: Line>(window: &[Masked<L>]) -> Counts {
    let &[p, q, r, s, a, b, c, d, e, f, g, t, u, v, w] = window else { return Counts::default() };
    let finder = a & !b & c & d & e & !f & g;
    if finder.0.iter().all(|finder| *finder == L::LIGHT) {
        return Counts::default();
    }
    (finder & !((p | q | r | s) & (t | u | v | w))).dark()
}

/// Fourth rule: the share of dark modules costs twice the per cent by which it is off a half. The standard rounds to
/// steps of 5 %; the crate, whose choice is kept, to half per cents.
fn balance<L: Line>(symbol: &[Masked<L>]) -> Counts {
    let area = u32::try_from(symbol.len().pow(2)).unwrap_or(u32::MAX);
    let dark: Counts = symbol.iter().map(|line| line.dark()).sum();
    dark.map(|dark| (dark * 200 / area).abs_diff(100))
}
