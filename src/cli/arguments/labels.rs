//! Arguments of `labels`, and the lists of options that it shares: which notices, and on which paper.

use std::path::PathBuf;

use clap::{ArgAction, Args, ValueEnum};

/// Arguments of `labels`.
#[derive(Debug, Args)]
#[command(after_help = "\
Examples:
  noticewright labels survey.csv -o notices.pdf
  noticewright labels survey.csv -o notices.pdf --record         keeps in the record what was printed
  noticewright labels survey.csv -o approval.pdf --approval      each notice beside its reasons, to be signed
  noticewright labels survey.csv -o today.pdf --only 'Chamber 3'
  noticewright labels survey.csv -o again.pdf --only CH3-JB1/1 --copies 2
  noticewright labels survey.csv -o rest.pdf --only CH3-JB1 --used-cells 1,3
  noticewright labels survey.csv -o large.pdf --sheet a3-mixed --printer office
  noticewright labels survey.csv -o plates.pdf --sheet plate-mixed --svg plates --texts plates.csv
  noticewright labels survey.csv -o dots.pdf --only CH3-JB1 --sheet roll-a7-203 --png dots
                                                                 for a label printer")]
pub(in crate::cli) struct Labels {
    /// The survey: CSV, XLSX or ODS; `-` is standard input
    #[arg(value_name = "SURVEY")]
    pub survey: PathBuf,
    /// The PDF to write; `-` is standard output
    #[arg(short, long, value_name = "FILE")]
    pub output: PathBuf,
    /// Which notices.
    #[command(flatten)]
    pub choice: Choice,
    /// On which paper.
    #[command(flatten)]
    pub paper: OnPaper,
    /// What is kept of it.
    #[command(flatten)]
    pub kept: Kept,
    /// Instead of label sheets, pages that show each notice beside its reasons, for approval before printing
    #[arg(
        long,
        conflicts_with_all = ["start_at", "used_cells", "copies", "printer", "svg", "png", "texts", "read_back", "record", "profile"]
    )]
    pub approval: bool,
    /// Also write every notice as a drawing of its own into this folder; on a format for engraving as outlines to engrave
    /// and cut, and every sheet of plates as `sheet-1.svg`, `sheet-2.svg`
    #[arg(long, value_name = "DIR")]
    pub svg: Option<PathBuf>,
    /// Also write every line of text of the notices into this CSV table, for engraving machines with a font of their own
    #[arg(long, value_name = "FILE")]
    pub texts: Option<PathBuf>,
    /// Also write every notice as a picture into this folder: for a label printer dot by dot
    #[arg(long, value_name = "DIR")]
    pub png: Option<PathBuf>,
}

/// Which notices are wanted, and the formats of their sheets.
#[derive(Debug, Args)]
pub(in crate::cli) struct Choice {
    /// Sheet format by name or file; may be given more than once
    #[arg(long, value_name = "NAME", action = ArgAction::Append)]
    pub sheet: Vec<String>,
    /// Only notices whose enclosure, device, area or number matches, such as `CH3-*`; may be given more than once
    #[arg(long, value_name = "GLOB", action = ArgAction::Append)]
    pub only: Vec<String>,
    /// Only one kind of notice
    #[arg(long, value_enum)]
    pub subject: Option<SubjectChoice>,
    /// Take the rest where enclosures have errors, and name those that are left out
    #[arg(long)]
    pub leave_out_faulty: bool,
}

/// How notices go onto paper.
#[derive(Debug, Args)]
pub(in crate::cli) struct OnPaper {
    /// The cells and copies.
    #[command(flatten)]
    pub cells: Cells,
    /// Printer whose measured offset and scale in the job file are made good
    #[arg(long, value_name = "NAME")]
    pub printer: Option<String>,
    /// ICC profile of a printing works; without it, the one that the job file names, or a printing condition by name
    #[arg(long, value_name = "FILE")]
    pub profile: Option<PathBuf>,
    /// Read each PDF again before it takes its name; if it does not say what the survey says, nothing is written
    #[arg(long)]
    pub read_back: bool,
}

/// Which cells of the sheets are filled, and how often.
#[derive(Debug, Args)]
pub(in crate::cli) struct Cells {
    /// First cell of the first sheet to print on, counted row by row from 1
    #[arg(long, value_name = "N", conflicts_with = "used_cells", allow_negative_numbers = true)]
    pub start_at: Option<usize>,
    /// Cells of the first sheet that are used up, such as `1,4-6`
    #[arg(long, value_name = "CELLS")]
    pub used_cells: Option<String>,
    /// Copies of every notice
    #[arg(long, value_name = "N", default_value_t = 1, allow_negative_numbers = true)]
    pub copies: usize,
}

/// What is kept of a printing.
#[derive(Debug, Args)]
pub(in crate::cli) struct Kept {
    /// Keep in the record that the notices were printed, and what they say
    #[arg(long)]
    pub record: bool,
    /// Day of the printing for the record, such as 2026-11-24; without it, today
    #[arg(long, value_name = "DAY", requires = "record")]
    pub date: Option<String>,
    /// Who printed them, for the record
    #[arg(long, value_name = "WHO", requires = "record")]
    pub by: Option<String>,
}

/// Which notices are wanted.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(in crate::cli) enum SubjectChoice {
    /// Notices on enclosures
    Enclosure,
    /// Notices on isolators
    Device,
    /// Standing notices
    Standing,
}

impl SubjectChoice {
    /// The word that is typed.
    pub(in crate::cli) const fn word(self) -> &'static str {
        match self {
            Self::Enclosure => "enclosure",
            Self::Device => "device",
            Self::Standing => "standing",
        }
    }
}
