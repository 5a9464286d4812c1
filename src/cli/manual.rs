//! `completions` and `man`: both from the one definition of the arguments.

use clap::{Command, CommandFactory};
use clap_mangen::Man;

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
    let page = Man::new(Arguments::command());
    page.render_title(&mut bytes)?;
    page.render_name_section(&mut bytes)?;
    page.render_synopsis_section(&mut bytes)?;
    page.render_description_section(&mut bytes)?;
    page.render_options_section(&mut bytes)?;
    for command in Arguments::command().get_subcommands() {
        bytes.extend(chapter(command)?.bytes());
    }
    page.render_extra_section(&mut bytes)?;
    page.render_version_section(&mut bytes)?;
    Ok(terminal.print(&String::from_utf8_lossy(&bytes))?)
}

/// One command as a section whose parts are the sections of a page of its own.
fn chapter(command: &Command) -> Result<String, Failure> {
    let name = format!("noticewright {}", command.get_name());
    let page = Man::new(command.clone().bin_name(&name).disable_help_flag(true));
    let mut bytes = Vec::new();
    page.render_synopsis_section(&mut bytes)?;
    page.render_description_section(&mut bytes)?;
    page.render_options_section(&mut bytes)?;
    let sections = String::from_utf8_lossy(&bytes).replace("\n.SH ", "\n.SS ");
    Ok(format!(".SH {}\n{}", name.to_uppercase(), sections.replacen(".SH ", ".SS ", 1)))
}
