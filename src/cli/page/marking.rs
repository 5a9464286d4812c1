//! What was done on site, told on the page, into the record.

use std::collections::BTreeSet;

use serde::{Deserialize, Serialize};

use super::answer::{Answer, Kind, Refused};
use super::looking;
use super::shown::Shown;
use super::site::Site;
use crate::cli::arguments::{Choice, MarkNumbers, MarkSeen};
use crate::cli::failure::Failure;
use crate::cli::labels::Made;
use crate::cli::prepared::{self, Asked};
use crate::cli::records::{self, Marked, Recording};
use crate::records::{Condition, Deed};
use crate::sheets::Run;

/// What is told.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Mark {
    /// The reading that was looked at.
    v: u64,
    deed: String,
    numbers: Vec<String>,
    #[serde(default)]
    condition: String,
    #[serde(default)]
    date: String,
    #[serde(default)]
    by: String,
    #[serde(default)]
    note: String,
}

#[derive(Serialize)]
struct MarkAnswer {
    message: String,
    site: looking::SiteAnswer,
}

/// Keeps it in the record, and reads everything again.
pub(super) fn mark(site: &Site, mark: &Mark) -> Answer {
    let change = site.change();
    let shown = site.shown(mark.v)?;
    if mark.numbers.is_empty() {
        return Err(Refused::impossible(Kind::Refused, "no notice is chosen"));
    }
    let message = if mark.deed == "printed" { printed(site, &shown, mark)? } else { done(site, &shown, mark)? };
    let state = change.before.clone();
    // What went wrong in reading is part of the site's answer.
    let _ = change.read(state);
    Ok(super::answer::json(&MarkAnswer { message, site: looking::answer(site) }))
}

/// What was done with notices that are printed.
fn done(site: &Site, shown: &Shown, mark: &Mark) -> Result<String, Refused> {
    let deed = match mark.deed.as_str() {
        "fixed" => Deed::Fixed,
        "replaced" => Deed::Replaced,
        "withdrawn" => Deed::Withdrawn,
        "inspected" => Deed::Inspected(condition(&mark.condition)?),
        other => return Err(Refused::not_understood(format!("`{other}` is nothing that is done with a notice"))),
    };
    let record = shown.loaded.record.as_ref().ok_or_else(records::nowhere)?;
    let seen = MarkSeen { place: String::new(), photo: String::new(), revision: String::new() };
    let numbers =
        MarkNumbers { numbers: mark.numbers.clone(), date: day(mark), by: mark.by.clone(), note: mark.note.clone() };
    let seen = (deed != Deed::Withdrawn).then_some(&seen);
    let marked = Marked { deed, mark: &numbers, seen };
    Ok(marked.keep(record.path.clone(), shown.limit(), site.general.strict)?)
}

fn day(mark: &Mark) -> Option<String> {
    (!mark.date.is_empty()).then(|| mark.date.clone())
}

fn condition(name: &str) -> Result<Condition, Refused> {
    let known = [Condition::Good, Condition::Faded, Condition::Damaged, Condition::Missing, Condition::Wrong];
    let found = known.into_iter().find(|known| known.name() == name);
    found.ok_or_else(|| Refused::impossible(Kind::Refused, "say in which condition it was found"))
}

/// Notices that were printed without being recorded, each as it would be printed now.
fn printed(site: &Site, shown: &Shown, mark: &Mark) -> Result<String, Refused> {
    let (loaded, general) = (&shown.loaded, &site.general);
    let day = records::day(day(mark).as_deref(), "the day")?;
    let by = (!mark.by.is_empty()).then_some(mark.by.as_str());
    let recording = Recording::begin(loaded, (day, by), String::new())?;
    let numbers: BTreeSet<String> = mark.numbers.iter().cloned().collect();
    numbers.iter().try_for_each(|number| crate::cli::selection::known(number, loaded))?;
    let choice = Choice { sheet: Vec::new(), only: Vec::new(), subject: None, leave_out_faulty: false };
    let asked = Asked { numbers: Some(&numbers), ..Asked::of(&choice, Run::default()) };
    let prepared = match Made::of(prepared::prepare(loaded, asked, general, false)?) {
        Made::Done(prepared) => prepared,
        Made::Faulty { .. } => return Err(Failure::Faulty.into()),
    };
    let adding = recording.hold(&prepared.printable)?;
    let recorded = recording.keep(adding, &prepared.plan, &prepared.printable, &[])?;
    Ok(recorded.summary() + records::RECORDED_NOW)
}
