//! Documents that are read, written part by part.

use rayon::prelude::*;

use super::failure::Failure;
use super::outputs::Outputs;
use crate::pages::{Book, Document};
use crate::relay::{batches, relay};
use crate::writers::pdf::{EncodedPage, PdfWriter, Setup, Written, encode};

/// Parts that are laid and encoded together: enough for every core, few enough for memory.
const PARTS_AT_ONCE: usize = 32;

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
        let encoded = |part| {
            let (pages, structure) = book.pages(part);
            progress.done(1);
            let encoded: Vec<EncodedPage> = pages.iter().map(|page| encode(page, &setup.palette)).collect();
            (encoded, structure)
        };
        relay(
            batches(book.parts(), PARTS_AT_ONCE),
            |some| some.into_par_iter().map(encoded).collect::<Vec<_>>(),
            |some| some.iter().try_for_each(|(pages, structure)| pdf.add_section(pages, structure)),
        )?;
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
