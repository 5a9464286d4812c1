//! Notices that the designer lists, because a clause or good practice asks for them whatever the survey says: what each
//! is asked for by, how large it must be, and whose words it bears.

mod earth_free_location;
mod earthing_connection;
mod firefighters_switch;
mod mixed_colours;
mod own_words;
mod periodic_inspection;
mod rcd_test;
mod surge_protection;

mod report;

use super::{Clause, Confidence, Explained, Outcome, Reason, Rule};
use crate::length::{Length, Size};
use crate::standing::{Entry, Kind};

pub use report::decide;

/// What was decided for one standing notice.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct StandingDecision {
    /// Index of the entry in the list.
    pub entry: usize,
    /// What its rule comes to; it is listed, so it is never less than advised.
    pub reason: Reason,
    /// Why, in an English sentence.
    pub because: String,
    /// Whose words it bears.
    pub words: WhoseWords,
    /// The least that is published for its plate.
    pub least: LeastPlate,
}

impl StandingDecision {
    /// What its rule comes to, with why.
    #[must_use]
    pub fn explained(&self) -> Explained {
        Explained { reason: self.reason, because: self.because.clone() }
    }
}

/// Whose words a standing notice bears.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum WhoseWords {
    /// The reader's, from their own copy of the standard.
    Readers,
    /// The reader's, without the key words of those that a clause prescribes, known so surely.
    ReadersDoubtful(Confidence),
    /// Ours for words that a clause prescribes, known so surely.
    OursPrescribed(Confidence),
    /// Ours where the words are free.
    OursFree,
}

impl WhoseWords {
    /// The name in reports.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Readers | Self::ReadersDoubtful(_) => "own",
            Self::OursPrescribed(Confidence::Primary) => "prescribed",
            Self::OursPrescribed(Confidence::Secondary | Confidence::Memory) => "unverified",
            Self::OursFree => "free",
        }
    }

    /// Whose they are and how surely they are the prescribed ones.
    #[must_use]
    pub fn in_words(self) -> String {
        match self {
            Self::Readers => "your own, from the list".to_owned(),
            Self::ReadersDoubtful(_) => {
                "your own, from the list, without key words of those that the clause prescribes".to_owned()
            }
            Self::OursPrescribed(confidence) => {
                format!("ours for those that the clause prescribes, {}", confidence.in_words())
            }
            Self::OursFree => "ours; no clause prescribes any".to_owned(),
        }
    }
}

/// The least that is published for a plate; none for most.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct LeastPlate {
    /// The least plate, lying or standing.
    pub size: Option<Size>,
    /// The least height of its capitals.
    pub capitals: Option<Length>,
}

impl LeastPlate {
    /// Whether a plate is as large as it must be, lying or standing.
    #[must_use]
    pub fn allows(self, size: Size) -> bool {
        self.size.is_none_or(|least| least.fits_in(size) || least.turned().fits_in(size))
    }
}

/// Whether a clause prescribes the words.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Words {
    Prescribed(Confidence),
    Free,
}

/// What a kind of standing notice is asked for by.
struct Asked {
    words: Words,
    plate: Option<Size>,
    capitals: Option<Length>,
    /// Good practice, and no more.
    is_advised: bool,
    because: &'static str,
}

/// A height of type, in points of 1/72 inch.
const fn points(count: i32) -> Length {
    // An inch is 25.4 mm: a point is 25 400 / 72 micrometres, here rounded up.
    Length::um((count * 25_400 + 71) / 72)
}

/// The capitals of type of a height: 0.716 of it in a usual grotesque, more than in most faces (common practice).
const fn capitals_of(height: Length) -> Length {
    Length::um((height.to_um() * 716 + 999) / 1_000)
}

impl Rule {
    /// The rule by which a kind of standing notice is asked for.
    #[must_use]
    pub const fn of_standing(kind: Kind) -> Self {
        match kind {
            Kind::PeriodicInspection => Self::StandingPeriodicInspection,
            Kind::RcdTest => Self::StandingRcdTest,
            Kind::EarthingConnection => Self::StandingEarthingConnection,
            Kind::EarthFreeLocation => Self::StandingEarthFreeLocation,
            Kind::SurgeProtection => Self::StandingSurgeProtection,
            Kind::FirefightersSwitch => Self::StandingFirefightersSwitch,
            Kind::MixedColours => Self::StandingMixedColours,
        }
    }
}

const fn asked(kind: Kind) -> &'static Asked {
    match kind {
        Kind::PeriodicInspection => &periodic_inspection::ASKED,
        Kind::RcdTest => &rcd_test::ASKED,
        Kind::EarthingConnection => &earthing_connection::ASKED,
        Kind::EarthFreeLocation => &earth_free_location::ASKED,
        Kind::SurgeProtection => &surge_protection::ASKED,
        Kind::FirefightersSwitch => &firefighters_switch::ASKED,
        Kind::MixedColours => &mixed_colours::ASKED,
    }
}

/// What an entry of the list comes to.
fn decision(index: usize, entry: &Entry) -> StandingDecision {
    let asked = asked(entry.kind);
    let rule = Rule::of_standing(entry.kind);
    let clause: Option<&'static Clause> = rule.clause();
    let outcome = if asked.is_advised { Outcome::Advised } else { Outcome::Required };
    let words = match (&entry.words, asked.words) {
        (Some(words), Words::Prescribed(confidence)) if own_words::lacks(entry.kind, words).is_some() => {
            WhoseWords::ReadersDoubtful(confidence)
        }
        (Some(_), _) => WhoseWords::Readers,
        (None, Words::Prescribed(confidence)) => WhoseWords::OursPrescribed(confidence),
        (None, Words::Free) => WhoseWords::OursFree,
    };
    StandingDecision {
        entry: index,
        reason: Reason { rule, clause, outcome },
        because: format!("it is listed: {}", asked.because),
        words,
        least: LeastPlate { size: asked.plate, capitals: asked.capitals },
    }
}

#[cfg(test)]
mod tests;
