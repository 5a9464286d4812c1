//! A notice as one side of a comparison knows it.

use std::borrow::Cow;

use super::{Measure, Needs};
use crate::notice::{Notice, Subject};
use crate::records::{Entry, Known, Print, Statement};

/// One version of a notice: what it says, and where it belongs.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Version<'a> {
    /// Its number, by which versions are matched.
    pub number: &'a str,
    /// What it is about.
    pub subject: Subject,
    /// Designation of the enclosure or device.
    pub designation: &'a str,
    /// Area of the enclosure, location of the device.
    pub area: &'a str,
    /// Where it is fixed, in words; empty for the usual place.
    pub position: &'a str,
    /// Its revision; empty without one.
    pub revision: &'a str,
    /// Hash of everything that it says; empty where nobody knows it.
    pub fingerprint: &'a str,
    /// What it says, part by part.
    pub says: Cow<'a, Statement>,
    /// What its place asks of a copy, where the survey is known.
    pub needs: Option<Needs<'a>>,
    /// How the copy was made, where one is known.
    pub made: Option<&'a Print>,
}

impl<'a> Version<'a> {
    /// A notice as a survey has it.
    #[must_use]
    pub fn of(notice: &'a Notice) -> Self {
        Self {
            number: &notice.number,
            subject: notice.subject,
            designation: &notice.designation,
            area: &notice.area,
            position: &notice.position,
            revision: &notice.revision,
            fingerprint: notice.fingerprint(),
            says: Cow::Owned(Statement::of(notice)),
            needs: None,
            made: None,
        }
    }

    /// The same with what its place asks of a copy.
    #[must_use]
    pub fn needing(notice: &'a Notice, measure: &Measure) -> Self {
        Self { needs: Some(Needs::of(notice, measure)), ..Self::of(notice) }
    }

    /// A notice as it was printed.
    #[must_use]
    pub fn printed(entry: &'a Entry, print: &'a Print) -> Self {
        Self {
            number: &entry.number,
            subject: print.subject,
            designation: &print.designation,
            area: &print.area,
            position: &print.position,
            revision: &entry.revision,
            fingerprint: &entry.fingerprint,
            says: Cow::Borrowed(&print.says),
            needs: None,
            made: Some(print),
        }
    }

    /// The last printing of a notice of a record of which the copy was not destroyed.
    #[must_use]
    pub fn last_left(known: &Known<'a>) -> Option<Self> {
        let entry = known.left()?;
        Some(Self::printed(entry, entry.print.as_deref()?))
    }

    /// Whether two versions are the same words to the last letter, or a copy shows all that its notice now would. A fingerprint
    /// that nobody knows is like no other.
    #[must_use]
    pub fn says_the_same(&self, other: &Self) -> bool {
        if !self.fingerprint.is_empty() && self.fingerprint == other.fingerprint {
            return true;
        }
        match (&other.needs, self.made, &self.needs) {
            (Some(needs), Some(copy), _) => needs.would_print_as(copy, self.fingerprint),
            (Some(needs), None, Some(before)) => needs.prints_as(before),
            (Some(_), None, None) | (None, ..) => false,
        }
    }

    /// Whether the survey that it is of has an isolator of this designation at this place.
    pub(super) fn has_device(&self, designation: &str, place: &str) -> bool {
        self.needs.as_ref().is_some_and(|needs| needs.devices().has(designation, place))
    }

    /// Whether two versions belong at the same place.
    #[must_use]
    pub fn is_at_the_place_of(&self, other: &Self) -> bool {
        (self.area, self.position) == (other.area, other.position)
    }

    /// Where it is fixed, in words: `Chamber 3, left of the door`.
    #[must_use]
    pub fn place(&self) -> String {
        let parts = [self.area, self.position].into_iter().filter(|part| !part.is_empty());
        let place = parts.collect::<Vec<_>>().join(", ");
        if place.is_empty() { "the usual place".to_owned() } else { place }
    }
}
