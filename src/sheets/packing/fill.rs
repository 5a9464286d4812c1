//! Fills one sheet greedily: each label goes into the free piece that fits it best, and what is left of the piece is cut
//! in two (J. Jylänki, A thousand ways to pack the bin, 2010: guillotine packing).

use super::Shop;
use super::board::{Board, Content, Piece};
use super::chance::Chance;
use super::pattern::Axis;

/// What may still be spent, in looks at a free piece.
pub(super) struct Effort(u64);

impl Effort {
    pub(super) const fn new(steps: u64) -> Self {
        Self(steps)
    }

    pub(super) const fn spend(&mut self, steps: u64) {
        self.0 = self.0.saturating_sub(steps);
    }

    pub(super) const fn left(&self) -> u64 {
        self.0
    }

    pub(super) const fn is_spent(&self) -> bool {
        self.0 == 0
    }
}

/// Which free piece is the best for a label.
#[derive(Clone, Copy)]
enum Fit {
    /// The one with the least area.
    Area,
    /// The one in which the shorter of the two distances left over is the least.
    ShortSide,
    /// The one in which the longer is the least.
    LongSide,
}

/// Which way what is left of a piece is cut first.
#[derive(Clone, Copy)]
enum Split {
    /// So that the one part that is left is as large as it can be.
    LargePart,
    /// So that the two parts are alike.
    AlikeParts,
    Across,
    Down,
    ByChance,
}

/// How one sheet is filled.
#[derive(Clone, Copy)]
pub(super) struct Rules {
    fit: Fit,
    split: Split,
}

impl Rules {
    pub(super) fn by_chance(chance: &mut Chance) -> Self {
        let fit = match chance.below(3) {
            0 => Fit::Area,
            1 => Fit::ShortSide,
            _ => Fit::LongSide,
        };
        let split = match chance.below(6) {
            0 | 1 => Split::LargePart,
            2 => Split::AlikeParts,
            3 => Split::Across,
            4 => Split::Down,
            _ => Split::ByChance,
        };
        Self { fit, split }
    }
}

/// Fills a board with labels of which there are `left`, size by size in an order.
pub(super) fn fill(
    shop: &Shop,
    mut board: Board,
    left: &[u32],
    order: &[usize],
    rules: Rules,
    chance: &mut Chance,
    effort: &mut Effort,
) -> Board {
    let whole = board.pieces.iter().enumerate().filter(|(_, piece)| piece.content == Content::Free);
    let mut free: Vec<usize> = whole.map(|(number, _)| number).collect();
    let narrowest = order.iter().map(|kind| shop.kind(*kind)).map(|kind| kind.width.min(kind.height)).min();
    let narrowest = narrowest.unwrap_or(i32::MAX);
    // To begin a sheet and to go through the sizes costs time as well.
    effort.spend(16 + 4 * order.len() as u64);
    for &number in order {
        let kind = shop.kind(number);
        let mut count = left.get(number).copied().unwrap_or(0);
        while count > 0 {
            effort.spend(1 + free.len() as u64);
            let Some((place, turned, width, height)) = best(&board, &free, kind, rules.fit) else { break };
            let piece = free.swap_remove(place);
            let Some(room) = board.piece(piece) else { break };
            let axis = axis(room, (width, height), rules.split, chance);
            let rest = board.lay(piece, (number, turned, width, height), axis);
            free.extend(rest.into_iter().flatten().filter(|rest| {
                board.piece(*rest).is_some_and(|piece| piece.width >= narrowest && piece.height >= narrowest)
            }));
            count -= 1;
        }
    }
    board
}

/// The place in the list of free pieces that fits best, and how the label lies in it.
fn best(board: &Board, free: &[usize], kind: super::Kind, fit: Fit) -> Option<(usize, bool, i32, i32)> {
    let ways = free.iter().enumerate().filter_map(|(place, number)| Some((place, board.piece(*number)?)));
    let ways = ways.flat_map(|(place, piece)| {
        kind.lies(piece.width, piece.height).map(move |(turned, width, height)| {
            let (across, down) = (i64::from(piece.width - width), i64::from(piece.height - height));
            let score = match fit {
                Fit::Area => (i64::from(piece.width) * i64::from(piece.height), across.min(down)),
                Fit::ShortSide => (across.min(down), across.max(down)),
                Fit::LongSide => (across.max(down), across.min(down)),
            };
            (score, (place, turned, width, height))
        })
    });
    ways.min_by_key(|(score, _)| *score).map(|(_, way)| way)
}

/// The way of the first cut beside a label.
fn axis(piece: Piece, (width, height): (i32, i32), split: Split, chance: &mut Chance) -> Axis {
    let (across, down) = (i64::from(piece.width - width), i64::from(piece.height - height));
    // A first cut across leaves the whole width below the label; one down leaves the whole height beside it.
    let (below, beside) = (i64::from(piece.width) * down, i64::from(piece.height) * across);
    let is_across = match split {
        Split::LargePart => below >= beside,
        Split::AlikeParts => below < beside,
        Split::Across => true,
        Split::Down => false,
        Split::ByChance => chance.one_in(2),
    };
    if is_across { Axis::Across } else { Axis::Down }
}
