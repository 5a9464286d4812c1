//! What a standing notice says: the words that its kind asks for, or the reader's own, and its dates.

use super::compose::NoticeOptions;
use super::fingerprint::Fingerprint;
use super::{Notice, NoticeFigure, Said, Subject, code_text};
use crate::finding::{Finding, code};
use crate::rules::{StandingDecision, WhoseWords};
use crate::standing::{Date, Entry, Kind, Standing, StandingColumn};
use crate::wording::{Message, Wording, one_line};

/// The notices of a list in its order, with what is wrong with them.
#[must_use]
pub fn compose_standing(
    standing: &Standing,
    decisions: &[StandingDecision],
    wording: &Wording,
    options: &NoticeOptions,
) -> (Vec<Notice>, Vec<Finding>) {
    let (mut notices, mut findings) = (Vec::with_capacity(decisions.len()), Vec::new());
    for decision in decisions {
        let Some(entry) = standing.entries.get(decision.entry) else { continue };
        let (notice, refused) = notice(entry, decision, wording, options);
        notices.push(notice);
        findings.extend(refused.map(|finding| finding.at(standing.place(entry.record, StandingColumn::RecordLink))));
    }
    findings.extend(translated(standing, decisions, wording));
    (notices, findings)
}

fn notice(
    entry: &Entry,
    decision: &StandingDecision,
    wording: &Wording,
    options: &NoticeOptions,
) -> (Notice, Option<Finding>) {
    let number = one_line(&entry.number).into_owned();
    let (headline, statement) = words(entry, wording);
    let reading_distance = entry.reading_distance.unwrap_or(options.reading_distance);
    let mut notice = Notice {
        subject: Subject::Standing,
        designation: number.clone(),
        name: String::new(),
        area: one_line(&entry.area).into_owned(),
        position: one_line(&entry.position).into_owned(),
        rules: vec![decision.reason.rule],
        headline,
        statement,
        cautions: Vec::new(),
        points: Vec::new(),
        figures: if entry.kind == Kind::PeriodicInspection { dates(entry, wording) } else { Vec::new() },
        closing: Said::new(),
        small_line: String::new(),
        code_caption: Said::new(),
        code: None,
        tag: None,
        reading_distance,
        sign_distance: reading_distance,
        size: entry.size.map(|size| size.0),
        least: decision.least,
        space: None,
        environment: entry.environment.unwrap_or(options.environment),
        surface: entry.surface,
        revision: options.revision.clone(),
        hashed: Fingerprint::at(&options.site),
        number,
    };
    let refused = code_text::give(&mut notice, &entry.record_link, wording, options).err();
    let refused = refused.map(|refusal| refusal.said(&notice.number, options));
    super::issue(&mut notice, (&options.revision, &options.date), &options.site, wording);
    (notice, refused)
}

/// Heading and rest, each in every language.
fn words(entry: &Entry, wording: &Wording) -> (Said, Said) {
    let whole = match &entry.words {
        Some(words) => wording.repeat(words),
        None => wording.say(message(entry.kind)),
    };
    let (heading, rest): (Vec<String>, Vec<String>) =
        whole.iter().map(|words| parted(words, is_all_heading(entry.kind))).unzip();
    (heading.into(), rest.into())
}

/// Whether the words of a kind are so few that they are all heading.
const fn is_all_heading(kind: Kind) -> bool {
    match kind {
        Kind::EarthingConnection | Kind::FirefightersSwitch => true,
        Kind::PeriodicInspection
        | Kind::RcdTest
        | Kind::EarthFreeLocation
        | Kind::SurgeProtection
        | Kind::MixedColours => false,
    }
}

/// Most characters of a heading before a dash: what is longer is a sentence with a dash in it.
const HEADING_CHARS: usize = 40;

/// The heading before the first dash with blanks round it, and what follows. The dash itself becomes a new line.
fn parted(words: &str, is_all_heading: bool) -> (String, String) {
    let dashes = [" \u{2013} ", " \u{2014} ", " - "];
    let split = dashes.iter().filter_map(|dash| words.split_once(dash)).min_by_key(|(heading, _)| heading.len());
    match split.filter(|(heading, _)| heading.chars().count() <= HEADING_CHARS) {
        Some((heading, rest)) => (heading.trim().to_owned(), rest.trim().to_owned()),
        None if is_all_heading => (words.to_owned(), String::new()),
        None => (String::new(), words.to_owned()),
    }
}

const fn message(kind: Kind) -> Message<'static> {
    match kind {
        Kind::PeriodicInspection => Message::StandingPeriodicInspection {},
        Kind::RcdTest => Message::StandingRcdTest {},
        Kind::EarthingConnection => Message::StandingEarthingConnection {},
        Kind::EarthFreeLocation => Message::StandingEarthFreeLocation {},
        Kind::SurgeProtection => Message::StandingSurgeProtection {},
        Kind::FirefightersSwitch => Message::StandingFirefightersSwitch {},
        Kind::MixedColours => Message::StandingMixedColours {},
    }
}

fn dates(entry: &Entry, wording: &Wording) -> Vec<NoticeFigure> {
    let one = |date: Option<Date>, meaning: Message<'_>| NoticeFigure {
        figure: date.map(|date| day(date, wording)).unwrap_or_default(),
        meaning: wording.say(meaning),
    };
    vec![
        one(entry.last_inspection, Message::DateLastInspection {}),
        one(entry.next_inspection, Message::DateNextInspection {}),
    ]
}

/// `14 May 2026`, with no-break spaces, in the main language.
fn day(date: Date, wording: &Wording) -> String {
    let (day, year) = (date.day().to_string(), date.year().to_string());
    let said = wording.say_once(Message::CalendarDay { day: &day, month: u32::from(date.month()), year: &year });
    said.replace(' ', "\u{a0}")
}

/// Advice where prescribed words are printed in a language in which no standard prescribes them: one for each language.
fn translated(standing: &Standing, decisions: &[StandingDecision], wording: &Wording) -> Vec<Finding> {
    let is_ours = |decision: &&StandingDecision| matches!(decision.words, WhoseWords::OursPrescribed(_));
    let Some(first) = decisions.iter().find(is_ours).and_then(|first| standing.entries.get(first.entry)) else {
        return Vec::new();
    };
    let others = wording.languages().filter(|tag| *tag != ENGLISH && !tag.starts_with("en-"));
    others
        .map(|tag| {
            let message =
                format!("prescribed words of standing notices are printed in `{tag}`, as a translation of ours");
            Finding::new(code::STANDING_WORDS_UNVERIFIED, message)
                .help("the standard prescribes English words; have the translation read, or write your own in `words`")
                .at(standing.place(first.record, StandingColumn::Words))
        })
        .collect()
}

/// The language in which the standard prescribes words.
const ENGLISH: &str = "en";
