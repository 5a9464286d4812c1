//! Arguments of `records`, one structure a subcommand.

mod due;

use clap::{Args, Subcommand};

pub(in crate::cli) use due::{Due, DueBy, ImportOf, ListOf, Which};

/// Arguments of `records`.
#[derive(Debug, Args)]
#[command(
    arg_required_else_help = true,
    after_help = "\
Examples:
  noticewright records history CH3-JB2/1
  noticewright records due
  noticewright records list -o list.xlsx
  noticewright records import list.xlsx --by JD

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
    /// Show everything that happened to a notice
    History(HistoryOf),
    /// Tell what must be done, the most urgent first
    Due(Due),
    /// Write an inspection list to fill in by hand
    List(ListOf),
    /// Record what was filled into an inspection list
    Import(ImportOf),
}

/// Arguments of `records history`.
#[derive(Debug, Args)]
pub(in crate::cli) struct HistoryOf {
    /// Number of the notice
    #[arg(value_name = "NOTICE")]
    pub number: String,
}
