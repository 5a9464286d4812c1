//! Arguments of `records due`, `records list` and `records import`.

use std::path::PathBuf;

use clap::{ArgAction, Args};

use crate::cli::arguments::SubjectChoice;

/// Arguments of `records due`.
#[derive(Debug, Args)]
#[command(after_help = "\
Examples:
  noticewright records due
  noticewright records due --on 2027-06-01 --within 6      also what is coming in the six months after
  noticewright records due --only 'Chamber 3' -o due.csv

Reasons, the most urgent first: found wrong; a newer revision printed, an older one fixed; found missing, damaged or faded; \
printed, not fixed; past the least life of its material at its place; inspection due.

How often notices are inspected is your own choice, since no standard fixes it; 12 months without one. Only what the record \
tells is looked at: whether a notice is still true is for a survey, and for whoever stands in front of it.")]
pub(in crate::cli) struct Due {
    /// By when, and how often
    #[command(flatten)]
    pub by: DueBy,
    /// Of which notices
    #[command(flatten)]
    pub which: Which,
    /// Also write it into this file, a CSV; `-` is standard output, in the place of the text
    #[arg(short, long, value_name = "FILE")]
    pub output: Option<PathBuf>,
}

/// By when something is due, and how often notices are inspected.
#[derive(Debug, Args)]
pub(in crate::cli) struct DueBy {
    /// The day, such as 2027-06-01; today without it. What is recorded for later days is not looked at
    #[arg(long, value_name = "DAY")]
    pub on: Option<String>,
    /// Months from one inspection to the next, 1 to 600; without it, `inspection_months` of the job file, else 12
    #[arg(long, value_name = "MONTHS", value_parser = clap::value_parser!(u16).range(1..=600))]
    pub interval: Option<u16>,
    /// Also what falls due in so many months after the day
    #[arg(long, value_name = "MONTHS", default_value_t = 0, value_parser = clap::value_parser!(u16).range(0..=600))]
    pub within: u16,
}

/// Which notices of a record.
#[derive(Debug, Args)]
pub(in crate::cli) struct Which {
    /// Only notices whose enclosure, device, area or number matches, such as `CH3-*`; may be given more than once
    #[arg(long, value_name = "GLOB", action = ArgAction::Append)]
    pub only: Vec<String>,
    /// Only one kind of notice
    #[arg(long, value_enum)]
    pub subject: Option<SubjectChoice>,
}

/// Arguments of `records list`.
#[derive(Debug, Args)]
#[command(after_help = "\
Examples:
  noticewright records list -o list.xlsx
  noticewright records list -o chamber-3.csv --only 'Chamber 3'
  noticewright records list -o list.xlsx --due --within 3

Fill in `condition` (good, faded, damaged, missing, wrong) for what was looked at, or `event` (fixed, replaced, withdrawn) for \
what was done, with `date` and `by`; leave the other rows as they are. `records import` reads the list.")]
pub(in crate::cli) struct ListOf {
    /// The list to write, CSV or XLSX by its ending
    #[arg(short, long, value_name = "FILE")]
    pub output: PathBuf,
    /// Only notices with something due
    #[arg(long)]
    pub due: bool,
    /// By when, and how often
    #[command(flatten)]
    pub by: DueBy,
    /// Of which notices
    #[command(flatten)]
    pub which: Which,
}

/// Arguments of `records import`.
#[derive(Debug, Args)]
#[command(after_help = "\
Examples:
  noticewright records import list.xlsx
  noticewright records import list.csv --date 2027-06-01 --by JD

With a mistake anywhere in the list nothing is recorded. What the record has already is not added again.")]
pub(in crate::cli) struct ImportOf {
    /// The list filled in: CSV, XLSX or ODS; `-` is standard input
    #[arg(value_name = "LIST")]
    pub list: PathBuf,
    /// The day for rows without one
    #[arg(long, value_name = "DAY")]
    pub date: Option<String>,
    /// Who, for rows that do not say
    #[arg(long, value_name = "WHO")]
    pub by: Option<String>,
}
