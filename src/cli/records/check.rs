//! `records check`: which fixed notices are no longer true by a survey, and which are lacking.

use std::collections::{BTreeMap, BTreeSet};

use super::kept::{must_be_there, nowhere};
use super::later::next;
use crate::cli::arguments::{CheckRecord, General, ReportForm};
use crate::cli::changes::documents::{self, Shown};
use crate::cli::changes::{self, text};
use crate::cli::failure::Failure;
use crate::cli::outputs::Outputs;
use crate::cli::pipeline::{self, Loaded};
use crate::cli::prepared;
use crate::cli::report::changes::ChangesReport;
use crate::cli::report::visible;
use crate::cli::selection::Wanted;
use crate::cli::terminal::Terminal;
use crate::finding::{Finding, code};
use crate::records::changes::{Against, Changes, Fate, Version, check};
use crate::records::{Known, Ledger};

/// Holds the survey against the record. What has errors is called not to be judged, never true.
pub(super) fn perform(arguments: &CheckRecord, general: &General, terminal: Terminal) -> Result<(), Failure> {
    let forms = documents::forms(&arguments.output, general)?;
    changes::refuse_record(&arguments.survey)?;
    let loaded = pipeline::load(&arguments.survey, general)?;
    let record = loaded.record.as_ref().ok_or_else(nowhere)?;
    // Without it nothing is known of what hangs there, and every notice would be called unprinted.
    must_be_there(&record.path)?;
    let names = (record.path.display().to_string(), arguments.survey.display().to_string());
    let doubt = changes::doubt(&loaded, general.strict);
    if doubt.everywhere.is_some() && loaded.survey.enclosures.is_empty() {
        return unjudged(&names, &loaded, general, terminal);
    }
    let wanted = Wanted::new(&arguments.only, None)?;
    let ledger = Ledger::of(&record.reading.entries);
    let changes = check(&ledger, changes::versions(&loaded, &[]), &doubt, &wanted.of_both_sides());
    changes::refuse_nothing(&changes, &wanted)?;
    let found: Vec<Finding> = loaded.findings.iter().cloned().chain(of_another(&changes)).collect();
    if general.report != ReportForm::Json {
        terminal.complain(&pipeline::render_findings(&found, general.report, terminal.message_colour()));
    }
    let mut keep = prepared::files_read(&loaded, Some(&arguments.survey), &[], None);
    keep.push(record.path.clone());
    let outputs = Outputs::check(&arguments.output, &keep, general)?;
    let shown = Shown {
        changes: &changes,
        against: Against::Fixed,
        loaded: &loaded,
        old: &names.0,
        new: &names.1,
        selection: &wanted.in_words(),
        sheets: &[],
    };
    let (written, said) = shown.write(&forms, outputs, general)?;
    if general.report == ReportForm::Json {
        let mut report = ChangesReport::new(&names.0, &names.1, &found);
        report.changes(&changes, Against::Fixed);
        report.outputs(written);
        terminal.stream(|out| report.write(out))?;
    } else {
        let told = text::told(&changes, Against::Fixed, terminal.width(), arguments.all_words);
        terminal.print(&(told + &next_steps(&changes, &ledger, arguments, general)))?;
    }
    terminal.say(&said);
    let is_well = changes.changed.is_empty() && pipeline::judge(&found, general.strict).is_ok();
    pipeline::discard(loaded);
    if is_well { Ok(()) } else { Err(Failure::NotTrue) }
}

/// A file that is no survey tells nothing of any notice.
fn unjudged(names: &(String, String), loaded: &Loaded, general: &General, terminal: Terminal) -> Result<(), Failure> {
    if general.report == ReportForm::Json {
        let report = ChangesReport::new(&names.0, &names.1, &loaded.findings);
        terminal.stream(|out| report.write(out))?;
    } else {
        let found = pipeline::render_findings(&loaded.findings, general.report, terminal.message_colour());
        terminal.complain(&found);
    }
    terminal.say("nothing was judged\n");
    Err(Failure::Faulty)
}

/// A warning where the record seems to be that of another survey.
fn of_another(changes: &Changes<'_>) -> Option<Finding> {
    let (known, fixed) = changes.of_another?;
    let message = format!("the survey knows {known} of {fixed} fixed notices of the record");
    let help = "look whether it is the record of this survey; take nothing down on its word";
    Some(Finding::new(code::RECORD_OF_ANOTHER_SURVEY, message).help(help))
}

/// Whether what lies printed says something else than the survey, or is not fit for its place.
fn is_false_or_unfit(known: &Known<'_>, new: &Version<'_>) -> bool {
    let copy = known.copy_shown().zip(new.needs.as_ref());
    let is_unfit = copy.is_some_and(|((copy, _), needs)| !needs.are_met_by(copy));
    let shows_it = copy.is_some_and(|((copy, fingerprint), needs)| needs.would_print_as(copy, fingerprint));
    is_unfit || (known.is_altered(Some(new.fingerprint)) == Some(true) && !shows_it)
}

/// So many numbers are named in a command.
const NAMED: usize = 12;

/// From what is false or lacking to the command that prints it, which can be given as it stands. What was asked for alone is
/// named by its numbers; of many, and of a whole survey, the command finds them itself.
fn next_steps(changes: &Changes<'_>, ledger: &Ledger<'_>, arguments: &CheckRecord, general: &General) -> String {
    let mut to_print: BTreeMap<&str, &str> = BTreeMap::new();
    for change in &changes.changed {
        let Some(new) = &change.new else { continue };
        let known = ledger.find(new.number);
        let option = match change.fate {
            Fate::Altered | Fate::NotFit => "--altered",
            Fate::New if known.is_none_or(Known::is_lacking) => "--lacking",
            // It lies printed, and is to be printed again only if it is no longer true.
            Fate::New if known.is_some_and(|known| is_false_or_unfit(known, new)) => "--altered",
            Fate::New | Fate::Moved | Fate::Withdrawn | Fate::FalseCopy | Fate::NotJudged => continue,
        };
        to_print.insert(new.number, option);
    }
    if to_print.is_empty() {
        return String::new();
    }
    let by_number = !arguments.only.is_empty() && to_print.len() <= NAMED;
    let chosen: Vec<(&str, &str)> = if by_number {
        to_print.keys().map(|number| ("--number", *number)).collect()
    } else {
        let kinds: BTreeSet<&str> = to_print.values().copied().collect();
        kinds.into_iter().map(|option| (option, "")).collect()
    };
    let options: Vec<(&str, &str)> =
        [("-o", "again.pdf")].into_iter().chain(chosen).chain([("--record", "")]).collect();
    format!("next: {}\n", visible(&next(general, &["records", "again"], &arguments.survey, &options)))
}
