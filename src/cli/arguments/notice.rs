//! Arguments of `notice`.

use std::path::PathBuf;

use clap::{ArgAction, Args};

/// Arguments of `notice`.
#[derive(Debug, Args)]
#[command(after_help = "\
Example:
  noticewright notice CH3-JB9 --isolator 'Q7 @ Switchroom 1, board C' --isolator 'Q9 @ Lobby' \\
    --to-earth 230 --nominal 230/400 --column locking=padlock -o notice.pdf")]
pub(in crate::cli) struct Notice {
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
