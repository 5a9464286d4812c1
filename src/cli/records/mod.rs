//! `records`: what became of the notices; one file a subcommand.

mod check;
mod history;
pub(super) mod kept;
mod today;

use super::arguments::{General, Records, RecordsCommand};
use super::failure::Failure;
use super::terminal::Terminal;

/// Does what is asked for with a record.
pub(super) fn perform(records: &Records, general: &General, terminal: Terminal) -> Result<(), Failure> {
    match &records.command {
        RecordsCommand::Check(check) => check::perform(check, general, terminal),
        RecordsCommand::History(history) => history::perform(history, general, terminal),
    }
}
