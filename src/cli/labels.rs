//! `labels`: the main job, from a survey to notices ready to print.

use std::path::Path;

use super::approval;
use super::arguments::{Cells, Choice, General, Kept, Labels, OnPaper, ReportForm};
use super::document;
use super::failure::Failure;
use super::outputs::Outputs;
use super::pipeline::{self, Loaded};
use super::prepared::{self, Asked, Outcome, Prepared};
use super::printing::{self, Printing, Wished};
use super::read_back::Witness;
use super::records::{self, Recording};
use super::report::visible;
use super::selection::Selection;
use super::setting::AllSet;
use super::terminal::Terminal;
use super::texts;
use super::works;
use crate::finding::Finding;
use crate::job::Job;
use crate::sheets::{self, Run};

/// What is to be printed of a survey, and where to.
pub(super) struct Order<'a> {
    /// Which notices, on which sheets.
    pub asked: Asked<'a>,
    /// The document; several papers make several documents of this name.
    pub output: &'a Path,
    /// A folder for drawings of the single notices.
    pub drawings: Option<&'a Path>,
    /// A table of the lines of text.
    pub texts: Option<&'a Path>,
    /// A folder for pictures of the single notices.
    pub pictures: Option<&'a Path>,
    /// Whether every document is read again before it takes its name.
    pub read_back: bool,
    /// Whether pages for approval are made instead of label sheets.
    pub approval: bool,
    /// The file that the survey was read from.
    pub survey: Option<&'a Path>,
    /// The colour profile of a printing works.
    pub profile: Option<&'a Path>,
    /// Where it is kept what was printed, if that is asked for.
    pub recording: Option<&'a Recording<'a>>,
}

impl<'a> Order<'a> {
    /// Label sheets and nothing else, as options ask for them.
    pub(super) fn of(
        choice: &'a Choice,
        paper: &'a OnPaper,
        (survey, output): (&'a Path, &'a Path),
        job: &Job,
    ) -> Result<Self, Failure> {
        Ok(Self {
            asked: Asked::of(choice, run(&paper.cells, paper.printer.as_deref(), job)?),
            output,
            drawings: None,
            texts: None,
            pictures: None,
            read_back: paper.read_back,
            approval: false,
            survey: Some(survey),
            profile: paper.profile.as_deref(),
            recording: None,
        })
    }
}

/// Prints the notices of a survey; with errors nothing is written, unless the faulty enclosures are to be left out.
pub(super) fn perform(labels: &Labels, general: &General, terminal: Terminal) -> Result<(), Failure> {
    let loaded = pipeline::load(&labels.survey, general)?;
    let Labels { survey, output, choice, paper, kept, .. } = labels;
    let all = None::<std::iter::Empty<String>>;
    let recording = recording(kept, &loaded, general, (survey, output), (choice, paper), all)?;
    let order = Order {
        drawings: labels.svg.as_deref(),
        texts: labels.texts.as_deref(),
        pictures: labels.png.as_deref(),
        approval: labels.approval,
        recording: recording.as_ref(),
        ..Order::of(choice, paper, (survey, output), &loaded.job)?
    };
    if let Some(record) = loaded.record.as_ref().filter(|_| !kept.record) {
        records::say_if_not_there(&record.path, terminal);
    }
    fulfil(&loaded, order, general, terminal)?;
    drop(recording);
    pipeline::discard(loaded);
    Ok(())
}

/// Where a printing is kept, if that is asked for; with `numbers`, of these notices alone.
pub(super) fn recording<'a>(
    kept: &'a Kept,
    loaded: &'a Loaded,
    general: &General,
    (survey, output): (&Path, &Path),
    (choice, paper): (&Choice, &OnPaper),
    numbers: Option<impl Iterator<Item = String>>,
) -> Result<Option<Recording<'a>>, Failure> {
    if !kept.record {
        return Ok(None);
    }
    let (day, by) = (records::day(kept.date.as_deref(), "--date")?, kept.by.as_deref());
    let later = records::recorded_later(general, (survey, output), (choice, paper), numbers, (day, by));
    Recording::begin(loaded, (day, by), later).map(Some)
}

/// The run for a printer: its measured error, made good.
pub(super) fn run_for(job: &Job, printer: Option<&str>) -> Result<Run, Failure> {
    let Some(printer) = printer else { return Ok(Run::default()) };
    let correction = job.correction(printer).ok_or_else(|| {
        let known: Vec<&str> = job.printers.keys().map(String::as_str).collect();
        let hint = match known.as_slice() {
            [] => "measure one with `noticewright ruler` and name it under [printers] in the job file".to_owned(),
            known => format!("it names {}", known.join(", ")),
        };
        Failure::with_hint(format!("the job file names no printer `{printer}`"), hint)
    })?;
    Ok(Run { correction, printer: printer.to_owned(), ..Run::default() })
}

/// The cells and copies of a run.
pub(super) fn run(cells: &Cells, printer: Option<&str>, job: &Job) -> Result<Run, Failure> {
    let most = job.limits().sheet_cells;
    let used_cells = cells.used_cells.as_deref().map(|text| sheets::parse_cells(text, most)).transpose();
    let used_cells = used_cells.map_err(|error| {
        let message = format!("--used-cells: {error}");
        match error {
            sheets::CellsError::TooLarge { .. } => {
                Failure::with_hint(message, "`sheet_cells` under [limits] in the job file says how many are accepted")
            }
            sheets::CellsError::NotACell { .. } | sheets::CellsError::Backwards { .. } => {
                Failure::could_not_run(message)
            }
        }
    })?;
    Ok(Run {
        start_at: first_cell(cells.start_at)?,
        used_cells: used_cells.unwrap_or_default(),
        copies: cells.copies,
        ..run_for(job, printer)?
    })
}

/// The cell to begin with, the first unless another is named.
pub(super) fn first_cell(named: Option<usize>) -> Result<usize, Failure> {
    match named.unwrap_or(1) {
        0 => Err(Failure::could_not_run("--start-at: `0` is not a cell: cells are numbered from 1")),
        cell => Ok(cell),
    }
}

/// Prints what was ordered, and says so.
pub(super) fn fulfil(loaded: &Loaded, order: Order<'_>, general: &General, terminal: Terminal) -> Result<(), Failure> {
    refuse_two_results(&order, general)?;
    let reporter = Reporter { loaded, general, terminal };
    let (prepared, printing) = reporter.not_faulty(made(loaded, order, general)?)?;
    reporter.report(&prepared.findings, &prepared.set, &printing)?;
    terminal.say(&summary(&printing, &prepared.selection));
    let is_whole = prepared.selection.left_out.is_empty();
    pipeline::discard((prepared, printing));
    if is_whole { Ok(()) } else { Err(Failure::PartlyWritten) }
}

/// What became of an order.
pub(super) enum Made<T> {
    /// It is done.
    Done(T),
    /// Errors are in the way, and nothing is written; these are the findings, and what was set.
    Faulty {
        /// Everything found.
        findings: Vec<Finding>,
        /// What was set.
        set: AllSet,
        /// Whether the faulty were to be left out, and nothing was left.
        nothing_left: bool,
    },
}

impl<'a> Made<Box<Prepared<'a>>> {
    /// What is prepared, or what is in its way.
    pub(super) fn of(outcome: Outcome<'a>) -> Self {
        match outcome {
            Outcome::Ready(prepared) => Self::Done(prepared),
            Outcome::Faulty(findings, set) => Self::Faulty { findings, set, nothing_left: false },
            Outcome::NothingLeft(findings, set) => Self::Faulty { findings, set, nothing_left: true },
        }
    }
}

/// Makes what was ordered, and says nothing.
pub(super) fn made<'a>(
    loaded: &'a Loaded,
    order: Order<'_>,
    general: &General,
) -> Result<Made<(Box<Prepared<'a>>, Printing)>, Failure> {
    let sheets = order.asked.sheets;
    let mut prepared = match Made::of(prepared::prepare(loaded, order.asked.clone(), general, false)?) {
        Made::Done(prepared) => prepared,
        Made::Faulty { findings, set, nothing_left } => return Ok(Made::Faulty { findings, set, nothing_left }),
    };
    if order.texts.is_some() {
        let found = texts::like_formulas(&prepared.printable);
        prepared.findings.extend(found);
        if !order.asked.leave_out_faulty && pipeline::judge(&prepared.findings, general.strict).is_err() {
            let Prepared { findings, set, .. } = *prepared;
            return Ok(Made::Faulty { findings, set, nothing_left: false });
        }
    }
    let keep = prepared::files_read(loaded, order.survey, sheets, order.profile);
    let mut printing = if order.approval {
        let outputs = Outputs::check(&[order.output.to_owned()], &keep, general)?;
        document::refuse_foreign_ending(order.output)?;
        approval::print(&prepared, order.survey.unwrap_or(Path::new("")), outputs)?
    } else {
        let standard = works::standard(&mut prepared.plan, order.profile, loaded)?;
        let witness = order.read_back.then(|| Witness::new(loaded, &prepared.set));
        let press = printing::Press {
            job: &loaded.job,
            typesetter: &prepared.typesetter,
            general,
            keep: &keep,
            standard: &standard,
            witness,
        };
        let Order { output, drawings, pictures, texts, recording, .. } = order;
        let wished = Wished { output, drawings, pictures, texts, recording };
        press.print(&prepared.plan, &prepared.printable, &wished)?
    };
    printing.quantities = prepared.quantities();
    Ok(Made::Done((prepared, printing)))
}

/// Standard output holds one thing: the document or the report.
fn refuse_two_results(order: &Order<'_>, general: &General) -> Result<(), Failure> {
    let is_stream = |path: &Path| path == Path::new("-");
    if order.texts.is_some_and(is_stream) {
        let message = "the table of texts is written beside the PDF, not to standard output";
        return Err(Failure::with_hint(message, "give `--texts` a file"));
    }
    if is_stream(order.output) && general.report == ReportForm::Json {
        let message = "the PDF and the JSON report cannot both go to standard output";
        return Err(Failure::with_hint(message, "give `-o` a file, or choose another `--report`"));
    }
    Ok(())
}

/// Says what was found and done, in the form asked for.
pub(super) struct Reporter<'a> {
    /// The survey and what follows from it.
    pub loaded: &'a Loaded,
    /// The form.
    pub general: &'a General,
    /// Where to.
    pub terminal: Terminal,
}

impl<'a> Reporter<'a> {
    /// What is prepared; where errors are in the way, they are reported, and nothing may be written.
    pub(super) fn ready(&self, outcome: Outcome<'a>) -> Result<Box<Prepared<'a>>, Failure> {
        self.not_faulty(Made::of(outcome))
    }

    /// What is done; where errors are in the way, they are reported.
    fn not_faulty<T>(&self, made: Made<T>) -> Result<T, Failure> {
        let (findings, set, nothing_left) = match made {
            Made::Done(done) => return Ok(done),
            Made::Faulty { findings, set, nothing_left } => (findings, set, nothing_left),
        };
        self.report(&findings, &set, &Printing::default())?;
        if nothing_left {
            self.terminal.say("every notice asked for has errors; nothing was written\n");
        }
        Err(Failure::Faulty)
    }

    /// Says it.
    pub(super) fn report(&self, findings: &[Finding], set: &AllSet, printing: &Printing) -> Result<(), Failure> {
        let form = self.general.report;
        if form != ReportForm::Json {
            self.terminal.complain(&pipeline::render_findings(findings, form, self.terminal.message_colour()));
            return Ok(());
        }
        let isolators = self.loaded.isolators();
        let mut report = self.loaded.json(findings);
        report.decisions(self.loaded.assessor(), &self.loaded.decisions().enclosures);
        report.isolators(&self.loaded.survey, &self.loaded.network, &isolators);
        report.standing(self.loaded.standing.as_ref(), &self.loaded.decided_standing);
        for (index, (notice, set)) in self.loaded.notices().iter().zip(&set.notices).enumerate() {
            report.notice(notice, set.as_deref(), printing.places.get(&index).copied());
        }
        report.quantities(&printing.quantities);
        report.outputs(printing.outputs.clone());
        report.recorded(printing.recorded.as_ref().map(|recorded| recorded.notices));
        Ok(self.terminal.stream(|out| report.write(out))?)
    }
}

/// What was made, how it is printed, and what was left out.
pub(super) fn summary(printing: &Printing, selection: &Selection) -> String {
    let mut text = printing.summary();
    if !selection.left_out.is_empty() {
        text.push_str(&format!("left out because of errors: {}\n", visible(&selection.left_out.join(", "))));
    }
    text
}
