//! `records`: what became of the notices; one file a subcommand.

mod history;
mod kept;
mod pages;
mod today;

use super::arguments::{General, Records, RecordsCommand};
use super::failure::Failure;
use super::terminal::Terminal;

/// Does what is asked for with a record.
pub(super) fn perform(records: &Records, general: &General, terminal: Terminal) -> Result<(), Failure> {
    match &records.command {
        RecordsCommand::History(history) => history::perform(history, general, terminal),
        RecordsCommand::Pages(pages) => pages::perform(pages, general, terminal),
    }
}
