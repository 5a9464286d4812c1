//! Arguments of `records pages`.

use std::path::PathBuf;

use clap::Args;

use super::Choice;

/// Arguments of `records pages`.
#[derive(Debug, Args)]
#[command(after_help = "\
Example:
  noticewright records pages survey.csv -o site

The page of CH3-JB2/1 is DIR/CH3-JB2/1/index.html, where the code of the notice leads if DIR answers at the job's \
`record_link_base`. With `--only` an index that is there stays as it is, since it lists the others too.")]
pub(in crate::cli) struct PagesOf {
    /// The survey: CSV, XLSX or ODS; `-` is standard input
    #[arg(value_name = "SURVEY")]
    pub survey: PathBuf,
    /// The folder for the pages; it is made if it is not there
    #[arg(short, long, value_name = "DIR")]
    pub output: PathBuf,
    /// Which notices.
    #[command(flatten)]
    pub choice: Choice,
}
