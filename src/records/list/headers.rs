//! Whether the header of a filled list can be believed: a column that is passed over may be the one that says it.

use super::ListColumn;
use crate::finding::{Finding, code};
use crate::table::Source;
use crate::table::cell::closest;
use crate::table::column::folded;

/// The cells of the header under which something stands that is not read.
pub(super) fn unread(source: &Source) -> Vec<usize> {
    let is_read = |cell: usize| source.present.iter().any(|(_, present)| *present == cell);
    let is_filled =
        |cell: usize| (1..source.records.len()).any(|record| !source.cell_place(record, cell).cell.trim().is_empty());
    (0..source.headers.len()).filter(|cell| !is_read(*cell) && is_filled(*cell)).collect()
}

/// The findings of a reading as a list needs them: what is almost the name of a column is no column of somebody's own.
pub(super) fn judged(finding: Finding, source: &Source) -> Finding {
    if finding.code == code::EMPTY_FILE {
        return finding.help("`noticewright records list -o list.xlsx` writes a list to fill in");
    }
    let header = finding.place.as_ref().map(|place| place.column_name.as_str()).unwrap_or_default();
    match meant(header, source).filter(|_| finding.code == code::UNKNOWN_COLUMN) {
        Some(near) => {
            let message = format!("`{header}` is no column of a list of inspections, and may be meant as `{near}`");
            let judged = Finding::new(code::LIST_COLUMN_NOT_UNDERSTOOD, message);
            let judged = judged.help(format!("write `{near}`, or give the column a name that is less alike"));
            Finding { place: finding.place, ..judged }
        }
        // No house's headers are known for a list.
        None if finding.code == code::UNKNOWN_COLUMN => {
            finding.help("leave it; what is to be recorded stands under `note`")
        }
        None => finding,
    }
}

/// The column, of those that the file lacks, that a header is most likely meant as.
fn meant(header: &str, source: &Source) -> Option<&'static str> {
    let lacking =
        || ListColumn::ALL.iter().filter(|column| source.cell_of(**column).is_none()).map(|column| column.name());
    let begins = |name: &&str| name.len() >= 4 && folded(header).starts_with(&folded(name));
    closest(header, lacking()).or_else(|| lacking().find(begins))
}

/// A list in which no row says anything, though something stands under a header that is not read.
pub(super) fn nothing_said(source: &Source, cell: usize) -> Finding {
    let header = source.headers.get(cell).map(String::as_str).unwrap_or_default();
    let message = format!("no row says a condition or an event, and what stands under `{header}` is not read");
    let help = "if that is what was found or done, name the column `condition` or `event`";
    Finding::new(code::LIST_COLUMN_NOT_UNDERSTOOD, message).help(help).at(source.cell_place(0, cell))
}

/// Whether what stands under a header that is not read may be what a column would say: no day is written without a figure.
pub(super) fn can_be(source: &Source, cell: usize, column: ListColumn) -> bool {
    let has_figure = |record: usize| source.cell_place(record, cell).cell.contains(|c: char| c.is_ascii_digit());
    column != ListColumn::Date || (1..source.records.len()).any(has_figure)
}

/// A list without a column of its own for what an option says of all rows, though something stands under a header that is
/// not read.
pub(super) fn not_believed(source: &Source, cell: usize, column: ListColumn) -> Finding {
    let (name, header) = (column.name(), source.headers.get(cell).map(String::as_str).unwrap_or_default());
    let message =
        format!("the list has no column `{name}`, and what stands under `{header}` may be that: `--{name}` is refused");
    let help = format!("name the column `{name}`, or add an empty one of that name and leave `{header}` as it is");
    Finding::new(code::LIST_COLUMN_NOT_UNDERSTOOD, message).help(help).at(source.cell_place(0, cell))
}
