//! Makes sheets of what patterns leave over, and packings better: some sheets are taken apart and packed anew, and the new
//! ones kept where they are not worse (ruin and recreate).

use std::rc::Rc;

use super::Shop;
use super::board::Board;
use super::chance::Chance;
use super::fill::{Effort, Rules, fill};

/// Looks at free pieces for the first packing of what is left over.
pub(super) const CONSTRUCTION: u64 = 400_000;

/// Looks at free pieces to make a packing better, and after how many that gained nothing it is left as it is.
const IMPROVEMENT: u64 = 2_000_000;
const PATIENCE: u64 = 300_000;

/// Looks to make one piece of a roll shorter, and pieces that are tried.
const SHORTENING: u64 = 200_000;
const SHORTENED: usize = 3;

/// Sheets that are made better at most; those before them are full.
const MOST_SHEETS: usize = 48;

/// Sheets taken apart at once, at most.
const MOST_TAKEN: usize = 4;

/// Sheets tried for each sheet that is kept.
const TRIES: usize = 4;

/// Whole packings that are tried at first.
const ROUNDS: usize = 12;

/// Packs what is left onto sheets of its own.
pub(super) fn construct(
    shop: &Shop,
    left: &[u32],
    columns: &[(Rc<Board>, f64)],
    chance: &mut Chance,
    effort: &mut Effort,
) -> Vec<Board> {
    let mut best: Option<Vec<Board>> = None;
    for _ in 0..ROUNDS {
        let most = best.as_ref().map_or(usize::MAX, Vec::len);
        let found = sequence(shop, left, columns, most, chance, effort);
        let is_better = |known: &Vec<Board>| found.as_ref().is_some_and(|found| score(found) > score(known));
        if best.as_ref().is_none_or(is_better) {
            best = found.or(best);
        }
        if effort.is_spent() {
            break;
        }
    }
    best.unwrap_or_default()
}

/// One sheet after the other, each the fullest of some tries; `None` if there are more than `most`.
fn sequence(
    shop: &Shop,
    left: &[u32],
    columns: &[(Rc<Board>, f64)],
    most: usize,
    chance: &mut Chance,
    effort: &mut Effort,
) -> Option<Vec<Board>> {
    let (mut left, mut boards) = (left.to_vec(), Vec::new());
    let known = |left: &[u32]| columns.iter().map(|(board, _)| board.only(shop, left)).max_by_key(|board| board.area);
    while left.iter().any(|count| *count > 0) {
        if boards.len() == most {
            return None;
        }
        let tries = (0..TRIES).map(|_| {
            let order = order(shop, &left, chance);
            fill(shop, Board::new(shop), &left, &order, Rules::by_chance(chance), chance, effort)
        });
        let board = tries.collect::<Vec<_>>().into_iter().chain(known(&left)).max_by_key(|board| board.area)?;
        if board.area == 0 {
            return None;
        }
        for (left, count) in left.iter_mut().zip(board.counts(shop.kinds.len())) {
            *left = left.saturating_sub(count);
        }
        boards.push(board);
    }
    Some(boards)
}

/// The sizes of which some are left, the largest first but for chance.
fn order(shop: &Shop, left: &[u32], chance: &mut Chance) -> Vec<usize> {
    let by_side = chance.one_in(3);
    let spread = [0, 10, 30, 60].get(chance.below(4)).copied().unwrap_or(0);
    let mut order: Vec<(i64, usize)> = left
        .iter()
        .enumerate()
        .filter(|(_, count)| **count > 0)
        .map(|(number, _)| {
            let kind = shop.kind(number);
            let weight = if by_side { i64::from(kind.width.max(kind.height)) } else { kind.area() };
            let percent = 100 + i64::try_from(chance.below(spread + 1)).unwrap_or(0);
            (-weight * percent, number)
        })
        .collect();
    order.sort_unstable();
    order.into_iter().map(|(_, number)| number).collect()
}

/// How good a packing is: fewer sheets, then fuller ones.
fn score(boards: &[Board]) -> (std::cmp::Reverse<usize>, f64) {
    (std::cmp::Reverse(boards.len()), boards.iter().map(squared).sum())
}

fn squared(board: &Board) -> f64 {
    let area = board.area as f64 / 1e9;
    area * area
}

/// Takes sheets of the end of a packing apart and packs them anew, again and again.
pub(super) fn improve(shop: &Shop, boards: &mut Vec<Rc<Board>>, chance: &mut Chance) {
    let kept = boards.len().saturating_sub(MOST_SHEETS);
    let mut current: Vec<Rc<Board>> = boards.split_off(kept);
    let area: i64 = current.iter().map(|board| board.area).sum();
    let fewest = usize::try_from((area + shop.area() - 1) / shop.area().max(1)).unwrap_or(0);
    let mut effort = Effort::new(IMPROVEMENT);
    let mut last_gain = effort.left();
    while current.len() > fewest && !effort.is_spent() && last_gain - effort.left() < PATIENCE {
        let taken = take(&current, chance);
        let mut left = vec![0; shop.kinds.len()];
        for board in taken.iter().filter_map(|number| current.get(*number)) {
            left.iter_mut().zip(board.counts(shop.kinds.len())).for_each(|(left, count)| *left += count);
        }
        let before: f64 = taken.iter().filter_map(|number| current.get(*number)).map(|board| squared(board)).sum();
        effort.spend(left.len() as u64);
        let Some(fresh) = sequence(shop, &left, &[], taken.len(), chance, &mut effort) else { continue };
        let after: f64 = fresh.iter().map(squared).sum();
        if fresh.len() < taken.len() || after > before {
            last_gain = effort.left();
        }
        if fresh.len() < taken.len() || after >= before {
            let mut number = 0;
            current.retain(|_| {
                number += 1;
                !taken.contains(&(number - 1))
            });
            current.extend(fresh.into_iter().map(Rc::new));
        }
    }
    current.sort_by_key(|board| std::cmp::Reverse(board.area));
    boards.extend(current);
}

/// The numbers of some sheets, the emptiest often among them.
fn take(boards: &[Rc<Board>], chance: &mut Chance) -> Vec<usize> {
    let mut taken = Vec::with_capacity(MOST_TAKEN);
    if !chance.one_in(3) {
        let emptiest = boards.iter().enumerate().min_by_key(|(_, board)| board.area);
        taken.extend(emptiest.map(|(number, _)| number));
    }
    let wanted = (2 + chance.below(MOST_TAKEN - 1)).min(boards.len());
    while taken.len() < wanted {
        let number = chance.below(boards.len());
        if !taken.contains(&number) {
            taken.push(number);
        }
    }
    taken
}

/// Makes the last pieces of a roll shorter, the very last first.
pub(super) fn shorten(shop: &Shop, boards: &mut [Rc<Board>], chance: &mut Chance) {
    for board in boards.iter_mut().rev().take(SHORTENED) {
        let left = board.counts(shop.kinds.len());
        let mut effort = Effort::new(SHORTENING);
        while !effort.is_spent() {
            let shorter = Board::of(shop.width, board.lowest() - 1);
            let order = order(shop, &left, chance);
            let fresh = fill(shop, shorter, &left, &order, Rules::by_chance(chance), chance, &mut effort);
            if fresh.area == board.area {
                *board = Rc::new(fresh);
            }
        }
    }
}
