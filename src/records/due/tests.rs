//! Each reason on both sides of the day on which it falls due, and what never counts as well.

use proptest::prelude::*;

use super::*;
use crate::records::{Condition, Lasts};

fn day(text: &str) -> Date {
    Date::parse(text).unwrap()
}

fn entry(date: &str, event: Event) -> Entry {
    Entry::new(day(date), event, "CH3-JB2/1")
}

fn fixed(date: &str, revision: &str) -> Entry {
    Entry { revision: revision.into(), ..entry(date, Event::Fixed) }
}

fn inspected(date: &str, condition: Condition) -> Entry {
    Entry { condition: Some(condition), ..entry(date, Event::Inspected) }
}

fn printed(date: &str, revision: &str, lasts: &str) -> Entry {
    let print = Print {
        designation: "CH3-JB2".into(),
        area: "Chamber 3".into(),
        material: "vinyl-polymeric".into(),
        environment: "outdoor".into(),
        lasts: Lasts::parse(lasts).unwrap(),
        page: 1,
        cell: 1,
        ..crate::records::testing::print()
    };
    let fingerprint = format!("what {revision} says");
    Entry { revision: revision.into(), fingerprint, print: Some(Box::new(print)), ..entry(date, Event::Printed) }
}

fn asked(on: &str) -> Asked {
    Asked { on: day(on), until: day(on), interval: 12 }
}

/// Reasons and days of the only notice, those that are due.
fn due(entries: &[Entry], on: &str) -> Vec<(Reason, String)> {
    let ledger = Ledger::of(entries);
    let due = Due::of(&ledger, asked(on));
    let causes = due.rows.iter().flat_map(|row| &row.causes);
    causes.map(|cause| (cause.reason, cause.day.to_string())).collect()
}

/// Nothing is due the day before, and this one reason is from the day on.
fn falls_due(entries: &[Entry], reason: Reason, on: &str) {
    let before = Date::of_unix_day(day(on).unix_day() - 1).unwrap().to_string();
    let reasons = |on: &str| due(entries, on).into_iter().map(|(reason, _)| reason).collect::<Vec<_>>();
    assert!(!reasons(&before).contains(&reason), "{reason:?} on {before}");
    assert_eq!(due(entries, on).first(), Some(&(reason, on.to_owned())));
}

const A: &str = "10 to 12 years";

#[test]
fn what_was_found_is_due_from_the_day_on_which_it_was() {
    for (condition, reason) in [
        (Condition::Wrong, Reason::Wrong),
        (Condition::Missing, Reason::Missing),
        (Condition::Damaged, Reason::Damaged),
        (Condition::Faded, Reason::Faded),
    ] {
        let found = [printed("2026-11-24", "A", A), fixed("2026-11-25", "A"), inspected("2027-03-01", condition)];
        falls_due(&found, reason, "2027-03-01");
        // Found again, it is still due since the first time; found well, it is not.
        let again = [&found[..], &[inspected("2027-05-01", condition)]].concat();
        assert_eq!(due(&again, "2027-06-01"), [(reason, "2027-03-01".to_owned())]);
        let well = [&found[..], &[inspected("2027-05-01", Condition::Good)]].concat();
        assert_eq!(due(&well, "2027-06-01"), []);
        let replaced = Entry { revision: "A".into(), ..entry("2027-05-01", Event::Replaced) };
        assert_eq!(due(&[&found[..], &[replaced]].concat(), "2027-06-01"), []);
    }
}

#[test]
fn an_older_revision_on_site_is_due_from_the_printing_of_the_newer_one() {
    let old = [printed("2026-11-24", "A", A), fixed("2026-11-25", "A")];
    let newer = [&old[..], &[printed("2027-02-01", "B", A)]].concat();
    falls_due(&newer, Reason::Superseded, "2027-02-01");
    // A spare copy that says the same makes nothing false, and the newer one once fixed ends it.
    assert_eq!(due(&[&old[..], &[printed("2027-02-01", "A", A)]].concat(), "2027-02-02"), []);
    let replaced = Entry { revision: "B".into(), ..entry("2027-02-03", Event::Replaced) };
    assert_eq!(due(&[&newer[..], &[replaced]].concat(), "2027-02-04"), []);
    // Printed again, it is still superseded since the first time; fixed after all, since then.
    let again = [&newer[..], &[printed("2027-04-01", "B", A)]].concat();
    assert_eq!(due(&again, "2027-05-01"), [(Reason::Superseded, "2027-02-01".to_owned())]);
    let late = [printed("2026-11-24", "A", A), printed("2026-12-01", "B", A), fixed("2027-01-10", "A")];
    falls_due(&late, Reason::Superseded, "2027-01-10");
    // An inspection that finds the older one makes it so too.
    let found = Entry { revision: "A".into(), ..inspected("2027-05-01", Condition::Good) };
    let entries = [printed("2026-11-24", "A", A), printed("2026-12-01", "B", A), fixed("2027-01-10", "B"), found];
    assert_eq!(due(&entries, "2027-05-02").first().map(|(reason, _)| *reason), Some(Reason::Superseded));
}

#[test]
fn a_copy_that_nobody_knows_is_never_taken_for_the_newest() {
    for named in ["", "Z"] {
        let entries = [fixed("2026-01-10", named), printed("2026-11-24", "B", A)];
        falls_due(&entries, Reason::Superseded, "2026-11-24");
    }
    let known = [fixed("2026-01-10", "B"), printed("2026-11-24", "B", A)];
    assert!(due(&known, "2026-12-01").iter().all(|(reason, _)| *reason != Reason::Superseded));
}

#[test]
fn what_was_printed_is_due_to_be_fixed_at_once() {
    let entries = [printed("2026-11-24", "A", A), printed("2026-12-24", "B", A)];
    falls_due(&entries, Reason::NotFixed, "2026-11-24");
    let ledger = Ledger::of(&entries);
    let due = Due::of(&ledger, asked("2027-01-01"));
    assert_eq!(due.rows[0].to_do(), "fix rev B, printed 2026-12-24");
    assert_eq!((due.to_print().count(), due.numbers().collect::<Vec<_>>()), (0, vec!["CH3-JB2/1"]));
}

#[test]
fn the_least_life_is_counted_from_the_fixing() {
    let seen = inspected("2031-11-01", Condition::Good);
    let entries = [printed("2026-11-24", "A", "5 to 7 years"), fixed("2026-11-30", "A"), seen];
    falls_due(&entries, Reason::Life, "2031-11-30");
    // From a leap day, the last day of February where the year has no other.
    let leap = [
        printed("2028-02-01", "A", "5 to 7 years"),
        fixed("2028-02-29", "A"),
        inspected("2033-02-01", Condition::Good),
    ];
    falls_due(&leap, Reason::Life, "2033-02-28");
    let leap = [
        printed("2028-02-01", "A", "4 years and more"),
        fixed("2028-02-29", "A"),
        inspected("2032-02-01", Condition::Good),
    ];
    falls_due(&leap, Reason::Life, "2032-02-29");
    // Where no fixing is recorded, from the printing of the copy that was found.
    let found = [printed("2026-11-24", "A", "5 to 7 years"), inspected("2031-05-01", Condition::Good)];
    falls_due(&found, Reason::Life, "2031-11-24");
}

#[test]
fn a_material_that_is_not_meant_for_the_place_is_due_at_once() {
    let entries = [printed("2026-11-24", "A", "none"), fixed("2026-11-30", "A")];
    falls_due(&entries, Reason::Life, "2026-11-30");
    let ledger = Ledger::of(&entries);
    let due = Due::of(&ledger, asked("2026-12-01"));
    assert!(due.rows[0].causes[0].why.ends_with("vinyl-polymeric (outdoor) is not meant for its place"), "{due:?}");
    assert_eq!(due.to_print().collect::<Vec<_>>(), ["CH3-JB2/1"]);
}

#[test]
fn an_inspection_falls_due_after_the_interval_whatever_is_known_of_the_life() {
    let entries = [printed("2026-11-24", "A", ""), fixed("2027-02-28", "A")];
    falls_due(&entries, Reason::Inspection, "2028-02-28");
    let ledger = Ledger::of(&entries);
    let due = Due::of(&ledger, asked("2030-01-01"));
    assert!(due.rows[0].causes[0].why.ends_with("how long its material lasts is not known"), "{due:?}");
    let leap = [printed("2026-11-24", "A", A), fixed("2027-01-01", "A"), inspected("2028-02-29", Condition::Good)];
    falls_due(&leap, Reason::Inspection, "2029-02-28");
    let month = |on: &str| Due::of(&Ledger::of(&leap), Asked { interval: 1, ..asked(on) }).rows.len();
    assert_eq!((month("2028-03-28"), month("2028-03-29")), (0, 1));
    // A notice that was never printed by the record is inspected all the same.
    falls_due(&[fixed("2027-01-31", "")], Reason::Inspection, "2028-01-31");
}

#[test]
fn what_was_withdrawn_is_never_due_unless_it_was_printed_again() {
    let gone = [printed("2026-11-24", "A", "none"), fixed("2026-11-25", "A"), entry("2026-12-01", Event::Withdrawn)];
    assert_eq!(due(&gone, "2190-01-01"), []);
    let ledger = Ledger::of(&gone);
    let told = Due::of(&ledger, asked("2027-01-01"));
    assert_eq!((told.notices, told.withdrawn), (1, 1));
    falls_due(&[&gone[..], &[printed("2027-02-01", "B", A)]].concat(), Reason::NotFixed, "2027-02-01");
}

#[test]
fn what_is_dated_after_the_day_reassures_nobody() {
    let entries = [printed("2026-11-24", "A", A), fixed("2026-11-25", "A"), inspected("2099-01-01", Condition::Good)];
    assert_eq!(due(&entries, "2028-01-01"), [(Reason::Inspection, "2027-11-25".to_owned())]);
    assert_eq!(Due::of(&Ledger::of(&entries), asked("2028-01-01")).later, 1);
}

#[test]
fn a_copy_that_lies_ready_is_named_but_never_one_that_says_what_is_wrong() {
    let stood = [printed("2026-11-24", "A", A), fixed("2026-11-25", "A")];
    let to_do = |condition, later: &[Entry]| {
        let entries = [&stood[..], &[inspected("2027-03-01", condition)], later].concat();
        let ledger = Ledger::of(&entries);
        let due = Due::of(&ledger, asked("2027-04-01"));
        (due.rows[0].to_do(), due.to_print().count())
    };
    let again = "print it again and fix it".to_owned();
    assert_eq!(to_do(Condition::Faded, &[]), (again.clone(), 1));
    assert_eq!(to_do(Condition::Missing, &[]), (again, 1));
    let spare = [printed("2027-03-02", "A", A)];
    for condition in [Condition::Faded, Condition::Missing] {
        assert_eq!(to_do(condition, &spare), ("fix a new one: rev A, printed 2027-03-02".to_owned(), 0));
    }
    let now = "cover it or take it down now";
    assert_eq!(to_do(Condition::Wrong, &spare), (now.to_owned(), 1));
    let fixed_late = [printed("2026-11-24", "A", A), printed("2026-12-01", "B", A), fixed("2027-01-10", "A")];
    let ready = |entries: &[Entry]| Due::of(&Ledger::of(entries), asked("2027-04-01")).rows[0].to_do();
    assert_eq!(ready(&fixed_late), "replace it by rev B, printed 2026-12-01");
    // It was fixed once, and an older one took its place.
    let back = [&fixed_late[..2], &[fixed("2026-12-02", "B"), fixed("2027-01-10", "A")]].concat();
    assert_eq!(ready(&back), "print it again and fix it");
    // Found again, the one on site is not the one that was printed for it.
    let again =
        [&stood[..], &spare, &[Entry { revision: "A".into(), ..inspected("2027-03-03", Condition::Faded) }]].concat();
    assert_eq!(ready(&again), "fix a new one: rev A, printed 2027-03-02");
    let other = [printed("2027-03-02", "B", A)];
    assert_eq!(to_do(Condition::Wrong, &other), (format!("{now}, then fix rev B, printed 2027-03-02"), 0));
}

#[test]
fn rows_come_the_most_urgent_first_and_what_is_coming_last() {
    let of = |number: &str, entries: &[Entry]| -> Vec<Entry> {
        entries.iter().map(|entry| Entry { number: number.into(), ..entry.clone() }).collect()
    };
    let stood = [printed("2026-11-24", "A", "5 to 7 years"), fixed("2026-11-25", "A")];
    let with = |condition| [&stood[..], &[inspected("2027-03-01", condition)]].concat();
    let entries = [
        of("N10", &stood),
        of("N9", &[&stood[..], &[inspected("2026-12-01", Condition::Good)]].concat()),
        of("N2", &with(Condition::Faded)),
        of("N1", &with(Condition::Damaged)),
        of("N3", &with(Condition::Missing)),
        of("N4", &stood[..1]),
        of("N5", &[&stood[..], &[printed("2027-03-01", "B", "5 to 7 years")]].concat()),
        of("N6", &with(Condition::Wrong)),
        of("N7", &[printed("2026-11-24", "A", "none"), stood[1].clone()]),
    ]
    .concat();
    let ledger = Ledger::of(&entries);
    let due = Due::of(&ledger, Asked { on: day("2027-11-25"), until: day("2028-02-25"), interval: 12 });
    assert_eq!(due.numbers().collect::<Vec<_>>(), ["N6", "N5", "N3", "N1", "N2", "N4", "N7", "N10", "N9"]);
    assert_eq!(due.rows.iter().filter(|row| row.is_coming).map(|row| row.number).collect::<Vec<_>>(), ["N9"]);
    let reasons: Vec<Reason> = due.rows.iter().map(|row| row.causes[0].reason).collect();
    assert_eq!(reasons[..8], Reason::ALL);
}

#[test]
fn a_copy_that_was_destroyed_takes_nobodys_place() {
    let gone = |revision: &str| Entry {
        revision: revision.into(),
        fingerprint: format!("what {revision} says"),
        ..entry("2026-12-02", Event::Destroyed)
    };
    let lie = [printed("2026-11-24", "A", ""), fixed("2026-11-25", "A"), printed("2026-12-01", "B", "")];
    let told = |entries: &[Entry]| {
        let ledger = Ledger::of(entries);
        let due = Due::of(&ledger, asked("2026-12-03"));
        due.rows.iter().map(|row| (row.causes[0].reason, row.to_do())).collect::<Vec<_>>()
    };
    let replace = "replace it by rev B, printed 2026-12-01".to_owned();
    assert_eq!(told(&lie), [(Reason::Superseded, replace.clone())]);
    assert_eq!(told(&[&lie[..], &[gone("B")]].concat()), []);
    let anew = [&lie[..], &[gone("B"), printed("2026-12-03", "B", "")]].concat();
    assert_eq!(told(&anew), [(Reason::Superseded, replace.replace("12-01", "12-03"))]);
    // None hangs, and none lies ready: one is still to be fixed, unless it was withdrawn too.
    let alone = [printed("2026-12-01", "B", ""), gone("B")];
    assert_eq!(told(&alone), [(Reason::NotFixed, "print it again and fix it".to_owned())]);
    let older = [printed("2026-11-24", "A", ""), printed("2026-12-01", "B", ""), gone("B")];
    assert_eq!(told(&older), [(Reason::NotFixed, "fix rev A, printed 2026-11-24".to_owned())]);
}

fn any_entry() -> impl Strategy<Value = Entry> {
    let life = prop::sample::select(vec!["", "none", "1 years", "5 to 7 years", "10 years and more"]);
    let revision = prop::sample::select(vec!["", "A", "B", "C"]);
    let condition = prop::sample::select(Condition::ALL.to_vec());
    let event = prop::sample::select(Event::ALL.to_vec());
    (0_i64..1_200, event, revision, condition, life).prop_map(|(days, event, revision, condition, life)| {
        let date = Date::of_unix_day(day("2026-01-01").unix_day() + days).unwrap();
        let entry = match event {
            Event::Printed => printed("2026-01-01", revision, life),
            Event::Inspected => Entry { revision: revision.into(), ..inspected("2026-01-01", condition) },
            Event::Fixed | Event::Replaced | Event::Withdrawn | Event::Destroyed => {
                Entry { revision: revision.into(), ..entry("2026-01-01", event) }
            }
        };
        Entry { date, ..entry }
    })
}

proptest! {
    #[test]
    fn what_is_due_stays_due_until_something_is_recorded(
        entries in prop::collection::vec(any_entry(), 1..12),
        later in 0_i64..4_000,
        interval in 1_u16..=36,
    ) {
        let last = entries.iter().map(|entry| entry.date).max().unwrap();
        let after = Date::of_unix_day(last.unix_day() + later).unwrap();
        let ledger = Ledger::of(&entries);
        let causes = |on: Date| -> Vec<Cause> {
            let due = Due::of(&ledger, Asked { on, until: on, interval });
            due.rows.into_iter().flat_map(|row| row.causes).collect()
        };
        let now = causes(after);
        for cause in causes(last) {
            prop_assert!(now.contains(&cause), "{cause:?} is due on {last}, and on {after} are {now:?}");
        }
        prop_assert!(now.iter().all(|cause| cause.day <= after));
    }

    #[test]
    fn a_notice_is_withdrawn_or_sooner_or_later_due(entries in prop::collection::vec(any_entry(), 1..12)) {
        prop_assume!(entries.iter().any(|entry| entry.event != Event::Destroyed), "nobody destroys what was never printed");
        let ledger = Ledger::of(&entries);
        let due = Due::of(&ledger, asked("2199-01-01"));
        prop_assert_eq!(due.rows.len() + due.withdrawn, 1, "{:?}", entries);
    }
}
