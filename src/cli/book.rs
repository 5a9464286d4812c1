//! Documents that are read, written part by part.

use rayon::prelude::*;

use super::failure::Failure;
use super::outputs::Outputs;
use crate::pages::{Book, Document};
use crate::writers::pdf::{EncodedPage, PdfWriter, Setup, Written, encode};

/// Parts that are laid and encoded together before they are written: enough for every core, few enough for memory.
const PARTS_AT_ONCE: usize = 64;

/// Writes a document as the next of the outputs; the answer is its name and what it came to.
///
/// # Errors
/// More pages than are accepted, or the error of the file.
pub(super) fn write<D: Document>(
    book: &Book<'_, D>,
    setup: &Setup,
    most_pages: usize,
    outputs: &mut Outputs,
) -> Result<(String, Written), Failure> {
    let pages = book.count();
    if pages > most_pages {
        let message = format!("{pages} pages are needed, and {most_pages} are accepted");
        let hint = "`pages` under [limits] in the job file says how many are accepted";
        return Err(Failure::with_hint(message, hint));
    }
    let progress = outputs.progress();
    progress.count("writing pages", pages);
    outputs.write(|out| {
        let mut pdf = PdfWriter::begin(out, setup)?;
        for first in (0..book.parts()).step_by(PARTS_AT_ONCE) {
            let last = book.parts().min(first + PARTS_AT_ONCE);
            let encoded = (first..last).into_par_iter().map(|part| {
                let (pages, structure) = book.pages(part);
                progress.done(pages.len());
                let encoded: Vec<EncodedPage> = pages.iter().map(|page| encode(page, &setup.palette)).collect();
                (encoded, structure)
            });
            let encoded: Vec<_> = encoded.collect();
            encoded.iter().try_for_each(|(pages, structure)| pdf.add_section(pages, structure))?;
        }
        pdf.finish()
    })
}
