//! The first line: which column of the file is which.

use std::collections::BTreeMap;

use super::cell::{Fault, closest};
use super::column::{Heading, OtherFile, folded, same_name};
use super::desk::Desk;
use crate::finding::code;

/// Matches the cells of the header line and notes the result in the source. False if no row could be understood.
pub(super) fn read<C: Heading>(desk: &mut Desk, cells: &[String], own: &BTreeMap<String, C>, limit: usize) -> bool {
    desk.source_mut().headers = cells.iter().take(limit).map(|cell| super::cell::text::tidied(cell.trim())).collect();
    desk.source_mut().columns = vec![None; C::ALL.len()];
    let headers = desk.source.headers.clone();
    let width = cells.iter().rposition(|cell| !cell.trim().is_empty()).map_or(0, |last| last + 1);
    if width > limit {
        let message = format!("{width} columns are more than the {limit} accepted");
        desk.cell(
            0,
            limit,
            Fault::new(code::TOO_MANY_COLUMNS, message)
                .help("leave out what the notices do not need, or raise `columns` under [limits] in the job file"),
        );
        return false;
    }
    let matched: Vec<_> = headers.iter().map(|header| matched(header, own)).collect();
    if let Some(other) = other_file(&headers, &matched) {
        desk.record(0, belongs_elsewhere::<C>(other));
        return false;
    }
    if matched.iter().all(Option::is_none) {
        desk.record(0, no_header::<C>());
        return false;
    }
    let mut meant = Vec::new();
    for (cell, (header, column)) in headers.iter().zip(&matched).enumerate() {
        match column {
            Some(column) => assign(desk, cell, header, *column),
            None if header.is_empty() => desk.source_mut().nameless.push(cell),
            None => meant.extend(unknown(desk, cell, header, &matched)),
        }
    }
    report_missing::<C>(desk, &meant);
    desk.source.cell_of(C::KEY).is_some()
}

/// Kinds of file that are told even where they share the key with the file that is read.
const APART: [OtherFile; 2] = [
    OtherFile {
        file: "record",
        columns: &["event", "fingerprint", "says", "version"],
        help: "name another file here; a record is named with `--records`, or in the job file",
    },
    OtherFile {
        file: "list of inspections",
        columns: &["says", "last_inspection", "event", "condition"],
        help: "name another file here; `noticewright records import` reads a list of inspections",
    },
];

/// The kind of file whose columns they are, where that belongs in another place.
fn other_file<C: Heading>(headers: &[String], matched: &[Option<C>]) -> Option<OtherFile> {
    let has = |name: &&str| headers.iter().any(|header| same_name(header, name));
    let is_it = |other: &OtherFile| other.columns.iter().all(has);
    let usual = Some(C::OTHER).filter(|other| !matched.contains(&Some(C::KEY)) && is_it(other));
    usual.or_else(|| APART.into_iter().find(|other| other.file != C::FILE && is_it(other)))
}

/// The column that a header means: first by the house's own names, then by the usual ones.
fn matched<C: Heading>(header: &str, own: &BTreeMap<String, C>) -> Option<C> {
    if header.is_empty() {
        return None;
    }
    own.iter().find(|(name, _)| same_name(name, header)).map(|(_, column)| *column).or_else(|| C::named(header))
}

fn assign(desk: &mut Desk, cell: usize, header: &str, column: impl Heading) {
    if let Some(first) = desk.source.cell_of(column) {
        let message = format!(
            "`{header}` is a second column `{}`; the first is at {}",
            column.name(),
            desk.source.address(0, first)
        );
        desk.cell(0, cell, Fault::new(code::DUPLICATE_COLUMN, message).help("delete or rename one of the two"));
        return;
    }
    if let Some(slot) = desk.source_mut().columns.get_mut(column.index()) {
        *slot = u16::try_from(cell).ok();
        desk.source_mut().present.push((column.index(), cell));
    }
}

/// Reports a column that is not known; returns the name that was most likely meant.
fn unknown<C: Heading>(desk: &mut Desk, cell: usize, header: &str, matched: &[Option<C>]) -> Option<&'static str> {
    let free = || C::ALL.iter().filter(|column| !matched.contains(&Some(**column))).map(|column| column.name());
    let near = closest(header, free());
    let longer = || free().find(|name| name.len() >= 6 && folded(header).starts_with(&folded(name)));
    let (code, help) = match near.or_else(longer) {
        Some(name) if near.is_some() && name.len() >= 6 => {
            (code::MISSPELT_COLUMN, format!("did you mean `{name}`? If not, give it a name that is less alike"))
        }
        Some(name) => (code::UNKNOWN_COLUMN, format!("did you mean `{name}`?")),
        None => (code::UNKNOWN_COLUMN, format!("leave it, or map it to a column of the {} in the job file", C::FILE)),
    };
    let message = format!("`{header}` is no column of a {}, so nothing in it is read", C::FILE);
    desk.cell(0, cell, Fault::new(code, message).help(help));
    near
}

/// Reports needed columns that are not there, unless one was found misspelt.
fn report_missing<C: Heading>(desk: &mut Desk, meant: &[&str]) {
    for column in C::ALL.iter().filter(|column| column.needed() && !meant.contains(&column.name())) {
        if desk.source.cell_of(*column).is_none() {
            let message = format!("the needed column `{}` is missing", column.name());
            let help = format!("it holds: {}", column.meaning().trim_end_matches('.'));
            desk.record(0, Fault::new(code::MISSING_COLUMN, message).help(help));
        }
    }
}

fn belongs_elsewhere<C: Heading>(other: OtherFile) -> Fault {
    Fault::new(code::OTHER_FILE, format!("the columns are those of a {}, not of a {}", other.file, C::FILE))
        .help(other.help)
}

fn no_header<C: Heading>() -> Fault {
    let names: Vec<_> = C::ALL.iter().filter(|column| column.needed()).map(|column| column.name()).collect();
    Fault::new(code::NO_HEADER, format!("the first line names no column of a {}", C::FILE))
        .help(format!("begin with a line of column names, at least `{}`", names.join("`, `")))
}
