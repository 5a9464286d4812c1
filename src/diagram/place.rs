//! Where each cell stands from left to right, in millimetres: over what it feeds, and never into its neighbour.

use super::layers::{CellKind, Layered};

/// Rounds in which cells find their places.
const ROUNDS: usize = 10;

/// How far a bar reaches beyond the outermost wire on it, and half of the shortest bar.
const OVERHANG: f64 = 3.0;
const SHORTEST_HALF: f64 = 8.0;

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

/// Places every cell; rows stand `pitch` apart.
pub(super) fn columns(layered: &Layered, reach: &[Reach], pitch: f64) -> Columns {
    let x = vec![0.0; layered.kinds.len()];
    let ends = vec![(0.0, 0.0); layered.kinds.len()];
    let mut placing = Placing { layered, reach, columns: Columns { x, ends }, pitch };
    for _ in 0..ROUNDS {
        for layer in (0..layered.layers.len()).rev() {
            placing.layer(layer, false);
        }
        for layer in 0..layered.layers.len() {
            placing.layer(layer, true);
        }
    }
    placing.clip_bars();
    placing.columns
}

struct Placing<'a> {
    layered: &'a Layered,
    reach: &'a [Reach],
    columns: Columns,
    pitch: f64,
}

impl Placing<'_> {
    fn x(&self, cell: usize) -> f64 {
        self.columns.x.get(cell).copied().unwrap_or(0.0)
    }

    fn ends(&self, cell: usize) -> (f64, f64) {
        self.columns.ends.get(cell).copied().unwrap_or_default()
    }

    fn is_bar(&self, cell: usize) -> bool {
        self.layered.kind(cell) == CellKind::Bar
    }

    fn lowers(&self, cell: usize) -> Vec<usize> {
        self.layered.wires.iter().filter(|wire| wire.upper == cell).map(|wire| wire.lower).collect()
    }

    fn uppers(&self, cell: usize) -> Vec<usize> {
        self.layered.wires.iter().filter(|wire| wire.lower == cell).map(|wire| wire.upper).collect()
    }

    /// Moves the cells of a layer as near as their order allows to the middle of what they feed. On the way down, only
    /// those move that feed nothing, or that can go straight below the only cell that feeds them.
    fn layer(&mut self, layer: usize, is_downwards: bool) {
        let Some(cells) = self.layered.layers.get(layer) else { return };
        cells
            .iter()
            .filter(|cell| self.is_bar(**cell))
            .copied()
            .collect::<Vec<_>>()
            .iter()
            .for_each(|bar| self.stretch(*bar));
        let wishes: Vec<(f64, f64)> = cells.iter().map(|cell| self.wish(*cell, is_downwards)).collect();
        let gaps: Vec<f64> = cells.windows(2).map(|pair| self.gap(pair)).collect();
        for (cell, x) in cells.iter().zip(spread(&wishes, &gaps)) {
            let moved = x - self.x(*cell);
            self.columns.x.get_mut(*cell).into_iter().for_each(|place| *place = x);
            self.columns.ends.get_mut(*cell).into_iter().for_each(|(left, right)| {
                *left += moved;
                *right += moved;
            });
        }
    }

    /// Where a cell would like to stand, and how much it wants that.
    fn wish(&self, cell: usize, is_downwards: bool) -> (f64, f64) {
        let kind = self.layered.kind(cell);
        let (lowers, uppers) = (self.lowers(cell), self.uppers(cell));
        if kind == CellKind::Row {
            let layer = self.layered.layers.last();
            let place = layer.and_then(|cells| cells.iter().position(|other| *other == cell)).unwrap_or(0);
            return (f64::from(u32::try_from(place).unwrap_or(0)) * self.pitch, 1_000.0);
        }
        let near = match (is_downwards, lowers.is_empty()) {
            (false, false) => lowers,
            (true, true) => uppers,
            (true, false) | (false, true) => return (self.x(cell), 1.0),
        };
        if near.is_empty() {
            return (self.x(cell), 1.0);
        }
        let places: Vec<f64> = near.iter().map(|other| self.x(*other)).collect();
        let (least, most) = places.iter().fold((f64::MAX, f64::MIN), |(least, most), x| (least.min(*x), most.max(*x)));
        let weight = if kind == CellKind::Via { 8.0 } else { 1.0 };
        ((least + most) / 2.0, weight)
    }

    /// The distance that two neighbours need between their lines.
    fn gap(&self, pair: &[usize]) -> f64 {
        let [left, right] = pair else { return 0.0 };
        let reach = |cell: usize| self.reach.get(cell).copied().unwrap_or(Reach { left: 1.0, right: 1.0 });
        let (left_end, right_end) = (self.ends(*left).1 - self.x(*left), self.x(*right) - self.ends(*right).0);
        let needed = left_end.max(0.0) + reach(*left).right + BETWEEN + reach(*right).left + right_end.max(0.0);
        let is_row = self.layered.kind(*left) == CellKind::Row;
        if is_row { needed.max(self.pitch) } else { needed }
    }

    /// A bar reaches from its leftmost to its rightmost wire.
    fn stretch(&mut self, bar: usize) {
        let near: Vec<f64> = self.lowers(bar).into_iter().chain(self.uppers(bar)).map(|cell| self.x(cell)).collect();
        let x = self.x(bar);
        let least = near.iter().copied().fold(x - SHORTEST_HALF + OVERHANG, f64::min) - OVERHANG;
        let most = near.iter().copied().fold(x + SHORTEST_HALF - OVERHANG, f64::max) + OVERHANG;
        self.columns.ends.get_mut(bar).into_iter().for_each(|ends| *ends = (least, most));
    }

    /// Cuts bars where they would run into a neighbour; their wires then step aside.
    fn clip_bars(&mut self) {
        for cells in &self.layered.layers {
            for bar in cells.iter().filter(|cell| self.is_bar(**cell)).copied().collect::<Vec<_>>() {
                self.stretch(bar);
            }
            for pair in cells.windows(2) {
                let [left, right] = *pair else { continue };
                let reach = |cell: usize| self.reach.get(cell).copied().unwrap_or_default();
                let end = |cell: usize| if self.is_bar(cell) { self.ends(cell) } else { (self.x(cell), self.x(cell)) };
                let free = end(right).0 - reach(right).left - BETWEEN - reach(left).right;
                if self.is_bar(left) && end(left).1 > free {
                    let most = free.max(self.x(left) + OVERHANG);
                    self.columns.ends.get_mut(left).into_iter().for_each(|ends| ends.1 = most);
                }
                let end = |cell: usize| if self.is_bar(cell) { self.ends(cell) } else { (self.x(cell), self.x(cell)) };
                let free = end(left).1 + reach(left).right + BETWEEN + reach(right).left;
                if self.is_bar(right) && end(right).0 < free {
                    let least = free.min(self.x(right) - OVERHANG);
                    self.columns.ends.get_mut(right).into_iter().for_each(|ends| ends.0 = least);
                }
            }
        }
    }
}

/// The places nearest to what is wished, by the sum of weighted squares, that keep the order and the gaps: neighbours
/// that would collide are moved as one block to their common middle.
fn spread(wishes: &[(f64, f64)], gaps: &[f64]) -> Vec<f64> {
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
