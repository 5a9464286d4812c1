//! Which revision a notice bears once it is known what was printed before: it rises only when what the notice says changes.

use super::{Entry, Event, Known};

/// What a notice bears: its revision and the date of its issue.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Issue<'a> {
    /// The revision; empty for none.
    pub revision: &'a str,
    /// The date, as it is printed; empty for none.
    pub date: &'a str,
}

/// The revision of a notice that the job would issue as `job`. `known` is what the record has of it.
///
/// A notice that says what its last printing said keeps that printing's revision and date. One that says something else takes
/// the job's; where an earlier printing bears that one already, it becomes `B.2`, then `B.3`. A job without a revision counts
/// `1`, `2`, `3`. `None` where the job's own holds.
#[must_use]
pub fn issue(known: Option<&Known<'_>>, fingerprint: &str, job: Issue<'_>) -> Option<(String, String)> {
    let printed = || known.into_iter().flat_map(|known| &known.entries).filter(|entry| entry.event == Event::Printed);
    let last = printed().next_back().copied();
    // A printing recorded later under an earlier day is not the last one, and still bears a number that is taken.
    let highest =
        printed().filter_map(|entry| Some((count(&entry.revision, job.revision)?, *entry))).max_by_key(of_count);
    let same = [last, highest.map(|(_, entry)| entry)].into_iter().flatten().find(|one| one.fingerprint == fingerprint);
    match (same, highest) {
        (Some(entry), _) => Some((entry.revision.clone(), date_of(entry).to_owned())),
        (None, Some((count, _))) => Some((counted(job.revision, count.saturating_add(1)), job.date.to_owned())),
        (None, None) if job.revision.is_empty() => Some((counted("", 1), job.date.to_owned())),
        (None, None) => None,
    }
}

const fn of_count(counted: &(u32, &Entry)) -> u32 {
    counted.0
}

fn date_of(entry: &Entry) -> &str {
    entry.print.as_ref().map_or("", |print| print.issued.as_str())
}

/// Which of the revisions that belong to the job's one this is: `B` is 1, `B.2` is 2; `None` for another.
fn count(revision: &str, job: &str) -> Option<u32> {
    let digits = match revision.strip_prefix(job)? {
        "" => return (!job.is_empty()).then_some(1),
        rest if job.is_empty() => rest,
        rest => rest.strip_prefix('.')?,
    };
    let is_number = digits.starts_with(|first: char| ('1'..='9').contains(&first));
    digits.parse().ok().filter(|count| is_number && (job.is_empty() || *count > 1))
}

/// The revision of a count: `B`, `B.2`; without a revision of the job the number alone.
fn counted(job: &str, count: u32) -> String {
    match (job, count) {
        ("", count) => count.to_string(),
        (job, 1) => job.to_owned(),
        (job, count) => format!("{job}.{count}"),
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;
    use crate::records::{Ledger, Print};
    use crate::standing::Date;

    const JOB: Issue<'_> = Issue { revision: "B", date: "2026-11-24" };

    fn printed(day: &str, revision: &str, fingerprint: &str) -> Entry {
        let print = Print { designation: "CH3-JB1".into(), issued: day.into(), ..crate::records::testing::print() };
        Entry {
            revision: revision.into(),
            fingerprint: fingerprint.into(),
            print: Some(Box::new(print)),
            ..Entry::new(Date::parse(day).unwrap(), Event::Printed, "CH3-JB1/1")
        }
    }

    /// What a notice bears after printings of a day, a revision and a fingerprint each; `job` where the job's own holds.
    fn issued(printings: &[(&str, &str, &str)], fingerprint: &str, job: Issue<'_>) -> String {
        let entries: Vec<Entry> =
            printings.iter().map(|(day, revision, print)| printed(day, revision, print)).collect();
        let ledger = Ledger::of(&entries);
        let (revision, date) = issue(ledger.find("CH3-JB1/1"), fingerprint, job)
            .unwrap_or_else(|| (job.revision.to_owned(), job.date.to_owned()));
        format!("{revision} {date}")
    }

    #[test]
    fn a_revision_rises_only_with_what_the_notice_says() {
        let bare = Issue { revision: "", date: "2026-11-24" };
        for (printings, fingerprint, job, expected) in [
            (&[][..], "one", JOB, "B 2026-11-24"),
            (&[("2026-01-05", "A", "one")][..], "one", JOB, "A 2026-01-05"),
            (&[("2026-01-05", "A", "one")][..], "two", JOB, "B 2026-11-24"),
            (&[("2026-11-20", "B", "one")][..], "two", JOB, "B.2 2026-11-24"),
            (&[("2026-11-20", "B", "one"), ("2026-11-21", "B.2", "two")][..], "one", JOB, "B.3 2026-11-24"),
            (&[("2026-11-20", "B", "one"), ("2026-11-21", "B.2", "two")][..], "two", JOB, "B.2 2026-11-21"),
            // Recorded later, printed earlier.
            (&[("2026-11-20", "B", "one"), ("2026-11-19", "B.2", "two")][..], "two", JOB, "B.2 2026-11-19"),
            (&[("2026-11-20", "B", "one"), ("2026-11-21", "C", "two")][..], "three", JOB, "B.2 2026-11-24"),
            // Of other houses: neither is one of ours.
            (&[("2026-11-20", "B.02", "one"), ("2026-11-20", "B.x", "one")][..], "two", JOB, "B 2026-11-24"),
            (&[][..], "one", bare, "1 2026-11-24"),
            (&[("2026-11-20", "1", "one")][..], "one", bare, "1 2026-11-20"),
            (&[("2026-11-20", "1", "one"), ("2026-11-21", "2", "two")][..], "one", bare, "3 2026-11-24"),
            (&[("2026-11-20", "B", "one")][..], "two", bare, "1 2026-11-24"),
        ] {
            assert_eq!(issued(printings, fingerprint, job), expected, "{printings:?} {fingerprint}");
        }
    }

    proptest! {
        /// Printed again and again, whatever the survey and the job say in between.
        #[test]
        fn a_revision_changes_exactly_if_the_fingerprint_does(runs in prop::collection::vec((0_u8..4, "[BC]?"), 1..24)) {
            let mut entries: Vec<Entry> = Vec::new();
            for (said, job) in runs {
                let fingerprint = format!("says {said}");
                let (revision, _) = {
                    let ledger = Ledger::of(&entries);
                    let job = Issue { revision: &job, ..JOB };
                    let issued = issue(ledger.find("CH3-JB1/1"), &fingerprint, job);
                    issued.unwrap_or_else(|| (job.revision.to_owned(), String::new()))
                };
                prop_assert!(!revision.is_empty());
                if let Some(last) = entries.last() {
                    prop_assert_eq!(last.revision == revision, last.fingerprint == fingerprint);
                }
                // One revision is never two things.
                prop_assert!(entries.iter().all(|one| one.revision != revision || one.fingerprint == fingerprint));
                entries.push(printed("2026-11-24", &revision, &fingerprint));
            }
        }
    }
}
