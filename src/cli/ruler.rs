//! `ruler`: the page that measures a printer.

use super::arguments::{General, Ruler};
use super::failure::Failure;
use super::outputs::Outputs;
use super::report::visible;
use super::terminal::Terminal;
use super::{labels, pipeline};
use crate::sheets::{self, Palette};
use crate::typesetting::Typesetter;
use crate::writers::pdf::{DocumentInfo, PdfWriter, Setup, encode};

/// Writes the page, with a printer's correction applied if it is named.
pub(super) fn perform(arguments: &Ruler, general: &General, terminal: Terminal) -> Result<(), Failure> {
    let (job, _) = pipeline::load_job(None, general)?;
    let Some(paper) = sheets::parse_size(&arguments.paper) else {
        let message = format!("`{}` is not a size of paper", arguments.paper);
        return Err(Failure::with_hint(
            message,
            "name one of ISO 216, such as `A4`, or millimetres, such as `216x279`",
        ));
    };
    let run = labels::run_for(&job, arguments.printer.as_deref())?;
    let Some(page) = sheets::ruler(paper, run.correction, &run.printer, &Typesetter::new()) else {
        let message = format!("the ruler page does not fit on `{}`", arguments.paper);
        return Err(Failure::with_hint(message, "it needs 200 x 270 mm or more, upright"));
    };
    let info = DocumentInfo { title: "Ruler: what a printer does to 100 mm".to_owned(), ..job.document_info() };
    let mut outputs = Outputs::check(std::slice::from_ref(&arguments.output), &[], general)?;
    let (name, _) = outputs.write(|out| {
        let mut pdf = PdfWriter::begin(out, &Setup::plain(info, Palette::Office))?;
        pdf.add(&encode(&page, &Palette::Office))?;
        pdf.finish()
    })?;
    outputs.publish()?;
    terminal.say(&format!(
        "{}: print at 100 % (actual size), measure, and write what you find under [printers] in the job file\n",
        visible(&name)
    ));
    Ok(())
}
