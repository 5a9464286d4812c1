//! Where each cell stands from left to right, in millimetres: over what it feeds, and never into its neighbour.

use super::layers::{CellKind, Layered, Wire};
use super::order::places;
use super::route::{TAPS_APART, TO_BAR_END, contact_aside};

/// Rounds in which cells find their places.
const ROUNDS: i32 = 60;

/// The least distance at which a pull grows no stronger, in millimetres.
const SOFTEST: f64 = 0.2;

/// How the pull of a wire fades with its step aside: beyond 1, one long step is better than several short ones.
const STRENGTH: f64 = 1.5;

/// How far a bar reaches beyond the outermost wire on it, half of the shortest bar that has room, and the shortest of all.
const OVERHANG: f64 = 3.0;
const SHORTEST_HALF: f64 = 8.0;
pub(super) const SHORTEST: f64 = OVERHANG * 2.0;

/// Free space between two neighbours.
const BETWEEN: f64 = 3.0;

/// How far a cell reaches from its own line, in millimetres.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(super) struct Reach {
    /// To the left.
    pub(super) left: f64,
    /// To the right, label included. Of a bar, the label alone.
    pub(super) right: f64,
}

/// Places in millimetres.
#[derive(Clone, Debug, Default, PartialEq)]
pub(super) struct Columns {
    /// The line of each cell.
    pub(super) x: Vec<f64>,
    /// Left and right end of each bar; of every other cell its line.
    pub(super) ends: Vec<(f64, f64)>,
}

/// Places every cell; rows stand at least `pitch` apart.
///
/// What is made small is the sum of the sideways steps of all wires, not of their squares: so most wires run straight,
/// and few step aside.
pub(super) fn columns(layered: &Layered, reach: &[Reach], pitch: f64) -> Columns {
    let mut placing = Placing {
        layered,
        reach,
        columns: Columns { x: vec![0.0; layered.kinds.len()], ends: vec![(0.0, 0.0); layered.kinds.len()] },
        pitch,
        pulls: pulls(layered),
    };
    placing.start();
    for round in 0..ROUNDS {
        // The more rounds, the more a wire that is nearly straight is held against becoming less so.
        let softness = (20.0 * 0.9_f64.powi(round)).max(SOFTEST);
        for layer in (0..layered.layers.len()).rev().chain(0..layered.layers.len()) {
            placing.layer(layer, softness);
        }
    }
    placing.straighten();
    placing.columns
}

/// A wire as seen from one of its ends: the other end, how far aside of it this one should stand, how strongly.
#[derive(Clone, Copy)]
struct Pull {
    other: usize,
    aside: f64,
    weight: f64,
    /// Whether it crosses no other wire. A bar reaches as far as its wires that do not: one that reached over a crossing
    /// would push its neighbour, and be pushed by it, for ever.
    is_clear: bool,
}

/// The pulls on every cell.
fn pulls(layered: &Layered) -> Vec<Vec<Pull>> {
    let mut pulls: Vec<Vec<Pull>> = vec![Vec::new(); layered.kinds.len()];
    let places = places(layered);
    let place = |cell: usize| places.get(cell).copied().unwrap_or(0);
    let cross = |one: &Wire, other: &Wire| {
        let above = place(one.upper).cmp(&place(other.upper));
        let below = place(one.lower).cmp(&place(other.lower));
        layered.layer(one.upper) == layered.layer(other.upper) && above.is_ne() && below.is_ne() && above != below
    };
    for wire in &layered.wires {
        let is_clear = layered.wires.iter().all(|other| !cross(wire, other));
        let (upper, lower) = (layered.kind(wire.upper), layered.kind(wire.lower));
        let weight = match (upper, lower) {
            // A wire may meet a bar anywhere; it only keeps the bar short.
            (CellKind::Bar, _) | (_, CellKind::Bar) => 0.3,
            (CellKind::Via, CellKind::Via) => 8.0,
            (CellKind::Via, _) | (_, CellKind::Via) => 3.0,
            (_, CellKind::Row) => 2.0,
            (
                CellKind::Symbol | CellKind::Source | CellKind::Apart | CellKind::Row,
                CellKind::Symbol | CellKind::Source | CellKind::Apart,
            ) => 1.0,
        };
        let aside = contact_of(layered, wire.upper, wire.lower);
        let ends = [(wire.upper, wire.lower, aside), (wire.lower, wire.upper, -aside)];
        for (cell, other, aside) in ends {
            pulls.get_mut(cell).into_iter().for_each(|list| list.push(Pull { other, aside, weight, is_clear }));
        }
    }
    pulls
}

/// How far from the middle of the lower cell a wire meets it: those of a changeover or a UPS stand apart.
pub(super) fn contact_of(layered: &Layered, upper: usize, lower: usize) -> f64 {
    if layered.kind(lower) != CellKind::Apart {
        return 0.0;
    }
    let feeds = |cell: &&usize| layered.wires.iter().any(|wire| wire.lower == lower && wire.upper == **cell);
    let above = layered.layer(lower).checked_sub(1).and_then(|layer| layered.layers.get(layer));
    let feeds: Vec<usize> = above.into_iter().flatten().filter(feeds).copied().collect();
    let place = feeds.iter().position(|feed| *feed == upper).unwrap_or(0);
    contact_aside(place, feeds.len())
}

pub(super) struct Placing<'a> {
    pub(super) layered: &'a Layered,
    reach: &'a [Reach],
    pub(super) columns: Columns,
    pitch: f64,
    pulls: Vec<Vec<Pull>>,
}

impl Placing<'_> {
    pub(super) fn x(&self, cell: usize) -> f64 {
        self.columns.x.get(cell).copied().unwrap_or(0.0)
    }

    pub(super) fn ends(&self, cell: usize) -> (f64, f64) {
        self.columns.ends.get(cell).copied().unwrap_or_default()
    }

    pub(super) fn is_bar(&self, cell: usize) -> bool {
        self.layered.kind(cell) == CellKind::Bar
    }

    pub(super) fn move_to(&mut self, cell: usize, x: f64) {
        let moved = x - self.x(cell);
        self.columns.x.get_mut(cell).into_iter().for_each(|place| *place = x);
        self.columns.ends.get_mut(cell).into_iter().for_each(|(left, right)| {
            *left += moved;
            *right += moved;
        });
    }

    /// Puts the cells of every layer side by side around one middle.
    fn start(&mut self) {
        for cells in &self.layered.layers {
            let gaps: Vec<f64> = cells.windows(2).map(|pair| self.gap(pair)).collect();
            let mut x = gaps.iter().sum::<f64>() / -2.0;
            for (place, cell) in cells.iter().enumerate() {
                self.move_to(*cell, x);
                x += gaps.get(place).copied().unwrap_or(0.0);
            }
        }
    }

    /// Moves the cells of a layer as near as their order allows to what they are connected with.
    fn layer(&mut self, layer: usize, softness: f64) {
        let Some(cells) = self.layered.layers.get(layer) else { return };
        cells.iter().filter(|cell| self.layered.kind(**cell) == CellKind::Bar).for_each(|bar| self.stretch(*bar));
        let wishes: Vec<(f64, f64)> = cells.iter().map(|cell| self.wish(*cell, softness)).collect();
        let gaps: Vec<f64> = cells.windows(2).map(|pair| self.gap(pair)).collect();
        for (cell, x) in cells.iter().zip(spread(&wishes, &gaps)) {
            self.move_to(*cell, x);
        }
    }

    /// Where a cell would like to stand, and how much it wants that. A nearby other end pulls more strongly than a far
    /// one, so that the sum of the steps becomes small and not that of their squares.
    fn wish(&self, cell: usize, softness: f64) -> (f64, f64) {
        let (mut sum, mut weights) = (self.x(cell) * 0.001, 0.001);
        for pull in self.pulls.get(cell).into_iter().flatten() {
            let place = self.x(pull.other) + pull.aside;
            let weight = pull.weight / ((place - self.x(cell)).abs() + softness).powf(STRENGTH);
            sum += place * weight;
            weights += weight;
        }
        (sum / weights, weights)
    }

    /// The distance that two neighbours need between their lines.
    pub(super) fn gap(&self, pair: &[usize]) -> f64 {
        let [left, right] = pair else { return 0.0 };
        let reach = |cell: usize| self.reach.get(cell).copied().unwrap_or(Reach { left: 1.0, right: 1.0 });
        let (left_end, right_end) = (self.ends(*left).1 - self.x(*left), self.x(*right) - self.ends(*right).0);
        let needed = left_end.max(0.0) + reach(*left).right + BETWEEN + reach(*right).left + right_end.max(0.0);
        let is_row = self.layered.kind(*left) == CellKind::Row;
        if is_row { needed.max(self.pitch) } else { needed }
    }

    /// The shortest that a bar can be so that the wires on each of its sides find places of their own.
    fn room_for_wires(&self, bar: usize) -> f64 {
        let wires = &self.layered.wires;
        let above = wires.iter().filter(|wire| wire.lower == bar).count();
        let below = wires.iter().filter(|wire| wire.upper == bar).count();
        let gaps = u32::try_from(above.max(below).saturating_sub(1)).unwrap_or(u32::MAX);
        f64::from(gaps) * TAPS_APART + TO_BAR_END * 2.0
    }

    /// Half of the room that is kept for a bar whatever hangs on it.
    fn least_half(&self, bar: usize) -> f64 {
        SHORTEST_HALF.max(self.room_for_wires(bar) / 2.0)
    }

    /// A bar reaches from its leftmost to its rightmost wire, and stands in their middle.
    fn stretch(&mut self, bar: usize) {
        let all = || self.pulls.get(bar).into_iter().flatten();
        let has_clear = all().any(|pull| pull.is_clear);
        let (counted, crossing): (Vec<&Pull>, Vec<&Pull>) = all().partition(|pull| pull.is_clear || !has_clear);
        let place = |pull: &&Pull| self.x(pull.other) + pull.aside;
        let least = counted.iter().map(place).fold(f64::MAX, f64::min);
        let most = counted.iter().map(place).fold(f64::MIN, f64::max);
        // A wire that comes from beyond meets the bar at a place of its own.
        let room = |is_beyond: &dyn Fn(f64) -> bool| {
            crossing.iter().filter(|pull| is_beyond(place(pull))).fold(0.0, |room, _| room + TAPS_APART)
        };
        let (least, most) = (least - room(&|x| x < least), most + room(&|x| x > most));
        let middle = if least <= most { (least + most) / 2.0 } else { self.x(bar) };
        let half = if least <= most { (most - least) / 2.0 + OVERHANG } else { 0.0 }.max(self.least_half(bar));
        self.columns.x.get_mut(bar).into_iter().for_each(|x| *x = middle);
        self.columns.ends.get_mut(bar).into_iter().for_each(|ends| *ends = (middle - half, middle + half));
    }

    /// A bar that stays in its place reaches from its leftmost to its rightmost wire.
    fn extend(&mut self, bar: usize) {
        let places = self.pulls.get(bar).into_iter().flatten().map(|pull| self.x(pull.other) + pull.aside);
        let places: Vec<f64> = places.collect();
        let least = places.iter().copied().fold(f64::MAX, f64::min) - OVERHANG;
        let most = places.iter().copied().fold(f64::MIN, f64::max) + OVERHANG;
        let (least, most) = if least < most { (least, most) } else { (self.x(bar), self.x(bar)) };
        let short = (self.least_half(bar) - (most - least) / 2.0).max(0.0);
        self.columns.ends.get_mut(bar).into_iter().for_each(|ends| *ends = (least - short, most + short));
    }

    /// Cuts bars where they would run into a neighbour; their wires then step aside.
    pub(super) fn clip_bars(&mut self) {
        for cells in &self.layered.layers {
            for bar in cells.iter().filter(|cell| self.layered.kind(**cell) == CellKind::Bar) {
                self.extend(*bar);
            }
            for (place, bar) in cells.iter().enumerate() {
                if !self.is_bar(*bar) {
                    continue;
                }
                let before = place.checked_sub(1).and_then(|place| cells.get(place)).copied();
                let free = (self.limit_left(before, *bar), self.limit_right(*bar, cells.get(place + 1).copied()));
                let (left, right) = self.ends(*bar);
                let cut = (left.max(free.0), right.min(free.1));
                // Where its wires are all beyond its neighbours, or want more room than is left, it stays in the room
                // that was kept for it.
                let (x, half) = (self.x(*bar), self.least_half(*bar));
                let least = self.room_for_wires(*bar).max(SHORTEST);
                let kept = if cut.1 - cut.0 > least { cut } else { (x - half, x + half) };
                self.columns.ends.get_mut(*bar).into_iter().for_each(|ends| *ends = kept);
            }
        }
    }

    pub(super) fn reach(&self, cell: usize) -> Reach {
        self.reach.get(cell).copied().unwrap_or(Reach { left: 1.0, right: 1.0 })
    }

    /// How far a bar may reach to the left: up to its neighbour, which has been cut before it.
    fn limit_left(&self, neighbour: Option<usize>, bar: usize) -> f64 {
        let Some(other) = neighbour else { return f64::MIN };
        let end = if self.is_bar(other) { self.ends(other).1 } else { self.x(other) };
        end + self.reach(other).right + BETWEEN + self.reach(bar).left
    }

    /// How far a bar may reach to the right: up to its neighbour; where two bars want the same room, they share it.
    fn limit_right(&self, bar: usize, neighbour: Option<usize>) -> f64 {
        let Some(other) = neighbour else { return f64::MAX };
        let room = self.reach(bar).right + BETWEEN + self.reach(other).left;
        if self.is_bar(other) {
            let middle = (self.x(bar) + self.x(other) - room) / 2.0;
            return middle.max(self.ends(other).0 - room);
        }
        self.x(other) - room
    }
}

/// The places nearest to what is wished, by the sum of weighted squares, that keep the order and the gaps: neighbours
/// that would collide are moved as one block to their common middle.
pub(super) fn spread(wishes: &[(f64, f64)], gaps: &[f64]) -> Vec<f64> {
    struct Block {
        sum: f64,
        weight: f64,
        count: usize,
    }
    let offsets: Vec<f64> = std::iter::once(0.0)
        .chain(gaps.iter().scan(0.0, |sum, gap| {
            *sum += gap;
            Some(*sum)
        }))
        .collect();
    let mut blocks: Vec<Block> = Vec::new();
    for ((wish, weight), offset) in wishes.iter().zip(&offsets) {
        blocks.push(Block { sum: (wish - offset) * weight, weight: *weight, count: 1 });
        while let [.., earlier, later] = blocks.as_mut_slice() {
            if earlier.sum / earlier.weight <= later.sum / later.weight {
                break;
            }
            earlier.sum += later.sum;
            earlier.weight += later.weight;
            earlier.count += later.count;
            blocks.pop();
        }
    }
    let middles = blocks.iter().flat_map(|block| std::iter::repeat_n(block.sum / block.weight, block.count));
    middles.zip(&offsets).map(|(middle, offset)| middle + offset).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn neighbours_that_collide_share_the_way() {
        assert_eq!(spread(&[(0.0, 1.0), (0.0, 1.0)], &[10.0]), [-5.0, 5.0]);
        assert_eq!(spread(&[(0.0, 1.0), (20.0, 1.0)], &[10.0]), [0.0, 20.0]);
        // The heavier one stays where it is.
        let [left, right] = spread(&[(0.0, 999.0), (0.0, 1.0)], &[10.0])[..] else { panic!("two places") };
        assert!((left + 0.01).abs() < 1e-9 && (right - 9.99).abs() < 1e-9, "{left} {right}");
    }
}
