//! `records`: what became of the notices; one file a subcommand.

mod asked;
mod due;
mod history;
mod import;
mod kept;
mod list;
mod today;

use super::arguments::{General, Records, RecordsCommand};
use super::failure::Failure;
use super::terminal::Terminal;

/// Does what is asked for with a record.
pub(super) fn perform(records: &Records, general: &General, terminal: Terminal) -> Result<(), Failure> {
    match &records.command {
        RecordsCommand::History(history) => history::perform(history, general, terminal),
        RecordsCommand::Due(due) => due::perform(due, general, terminal),
        RecordsCommand::List(list) => list::perform(list, general, terminal),
        RecordsCommand::Import(import) => import::perform(import, general, terminal),
    }
}
