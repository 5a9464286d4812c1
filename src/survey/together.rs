//! What only the rows of one enclosure show together: a circuit that stands there twice, ways of one board as two supplies.

use std::collections::HashMap;

use super::column::Column;
use super::record::{Enclosure, Row};
use crate::finding::code;
use crate::table::cell::Fault;
use crate::table::column::same_name;
use crate::table::value::Isolation;
use crate::table::{Desk, index};

/// Reports what the rows of an enclosure show together.
pub(super) fn report(desk: &mut Desk, enclosure: &Enclosure) {
    if let rows @ [_, _, ..] = enclosure.rows.as_slice() {
        if may_have_one_twice(rows) {
            report_twice(desk, enclosure);
        }
        report_ways(desk, enclosure);
    }
}

/// Few rows are compared with each other, which is less work than to hash them.
const FEW: usize = 16;

fn may_have_one_twice(rows: &[Row]) -> bool {
    let is_there_before = |place: usize, row: &Row| rows.iter().take(place).any(|other| other.circuit == row.circuit);
    rows.len() > FEW || rows.iter().enumerate().any(|(place, row)| is_there_before(place, row))
}

/// A circuit reaches an enclosure by the devices of one row. Two rows that name others mostly are two surveys of it in one
/// file, of which one is no longer true. A bar that is an enclosure bears its own designation as the circuit of every row.
fn report_twice(desk: &mut Desk, enclosure: &Enclosure) {
    let is_bar = |row: &&Row| same_name(&row.circuit, &enclosure.designation);
    let mut first_of: HashMap<&str, &Row> = HashMap::with_capacity(enclosure.rows.len());
    for row in enclosure.rows.iter().filter(|row| !row.circuit.is_empty() && !is_bar(row)) {
        let first = *first_of.entry(&row.circuit).or_insert(row);
        if !is_other_way(first, row) {
            continue;
        }
        let cell = desk.source.cell_of(Column::Isolator).unwrap_or(0);
        let there = desk.source.address(index(first.record) + 1, cell);
        let message =
            format!("circuit `{}` of `{}` has other isolators in {there}", row.circuit, enclosure.designation);
        let fault = Fault::new(code::CIRCUIT_LISTED_TWICE, message)
            .help("delete the row that is no longer true; if both devices must be opened write them in one row, ` + ` between; \
                   if each isolates another thing that it feeds, say in `serves` which");
        desk.cell_of(&enclosure.designation, index(row.record) + 1, Some(cell), fault);
    }
}

/// Whether a row speaks of the same feed as an earlier one and names other devices for it.
fn is_other_way(first: &Row, row: &Row) -> bool {
    let (Some(Isolation::By(one)), Some(Isolation::By(other))) = (&first.isolation, &row.isolation) else {
        return false;
    };
    let is_one_feed =
        first.fed_from == row.fed_from && first.source == row.source && first.conductors == row.conductors;
    // One circuit may well end in two things, each with its own isolator.
    let serves_another = first.serves.is_some() && row.serves.is_some() && first.serves != row.serves;
    let is_another = first.record != row.record && !serves_another;
    is_one_feed && is_another && one.iter().all(|device| !other.contains(device))
}

/// `DB-A/7` and `DB-A/9` in `fed_from` mostly are ways of one board, and count as two supplies; `DB/1` and `DB/2` are boards.
fn report_ways(desk: &mut Desk, enclosure: &Enclosure) {
    let mut first_of: HashMap<&str, &str> = HashMap::new();
    for row in &enclosure.rows {
        let Some(feed) = row.fed_from.as_deref() else { continue };
        let Some((board, _)) = feed.rsplit_once('/').filter(|(board, way)| is_way(board, way)) else { continue };
        let first = *first_of.entry(board).or_insert(feed);
        if first == feed {
            continue;
        }
        let message = format!("`{first}` and `{feed}` read as ways of one board, and count as two supplies");
        let fault = Fault::new(code::WAY_AS_SUPPLY, message)
            .help(format!(
                "if `{board}` is one board write it alone in `fed_from`, and the way in `circuit`; if these are two boards all is \
                 right, for taken as one they would pass for one supply"
            ));
        let cell = desk.source.cell_of(Column::FedFrom);
        return desk.cell_of(&enclosure.designation, index(row.record) + 1, cell, fault);
    }
}

fn is_way(board: &str, way: &str) -> bool {
    let is_word = board.chars().all(char::is_alphabetic);
    !is_word && !way.is_empty() && way.bytes().all(|byte| byte.is_ascii_digit())
}
