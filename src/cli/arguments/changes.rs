//! Arguments of `changes` and `records check`.

use std::path::PathBuf;

use clap::{ArgAction, Args};

use super::{Choice, Kept, OnPaper};

/// Arguments of `changes`.
#[derive(Debug, Args)]
#[command(after_help = "\
Examples:
  noticewright changes old/survey.csv site/survey.csv
  noticewright changes old/survey.csv site/survey.csv -o changes.pdf -o changes.csv
  noticewright changes records.csv site/survey.csv --labels delta.pdf --used-cells 1,4-6 --record
  noticewright changes survey-2025.csv survey.csv --old-supplies supplies-2025.csv

What is held against what is OLD as its wall has it and NEW as it is decided now: the most dangerous comes first. It ends \
with exit code 0 whether anything changed or not. `--sheet` and the options of paper and record are those of `labels`; all \
but `--sheet` need `--labels`.")]
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
    /// Show all words of an altered notice side by side, not only those that differ
    #[arg(long)]
    pub all_words: bool,
    /// Which notices.
    #[command(flatten)]
    pub choice: Choice,
    /// On which paper the labels go.
    #[command(flatten)]
    pub paper: OnPaper,
    /// What is kept of their printing.
    #[command(flatten)]
    pub kept: Kept,
}

impl Changes {
    /// An option that says how labels are printed, if one is given.
    pub(in crate::cli) fn of_labels(&self) -> Option<&'static str> {
        let OnPaper { cells, printer, profile, read_back } = &self.paper;
        let given = [
            ("--start-at", cells.start_at.is_some()),
            ("--used-cells", cells.used_cells.is_some()),
            ("--copies", cells.copies != 1),
            ("--printer", printer.is_some()),
            ("--profile", profile.is_some()),
            ("--read-back", *read_back),
            ("--record", self.kept.record),
        ];
        given.into_iter().find(|(_, given)| *given).map(|(option, _)| option)
    }
}

/// Arguments of `records check`.
#[derive(Debug, Args)]
#[command(after_help = "\
Examples:
  noticewright records check survey.csv
  noticewright records check survey.csv -o check.pdf -o check.csv
  noticewright records check survey.csv --only 'Chamber 3' --quiet    for scripts: exit code 1 unless all is well

Exit code 0: every fixed notice is true and where it should be, none is lacking, none is left over and \
no copy that lies printed is false. 1: not so, or something cannot be judged. Enclosures with errors are judged as far as possible.")]
pub(in crate::cli) struct CheckRecord {
    /// The survey: CSV, XLSX or ODS; `-` is standard input
    #[arg(value_name = "SURVEY")]
    pub survey: PathBuf,
    /// Also write it as a document or for a spreadsheet, PDF or CSV by the ending; may be given more than once
    #[arg(short, long, value_name = "FILE", action = ArgAction::Append)]
    pub output: Vec<PathBuf>,
    /// Show all words of an altered notice side by side, not only those that differ
    #[arg(long)]
    pub all_words: bool,
    /// Only notices whose enclosure, device, area or number matches, such as `CH3-*`; may be given more than once
    #[arg(long, value_name = "GLOB", action = ArgAction::Append)]
    pub only: Vec<String>,
}
