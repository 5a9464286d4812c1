//! Two lists of notices held against each other, by number.

use super::pairs::Paired;
use super::points::points;
use super::{Danger, Difference, Doubt, Version, What, differences};
use crate::notice::Subject;

/// What became of a notice.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Fate {
    /// It is there now, and was not.
    New,
    /// It says something else.
    Altered,
    /// It says the same, and is too small for its place or not made for it.
    NotFit,
    /// It says the same, and is to be fixed elsewhere.
    Moved,
    /// It was there, and is not.
    Withdrawn,
    /// A copy of it lies printed, was never fixed, and says what is not so.
    FalseCopy,
    /// It cannot be told.
    NotJudged,
}

impl Fate {
    /// Every fate, in the order in which they are counted.
    pub const ALL: [Self; 7] =
        [Self::New, Self::Altered, Self::NotFit, Self::Moved, Self::Withdrawn, Self::FalseCopy, Self::NotJudged];

    /// Whether it is told only where there is any.
    #[must_use]
    pub const fn is_rare(self) -> bool {
        matches!(self, Self::NotFit | Self::FalseCopy | Self::NotJudged)
    }

    /// Its word.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::New => "new",
            Self::Altered => "altered",
            Self::NotFit => "not fit",
            Self::Moved => "moved",
            Self::Withdrawn => "withdrawn",
            Self::FalseCopy => "false copy",
            Self::NotJudged => "not judged",
        }
    }
}

/// One notice that is no longer what it was, or that cannot be judged.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Change<'a> {
    /// What became of it.
    pub fate: Fate,
    /// What the old state does to a person who trusts it.
    pub danger: Danger,
    /// Its number; empty for an enclosure of which no notice is known.
    pub number: &'a str,
    /// The old version, if one is known.
    pub old: Option<Version<'a>>,
    /// The new version, if there is one.
    pub new: Option<Version<'a>>,
    /// What differs, the most dangerous first.
    pub differences: Vec<Difference>,
    /// What else is to be said, such as why it cannot be judged; without a full stop.
    pub note: String,
}

impl<'a> Change<'a> {
    /// A notice that one side alone knows, or neither.
    pub(super) fn alone(
        fate: Fate,
        danger: Danger,
        number: &'a str,
        (old, new): (Option<Version<'a>>, Option<Version<'a>>),
        note: impl Into<String>,
    ) -> Self {
        Self { fate, danger, number, old, new, differences: Vec::new(), note: note.into() }
    }

    /// The version that it is known by: the new one where there is one.
    #[must_use]
    pub fn version(&self) -> Option<&Version<'a>> {
        self.new.as_ref().or(self.old.as_ref())
    }

    /// What it is about.
    #[must_use]
    pub fn subject(&self) -> Option<Subject> {
        self.version().map(|version| version.subject)
    }

    /// Designation of the enclosure or device; empty where it is not known.
    #[must_use]
    pub fn designation(&self) -> &'a str {
        self.version().map_or("", |version| version.designation)
    }

    /// Area of the enclosure, location of the device; empty where it is not known.
    #[must_use]
    pub fn area(&self) -> &'a str {
        self.version().map_or("", |version| version.area)
    }
}

/// What two states of the notices come to.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Changes<'a> {
    /// What is no longer as it was, the most dangerous first, then in walking order.
    pub changed: Vec<Change<'a>>,
    /// How many are as they were.
    pub unchanged: usize,
    /// Of how many fixed notices the survey knows how few, where they seem to be those of another survey.
    pub of_another: Option<(usize, usize)>,
}

impl Changes<'_> {
    /// How many have a fate.
    #[must_use]
    pub fn count(&self, fate: Fate) -> usize {
        self.changed.iter().filter(|change| change.fate == fate).count()
    }

    /// The numbers of the notices that are to be printed: new ones, altered ones, and those whose copy is not fit.
    #[must_use]
    pub fn to_print(&self) -> std::collections::BTreeSet<String> {
        let printed =
            self.changed.iter().filter(|change| matches!(change.fate, Fate::New | Fate::Altered | Fate::NotFit));
        printed.filter_map(|change| Some(change.new.as_ref()?.number.to_owned())).collect()
    }

    /// Puts the most dangerous first, and what is equally dangerous in walking order.
    pub(super) fn sorted(mut self) -> Self {
        self.changed.sort_by(|one, other| {
            let compare = alphanumeric_sort::compare_str;
            one.danger
                .cmp(&other.danger)
                .then_with(|| compare(one.area(), other.area()))
                .then_with(|| compare(one.number, other.number))
                .then_with(|| one.note.cmp(&other.note))
        });
        self
    }
}

/// Holds two lists of notices against each other; `asked` whether a notice is asked for by its old or its new version, or
/// where neither is known by its number. What is in doubt is called so and never unchanged; where what is known of it is
/// already worse, it is called by that.
#[must_use]
pub fn compare<'a>(old: Vec<Version<'a>>, new: Vec<Version<'a>>, doubt: &Doubt, asked: Asked<'_>) -> Changes<'a> {
    let numbers: Vec<&str> = old.iter().map(|old| old.number).collect();
    let mut paired = Paired::of(&old, new);
    let mut changes = Changes::default();
    let found: Vec<Option<Version<'a>>> = numbers.iter().map(|number| paired.take(number)).collect();
    for (old, new) in old.into_iter().zip(found) {
        if !asked(Some(&old), new.as_ref(), old.number) {
            continue;
        }
        let change = match new {
            Some(new) => held(old, new, doubt, ""),
            None => Some(without_new(old, doubt, &paired)),
        };
        match change {
            Some(change) => changes.changed.push(change),
            None => changes.unchanged += 1,
        }
    }
    let rest = paired.rest().filter(|new| asked(None, Some(new), new.number));
    changes.changed.extend(rest.map(|new| without_old(new, doubt, "", "")));
    changes.sorted()
}

/// Whether a notice is asked for: by its old version, its new one, or its number alone.
pub type Asked<'f> = &'f dyn Fn(Option<&Version<'_>>, Option<&Version<'_>>, &str) -> bool;

pub(super) fn reason(doubt: &Doubt, version: &Version<'_>) -> Option<String> {
    doubt.of_version(version).or_else(|| doubt.everywhere.clone())
}

/// An old version against its new one; `None` if it still holds. `found_wrong` says who found on site that it does not.
pub(super) fn held<'a>(old: Version<'a>, new: Version<'a>, doubt: &Doubt, found_wrong: &str) -> Option<Change<'a>> {
    let found_wrong = (!found_wrong.is_empty()).then(|| found_wrong.to_owned());
    let in_doubt = found_wrong.or_else(|| reason(doubt, &old)).or_else(|| reason(doubt, &new));
    let differences = differences(&old, &new);
    let by_words = differences.iter().map(|difference| difference.danger).min();
    let number = old.number;
    let moved = differences.iter().all(|difference| difference.what == What::Place);
    let says_the_same = differences.iter().all(|one| one.what == What::Place || one.what.is_of_fitness());
    let by_words_alone = match (moved, says_the_same) {
        (true, _) => Fate::Moved,
        (false, true) => Fate::NotFit,
        (false, false) => Fate::Altered,
    };
    let (fate, danger, note) = match (by_words, in_doubt) {
        (None, None) => return None,
        (Some(danger), None) => (by_words_alone, danger, String::new()),
        (Some(danger), Some(why)) if danger < Danger::CannotBeJudged => (Fate::Altered, danger, why),
        (_, Some(why)) => (Fate::NotJudged, Danger::CannotBeJudged, why),
    };
    Some(Change { fate, danger, number, old: Some(old), new: Some(new), differences, note })
}

/// An old version that has no new one. The notice of an isolator that is not there, or not under this name or at this place,
/// stays on whatever is there now.
pub(super) fn without_new<'a>(old: Version<'a>, doubt: &Doubt, paired: &Paired<'_>) -> Change<'a> {
    let number = old.number;
    let is_device = old.subject == Subject::Device;
    let (fate, danger, note) = match reason(doubt, &old) {
        Some(why) => (Fate::NotJudged, Danger::CannotBeJudged, why),
        None if is_device && paired.has_device_of(&old) => {
            let note =
                "the isolator is still there and disconnects what it says; a notice of it is no longer asked for";
            (Fate::Withdrawn, Danger::NotNeeded, note.to_owned())
        }
        None if is_device && points(&old.says).iter().any(|point| paired.has_enclosure(point.place)) => {
            let note =
                "the isolator is elsewhere, has another name or is gone, and what it disconnected is still there";
            (Fate::Withdrawn, Danger::DisconnectsLess, note.to_owned())
        }
        None if is_device => (Fate::Withdrawn, Danger::PointGone, String::new()),
        None => (Fate::Withdrawn, Danger::NotNeeded, String::new()),
    };
    Change::alone(fate, danger, number, (Some(old), None), note)
}

/// A new version that has no old one; `number` of the record and `note` where there is something to say of it.
pub(super) fn without_old<'a>(new: Version<'a>, doubt: &Doubt, number: &'a str, note: &str) -> Change<'a> {
    let number = if number.is_empty() { new.number } else { number };
    let (fate, danger, note) = match reason(doubt, &new) {
        Some(why) => (Fate::NotJudged, Danger::CannotBeJudged, why),
        None => (Fate::New, Danger::NoneFixed, note.to_owned()),
    };
    Change::alone(fate, danger, number, (None, Some(new)), note)
}
