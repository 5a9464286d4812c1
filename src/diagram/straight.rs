//! Straight wires: cells that stand over one another are moved as one line, and push their neighbours aside, wherever
//! that leaves fewer corners.

use super::layers::Wire;
use super::place::{Placing, contact_of};
use super::route::TO_BAR_END;

/// Rounds over all wires that are not straight, and places tried in all, so that a large diagram costs a bounded time.
const ROUNDS: usize = 6;
const MOST_TRIALS: usize = 3_000;

/// Two places closer than this are one, in millimetres.
const SAME: f64 = 0.05;

/// How much nearer than wished neighbours may come where that makes a wire straight.
const SLACK: f64 = 1.2;

/// What two corners cost beyond the step between them, in millimetres; a step that is smaller than `SMALL` looks like a
/// slip of the pen.
const CORNERS: f64 = 8.0;
const SLIP: f64 = 20.0;
const SMALL: f64 = 2.5;

/// What a millimetre of width costs, and neighbours that run into each other.
const WIDTH: f64 = 1.0;
const COLLISION: f64 = 10_000.0;

/// Two cells that would look well over one another.
#[derive(Clone, Copy)]
struct Pair {
    upper: usize,
    lower: usize,
    /// How far from the middle of the lower one the upper one should stand.
    aside: f64,
}

impl Placing<'_> {
    /// Moves lines of cells as long as that makes the diagram plainer; the smallest steps first.
    pub(super) fn straighten(&mut self) {
        self.clip_bars();
        let mut cost = self.cost();
        let mut trials = 0;
        for _ in 0..ROUNDS {
            let before = cost;
            for pair in self.crooked() {
                for upper_moves in [true, false] {
                    trials += 1;
                    cost = self.attempt(pair, upper_moves, cost);
                }
                if trials > MOST_TRIALS {
                    return;
                }
            }
            if cost >= before {
                return;
            }
        }
    }

    /// The cost after moving one of two cells over the other, which stays where it was if that costs more.
    fn attempt(&mut self, pair: Pair, upper_moves: bool, cost: f64) -> f64 {
        let step = self.step(pair);
        if step.abs() < SAME {
            return cost;
        }
        let kept = self.columns.clone();
        let is_possible = if upper_moves { self.push(pair.upper, -step) } else { self.push(pair.lower, step) };
        self.clip_bars();
        let now = if is_possible { self.cost() } else { f64::MAX };
        if now + SAME < cost {
            return now;
        }
        self.columns = kept;
        cost
    }

    /// The wires that are not straight, and what stands almost straight over and under a bar.
    fn crooked(&self) -> Vec<Pair> {
        let is_crooked = |pair: &Pair| self.step(*pair).abs() >= SAME;
        let mut pairs: Vec<Pair> = self.wires().filter(is_crooked).collect();
        pairs.extend(self.slips_at_bars());
        pairs.sort_by(|one, other| self.step(*one).abs().total_cmp(&self.step(*other).abs()));
        pairs
    }

    fn wires(&self) -> impl Iterator<Item = Pair> {
        self.layered.wires.iter().map(|wire| self.pair(*wire))
    }

    fn pair(&self, Wire { upper, lower, .. }: Wire) -> Pair {
        Pair { upper, lower, aside: contact_of(self.layered, upper, lower) }
    }

    /// What comes to a bar a little beside what leaves it.
    fn slips_at_bars(&self) -> impl Iterator<Item = Pair> {
        let wires = || self.layered.wires.iter().filter(|wire| !self.is_bar(wire.upper) || !self.is_bar(wire.lower));
        let comes = wires().filter(|wire| self.is_bar(wire.lower));
        let pairs = comes.flat_map(move |above| {
            let leaves = wires().filter(|below| below.upper == above.lower);
            leaves.map(|below| Pair { upper: above.upper, ..self.pair(*below) })
        });
        pairs.filter(|pair| (SAME..SMALL).contains(&self.step(*pair).abs()))
    }

    /// How far the upper one stands aside of where it should. A bar is met anywhere.
    fn step(&self, pair: Pair) -> f64 {
        let (left, right) = self.span(pair.upper);
        let (other_left, other_right) = self.span(pair.lower);
        let (other_left, other_right) = (other_left + pair.aside, other_right + pair.aside);
        if left > other_right {
            left - other_right
        } else if right < other_left {
            right - other_left
        } else {
            0.0
        }
    }

    /// From where to where a wire may meet a cell.
    fn span(&self, cell: usize) -> (f64, f64) {
        if !self.is_bar(cell) {
            return (self.x(cell), self.x(cell));
        }
        let (left, right) = self.ends(cell);
        let middle = (left + right) / 2.0;
        ((left + TO_BAR_END).min(middle), (right - TO_BAR_END).max(middle))
    }

    fn cost(&self) -> f64 {
        let steps = self.wires().map(|wire| self.step(wire).abs()).filter(|step| *step >= SAME);
        let corners: f64 = steps.map(|step| step + if step < SMALL { SLIP } else { CORNERS }).sum();
        let slips = self.slips_at_bars().fold(0.0, |sum, _| sum + CORNERS);
        let (mut left, mut right, mut collisions) = (f64::MAX, f64::MIN, 0.0);
        for cells in &self.layered.layers {
            let lacking = cells.windows(2).map(|pair| self.lacking(pair)).filter(|lacking| *lacking > SAME);
            collisions += lacking.map(|lacking| COLLISION + lacking).sum::<f64>();
            for cell in cells {
                left = left.min(self.ends(*cell).0.min(self.x(*cell)) - self.reach(*cell).left);
                right = right.max(self.ends(*cell).1.max(self.x(*cell)) + self.reach(*cell).right);
            }
        }
        corners + slips + collisions + (right - left) * WIDTH
    }

    /// How much nearer than they may two neighbours stand.
    fn lacking(&self, pair: &[usize]) -> f64 {
        let [left, right] = pair else { return 0.0 };
        self.gap(pair) - SLACK - (self.x(*right) - self.x(*left))
    }

    /// Moves a cell with all that stands straight over and under it; whatever is in the way is pushed on. False where
    /// the line is in its own way.
    fn push(&mut self, cell: usize, by: f64) -> bool {
        let lines = self.lines();
        let line_of = |cell: usize| lines.get(cell).copied().unwrap_or(cell);
        self.move_line(&lines, line_of(cell), by);
        let mut waiting = vec![line_of(cell)];
        for _ in 0..lines.len() * 2 {
            let Some(line) = waiting.pop() else { return true };
            for cell in (0..lines.len()).filter(|cell| line_of(*cell) == line) {
                let Some((neighbour, lacking)) = self.next(cell, by > 0.0).filter(|(_, lacking)| *lacking > SAME)
                else {
                    continue;
                };
                if line_of(neighbour) == line {
                    return false;
                }
                self.move_line(&lines, line_of(neighbour), lacking.copysign(by));
                waiting.push(line_of(neighbour));
            }
        }
        false
    }

    /// The neighbour on one side, and how much too near it stands.
    fn next(&self, cell: usize, on_the_right: bool) -> Option<(usize, f64)> {
        let cells = self.layered.layers.get(self.layered.layer(cell))?;
        let place = cells.iter().position(|other| *other == cell)?;
        let first = if on_the_right { place } else { place.checked_sub(1)? };
        let pair = cells.get(first..first + 2)?;
        let neighbour = if on_the_right { pair.last() } else { pair.first() };
        Some((*neighbour?, self.lacking(pair)))
    }

    fn move_line(&mut self, lines: &[usize], line: usize, by: f64) {
        for cell in (0..lines.len()).filter(|cell| lines.get(*cell) == Some(&line)) {
            self.move_to(cell, self.x(cell) + by);
        }
    }

    /// The line of each cell: those that straight wires connect have the same one. A bar is a line of its own.
    fn lines(&self) -> Vec<usize> {
        let mut lines: Vec<usize> = (0..self.layered.kinds.len()).collect();
        for wire in &self.layered.wires {
            let (Some(upper), Some(lower)) = (lines.get(wire.upper).copied(), lines.get(wire.lower).copied()) else {
                continue;
            };
            let ends_at_bar = self.is_bar(wire.upper) || self.is_bar(wire.lower);
            if upper != lower && !ends_at_bar && self.step(self.pair(*wire)).abs() < SAME {
                lines.iter_mut().filter(|line| **line == upper).for_each(|line| *line = lower);
            }
        }
        lines
    }
}
