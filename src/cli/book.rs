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
    accept(book.count(), most_pages)?;
    let progress = outputs.progress();
    progress.count("writing parts", book.parts());
    let (path, written) = outputs.write(|out| {
        let mut pdf = PdfWriter::begin(out, setup)?;
        for first in (0..book.parts()).step_by(PARTS_AT_ONCE) {
            let last = book.parts().min(first + PARTS_AT_ONCE);
            let encoded = (first..last).into_par_iter().map(|part| {
                let (pages, structure) = book.pages(part);
                progress.done(1);
                let encoded: Vec<EncodedPage> = pages.iter().map(|page| encode(page, &setup.palette)).collect();
                (encoded, structure)
            });
            let encoded: Vec<_> = encoded.collect();
            encoded.iter().try_for_each(|(pages, structure)| pdf.add_section(pages, structure))?;
        }
        pdf.finish()
    })?;
    // Nothing has its name yet.
    accept(written.pages, most_pages)?;
    Ok((path, written))
}

fn accept(pages: usize, most: usize) -> Result<(), Failure> {
    if pages <= most {
        return Ok(());
    }
    let message = format!("{pages} pages are needed, and {most} are accepted");
    Err(Failure::with_hint(message, "`pages` under [limits] in the job file says how many are accepted"))
}
