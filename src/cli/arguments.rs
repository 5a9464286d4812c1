//! What a person may type: one definition for parser, help, manual page and completions.

mod records;

use std::path::PathBuf;

use clap::builder::styling::{Effects, Styles};
use clap::{ArgAction, Args, Parser, Subcommand, ValueEnum};

pub(super) use records::{HistoryOf, PagesOf, Records, RecordsCommand};

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
    /// Make one notice without a survey
    Notice(Notice),
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
    /// Designation of an enclosure, or of an isolator with or without its location
    #[arg(value_name = "ENCLOSURE or ISOLATOR")]
    pub name: Option<String>,
    /// Also draw the supplies of the enclosure as a one-line diagram into this file
    #[arg(long, value_name = "FILE", requires = "name")]
    pub svg: Option<PathBuf>,
}

/// Arguments of `labels`.
#[derive(Debug, Args)]
#[command(after_help = "\
Examples:
  noticewright labels survey.csv -o notices.pdf
  noticewright labels survey.csv -o approval.pdf --approval      each notice beside its reasons, to be signed
  noticewright labels survey.csv -o today.pdf --only 'Chamber 3'
  noticewright labels survey.csv -o again.pdf --only CH3-JB1/1 --copies 2
  noticewright labels survey.csv -o rest.pdf --subject device --used-cells 1,4-6
  noticewright labels survey.csv -o large.pdf --sheet a3-a6-4 --printer office
  noticewright labels survey.csv -o plates.pdf --sheet plate-a7-4 --svg plates --texts plates.csv
  noticewright labels survey.csv -o roll.pdf --sheet roll-a7-203 --png dots    for a label printer")]
pub(super) struct Labels {
    /// The survey: CSV, XLSX or ODS; `-` is standard input
    #[arg(value_name = "SURVEY")]
    pub survey: PathBuf,
    /// The PDF to write; `-` is standard output
    #[arg(short, long, value_name = "FILE")]
    pub output: PathBuf,
    /// Sheet format by name or file; may be given more than once
    #[arg(long, value_name = "NAME", action = ArgAction::Append)]
    pub sheet: Vec<String>,
    /// First cell of the first sheet to print on, counted row by row from 1
    #[arg(long, value_name = "N", conflicts_with = "used_cells", allow_negative_numbers = true)]
    pub start_at: Option<usize>,
    /// Cells of the first sheet that are used up, such as `1,4-6`
    #[arg(long, value_name = "CELLS")]
    pub used_cells: Option<String>,
    /// Only notices whose enclosure, device, area or number matches, such as `CH3-*`; may be given more than once
    #[arg(long, value_name = "GLOB", action = ArgAction::Append)]
    pub only: Vec<String>,
    /// Only one kind of notice
    #[arg(long, value_enum)]
    pub subject: Option<SubjectChoice>,
    /// Copies of every notice
    #[arg(long, value_name = "N", default_value_t = 1, allow_negative_numbers = true)]
    pub copies: usize,
    /// Printer whose measured offset and scale in the job file are made good
    #[arg(long, value_name = "NAME")]
    pub printer: Option<String>,
    /// ICC profile of a printing works; without it, the one that the job file names, or a printing condition by name
    #[arg(long, value_name = "FILE")]
    pub profile: Option<PathBuf>,
    /// Instead of label sheets, pages that show each notice beside its reasons, for approval before printing
    #[arg(long, conflicts_with_all = ["start_at", "used_cells", "copies", "printer", "svg", "png", "texts", "read_back"])]
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
    /// Print the rest where enclosures have errors, and name on each sheet those that were left out
    #[arg(long)]
    pub leave_out_faulty: bool,
    /// Read each PDF again before it takes its name; if it does not say what the survey says, nothing is written
    #[arg(long)]
    pub read_back: bool,
}

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
pub(super) struct Schedule {
    /// The survey: CSV, XLSX or ODS; `-` is standard input
    #[arg(value_name = "SURVEY")]
    pub survey: PathBuf,
    /// The file to write, PDF, CSV or XLSX by its ending; `-` is a PDF on standard output; may be given more than once
    #[arg(short, long, value_name = "FILE", action = ArgAction::Append, required = true)]
    pub output: Vec<PathBuf>,
    /// Sheet format by name or file; may be given more than once
    #[arg(long, value_name = "NAME", action = ArgAction::Append)]
    pub sheet: Vec<String>,
    /// Only notices whose enclosure, device, area or number matches, such as `CH3-*`; may be given more than once
    #[arg(long, value_name = "GLOB", action = ArgAction::Append)]
    pub only: Vec<String>,
    /// Only one kind of notice
    #[arg(long, value_enum)]
    pub subject: Option<SubjectChoice>,
    /// List the rest where enclosures have errors, and name those that were left out
    #[arg(long)]
    pub leave_out_faulty: bool,
}

/// Arguments of `cards`.
#[derive(Debug, Args)]
#[command(after_help = "\
Examples:
  noticewright cards survey.csv -o cards.pdf
  noticewright cards survey.csv -o card.pdf --only CH3-JB2 --size a4

A card makes nothing dead, and is no permit to work.")]
pub(super) struct Cards {
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
  noticewright fixing survey.csv -o today.pdf --only 'Chamber 3'

With the options of `labels` that chose the notices, it names the sheet and cell where each was printed.")]
pub(super) struct Fixing {
    /// The survey: CSV, XLSX or ODS; `-` is standard input
    #[arg(value_name = "SURVEY")]
    pub survey: PathBuf,
    /// The PDF to write; `-` is standard output
    #[arg(short, long, value_name = "FILE")]
    pub output: PathBuf,
    /// Sheet format by name or file; may be given more than once
    #[arg(long, value_name = "NAME", action = ArgAction::Append)]
    pub sheet: Vec<String>,
    /// Only notices whose enclosure, device, area or number matches, such as `CH3-*`; may be given more than once
    #[arg(long, value_name = "GLOB", action = ArgAction::Append)]
    pub only: Vec<String>,
    /// Only one kind of notice
    #[arg(long, value_enum)]
    pub subject: Option<SubjectChoice>,
    /// List the rest where enclosures have errors, and name those that were left out
    #[arg(long)]
    pub leave_out_faulty: bool,
}

/// The paper of a card.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(super) enum CardSize {
    /// 148 x 210 mm
    A5,
    /// 210 x 297 mm
    A4,
}

/// Which notices are wanted.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(super) enum SubjectChoice {
    /// Notices on enclosures
    Enclosure,
    /// Notices on isolators
    Device,
    /// Standing notices
    Standing,
}

/// Arguments of `notice`.
#[derive(Debug, Args)]
#[command(after_help = "\
Example:
  noticewright notice CH3-JB9 --isolator 'Q7 @ Switchroom 1, board C' --isolator 'Q9 @ Lobby' \\
    --to-earth 230 --nominal 230/400 --column locking=padlock -o notice.pdf")]
pub(super) struct Notice {
    /// Designation of the enclosure
    #[arg(value_name = "ENCLOSURE")]
    pub enclosure: String,
    /// A device that isolates it and where it is, `Q7 @ Switchroom 1, board C`, or `none`; once for each
    #[arg(long, value_name = "DEVICE @ PLACE", action = ArgAction::Append, required = true)]
    pub isolator: Vec<String>,
    /// The board or source behind each isolator, in the same order; none, or one for each
    #[arg(long, value_name = "SUPPLY", action = ArgAction::Append)]
    pub fed_from: Vec<String>,
    /// Highest nominal voltage to earth inside, in volts
    #[arg(long, value_name = "VOLTS", allow_negative_numbers = true)]
    pub to_earth: String,
    /// Nominal voltage, such as `230/400` or `600 dc`
    #[arg(long, value_name = "VOLTS")]
    pub nominal: Option<String>,
    /// Size of the notice: an ISO 216 name or millimetres, such as `A7` or `120x80`
    #[arg(long, value_name = "SIZE")]
    pub size: Option<String>,
    /// From how far it is read, in metres
    #[arg(long, value_name = "METRES")]
    pub reading_distance: Option<String>,
    /// Link or record number for the code
    #[arg(long, value_name = "LINK")]
    pub record_link: Option<String>,
    /// Any other column of a survey, for every isolator, such as `locking=padlock`; may be given more than once
    #[arg(long, value_name = "NAME=VALUE", action = ArgAction::Append)]
    pub column: Vec<String>,
    /// Site, for the small line
    #[arg(long, value_name = "NAME")]
    pub site: Option<String>,
    /// The PDF to write; `-` is standard output
    #[arg(short, long, value_name = "FILE")]
    pub output: PathBuf,
    /// Sheet format by name or file
    #[arg(long, value_name = "NAME")]
    pub sheet: Option<String>,
    /// Cell of the sheet to print on, counted row by row from 1
    #[arg(long, value_name = "N", allow_negative_numbers = true)]
    pub start_at: Option<usize>,
    /// Printer whose measured offset and scale in the job file are made good
    #[arg(long, value_name = "NAME")]
    pub printer: Option<String>,
    /// ICC profile of a printing works; without it, the one that the job file names, or a printing condition by name
    #[arg(long, value_name = "FILE")]
    pub profile: Option<PathBuf>,
    /// Read each PDF again before it takes its name; if it does not say what the arguments say, nothing is written
    #[arg(long)]
    pub read_back: bool,
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
