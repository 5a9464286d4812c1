//! The page of a notice that nobody may rely on: the survey has it no more, or errors keep it from being judged, or nobody
//! knows it at all. That stands first of all.

use std::borrow::Cow;

use super::frame::{Frame, list, section, stop, terms};
use super::notice::{CAUTIONS, kind};
use super::{Site, history};
use crate::notice::{Notice, Subject};
use crate::pages::texts::{parts, sentence};
use crate::records::{Event, Known, Standing};
use crate::writers::html::Html;

/// A notice of which there is no more to show than the record has.
pub(super) struct Gone<'a> {
    pub(super) number: Cow<'a, str>,
    pub(super) known: Option<&'a Known<'a>>,
    pub(super) why: Why,
    about: About,
}

/// Why nobody may rely on it, in the order of the index.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Why {
    /// The survey has errors at what it is about.
    NotJudged,
    /// The survey has no such notice any more.
    NotInSurvey,
    /// Neither survey nor record knows it: an old page alone tells of it.
    Unknown,
}

/// What is known of it beside the record.
#[derive(Default)]
struct About {
    subject: Option<Subject>,
    designation: String,
    area: String,
}

impl<'a> Gone<'a> {
    /// A notice that the record has and the survey has not. Where errors keep notices from being made, one that was not
    /// withdrawn may be among those.
    pub(super) fn recorded(known: &'a Known<'a>, faulty: bool) -> Self {
        let why = if is_certain(known, faulty) { Why::NotInSurvey } else { Why::NotJudged };
        let print = known.printed().map(|(_, print)| print);
        let about = print.map_or_else(About::default, |print| About {
            subject: Some(print.subject),
            designation: print.designation.clone(),
            area: print.area.clone(),
        });
        Self { number: Cow::Borrowed(known.number), known: Some(known), why, about }
    }

    /// A notice of the survey that is left out because of errors.
    pub(super) fn left_out(notice: &'a Notice, known: Option<&'a Known<'a>>) -> Self {
        let (designation, area) = (notice.designation.clone(), notice.area.clone());
        let about = About { subject: Some(notice.subject), designation, area };
        Self { number: Cow::Borrowed(&notice.number), known, why: Why::NotJudged, about }
    }

    /// A notice on an enclosure with errors of which none could be composed.
    pub(super) fn of_enclosure(designation: &str, area: &str, number: usize) -> Self {
        let about =
            About { subject: Some(Subject::Enclosure), designation: designation.to_owned(), area: area.to_owned() };
        let number = Cow::Owned(format!("{designation}/{number}"));
        Self { number, known: None, why: Why::NotJudged, about }
    }

    /// What an old page was about, by its place.
    pub(super) fn unknown(place: &[String]) -> Self {
        Self { number: Cow::Owned(place.join("/")), known: None, why: Why::Unknown, about: About::default() }
    }

    /// Whether it is asked for, by what is known of it.
    pub(super) fn is_asked(&self, asks: impl Fn(Option<Subject>, [&str; 3]) -> bool) -> bool {
        asks(self.about.subject, [&self.about.designation, &self.about.area, &self.number])
    }

    /// Words on it, for the index.
    pub(super) fn in_short(&self) -> String {
        let standing = self.known.map(Known::standing);
        let state = match (self.why, standing) {
            (Why::NotInSurvey, Some(Standing::Withdrawn(_))) => "withdrawn",
            (Why::NotInSurvey, Some(Standing::Fixed { .. })) => "no longer in the survey, yet on site by the record",
            (Why::NotInSurvey, _) => "no longer in the survey",
            (Why::NotJudged, _) => "cannot be judged",
            (Why::Unknown, _) => "known to neither survey nor record",
        };
        parts([self.about.designation.as_str(), &self.about.area, state])
    }

    /// That nobody may rely on it, and what stands on site.
    fn warning(&self) -> (String, Vec<String>) {
        let site = self.known.map(on_site).unwrap_or_default();
        let (first, why) = match (self.why, self.known.map(Known::standing)) {
            (Why::NotInSurvey, Some(Standing::Withdrawn(entry))) => {
                (format!("Withdrawn on {}: do not rely on it", entry.date), "The survey has no such notice.")
            }
            (Why::NotInSurvey, _) => (
                "The survey has no such notice any more: do not rely on it".to_owned(),
                "What it says may no longer hold. Find out what is there before any work.",
            ),
            (Why::NotJudged, _) => (
                "Cannot be judged: the survey has errors here".to_owned(),
                "Treat what it is about as live. Go by neither the notice on site nor what is told of it here.",
            ),
            (Why::Unknown, _) => (
                "Neither survey nor record knows such a notice: do not rely on it".to_owned(),
                "A page of it lay here before. Treat what it is about as live, and find out what is there before any work.",
            ),
        };
        (first, [why.to_owned()].into_iter().chain(site).collect())
    }
}

/// Whether it is certain that a recorded notice is no more.
fn is_certain(known: &Known<'_>, faulty: bool) -> bool {
    !faulty || matches!(known.standing(), Standing::Withdrawn(_))
}

/// What stands on site by the record.
fn on_site(known: &Known<'_>) -> Vec<String> {
    vec![match known.standing() {
        Standing::Withdrawn(entry) => format!("By the record it was taken away on {}.", entry.date),
        Standing::Fixed { by, .. } => format!("By the record one still stands on site, since {}.", by.date),
        Standing::Missing(entry) => format!("By the record it was missing on site on {}.", entry.date),
        Standing::NotFixed => "It was printed, and nobody told that it was fixed.".to_owned(),
    }]
}

/// The page as it is written.
pub(super) fn page(site: &Site<'_>, gone: &Gone<'_>, depth: usize) -> String {
    let title = format!("{}: do not rely on this notice", gone.number);
    let frame = Frame { title: &title, depth, searches: false, identity: site.prepared.identity };
    let (first, further) = gone.warning();
    frame.document(|html| {
        stop(html, &first, &further);
        head(html, gone);
        if let Some(known) = gone.known {
            section(html, "What it said when it was last printed", |html| said(html, known));
        }
        section(html, "History", |html| history::table(html, gone.known, site.record.is_some()));
        section(html, "To bear in mind", |html| list(html, CAUTIONS));
    })
}

fn head(html: &mut Html, gone: &Gone<'_>) {
    let About { subject, designation, area } = &gone.about;
    html.line("h1", &[], if designation.is_empty() { &gone.number } else { designation });
    let kind = subject.map(kind).map(sentence).unwrap_or_default();
    html.said("p", &[("class", "about")], &parts([kind.as_str(), &sentence(area)]));
    let position = gone.known.and_then(Known::printed).map_or("", |(_, print)| print.position.as_str());
    html.line("p", &[], &parts([format!("Notice {}", gone.number).as_str(), position]));
}

fn said(html: &mut Html, known: &Known<'_>) {
    let Some((entry, print)) = known.printed() else {
        html.line("p", &[], "The record tells of no printing.");
        return;
    };
    html.line("p", &[], "This is kept so that an old copy can be known. Do not rely on it.");
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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::records::Entry;
    use crate::standing::Date;

    #[test]
    fn an_error_in_the_survey_withdraws_no_notice() {
        let entry = |date: &str, event| Entry::new(Date::parse(date).unwrap(), event, "CH1/1");
        let entries = [entry("2026-01-01", Event::Fixed), entry("2026-02-01", Event::Withdrawn)];
        let first = |count: usize, faulty: bool| {
            let known = Known { number: "CH1/1", entries: entries.iter().take(count).collect() };
            Gone::recorded(&known, faulty).warning().0
        };
        assert!(first(1, false).starts_with("The survey has no such notice any more"));
        assert!(first(1, true).starts_with("Cannot be judged"));
        assert!(first(2, true).starts_with("Withdrawn on 2026-02-01"), "the record itself withdrew it");
    }

    #[test]
    fn a_notice_of_the_record_is_asked_for_by_its_number() {
        let known = Known { number: "CH1/1", entries: Vec::new() };
        let gone = Gone::recorded(&known, false);
        assert!(
            gone.is_asked(|_, names| names.contains(&"CH1/1")) && !gone.is_asked(|_, names| names.contains(&"CH2"))
        );
    }
}
