//! What must be done by a day, as the record alone tells it: what lies to its reader, is not there, is worn out, lies unfixed,
//! has outlived its material or was not looked at for too long.
//!
//! What happened after the day is not looked at. Nothing is taken for well that the record does not tell: where a copy or a
//! life is not known, that is said, and the inspection falls due all the same.

use super::{Entry, Event, Known, Ledger, Print, Standing};
use crate::standing::Date;

mod causes;
mod table;

pub use causes::Cause;
pub use table::columns;

/// Months from one inspection to the next where nobody says: our own choice, since no standard fixes it for notices.
pub const USUAL_INTERVAL: u16 = 12;

/// Months that an interval may have.
pub const INTERVALS: std::ops::RangeInclusive<u16> = 1..=600;

/// Why something must be done, the most urgent first.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Reason {
    /// It was found to say what is not there.
    Wrong,
    /// A newer revision is printed, and the older one is fixed.
    Superseded,
    /// It was found missing.
    Missing,
    /// It was found damaged.
    Damaged,
    /// It was found faded.
    Faded,
    /// It was printed, and nobody says that it was fixed.
    NotFixed,
    /// It is older than its material lasts at the least, or its material is not meant for the place.
    Life,
    /// Nobody looked at it for the interval of inspections.
    Inspection,
}

impl Reason {
    /// Every reason, the most urgent first.
    pub const ALL: [Self; 8] = [
        Self::Wrong,
        Self::Superseded,
        Self::Missing,
        Self::Damaged,
        Self::Faded,
        Self::NotFixed,
        Self::Life,
        Self::Inspection,
    ];

    /// Its word in tables and reports.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Wrong => "wrong",
            Self::Superseded => "superseded",
            Self::Missing => "missing",
            Self::Damaged => "damaged",
            Self::Faded => "faded",
            Self::NotFixed => "not-fixed",
            Self::Life => "life",
            Self::Inspection => "inspection",
        }
    }

    /// What all notices with this reason have in common, and what is to be done.
    #[must_use]
    pub const fn heading(self) -> &'static str {
        match self {
            Self::Wrong => "found wrong: cover it or take it down now",
            Self::Superseded => "superseded: a newer revision is printed, an older one is fixed",
            Self::Missing => "found missing: fix a new one",
            Self::Damaged => "found damaged: fix a new one",
            Self::Faded => "found faded: fix a new one",
            Self::NotFixed => "printed, not fixed",
            Self::Life => "past the least life of its material at its place: fix a new one",
            Self::Inspection => "inspection due",
        }
    }
}

/// What is asked of a record.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Asked {
    /// The day: what happened later is not looked at.
    pub on: Date,
    /// Up to which day what is coming is wanted too; the day itself for nothing of it.
    pub until: Date,
    /// Months from one inspection to the next.
    pub interval: u16,
}

/// What is due, and what was looked at.
#[derive(Debug, Default)]
pub struct Due<'a> {
    /// The notices with something to do: what is due before what is coming, each the most urgent and the oldest first.
    pub rows: Vec<Row<'a>>,
    /// Notices that the record knew on the day.
    pub notices: usize,
    /// Those of them that were taken away, and no other came.
    pub withdrawn: usize,
    /// Entries dated after the day, which were not looked at.
    pub later: usize,
}

/// A notice with something to do.
#[derive(Clone, Debug)]
pub struct Row<'a> {
    /// Its number.
    pub number: &'a str,
    /// What was printed last, if that is recorded.
    pub print: Option<&'a Print>,
    /// Where it is, where that is not the notice's own position; empty if nobody says.
    pub place: &'a str,
    /// A copy that was printed and, by the record, not fixed yet; never one that says what was found wrong.
    pub ready: Option<&'a Entry>,
    /// Why, the most urgent first; what is due before what is coming. Never empty.
    pub causes: Vec<Cause>,
    /// True where nothing is due yet.
    pub is_coming: bool,
}

impl Row<'_> {
    /// The most urgent of its causes.
    #[must_use]
    pub fn first(&self) -> Option<&Cause> {
        self.causes.first()
    }

    /// Building, floor or room; empty if nobody says.
    #[must_use]
    pub fn area(&self) -> &str {
        self.print.map_or("", |print| &print.area)
    }

    /// `due` or `coming`.
    #[must_use]
    pub const fn state(&self) -> &'static str {
        if self.is_coming { "coming" } else { "due" }
    }

    /// What is to be done.
    #[must_use]
    pub fn to_do(&self) -> String {
        let Some(Cause { reason, .. }) = self.first() else { return String::new() };
        let ready = self.ready.map(|ready| format!("{}, printed {}", causes::revision(&ready.revision), ready.date));
        match (reason, ready) {
            (Reason::Wrong, None) => "cover it or take it down now".to_owned(),
            (Reason::Wrong, Some(ready)) => format!("cover it or take it down now, then fix {ready}"),
            (Reason::Inspection, _) => "inspect it".to_owned(),
            (Reason::Superseded, Some(ready)) => format!("replace it by {ready}"),
            (Reason::NotFixed, Some(ready)) => format!("fix {ready}"),
            (_, Some(ready)) => format!("fix a new one: {ready}"),
            (_, None) => "print it again and fix it".to_owned(),
        }
    }

    /// Whether a copy that lies printed is to be fixed.
    #[must_use]
    pub fn is_to_fix(&self) -> bool {
        self.ready.is_some() && self.first().is_some_and(|cause| cause.reason != Reason::Inspection)
    }

    /// Whether a new copy is needed, and none lies printed.
    #[must_use]
    pub fn needs_print(&self) -> bool {
        self.ready.is_none() && self.causes.iter().any(|cause| cause.reason != Reason::Inspection)
    }
}

impl<'a> Due<'a> {
    /// What is due of every notice of a record.
    #[must_use]
    pub fn of(ledger: &Ledger<'a>, asked: Asked) -> Self {
        let mut due = Self::default();
        for known in &ledger.notices {
            let count = known.entries.partition_point(|entry| entry.date <= asked.on);
            due.later += known.entries.len() - count;
            let entries = known.entries.get(..count).unwrap_or_default().to_vec();
            if !entries.is_empty() {
                due.take(&Known { number: known.number, entries }, asked);
            }
        }
        due.rows.sort_by(|one, other| {
            let order = |row: &Row<'_>| (row.is_coming, row.first().map(|cause| (cause.reason, cause.day)));
            let by_area = || alphanumeric_sort::compare_str(one.area(), other.area());
            // Rows stand in the order of their numbers already.
            order(one).cmp(&order(other)).then_with(by_area)
        });
        due
    }

    /// The numbers of the notices of which a new copy must be printed by the day, in the order of the rows.
    pub fn to_print(&self) -> impl Iterator<Item = &'a str> + '_ {
        self.rows.iter().filter(|row| !row.is_coming && row.needs_print()).map(|row| row.number)
    }

    /// The numbers of the notices with something to do, coming ones too, in the order of the rows.
    pub fn numbers(&self) -> impl Iterator<Item = &'a str> + '_ {
        self.rows.iter().map(|row| row.number)
    }

    fn take(&mut self, known: &Known<'a>, asked: Asked) {
        self.notices += 1;
        let standing = known.standing();
        let mut causes = causes::of(known, standing, asked.interval);
        self.withdrawn += usize::from(matches!(standing, Standing::Withdrawn(_)) && causes.is_empty());
        causes.retain(|cause| cause.day <= asked.until);
        causes.sort_by_key(|cause| (cause.day > asked.on, cause.reason));
        let Some(first) = causes.first() else { return };
        self.rows.push(Row {
            number: known.number,
            print: known.printed().map(|(_, print)| print),
            place: place(standing),
            ready: ready(known, standing),
            is_coming: first.day > asked.on,
            causes,
        });
    }
}

/// Where it was found, or else fixed.
fn place<'a>(standing: Standing<'a>) -> &'a str {
    match standing {
        Standing::NotFixed => "",
        Standing::Missing(entry) | Standing::Withdrawn(entry) => &entry.place,
        Standing::Fixed { by, inspected, .. } => {
            inspected.filter(|entry| !entry.place.is_empty()).map_or(&by.place, |entry| &entry.place)
        }
    }
}

/// The last copy that was printed and not destroyed, unless it is the one that was fixed.
pub(super) fn ready<'a>(known: &Known<'a>, standing: Standing<'a>) -> Option<&'a Entry> {
    let printed = known.left()?;
    let is_fixing = |entry: &Entry| matches!(entry.event, Event::Fixed | Event::Replaced);
    // Where no fixing is recorded at all, what was found is what was printed before.
    let any_fixing = known.entries.iter().any(|entry| is_fixing(entry));
    let shows = |entry: &Entry| if any_fixing { is_fixing(entry) } else { causes::shows_it(entry) };
    let is_it = |entry: &Entry| match (entry.fingerprint.as_str(), entry.revision.as_str()) {
        ("", "") => true,
        ("", revision) => revision == printed.revision,
        (fingerprint, _) => fingerprint == printed.fingerprint,
    };
    if causes::after(known, printed).iter().any(|entry| shows(entry) && is_it(entry)) {
        return None;
    }
    match standing {
        // What says the same is wrong as well, and what was printed before may be.
        Standing::Fixed { print, inspected: Some(found), .. } if causes::is_wrong(found) => {
            let is_later = causes::after(known, found).iter().any(|entry| std::ptr::eq(*entry, printed));
            let says_it_too = print.is_some_and(|print| causes::says_the_same(print, printed));
            (is_later && !says_it_too).then_some(printed)
        }
        Standing::NotFixed | Standing::Fixed { .. } | Standing::Missing(_) | Standing::Withdrawn(_) => Some(printed),
    }
}

#[cfg(test)]
mod tests;
