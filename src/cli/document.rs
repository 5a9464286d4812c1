//! What the commands that write one document to be read have in common: what they refuse, and how they end.

use std::path::Path;

use super::arguments::{General, ReportForm};
use super::failure::Failure;
use super::report::visible;
use super::terminal::Terminal;
use crate::job::Job;
use crate::sheets::Palette;
use crate::writers::pdf::{DocumentInfo, Setup, Standard};

/// Standard output holds one thing: the document or the report.
pub(super) fn refuse_two_results(output: &Path, general: &General) -> Result<(), Failure> {
    if output == Path::new("-") && general.report == ReportForm::Json {
        let message = "the PDF and the JSON report cannot both go to standard output";
        return Err(Failure::with_hint(message, "give `-o` a file, or choose another `--report`"));
    }
    Ok(())
}

/// What is written is a PDF whatever its name: another ending would promise another file.
pub(super) fn refuse_other_endings(output: &Path) -> Result<(), Failure> {
    let is_pdf = output.extension().is_some_and(|ending| ending.eq_ignore_ascii_case("pdf"));
    if is_pdf || output == Path::new("-") {
        return Ok(());
    }
    let message = format!("`{}` does not say that it is to be a PDF", output.display());
    Err(Failure::with_hint(message, "let its name end in .pdf"))
}

/// The same where the name may also be that of a device or a pipe, which has no ending.
pub(super) fn refuse_foreign_ending(output: &Path) -> Result<(), Failure> {
    if output.extension().is_none() { Ok(()) } else { refuse_other_endings(output) }
}

/// What a document says about itself: the job's own words and what it is, in English whatever the notices speak.
pub(super) fn info(job: &Job, what: &str) -> DocumentInfo {
    let mut info = job.document_info();
    info.title = format!("{}, {what}", info.title);
    "en".clone_into(&mut info.language);
    info
}

/// A document to be kept: PDF/A, in grey and yellow.
pub(super) fn kept(info: DocumentInfo) -> Setup {
    Setup { standard: Standard::Archive, ..Setup::plain(info, Palette::Office) }
}

/// Names what is left out, with the exit code that tells of it.
pub(super) fn end(left_out: &[String], terminal: Terminal) -> Result<(), Failure> {
    if left_out.is_empty() {
        return Ok(());
    }
    terminal.say(&format!("left out because of errors: {}\n", visible(&left_out.join(", "))));
    Err(Failure::PartlyWritten)
}
