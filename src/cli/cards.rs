//! `cards`: an isolation card for each enclosure.

use std::f64::consts::SQRT_2;
use std::path::Path;

use super::arguments::{CardSize, Cards as Arguments, General};
use super::document;
use super::failure::Failure;
use super::labels::Reporter;
use super::outputs::Outputs;
use super::pipeline::{self, Loaded};
use super::printing::Printing;
use super::report::json::OutputEntry;
use super::report::{counted, visible};
use super::selection::{Enclosures, Wanted};
use super::setting::AllSet;
use super::terminal::Terminal;
use super::{book, house, prepared, selection};
use crate::cards::{self, Document, Surveyed};
use crate::finding::Finding;
use crate::length::{Length, Size};
use crate::notice::Subject;
use crate::pages::{Book, Stationery, texts};
use crate::sheets;
use crate::typesetting::Typesetter;

/// Makes the cards of a survey; with errors nothing is written, unless the faulty enclosures are to be left out. Whether a
/// sheet holds a notice is in no card's way.
pub(super) fn perform(arguments: &Arguments, general: &General, terminal: Terminal) -> Result<(), Failure> {
    document::refuse_two_results(&arguments.output, general)?;
    document::refuse_other_endings(&arguments.output)?;
    let wanted = Wanted::new(&arguments.only, Some(Subject::Enclosure))?;
    let loaded = pipeline::load(&arguments.survey, general)?;
    let reporter = Reporter { loaded: &loaded, general, terminal };
    let none_set = AllSet { notices: Vec::new(), findings: Vec::new() };
    let report = |entries| reporter.report(&loaded.findings, &none_set, &Printing::of_documents(entries));
    let order = (arguments.size, arguments.survey.as_path(), arguments.output.as_path());
    let made = match made(&loaded, (&wanted, arguments.leave_out_faulty), order, general)? {
        Cards::Made(made) => made,
        Cards::Faulty => {
            report(Vec::new())?;
            return Err(Failure::Faulty);
        }
        Cards::NothingLeft => {
            report(Vec::new())?;
            terminal.say("every enclosure asked for has errors; nothing was written\n");
            return Err(Failure::Faulty);
        }
        Cards::None => return Err(none(&arguments.only)),
    };
    report(vec![made.entry])?;
    terminal.say(&made.said);
    document::end(&made.left_out, terminal)
}

/// What became of the cards that were asked for.
pub(super) enum Cards {
    /// They are made.
    Made(Done),
    /// Errors of the survey are in the way.
    Faulty,
    /// Every enclosure that was asked for has errors.
    NothingLeft,
    /// There is no such enclosure.
    None,
}

/// Cards that are made.
pub(super) struct Done {
    /// The file.
    pub entry: OutputEntry,
    /// What is said of it.
    pub said: String,
    /// The enclosures that were left out because of errors.
    pub left_out: Vec<String>,
}

/// Makes the cards of the enclosures that are wanted, and says nothing; where that is allowed, without the faulty ones.
///
/// # Errors
/// A file that cannot be used.
pub(super) fn made(
    loaded: &Loaded,
    (wanted, leave_out_faulty): (&Wanted, bool),
    order: (CardSize, &Path, &Path),
    general: &General,
) -> Result<Cards, Failure> {
    let stopping: Vec<&Finding> =
        loaded.findings.iter().filter(|finding| pipeline::stops(finding, general.strict)).collect();
    let can_be_left_out = |finding: &&Finding| leave_out_faulty && finding.enclosure.is_some();
    if !stopping.iter().all(can_be_left_out) {
        return Ok(Cards::Faulty);
    }
    let Enclosures { chosen, any_faulty, left_out } = wanted.enclosures(loaded, &stopping);
    if chosen.is_empty() {
        return Ok(if any_faulty { Cards::NothingLeft } else { Cards::None });
    }
    selection::all_met(wanted, loaded)?;
    let (entry, said) = make(loaded, chosen, order, general)?;
    Ok(Cards::Made(Done { entry, said, left_out }))
}

fn make(
    loaded: &Loaded,
    chosen: Vec<usize>,
    (size, survey, output): (CardSize, &Path, &Path),
    general: &General,
) -> Result<(OutputEntry, String), Failure> {
    let keep = prepared::files_read(loaded, Some(survey), &[], None);
    let mut outputs = Outputs::check(&[output.to_owned()], &keep, general)?;
    let (house, foot, typesetter) = (house::of(loaded)?, foot(loaded, survey), Typesetter::new());
    let surveyed = Surveyed {
        survey: &loaded.survey,
        supplies: loaded.supplies.as_ref(),
        network: &loaded.network,
        decisions: loaded.decisions(),
        notices: loaded.notices(),
    };
    let count = chosen.len();
    let (laid, paper) = papers(size);
    let stationery = Stationery { paper: laid, head: cards::HEAD, foot: &foot, house: &house, typesetter: &typesetter };
    let book = Book::new(Document::new(surveyed, chosen, &typesetter), stationery);
    let book = if laid == paper { book } else { book.enlarged(paper) };
    let setup = document::kept(document::info(&loaded.job, "isolation cards"));
    let (path, written) = book::write(&book, &setup, loaded.job.limits().pages, &mut outputs)?;
    outputs.publish()?;
    let (cards, pages) = (counted(count, "isolation card"), counted(written.pages, "page"));
    let said = format!("{}: {cards} on {pages}; a card makes nothing dead and is no permit to work\n", visible(&path));
    let entry = OutputEntry {
        path,
        pages: written.pages,
        notices: 0,
        bytes: written.bytes,
        read_back: None,
        packed: Vec::new(),
    };
    Ok((entry, said))
}

/// The paper on which a card is laid, and the one on which it is printed.
fn papers(size: CardSize) -> (Size, Size) {
    let upright = |name| {
        let size = sheets::parse_size(name).unwrap_or_default();
        if size.width > size.height { size.turned() } else { size }
    };
    match size {
        CardSize::A5 => (upright("A5"), upright("A5")),
        CardSize::A4 => {
            let paper = upright("A4");
            // Half the area of A4, to the micrometre; A5 itself is rounded to whole millimetres (ISO 216).
            let half = |length: Length| length.scaled(1.0 / SQRT_2);
            (Size::new(half(paper.width), half(paper.height)), paper)
        }
    }
}

/// Revision, date and survey, which tell an old card from a new one; then the site.
fn foot(loaded: &Loaded, survey: &Path) -> String {
    let job = &loaded.job.job;
    let revision = if job.revision.is_empty() { "no revision".to_owned() } else { format!("rev {}", job.revision) };
    let date = if job.date.is_empty() { "no date" } else { &job.date };
    let survey = survey.file_name().unwrap_or_default().to_string_lossy();
    texts::parts([&revision, date, &survey, &job.site])
}

/// The failure of a run without an enclosure.
pub(super) fn none(only: &[String]) -> Failure {
    if only.is_empty() {
        return Failure::could_not_run("this survey has no enclosure; nothing was written");
    }
    let hint = "patterns are matched against designations, areas and numbers of notices; `*` stands for anything";
    Failure::with_hint(format!("no enclosure matches `{}`", only.join("`, `")), hint)
}
