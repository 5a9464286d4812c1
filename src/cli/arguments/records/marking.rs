//! Arguments of the subcommands of `records` that add what was done on site.

use clap::{Args, ValueEnum};

/// Arguments of `records fixed` and `records replaced`.
#[derive(Debug, Args)]
#[command(after_help = "\
Examples:
  noticewright records fixed CH3-JB2/1 CH3-JB2/2 --date 2026-11-25 --by JD
  noticewright records fixed 'CH3-*' --by JD                   all of them that are printed and not fixed
  noticewright records replaced CH3-JB2/1 --by JD --photo photos/1234.jpg
  noticewright records fixed CH3-JB9/1 --revision A --note 'rev B has no room'

A pattern passes over notices of which it cannot be so, and names them. All are recorded together, or none.")]
pub(in crate::cli) struct MarkFixed {
    #[command(flatten)]
    pub mark: MarkNumbers,
    #[command(flatten)]
    pub seen: MarkSeen,
}

/// Arguments of `records inspected`.
#[derive(Debug, Args)]
#[command(after_help = "\
Examples:
  noticewright records inspected CH3-JB2/1 --condition faded --date 2027-11-02 --by JD
  noticewright records inspected 'CH3-*' --condition good --by JD      all of them that are fixed
  noticewright records inspected CH3-JB4/1 --condition wrong --note 'isolator moved to board D'

A pattern passes over notices that the record does not have fixed, and names them. All are recorded together, or none.")]
pub(in crate::cli) struct MarkInspected {
    #[command(flatten)]
    pub mark: MarkNumbers,
    /// How it was found
    #[arg(long, value_enum)]
    pub condition: ConditionChoice,
    #[command(flatten)]
    pub seen: MarkSeen,
}

/// Arguments of `records withdrawn`.
#[derive(Debug, Args)]
#[command(after_help = "\
Example:
  noticewright records withdrawn CH3-JB2/1 --date 2027-11-02 --by JD --note 'box taken out'

A pattern passes over notices that the record does not have fixed, and names them. All are recorded together, or none.")]
pub(in crate::cli) struct MarkWithdrawn {
    #[command(flatten)]
    pub mark: MarkNumbers,
}

/// Arguments of `records destroyed`.
#[derive(Debug, Args)]
#[command(after_help = "\
Example:
  noticewright records destroyed CH3-JB2/1 --revision B --by JD --note 'false since DB-C was moved'

What stands on site stays as it is recorded. A pattern passes over notices of which no copy lies printed, or several that say \
different things, and names them. All are recorded together, or none.")]
pub(in crate::cli) struct MarkDestroyed {
    #[command(flatten)]
    pub mark: MarkNumbers,
    /// Revision of the copy, if several lie printed
    #[arg(long, value_name = "REV", default_value = "", hide_default_value = true)]
    pub revision: String,
}

/// Which notices, when, and by whom.
#[derive(Debug, Args)]
pub(in crate::cli) struct MarkNumbers {
    /// Numbers of notices; with `*` in it, a pattern for those of the record
    #[arg(value_name = "NOTICE", required = true)]
    pub numbers: Vec<String>,
    /// The day; without it, today by UTC
    #[arg(long, value_name = "DAY")]
    pub date: Option<String>,
    /// Who did it
    #[arg(long, value_name = "WHO", default_value = "", hide_default_value = true)]
    pub by: String,
    /// Free text
    #[arg(long, value_name = "TEXT", default_value = "", hide_default_value = true)]
    pub note: String,
}

/// What is seen where the notice is.
#[derive(Debug, Args)]
pub(in crate::cli) struct MarkSeen {
    /// Where, if not at the notice's own position
    #[arg(long, value_name = "WHERE", default_value = "", hide_default_value = true)]
    pub place: String,
    /// Path or link of a photograph
    #[arg(long, value_name = "PATH", default_value = "", hide_default_value = true)]
    pub photo: String,
    /// Revision that the notice bears, if it is not the copy that the record has there, or printed last before that day
    #[arg(long, value_name = "REV", default_value = "", hide_default_value = true)]
    pub revision: String,
}

/// How a notice was found.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(in crate::cli) enum ConditionChoice {
    /// All of it can be read, and it sits fast
    Good,
    /// Letters or colours have gone pale
    Faded,
    /// Torn, scratched, lifting or dirty for good
    Damaged,
    /// It is not there
    Missing,
    /// What it says is not what is there
    Wrong,
}
