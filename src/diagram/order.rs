//! The order of the cells in their layers, with as few crossings of wires as a few rounds find.

use super::layers::Layered;

/// Rounds downwards and upwards; the best order met is kept.
const ROUNDS: usize = 12;

/// Sorts every layer by the middle of its neighbours, then exchanges neighbours wherever that saves a crossing. The
/// search starts from the order given and from its mirror image, downwards and upwards.
pub(super) fn untangle(layered: &mut Layered) {
    let given = layered.layers.clone();
    let mirrored: Vec<Vec<usize>> = given.iter().map(|cells| cells.iter().rev().copied().collect()).collect();
    let mut best = (crossings(layered), given.clone());
    for start in [&given, &mirrored] {
        for first in 0..2 {
            layered.layers.clone_from(start);
            improve(layered, first, &mut best);
        }
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

fn improve(layered: &mut Layered, first: usize, best: &mut (usize, Vec<Vec<usize>>)) {
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
        exchange(layered);
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

/// Exchanges neighbours wherever that saves a crossing.
fn exchange(layered: &mut Layered) {
    for layer in 0..layered.layers.len() {
        let length = layered.layers.get(layer).map_or(0, Vec::len);
        for place in 1..length {
            let before = crossings(layered);
            swap(layered, layer, place);
            if crossings(layered) >= before {
                swap(layered, layer, place);
            }
        }
    }
}

fn swap(layered: &mut Layered, layer: usize, place: usize) {
    layered.layers.get_mut(layer).into_iter().for_each(|cells| cells.swap(place - 1, place));
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
