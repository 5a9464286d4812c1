//! Arguments of `records`, one structure a subcommand.

use std::path::PathBuf;

use clap::{ArgAction, Args, Subcommand};

/// Arguments of `records`.
#[derive(Debug, Args)]
#[command(
    arg_required_else_help = true,
    after_help = "\
Examples:
  noticewright records history CH3-JB2/1
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
    /// Show everything that happened to a notice
    History(HistoryOf),
    /// Write a page a notice for any plain web server, where the codes of the notices lead
    Pages(PagesOf),
}

/// Arguments of `records history`.
#[derive(Debug, Args)]
pub(in crate::cli) struct HistoryOf {
    /// Number of the notice
    #[arg(value_name = "NOTICE")]
    pub number: String,
}

/// Arguments of `records pages`.
#[derive(Debug, Args)]
pub(in crate::cli) struct PagesOf {
    /// The survey: CSV, XLSX or ODS; `-` is standard input
    #[arg(value_name = "SURVEY")]
    pub survey: PathBuf,
    /// The folder for the pages; it is made if it is not there
    #[arg(short, long, value_name = "DIR")]
    pub output: PathBuf,
    /// Sheet format by name or file; may be given more than once
    #[arg(long, value_name = "NAME", action = ArgAction::Append)]
    pub sheet: Vec<String>,
    /// Only notices whose enclosure, device, area or number matches, such as `CH3-*`; may be given more than once
    #[arg(long, value_name = "GLOB", action = ArgAction::Append)]
    pub only: Vec<String>,
    /// Write the rest where enclosures have errors, and name those that were left out
    #[arg(long)]
    pub leave_out_faulty: bool,
}
