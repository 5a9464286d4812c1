//! `labels --approval`: the pages on which notices are approved, instead of label sheets.

use std::path::Path;

use super::book;
use super::document;
use super::failure::Failure;
use super::house;
use super::outputs::Outputs;
use super::prepared::Prepared;
use super::printing::Printing;
use super::report::json::OutputEntry;
use crate::approval::{self, Document};
use crate::pages::{Book, Stationery};
use crate::sheets::{self, Palette};
use crate::writers::pdf::Setup;

/// Writes the pages for approval of what is prepared; `survey` is the file as the user named it.
pub(super) fn print(prepared: &Prepared<'_>, survey: &Path, mut outputs: Outputs) -> Result<Printing, Failure> {
    let facts = prepared.facts(survey);
    let shown = prepared.shown(&facts);
    let foot = shown.identity.foot();
    let paper = sheets::parse_size("A4").unwrap_or_default().turned();
    let house = house::of(prepared.loaded)?;
    let (head, typesetter) = (approval::CAUTION, &prepared.typesetter);
    let book = Book::new(Document::new(shown), Stationery { paper, head, foot: &foot, house: &house, typesetter });
    let setup = Setup::plain(document::info(&prepared.loaded.job, "for approval"), Palette::Office);
    let (path, written) = book::write(&book, &setup, prepared.loaded.job.limits().pages, &mut outputs)?;
    outputs.publish()?;
    Ok(Printing::for_approval(OutputEntry {
        path,
        pages: written.pages,
        notices: prepared.selection.chosen.len(),
        bytes: written.bytes,
        read_back: None,
        packed: Vec::new(),
    }))
}
