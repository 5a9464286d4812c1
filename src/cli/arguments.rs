//! What a person may type: one definition for parser, help, manual page and completions.

mod changes;
mod documents;
mod labels;
mod notice;
mod pages;
mod records;
mod reprint;

use std::path::PathBuf;
use std::sync::Arc;

use clap::builder::styling::{Effects, Styles};
use clap::{Args, Parser, Subcommand, ValueEnum};

pub(super) use changes::{Changes, CheckRecord};
pub(super) use documents::{CardSize, Cards, Fixing, Schedule};
pub(super) use labels::{Cells, Choice, Kept, Labels, OnPaper, SubjectChoice};
pub(super) use notice::Notice;
pub(super) use pages::PagesOf;
pub(super) use records::{
    ConditionChoice, Due, DueBy, HistoryOf, ImportOf, ListOf, MarkDestroyed, MarkFixed, MarkInspected, MarkNumbers,
    MarkSeen, MarkWithdrawn, Records, RecordsCommand, Which,
};
pub(super) use reprint::{Again, Printed};

use super::progress::Meter;

const STYLES: Styles = Styles::styled().header(anstyle_bold()).usage(anstyle_bold()).literal(anstyle_bold());

const fn anstyle_bold() -> clap::builder::styling::Style {
    clap::builder::styling::Style::new().effects(Effects::BOLD)
}

/// Turns a survey of electrical enclosures into durable, print-ready warning notices that name every point of isolation
#[derive(Debug, Parser)]
#[command(name = "noticewright", version, styles = STYLES, arg_required_else_help = true, max_term_width = 110)]
#[command(after_help = "\
Start with:  noticewright new site       writes a starter job, survey and supplies file
then:        noticewright check site/survey.csv
then:        noticewright labels site/survey.csv -o notices.pdf

A notice does not make anything dead. Follow the safe isolation procedure and prove dead at the point of work.

Exit codes: 0 done, 1 the survey has errors and nothing was written, 2 could not run, \
70 a defect of noticewright, 130 interrupted")]
pub(super) struct Arguments {
    /// What to do.
    #[command(subcommand)]
    pub command: Command,
    /// How to do it.
    #[command(flatten)]
    pub general: General,
}

/// Options of every command.
#[derive(Clone, Debug, Args)]
pub(super) struct General {
    /// Job file; without it, `job.toml` beside the survey is read if there is one; for `-`, none
    #[arg(long, global = true, value_name = "FILE")]
    pub job: Option<PathBuf>,
    /// Supplies file, which describes the network behind the isolators; without it, the one that the job file names
    #[arg(long, global = true, value_name = "FILE")]
    pub supplies: Option<PathBuf>,
    /// List of standing notices, whose words a standard prescribes; without it, the one that the job file names
    #[arg(long, global = true, value_name = "FILE")]
    pub standing: Option<PathBuf>,
    /// Record of what became of the notices; without it, the one that the job file names
    #[arg(long, global = true, value_name = "FILE")]
    pub records: Option<PathBuf>,
    /// Form of the report
    #[arg(long, global = true, value_enum, default_value_t = ReportForm::Text)]
    pub report: ReportForm,
    /// Treat warnings as errors
    #[arg(long, global = true)]
    pub strict: bool,
    /// Overwrite existing files
    #[arg(short, long, global = true)]
    pub force: bool,
    /// Encoding of a survey, supplies file or list that is not UTF-8 or UTF-16, such as `windows-1250`
    #[arg(long, global = true, value_name = "NAME")]
    pub encoding: Option<String>,
    /// Say nothing but findings and errors
    #[arg(short, long, global = true)]
    pub quiet: bool,
    /// No colour, whatever the terminal can do
    #[arg(long, global = true)]
    pub no_color: bool,
    /// Who watches the run otherwise than on a terminal.
    #[arg(skip)]
    pub meter: Option<Arc<Meter>>,
}

#[cfg(test)]
impl General {
    /// What holds where nothing is asked for.
    pub(super) const USUAL: Self = Self {
        job: None,
        supplies: None,
        standing: None,
        records: None,
        report: ReportForm::Text,
        strict: false,
        force: false,
        encoding: None,
        quiet: false,
        no_color: false,
        meter: None,
    };
}

/// The form of a report.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(super) enum ReportForm {
    /// For people: each finding with its line and what to do
    Text,
    /// One line a finding, for editors and scripts
    Short,
    /// Machine-readable, on standard output
    Json,
}

/// The commands.
#[derive(Debug, Subcommand)]
pub(super) enum Command {
    /// Write a starter job, survey and supplies file with every column explained
    New(New),
    /// Show all findings, and what was decided for every enclosure; writes nothing
    Check(Check),
    /// Explain what was decided for one enclosure, what an isolator disconnects, or what a finding or rule means
    Why(Why),
    /// Make the notices, ready to print
    Labels(Labels),
    /// Make the label schedule for the site's records: PDF, CSV or workbook
    Schedule(Schedule),
    /// Make an isolation card for each enclosure, to isolate, prove dead and sign by
    Cards(Cards),
    /// Make the list by which notices are tried on site and fixed
    Fixing(Fixing),
    /// Keep what became of the notices, and tell what is due, no longer true or to be printed again
    Records(Records),
    /// Show what changed between two surveys, or since the last printing, the most dangerous first
    Changes(Changes),
    /// Make one notice without a survey
    Notice(Notice),
    /// Look at a survey in the browser, correct it, print it and mark what was done, on this machine alone
    Page(Page),
    /// List the sheet formats, or draw one
    Sheets(Sheets),
    /// Make the page that measures a printer
    Ruler(Ruler),
    /// Write completions for a shell
    Completions(Completions),
    /// Write the manual page
    Man,
}

/// Arguments of `new`.
#[derive(Debug, Args)]
#[command(after_help = "Example:  noticewright new site")]
pub(super) struct New {
    /// Folder to write to; made if it is not there
    #[arg(value_name = "DIR")]
    pub folder: PathBuf,
}

/// Arguments of `check`.
#[derive(Debug, Args)]
#[command(after_help = "\
Examples:
  noticewright check survey.csv
  noticewright check survey.csv --supplies supplies.csv
  noticewright check survey.csv --report short      one line a finding
  noticewright check survey.csv --strict --quiet    for scripts: exit code 1 at the first warning")]
pub(super) struct Check {
    /// The survey: CSV, XLSX or ODS; `-` is standard input
    #[arg(value_name = "SURVEY")]
    pub survey: PathBuf,
}

/// Arguments of `why`.
#[derive(Debug, Args)]
#[command(after_help = "\
Examples:
  noticewright why survey.csv CH3-JB1                  the reasons for one enclosure, rule by rule
  noticewright why survey.csv CH3-JB1 --svg path.svg   the same, and its one-line diagram
  noticewright why survey.csv Q7                       what the isolator disconnects
  noticewright why survey.csv 'Q7@Switchroom 1'        the same, where several are called Q7
  noticewright why isolator-not-known                  what a finding means and how to mend it
  noticewright why several-isolators                   what a rule asks for")]
#[command(
    override_usage = "noticewright why SURVEY ENCLOSURE [--svg FILE]\n       noticewright why SURVEY ISOLATOR\n       noticewright why CODE"
)]
pub(super) struct Why {
    /// The survey; or the code of a finding, or the name of a rule
    #[arg(value_name = "SURVEY or CODE")]
    pub subject: String,
    /// Designation of an enclosure, or the number of its notice; or an isolator, with or without its location
    #[arg(value_name = "ENCLOSURE or ISOLATOR")]
    pub name: Option<String>,
    /// Also draw the supplies of the enclosure as a one-line diagram into this file
    #[arg(long, value_name = "FILE", requires = "name")]
    pub svg: Option<PathBuf>,
}

/// Arguments of `page`.
#[derive(Debug, Args)]
#[command(after_help = "\
Examples:
  noticewright page survey.csv
  noticewright page survey.csv --records records.csv      to mark what was printed and fixed
  noticewright page survey.csv --no-browser --port 8077   open the address that is printed

Nothing leaves the machine: the page answers on 127.0.0.1 alone, to the one browser that came by the address. \
Corrections are written into the survey, if it is CSV; a workbook is only looked at.")]
pub(super) struct Page {
    /// The survey: CSV, XLSX or ODS
    #[arg(value_name = "SURVEY")]
    pub survey: PathBuf,
    /// Port to answer on; without it, one that is free
    #[arg(long, value_name = "N")]
    pub port: Option<u16>,
    /// Print the address, and open no browser
    #[arg(long)]
    pub no_browser: bool,
}

/// Arguments of `sheets`.
#[derive(Debug, Args)]
#[command(after_help = "\
Examples:
  noticewright sheets
  noticewright sheets a4-a7-4 -o sheet.pdf
  noticewright sheets own.toml                checks a format of your own")]
pub(super) struct Sheets {
    /// One format, by name or file, to be checked and shown in full
    #[arg(value_name = "NAME")]
    pub name: Option<String>,
    /// Draw the format, true to size, into this PDF
    #[arg(short, long, value_name = "FILE", requires = "name")]
    pub output: Option<PathBuf>,
}

/// Arguments of `ruler`.
#[derive(Debug, Args)]
#[command(after_help = "\
Examples:
  noticewright ruler -o ruler.pdf
  noticewright ruler --printer office --measured a=19.6,b=20.3,c=149.8,d=200.2,e=20.6,f=19.1
  noticewright ruler -o again.pdf --job site/job.toml --printer office    to try the correction")]
pub(super) struct Ruler {
    /// The PDF to write; `-` is standard output
    #[arg(short, long, value_name = "FILE", required_unless_present = "measured", conflicts_with = "measured")]
    pub output: Option<PathBuf>,
    /// What was measured on the page, in millimetres; prints the printer's correction for the job file
    #[arg(long, value_name = "MEASURES", allow_hyphen_values = true)]
    pub measured: Option<String>,
    /// The paper: `A4`, `A3`, or millimetres such as `216x279`
    #[arg(long, value_name = "SIZE", default_value = "A4")]
    pub paper: String,
    /// Printer whose measured error in the job file is made good, to see whether it is; beside `--measured` the name to print
    #[arg(long, value_name = "NAME")]
    pub printer: Option<String>,
    /// The page that was measured was printed with `--printer`: what is found is added to that correction
    #[arg(long, requires = "measured", requires = "printer")]
    pub corrected: bool,
}

/// Arguments of `completions`.
#[derive(Debug, Args)]
#[command(after_help = "Example:  noticewright completions bash > noticewright.bash")]
pub(super) struct Completions {
    /// The shell
    #[arg(value_enum)]
    pub shell: clap_complete::Shell,
}
