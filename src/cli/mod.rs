//! Arguments, terminals and exit codes; one file a command. The only part that knows how it was called.

mod approval;
mod arguments;
mod book;
mod cards;
mod deciding;
mod document;
mod drawings;
mod failure;
mod fixing;
mod house;
mod languages;
mod outputs;
mod pictures;
mod pipeline;
mod prepared;
mod printing;
mod progress;
mod read_back;
pub mod report;
mod selection;
mod setting;
mod sizes;
mod terminal;
mod texts;

mod changes;
mod check;
mod labels;
mod manual;
mod materials;
mod new;
mod notice;
mod page;
mod records;
mod ruler;
mod schedule;
mod sheets;
mod why;
mod works;

use std::ffi::OsString;
use std::io::Write as _;
use std::process::ExitCode;

use clap::Parser;

use arguments::{Arguments, Command};
use failure::Failure;
use terminal::Terminal;

/// The exit code of a defect of this program.
const DEFECT: u8 = 70;

/// The exit code of a run that could not go on.
const COULD_NOT_RUN: u8 = 2;

/// Runs one command line and says how it went.
///
/// 0: done. 1: the survey has errors and nothing was written. 2: could not run.
pub fn run(words: impl IntoIterator<Item = OsString>) -> ExitCode {
    let arguments = match Arguments::try_parse_from(words) {
        Ok(arguments) => arguments,
        Err(refused) => return usage(&refused),
    };
    share_work(&arguments.command);
    let terminal = Terminal::new(&arguments.general);
    match perform(&arguments, terminal) {
        Ok(()) => ExitCode::SUCCESS,
        Err(failure) => {
            terminal.complain(&failure.message());
            ExitCode::from(failure.exit_code())
        }
    }
}

fn perform(arguments: &Arguments, terminal: Terminal) -> Result<(), Failure> {
    let general = &arguments.general;
    match &arguments.command {
        Command::New(new) => new::perform(new, general, terminal),
        Command::Check(check) => check::perform(check, general, terminal),
        Command::Why(why) => why::perform(why, general, terminal),
        Command::Labels(labels) => labels::perform(labels, general, terminal),
        Command::Schedule(schedule) => schedule::perform(schedule, general, terminal),
        Command::Cards(cards) => cards::perform(cards, general, terminal),
        Command::Fixing(fixing) => fixing::perform(fixing, general, terminal),
        Command::Records(records) => records::perform(records, general, terminal),
        Command::Changes(changes) => changes::perform(changes, general, terminal),
        Command::Notice(notice) => notice::perform(notice, general, terminal),
        Command::Page(page) => page::perform(page, general, terminal),
        Command::Sheets(sheets) => sheets::perform(sheets, general, terminal),
        Command::Ruler(ruler) => ruler::perform(ruler, general, terminal),
        Command::Completions(completions) => manual::completions(completions.shell, terminal),
        Command::Man => manual::page(terminal),
    }
}

/// Makes this thread one of those that share the work: none is woken only to wait for, and a short run is over sooner. The
/// thread of the page serves browsers, and what it is asked for is worked on by others.
fn share_work(command: &Command) {
    if !matches!(command, Command::Page(_)) {
        // Threads that are there already stay as they are.
        let _ = rayon::ThreadPoolBuilder::new().use_current_thread().build_global();
    }
}

/// Help and version are results and go to standard output; anything else is a wrong usage.
fn usage(refused: &clap::Error) -> ExitCode {
    let code = u8::try_from(refused.exit_code()).unwrap_or(2);
    match refused.print() {
        // A manual that is not there, on a full disk, must not pass for one. Nobody is left to be told of a failed message.
        Err(error) if code == 0 && error.kind() != std::io::ErrorKind::BrokenPipe => {
            let _ = std::io::stderr().write_all(Failure::from(error).message().as_bytes());
            ExitCode::from(COULD_NOT_RUN)
        }
        _ => ExitCode::from(code),
    }
}

/// Turns a panic into one human sentence and the exit code of a defect.
pub fn report_defects() {
    std::panic::set_hook(Box::new(|panic| {
        let version = env!("CARGO_PKG_VERSION");
        let _ = writeln!(
            std::io::stderr(),
            "noticewright {version} met a defect of its own and stopped; no file was left half written\n\
             please report it with the command and this line: {panic}"
        );
        #[expect(clippy::exit, reason = "a defect ends the run with a code of its own")]
        std::process::exit(i32::from(DEFECT));
    }));
}
