//! Arguments of `records printed` and `records again`.

use std::path::PathBuf;

use clap::{ArgAction, Args};

use super::{Cells, Choice, ConditionChoice, Kept, OnPaper};

/// Arguments of `records printed`.
#[derive(Debug, Args)]
#[command(after_help = "\
Examples:
  noticewright records printed survey.csv --date 2026-11-24 --by JD
  noticewright records printed survey.csv --only 'CH3-*' --file chamber-3.pdf

With `--file`, page and cell of each notice are kept as `labels` with the same options put them. Where that document is still \
there, it is read: if it does not show what the survey says now, nothing is recorded.")]
pub(in crate::cli) struct Printed {
    /// The survey: CSV, XLSX or ODS; `-` is standard input
    #[arg(value_name = "SURVEY")]
    pub survey: PathBuf,
    /// Which notices.
    #[command(flatten)]
    pub choice: Choice,
    /// A notice by its number; may be given more than once
    #[arg(long, value_name = "NUMBER", action = ArgAction::Append)]
    pub number: Vec<String>,
    /// The document that was printed
    #[arg(long, value_name = "FILE")]
    pub file: Option<PathBuf>,
    /// The cells and copies.
    #[command(flatten)]
    pub cells: Cells,
    /// Printer whose measured offset and scale were made good
    #[arg(long, value_name = "NAME", requires = "file")]
    pub printer: Option<String>,
    /// ICC profile of the printing works
    #[arg(long, value_name = "FILE", requires = "file")]
    pub profile: Option<PathBuf>,
    /// Day of the printing, such as 2026-11-24; without it, today
    #[arg(long, value_name = "DAY")]
    pub date: Option<String>,
    /// Who printed them
    #[arg(long, value_name = "WHO")]
    pub by: Option<String>,
}

/// Arguments of `records again`.
#[derive(Debug, Args)]
#[command(after_help = "\
Examples:
  noticewright records again survey.csv -o again.pdf --number CH3-JB2/1 --used-cells 1,4-6
  noticewright records again survey.csv -o again.pdf --condition faded --condition damaged --record
  noticewright records again survey.csv -o again.pdf --spoiled 1:4,2:1 --of notices.pdf
  noticewright records again survey.csv -o again.pdf --altered

Several of --number, --only, --condition, --area, --spoiled, --altered, --lacking and --due together print what any of them names. What is \
printed says what the survey says now, whatever the record says.")]
pub(in crate::cli) struct Again {
    /// The survey: CSV, XLSX or ODS; `-` is standard input
    #[arg(value_name = "SURVEY")]
    pub survey: PathBuf,
    /// The PDF to write; `-` is standard output
    #[arg(short, long, value_name = "FILE")]
    pub output: PathBuf,
    /// A notice by its number; may be given more than once
    #[arg(long, value_name = "NUMBER", action = ArgAction::Append)]
    pub number: Vec<String>,
    /// Those found so at the last inspection of what stands; may be given more than once
    #[arg(long, value_enum, action = ArgAction::Append)]
    pub condition: Vec<ConditionChoice>,
    /// Those of areas that match, such as `Chamber*`; may be given more than once
    #[arg(long, value_name = "GLOB", action = ArgAction::Append)]
    pub area: Vec<String>,
    /// Those that were printed at these cells, page and cell each, such as `1:4,2:1`
    #[arg(long, value_name = "PAGE:CELL")]
    pub spoiled: Option<String>,
    /// The document of `--spoiled`; without it, the last one that the record has
    #[arg(long, value_name = "FILE", requires = "spoiled")]
    pub of: Option<String>,
    /// Those whose copy on site, or the one printed for it, says something else than the survey now
    #[arg(long)]
    pub altered: bool,
    /// Those that the survey needs and of which no copy is on site or lies ready: never printed, missing, taken away
    #[arg(long)]
    pub lacking: bool,
    /// Those that `records due` would have fixed anew and that lie not ready: worn, missing, past their life
    #[arg(long)]
    pub due: bool,
    /// The day of `--due`, such as 2027-06-01; without it, today
    #[arg(long, value_name = "DAY", requires = "due")]
    pub on: Option<String>,
    /// Which notices.
    #[command(flatten)]
    pub choice: Choice,
    /// On which paper.
    #[command(flatten)]
    pub paper: OnPaper,
    /// What is kept of it.
    #[command(flatten)]
    pub kept: Kept,
}
