//! What can be recorded of a notice, and what cannot have been so.

use super::*;
use crate::finding::code;
use crate::records::Print;

fn day(text: &str) -> Date {
    Date::parse(text).unwrap()
}

fn printed(date: &str, revision: &str) -> Entry {
    let print = Print { designation: "CH3-JB2".into(), issued: "2026-11".into(), ..crate::records::testing::print() };
    Entry {
        revision: revision.into(),
        fingerprint: format!("fingerprint of {revision}"),
        print: Some(Box::new(print)),
        ..Entry::new(day(date), Event::Printed, "CH3-JB2/1")
    }
}

fn mark(date: &str, deed: Deed) -> Mark {
    let none = String::new;
    Mark {
        date: day(date),
        deed,
        number: "CH3-JB2/1".into(),
        revision: none(),
        by: none(),
        place: none(),
        photo: none(),
        note: none(),
    }
}

/// Takes marks one after the other; the day of the run is 2027-06-30.
fn taken(record: &[Entry], marks: &[Mark]) -> Result<(Vec<Entry>, Vec<Marked>), Refusal> {
    let ledger = Ledger::of(record);
    let mut marking = Marking::new(&ledger, day("2027-06-30"));
    let marked = marks.iter().map(|mark| marking.mark(mark)).collect::<Result<_, _>>()?;
    Ok((marking.entries(), marked))
}

fn refused(record: &[Entry], marks: &[Mark]) -> Refusal {
    taken(record, marks).expect_err("a refusal")
}

const GOOD: Deed = Deed::Inspected(Condition::Good);
const MISSING: Deed = Deed::Inspected(Condition::Missing);

#[test]
fn the_copy_that_is_fixed_is_the_last_one_before_that_day() {
    let record = [printed("2026-11-01", "A"), printed("2026-12-01", "B"), printed("2027-02-01", "C")];
    let (entries, marked) = taken(&record, &[mark("2026-12-01", Deed::Fixed)]).unwrap();
    assert_eq!((entries[0].revision.as_str(), entries[0].fingerprint.as_str()), ("B", "fingerprint of B"));
    let message = &marked[0].findings[0];
    assert_eq!(message.code, code::OLDER_COPY_FIXED, "rev C is printed since");
    assert!(message.message.contains("rev B printed 2026-12-01 was fixed, and the last is rev C printed 2027-02-01"));
    let named = Mark { revision: "A".into(), ..mark("2027-03-01", Deed::Fixed) };
    let (entries, marked) = taken(&record, &[named]).unwrap();
    assert_eq!((entries[0].revision.as_str(), marked[0].findings.len()), ("A", 1));
    let (_, marked) = taken(&record[2..], &[mark("2027-03-01", Deed::Fixed)]).unwrap();
    assert_eq!(marked[0], Marked::default());
}

#[test]
fn a_revision_that_was_never_printed_is_refused_with_those_that_were() {
    let record = [printed("2026-11-01", "A"), printed("2026-12-01", "B"), printed("2027-02-01", "A")];
    let named = |date, revision: &str| Mark { revision: revision.into(), ..mark(date, Deed::Fixed) };
    let refusal = refused(&record, &[named("2027-03-01", "X")]);
    assert_eq!(refusal.message(), "`CH3-JB2/1` was not printed as rev X; printed were B, A");
    let refusal = refused(&record, &[named("2026-11-15", "B")]);
    assert!(matches!(refusal, Refusal::NotPrinted { printed: Some(_), .. }), "{refusal:?}");
}

#[test]
fn nothing_happens_before_the_printing_or_after_today() {
    let record = [printed("2026-11-10", "A")];
    for deed in [Deed::Fixed, Deed::Replaced, GOOD, Deed::Withdrawn] {
        let early = refused(&record, &[mark("2026-11-09", deed)]);
        assert!(matches!(early, Refusal::NotPrinted { printed: Some(_), .. }), "{early:?}");
        assert!(matches!(refused(&record, &[mark("2027-07-02", deed)]), Refusal::Future { .. }));
    }
    assert!(taken(&record, &[mark("2027-07-01", Deed::Fixed)]).is_ok(), "where people live it is tomorrow already");
    let other = Mark { number: "CH3-JB9/1".into(), ..mark("2027-01-01", Deed::Fixed) };
    assert_eq!(refused(&record, &[other]), Refusal::Unknown { number: "CH3-JB9/1".into() });
    let alone = [Entry::new(day("2026-11-10"), Event::Fixed, "CH3-JB2/1")];
    let refusal = refused(&alone, &[mark("2027-01-01", GOOD)]);
    assert!(matches!(refusal, Refusal::NotPrinted { printed: None, .. }), "{refusal:?}");
}

#[test]
fn what_stands_decides_what_can_be_done() {
    let record = [printed("2026-11-10", "A")];
    let all = |marks: &[(&str, Deed)]| {
        let marks: Vec<Mark> = marks.iter().map(|(date, deed)| mark(date, *deed)).collect();
        taken(&record, &marks).map(|(entries, _)| entries.len())
    };
    let fixed = ("2026-11-11", Deed::Fixed);
    let gone = ("2026-11-13", Deed::Withdrawn);
    assert!(matches!(all(&[fixed, ("2026-11-12", Deed::Fixed)]), Err(Refusal::FixedAlready { .. })));
    assert!(matches!(all(&[("2026-11-12", GOOD), ("2026-11-13", Deed::Fixed)]), Err(Refusal::FoundThere { .. })));
    assert!(matches!(all(&[("2026-11-12", Deed::Replaced)]), Err(Refusal::NoneStands { .. })));
    assert!(matches!(all(&[fixed, gone, ("2026-11-14", Deed::Replaced)]), Err(Refusal::NoneStands { .. })));
    assert!(matches!(all(&[fixed, gone, ("2026-11-14", Deed::Withdrawn)]), Err(Refusal::WithdrawnAlready { .. })));
    assert!(matches!(all(&[("2026-11-12", MISSING)]), Err(Refusal::NeverThere { .. })));
    assert!(matches!(all(&[fixed, gone, ("2026-11-14", MISSING)]), Err(Refusal::NeverThere { .. })));
    let lost = ("2026-11-12", MISSING);
    assert_eq!(all(&[fixed, lost, ("2026-11-13", MISSING), ("2026-11-14", Deed::Fixed)]), Ok(4));
    assert_eq!(all(&[fixed, gone, ("2026-11-14", Deed::Fixed), ("2026-11-15", Deed::Replaced)]), Ok(4));
    assert_eq!(all(&[("2026-11-12", GOOD), ("2026-11-13", Deed::Replaced)]), Ok(2), "it is evidently there");
    assert_eq!(all(&[lost, fixed]).map_err(|refusal| refusal.number().to_owned()), Err("CH3-JB2/1".into()));
}

#[test]
fn what_is_told_late_is_held_against_what_is_recorded_of_later_days() {
    let record = [printed("2026-11-10", "A"), Entry::new(day("2026-11-20"), Event::Fixed, "CH3-JB2/1")];
    assert!(matches!(refused(&record, &[mark("2026-11-15", Deed::Fixed)]), Refusal::FixedAlready { .. }));
    let late = [mark("2026-11-25", GOOD), mark("2026-11-22", GOOD)];
    assert_eq!(taken(&record, &late).unwrap().0.len(), 2);
    let disagrees = |marks: &[(&str, Deed)]| {
        let marks: Vec<Mark> = marks.iter().map(|(date, deed)| mark(date, *deed)).collect();
        matches!(taken(&record, &marks), Err(Refusal::Disagrees { .. }))
    };
    let gone = ("2026-11-22", Deed::Withdrawn);
    assert!(disagrees(&[("2026-11-25", GOOD), gone]), "it was seen there afterwards");
    assert!(disagrees(&[("2026-11-25", Deed::Replaced), gone]));
    assert!(disagrees(&[("2026-11-25", Deed::Replaced), ("2026-11-22", MISSING)]));
    assert!(disagrees(&[("2026-11-15", GOOD)]), "it was seen there before it was fixed");
    assert!(!disagrees(&[("2026-11-25", MISSING), gone]), "which tells why it was missing");
    assert!(!disagrees(&[("2026-11-25", Deed::Withdrawn), ("2026-11-22", GOOD)]));
    let gone = [mark("2026-11-28", Deed::Withdrawn), mark("2026-11-26", Deed::Withdrawn)];
    assert!(matches!(refused(&record, &gone), Refusal::WithdrawnAlready { .. }));
}

#[test]
fn the_same_is_not_added_twice() {
    let record = [printed("2026-11-10", "A")];
    let by = |by: &str| Mark { by: by.into(), ..mark("2026-11-11", Deed::Fixed) };
    let (entries, marked) = taken(&record, &[by("JD"), by(" JD ")]).unwrap();
    assert_eq!((entries.len(), marked[0].was_there, marked[1].was_there), (1, false, true));
    let again = [&record[..], &entries].concat();
    assert_eq!(taken(&again, &[by("JD")]).unwrap().0, []);
    assert!(matches!(refused(&again, &[by("AB")]), Refusal::FixedAlready { .. }));
    let other = Mark { revision: "Z".into(), ..by("JD") };
    assert!(matches!(refused(&again, &[other]), Refusal::FixedAlready { .. }), "another copy is another fixing");
}

#[test]
fn an_inspection_speaks_of_the_copy_that_stands_unless_it_names_another() {
    let record = [printed("2026-11-01", "A"), printed("2026-12-01", "B")];
    let named = |date, revision: &str| Mark { revision: revision.into(), ..mark(date, GOOD) };
    let marks = [
        Mark { deed: Deed::Fixed, ..named("2026-12-02", "A") },
        mark("2027-01-01", GOOD),
        named("2027-01-02", "B"),
        mark("2027-01-03", GOOD),
        named("2027-01-04", "A"),
        mark("2027-01-05", GOOD),
    ];
    let (entries, marked) = taken(&record, &marks).unwrap();
    let revisions: Vec<&str> = entries.iter().map(|entry| entry.revision.as_str()).collect();
    assert_eq!(revisions, ["A", "A", "B", "B", "A", "A"]);
    let found: Vec<usize> = marked.iter().map(|marked| marked.findings.len()).collect();
    assert_eq!(found, [1, 0, 1, 0, 1, 0]);
    assert_eq!(marked[2].findings[0].code, code::OTHER_COPY_FOUND);
    // Nobody recorded which of the two was fixed.
    let (entries, marked) = taken(&record, &[mark("2027-01-01", GOOD)]).unwrap();
    assert_eq!((entries[0].fingerprint.as_str(), marked[0].findings[0].code), ("", code::COPY_NOT_KNOWN));
    let after = [&record[..], &entries].concat();
    let ledger = Ledger::of(&after);
    assert!(matches!(ledger.notices[0].standing(), Standing::Fixed { print: None, .. }), "unknown stays unknown");
}

#[test]
fn what_stands_is_said_in_one_line() {
    let record = [printed("2026-11-10", "A")];
    let words = |marks: &[Mark], more: &[Entry]| {
        let all = [&record[..], &taken(&record, marks).unwrap().0, more].concat();
        Ledger::of(&all).notices[0].in_words()
    };
    assert_eq!(words(&[], &[]), "not fixed: rev A printed 2026-11-10");
    let fixed = mark("2026-11-11", Deed::Fixed);
    let faded = mark("2027-01-01", Deed::Inspected(Condition::Faded));
    assert_eq!(words(std::slice::from_ref(&fixed), &[]), "fixed: rev A since 2026-11-11");
    assert_eq!(
        words(&[fixed.clone(), faded.clone()], &[printed("2027-02-01", "B")]),
        "fixed: rev A since 2026-11-11, inspected 2027-01-01: faded; the last, rev B printed 2027-02-01, is not there"
    );
    assert_eq!(words(&[faded], &[]), "there: rev A inspected 2027-01-01: faded; no fixing is recorded");
    let other = Mark { revision: "B".into(), ..mark("2027-02-03", GOOD) };
    let all = [&record[..], &[printed("2026-12-10", "B")]].concat();
    let older = Mark { revision: "A".into(), ..mark("2027-02-02", Deed::Fixed) };
    let all = [&all[..], &taken(&all, &[older, other]).unwrap().0].concat();
    let said = "there: rev B inspected 2027-02-03: good, though rev A is recorded as fixed on 2027-02-02";
    assert_eq!(Ledger::of(&all).notices[0].in_words(), said);
    assert_eq!(words(&[fixed.clone(), mark("2027-01-02", MISSING)], &[]), "missing: found so on 2027-01-02");
    let back = "there: rev A inspected 2027-01-03: good; fixed 2026-11-11, found missing 2027-01-02, and no fixing is \
                recorded since";
    assert_eq!(words(&[fixed.clone(), mark("2027-01-02", MISSING), mark("2027-01-03", GOOD)], &[]), back);
    assert_eq!(words(&[fixed, mark("2027-01-02", Deed::Withdrawn)], &[]), "withdrawn: on 2027-01-02");
}

#[test]
fn of_many_only_what_is_recorded_as_fixed_is_believed_to_be_there() {
    let record = [printed("2026-11-10", "A")];
    let ledger = Ledger::of(&record);
    let mut marking = Marking::new(&ledger, day("2027-06-30"));
    let there = |marking: &mut Marking<'_>, date, deed| marking.mark_one_of_many(&mark(date, deed)).is_ok();
    assert!(!there(&mut marking, "2026-11-11", GOOD) && !there(&mut marking, "2026-11-11", Deed::Withdrawn));
    assert!(there(&mut marking, "2026-11-12", Deed::Fixed) && there(&mut marking, "2026-11-13", GOOD));
    assert!(there(&mut marking, "2026-11-14", Deed::Withdrawn));
    let again = marking.mark_one_of_many(&mark("2026-11-14", Deed::Withdrawn)).unwrap();
    assert!(again.was_there && !there(&mut marking, "2026-11-15", GOOD));
}

mod destroyed;
mod repeated;
