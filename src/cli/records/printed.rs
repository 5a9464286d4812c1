//! `records printed`: keeps printings that were not recorded when they were made.

use std::collections::BTreeSet;

use super::recording::Recording;
use super::{shown, today};
use crate::cli::arguments::{General, Printed};
use crate::cli::failure::Failure;
use crate::cli::labels::{self, Reporter};
use crate::cli::pipeline;
use crate::cli::prepared::{self, Asked};
use crate::cli::printing::{self, Printing};
use crate::cli::terminal::Terminal;
use crate::cli::{document, selection};

/// What a record of a printing made before cannot know.
pub(in crate::cli) const RECORDED_NOW: &str =
    "recorded is what the survey says now; if it changed since the printing, print the notices again instead\n";

/// Records the notices as printed, each as `labels` would print it now.
pub(super) fn perform(asked_for: &Printed, general: &General, terminal: Terminal) -> Result<(), Failure> {
    let Printed { survey, choice, number, file, cells, printer, profile, date, by } = asked_for;
    let loaded = pipeline::load(survey, general)?;
    let recording = Recording::begin(&loaded, (today::day(date.as_deref(), "--date")?, by.as_deref()), String::new())?;
    let numbers: BTreeSet<String> = number.iter().cloned().collect();
    numbers.iter().try_for_each(|number| selection::known(number, &loaded))?;
    let run = labels::run(cells, printer.as_deref(), &loaded.job)?;
    let asked = Asked { numbers: (!numbers.is_empty()).then_some(&numbers), ..Asked::of(choice, run) };
    let reporter = Reporter { loaded: &loaded, general, terminal };
    let mut prepared = reporter.ready(prepared::prepare(&loaded, asked, general, false)?)?;
    let documents = file.as_ref().map(|file| printing::document_paths(file, &prepared.plan)).transpose()?;
    let documents = documents.unwrap_or_default();
    let compared = shown::compare(&mut prepared, &documents, profile.as_deref())?;
    let (plan, printable) = (&prepared.plan, &prepared.printable);
    let adding = recording.hold(printable)?;
    let recorded = recording.keep(adding, plan, printable, &documents)?;
    let said = compared + &recorded.summary() + RECORDED_NOW;
    reporter.report(&prepared.findings, &prepared.set, &Printing::only_recorded(recorded))?;
    terminal.say(&said);
    document::end(&prepared.selection.left_out, terminal)
}
