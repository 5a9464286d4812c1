//! The page of a notice that the record has and the survey has no more: first of all, that nobody may rely on it.

use super::frame::{Frame, list, section, stop, terms};
use super::notice::{CAUTIONS, kind};
use super::{Site, history};
use crate::notice::Subject;
use crate::pages::texts::{parts, sentence};
use crate::records::{Event, Known, Standing};
use crate::writers::html::Html;

/// Whether a notice is asked for, by what the record knows of it.
pub(super) fn asks(known: &Known<'_>, asks: impl Fn(Option<Subject>, [&str; 3]) -> bool) -> bool {
    let print = known.printed().map(|(_, print)| print);
    let (designation, area) = print.map_or(("", ""), |print| (print.designation.as_str(), print.area.as_str()));
    asks(print.map(|print| print.subject), [designation, area, known.number])
}

/// Whether it is certain that the notice is no more: where errors keep notices from being made, one that was not withdrawn may
/// be among those.
pub(super) fn is_certain(known: &Known<'_>, faulty: bool) -> bool {
    !faulty || matches!(known.standing(), Standing::Withdrawn(_))
}

/// Why it is no more, and what stands on site.
fn why(known: &Known<'_>) -> (String, Vec<String>) {
    let gone = "The survey has no such notice any more: do not rely on it".to_owned();
    match known.standing() {
        Standing::Withdrawn(entry) => (
            format!("Withdrawn on {}: do not rely on it", entry.date),
            vec!["The survey has no such notice, and it was taken away by the record.".to_owned()],
        ),
        Standing::Fixed { by, .. } => (
            gone,
            vec![
                format!("By the record one still stands on site since {}. It must be taken away.", by.date),
                "What it says may no longer hold. Find out what is there before any work.".to_owned(),
            ],
        ),
        Standing::Missing(entry) => (gone, vec![format!("It was missing on site on {}.", entry.date)]),
        Standing::NotFixed => {
            (gone, vec!["It was printed, and nobody told that it was fixed. Do not fix it.".to_owned()])
        }
    }
}

/// Short words on it, for the index.
pub(super) fn in_short(known: &Known<'_>) -> &'static str {
    match known.standing() {
        Standing::Withdrawn(_) => "withdrawn",
        Standing::Fixed { .. } => "no longer in the survey, yet on site by the record",
        Standing::Missing(_) | Standing::NotFixed => "no longer in the survey",
    }
}

/// The page as it is written.
pub(super) fn page(site: &Site<'_>, known: &Known<'_>, depth: usize) -> String {
    let title = format!("{}: do not rely on this notice", known.number);
    let frame = Frame { title: &title, depth, searches: false, identity: site.prepared.identity };
    let (first, further) = why(known);
    frame.document(|html| {
        stop(html, &first, &further);
        head(html, known);
        section(html, "What it said when it was last printed", |html| said(html, known));
        section(html, "History", |html| history::table(html, Some(known), true));
        section(html, "To bear in mind", |html| list(html, CAUTIONS));
    })
}

fn head(html: &mut Html, known: &Known<'_>) {
    let print = known.printed().map(|(_, print)| print);
    html.line("h1", &[], print.map_or(known.number, |print| &print.designation));
    let Some(print) = print else {
        html.line("p", &[], &format!("Notice {}", known.number));
        return;
    };
    html.said(
        "p",
        &[("class", "about")],
        &parts([kind(print.subject), &print.area].map(sentence).each_ref().map(String::as_str)),
    );
    html.line("p", &[], &parts([format!("Notice {}", known.number).as_str(), &print.position]));
}

fn said(html: &mut Html, known: &Known<'_>) {
    let Some((entry, print)) = known.printed() else {
        html.line("p", &[], "The record tells of no printing.");
        return;
    };
    html.line("p", &[], "This no longer holds, and is kept so that an old copy can be known.");
    history::statement(html, &print.says);
    let printings = known.entries.iter().filter(|entry| entry.event == Event::Printed).count();
    terms(
        html,
        [
            ("Printed", entry.date.to_string()),
            ("Revision", entry.revision.clone()),
            ("Issued", print.issued.clone()),
            ("Printings", printings.to_string()),
            ("Fingerprint of what it said", entry.fingerprint.clone()),
        ],
    );
}
