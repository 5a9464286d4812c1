//! The inspection list as a workbook: a table to fill in, with the words that its cells know, set up for A4 lying.

use std::io;

use rust_xlsxwriter::{DataValidation, Format, FormatAlign, FormatBorder, Worksheet, XlsxError};

use super::{ListColumn, ListRow};
use crate::records::{Condition, Event};
use crate::schedule::workbook::{self, Made};
use crate::writers::pdf::DocumentInfo;

/// The events that somebody can tell of from site; a printing is recorded where it is printed.
pub(super) const EVENTS: [Event; 4] = [Event::Inspected, Event::Fixed, Event::Replaced, Event::Withdrawn];

/// Makes the workbook.
///
/// # Errors
/// More rows than the form holds, or what its library says.
pub fn make(rows: &[ListRow<'_>], info: &DocumentInfo) -> io::Result<Made> {
    workbook::of_one_table(rows.iter().cloned(), info, to_fill_in)
}

/// The cells of the rows up to one, as they are filled in.
fn to_fill_in(sheet: &mut Worksheet, last: u32) -> Result<(), XlsxError> {
    let cell = Format::new().set_align(FormatAlign::Top).set_border(FormatBorder::Thin).set_text_wrap();
    let (words, day) = (cell.clone().set_num_format("@"), cell.set_num_format("yyyy-mm-dd"));
    for (place, column) in (0..).zip(ListColumn::ALL).filter(|(_, column)| column.is_filled_in()) {
        let format = if *column == ListColumn::Date { &day } else { &words };
        for row in 1..=last {
            sheet.write_blank(row, place, format)?;
        }
        let Some(known) = words_of(*column) else { continue };
        let refusal = format!("one of {}, or nothing", known.join(", "));
        let validation = DataValidation::new().allow_list_strings(&known)?.set_error_message(refusal)?;
        sheet.add_data_validation(1, place, last, place, &validation)?;
    }
    Ok(())
}

/// The words that the cells of a column know; `None` where any will do.
fn words_of(column: ListColumn) -> Option<Vec<&'static str>> {
    if column == ListColumn::Event {
        return Some(EVENTS.map(Event::name).to_vec());
    }
    (column == ListColumn::Condition).then(|| Condition::ALL.map(Condition::name).to_vec())
}
