//! `records`: what became of the notices; one file a subcommand.

mod again;
mod asked;
mod check;
mod due;
mod history;
mod import;
mod issued;
mod kept;
mod later;
mod list;
mod marking;
mod numbers;
mod pages;
mod printed;
mod recording;
mod shown;
mod today;

pub(super) use issued::issue;
pub(super) use kept::Record;
pub(super) use kept::{missing, nowhere, say_if_not_there};
pub(super) use later::{command as recorded_later, labels as labels_command, next};
pub(super) use marking::Asked as Marked;
pub(super) use printed::RECORDED_NOW;
pub(super) use recording::{Recorded, Recording};
pub(super) use today::day;

use super::arguments::{General, Records, RecordsCommand};
use super::failure::Failure;
use super::terminal::Terminal;

/// Does what is asked for with a record.
pub(super) fn perform(records: &Records, general: &General, terminal: Terminal) -> Result<(), Failure> {
    match &records.command {
        RecordsCommand::Fixed(fixed) => marking::fixed(fixed, general, terminal),
        RecordsCommand::Replaced(replaced) => marking::replaced(replaced, general, terminal),
        RecordsCommand::Inspected(inspected) => marking::inspected(inspected, general, terminal),
        RecordsCommand::Withdrawn(withdrawn) => marking::withdrawn(withdrawn, general, terminal),
        RecordsCommand::Destroyed(destroyed) => marking::destroyed(destroyed, general, terminal),
        RecordsCommand::Check(check) => check::perform(check, general, terminal),
        RecordsCommand::History(history) => history::perform(history, general, terminal),
        RecordsCommand::Due(due) => due::perform(due, general, terminal),
        RecordsCommand::List(list) => list::perform(list, general, terminal),
        RecordsCommand::Import(import) => import::perform(import, general, terminal),
        RecordsCommand::Printed(printed) => printed::perform(printed, general, terminal),
        RecordsCommand::Again(again) => again::perform(again, general, terminal),
        RecordsCommand::Pages(pages) => pages::perform(pages, general, terminal),
    }
}
