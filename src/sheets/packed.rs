//! The labels of a format without cells: packed onto its sheets, and given out in walking order.

use std::sync::Arc;

use super::SheetFormat;
use super::packing::{self, Demand, Pattern, Room};
use crate::length::{Length, Point, Rect, Size};

/// The room of one label on a page.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Slot {
    /// Where it lies.
    pub(super) room: Rect,
    /// Whether the label is turned by a quarter in it.
    pub(super) turned: bool,
}

/// How well the sheets of a packed format are used.
#[derive(Clone, Debug, PartialEq)]
pub struct Usage {
    /// Name of the format.
    pub format: String,
    /// The sheets.
    pub sheets: usize,
    /// The share of their room that labels cover, from 0 to 1; of a roll that of the length used.
    pub share: f64,
    /// Sheets below which no packing can come, by area alone.
    pub fewest: usize,
    /// The length of all pieces of a roll.
    pub length: Option<Length>,
}

/// Labels on packed sheets.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Packed {
    /// The pattern of each sheet.
    sheets: Vec<Arc<Pattern>>,
    /// For each sheet the numbers of the labels on it, in reading order.
    numbers: Vec<Vec<usize>>,
    /// For each label by its number its sheet and its place in reading order, from 0.
    positions: Vec<(usize, usize)>,
    usage: Usage,
}

impl Packed {
    /// Packs labels of these sizes, each standing for so many copies in a row; `None` if one is too large.
    pub(super) fn new(format: &SheetFormat, sizes: &[Size], copies: usize) -> Option<Self> {
        let area = format.packing?;
        let room = Room { size: area.area.size, gap: area.gap, is_roll: format.is_web() };
        let (demands, queues) = queues(sizes, copies);
        let packed = packing::pack(&room, &demands)?;
        let mut positions = vec![(0, 0); sizes.len() * copies];
        let mut queues: Vec<_> = queues.into_iter().map(Vec::into_iter).collect();
        let mut numbers = Vec::with_capacity(packed.sheets.len());
        for (sheet, pattern) in packed.sheets.iter().enumerate() {
            let next = |demand: usize| queues.get_mut(demand)?.next();
            let on_sheet: Vec<usize> = pattern.spots.iter().map(|spot| spot.demand).filter_map(next).collect();
            for (place, number) in on_sheet.iter().enumerate() {
                if let Some(position) = positions.get_mut(*number) {
                    *position = (sheet, place);
                }
            }
            numbers.push(on_sheet);
        }
        let length = room
            .is_roll
            .then(|| packed.sheets.iter().map(|sheet| format.cut_off(sheet.used.height).paper.height).sum());
        let usage = Usage {
            format: format.name.clone(),
            sheets: packed.sheets.len(),
            share: packed.share_used(&room),
            fewest: packing::fewest_by_area(&room, &demands),
            length,
        };
        Some(Self { sheets: packed.sheets, numbers, positions, usage })
    }

    pub(super) const fn usage(&self) -> &Usage {
        &self.usage
    }

    pub(super) const fn sheets(&self) -> usize {
        self.sheets.len()
    }

    /// The pattern of a sheet, from 0.
    pub(super) fn pattern(&self, sheet: usize) -> Option<&Pattern> {
        self.sheets.get(sheet).map(Arc::as_ref)
    }

    /// Sheet and place of a label by its number, all from 0.
    pub(super) fn position(&self, number: usize) -> Option<(usize, usize)> {
        self.positions.get(number).copied()
    }

    /// The numbers of the labels on a sheet with their slots, in reading order.
    pub(super) fn slots(&self, sheet: usize, corner: Point) -> impl Iterator<Item = (usize, Slot)> {
        let numbers = self.numbers.get(sheet).into_iter().flatten().copied();
        let spots = self.sheets.get(sheet).into_iter().flat_map(|pattern| &pattern.spots);
        let slot = move |room: Rect, turned| Slot { room: Rect::new(corner + room.origin, room.size), turned };
        numbers.zip(spots).map(move |(number, spot)| (number, slot(spot.room, spot.turned)))
    }
}

/// The labels by size, in walking order: what is to be packed, and who takes the places of each size.
fn queues(sizes: &[Size], copies: usize) -> (Vec<Demand>, Vec<Vec<usize>>) {
    let (mut demands, mut queues) = (Vec::<Demand>::new(), Vec::<Vec<usize>>::new());
    for (label, size) in sizes.iter().enumerate() {
        let known = demands.iter().position(|demand| demand.size == *size).unwrap_or_else(|| {
            demands.push(Demand { size: *size, may_turn: true, count: 0 });
            queues.push(Vec::new());
            demands.len() - 1
        });
        if let (Some(demand), Some(queue)) = (demands.get_mut(known), queues.get_mut(known)) {
            demand.count += copies;
            queue.extend((0..copies).map(|copy| label * copies + copy));
        }
    }
    (demands, queues)
}

#[cfg(test)]
mod tests;
