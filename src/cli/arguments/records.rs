//! Arguments of `records`, one structure a subcommand.

mod due;
mod marking;

use clap::{Args, Subcommand};

use super::changes::CheckRecord;
use super::{Again, PagesOf, Printed};
pub(in crate::cli) use due::{Due, DueBy, ImportOf, ListOf, Which};
pub(in crate::cli) use marking::{
    ConditionChoice, MarkDestroyed, MarkFixed, MarkInspected, MarkNumbers, MarkSeen, MarkWithdrawn,
};

/// Arguments of `records`.
#[derive(Debug, Args)]
#[command(
    arg_required_else_help = true,
    after_help = "\
Examples:
  noticewright records fixed CH3-JB2/1 --by JD
  noticewright records inspected 'CH3-*' --condition good
  noticewright records history CH3-JB2/1
  noticewright records due
  noticewright records list -o list.xlsx
  noticewright records import list.xlsx --by JD
  noticewright records printed survey.csv --only 'Chamber 3'
  noticewright records again survey.csv -o again.pdf --condition faded --used-cells 1-3 --record
  noticewright records pages survey.csv -o site

The record is the file that `records` under [job] in the job file names, or `--records`. Without `--job` the job file is \
`job.toml` beside the survey, or in the folder where you are."
)]
pub(in crate::cli) struct Records {
    /// What to do.
    #[command(subcommand)]
    pub command: RecordsCommand,
}

/// What can be done with a record.
#[derive(Debug, Subcommand)]
pub(in crate::cli) enum RecordsCommand {
    /// Record that notices were fixed where none was
    Fixed(MarkFixed),
    /// Record that notices were fixed in the place of older copies
    Replaced(MarkFixed),
    /// Record in which condition notices were found
    Inspected(MarkInspected),
    /// Record that notices were taken away, and none came in their place
    Withdrawn(MarkWithdrawn),
    /// Record that copies were destroyed that lay printed, and were not fixed
    Destroyed(MarkDestroyed),
    /// Show what stands of a notice, what was printed and everything that happened to it
    History(HistoryOf),
    /// Tell what must be done, the most urgent first
    Due(Due),
    /// Write an inspection list to fill in by hand
    List(ListOf),
    /// Record what was filled into an inspection list
    Import(ImportOf),
    /// Record notices as printed that were printed without `--record`
    Printed(Printed),
    /// Print notices again: by number, condition or area, from spoiled cells, or because they are altered
    Again(Again),
    /// Tell which fixed notices are no longer true by a survey, and which are lacking
    Check(CheckRecord),
    /// Write a page a notice for any plain web server, where the codes of the notices lead
    Pages(PagesOf),
}

/// Arguments of `records history`.
#[derive(Debug, Args)]
pub(in crate::cli) struct HistoryOf {
    /// Number of the notice
    #[arg(value_name = "NOTICE")]
    pub number: String,
    /// Also what each printing said: of the first all of it, of the others what changed
    #[arg(long)]
    pub says: bool,
}
