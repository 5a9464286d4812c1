//! The order of the cells in their layers, with as few crossings of wires as a few rounds find.

use super::layers::{CellKind, Layered, Wire};

/// Rounds downwards and upwards; the best order met is kept.
const ROUNDS: usize = 12;

/// Sorts every layer by the middle of its neighbours, then moves single cells wherever that saves a crossing. The
/// search starts from the order given and from its mirror image, downwards and upwards.
pub(super) fn untangle(layered: &mut Layered) {
    let neighbours = Neighbours::of(layered);
    let given = layered.layers.clone();
    let mirrored: Vec<Vec<usize>> = given.iter().map(|cells| cells.iter().rev().copied().collect()).collect();
    let mut best = (crossings(layered), given.clone());
    for start in [&given, &mirrored] {
        for first in 0..2 {
            layered.layers.clone_from(start);
            improve(layered, &neighbours, first, &mut best);
        }
    }
    for _ in 0..2 {
        move_lines(layered, &neighbours, &mut best);
    }
    layered.layers = best.1;
    if rows_run_backwards(layered) {
        layered.layers.iter_mut().for_each(|cells| cells.reverse());
    }
}

/// Whether the mirror image, which crosses as little, would show more rows in the order of the survey.
fn rows_run_backwards(layered: &Layered) -> bool {
    let rows = layered.layers.last().map_or(&[][..], Vec::as_slice);
    let pairs =
        rows.iter().enumerate().flat_map(|(place, one)| rows.iter().skip(place + 1).map(move |other| (one, other)));
    let (forwards, backwards): (Vec<_>, Vec<_>) = pairs.partition(|(one, other)| one < other);
    backwards.len() > forwards.len()
}

fn improve(layered: &mut Layered, neighbours: &Neighbours, first: usize, best: &mut (usize, Vec<Vec<usize>>)) {
    for round in first..first + ROUNDS {
        if best.0 == 0 {
            return;
        }
        let count = layered.layers.len();
        for step in 0..count {
            let is_downwards = round % 2 == 0;
            let layer = if is_downwards { step } else { count - 1 - step };
            sort_layer(layered, layer, is_downwards);
        }
        exchange(layered, neighbours);
        let now = crossings(layered);
        if now < best.0 {
            *best = (now, layered.layers.clone());
        }
    }
}

/// Place of every cell in its layer.
pub(super) fn places(layered: &Layered) -> Vec<usize> {
    let mut places = vec![0; layered.kinds.len()];
    for cells in &layered.layers {
        for (place, cell) in cells.iter().enumerate() {
            places.get_mut(*cell).into_iter().for_each(|slot| *slot = place);
        }
    }
    places
}

fn sort_layer(layered: &mut Layered, layer: usize, by_upper: bool) {
    let places = places(layered);
    let place = |cell: usize| places.get(cell).copied().unwrap_or(0);
    let middle = |cell: usize| {
        let ends = layered.wires.iter().filter_map(|wire| match by_upper {
            true => (wire.lower == cell).then_some(wire.upper),
            false => (wire.upper == cell).then_some(wire.lower),
        });
        let near: Vec<usize> = ends.map(place).collect();
        // Without neighbours a cell keeps its place.
        if near.is_empty() { place(cell) * 1_000 } else { near.iter().sum::<usize>() * 1_000 / near.len() }
    };
    let Some(cells) = layered.layers.get(layer) else { return };
    let mut keyed: Vec<(usize, usize, usize)> = cells.iter().map(|cell| (middle(*cell), place(*cell), *cell)).collect();
    keyed.sort_unstable();
    let sorted = keyed.into_iter().map(|(_, _, cell)| cell).collect();
    if let Some(cells) = layered.layers.get_mut(layer) {
        *cells = sorted;
    }
}

/// Moves every cell to the place of its layer at which it is crossed least.
fn exchange(layered: &mut Layered, neighbours: &Neighbours) {
    let mut places = places(layered);
    for layer in &mut layered.layers {
        for cell in layer.clone() {
            let Some(from) = layer.iter().position(|other| *other == cell) else { continue };
            let to = best_place(layer, from, cell, neighbours, &places);
            if to != from {
                let moved = layer.remove(from);
                layer.insert(to, moved);
                for (place, cell) in layer.iter().enumerate() {
                    places.get_mut(*cell).into_iter().for_each(|slot| *slot = place);
                }
            }
        }
    }
}

/// The place at which a cell is crossed least; its own where no other is better.
fn best_place(layer: &[usize], from: usize, cell: usize, neighbours: &Neighbours, places: &[usize]) -> usize {
    let mut best = (0_isize, from);
    // What is saved by passing a neighbour adds up on the way in either direction.
    let saved = |left: usize, right: usize| {
        let crossings = |left, right| isize::try_from(neighbours.crossings(places, left, right)).unwrap_or(isize::MAX);
        crossings(left, right) - crossings(right, left)
    };
    let mut sum = 0;
    for (place, other) in layer.iter().enumerate().skip(from + 1) {
        sum += saved(cell, *other);
        best = if sum > best.0 { (sum, place) } else { best };
    }
    let mut sum = 0;
    for (place, other) in layer.iter().enumerate().take(from).rev() {
        sum += saved(*other, cell);
        best = if sum > best.0 { (sum, place) } else { best };
    }
    best.1
}

/// The cells above and below each cell.
struct Neighbours {
    above: Vec<Vec<usize>>,
    below: Vec<Vec<usize>>,
}

impl Neighbours {
    fn of(layered: &Layered) -> Self {
        let empty = vec![Vec::new(); layered.kinds.len()];
        let mut made = Self { above: empty.clone(), below: empty };
        for wire in &layered.wires {
            made.above.get_mut(wire.lower).into_iter().for_each(|list| list.push(wire.upper));
            made.below.get_mut(wire.upper).into_iter().for_each(|list| list.push(wire.lower));
        }
        made
    }

    /// Crossings between the wires of two neighbours, one left of the other.
    fn crossings(&self, places: &[usize], left: usize, right: usize) -> usize {
        let place = |cell: &usize| places.get(*cell).copied().unwrap_or(0);
        let between = |lists: &[Vec<usize>]| {
            let of = |cell: usize| lists.get(cell).map_or(&[][..], Vec::as_slice);
            let crossed = |one: &usize| of(right).iter().filter(|other| place(other) < place(one)).count();
            of(left).iter().map(crossed).sum::<usize>()
        };
        between(&self.above) + between(&self.below)
    }
}

/// Moves whole lines that pass several layers to one side, with the cells at their ends, wherever that saves crossings.
fn move_lines(layered: &mut Layered, neighbours: &Neighbours, best: &mut (usize, Vec<Vec<usize>>)) {
    for line in lines(layered, neighbours) {
        for to_the_left in [true, false] {
            if best.0 == 0 {
                return;
            }
            layered.layers.clone_from(&best.1);
            for cells in &mut layered.layers {
                let (moved, others): (Vec<usize>, Vec<usize>) = cells.iter().partition(|cell| line.contains(cell));
                *cells = if to_the_left { [moved, others].concat() } else { [others, moved].concat() };
            }
            for _ in 0..4 {
                exchange(layered, neighbours);
            }
            let now = crossings(layered);
            if now < best.0 {
                *best = (now, layered.layers.clone());
            }
        }
    }
}

/// Every line of vias with the cells at its ends.
fn lines(layered: &Layered, neighbours: &Neighbours) -> Vec<Vec<usize>> {
    let is_via = |cell: usize| layered.kind(cell) == CellKind::Via;
    let begins = |wire: &&Wire| !is_via(wire.upper) && is_via(wire.lower);
    let follow = |wire: &Wire| {
        let mut line = vec![wire.upper];
        let mut next = Some(wire.lower);
        while let Some(cell) = next {
            line.push(cell);
            next = neighbours.below.get(cell).and_then(|below| below.first()).copied().filter(|_| is_via(cell));
        }
        line
    };
    layered.wires.iter().filter(begins).map(follow).collect()
}

/// How often two wires between the same layers cross.
pub(super) fn crossings(layered: &Layered) -> usize {
    let places = places(layered);
    let place = |cell: usize| places.get(cell).copied().unwrap_or(0);
    let mut count = 0;
    for (number, one) in layered.wires.iter().enumerate() {
        for other in layered.wires.iter().skip(number + 1) {
            if layered.layer(one.upper) != layered.layer(other.upper) {
                continue;
            }
            let above = place(one.upper).cmp(&place(other.upper));
            let below = place(one.lower).cmp(&place(other.lower));
            count += usize::from(above.is_ne() && below.is_ne() && above != below);
        }
    }
    count
}
