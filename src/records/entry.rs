//! One entry of a record: what happened to a notice, when, by whom.

use std::fmt;

use super::Statement;
use crate::length::{Length, Size};
use crate::material::Life;
use crate::notice::Subject;
use crate::standing::Date;

/// What happened to a notice.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Event {
    /// It was printed, and lies ready to be fixed.
    Printed,
    /// It was fixed where none was before.
    Fixed,
    /// Somebody looked at it where it is fixed.
    Inspected,
    /// It was fixed in the place of an older copy, which was taken away.
    Replaced,
    /// It was taken away, and none came in its place.
    Withdrawn,
    /// A copy that lay printed, and was not fixed, was destroyed: what stands on site is as it was.
    Destroyed,
}

impl Event {
    /// Every event.
    pub const ALL: [Self; 6] =
        [Self::Printed, Self::Fixed, Self::Inspected, Self::Replaced, Self::Withdrawn, Self::Destroyed];

    /// Whether it happened to what is on site, and not to a copy that lies ready for it.
    #[must_use]
    pub const fn is_on_site(self) -> bool {
        !matches!(self, Self::Printed | Self::Destroyed)
    }

    /// The word of the file and of messages.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Printed => "printed",
            Self::Fixed => "fixed",
            Self::Inspected => "inspected",
            Self::Replaced => "replaced",
            Self::Withdrawn => "withdrawn",
            Self::Destroyed => "destroyed",
        }
    }

    /// The event of a word, without regard to case.
    #[must_use]
    pub fn named(word: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|event| event.name().eq_ignore_ascii_case(word.trim()))
    }
}

/// How a notice was found.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Condition {
    /// All of it can be read, and it sits fast.
    Good,
    /// Letters or colours have gone pale.
    Faded,
    /// Torn, scratched, lifting or dirty for good.
    Damaged,
    /// It is not there.
    Missing,
    /// What it says is not what is there.
    Wrong,
}

impl Condition {
    /// Every condition.
    pub const ALL: [Self; 5] = [Self::Good, Self::Faded, Self::Damaged, Self::Missing, Self::Wrong];

    /// The word of the file and of messages.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Good => "good",
            Self::Faded => "faded",
            Self::Damaged => "damaged",
            Self::Missing => "missing",
            Self::Wrong => "wrong",
        }
    }

    /// The condition of a word, without regard to case.
    #[must_use]
    pub fn named(word: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|condition| condition.name().eq_ignore_ascii_case(word.trim()))
    }
}

/// One line of a record. An empty text is one that nobody gave.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Entry {
    /// The day on which it happened.
    pub date: Date,
    /// What happened.
    pub event: Event,
    /// Number of the notice.
    pub number: String,
    /// Revision of the copy that it happened to; empty where it is not known or has none.
    pub revision: String,
    /// Fingerprint of the copy that it happened to; empty where it is not known.
    pub fingerprint: String,
    /// How it was found, at an inspection.
    pub condition: Option<Condition>,
    /// Who did it.
    pub by: String,
    /// Where it was fixed or found, where that is not the notice's own position.
    pub place: String,
    /// Path or link of a photograph.
    pub photo: String,
    /// Free text.
    pub note: String,
    /// What was printed, at a printing.
    pub print: Option<Box<Print>>,
}

impl Entry {
    /// An entry with nothing but day, event and number.
    #[must_use]
    pub fn new(date: Date, event: Event, number: impl Into<String>) -> Self {
        Self {
            date,
            event,
            number: number.into(),
            revision: String::new(),
            fingerprint: String::new(),
            condition: None,
            by: String::new(),
            place: String::new(),
            photo: String::new(),
            note: String::new(),
            print: None,
        }
    }
}

/// What was printed, and on what.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Print {
    /// What the notice is about.
    pub subject: Subject,
    /// Designation of the enclosure or device.
    pub designation: String,
    /// Area of the enclosure, location of the device.
    pub area: String,
    /// Where it is to be fixed, in words; empty for the usual place.
    pub position: String,
    /// The date printed beside the revision: that of its issue.
    pub issued: String,
    /// The size.
    pub size: Size,
    /// Height of its least capitals that are read from a distance; `None` where nobody kept it.
    pub letters: Option<Length>,
    /// Height of its warning sign; `None` where it carries none, or nobody kept it.
    pub sign: Option<Length>,
    /// The sheet format by name.
    pub format: String,
    /// The class of material.
    pub material: String,
    /// How it was marked.
    pub process: String,
    /// What its place asks of it, in words; empty where nobody says.
    pub environment: String,
    /// How long the material lasts there.
    pub lasts: Lasts,
    /// The document.
    pub file: String,
    /// Page of the document, from 1; 0 where it is not known.
    pub page: u32,
    /// Cell of the page, from 1; 0 where it is not known. Of several copies it is that of the first.
    pub cell: u32,
    /// How many were printed of it.
    pub copies: u32,
    /// The number of the printing, from 1: what was printed together has the same.
    pub run: u32,
    /// What it says.
    pub says: Statement,
}

/// How long a label lasts where it is fixed: nothing where nobody knows.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Lasts(pub Option<Life>);

impl Lasts {
    /// In words that no spreadsheet takes for a number or a date: `5 to 7 years`, `10 years and more`, `none` where it is not
    /// meant for the place, empty where it is not known.
    #[must_use]
    pub fn cell(self) -> String {
        self.0.map(|life| life.to_string()).unwrap_or_default()
    }

    /// What [`Lasts::cell`] wrote; `None` for anything else.
    #[must_use]
    pub fn parse(cell: &str) -> Option<Self> {
        let number = |text: &str| text.parse::<u16>().ok().filter(|_| text.len() <= 3);
        let life = match cell.split(' ').collect::<Vec<_>>().as_slice() {
            [""] => return Some(Self(None)),
            ["none"] => Life::NONE,
            [years, "years"] => Life { least: number(years)?, most: Some(number(years)?) },
            [least, "to", most, "years"] => Life { least: number(least)?, most: Some(number(most)?) },
            [least, "years", "and", "more"] => Life { least: number(least)?, most: None },
            _ => return None,
        };
        Some(Self(Some(life)))
    }
}

impl fmt::Display for Lasts {
    /// `5 to 7 years`, `not known`
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self.0 {
            None => f.write_str("not known"),
            Some(life) => life.fmt(f),
        }
    }
}
