//! Column generation for few sizes in many copies: which patterns, and how often each, by linear programming with the
//! best pattern for the prices of the moment as the next column (P. C. Gilmore and R. E. Gomory, 1961 and 1965).

use std::rc::Rc;

use super::Shop;
use super::board::{Board, Content};
use super::pattern::Axis;
use super::table::Table;

/// Sizes of which there are more are too many for the table; best-fit packing does well on them.
const MOST_KINDS: usize = 24;

/// Labels of one size, on average, from which a pattern is worth repeating.
const COPIES: usize = 3;

/// Steps of all tables of a run together.
const STEPS: u64 = 120_000_000;

/// Prices are whole numbers in the table.
const SCALE: f64 = 1e9;

/// Below this a difference is nothing.
const NOTHING: f64 = 1e-7;

/// A pattern and how many sheets of it the linear programme asks for; without a pattern, labels made for nothing.
struct Column {
    board: Option<Rc<Board>>,
    sheets: f64,
}

/// The columns that need the fewest sheets if sheets could be divided, the most used first.
pub(super) fn columns(shop: &Shop) -> Vec<(Rc<Board>, f64)> {
    let total: usize = shop.kinds.iter().map(|kind| kind.count as usize).sum();
    let in_use = shop.kinds.iter().filter(|kind| kind.count > 0).count();
    if in_use == 0 || shop.kinds.len() > MOST_KINDS || total < COPIES * in_use {
        return Vec::new();
    }
    let table = Table::new(shop);
    let mut programme = Programme::new(shop, &table);
    for _ in 0..(STEPS / table.steps().max(1)).max(1) {
        if !programme.step(&table) {
            break;
        }
    }
    let used = programme.columns.into_iter().filter(|column| column.sheets > NOTHING);
    let mut used: Vec<_> = used.filter_map(|column| Some((column.board?, column.sheets))).collect();
    used.sort_by(|(_, one), (_, other)| other.total_cmp(one));
    used
}

/// Each column as often as whole sheets allow, and the labels that are left.
pub(super) fn whole_sheets(shop: &Shop, columns: &[(Rc<Board>, f64)]) -> (Vec<Rc<Board>>, Vec<u32>) {
    let (mut boards, mut left) = (Vec::new(), shop.counts());
    for (board, sheets) in columns {
        let counts = board.counts(left.len());
        let mut sheets = (sheets + NOTHING).floor();
        while sheets >= 1.0 && counts.iter().zip(&left).all(|(count, left)| count <= left) {
            left.iter_mut().zip(&counts).for_each(|(left, count)| *left -= count);
            boards.push(Rc::clone(board));
            sheets -= 1.0;
        }
    }
    (boards, left)
}

/// The linear programme: as few sheets as possible that hold all labels. One column stands for each size.
struct Programme {
    columns: Vec<Column>,
    /// The inverse of the matrix of the columns, row by row.
    inverse: Vec<Vec<f64>>,
}

impl Programme {
    /// Begins with sheets of one size each.
    fn new(shop: &Shop, table: &Table<'_>) -> Self {
        let kinds = shop.kinds.len();
        let (mut columns, mut inverse) = (Vec::new(), Vec::new());
        for (number, kind) in shop.kinds.iter().enumerate() {
            let mut worth = vec![0; kinds];
            if let Some(worth) = worth.get_mut(number) {
                *worth = 1;
            }
            let board = [rows(shop, number), table.best(&worth)].into_iter().max_by_key(|board| board.area);
            let each = board.iter().flat_map(Board::labels).count().max(1) as f64;
            columns.push(Column { board: board.map(Rc::new), sheets: f64::from(kind.count) / each });
            inverse.push((0..kinds).map(|column| if column == number { 1.0 / each } else { 0.0 }).collect());
        }
        Self { columns, inverse }
    }

    /// Takes in one more column; whether there was one.
    fn step(&mut self, table: &Table<'_>) -> bool {
        let kinds = self.columns.len();
        let prices: Vec<f64> = (0..kinds).map(|kind| self.price(kind)).collect();
        let dearest = prices.iter().enumerate().min_by(|(_, one), (_, other)| one.total_cmp(other));
        if let Some((kind, price)) = dearest
            && *price < -NOTHING
        {
            let amounts: Vec<f64> = (0..kinds).map(|number| if number == kind { -1.0 } else { 0.0 }).collect();
            return self.enter(None, &amounts);
        }
        #[expect(clippy::cast_possible_truncation, reason = "a price is at most the value of one sheet")]
        let worth: Vec<i64> = prices.iter().map(|price| (price * SCALE) as i64).collect();
        let board = table.best(&worth);
        let amounts: Vec<f64> = board.counts(kinds).into_iter().map(f64::from).collect();
        let value: f64 = amounts.iter().zip(&prices).map(|(amount, price)| amount * price).sum();
        value > 1.0 + NOTHING * 10.0 && self.enter(Some(Rc::new(board)), &amounts)
    }

    /// What one more label of a size would cost, in sheets.
    fn price(&self, kind: usize) -> f64 {
        let rows = self.columns.iter().zip(&self.inverse).filter(|(column, _)| column.board.is_some());
        rows.filter_map(|(_, row)| row.get(kind)).sum()
    }

    /// Takes a column in for the one that is first used up; whether there is such a one.
    fn enter(&mut self, board: Option<Rc<Board>>, amounts: &[f64]) -> bool {
        let along: Vec<f64> =
            self.inverse.iter().map(|row| row.iter().zip(amounts).map(|(one, other)| one * other).sum()).collect();
        let ratios = self.columns.iter().zip(&along).enumerate().filter(|(_, (_, along))| **along > NOTHING);
        let ratios = ratios.map(|(row, (column, along))| (row, (column.sheets / along).max(0.0), *along));
        let Some((leaving, sheets, pivot)) = ratios.min_by(|(_, one, _), (_, other, _)| one.total_cmp(other)) else {
            return false;
        };
        let Some(row) = self.inverse.get_mut(leaving) else { return false };
        row.iter_mut().for_each(|value| *value /= pivot);
        let row = row.clone();
        for (number, (other, along)) in self.inverse.iter_mut().zip(&along).enumerate() {
            if number != leaving {
                other.iter_mut().zip(&row).for_each(|(value, of_row)| *value -= along * of_row);
            }
        }
        for (column, along) in self.columns.iter_mut().zip(&along) {
            column.sheets -= sheets * along;
        }
        if let Some(column) = self.columns.get_mut(leaving) {
            *column = Column { board, sheets };
        }
        true
    }
}

/// As many labels of one size as rows and columns of one direction hold.
fn rows(shop: &Shop, number: usize) -> Board {
    let grids = shop.kind(number).lies(shop.width, shop.height).map(|(turned, width, height)| {
        let mut board = Board::new(shop);
        let mut rest = 0;
        while let Some(row) = board.piece(rest).filter(|piece| piece.height >= height) {
            let (mut cell, below) =
                if row.height > height { board.cut(rest, Axis::Across, height) } else { (rest, usize::MAX) };
            while board.piece(cell).is_some_and(|piece| piece.width >= width && piece.content == Content::Free) {
                let [beside, _] = board.lay(cell, (number, turned, width, height), Axis::Down);
                cell = beside.unwrap_or(usize::MAX);
            }
            rest = below;
        }
        board
    });
    grids.max_by_key(|board| board.area).unwrap_or_else(|| Board::new(shop))
}
