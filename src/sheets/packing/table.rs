//! The most valuable guillotine pattern of a sheet where every size may be used as often as there is room: dynamic
//! programming on the sums of sides (J. C. Herz, IBM J. Res. Dev. 16, 1972; J. E. Beasley, J. Oper. Res. Soc. 36, 1985).

use super::board::Board;
use super::pattern::Axis;
use super::{Kind, Shop};

/// Steps that one table may take; beyond it, measures are rounded up to a coarser grid, which keeps a pattern possible.
const STEPS: usize = 6_000_000;

/// The measures at which a side can be cut, in steps of a grid.
struct Side {
    /// Micrometres in a step.
    unit: i32,
    /// All sums of sides up to the whole, beginning with nothing, in micrometres.
    sums: Vec<i32>,
    /// For a measure in steps, the number of the largest sum that is not above it.
    floors: Vec<usize>,
}

impl Side {
    fn new(whole: i32, sides: &[i32], unit: i32) -> Self {
        let steps = usize::try_from(whole / unit).unwrap_or(0);
        let sides: Vec<usize> =
            sides.iter().filter_map(|side| usize::try_from((side + unit - 1) / unit).ok()).collect();
        let mut reached = vec![false; steps + 1];
        let (mut sums, mut floors) = (Vec::new(), Vec::with_capacity(steps + 1));
        for step in 0..=steps {
            let is_sum = step == 0
                || sides.iter().any(|side| {
                    step.checked_sub(*side).and_then(|before| reached.get(before)).copied().unwrap_or(false)
                });
            if let Some(reached) = reached.get_mut(step) {
                *reached = is_sum;
            }
            if is_sum {
                sums.push(i32::try_from(step).unwrap_or(0) * unit);
            }
            floors.push(sums.len().saturating_sub(1));
        }
        Self { unit, sums, floors }
    }

    fn floor(&self, measure: i32) -> usize {
        let step = usize::try_from(measure.max(0) / self.unit).unwrap_or(0);
        self.floors.get(step).or(self.floors.last()).copied().unwrap_or(0)
    }

    fn sum(&self, number: usize) -> i32 {
        self.sums.get(number).copied().unwrap_or(0)
    }

    /// The cuts of a sum into a part and the rest, the part not larger than the rest: the numbers of both.
    fn cuts(&self, number: usize) -> impl Iterator<Item = (usize, usize)> {
        let whole = self.sum(number);
        let parts = self.sums.iter().enumerate().skip(1).take_while(move |(_, part)| **part * 2 <= whole);
        parts.map(move |(part, sum)| (part, self.floor(whole - sum)))
    }
}

/// What never changes from one set of values to the next.
pub(super) struct Table<'a> {
    shop: &'a Shop,
    across: Side,
    down: Side,
    /// For every height its cuts.
    cuts_down: Vec<Vec<(usize, usize)>>,
}

/// The values of all rectangles with sums as sides, column by column.
struct Values {
    height: usize,
    values: Vec<i64>,
}

impl Values {
    fn at(&self, x: usize, y: usize) -> i64 {
        self.values.get(x * self.height + y).copied().unwrap_or(0)
    }
}

impl<'a> Table<'a> {
    pub(super) fn new(shop: &'a Shop) -> Self {
        let widths: Vec<i32> = shop.kinds.iter().flat_map(|kind| sides(*kind, true)).collect();
        let heights: Vec<i32> = shop.kinds.iter().flat_map(|kind| sides(*kind, false)).collect();
        let mut units = [grid(&widths), grid(&heights)];
        loop {
            let across = Side::new(shop.width, &widths, units[0]);
            let down = Side::new(shop.height, &heights, units[1]);
            let (wide, high) = (across.sums.len(), down.sums.len());
            if wide * high * (wide + high) / 4 <= STEPS {
                let cuts_down = (0..high).map(|number| down.cuts(number).collect()).collect();
                return Self { shop, across, down, cuts_down };
            }
            if wide > high { units[0] *= 2 } else { units[1] *= 2 }
        }
    }

    /// Steps of one use.
    pub(super) fn steps(&self) -> u64 {
        let (wide, high) = (self.across.sums.len() as u64, self.down.sums.len() as u64);
        wide * high * (wide + high + 4 * self.shop.kinds.len() as u64) / 4
    }

    /// The most valuable pattern for a value of each size; a size of no value is not used.
    pub(super) fn best(&self, worth: &[i64]) -> Board {
        let values = self.values(worth);
        let mut board = Board::new(self.shop);
        let whole = (self.across.floor(self.shop.width), self.down.floor(self.shop.height));
        self.lay(&mut board, 0, whole, &values, worth);
        board
    }

    fn values(&self, worth: &[i64]) -> Values {
        let high = self.down.sums.len();
        let mut values = Values { height: high, values: Vec::with_capacity(self.across.sums.len() * high) };
        for x in 0..self.across.sums.len() {
            let mut column: Vec<i64> =
                (0..high).map(|y| self.single(x, y, worth).map_or(0, |(_, value)| value)).collect();
            for (part, rest) in self.across.cuts(x) {
                let part = values.values.get(part * high..(part + 1) * high).unwrap_or_default();
                let rest = values.values.get(rest * high..(rest + 1) * high).unwrap_or_default();
                for (value, (part, rest)) in column.iter_mut().zip(part.iter().zip(rest)) {
                    *value = (*value).max(part + rest);
                }
            }
            for (y, cuts) in self.cuts_down.iter().enumerate() {
                let at = |number: usize| column.get(number).copied().unwrap_or(0);
                let best = cuts.iter().map(|(part, rest)| at(*part) + at(*rest)).max().unwrap_or(0);
                if let Some(value) = column.get_mut(y) {
                    *value = (*value).max(best);
                }
            }
            values.values.extend(column);
        }
        values
    }

    /// The most valuable single label in a rectangle, and how it lies.
    fn single(&self, x: usize, y: usize, worth: &[i64]) -> Option<((usize, bool, i32, i32), i64)> {
        let (width, height) = (self.across.sum(x), self.down.sum(y));
        let kinds = self.shop.kinds.iter().zip(worth).enumerate().filter(|(_, (_, value))| **value > 0);
        let lying = kinds.flat_map(move |(number, (kind, value))| {
            // A label takes whole steps of the grid.
            let (wide, high) = (self.across.unit, self.down.unit);
            let fits = move |(_, w, h): &(bool, i32, i32)| up(*w, wide) <= width && up(*h, high) <= height;
            let lies = kind.lies(width, height).filter(fits);
            lies.map(move |(turned, w, h)| ((number, turned, w, h), *value))
        });
        lying.max_by_key(|(_, value)| *value)
    }

    /// Cuts a piece as its value says.
    fn lay(&self, board: &mut Board, piece: usize, (x, y): (usize, usize), values: &Values, worth: &[i64]) {
        let value = values.at(x, y);
        if value == 0 {
            return;
        }
        if let Some((label, single)) = self.single(x, y, worth)
            && single == value
        {
            board.lay(piece, label, Axis::Across);
            return;
        }
        let down = self.cuts_down.get(y).into_iter().flatten();
        if let Some((part, rest)) =
            down.copied().find(|(part, rest)| values.at(x, *part) + values.at(x, *rest) == value)
        {
            let (upper, lower) = board.cut(piece, Axis::Across, self.down.sum(part));
            self.lay(board, upper, (x, part), values, worth);
            self.lay(board, lower, (x, rest), values, worth);
        } else if let Some((part, rest)) =
            self.across.cuts(x).find(|(part, rest)| values.at(*part, y) + values.at(*rest, y) == value)
        {
            let (left, right) = board.cut(piece, Axis::Down, self.across.sum(part));
            self.lay(board, left, (part, y), values, worth);
            self.lay(board, right, (rest, y), values, worth);
        }
    }
}

fn up(measure: i32, unit: i32) -> i32 {
    (measure + unit - 1) / unit * unit
}

/// The widths or heights that a label may have as it lies.
fn sides(kind: Kind, across: bool) -> impl Iterator<Item = i32> {
    let upright = if across { kind.width } else { kind.height };
    let turned = if across { kind.height } else { kind.width };
    [Some(upright), kind.may_turn.then_some(turned)].into_iter().flatten()
}

/// The largest measure that divides all sides.
fn grid(sides: &[i32]) -> i32 {
    let divisor = |mut one: i32, mut other: i32| {
        while other != 0 {
            (one, other) = (other, one % other);
        }
        one
    };
    sides.iter().copied().fold(0, divisor).max(1)
}
