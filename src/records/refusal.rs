//! Why a mark cannot be so by the record, in words.

use super::{Entry, Event, Mark};
use crate::standing::Date;

/// Why nothing is recorded of a notice.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Refusal {
    /// The record does not have its number.
    Unknown {
        /// The number.
        number: String,
    },
    /// It was printed later, or no printing is recorded at all.
    NotPrinted {
        /// The number.
        number: String,
        /// The day of the mark.
        date: Date,
        /// The printing that came later.
        printed: Option<Date>,
    },
    /// The day has not come yet.
    Future {
        /// The number.
        number: String,
        /// The day of the mark.
        date: Date,
    },
    /// No copy of that revision was printed.
    NoSuchRevision {
        /// The number.
        number: String,
        /// The revision that was named.
        revision: String,
        /// Those that were printed, the first one first.
        printed: Vec<String>,
    },
    /// It is fixed already.
    FixedAlready {
        /// The number.
        number: String,
        /// The day on which it was fixed or found there.
        since: Date,
    },
    /// It was found there, so that it was fixed before.
    FoundThere {
        /// The number.
        number: String,
        /// The day on which it was found there first.
        since: Date,
    },
    /// It was replaced where none stood.
    NoneStands {
        /// The number.
        number: String,
        /// The day of the mark.
        date: Date,
    },
    /// It is not recorded as fixed, and nobody named it by itself.
    NotKnownThere {
        /// The number.
        number: String,
        /// The day of the mark.
        date: Date,
    },
    /// It is missing where none stood.
    NeverThere {
        /// The number.
        number: String,
        /// The day of the mark.
        date: Date,
    },
    /// What is recorded of a later day cannot have followed on it.
    Disagrees {
        /// The number.
        number: String,
        /// The day of the mark.
        date: Date,
        /// What the mark tells.
        event: Event,
        /// What is recorded.
        later: Event,
        /// On which day.
        on: Date,
    },
    /// It was taken away already.
    WithdrawnAlready {
        /// The number.
        number: String,
        /// The day on which it was.
        since: Date,
    },
    /// No copy of it lay printed that was not fixed.
    NoneLies {
        /// The number.
        number: String,
        /// The day of the mark.
        date: Date,
        /// The revision that was named; empty where none was.
        revision: String,
    },
    /// Several copies that say different things lie printed, and nobody said which of them is meant.
    SeveralLie {
        /// The number.
        number: String,
        /// Their revisions, the first one first.
        revisions: Vec<String>,
    },
    /// The copy that would be fixed was destroyed.
    Destroyed {
        /// The number.
        number: String,
        /// Its revision.
        revision: String,
        /// The day on which it was.
        since: Date,
    },
    /// It was taken away and not printed since, and nobody named it by itself.
    TakenAway {
        /// The number.
        number: String,
        /// The day on which it was taken away.
        since: Date,
    },
}

impl Refusal {
    /// Nothing can happen to a notice before it is printed.
    pub(super) fn not_printed(mark: &Mark, printed: Option<&Entry>) -> Self {
        let printed = printed.map(|entry| entry.date);
        Self::NotPrinted { number: mark.number.clone(), date: mark.date, printed }
    }

    /// Number of the notice.
    #[must_use]
    pub fn number(&self) -> &str {
        match self {
            Self::Unknown { number }
            | Self::NotPrinted { number, .. }
            | Self::Future { number, .. }
            | Self::NoSuchRevision { number, .. }
            | Self::FixedAlready { number, .. }
            | Self::FoundThere { number, .. }
            | Self::NoneStands { number, .. }
            | Self::NotKnownThere { number, .. }
            | Self::NeverThere { number, .. }
            | Self::Disagrees { number, .. }
            | Self::WithdrawnAlready { number, .. }
            | Self::NoneLies { number, .. }
            | Self::SeveralLie { number, .. }
            | Self::Destroyed { number, .. }
            | Self::TakenAway { number, .. } => number,
        }
    }

    /// What is wrong: `` `CH3-JB2/1` is fixed already, since 2026-11-25 ``.
    #[must_use]
    pub fn message(&self) -> String {
        match self {
            Self::Unknown { number } => format!("the record has no notice `{number}`"),
            Self::NotPrinted { number, date, printed: Some(printed) } => {
                format!("`{number}` was printed on {printed}, and nothing can happen to that copy on {date} before it")
            }
            Self::NotPrinted { number, printed: None, .. } => format!("the record has no printing of `{number}`"),
            Self::Future { number, date } => format!("`{number}`: {date} has not come yet"),
            Self::NoSuchRevision { number, revision, printed } => {
                format!("`{number}` was not printed as rev {revision}; printed were {}", printed.join(", "))
            }
            Self::FixedAlready { number, since } => format!("`{number}` is fixed already, since {since}"),
            Self::FoundThere { number, since } => {
                format!("`{number}` was found there on {since}, so that it was fixed before that day")
            }
            Self::NoneStands { number, date } | Self::NotKnownThere { number, date } => {
                format!("the record has no copy of `{number}` fixed on {date}")
            }
            Self::NeverThere { number, date } => {
                format!("the record has no copy of `{number}` fixed on {date} that could be missing")
            }
            Self::Disagrees { number, date, event, later, on } => {
                let (event, later) = (event.name(), later.name());
                format!("`{number}`: {event} on {date} does not agree with the record, by which it was {later} on {on}")
            }
            Self::WithdrawnAlready { number, since } => format!("`{number}` is withdrawn already, since {since}"),
            Self::NoneLies { number, date, revision } => {
                let copy = if revision.is_empty() { "copy".to_owned() } else { format!("rev {revision}") };
                format!("the record has no {copy} of `{number}` that lay printed and not fixed on {date}")
            }
            Self::SeveralLie { number, revisions } => {
                format!("several copies of `{number}` lie printed and not fixed: {}", revisions.join(", "))
            }
            Self::Destroyed { number, revision, since } => {
                let copy = if revision.is_empty() { String::new() } else { format!(" rev {revision}") };
                format!("`{number}`{copy} was destroyed on {since}, and cannot have been fixed since")
            }
            Self::TakenAway { number, since } => format!("`{number}` was taken away on {since} and not printed since"),
        }
    }

    /// What to do.
    #[must_use]
    pub const fn hint(&self) -> &'static str {
        match self {
            Self::Unknown { .. } | Self::NotPrinted { printed: None, .. } => {
                "record its printing first: `labels --record`, or `records printed` for what is printed already"
            }
            Self::NotPrinted { .. } | Self::Future { .. } | Self::Disagrees { .. } => "look at the day",
            Self::NoSuchRevision { .. } => {
                "read the revision on the notice; without one the copy is meant that stands there by the record, and of a \
                 fixing the last printed"
            }
            Self::FixedAlready { .. } => "`records replaced` is for a copy that took the place of an older one",
            Self::FoundThere { .. } => {
                "`--date` names the day on which it was fixed; `records replaced` is for a copy that took its place"
            }
            Self::NoneStands { .. } => "`records fixed` is for a copy that took the place of none",
            Self::NotKnownThere { .. } | Self::TakenAway { .. } => "name it by itself, if it is there",
            Self::NeverThere { .. } => "`records fixed` with the day on which it was fixed comes first, if it was",
            Self::NoneLies { .. } => {
                "`records history` tells what was printed; `records withdrawn` is for one that was fixed"
            }
            Self::SeveralLie { .. } => "name one with `--revision`, and record each by itself",
            Self::Destroyed { .. } => {
                "read the revision on the notice; a copy that was printed anew is recorded with `records printed`"
            }
            Self::WithdrawnAlready { .. } => "`records fixed` is for one that was fixed again since",
        }
    }
}
