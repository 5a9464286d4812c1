//! What stands on site by the record, held against what a page says.

use crate::notice::Notice;
use crate::records::{Condition, Entry, Event, Known, Standing, Statement};

/// What is told of the copy on site.
#[derive(Debug, Default, PartialEq)]
pub(super) struct Stands<'a> {
    /// What must be read before the page is: each with a first line and what follows from it.
    pub(super) first: Vec<(String, String)>,
    /// The rest.
    pub(super) lines: Vec<String>,
    /// What the copy on site says, where that is something else.
    pub(super) other: Option<&'a Statement>,
}

/// What to do where the copy on site is not the one of the page.
const HOLD_AGAINST: &str = "Hold the notice you stand before against this page, go by whichever warns of more, and have the \
                            notice replaced.";

impl<'a> Stands<'a> {
    /// What the record tells of a notice of the survey; `kept` says whether there is a record at all.
    pub(super) fn of(known: Option<&Known<'a>>, kept: bool, notice: &Notice) -> Self {
        let mut stands = Self::default();
        match known.map(Known::standing) {
            None if kept => {
                stands.say("The record has no entry of this notice: nobody told that it was printed or fixed.")
            }
            None => stands.say("No record is kept: what stands on site is not known here."),
            Some(Standing::NotFixed) => stands.say("It was printed, and nobody told that it was fixed."),
            Some(Standing::Fixed { by, print, inspected }) => {
                stands.say(fixed(by));
                stands.hold(copy(by, print, inspected), notice);
                inspected.into_iter().for_each(|entry| stands.inspected(entry));
            }
            Some(Standing::Missing(entry)) => stands.warn(
                format!("By the record this notice was missing on {}", entry.date),
                "Perhaps none stands there. Have it replaced.",
            ),
            Some(Standing::Withdrawn(entry)) => stands.warn(
                format!("By the record this notice was taken away on {}, and none came in its place", entry.date),
                "The survey still has it: one of the two is wrong.",
            ),
        }
        stands
    }

    fn say(&mut self, line: impl Into<String>) {
        self.lines.push(line.into());
    }

    fn warn(&mut self, first: String, further: &str) {
        self.lines.push(format!("{first}."));
        self.first.push((first, further.to_owned()));
    }

    /// Holds the copy on site against the page, by what it says.
    fn hold(&mut self, copy: Copy<'a>, notice: &Notice) {
        let same_revision = copy.revision == notice.revision;
        let (its, ours) = (revision(copy.revision), revision(&notice.revision));
        match copy.fingerprint {
            "" => {
                self.say("The record does not tell what that copy says.");
                if !same_revision {
                    self.warn(
                        format!("The notice on site may be another: {its} by the record, and this page is {ours}"),
                        HOLD_AGAINST,
                    );
                }
            }
            same if same == notice.fingerprint => {
                let but = if same_revision { String::new() } else { format!(", though it is {its}") };
                self.say(format!("By the record that copy says the same as this page{but}. Look whether it does."));
            }
            _ => {
                self.other = copy.says;
                let first = if same_revision {
                    format!("The notice on site says something else than this page, and both are {ours}")
                } else {
                    format!("The notice on site says something else than this page: it is {its}, this page {ours}")
                };
                self.warn(first, HOLD_AGAINST);
            }
        }
    }

    fn inspected(&mut self, entry: &Entry) {
        let note = if entry.note.is_empty() { String::new() } else { format!(": {}", entry.note) };
        let found = entry.condition.map_or("condition not told", Condition::name);
        self.say(format!("Last inspected on {}{}, {found}{note}", entry.date, by(entry)));
        match entry.condition {
            Some(Condition::Wrong) => self.warn(
                format!("An inspection on {} found that the notice does not say what is there{note}", entry.date),
                "Go by neither the notice nor this page until that is cleared up.",
            ),
            Some(Condition::Faded | Condition::Damaged) => {
                self.say("Parts of it may no longer be readable: have it replaced.");
            }
            Some(Condition::Good | Condition::Missing) | None => {}
        }
    }
}

/// The copy that stands on site, as far as the record knows it.
struct Copy<'a> {
    revision: &'a str,
    fingerprint: &'a str,
    says: Option<&'a Statement>,
}

/// Its printing tells most; an inspection that names another revision tells that the copy fixed is not the one that was
/// recorded.
fn copy<'a>(by: &'a Entry, print: Option<&'a Entry>, inspected: Option<&'a Entry>) -> Copy<'a> {
    if let Some(print) = print {
        let says = print.print.as_ref().map(|print| &print.says);
        return Copy { revision: &print.revision, fingerprint: &print.fingerprint, says };
    }
    match inspected.filter(|entry| !entry.revision.is_empty() && entry.revision != by.revision) {
        Some(other) => Copy { revision: &other.revision, fingerprint: &other.fingerprint, says: None },
        None => Copy { revision: &by.revision, fingerprint: &by.fingerprint, says: None },
    }
}

fn fixed(by_entry: &Entry) -> String {
    let did = match by_entry.event {
        Event::Replaced => "Fixed in the place of an older copy",
        Event::Inspected => "Found fixed, though no fixing is recorded,",
        Event::Printed | Event::Fixed | Event::Withdrawn => "Fixed",
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
