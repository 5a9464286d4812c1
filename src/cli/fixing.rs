//! `fixing`: the list by which notices are tried on site and fixed.

use std::path::Path;

use super::arguments::{Fixing, General};
use super::failure::Failure;
use super::labels::{self, Reporter};
use super::outputs::Outputs;
use super::pipeline;
use super::prepared::{self, Asked, Prepared};
use super::printing::Printing;
use super::report::json::OutputEntry;
use super::report::{counted, visible};
use super::terminal::Terminal;
use super::{book, document, house};
use crate::fixing::{self, Document, Printed, Printings};
use crate::pages::{Book, Stationery};
use crate::records::Ledger;
use crate::sheets;

/// Makes the fixing list of a survey; with errors nothing is written, unless the faulty enclosures are to be left out.
pub(super) fn perform(arguments: &Fixing, general: &General, terminal: Terminal) -> Result<(), Failure> {
    document::refuse_two_results(&arguments.output, general)?;
    document::refuse_other_endings(&arguments.output)?;
    let loaded = pipeline::load(&arguments.survey, general)?;
    let reporter = Reporter { loaded: &loaded, general, terminal };
    let run = labels::run(&arguments.cells, None, &loaded.job)?;
    let asked = Asked::of(&arguments.choice, run);
    let prepared = reporter.ready(prepared::prepare(&loaded, asked, general, false)?)?;
    let output = (arguments.survey.as_path(), arguments.output.as_path());
    let (entry, said) = make(&prepared, &arguments.choice.sheet, output, general)?;
    reporter.report(&prepared.findings, &prepared.set, &Printing::of_documents(vec![entry]))?;
    terminal.say(&said);
    document::end(&prepared.selection.left_out, terminal)
}

/// Writes the list of what is prepared of a survey, and returns what was written and what is said of it.
///
/// # Errors
/// A logo or file that cannot be used.
pub(super) fn make(
    prepared: &Prepared<'_>,
    sheets: &[String],
    (survey, output): (&Path, &Path),
    general: &General,
) -> Result<(OutputEntry, String), Failure> {
    let keep = prepared::files_read(prepared.loaded, Some(survey), sheets, None);
    let mut outputs = Outputs::check(&[output.to_owned()], &keep, general)?;
    let facts = prepared.facts(survey);
    let shown = prepared.shown(&facts);
    let (foot, house) = (shown.identity.foot(), house::of(prepared.loaded)?);
    let paper = sheets::parse_size("A4").unwrap_or_default().turned();
    let (head, typesetter) = (fixing::HEAD, &prepared.typesetter);
    let book = Book::new(
        Document::new(shown, printings(prepared)),
        Stationery { paper, head, foot: &foot, house: &house, typesetter },
    );
    let setup = document::kept(document::info(&prepared.loaded.job, "fixing list"));
    let (path, written) = book::write(&book, &setup, prepared.loaded.job.limits().pages, &mut outputs)?;
    outputs.publish()?;
    let notices = prepared.selection.chosen.len();
    let (count, pages) = (counted(notices, "notice"), counted(written.pages, "page"));
    let said = format!("{}: {count} to fix on {pages}; prove first, then fix\n", visible(&path));
    let entry =
        OutputEntry { path, pages: written.pages, notices, bytes: written.bytes, read_back: None, packed: Vec::new() };
    Ok((entry, said))
}

/// What the record tells of the printing of each notice; `None` without a record that has anything to tell.
fn printings<'a>(prepared: &Prepared<'a>) -> Option<Printings<'a>> {
    let record = prepared.loaded.record.as_ref().filter(|record| !record.is_empty())?;
    let ledger = Ledger::of(&record.reading.entries);
    let of_notice = |notice: &'a crate::notice::Notice| {
        let (entry, print) = ledger.find(&notice.number)?.printed()?;
        let day = entry.date.to_string();
        let printed = if entry.fingerprint == notice.fingerprint() {
            let (file, format) = (print.file.as_str(), print.format.as_str());
            Printed::At { day, file, cell: (print.page, print.cell), copies: print.copies, format }
        } else {
            Printed::Otherwise(day)
        };
        Some((notice.number.as_str(), printed))
    };
    Some(prepared.loaded.notices().iter().filter_map(of_notice).collect())
}
