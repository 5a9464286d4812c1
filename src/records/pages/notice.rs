//! The page of a notice that the survey has.

use super::frame::{Frame, list, section, stop, terms};
use super::stands::Stands;
use super::{Shown, Site, history, points};
use crate::notice::{Notice, Said, Subject, Told, told};
use crate::pages::texts::{named_size, parts, sentence};
use crate::rules::{DeviceDecision, Disconnects, enclosure_in_words};
use crate::typesetting::Typesetter;
use crate::writers::html::Html;
use crate::writers::svg;

/// What whoever stands before a notice must bear in mind; common practice of the trade.
pub(super) const CAUTIONS: [&str; 5] = [
    "Neither notice nor page makes anything dead. Follow the safe isolation procedure, and prove dead at the point of work \
     before anything is touched.",
    "Local rules, the standard's own text and licensed practice come before anything said here.",
    "What the survey does not say is unknown. A feed that it does not name is on no page.",
    "The notice you stand before may be older or newer than this page: compare its revision and date.",
    "A page that was printed or kept may be older than what stands on site now.",
];

/// The page as it is written.
pub(super) fn page(site: &Site<'_>, shown: &Shown<'_>) -> String {
    let notice = shown.notice;
    let title = format!("{}: record of {}", notice.number, kind(notice.subject));
    let frame = Frame { title: &title, depth: shown.depth, searches: false, identity: site.prepared.identity };
    let told = shown.decided.map(|(decision, enclosure)| told(decision, enclosure, &site.english));
    let stands = Stands::of(shown.known, site.record.is_some(), notice, site.measure);
    frame.document(|html| {
        first(html, shown, told.as_ref(), &stands);
        head(html, site, notice);
        section(html, "What it says", |html| html.element("div", &[("class", "said")], |html| says(html, site, shown)));
        match notice.subject {
            Subject::Enclosure => told.iter().for_each(|told| points::isolation(html, site, shown, told)),
            Subject::Device => disconnects(html, site, notice),
            Subject::Standing => inspections(html, site, notice),
        }
        section(html, "This page", |html| this_page(html, site, notice));
        section(html, "What stands on site", |html| on_site(html, &stands));
        shown.decided.iter().for_each(|(decision, enclosure)| points::drawing(html, site, decision, enclosure));
        section(html, "History", |html| history::table(html, shown.known, site.record.is_some()));
        section(html, "To bear in mind", |html| list(html, CAUTIONS));
    })
}

/// A notice by what it is on.
pub(super) const fn kind(subject: Subject) -> &'static str {
    match subject {
        Subject::Enclosure => "a notice on an enclosure",
        Subject::Device => "a notice on an isolator",
        Subject::Standing => "a standing notice",
    }
}

/// What must be read before anything else.
fn first(html: &mut Html, shown: &Shown<'_>, told: Option<&Told>, stands: &Stands<'_>) {
    if let (Some(told), Some((decision, _))) = (told, shown.decided)
        && let Some((words, last)) = told.stop(decision)
    {
        let further: Vec<String> = [last.to_owned()].into_iter().chain(told.cautions.iter().cloned()).collect();
        stop(html, &words, &further);
    }
    if shown.notice.subject == Subject::Device {
        let further = ["Isolate all points of the enclosure, then prove dead.".to_owned()];
        stop(html, "Opening it makes nothing dead by itself", &further);
    }
    stands.first.iter().for_each(|warning| stop(html, &warning.first, &warning.further));
}

fn head(html: &mut Html, site: &Site<'_>, notice: &Notice) {
    html.line("h1", &[], &notice.designation);
    let kind = site.listed.get(notice.number.as_str()).filter(|_| notice.subject == Subject::Standing);
    let name = kind.map_or(notice.name.as_str(), |entry| entry.kind.name());
    html.said("p", &[("class", "about")], &parts([sentence(name).as_str(), &notice.area]));
    let position = match (notice.subject, notice.position.as_str()) {
        (_, position) if !position.is_empty() => position,
        (Subject::Enclosure, _) => "at its usual place",
        (Subject::Device, _) => "at the isolator",
        (Subject::Standing, _) => "place not said by the list",
    };
    let revision = super::stands::revision(&notice.revision);
    html.line("p", &[], &parts([format!("Notice {}", notice.number).as_str(), &revision, &sentence(position)]));
}

/// Every word of the notice in the order of reading, then its picture.
fn says(html: &mut Html, site: &Site<'_>, shown: &Shown<'_>) {
    let notice = &shown.set.printed(shown.notice);
    html.element("div", &[("class", "says")], |html| {
        said(html, site, "large", &notice.headline);
        said(html, site, "", &notice.statement);
        html.said("p", &[], &notice.name);
        let numbered = notice.subject == Subject::Enclosure && notice.points.len() > 1;
        for (number, point) in (1_usize..).zip(&notice.points) {
            let number = if numbered { format!("{number}. ") } else { String::new() };
            let point_in_words = parts([point.designation.as_str(), &point.place, &point.serves]);
            html.said("p", &[("class", "place")], &format!("{number}{point_in_words}"));
            point.remarks.iter().for_each(|remark| said(html, site, "", remark));
        }
        for figure in &notice.figures {
            let whole = figure.meaning.iter().map(|meaning| format!("{} {meaning}", figure.figure).trim().to_owned());
            said(html, site, "place", &whole.collect());
        }
        notice.cautions.iter().for_each(|caution| said(html, site, "", caution));
        said(html, site, "large", &notice.closing);
        html.said("p", &[("class", "soft")], &notice.small_line);
        said(html, site, "soft", &notice.code_caption);
    });
    html.element("figure", &[], |html| {
        let size = named_size(shown.set.size);
        let alternative = format!("Picture of notice {}, {size}; its words stand above", notice.number);
        let picture = svg::small(&Typesetter::new().draw(shown.notice, shown.set), &notice.number);
        points::picture(html, &picture, shown.set.size, &alternative, "fit");
        html.line("figcaption", &[], &format!("The notice as it is printed, {size}. A picture is no durable notice."));
    });
}

/// Words in every language, each told by its tag.
fn said(html: &mut Html, site: &Site<'_>, class: &'static str, said: &Said) {
    for (number, words) in said.iter().enumerate() {
        let language = site.languages.get(number).map(String::as_str).filter(|tag| *tag != "en");
        let mut attributes = Vec::new();
        attributes.extend((!class.is_empty()).then_some(("class", class)));
        attributes.extend(language.map(|tag| ("lang", tag)));
        attributes.extend(language.map(|_| ("dir", "auto")));
        html.said("p", &attributes, words);
    }
}

/// What an isolator disconnects, enclosure by enclosure, and what stays live there.
fn disconnects(html: &mut Html, site: &Site<'_>, notice: &Notice) {
    let Some(device) = site.names.device(&notice.designation, &notice.area) else { return };
    section(html, "How it is handled", |html| list(html, device.handling().iter().map(|line| sentence(line))));
    section(html, "What it disconnects", |html| {
        // They are sorted by enclosure.
        for mine in device.disconnects.chunk_by(|one, other| one.enclosure == other.enclosure) {
            enclosure(html, site, device, mine);
        }
        list(html, device.back_feed.iter().map(|ups| format!("{ups} can feed back to its load side.")));
    });
}

fn enclosure(html: &mut Html, site: &Site<'_>, device: &DeviceDecision, mine: &[Disconnects]) {
    let Some(name) = mine.first().map(|one| one.enclosure.as_str()) else { return };
    let decided = site.names.enclosure(name).and_then(|place| site.prepared.decided(place));
    html.line("h3", &[], &enclosure_in_words(name, decided.map(|(_, enclosure)| enclosure)));
    let all: Vec<&Disconnects> = mine.iter().collect();
    let remains = decided.map(|(decision, _)| device.remains_in(decision, &all)).unwrap_or_default();
    let lines = mine.iter().map(Disconnects::in_words).chain(remains);
    list(html, lines.map(|line| sentence(&line)));
}

/// The dates of a standing notice, where its list gives them.
fn inspections(html: &mut Html, site: &Site<'_>, notice: &Notice) {
    let Some(entry) = site.listed.get(notice.number.as_str()) else { return };
    let (last, next) = (entry.last_inspection, entry.next_inspection);
    if last.is_none() && next.is_none() {
        return;
    }
    section(html, "Inspections", |html| {
        let written = |date: Option<crate::standing::Date>| {
            date.map_or("not said by the list".to_owned(), |date| date.to_string())
        };
        terms(html, [("Last", written(last)), ("Next", written(next))]);
    });
}

fn this_page(html: &mut Html, site: &Site<'_>, notice: &Notice) {
    let identity = site.prepared.identity;
    let or_none = |text: &str| if text.is_empty() { "none given".to_owned() } else { text.to_owned() };
    html.line("p", &[], "What the survey says now. What stands on site may be another copy: see below.");
    let facts = [
        ("Revision", or_none(&notice.revision)),
        ("Survey of", or_none(identity.date)),
        ("Fingerprint of what it says", notice.fingerprint().to_owned()),
        ("Code carries", notice.code.clone().unwrap_or_else(|| "no code".to_owned())),
    ];
    terms(html, facts);
}

fn on_site(html: &mut Html, stands: &Stands<'_>) {
    stands.lines.iter().for_each(|line| html.line("p", &[], line));
    for warning in &stands.first {
        html.line("p", &[("class", "place")], &format!("{}.", warning.first));
        list(html, &warning.further);
    }
    if let Some(other) = stands.other {
        html.line("h3", &[], "What the copy on site says, by the record");
        history::statement(html, other);
    }
}
