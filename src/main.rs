//! Start, run, exit code.

use std::process::ExitCode;

/// A run makes and drops millions of small texts on every thread; the system's allocator takes a fifth of the time for that.
#[global_allocator]
static ALLOCATOR: mimalloc::MiMalloc = mimalloc::MiMalloc;

fn main() -> ExitCode {
    noticewright::cli::report_defects();
    noticewright::cli::run(std::env::args_os())
}
