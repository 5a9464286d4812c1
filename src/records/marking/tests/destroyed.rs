//! A copy that lay printed and was destroyed: what stands on site stays, and it is not there to be fixed any more.

use super::*;

fn of(revision: &str, date: &str, deed: Deed) -> Mark {
    Mark { revision: revision.into(), ..mark(date, deed) }
}

fn on_site(record: &[Entry], entries: &[Entry]) -> String {
    let all = [record, entries].concat();
    Ledger::of(&all).find("CH3-JB2/1").unwrap().in_words()
}

#[test]
fn what_stands_on_site_stays_when_another_copy_is_destroyed() {
    let record = [printed("2026-11-01", "A"), printed("2026-12-01", "B")];
    let fixed = of("A", "2026-11-05", Deed::Fixed);
    let (entries, marked) = taken(&record, &[fixed.clone(), mark("2026-12-05", Deed::Destroyed)]).unwrap();
    assert_eq!(
        (entries[1].event, entries[1].revision.as_str()),
        (Event::Destroyed, "B"),
        "the only one that lies there"
    );
    assert_eq!(entries[1].fingerprint, "fingerprint of B");
    assert!(marked[1].findings.is_empty());
    assert_eq!(
        on_site(&record, &entries),
        "fixed: rev A since 2026-11-05; the last, rev B printed 2026-12-01, was destroyed on 2026-12-05"
    );
    // Told twice it is recorded once, and what was fixed before may still be told.
    let again = mark("2026-12-05", Deed::Destroyed);
    let (entries, marked) = taken(&record, &[fixed.clone(), again.clone(), again, fixed]).unwrap();
    assert_eq!((entries.len(), marked[2].was_there, marked[3].was_there), (2, true, true));
}

#[test]
fn only_a_copy_that_lies_there_can_be_destroyed() {
    let record = [printed("2026-11-01", "A"), printed("2026-12-01", "B")];
    let refusal = |marks: &[Mark]| refused(&record, marks).message();
    let destroyed = |revision: &str, date: &str| of(revision, date, Deed::Destroyed);
    assert_eq!(
        refusal(&[destroyed("", "2026-12-05")]),
        "several copies of `CH3-JB2/1` lie printed and not fixed: A, B",
        "the other one would go on lying there"
    );
    let none = "the record has no rev A of `CH3-JB2/1` that lay printed and not fixed on 2026-12-05";
    let fixed = of("A", "2026-12-02", Deed::Fixed);
    assert_eq!(refusal(&[fixed.clone(), destroyed("A", "2026-12-05")]), none);
    assert_eq!(refusal(&[destroyed("A", "2026-12-05"), destroyed("A", "2026-12-06")]), none.replace("12-05", "12-06"));
    assert_eq!(refusal(&[destroyed("C", "2026-12-05")]), none.replace("rev A", "rev C"));
    // Told late: it was fixed after that day, so that it was there.
    assert_eq!(refusal(&[fixed, destroyed("A", "2026-12-01")]), none.replace("12-05", "12-01"));
    let before =
        Refusal::NotPrinted { number: "CH3-JB2/1".into(), date: day("2026-10-01"), printed: Some(day("2026-11-01")) };
    assert_eq!(refused(&record, &[destroyed("A", "2026-10-01")]), before);
}

#[test]
fn what_was_destroyed_is_not_taken_for_the_copy_that_is_fixed() {
    let record = [printed("2026-11-01", "A"), printed("2026-12-01", "B")];
    let gone = of("B", "2026-12-05", Deed::Destroyed);
    let (entries, marked) = taken(&record, &[gone.clone(), mark("2026-12-06", Deed::Fixed)]).unwrap();
    assert_eq!((entries[1].revision.as_str(), marked[1].findings.len()), ("A", 0), "no other copy lies ready");
    let refusal = refused(&record, &[gone.clone(), of("B", "2026-12-06", Deed::Fixed)]);
    assert_eq!(refusal.message(), "`CH3-JB2/1` rev B was destroyed on 2026-12-05, and cannot have been fixed since");
    let both = [gone.clone(), of("A", "2026-12-05", Deed::Destroyed), mark("2026-12-06", Deed::Fixed)];
    assert!(matches!(refused(&record, &both), Refusal::Destroyed { .. }));
    // Printed anew it is there again.
    let anew = [&record[..], &[printed("2026-12-07", "B")]].concat();
    let (entries, _) = taken(&anew, &[gone, mark("2026-12-08", Deed::Fixed)]).unwrap();
    assert_eq!(entries[1].revision, "B");
}

#[test]
fn a_pattern_passes_over_notices_of_which_none_lies_printed() {
    let record = [printed("2026-11-01", "A")];
    let ledger = Ledger::of(&record);
    let mut marking = Marking::new(&ledger, day("2027-06-30"));
    marking.mark_one_of_many(&mark("2026-11-05", Deed::Fixed)).unwrap();
    let refusal = marking.mark_one_of_many(&mark("2026-11-06", Deed::Destroyed)).expect_err("it is fixed");
    assert!(matches!(refusal, Refusal::NoneLies { .. }), "{refusal:?}");
}

#[test]
fn a_notice_of_which_every_copy_was_destroyed_is_lacking() {
    let record = [printed("2026-11-01", "A"), printed("2026-12-01", "B")];
    let known = |marks: &[Mark]| {
        let all = [&record[..], &taken(&record, marks).unwrap().0].concat();
        let ledger = Ledger::of(&all);
        let known = ledger.find("CH3-JB2/1").unwrap();
        (known.is_lacking(), known.is_altered(Some("fingerprint of A")))
    };
    let (newer, older) = (of("B", "2026-12-05", Deed::Destroyed), of("A", "2026-12-06", Deed::Destroyed));
    assert_eq!(known(&[]), (false, Some(true)));
    assert_eq!(known(std::slice::from_ref(&newer)), (false, Some(false)), "rev A lies there, and says what is wanted");
    assert_eq!(known(&[newer, older]), (true, Some(false)));
}
