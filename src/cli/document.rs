//! What the commands that write one document to be read have in common: what they refuse, and how they end.

use std::path::Path;

use super::arguments::{General, ReportForm};
use super::failure::Failure;
use super::report::visible;
use super::terminal::Terminal;

/// Standard output holds one thing: the document or the report.
pub(super) fn refuse_two_results(output: &Path, general: &General) -> Result<(), Failure> {
    if output == Path::new("-") && general.report == ReportForm::Json {
        let message = "the PDF and the JSON report cannot both go to standard output";
        return Err(Failure::with_hint(message, "give `-o` a file, or choose another `--report`"));
    }
    Ok(())
}

/// Names what is left out, with the exit code that tells of it.
pub(super) fn end(left_out: &[String], terminal: Terminal) -> Result<(), Failure> {
    if left_out.is_empty() {
        return Ok(());
    }
    terminal.say(&format!("left out because of errors: {}\n", visible(&left_out.join(", "))));
    Err(Failure::PartlyWritten)
}
