//! Arguments of the commands that write documents to be read.

use std::path::PathBuf;

use clap::{ArgAction, Args, ValueEnum};

use super::{Cells, Choice};

/// Arguments of `schedule`.
#[derive(Debug, Args)]
#[command(after_help = "\
Examples:
  noticewright schedule survey.csv -o schedule.pdf
  noticewright schedule survey.csv -o schedule.pdf -o schedule.xlsx -o schedule.csv
  noticewright schedule survey.csv -o chamber-3.xlsx --only 'Chamber 3'

The ending of a file chooses its form: .pdf, .csv (the notices alone) or .xlsx (a sheet for each part).

In the CSV a cell that begins with =, +, -, @, a tab or a return, or with any number of ' before one of them, gets one \
more ' at its beginning, so that no spreadsheet calculates with it: the designation =A1+B2-Q3 is written '=A1+B2-Q3. \
Whoever reads the file by program takes that one ' away again. Workbooks need none of this.")]
pub(in crate::cli) struct Schedule {
    /// The survey: CSV, XLSX or ODS; `-` is standard input
    #[arg(value_name = "SURVEY")]
    pub survey: PathBuf,
    /// The file to write, PDF, CSV or XLSX by its ending; `-` is a PDF on standard output; may be given more than once
    #[arg(short, long, value_name = "FILE", action = ArgAction::Append, required = true)]
    pub output: Vec<PathBuf>,
    /// Which notices.
    #[command(flatten)]
    pub choice: Choice,
}

/// Arguments of `cards`.
#[derive(Debug, Args)]
#[command(after_help = "\
Examples:
  noticewright cards survey.csv -o cards.pdf
  noticewright cards survey.csv -o card.pdf --only CH3-JB2 --size a4

A card makes nothing dead, and is no permit to work.")]
pub(in crate::cli) struct Cards {
    /// The survey: CSV, XLSX or ODS; `-` is standard input
    #[arg(value_name = "SURVEY")]
    pub survey: PathBuf,
    /// The PDF to write; `-` is standard output
    #[arg(short, long, value_name = "FILE")]
    pub output: PathBuf,
    /// Only enclosures whose designation, area or notice matches, such as `CH3-*`; may be given more than once
    #[arg(long, value_name = "GLOB", action = ArgAction::Append)]
    pub only: Vec<String>,
    /// The paper; A4 is the same card in larger letters
    #[arg(long, value_enum, default_value_t = CardSize::A5)]
    pub size: CardSize,
    /// Make the rest where enclosures have errors, and name those that were left out
    #[arg(long)]
    pub leave_out_faulty: bool,
}

/// Arguments of `fixing`.
#[derive(Debug, Args)]
#[command(after_help = "\
Examples:
  noticewright fixing survey.csv -o fixing.pdf
  noticewright fixing survey.csv -o today.pdf --only 'Chamber 3' --start-at 3

With a record it names the document and cell where each notice was printed last. Without one it names the sheet and cell \
by the options, which must then be those of `labels` when it printed them.")]
pub(in crate::cli) struct Fixing {
    /// The survey: CSV, XLSX or ODS; `-` is standard input
    #[arg(value_name = "SURVEY")]
    pub survey: PathBuf,
    /// The PDF to write; `-` is standard output
    #[arg(short, long, value_name = "FILE")]
    pub output: PathBuf,
    /// Which notices.
    #[command(flatten)]
    pub choice: Choice,
    /// Onto which cells they were printed.
    #[command(flatten)]
    pub cells: Cells,
}

/// The paper of a card.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(in crate::cli) enum CardSize {
    /// 148 x 210 mm
    A5,
    /// 210 x 297 mm
    A4,
}
