//! `labels`: the main job, from a survey to notices ready to print.

use std::path::{Path, PathBuf};

use super::approval::Shown;
use super::arguments::{General, Labels, ReportForm, SubjectChoice};
use super::failure::Failure;
use super::materials;
use super::outputs::Outputs;
use super::pipeline::{self, AllSet, Loaded};
use super::printing::{self, Printing, Wished};
use super::read_back::Witness;
use super::report::visible;
use super::selection::{self, Selection, Wanted};
use super::sizes::Sheets;
use super::terminal::Terminal;
use super::texts;
use super::works;
use crate::finding::Finding;
use crate::job::Job;
use crate::notice::Subject;
use crate::sheets::{self, Run};
use crate::typesetting::Typesetter;

/// What is to be printed of a survey, and where to.
pub(super) struct Order<'a> {
    /// Names or files of sheet formats; empty for those of the job.
    pub sheets: &'a [String],
    /// Patterns of designations, areas and numbers; empty for all.
    pub only: &'a [String],
    /// One kind of notice, or both.
    pub subject: Option<Subject>,
    /// The document; several papers make several documents of this name.
    pub output: &'a Path,
    /// A folder for drawings of the single notices.
    pub drawings: Option<&'a Path>,
    /// A table of the lines of text.
    pub texts: Option<&'a Path>,
    /// A folder for pictures of the single notices.
    pub pictures: Option<&'a Path>,
    /// Whether the rest is printed where enclosures have errors.
    pub leave_out_faulty: bool,
    /// Whether every document is read again before it takes its name.
    pub read_back: bool,
    /// Whether pages for approval are made instead of label sheets.
    pub approval: bool,
    /// The file that the survey was read from.
    pub survey: Option<&'a Path>,
    /// The colour profile of a printing works.
    pub profile: Option<&'a Path>,
    /// Copies, used cells, the printer.
    pub run: Run,
}

/// Prints the notices of a survey; with errors nothing is written, unless the faulty enclosures are to be left out.
pub(super) fn perform(labels: &Labels, general: &General, terminal: Terminal) -> Result<(), Failure> {
    let loaded = pipeline::load(&labels.survey, general)?;
    let order = Order {
        sheets: &labels.sheet,
        only: &labels.only,
        subject: labels.subject.map(|choice| match choice {
            SubjectChoice::Enclosure => Subject::Enclosure,
            SubjectChoice::Device => Subject::Device,
        }),
        output: &labels.output,
        drawings: labels.svg.as_deref(),
        texts: labels.texts.as_deref(),
        pictures: labels.png.as_deref(),
        leave_out_faulty: labels.leave_out_faulty,
        read_back: labels.read_back,
        approval: labels.approval,
        survey: Some(&labels.survey),
        profile: labels.profile.as_deref(),
        run: run(labels, &loaded.job)?,
    };
    fulfil(&loaded, order, general, terminal)
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

fn run(labels: &Labels, job: &Job) -> Result<Run, Failure> {
    let most = job.limits().sheet_cells;
    let used_cells = labels.used_cells.as_deref().map(|text| sheets::parse_cells(text, most)).transpose();
    let used_cells = used_cells.map_err(|error| Failure::could_not_run(format!("--used-cells: {error}")))?;
    Ok(Run {
        start_at: first_cell(labels.start_at)?,
        used_cells: used_cells.unwrap_or_default(),
        copies: labels.copies,
        ..run_for(job, labels.printer.as_deref())?
    })
}

/// The cell to begin with, the first unless another is named.
pub(super) fn first_cell(named: Option<usize>) -> Result<usize, Failure> {
    match named.unwrap_or(1) {
        0 => Err(Failure::could_not_run("--start-at: `0` is not a cell: cells are numbered from 1")),
        cell => Ok(cell),
    }
}

/// Prints what was ordered.
pub(super) fn fulfil(
    loaded: &Loaded,
    mut order: Order<'_>,
    general: &General,
    terminal: Terminal,
) -> Result<(), Failure> {
    refuse_two_results(&order, general)?;
    let wanted = Wanted::new(order.only, order.subject)?;
    let sheets = Sheets::choose(order.sheets, loaded)?;
    let typesetter = Typesetter::new();
    let set = pipeline::set_all(loaded, &typesetter, &sheets, |notice| wanted.asks_for(notice));
    let mut findings = [loaded.findings.as_slice(), &sheets.findings, &set.findings].concat();
    let reporter = Reporter { loaded, set: &set, general, terminal };
    let Some(selection) = select(&order, &wanted, loaded, &set, general)? else {
        reporter.report(&findings, &Printing::default())?;
        return Err(Failure::Faulty);
    };
    if selection.chosen.is_empty() {
        reporter.report(&findings, &Printing::default())?;
        terminal.say("every notice asked for has errors; nothing was written\n");
        return Err(Failure::Faulty);
    }
    order.run.left_out.clone_from(&selection.left_out);
    let keep = files_read(&order, loaded);
    let mut printable = printing::printable(loaded, &set, &selection.chosen);
    printing::largest_first(&mut printable);
    let (mut plan, of_plan) = printing::plan(&printable, &sheets.formats, order.run, &loaded.job.limits())?;
    findings.extend(of_plan);
    if order.texts.is_some() {
        findings.extend(texts::like_formulas(&printable));
    }
    findings.extend(materials::findings(loaded, &plan, &printable));
    let judged = pipeline::judge(&findings, general.strict);
    if !plan.is_complete() || (!order.leave_out_faulty && judged.is_err()) {
        reporter.report(&findings, &Printing::default())?;
        return Err(Failure::Faulty);
    }
    let mut printing = if order.approval {
        let outputs = Outputs::check(&[order.output.to_owned()], &keep, general)?;
        let survey = order.survey.unwrap_or(Path::new(""));
        let (set, wanted, selection, findings) = (&set, &wanted, &selection, &findings);
        let (sheets, typesetter) = (&sheets, &typesetter);
        Shown { loaded, set, wanted, selection, findings, sheets, survey, typesetter }.print(outputs)?
    } else {
        let standard = works::standard(&mut plan, order.profile, loaded)?;
        let witness = order.read_back.then(|| Witness::new(loaded, &set));
        let press = printing::Press {
            job: &loaded.job,
            typesetter: &typesetter,
            general,
            keep: &keep,
            standard: &standard,
            witness,
        };
        let Order { output, drawings, pictures, texts, .. } = order;
        let wished = Wished { output, drawings, pictures, texts };
        press.print(&plan, &printable, &wished)?
    };
    printing.quantities = materials::quantities(loaded, &plan, &printable);
    reporter.report(&findings, &printing)?;
    terminal.say(&summary(&printing, &selection));
    if selection.left_out.is_empty() { Ok(()) } else { Err(Failure::PartlyWritten) }
}

/// The files that the run has read, as far as they are there.
fn files_read(order: &Order<'_>, loaded: &Loaded) -> Vec<PathBuf> {
    let of_job = loaded.job.sheets.values().chain(loaded.job.notices.messages.values());
    let of_job = of_job.map(|name| loaded.job_folder.join(name)).chain(loaded.job_file.clone());
    let of_job = of_job.chain(loaded.supplies_file.clone()).chain(works::profile_path(order.profile, loaded));
    let named = order.survey.into_iter().chain(order.sheets.iter().map(Path::new)).map(Path::to_owned);
    named.chain(of_job).collect()
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

/// The notices to print; `None` if errors are in the way: any of them, or, where the faulty may be left out, one that
/// cannot be laid to an enclosure or a notice.
fn select(
    order: &Order<'_>,
    wanted: &Wanted,
    loaded: &Loaded,
    set: &AllSet,
    general: &General,
) -> Result<Option<Selection>, Failure> {
    let stops = |finding: &&Finding| pipeline::stops(finding, general.strict);
    let stopping: Vec<&Finding> = loaded.findings.iter().filter(stops).collect();
    let in_the_way = if order.leave_out_faulty {
        stopping.iter().any(|finding| finding.enclosure.is_none())
    } else {
        !stopping.is_empty() || set.findings.iter().any(|finding| stops(&finding))
    };
    if in_the_way {
        return Ok(None);
    }
    selection::select(loaded, set, wanted, &stopping).map(Some)
}

/// Says what was found and done, in the form asked for.
struct Reporter<'a> {
    loaded: &'a Loaded,
    set: &'a AllSet,
    general: &'a General,
    terminal: Terminal,
}

impl Reporter<'_> {
    fn report(&self, findings: &[Finding], printing: &Printing) -> Result<(), Failure> {
        let form = self.general.report;
        if form != ReportForm::Json {
            self.terminal.complain(&pipeline::render_findings(findings, form, self.terminal.message_colour()));
            return Ok(());
        }
        let mut report = self.loaded.json(findings);
        report.decisions(&self.loaded.survey, &self.loaded.network, &self.loaded.decisions.enclosures);
        report.isolators(&self.loaded.survey, &self.loaded.network, &self.loaded.decisions.isolators);
        for (index, (notice, set)) in self.loaded.notices.iter().zip(&self.set.notices).enumerate() {
            report.notice(notice, set.as_ref(), printing.places.get(&index).copied());
        }
        report.quantities(&printing.quantities);
        report.outputs(printing.outputs.clone());
        Ok(self.terminal.stream(|out| report.write(out))?)
    }
}

fn summary(printing: &Printing, selection: &Selection) -> String {
    let mut text = printing.summary();
    if !selection.left_out.is_empty() {
        text.push_str(&format!("left out because of errors: {}\n", visible(&selection.left_out.join(", "))));
    }
    text
}
