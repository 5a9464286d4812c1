//! A survey against what a record says is fixed on site.

use super::*;
use crate::finding::{Finding, code};
use crate::records::{Condition, Entry, Event, Ledger, Print};
use crate::standing::Date;

const SURVEY: &str = "enclosure,area,positions,circuit,fed_from,voltage_to_earth,isolator,isolator_location\n\
                      CH3-JB1,Chamber 3,left; right,DB-C/7,DB-C,230,Q7,Switchroom 1\n\
                      CH3-JB1,Chamber 3,,DB-D/12,DB-D,230,Q12,Lobby\n\
                      CH3-JB2,Chamber 3,,DB-C/8,DB-C,230,Q7,Switchroom 1\n\
                      CH3-JB2,Chamber 3,,UPS/2,UPS-1,230,QU2,Comms room\n";

fn day(text: &str) -> Date {
    Date::parse(text).unwrap()
}

/// The printing of a notice on a day.
fn printed(notice: &Notice, date: &str) -> Entry {
    let print = Print {
        subject: notice.subject,
        designation: notice.designation.clone(),
        area: notice.area.clone(),
        position: notice.position.clone(),
        says: Statement::of(notice),
        ..crate::records::testing::print()
    };
    Entry {
        fingerprint: notice.fingerprint().to_owned(),
        print: Some(Box::new(print)),
        ..Entry::new(day(date), Event::Printed, notice.number.clone())
    }
}

fn event(event: Event, number: &str, date: &str) -> Entry {
    Entry::new(day(date), event, number)
}

/// Every notice of a survey, printed and fixed.
fn all_fixed(notices: &[Notice]) -> Vec<Entry> {
    let both = |notice: &Notice| [printed(notice, "2026-01-01"), event(Event::Fixed, &notice.number, "2026-01-02")];
    notices.iter().flat_map(both).collect()
}

/// What a check comes to: number, word, danger, note.
fn told(entries: &[Entry], now: &[Notice], doubt: &Doubt) -> Vec<String> {
    let ledger = Ledger::of(entries);
    let changes = check(&ledger, versions(now), doubt, &|_, _, _| true);
    let one = |change: &Change<'_>| {
        format!("{} {} {} {}", change.number, Against::Fixed.word(change.fate), change.danger.name(), change.note)
            .trim_end()
            .to_owned()
    };
    changes.changed.iter().map(one).collect()
}

#[test]
fn what_is_fixed_and_true_is_all_well() {
    let now = notices(SURVEY);
    assert_eq!(told(&all_fixed(&now), &now, &Doubt::default()), [""; 0]);
}

/// The case of the feature: one isolator is moved, and every fixed notice that it makes false is named.
#[test]
fn a_moved_isolator_makes_every_notice_false_that_names_it() {
    let (then, now) = (notices(SURVEY), notices(&SURVEY.replace("Q7,Switchroom 1", "Q7,Switchroom 2")));
    let entries = all_fixed(&then);
    let ledger = Ledger::of(&entries);
    let changes = check(&ledger, versions(&now), &Doubt::default(), &|_, _, _| true);
    let site = on_site(&changes.changed);
    let words: Vec<String> = site.iter().map(SiteChange::in_words).collect();
    assert_eq!(words, ["Q7: Switchroom 1 -> Switchroom 2"]);
    // The notices that name it as a point, and the one on the isolator itself with its old place in its number.
    let expected = then.iter().filter(|notice| {
        notice.points.iter().any(|point| point.designation == "Q7")
            || notice.lines().iter().any(|line| line.contains("Q7 (Switchroom 1)"))
            || notice.number == "Q7@Switchroom 1"
    });
    let mut expected: Vec<&str> = expected.map(|notice| notice.number.as_str()).collect();
    expected.sort_unstable();
    let mut named: Vec<&str> = site[0].makes_false.clone();
    named.sort_unstable();
    assert!(["CH3-JB1/1", "CH3-JB1/2", "CH3-JB2/1"].iter().all(|number| named.contains(number)), "{named:?}");
    assert!(expected.iter().all(|number| named.contains(number)), "{named:?} {expected:?}");
    let first: Vec<&str> = changes.changed.iter().take(3).map(|change| change.number).collect();
    assert_eq!(first, ["CH3-JB1/1", "CH3-JB1/2", "CH3-JB2/1"]);
    assert!(changes.changed.iter().take(3).all(|change| change.danger == Danger::PointLacking));
}

#[test]
fn what_is_not_on_site_is_lacking_and_says_how() {
    let now = notices(SURVEY);
    let rest: Vec<Entry> = all_fixed(&now).into_iter().filter(|entry| !entry.number.starts_with("CH3-JB")).collect();
    let printed_only = printed(now.iter().find(|notice| notice.number == "CH3-JB1/1").unwrap(), "2026-01-01");
    let other = now.iter().find(|notice| notice.number == "CH3-JB1/2").unwrap();
    let missing = Entry { condition: Some(Condition::Missing), ..event(Event::Inspected, "CH3-JB1/2", "2026-03-01") };
    let entries = [&rest[..], &[printed_only, printed(other, "2026-01-01"), missing]].concat();
    assert_eq!(
        told(&entries, &now, &Doubt::default()),
        [
            "CH3-JB1/1 not fixed none-fixed it was printed on 2026-01-01 and is not fixed",
            "CH3-JB1/2 not fixed none-fixed it was found missing on 2026-03-01",
            "CH3-JB2/1 not fixed none-fixed the record has no printing of it",
        ]
    );
}

#[test]
fn a_copy_of_which_no_printing_is_known_cannot_be_judged() {
    let now = notices(SURVEY);
    let mut entries = all_fixed(&now);
    entries.retain(|entry| entry.number != "CH3-JB2/1");
    entries.push(Entry { revision: "A".into(), ..event(Event::Fixed, "CH3-JB2/1", "2026-01-02") });
    let note = "which printing the copy there is of is not known (fixed 2026-01-02, revision A)";
    assert_eq!(told(&entries, &now, &Doubt::default()), [format!("CH3-JB2/1 not judged cannot-be-judged {note}")]);
}

#[test]
fn what_was_found_wrong_is_never_called_true() {
    let now = notices(SURVEY);
    let mut entries = all_fixed(&now);
    let found = |condition, date| Entry { condition: Some(condition), ..event(Event::Inspected, "CH3-JB2/1", date) };
    entries.push(found(Condition::Wrong, "2026-05-01"));
    let note = "it was found wrong on site on 2026-05-01: survey and site do not agree";
    assert_eq!(told(&entries, &now, &Doubt::default()), [format!("CH3-JB2/1 not judged cannot-be-judged {note}")]);
    entries.push(found(Condition::Good, "2026-06-01"));
    assert_eq!(told(&entries, &now, &Doubt::default()), [""; 0]);
}

#[test]
fn what_was_fixed_or_found_elsewhere_is_told() {
    let now = notices(SURVEY);
    let mut entries = all_fixed(&now);
    let elsewhere = Entry { place: "inside the door".into(), ..event(Event::Fixed, "CH3-JB1/1", "2026-02-01") };
    entries.push(elsewhere);
    assert_eq!(told(&entries, &now, &Doubt::default()), ["CH3-JB1/1 fixed elsewhere fixed-elsewhere"]);
    let back = Entry {
        condition: Some(Condition::Good),
        place: "left".into(),
        ..event(Event::Inspected, "CH3-JB1/1", "2026-03-01")
    };
    entries.push(back);
    assert_eq!(told(&entries, &now, &Doubt::default()), [""; 0]);
}

/// Where a live path is found no notice is composed: the fixed one is not simply left over.
#[test]
fn what_has_errors_is_neither_true_nor_left_over() {
    let now = notices(SURVEY);
    let entries = all_fixed(&now);
    let faulty = Finding::new(code::LIVE_WITH_EVERYTHING_OPEN, "live").about("CH3-JB2");
    let doubt = Doubt::of([&faulty], &[]);
    let without: Vec<Notice> = now.iter().filter(|notice| notice.designation != "CH3-JB2").cloned().collect();
    for survey in [&now, &without] {
        let told = told(&entries, survey, &doubt);
        let doubtful = ["CH3-JB2/1", "Q7@", "QU2@"];
        assert!(!told.is_empty());
        for line in &told {
            assert!(line.contains("not judged cannot-be-judged"), "{line}");
            assert!(doubtful.iter().any(|start| line.starts_with(start)), "{line}");
        }
        assert!(told.iter().any(|line| line.starts_with("CH3-JB2/1")), "{told:?}");
    }
    // Nothing was ever fixed there: it is named all the same.
    let told = told(&[], &[], &doubt);
    assert_eq!(told.len(), 1);
    assert!(told[0].contains("CH3-JB2: the survey has errors there"), "{told:?}");
}

#[test]
fn with_errors_that_belong_to_no_enclosure_nothing_is_called_true_and_nothing_left_over() {
    let (then, now) = (notices(SURVEY), notices(&SURVEY.replace("Q12,Lobby", "Q12,Roof")));
    let doubt = Doubt::of([&Finding::new(code::NOT_A_RECORD, "no record")], &[]);
    assert_eq!(doubt.everywhere.as_deref(), Some("it may be about this one: no record"), "the reason is named");
    for line in told(&all_fixed(&then), &now, &doubt) {
        let is_worse =
            line.contains("no longer true point-lacking") || line.contains("no longer true disconnects-less");
        assert!(is_worse || line.contains("not judged cannot-be-judged"), "{line}");
    }
    let all = told(&all_fixed(&then), &then, &doubt);
    assert_eq!(all.len(), then.len());
}

#[test]
fn what_is_fixed_and_not_needed_is_left_over() {
    let then = notices(SURVEY);
    let now: Vec<Notice> = then.iter().filter(|notice| notice.number != "CH3-JB1/2").cloned().collect();
    assert_eq!(told(&all_fixed(&then), &now, &Doubt::default()), ["CH3-JB1/2 not needed not-needed"]);
}

/// The isolator is somewhere else; the notice on whatever is there now says that it disconnects what is still there.
#[test]
fn the_notice_of_an_isolator_that_moved_is_false_and_not_left_over() {
    let survey = format!("{SURVEY}CH3-JB3,Chamber 3,,DB-C/9,DB-C,400,Q7,Switchroom 1\n");
    let (then, now) = (notices(&survey), notices(&survey.replace("Q7,Switchroom 1", "Q7,Switchroom 2")));
    assert!(then.iter().any(|notice| notice.number == "Q7@Switchroom 1"));
    let told = told(&all_fixed(&then), &now, &Doubt::default());
    let own = told.iter().find(|line| line.starts_with("Q7@Switchroom 1")).unwrap();
    assert!(own.starts_with("Q7@Switchroom 1 no longer true disconnects-less"), "{own}");
    let changes = compare(versions(&then), versions(&now), &Doubt::default(), &|_, _, _| true);
    let own = changes.changed.iter().find(|change| change.number == "Q7@Switchroom 1").unwrap();
    assert_eq!((own.fate, own.danger), (Fate::Withdrawn, Danger::DisconnectsLess));
    // With all that it disconnected gone it is a device that may be looked for in vain.
    let elsewhere = notices(&SURVEY.replace("CH3-", "CH9-").replace("Q7,Switchroom 1", "Q1,Roof"));
    let changes = compare(versions(&then), versions(&elsewhere), &Doubt::default(), &|_, _, _| true);
    let own = changes.changed.iter().find(|change| change.number == "Q7@Switchroom 1").unwrap();
    assert_eq!((own.fate, own.danger), (Fate::Withdrawn, Danger::PointGone));
}

/// Positions are counted: what hangs at the rear holds, though it is the first now.
#[test]
fn a_copy_that_hangs_where_one_is_wanted_is_not_taken_down_for_its_number() {
    let (then, rear) = (notices(SURVEY), notices(&SURVEY.replace("left; right", "right")));
    let only = |now: &[Notice]| -> Vec<String> {
        told(&all_fixed(&then), now, &Doubt::default()).into_iter().filter(|line| line.starts_with("CH3-JB1")).collect()
    };
    assert_eq!(only(&rear), ["CH3-JB1/2 no longer true other-words", "CH3-JB1/1 not needed not-needed"]);
    let turned = notices(&SURVEY.replace("left; right", "right; left"));
    assert_eq!(only(&turned), ["CH3-JB1/1 no longer true other-words", "CH3-JB1/2 no longer true other-words"]);
    let changes = compare(versions(&then), versions(&rear), &Doubt::default(), &|_, _, _| true);
    let renumbered = changes.changed.iter().find(|change| change.number == "CH3-JB1/2").unwrap();
    assert_eq!(renumbered.differences[0].in_words(), "CH3-JB1/2 -> CH3-JB1/1");
    assert!(changes.to_print().contains("CH3-JB1/1"), "the new one has the new number");
}

/// The record of another site: nothing of it is to be taken down by this survey.
#[test]
fn what_a_survey_of_another_site_does_not_know_cannot_be_judged() {
    let then = notices(SURVEY);
    let other = notices(&SURVEY.replace("CH3-", "DOCK-").replace(",Q", ",QX"));
    let entries = all_fixed(&then);
    let ledger = Ledger::of(&entries);
    let changes = check(&ledger, versions(&other), &Doubt::default(), &|_, _, _| true);
    assert_eq!(changes.of_another, Some((0, then.len())));
    assert_eq!((changes.count(Fate::Withdrawn), changes.count(Fate::NotJudged)), (0, then.len()));
    assert_eq!(check(&ledger, versions(&then), &Doubt::default(), &|_, _, _| true).of_another, None);
}

#[test]
fn a_copy_that_lies_ready_and_is_no_longer_true_is_not_to_be_fixed() {
    let (then, now) = (notices(SURVEY), notices(&SURVEY.replace("Q12,Lobby", "Q12,Roof")));
    let entries: Vec<Entry> = then.iter().map(|notice| printed(notice, "2026-01-01")).collect();
    let told = told(&entries, &now, &Doubt::default());
    let note = "it was printed on 2026-01-01 and is not fixed, and the copy that was printed last is no longer true";
    assert!(told.contains(&format!("CH3-JB1/1 not fixed none-fixed {note}")), "{told:?}");
}

/// A record follows one copy of a notice. Of the others nobody knows until somebody has looked.
#[test]
fn the_second_copy_of_an_older_printing_keeps_the_newer_one_from_being_called_true() {
    let (before, now) = (notices(&SURVEY.replace("Comms room", "Plant room")), notices(SURVEY));
    let find = |all: &[Notice]| all.iter().find(|notice| notice.number == "CH3-JB2/1").unwrap().clone();
    let (old, new) = (find(&before), find(&now));
    let of_copy = |what: Event, notice: &Notice, date| Entry {
        fingerprint: notice.fingerprint().to_owned(),
        ..event(what, &notice.number, date)
    };
    for (copies, doubtful) in [(2, true), (1, false)] {
        let mut first = printed(&old, "2025-01-01");
        first.print.as_mut().unwrap().copies = copies;
        let mut entries = all_fixed(&now);
        entries.retain(|entry| entry.number != "CH3-JB2/1");
        entries.extend([first, of_copy(Event::Fixed, &old, "2025-01-02")]);
        entries.extend([printed(&new, "2026-01-01"), of_copy(Event::Replaced, &new, "2026-01-02")]);
        let found = told(&entries, &now, &Doubt::default());
        assert_eq!(found.len(), usize::from(doubtful), "{found:?}");
        assert!(
            found.iter().all(|one| one.contains("not judged") && one.contains("2 copies were printed")),
            "{found:?}"
        );
        let seen = event(Event::Inspected, "CH3-JB2/1", "2026-03-01");
        entries.push(Entry { condition: Some(Condition::Good), ..seen });
        assert_eq!(told(&entries, &now, &Doubt::default()), [""; 0], "somebody has looked since");
    }
}

/// The survey went back to what it said before: the wall is true, and the newer copy in the drawer is not.
#[test]
fn a_copy_in_the_drawer_that_is_false_beside_a_true_one_on_the_wall_is_to_be_destroyed() {
    let (now, newer) = (notices(SURVEY), notices(&SURVEY.replace("QU2,Comms room", "QU3,Comms room")));
    let find = |all: &[Notice], number: &str| all.iter().find(|notice| notice.number == number).unwrap().clone();
    let copy = |date, revision: &str| Entry { revision: revision.into(), ..printed(&find(&newer, "CH3-JB2/1"), date) };
    let of_none = printed(&find(&newer, "QU3@Comms room"), "2026-02-01");
    let mut entries = all_fixed(&now);
    entries.extend([copy("2026-02-01", "B"), of_none.clone()]);
    let beside = "says something else than the survey, and the copy on site is true";
    let without = "a copy printed on 2026-02-01 is of no notice that the survey has";
    assert_eq!(
        told(&entries, &now, &Doubt::default()),
        [
            format!("CH3-JB2/1 not to be fixed copy-false rev B printed on 2026-02-01 {beside}"),
            format!("QU3@Comms room not to be fixed copy-false {without}"),
        ]
    );
    let ledger = Ledger::of(&entries);
    let changes = check(&ledger, versions(&now), &Doubt::default(), &|_, _, _| true);
    assert_eq!((changes.unchanged, changes.to_print().len()), (now.len(), 0), "what hangs there is true all the same");
    assert!(on_site(&changes.changed).is_empty(), "nothing changed on site");
    // Where errors keep it from being told, that is said.
    let doubt = Doubt::of([&Finding::new(code::NOT_A_RECORD, "no record")], &[]);
    let in_doubt = told(&entries, &now, &doubt);
    let own = in_doubt.iter().find(|line| line.starts_with("QU3@")).unwrap();
    assert!(own.starts_with("QU3@Comms room not judged cannot-be-judged it may be about this one"), "{own}");
    // A further false one is named too, until a true one is printed; what is withdrawn is meant for nothing.
    entries.push(copy("2026-03-01", "C"));
    let both = "rev C printed on 2026-03-01, rev B printed on 2026-02-01";
    let first = |entries: &[Entry]| told(entries, &now, &Doubt::default()).first().cloned().unwrap_or_default();
    assert_eq!(first(&entries), format!("CH3-JB2/1 not to be fixed copy-false {both} {beside}"));
    // What was destroyed lies there no longer.
    let gone = |copy: &Entry| Entry {
        fingerprint: copy.fingerprint.clone(),
        revision: copy.revision.clone(),
        ..event(Event::Destroyed, &copy.number, "2026-03-05")
    };
    let [false_b, false_c] = [copy("2026-02-01", "B"), copy("2026-03-01", "C")];
    let one_left = [&entries[..], &[gone(&false_c)]].concat();
    assert_eq!(first(&one_left), format!("CH3-JB2/1 not to be fixed copy-false rev B printed on 2026-02-01 {beside}"));
    let none_left = [&one_left[..], &[gone(&false_b)]].concat();
    assert_eq!(first(&none_left), format!("QU3@Comms room not to be fixed copy-false {without}"));
    entries.push(printed(&find(&now, "CH3-JB2/1"), "2026-04-01"));
    assert_eq!(first(&entries), format!("QU3@Comms room not to be fixed copy-false {without}"));
    entries.push(event(Event::Withdrawn, "QU3@Comms room", "2026-04-01"));
    assert_eq!(first(&entries), "");
    // Once the false one is fixed it is the one on the wall that is false.
    let fixed =
        Entry { fingerprint: of_none.fingerprint.clone(), ..event(Event::Fixed, &of_none.number, "2026-05-01") };
    assert!(first(&[&entries[..], &[of_none, fixed]].concat()).starts_with("QU3@Comms room no longer true"));
}

#[test]
fn a_false_copy_beside_a_false_one_on_the_wall_is_told_with_it() {
    let (then, newer) = (notices(SURVEY), notices(&SURVEY.replace("QU2,Comms room", "QU3,Comms room")));
    let now = notices(&SURVEY.replace("QU2,Comms room", "QU4,Comms room"));
    let mut entries = all_fixed(&then);
    entries.push(printed(newer.iter().find(|notice| notice.number == "CH3-JB2/1").unwrap(), "2026-02-01"));
    let told = told(&entries, &now, &Doubt::default());
    let note = "also false is a copy printed on 2026-02-01: destroy it";
    assert!(told.contains(&format!("CH3-JB2/1 no longer true point-lacking {note}")), "{told:?}");
}

/// The drawer of another site.
#[test]
fn copies_that_lie_printed_are_not_called_false_by_the_survey_of_another_site() {
    let entries: Vec<Entry> = notices(SURVEY).iter().map(|notice| printed(notice, "2026-01-01")).collect();
    let other = notices(&SURVEY.replace("CH3-", "DOCK-").replace(",Q", ",QX"));
    let told = told(&entries, &other, &Doubt::default());
    let lying: Vec<&String> = told.iter().filter(|line| line.contains("was never fixed")).collect();
    assert_eq!(lying.len(), entries.len());
    assert!(lying.iter().all(|line| line.contains("not judged") && line.contains("another record")), "{lying:?}");
}
