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

impl Placing<'_> {
    /// Moves lines of cells as long as that makes the diagram plainer; the smallest steps first.
    pub(super) fn straighten(&mut self) {
        self.clip_bars();
        let mut cost = self.cost();
        let mut trials = 0;
        for _ in 0..ROUNDS {
            let before = cost;
            for wire in self.crooked() {
                for upper_moves in [true, false] {
                    trials += 1;
                    cost = self.attempt(&wire, upper_moves, cost);
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

    /// The cost after making a wire straight by moving one of its ends, which stays where it was if that costs more.
    fn attempt(&mut self, wire: &Wire, upper_moves: bool, cost: f64) -> f64 {
        let step = self.step(wire);
        if step.abs() < SAME {
            return cost;
        }
        let kept = self.columns.clone();
        let is_possible = if upper_moves { self.push(wire.upper, -step) } else { self.push(wire.lower, step) };
        self.clip_bars();
        let now = if is_possible { self.cost() } else { f64::MAX };
        if now + SAME < cost {
            return now;
        }
        self.columns = kept;
        cost
    }

    fn crooked(&self) -> Vec<Wire> {
        let is_crooked = |wire: &&Wire| self.step(wire).abs() >= SAME;
        let mut wires: Vec<Wire> = self.layered.wires.iter().filter(is_crooked).copied().collect();
        wires.sort_by(|one, other| self.step(one).abs().total_cmp(&self.step(other).abs()));
        wires
    }

    /// How far a wire steps aside on its way up. A bar is met anywhere.
    fn step(&self, wire: &Wire) -> f64 {
        let (left, right) = self.span(wire.upper);
        let aside = contact_of(self.layered, wire.upper, wire.lower);
        let (other_left, other_right) = self.span(wire.lower);
        let (other_left, other_right) = (other_left + aside, other_right + aside);
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
        let steps = self.layered.wires.iter().map(|wire| self.step(wire).abs()).filter(|step| *step >= SAME);
        let corners: f64 = steps.map(|step| step + if step < SMALL { SLIP } else { CORNERS }).sum();
        let (mut left, mut right, mut collisions) = (f64::MAX, f64::MIN, 0.0);
        for cells in &self.layered.layers {
            let lacking = cells.windows(2).map(|pair| self.lacking(pair)).filter(|lacking| *lacking > SAME);
            collisions += lacking.map(|lacking| COLLISION + lacking).sum::<f64>();
            for cell in cells {
                left = left.min(self.ends(*cell).0.min(self.x(*cell)) - self.reach(*cell).left);
                right = right.max(self.ends(*cell).1.max(self.x(*cell)) + self.reach(*cell).right);
            }
        }
        corners + collisions + (right - left) * WIDTH
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
            if upper != lower && !ends_at_bar && self.step(wire).abs() < SAME {
                lines.iter_mut().filter(|line| **line == upper).for_each(|line| *line = lower);
            }
        }
        lines
    }
}
