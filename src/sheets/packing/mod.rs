//! Packs labels of several sizes onto equal sheets, or along a roll, so that a knife can part them: every piece is divided
//! by cuts from edge to edge (a guillotine pattern), sheets are few and waste is little.
//!
//! The methods are published ones. Where few sizes come in many copies, patterns are found by column generation (P. C.
//! Gilmore and R. E. Gomory, Operations Research 9, 1961, and 13, 1965) over all guillotine patterns, which dynamic
//! programming on sums of sides yields (J. E. Beasley, J. Oper. Res. Soc. 36, 1985), and each is repeated as often as
//! whole sheets allow. What is left, and runs of many sizes, go through best-fit guillotine packing with several orders,
//! fits and splits (J. Jylänki's survey of rectangle packing, 2010) and are then improved by taking a few sheets apart
//! and packing them anew (ruin and recreate: G. Schrimpf and others, J. Comput. Phys. 159, 2000), where the sum of
//! squared fillings says which packing is nearer to one sheet less (E. Falkenauer, J. Heuristics 2, 1996).
//!
//! Effort is counted in steps, never by a clock, and chance comes from a fixed seed: the same labels give the same
//! sheets. A label is packed with the gap for the knife on its right and below, on a room that is larger by one gap.

mod board;
mod chance;
mod columns;
mod fill;
mod improve;
mod pattern;
mod table;

use std::rc::Rc;
use std::sync::Arc;

use crate::length::{Length, Rect, Size};
use board::Board;
use chance::Chance;
use fill::Effort;

pub use pattern::{Axis, Cut, Pattern, Spot};

/// Where labels are packed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Room {
    /// The part of a sheet in which labels lie; of a roll its width and the greatest length of one piece.
    pub size: Size,
    /// What is kept between two labels for the knife.
    pub gap: Length,
    /// Whether a piece is cut off where its last label ends.
    pub is_roll: bool,
}

/// Labels of one size.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Demand {
    /// The size.
    pub size: Size,
    /// Whether a label may lie turned by a quarter.
    pub may_turn: bool,
    /// How many there are.
    pub count: usize,
}

/// Every label on its sheet.
#[derive(Clone, Debug, PartialEq)]
pub struct Packed {
    /// The pattern of each sheet; sheets of the same pattern follow each other.
    pub sheets: Vec<Arc<Pattern>>,
}

/// The sheets that no packing can do without: the area of all labels with a gap each, by that of the room with a gap.
#[must_use]
pub fn fewest_by_area(room: &Room, demands: &[Demand]) -> usize {
    let shop = Shop::new(room, demands);
    let wanted: i64 = shop.kinds.iter().map(|kind| kind.area().saturating_mul(i64::from(kind.count))).sum();
    let one = (i64::from(shop.width) * i64::from(shop.height)).max(1);
    usize::try_from((wanted + one - 1) / one).unwrap_or(usize::MAX)
}

/// Packs all labels; `None` if one of them is larger than the room. Demands of equal size are best given as one.
#[must_use]
pub fn pack(room: &Room, demands: &[Demand]) -> Option<Packed> {
    let shop = Shop::new(room, demands);
    let fits = |kind: &Kind| kind.lies(shop.width, shop.height).next().is_some();
    if !shop.kinds.iter().all(|kind| kind.count == 0 || fits(kind)) {
        return None;
    }
    let mut chance = Chance::new();
    let columns = columns::columns(&shop);
    let (mut boards, left) = columns::whole_sheets(&shop, &columns);
    let tail = improve::construct(&shop, &left, &columns, &mut chance, &mut Effort::new(improve::CONSTRUCTION));
    boards.extend(tail.into_iter().map(Rc::new));
    improve::improve(&shop, &mut boards, &mut chance);
    if room.is_roll {
        improve::shorten(&shop, &mut boards, &mut chance);
    }
    Some(Packed { sheets: patterns(room, &shop, &boards) })
}

/// The patterns of the boards, each made once.
fn patterns(room: &Room, shop: &Shop, boards: &[Rc<Board>]) -> Vec<Arc<Pattern>> {
    let mut last: Option<(&Rc<Board>, Arc<Pattern>)> = None;
    let mut sheets = Vec::with_capacity(boards.len());
    for board in boards {
        let pattern = match &last {
            Some((known, pattern)) if Rc::ptr_eq(known, board) => Arc::clone(pattern),
            _ => Arc::new(Pattern::of(room, shop, board)),
        };
        sheets.push(Arc::clone(&pattern));
        last = Some((board, pattern));
    }
    sheets
}

/// The room and the sizes, all a gap larger.
struct Shop {
    width: i32,
    height: i32,
    kinds: Vec<Kind>,
    is_roll: bool,
}

/// Labels of one size, a gap larger than they are.
#[derive(Clone, Copy, Debug, Default)]
struct Kind {
    width: i32,
    height: i32,
    may_turn: bool,
    count: u32,
}

impl Kind {
    fn area(self) -> i64 {
        i64::from(self.width) * i64::from(self.height)
    }

    /// Width and height as it may lie in a room, and whether it is turned.
    fn lies(self, width: i32, height: i32) -> impl Iterator<Item = (bool, i32, i32)> {
        let turned = self.may_turn && self.width != self.height;
        let ways = [(false, self.width, self.height), (true, self.height, self.width)];
        ways.into_iter().filter(move |(is_turned, w, h)| (turned || !is_turned) && *w <= width && *h <= height)
    }
}

impl Shop {
    fn new(room: &Room, demands: &[Demand]) -> Self {
        let side = |length: Length| (length + room.gap).to_um().max(1);
        let kind = |demand: &Demand| Kind {
            width: side(demand.size.width),
            height: side(demand.size.height),
            may_turn: demand.may_turn,
            count: u32::try_from(demand.count).unwrap_or(u32::MAX),
        };
        let kinds = demands.iter().map(kind).collect();
        Self { width: side(room.size.width), height: side(room.size.height), kinds, is_roll: room.is_roll }
    }

    fn kind(&self, index: usize) -> Kind {
        self.kinds.get(index).copied().unwrap_or_default()
    }

    fn counts(&self) -> Vec<u32> {
        self.kinds.iter().map(|kind| kind.count).collect()
    }

    fn area(&self) -> i64 {
        i64::from(self.width) * i64::from(self.height)
    }
}

impl Packed {
    /// The share of the sheets that labels cover, from 0 to 1; of a roll that of the length used.
    #[must_use]
    pub fn share_used(&self, room: &Room) -> f64 {
        let area = |rect: Rect| rect.size.width.to_mm() * rect.size.height.to_mm();
        let labels: f64 = self.sheets.iter().flat_map(|sheet| &sheet.spots).map(|spot| area(spot.room)).sum();
        let length = |sheet: &Pattern| if room.is_roll { sheet.used.height } else { room.size.height };
        let sheets: f64 = self.sheets.iter().map(|sheet| room.size.width.to_mm() * length(sheet).to_mm()).sum();
        if sheets > 0.0 { labels / sheets } else { 0.0 }
    }
}

#[cfg(test)]
mod tests;
