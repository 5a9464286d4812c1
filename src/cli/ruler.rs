//! `ruler`: the page that measures a printer, and the correction that follows from what was measured.

use std::path::Path;

use super::arguments::{General, Ruler};
use super::failure::Failure;
use super::outputs::Outputs;
use super::report::visible;
use super::terminal::Terminal;
use super::{labels, pipeline};
use crate::job::Job;
use crate::length::Size;
use crate::sheets::{self, Calibration, Correction, Implausible, Measured, Palette};
use crate::typesetting::Typesetter;
use crate::writers::pdf::{DocumentInfo, PdfWriter, Setup, encode};

/// The printer's name where none is given.
const UNNAMED: &str = "office";

/// Writes the page, with a printer's correction applied if it is named; or works out a correction from measures.
pub(super) fn perform(arguments: &Ruler, general: &General, terminal: Terminal) -> Result<(), Failure> {
    let (job, _) = pipeline::load_job(None, general)?;
    let Some(paper) = sheets::parse_size(&arguments.paper) else {
        let message = format!("`{}` is not a size of paper", arguments.paper);
        return Err(Failure::with_hint(
            message,
            "name one of ISO 216, such as `A4`, or millimetres, such as `216x279`",
        ));
    };
    match (&arguments.measured, &arguments.output) {
        (Some(measured), _) => work_out(measured, paper, arguments, &job, general, terminal),
        (None, Some(output)) => draw(output, paper, arguments, &job, general, terminal),
        (None, None) => Ok(()),
    }
}

fn draw(
    output: &Path,
    paper: Size,
    arguments: &Ruler,
    job: &Job,
    general: &General,
    terminal: Terminal,
) -> Result<(), Failure> {
    let run = labels::run_for(job, arguments.printer.as_deref())?;
    let Some(page) = sheets::ruler(paper, run.correction, &run.printer, &Typesetter::new()) else {
        let message = format!("the ruler page does not fit on `{}`", arguments.paper);
        return Err(Failure::with_hint(message, "it needs 200 x 270 mm or more, upright"));
    };
    let info = DocumentInfo { title: "Ruler: what a printer does to 100 mm".to_owned(), ..job.document_info() };
    let mut outputs = Outputs::check(&[output.to_owned()], &[], general)?;
    let (name, _) = outputs.write(|out| {
        let mut pdf = PdfWriter::begin(out, &Setup::plain(info, Palette::Office))?;
        pdf.add(&encode(&page, &Palette::Office))?;
        pdf.finish()
    })?;
    outputs.publish()?;
    terminal.say(&format!(
        "{}: print at 100 % (actual size), measure, and let `noticewright ruler --measured` work out the correction\n",
        visible(&name)
    ));
    Ok(())
}

/// Prints the table for the job file, and says what to do next.
fn work_out(
    measured: &str,
    paper: Size,
    arguments: &Ruler,
    job: &Job,
    general: &General,
    terminal: Terminal,
) -> Result<(), Failure> {
    let measured = Measured::parse(measured).map_err(|error| {
        Failure::with_hint(
            format!("--measured: {error}"),
            "the letters stand on the page that `noticewright ruler` makes",
        )
    })?;
    let printed_with = if arguments.corrected {
        labels::run_for(job, arguments.printer.as_deref())?.correction
    } else {
        Correction::default()
    };
    let found = measured.correction(paper, printed_with).map_err(|error| implausible(&error))?;
    let printer = arguments.printer.as_deref().unwrap_or(UNNAMED);
    let correction = found.correction();
    if !correction.is_a_printers() {
        let message = format!("what follows is no printer's error: {}", correction.stated(printer));
        return Err(Failure::with_hint(message, "print the ruler page at 100 % and measure it again"));
    }
    terminal.print(&table(printer, &found))?;
    let findings: Vec<_> = correction.check(printer).into_iter().collect();
    terminal.complain(&pipeline::render_findings(&findings, general.report, terminal.message_colour()));
    terminal.say(&next(printer, &measured, arguments));
    pipeline::judge(&findings, general.strict)
}

fn implausible(error: &Implausible) -> Failure {
    Failure::could_not_run(format!("--measured: {error}"))
}

fn table(printer: &str, found: &Calibration) -> String {
    let mut text = format!("[printers.{}]\n", toml::Value::String(printer.to_owned()));
    for (key, value) in found.entries() {
        text.push_str(&format!("{key} = {value}\n"));
    }
    text
}

fn next(printer: &str, measured: &Measured, arguments: &Ruler) -> String {
    let printer = visible(&toml::Value::String(printer.to_owned()).to_string());
    let paper = if arguments.paper == "A4" { String::new() } else { format!(" --paper {}", arguments.paper) };
    let turned =
        if measured.f.is_none() { "`f` was not measured: the page is taken to be turned as a whole\n" } else { "" };
    format!(
        "{turned}put this into the job file in place of what it says of the printer, then print the page again with it:\n  \
         noticewright ruler{} --job job.toml --printer {printer} -o again.pdf\n\
         measure that one as well; `--corrected` beside `--measured` then adds to the correction\n",
        visible(&paper)
    )
}
