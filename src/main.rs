//! Start, run, exit code.

use std::process::ExitCode;

fn main() -> ExitCode {
    noticewright::cli::report_defects();
    noticewright::cli::run(std::env::args_os())
}
