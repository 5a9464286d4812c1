//! `changes`: what changed between two surveys, or between what was printed and a survey.

pub(super) mod documents;
mod old;
pub(super) mod text;

use std::collections::BTreeSet;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use super::arguments::{Changes as Arguments, General, ReportForm, SubjectChoice};
use super::failure::Failure;
use super::labels::{self, Order};
use super::outputs::Outputs;
use super::pipeline::{self, Loaded};
use super::prepared::{self, Asked};
use super::report::changes::ChangesReport;
use super::report::{counted, visible};
use super::selection::Wanted;
use super::sizes::Sheets;
use super::terminal::Terminal;
use crate::files;
use crate::finding::Finding;
use crate::notice::Subject;
use crate::records;
use crate::records::changes::{Against, Changes, Devices, Doubt, Measure, Sizes, Version, compare};
use documents::Shown;
use old::Old;

/// Bytes in which the first line of a record ends.
const FIRST_LINE: u64 = 4_096;

/// Shows what changed; with errors in either survey nothing is compared, unless the faulty enclosures are to be left out.
pub(super) fn perform(arguments: &Arguments, general: &General, terminal: Terminal) -> Result<(), Failure> {
    let forms = documents::forms(&arguments.output, general)?;
    refuse_one_name(arguments)?;
    old::refuse_two_streams(arguments, general)?;
    refuse_record(&arguments.new)?;
    let new = pipeline::load(&arguments.new, general)?;
    let old = Old::load(arguments, general, &new)?;
    let names = (arguments.old.display().to_string(), arguments.new.display().to_string());
    let old_findings = old.stopping(general.strict);
    let doubt = old.doubt(general.strict).and(doubt(&new, general.strict));
    let stopping = old_findings.iter().copied().chain(stopping(&new, general.strict)).count();
    let prints = arguments.labels.is_some();
    if doubt.everywhere.is_some() || (stopping > 0 && !arguments.choice.leave_out_faulty) {
        complain(&old_findings, &new, general, terminal);
        if general.report == ReportForm::Json {
            let report = ChangesReport::new(&names.0, &names.1, old_findings.iter().copied().chain(&new.findings));
            terminal.stream(|out| report.write(out))?;
        }
        terminal.say("nothing was compared\n");
        return Err(Failure::Faulty);
    }
    let subject = arguments.choice.subject.map(SubjectChoice::subject);
    let wanted = Wanted::new(&arguments.choice.only, subject)?;
    let changes = compared((&old, &new), &arguments.choice.sheet, &doubt, &wanted)?;
    let numbers = changes.to_print();
    let keep = keep(&old, &new, arguments);
    let shown = Shown {
        changes: &changes,
        against: Against::Older,
        loaded: &new,
        old: &names.0,
        new: &names.1,
        selection: &wanted.in_words(),
        sheets: &arguments.choice.sheet,
    };
    arguments
        .labels
        .iter()
        .try_for_each(|path| Outputs::check(std::slice::from_ref(path), &keep, general).map(|_| ()))?;
    let outputs = Outputs::check(&arguments.output, &keep, general)?;
    // The label run shows what it finds in the new survey itself.
    let shows_new = !prints || numbers.is_empty();
    let new_findings: &[Finding] = if shows_new { &new.findings } else { &[] };
    if general.report != ReportForm::Json {
        let found: Vec<Finding> =
            old_findings.iter().map(|&one| one.clone()).chain(new_findings.iter().cloned()).collect();
        terminal.complain(&pipeline::render_findings(&found, general.report, terminal.message_colour()));
    }
    let (written, said) = shown.write(&forms, outputs, general)?;
    let there: Vec<String> = written.iter().map(|output| output.path.clone()).collect();
    if general.report == ReportForm::Json {
        let mut report = ChangesReport::new(&names.0, &names.1, old_findings.iter().copied().chain(&new.findings));
        report.changes(&changes, Against::Older);
        arguments.labels.iter().for_each(|path| report.labels(path.display().to_string(), numbers.iter().cloned()));
        report.outputs(written);
        terminal.stream(|out| report.write(out))?;
    } else {
        terminal.print(&old.opening(general, &arguments.new))?;
        terminal.print(&text::told(&changes, Against::Older, terminal.width(), arguments.all_words))?;
    }
    terminal.say(&said);
    let printed = arguments.labels.as_ref().map(|path| print(path, &numbers, arguments, &new, general, terminal));
    let printed = printed.unwrap_or(Ok(())).map_err(|failure| failure.leaving(&there));
    pipeline::discard((new, old));
    if stopping > 0 && printed.is_ok() { Err(Failure::PartlyWritten) } else { printed }
}

/// What stops a run on a survey.
fn stopping(loaded: &Loaded, strict: bool) -> impl Iterator<Item = &Finding> {
    loaded.findings.iter().filter(move |finding| pipeline::stops(finding, strict))
}

/// What the errors of a survey keep from being judged.
pub(super) fn doubt(loaded: &Loaded, strict: bool) -> Doubt {
    let stopping: Vec<&Finding> = stopping(loaded, strict).collect();
    let devices = if stopping.is_empty() { &[][..] } else { &loaded.decisions().devices };
    Doubt::of(stopping, devices)
}

/// The notices of a survey as one side of a comparison; on which sheets they are printed, where that is asked.
pub(super) fn versions<'a>(loaded: &'a Loaded, sheets: &[String]) -> Vec<Version<'a>> {
    use rayon::prelude::*;
    let measure = measure(loaded, sheets);
    loaded.notices().par_iter().map(|notice| Version::needing(notice, &measure)).collect()
}

/// By what it is judged whether copies are fit.
pub(super) fn measure(loaded: &Loaded, sheets: &[String]) -> Measure {
    Measure {
        floor: loaded.job.letter_floor(),
        materials: Arc::new(loaded.job.materials()),
        devices: Arc::new(Devices::of(&loaded.decisions().devices)),
        sizes: Arc::new(sizes(loaded, sheets)),
    }
}

/// The sizes of the sheets that are named, else of the job's; none where they cannot be used, which is said where they are.
fn sizes(loaded: &Loaded, sheets: &[String]) -> Sizes {
    let Ok(sheets) = Sheets::choose(sheets, loaded) else { return Sizes::default() };
    let of = |subject| sheets.sizes(subject).to_vec();
    Sizes { enclosures: of(Subject::Enclosure), devices: of(Subject::Device), standing: of(Subject::Standing) }
}

/// What changed of what is asked for, by old or by new names.
fn compared<'a>(
    (old, new): (&'a Old, &'a Loaded),
    sheets: &[String],
    doubt: &Doubt,
    wanted: &Wanted,
) -> Result<Changes<'a>, Failure> {
    let changes = compare(old.versions(), versions(new, sheets), doubt, &wanted.of_both_sides());
    refuse_nothing(&changes, wanted)?;
    Ok(changes)
}

/// A pattern that matches nothing is a mistake.
pub(super) fn refuse_nothing(changes: &Changes<'_>, wanted: &Wanted) -> Result<(), Failure> {
    if !changes.changed.is_empty() || changes.unchanged > 0 || wanted.in_words().is_empty() {
        return Ok(());
    }
    let hint = "patterns are matched against designations, areas and numbers; `*` stands for anything";
    Err(Failure::with_hint(format!("no notice on either side matches: {}", wanted.in_words()), hint))
}

/// A record in the place of a survey is a slip, and nothing can be said of it.
pub(super) fn refuse_record(survey: &Path) -> Result<(), Failure> {
    if !is_record(survey)? {
        return Ok(());
    }
    let message = format!("`{}` is a record, and stands where the survey belongs", survey.display());
    Err(Failure::with_hint(message, "name the survey there; the record is named in the job file, or by `--records`"))
}

/// Whether a file is a record, by its first line; a pipe is taken for a survey, because it can be read only once.
fn is_record(path: &Path) -> Result<bool, Failure> {
    Ok(records::is_record(&files::beginning(path, FIRST_LINE)?))
}

fn complain(old: &[&Finding], new: &Loaded, general: &General, terminal: Terminal) {
    let found: Vec<Finding> = old.iter().map(|&one| one.clone()).chain(new.findings.iter().cloned()).collect();
    if general.report != ReportForm::Json {
        terminal.complain(&pipeline::render_findings(&found, general.report, terminal.message_colour()));
    }
}

/// One file cannot be two, and what is printed needs one.
fn refuse_one_name(arguments: &Arguments) -> Result<(), Failure> {
    let Some(labels) = &arguments.labels else {
        return arguments.of_labels().map_or(Ok(()), |option| {
            let message = format!("`{option}` says how labels are printed, and none are asked for");
            Err(Failure::with_hint(message, "name their file with `--labels`"))
        });
    };
    if labels == Path::new(files::STANDARD) {
        let message = "the changes themselves go to standard output";
        return Err(Failure::with_hint(message, "give `--labels` a file"));
    }
    if arguments.output.contains(labels) {
        return Err(Failure::could_not_run(format!("`{}` is named by `-o` and by `--labels`", labels.display())));
    }
    Ok(())
}

/// The files that are read and must not be overwritten.
fn keep(old: &Old, new: &Loaded, arguments: &Arguments) -> Vec<PathBuf> {
    let of_new = prepared::files_read(new, Some(&arguments.new), &arguments.choice.sheet, None);
    of_new.into_iter().chain(old.files(arguments)).collect()
}

/// Prints the notices that are new or altered.
fn print(
    path: &Path,
    numbers: &BTreeSet<String>,
    arguments: &Arguments,
    new: &Loaded,
    general: &General,
    terminal: Terminal,
) -> Result<(), Failure> {
    if numbers.is_empty() {
        let path = visible(&path.display().to_string());
        terminal.say(&format!("{path}: not written, since no notice is new or altered\n"));
        return Ok(());
    }
    terminal.say(&format!("{} to print, new or altered\n", counted(numbers.len(), "notice")));
    let Arguments { new: survey, choice, paper, kept, .. } = arguments;
    let chosen = Some(numbers.iter().cloned());
    let recording = labels::recording(kept, new, general, (survey, path), (choice, paper), chosen)?;
    let order = Order::of(choice, paper, (survey, path), &new.job)?;
    // A notice that was asked for by its old names may bear none of them now.
    let asked = Asked { only: &[], subject: None, numbers: Some(numbers), ..order.asked };
    // The report of the changes has standard output.
    let form = if general.report == ReportForm::Json { ReportForm::Text } else { general.report };
    let general = General { report: form, ..general.clone() };
    labels::fulfil(new, Order { asked, recording: recording.as_ref(), ..order }, &general, terminal)
}
