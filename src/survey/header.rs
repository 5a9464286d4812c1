//! The first line: which column of the file holds which column of the survey.

use std::collections::BTreeMap;

use super::cell::{Fault, closest};
use super::column::{Column, folded, same_name};
use super::desk::Desk;
use crate::finding::code;

/// Matches the cells of the header line and notes the result in the source. False if no row could be understood.
pub(super) fn read(desk: &mut Desk, cells: &[String], own: &BTreeMap<String, Column>, limit: usize) -> bool {
    desk.source.headers = cells.iter().take(limit).map(|cell| super::cell::text::tidied(cell.trim())).collect();
    desk.source.columns = vec![None; Column::COUNT];
    let headers = desk.source.headers.clone();
    if cells.len() > limit {
        let message = format!("{} columns are more than the {limit} accepted", cells.len());
        desk.cell(0, limit, Fault::new(code::TOO_MANY_COLUMNS, message).help("leave out what the notices do not need"));
    }
    let matched: Vec<_> = headers.iter().map(|header| matched(header, own)).collect();
    if matched.iter().all(Option::is_none) {
        desk.record(0, no_header());
        return false;
    }
    for (cell, (header, column)) in headers.iter().zip(&matched).enumerate() {
        match column {
            Some(column) => assign(desk, cell, header, *column),
            None if header.is_empty() => {}
            None => unknown(desk, cell, header, &matched),
        }
    }
    report_missing(desk);
    desk.source.cell_of(Column::Enclosure).is_some()
}

/// The column that a header means: first by the house's own names, then by the survey's.
fn matched(header: &str, own: &BTreeMap<String, Column>) -> Option<Column> {
    if header.is_empty() {
        return None;
    }
    own.iter().find(|(name, _)| same_name(name, header)).map(|(_, column)| *column).or_else(|| Column::named(header))
}

fn assign(desk: &mut Desk, cell: usize, header: &str, column: Column) {
    if let Some(first) = desk.source.cell_of(column) {
        let message = format!(
            "`{header}` is a second column `{}`; the first is at {}",
            column.name(),
            desk.source.address(0, first)
        );
        desk.cell(0, cell, Fault::new(code::DUPLICATE_COLUMN, message).help("delete or rename one of the two"));
        return;
    }
    if let Some(slot) = desk.source.columns.get_mut(column as usize) {
        *slot = u16::try_from(cell).ok();
    }
}

fn unknown(desk: &mut Desk, cell: usize, header: &str, matched: &[Option<Column>]) {
    let free = Column::ALL.iter().filter(|column| !matched.contains(&Some(**column))).map(|column| column.name());
    let message = format!("`{header}` is no column of a survey, so nothing in it is read");
    let fault = match closest(header, free) {
        Some(near) if folded(near).len() >= 6 => Fault::new(code::MISSPELT_COLUMN, message)
            .help(format!("did you mean `{near}`? If not, give it a name that is less alike")),
        Some(near) => Fault::new(code::UNKNOWN_COLUMN, message).help(format!("did you mean `{near}`?")),
        None => Fault::new(code::UNKNOWN_COLUMN, message)
            .help("leave it, or map it to a column of the survey in the job file"),
    };
    desk.cell(0, cell, fault);
}

fn report_missing(desk: &mut Desk) {
    for column in Column::ALL.iter().filter(|column| column.needed()) {
        if desk.source.cell_of(*column).is_none() {
            let message = format!("the needed column `{}` is missing", column.name());
            desk.record(
                0,
                Fault::new(code::MISSING_COLUMN, message)
                    .help(format!("it holds: {}", column.meaning().trim_end_matches('.'))),
            );
        }
    }
}

fn no_header() -> Fault {
    let names: Vec<_> = Column::ALL.iter().filter(|column| column.needed()).map(|column| column.name()).collect();
    Fault::new(code::NO_HEADER, "the first line names no column of a survey")
        .help(format!("begin with a line of column names, at least `{}`", names.join("`, `")))
}
