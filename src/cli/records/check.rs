//! `records check`: which fixed notices are no longer true by a survey, and which are lacking.

use std::collections::BTreeSet;

use super::kept;
use crate::cli::arguments::{CheckRecord, General, ReportForm};
use crate::cli::changes::documents::{self, Shown};
use crate::cli::changes::{doubt, text, versions};
use crate::cli::failure::Failure;
use crate::cli::outputs::Outputs;
use crate::cli::pipeline::{self, Loaded};
use crate::cli::prepared;
use crate::cli::report::changes::ChangesReport;
use crate::cli::selection::Wanted;
use crate::cli::terminal::Terminal;
use crate::records::Ledger;
use crate::records::changes::{Against, Changes, Doubt, Version, check};

/// Holds the survey against the record. What has errors is called not to be judged, never true.
pub(super) fn perform(arguments: &CheckRecord, general: &General, terminal: Terminal) -> Result<(), Failure> {
    let forms = documents::forms(&arguments.output, general)?;
    let loaded = pipeline::load(&arguments.survey, general)?;
    let record = loaded.record.as_ref().ok_or_else(kept::nowhere)?;
    let found = &loaded.findings;
    let names = (record.path.display().to_string(), arguments.survey.display().to_string());
    if general.report != ReportForm::Json {
        terminal.complain(&pipeline::render_findings(found, general.report, terminal.message_colour()));
    }
    // A line of the record that is not understood may have been about any notice: it belongs to no enclosure.
    let doubt = doubt(&loaded, general.strict);
    let wanted = Wanted::new(&arguments.only, None)?;
    let ledger = Ledger::of(&record.reading.entries);
    let changes = checked(&ledger, &loaded, &doubt, &wanted)?;
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
        let mut report = ChangesReport::new(&names.0, &names.1, found);
        report.changes(&changes, Against::Fixed);
        report.outputs(written);
        terminal.stream(|out| report.write(out))?;
    } else {
        terminal.print(&text::told(&changes, Against::Fixed, terminal.width()))?;
    }
    terminal.say(&said);
    let is_well = changes.changed.is_empty() && pipeline::judge(found, general.strict).is_ok();
    if is_well { Ok(()) } else { Err(Failure::NotTrue) }
}

/// A notice that is asked for by the names of any of its printings or of the survey is taken whole.
fn checked<'a>(
    ledger: &Ledger<'a>,
    loaded: &'a Loaded,
    doubt: &Doubt,
    wanted: &Wanted,
) -> Result<Changes<'a>, Failure> {
    let new = versions(loaded);
    let asks = |one: &Version<'_>| wanted.asks_for_version(one);
    let of_survey = new.iter().filter(|one| asks(one)).map(|one| one.number.to_owned());
    let of_record = ledger.notices.iter().filter(|known| {
        let printings = known.entries.iter().filter_map(|entry| Some(Version::printed(entry, entry.print.as_deref()?)));
        wanted.asks_for_names([known.number]) || printings.into_iter().any(|one| asks(&one))
    });
    let numbers: BTreeSet<String> = of_survey.chain(of_record.map(|known| known.number.to_owned())).collect();
    let of_doubt = |name: &str| wanted.asks_for_names([name]);
    if numbers.is_empty() && !wanted.in_words().is_empty() && !doubt.enclosures.iter().any(|name| of_doubt(name)) {
        let hint = "patterns are matched against designations, areas and numbers; `*` stands for anything";
        return Err(Failure::with_hint(format!("no notice on either side matches: {}", wanted.in_words()), hint));
    }
    Ok(check(ledger, new, doubt, |number| numbers.contains(number), of_doubt))
}
