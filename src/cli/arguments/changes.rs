//! Arguments of `changes` and `records check`.

use std::path::PathBuf;

use clap::{ArgAction, Args};

/// Arguments of `changes`.
#[derive(Debug, Args)]
#[command(after_help = "\
Examples:
  noticewright changes old/survey.csv site/survey.csv
  noticewright changes old/survey.csv site/survey.csv -o changes.pdf -o changes.csv
  noticewright changes records.csv site/survey.csv --labels delta.pdf --used-cells 1,4-6
  noticewright changes survey-2025.csv survey.csv --old-supplies supplies-2025.csv

What is held against what is OLD as its wall has it and NEW as it is decided now: the most dangerous comes first. It ends \
with exit code 0 whether anything changed or not.")]
pub(in crate::cli) struct Changes {
    /// The older survey, or a record: then the last printing of each notice that was not taken away
    #[arg(value_name = "OLD")]
    pub old: PathBuf,
    /// The survey as it is now: CSV, XLSX or ODS
    #[arg(value_name = "NEW")]
    pub new: PathBuf,
    /// Job file of OLD; without it, that of `--job`, or `job.toml` beside OLD
    #[arg(long, value_name = "FILE")]
    pub old_job: Option<PathBuf>,
    /// Supplies file of OLD; without it, that of `--supplies`, or the one that its job file names
    #[arg(long, value_name = "FILE")]
    pub old_supplies: Option<PathBuf>,
    /// List of standing notices of OLD; without it, that of `--standing`, or the one that its job file names
    #[arg(long, value_name = "FILE")]
    pub old_standing: Option<PathBuf>,
    /// Also write them for approval or for a spreadsheet, PDF or CSV by the ending; may be given more than once
    #[arg(short, long, value_name = "FILE", action = ArgAction::Append)]
    pub output: Vec<PathBuf>,
    /// Also print the notices that are new or altered, onto label sheets in this PDF
    #[arg(long, value_name = "FILE")]
    pub labels: Option<PathBuf>,
    /// Sheet format by name or file; may be given more than once
    #[arg(long, value_name = "NAME", action = ArgAction::Append)]
    pub sheet: Vec<String>,
    /// First cell of the first sheet to print on, counted row by row from 1
    #[arg(long, value_name = "N", conflicts_with = "used_cells", allow_negative_numbers = true, requires = "labels")]
    pub start_at: Option<usize>,
    /// Cells of the first sheet that are used up, such as `1,4-6`
    #[arg(long, value_name = "CELLS", requires = "labels")]
    pub used_cells: Option<String>,
    /// Printer whose measured offset and scale in the job file are made good
    #[arg(long, value_name = "NAME", requires = "labels")]
    pub printer: Option<String>,
    /// Only notices whose enclosure, device, area or number matches, such as `CH3-*`; may be given more than once
    #[arg(long, value_name = "GLOB", action = ArgAction::Append)]
    pub only: Vec<String>,
    /// Compare the rest where enclosures have errors, and name what cannot be judged
    #[arg(long)]
    pub leave_out_faulty: bool,
}

/// Arguments of `records check`.
#[derive(Debug, Args)]
#[command(after_help = "\
Examples:
  noticewright records check survey.csv
  noticewright records check survey.csv -o check.pdf -o check.csv
  noticewright records check survey.csv --only 'Chamber 3' --quiet    for scripts: exit code 1 unless all is well

Exit code 0: every fixed notice is true and where it should be, none is lacking and none is left over. 1: not so, or \
something cannot be judged. Enclosures with errors are judged as far as possible.")]
pub(in crate::cli) struct CheckRecord {
    /// The survey: CSV, XLSX or ODS; `-` is standard input
    #[arg(value_name = "SURVEY")]
    pub survey: PathBuf,
    /// Also write it as a document or for a spreadsheet, PDF or CSV by the ending; may be given more than once
    #[arg(short, long, value_name = "FILE", action = ArgAction::Append)]
    pub output: Vec<PathBuf>,
    /// Only notices whose enclosure, device, area or number matches, such as `CH3-*`; may be given more than once
    #[arg(long, value_name = "GLOB", action = ArgAction::Append)]
    pub only: Vec<String>,
}
