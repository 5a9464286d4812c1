//! What stands on site by the record, held against what a page says.

use crate::notice::Notice;
use crate::pages::texts::{counted, sentence};
use crate::records::changes::{Difference, Measure, Version, differences};
use crate::records::{Condition, Entry, Event, Known, Standing, Statement};

/// Differences that are told in a warning; further ones are counted.
const MOST_TOLD: usize = 6;

/// What must be read before the page is.
#[derive(Clone, Debug, Default, PartialEq)]
pub(super) struct Warning {
    /// The first line, without a full stop.
    pub(super) first: String,
    /// What follows from it, a sentence each.
    pub(super) further: Vec<String>,
    /// The same in a word or two, for a list.
    pub(super) short: &'static str,
}

/// What is told of the copy on site.
#[derive(Debug, Default, PartialEq)]
pub(super) struct Stands<'a> {
    /// What must be read before the page is.
    pub(super) first: Vec<Warning>,
    /// The rest.
    pub(super) lines: Vec<String>,
    /// What the copy on site says, where that is something else.
    pub(super) other: Option<&'a Statement>,
    /// What a list says of it where there is nothing to warn of; empty if nothing.
    short: &'static str,
}

/// What to do where the copy on site is not the one of the page.
const TRUST_NEITHER: &str =
    "Trust neither the notice nor this page: find out what is there, prove dead, and have the notice replaced.";

impl<'a> Stands<'a> {
    /// What the record tells of a notice of the survey; `kept` says whether there is a record at all.
    pub(super) fn of(known: Option<&Known<'a>>, kept: bool, notice: &Notice, measure: &Measure) -> Self {
        let mut stands = Self::default();
        match known.map(Known::standing) {
            None if kept => {
                stands.unfixed("The record has no entry of this notice: nobody told that it was printed or fixed.")
            }
            None => stands.say("No record is kept: what stands on site is not known here."),
            Some(Standing::NotFixed) => stands.unfixed("It was printed, and nobody told that it was fixed."),
            Some(Standing::Fixed { by, print, inspected }) => {
                stands.say(fixed(by));
                stands.hold(&copy(by, print, inspected), (notice, measure));
                inspected.into_iter().for_each(|entry| stands.inspected(entry));
            }
            Some(Standing::Missing(entry)) => stands.warn(
                "missing on site",
                format!("By the record this notice was missing on {}", entry.date),
                ["Perhaps none stands there. Have it replaced.".to_owned()],
            ),
            Some(Standing::Withdrawn(entry)) => stands.warn(
                "taken away from site",
                format!("By the record this notice was taken away on {}, and none came in its place", entry.date),
                ["The survey still has it: one of the two is wrong.".to_owned()],
            ),
        }
        stands
    }

    /// What a list says of the copy on site: everything that is warned of, in a word or two each.
    pub(super) fn in_short(&self) -> String {
        let words: Vec<&str> = self.first.iter().map(|warning| warning.short).chain([self.short]).collect();
        words.into_iter().filter(|word| !word.is_empty()).collect::<Vec<_>>().join(", ")
    }

    fn say(&mut self, line: impl Into<String>) {
        self.lines.push(line.into());
    }

    fn unfixed(&mut self, line: &str) {
        self.short = "not fixed by the record";
        self.say(line);
    }

    fn warn(&mut self, short: &'static str, first: String, further: impl IntoIterator<Item = String>) {
        self.first.push(Warning { first, further: further.into_iter().collect(), short });
    }

    /// Holds the copy on site against the page, by what it says.
    fn hold(&mut self, copy: &Copy<'a>, (notice, measure): (&Notice, &Measure)) {
        let same_revision = copy.revision == notice.revision;
        let (its, ours) = (revision(copy.revision), revision(&notice.revision));
        match copy.fingerprint {
            "" => {
                self.short = "copy on site not known";
                self.say("The record does not tell what that copy says.");
                if !same_revision {
                    let first =
                        format!("The notice on site may be another: {its} by the record, and this page is {ours}");
                    self.short = "";
                    self.warn("perhaps not true on site", first, [TRUST_NEITHER.to_owned()]);
                }
            }
            same if same == notice.fingerprint() || shows_the_same(copy, (notice, measure)) => {
                let but = if same_revision { String::new() } else { format!(", though it is {its}") };
                self.say(format!("By the record that copy says the same as this page{but}. Look whether it does."));
                self.elsewhere(copy, notice);
                self.not_fit(copy, (notice, measure));
            }
            _ => {
                self.other = copy.printed.as_ref().map(|(_, says)| *says);
                let found = copy
                    .printed
                    .as_ref()
                    .map_or_else(Vec::new, |(old, _)| differences(old, &Version::needing(notice, measure)));
                let what = found.first().map_or("says something else than this page", |one| one.danger.in_words());
                let copies = if same_revision {
                    format!(", and both are {ours}")
                } else {
                    format!(": it is {its}, this page {ours}")
                };
                let (first, told) = (format!("The notice on site {what}{copies}"), differing(&found, notice));
                self.warn("not true on site", first, told.into_iter().chain([TRUST_NEITHER.to_owned()]));
            }
        }
    }

    /// A copy that says the same and belongs elsewhere.
    fn elsewhere(&mut self, copy: &Copy<'a>, notice: &Notice) {
        let Some((old, _)) = &copy.printed else { return };
        let new = Version::of(notice);
        if !old.is_at_the_place_of(&new) {
            let first = format!("By the record it is fixed elsewhere than where it belongs: {}", old.place());
            self.warn("fixed elsewhere", first, [format!("It belongs here: {}.", new.place())]);
        }
    }

    /// A copy that says the same and is too small to be read there, or not made for the place.
    fn not_fit(&mut self, copy: &Copy<'a>, (notice, measure): (&Notice, &Measure)) {
        let Some((old, _)) = &copy.printed else { return };
        let mut found = differences(old, &Version::needing(notice, measure));
        found.retain(|one| one.what.is_of_fitness());
        let Some(worst) = found.first() else { return };
        let first = format!("The notice on site {}", worst.danger.in_words());
        let told = found.iter().map(|one| format!("{}: {}.", sentence(one.what.name()), one.in_words()));
        self.warn("not fit on site", first, told.chain(["Have it replaced.".to_owned()]));
    }

    fn inspected(&mut self, entry: &Entry) {
        let note = if entry.note.is_empty() { String::new() } else { format!(": {}", entry.note) };
        let found = entry.condition.map_or("condition not told", Condition::name);
        self.say(format!("Last inspected on {}{}, {found}{note}", entry.date, by(entry)));
        let seen = format!("An inspection on {} found the notice {found}{note}", entry.date);
        let unreadable = "Words of it may not be readable, or may be lost: have it replaced.".to_owned();
        match entry.condition {
            Some(Condition::Wrong) => self.warn(
                "found wrong on site",
                format!("An inspection on {} found that the notice does not say what is there{note}", entry.date),
                ["Go by neither the notice nor this page until that is cleared up.".to_owned()],
            ),
            Some(Condition::Faded) => self.warn("faded", seen, [unreadable]),
            Some(Condition::Damaged) => self.warn("damaged", seen, [unreadable]),
            Some(Condition::Good | Condition::Missing) | None => {}
        }
    }
}

/// Whether a copy shows all that its notice now would.
fn shows_the_same(copy: &Copy<'_>, (notice, measure): (&Notice, &Measure)) -> bool {
    copy.printed.as_ref().is_some_and(|(old, _)| old.says_the_same(&Version::needing(notice, measure)))
}

/// What a copy says otherwise than a page, the most dangerous first: `point moved: Q7: Room 1 -> Room 2`.
fn differing(found: &[Difference], notice: &Notice) -> Vec<String> {
    let mut told: Vec<String> = found
        .iter()
        .take(MOST_TOLD)
        .map(|one| format!("Otherwise on site, {}: {}.", one.what.on(notice.subject), one.in_words()))
        .collect();
    let more = found.len().saturating_sub(told.len());
    told.extend((more > 0).then(|| format!("And {} more.", counted(more, "difference"))));
    told
}

/// The copy that stands on site, as far as the record knows it.
struct Copy<'a> {
    revision: &'a str,
    fingerprint: &'a str,
    /// It as it was printed, where it is fixed.
    printed: Option<(Version<'a>, &'a Statement)>,
}

/// Its printing tells most; an inspection that names another revision tells that the copy fixed is not the one that was
/// recorded.
fn copy<'a>(by: &'a Entry, entry: Option<&'a Entry>, inspected: Option<&'a Entry>) -> Copy<'a> {
    if let Some((entry, print)) = entry.and_then(|entry| Some((entry, entry.print.as_deref()?))) {
        let mut version = Version::printed(entry, print);
        // Where it was found last, else where it was fixed, if that is not the notice's own place.
        let places = inspected.into_iter().chain([by]).map(|entry| entry.place.as_str());
        version.position = places.into_iter().find(|place| !place.is_empty()).unwrap_or(version.position);
        let printed = Some((version, &print.says));
        return Copy { revision: &entry.revision, fingerprint: &entry.fingerprint, printed };
    }
    match inspected.filter(|entry| !entry.revision.is_empty() && entry.revision != by.revision) {
        Some(other) => Copy { revision: &other.revision, fingerprint: &other.fingerprint, printed: None },
        None => Copy { revision: &by.revision, fingerprint: &by.fingerprint, printed: None },
    }
}

fn fixed(by_entry: &Entry) -> String {
    let did = match by_entry.event {
        Event::Replaced => "Fixed in the place of an older copy",
        Event::Inspected => "Found there at an inspection",
        Event::Printed | Event::Fixed | Event::Withdrawn | Event::Destroyed => "Fixed",
    };
    let place = if by_entry.place.is_empty() { String::new() } else { format!(", {}", by_entry.place) };
    let copy = if by_entry.revision.is_empty() { String::new() } else { format!(", {}", revision(&by_entry.revision)) };
    format!("{did} on {}{}{copy}{place}.", by_entry.date, by(by_entry))
}

fn by(entry: &Entry) -> String {
    if entry.by.is_empty() { String::new() } else { format!(" by {}", entry.by) }
}

/// `revision B`, `of no revision`
pub(super) fn revision(revision: &str) -> String {
    if revision.is_empty() { "of no revision".to_owned() } else { format!("revision {revision}") }
}
