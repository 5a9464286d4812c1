//! `completions` and `man`: both from the one definition of the arguments.

use clap::CommandFactory;

use super::arguments::Arguments;
use super::failure::Failure;
use super::terminal::Terminal;

/// Writes completions for a shell to standard output.
pub(super) fn completions(shell: clap_complete::Shell, terminal: Terminal) -> Result<(), Failure> {
    let mut bytes = Vec::new();
    clap_complete::generate(shell, &mut Arguments::command(), "noticewright", &mut bytes);
    Ok(terminal.print(&String::from_utf8_lossy(&bytes))?)
}

/// Writes the manual page, commands and all, to standard output.
pub(super) fn page(terminal: Terminal) -> Result<(), Failure> {
    let mut bytes = Vec::new();
    let command = Arguments::command().flatten_help(true);
    clap_mangen::Man::new(command).render(&mut bytes)?;
    Ok(terminal.print(&String::from_utf8_lossy(&bytes))?)
}
