//! What stands on site, in words, for whoever looks at one notice.

use super::{Condition, Entry, Event, Known, Standing};

impl Known<'_> {
    /// `fixed: rev B since 2026-11-25, inspected 2027-11-02: faded; the last, rev C printed 2027-12-01, is not there`
    #[must_use]
    pub fn in_words(&self) -> String {
        let standing = self.standing();
        let mut words = match standing {
            Standing::NotFixed => return self.only_printed(),
            Standing::Missing(entry) => format!("missing: found so on {}", entry.date),
            Standing::Withdrawn(entry) => format!("withdrawn: on {}", entry.date),
            Standing::Fixed { by, print, inspected } => fixed(by, print, inspected, &self.before(by)),
        };
        let (Some((last, _)), Standing::Fixed { print, .. }) = (self.printed(), standing) else { return words };
        if print.is_some_and(|print| print.fingerprint != last.fingerprint) {
            let is = self
                .destroyed(last)
                .map_or_else(|| "is not there".to_owned(), |gone| format!("was destroyed on {}", gone.date));
            words.push_str(&format!("; the last, {} printed {}, {is}", copy(Some(last)), last.date));
        }
        words
    }

    /// What is recorded of a fixing before a copy was found there: that none is, or how it came not to stand any more.
    fn before(&self, by: &Entry) -> String {
        let before = self.entries.iter().take_while(|entry| !std::ptr::eq(**entry, by));
        let last = |is: fn(&Entry) -> bool| before.clone().filter(|entry| is(entry)).last();
        let fixed = last(|entry| matches!(entry.event, Event::Fixed | Event::Replaced));
        let gone = last(|entry| entry.event == Event::Withdrawn || entry.condition == Some(Condition::Missing));
        match (fixed, gone) {
            (None, _) => "no fixing is recorded".to_owned(),
            (Some(fixed), Some(gone)) => {
                let what = if gone.event == Event::Withdrawn { "taken away" } else { "found missing" };
                format!("fixed {}, {what} {}, and no fixing is recorded since", fixed.date, gone.date)
            }
            (Some(fixed), None) => format!("fixed {}", fixed.date),
        }
    }

    fn only_printed(&self) -> String {
        self.printed().map_or_else(
            || "not fixed: no printing is recorded".to_owned(),
            |(last, _)| {
                let gone = self.destroyed(last).map(|gone| format!(", destroyed {}", gone.date)).unwrap_or_default();
                format!("not fixed: {} printed {}{gone}", copy(Some(last)), last.date)
            },
        )
    }
}

/// `before` tells of a fixing where an inspection found it.
fn fixed(by: &Entry, print: Option<&Entry>, inspected: Option<&Entry>, before: &str) -> String {
    let found = |entry: &Entry| entry.condition.map(Condition::name).unwrap_or_default();
    let is_other = print.is_some_and(|print| !by.fingerprint.is_empty() && print.fingerprint != by.fingerprint);
    match inspected {
        Some(seen) if is_other => format!(
            "there: {} inspected {}: {}, though rev {} is recorded as fixed on {}",
            copy(print),
            seen.date,
            found(seen),
            by.revision,
            by.date
        ),
        None => format!("fixed: {} since {}", copy(print), by.date),
        Some(seen) if by.condition.is_some() => {
            let since = if by == seen { String::new() } else { format!(", first seen {}", by.date) };
            format!("there: {} inspected {}: {}{since}; {before}", copy(print), seen.date, found(seen))
        }
        Some(seen) => {
            format!("fixed: {} since {}, inspected {}: {}", copy(print), by.date, seen.date, found(seen))
        }
    }
}

/// `rev B`, `a copy without revision`, `a copy that is not known`
fn copy(print: Option<&Entry>) -> String {
    match print {
        None => "a copy that is not known".to_owned(),
        Some(print) if print.revision.is_empty() => "a copy without revision".to_owned(),
        Some(print) => format!("rev {}", print.revision),
    }
}
