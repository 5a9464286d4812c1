//! `schedule`: the label schedule for the site's records, as PDF, CSV or workbook.

use std::io::Write as _;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use super::arguments::{General, Schedule as Arguments};
use super::book;
use super::document;
use super::failure::Failure;
use super::house;
use super::labels::Reporter;
use super::outputs::Outputs;
use super::pipeline;
use super::prepared::{self, Asked, Prepared};
use super::printing::Printing;
use super::report::json::OutputEntry;
use super::report::{counted, visible};
use super::selection;
use super::terminal::Terminal;
use crate::job::{Job, RevisionEntry};
use crate::pages::{Book, Revision, Stationery};
use crate::schedule::{self, Document, Schedule, csv, workbook};
use crate::sheets::{self, Run};
use crate::typesetting::Typesetter;
use crate::writers::pdf::DocumentInfo;

/// What a file is, by the ending of its name.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Form {
    Pdf,
    Csv,
    Workbook,
}

impl Form {
    fn of(path: &Path) -> Result<Self, Failure> {
        if path == Path::new("-") {
            return Ok(Self::Pdf);
        }
        let ending = path.extension().map(|ending| ending.to_string_lossy().to_ascii_lowercase()).unwrap_or_default();
        match ending.as_str() {
            "pdf" => Ok(Self::Pdf),
            "csv" => Ok(Self::Csv),
            "xlsx" => Ok(Self::Workbook),
            _ => {
                let message = format!("`{}` does not say what it is to be", path.display());
                Err(Failure::with_hint(message, "let its name end in .pdf, .csv or .xlsx"))
            }
        }
    }
}

/// Writes the schedule of a survey; with errors nothing is written, unless the faulty enclosures are to be left out.
pub(super) fn perform(arguments: &Arguments, general: &General, terminal: Terminal) -> Result<(), Failure> {
    let forms = forms(&arguments.output)?;
    arguments.output.iter().try_for_each(|path| document::refuse_two_results(path, general))?;
    let loaded = pipeline::load(&arguments.survey, general)?;
    let reporter = Reporter { loaded: &loaded, general, terminal };
    let asked = Asked::of(&arguments.choice, Run::default());
    let prepared = reporter.ready(prepared::prepare(&loaded, asked, general, true)?)?;
    let nothing = prepared.printable.is_empty() && prepared.wanted.without_notice(&loaded).is_empty();
    if nothing && !arguments.choice.only.is_empty() && prepared.selection.left_out.is_empty() {
        return Err(selection::nothing(&prepared.wanted, &loaded));
    }
    let keep = prepared::files_read(&loaded, Some(&arguments.survey), &arguments.choice.sheet, None);
    let outputs = Outputs::check(&arguments.output, &keep, general)?;
    let (written, told) = write(&prepared, &arguments.survey, &forms, outputs)?;
    let mut printing = Printing::of_documents(written);
    printing.quantities = prepared.quantities();
    reporter.report(&prepared.findings, &prepared.set, &printing)?;
    terminal.say(&told);
    document::end(&prepared.selection.left_out, terminal)
}

/// What each file is, by the ending of its name.
///
/// # Errors
/// An ending that says nothing.
pub(super) fn forms(output: &[PathBuf]) -> Result<Vec<Form>, Failure> {
    output.iter().map(|path| Form::of(path)).collect()
}

/// Writes every file, all of them or none; the answer is what was written, and what is said of it.
pub(super) fn write(
    prepared: &Prepared<'_>,
    survey: &Path,
    forms: &[Form],
    mut outputs: Outputs,
) -> Result<(Vec<OutputEntry>, String), Failure> {
    let job = &prepared.loaded.job;
    let facts = prepared.facts(survey);
    let shown = prepared.shown(&facts);
    let revisions: Vec<Revision<'_>> = revisions(job);
    let schedule = Schedule::of(&shown, &revisions);
    let picture = |index: usize| Some(Typesetter::new().draw(shown.notice(index)?, shown.set(index)?));
    let info = document::info(job, "label schedule");
    let (mut written, mut told) = (Vec::new(), String::new());
    for form in forms {
        let (path, pages, bytes, said) = match form {
            Form::Pdf => pdf(prepared, &schedule, &picture, &info, &mut outputs)?,
            Form::Csv => {
                let rows = || schedule.notices.iter().cloned();
                let (path, bytes) = outputs.write(|out| csv::write(out, rows()))?;
                (path, 0, bytes, counted(schedule.notices.len(), "notice"))
            }
            Form::Workbook => in_a_workbook(&schedule, &info, &mut outputs)?,
        };
        told.push_str(&format!("{}: {said}\n", visible(&path)));
        let notices = schedule.notices.len();
        written.push(OutputEntry { path, pages, notices, bytes, read_back: None, packed: Vec::new() });
    }
    outputs.publish()?;
    Ok((written, told))
}

/// Name, pages, bytes, and what is said of one file.
type One = (String, usize, u64, String);

fn pdf(
    prepared: &Prepared<'_>,
    schedule: &Schedule<'_>,
    picture: &(dyn Fn(usize) -> Option<Arc<crate::drawing::Drawing>> + Sync),
    info: &DocumentInfo,
    outputs: &mut Outputs,
) -> Result<One, Failure> {
    let foot = schedule.identity.foot();
    let paper = sheets::parse_size("A4").unwrap_or_default().turned();
    let house = house::of(prepared.loaded)?;
    let (head, typesetter) = (schedule::HEAD, &prepared.typesetter);
    let stationery = Stationery { paper, head, foot: &foot, house: &house, typesetter };
    let book = Book::new(Document::new(schedule, picture), stationery);
    let setup = document::kept(info.clone());
    let (path, written) = book::write(&book, &setup, prepared.loaded.job.limits().pages, outputs)?;
    let (notices, pages) = (counted(schedule.notices.len(), "notice"), counted(written.pages, "page"));
    Ok((path, written.pages, written.bytes, format!("{notices} on {pages}")))
}

fn in_a_workbook(schedule: &Schedule<'_>, info: &DocumentInfo, outputs: &mut Outputs) -> Result<One, Failure> {
    if let Some((sheet, rows)) = workbook::too_many_rows(schedule) {
        let message = format!("the sheet `{sheet}` would have {rows} rows, more than a workbook holds");
        return Err(Failure::with_hint(message, "narrow it down with `--only`, or write a PDF"));
    }
    let (path, made) = outputs.write(|out| {
        let made = workbook::make(schedule, info)?;
        out.write_all(&made.bytes)?;
        Ok((u64::try_from(made.bytes.len()).unwrap_or(u64::MAX), made.shortened))
    })?;
    let (bytes, shortened) = made;
    let mut said = counted(schedule.notices.len(), "notice");
    if shortened > 0 {
        let cells = counted(shortened, "cell");
        said.push_str(&format!("; of {cells} only the beginning, since a workbook's cell holds no more: see the PDF"));
    }
    Ok((path, 0, bytes, said))
}

fn revisions(job: &Job) -> Vec<Revision<'_>> {
    job.revisions.iter().map(revision).collect()
}

fn revision(entry: &RevisionEntry) -> Revision<'_> {
    Revision { revision: &entry.revision, date: &entry.date, by: &entry.by, what: &entry.what }
}
