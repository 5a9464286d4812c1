//! What happens twice on one day, what comes back after it was taken away, and which of several copies was taken.

use super::*;

const WRONG: Deed = Deed::Inspected(Condition::Wrong);
const DAY: &str = "2026-11-12";

/// The deeds of the entries that marks of one day add.
fn of_one_day(record: &[Entry], deeds: &[Deed]) -> Vec<(Event, Option<Condition>)> {
    let marks: Vec<Mark> = deeds.iter().map(|deed| mark(DAY, *deed)).collect();
    let (entries, _) = taken(record, &marks).unwrap();
    entries.iter().map(|entry| (entry.event, entry.condition)).collect()
}

fn recorded(deeds: &[Deed]) -> Vec<(Event, Option<Condition>)> {
    deeds.iter().map(|deed| (deed.event(), deed.condition())).collect()
}

#[test]
fn what_happened_again_on_one_day_is_not_lost() {
    let fixed = Entry::new(day("2026-11-11"), Event::Fixed, "CH3-JB2/1");
    let record = [printed("2026-11-10", "A"), fixed];
    for deeds in [
        [Deed::Withdrawn, Deed::Fixed, Deed::Withdrawn],
        [MISSING, Deed::Fixed, MISSING],
        [WRONG, GOOD, WRONG],
        [Deed::Replaced, WRONG, Deed::Replaced],
    ] {
        assert_eq!(of_one_day(&record, &deeds), recorded(&deeds));
        // In one run or in three.
        let mut kept = record.to_vec();
        for deed in deeds {
            kept.extend(taken(&kept, &[mark(DAY, deed)]).unwrap().0);
        }
        assert_eq!(kept.len(), record.len() + 3, "{deeds:?}");
    }
    assert_eq!(of_one_day(&record, &[GOOD, GOOD, WRONG, WRONG]), recorded(&[GOOD, WRONG]), "only the same at once");
}

#[test]
fn another_copy_and_the_first_again_on_one_day_are_three_replacings() {
    let record = [
        printed("2026-11-01", "A"),
        printed("2026-11-02", "B"),
        Entry::new(day("2026-11-11"), Event::Fixed, "CH3-JB2/1"),
    ];
    let with = |revision: &str| Mark { revision: revision.into(), ..mark(DAY, Deed::Replaced) };
    let (entries, _) = taken(&record, &[with("B"), with("A"), with("B"), with("B")]).unwrap();
    let revisions: Vec<&str> = entries.iter().map(|entry| entry.revision.as_str()).collect();
    assert_eq!(revisions, ["B", "A", "B"]);
}

#[test]
fn another_place_or_photo_is_another_inspection() {
    let record = [printed("2026-11-10", "A")];
    let at = |place: &str, photo: &str| Mark { place: place.into(), photo: photo.into(), ..mark(DAY, GOOD) };
    let (entries, _) =
        taken(&record, &[at("on the lid", "1.jpg"), at("", ""), at("", "2.jpg"), at("inside", "")]).unwrap();
    let photos: Vec<&str> = entries.iter().map(|entry| entry.photo.as_str()).collect();
    assert_eq!(photos, ["1.jpg", "2.jpg", ""]);
}

#[test]
fn what_is_told_of_a_day_is_held_against_its_sequence() {
    let record = [printed("2026-11-10", "A")];
    let told = |recorded: &[Deed], told: &[Deed]| {
        let marks: Vec<Mark> = recorded.iter().map(|deed| mark(DAY, *deed)).collect();
        let kept = [&record[..], &taken(&record, &marks).unwrap().0].concat();
        let ledger = Ledger::of(&kept);
        let marks: Vec<Mark> = told.iter().map(|deed| mark(DAY, *deed)).collect();
        let told = Marking::new(&ledger, day("2027-06-30")).told(&marks.iter().collect::<Vec<_>>());
        (told.first, told.is_whole_day)
    };
    assert_eq!(told(&[WRONG, GOOD, WRONG], &[WRONG, GOOD, WRONG]), (3, true));
    assert_eq!(told(&[WRONG, GOOD], &[WRONG, WRONG, GOOD, GOOD]), (4, true), "what is written twice");
    assert_eq!(told(&[WRONG, GOOD], &[WRONG, GOOD, WRONG]), (2, true), "a list that has grown");
    assert_eq!(told(&[WRONG, GOOD], &[GOOD]), (1, false));
    assert_eq!(told(&[WRONG, GOOD], &[WRONG]), (0, false));
    assert_eq!(told(&[], &[WRONG]), (0, true));
}

#[test]
fn what_was_taken_away_comes_back_only_where_somebody_says_so() {
    let gone = Entry::new(day("2026-11-12"), Event::Withdrawn, "CH3-JB2/1");
    let record = [printed("2026-11-10", "A"), gone];
    let by_pattern = |record: &[Entry], deed| {
        let ledger = Ledger::of(record);
        Marking::new(&ledger, day("2027-06-30"))
            .mark_one_of_many(&mark("2027-01-05", deed))
            .map(|marked| marked.findings)
    };
    let refusal = by_pattern(&record, Deed::Fixed).expect_err("it was taken away");
    assert_eq!(refusal.message(), "`CH3-JB2/1` was taken away on 2026-11-12 and not printed since");
    assert!(by_pattern(&record, Deed::Replaced).is_err());
    for deed in [Deed::Fixed, GOOD] {
        let (_, marked) = taken(&record, &[mark("2027-01-05", deed)]).unwrap();
        let codes: Vec<_> = marked[0].findings.iter().map(|finding| finding.code).collect();
        assert_eq!(codes, [code::TAKEN_AWAY_BEFORE], "{deed:?}");
    }
    let printed_since = [&record[..], &[printed("2027-01-02", "A")]].concat();
    assert_eq!(by_pattern(&printed_since, Deed::Fixed), Ok(vec![]));
}

#[test]
fn a_copy_that_lies_ready_too_is_pointed_out_until_somebody_names_the_one() {
    let record = [printed("2026-11-01", "A"), printed("2026-12-01", "B")];
    let codes = |record: &[Entry], mark: Mark| {
        let (entries, marked) = taken(record, &[mark]).unwrap();
        let codes: Vec<_> = marked[0].findings.iter().map(|finding| finding.code).collect();
        (entries[0].revision.clone(), codes)
    };
    let fixed = mark("2027-01-05", Deed::Fixed);
    assert_eq!(codes(&record, fixed.clone()), ("B".to_owned(), vec![code::OTHER_COPY_READY]));
    assert_eq!(codes(&record, Mark { revision: "B".into(), ..fixed.clone() }), ("B".to_owned(), vec![]));
    let older = Entry {
        revision: "A".into(),
        fingerprint: "fingerprint of A".into(),
        ..Entry::new(day("2026-11-02"), Event::Fixed, "CH3-JB2/1")
    };
    let replaced = Mark { deed: Deed::Replaced, ..fixed };
    let one_fixed = [&record[..], &[older]].concat();
    assert_eq!(codes(&one_fixed, replaced.clone()), ("B".to_owned(), vec![]), "the other one hung there");
    let another = [&one_fixed[..], &[printed("2026-12-20", "C")]].concat();
    assert_eq!(codes(&another, replaced), ("C".to_owned(), vec![code::OTHER_COPY_READY]), "B was never fixed");
}

#[test]
fn what_was_found_wrong_is_not_taken_back_unseen() {
    let fixed = Entry::new(day("2026-11-11"), Event::Fixed, "CH3-JB2/1");
    let record = [printed("2026-11-10", "A"), fixed];
    let codes = |marks: &[Mark]| -> Vec<_> {
        let (_, marked) = taken(&record, marks).unwrap();
        marked.iter().flat_map(|marked| &marked.findings).map(|finding| finding.code).collect()
    };
    let later = |deed| mark("2026-12-01", deed);
    assert_eq!(codes(&[mark(DAY, WRONG), mark(DAY, GOOD)]), [code::FOUND_OTHERWISE_THAT_DAY]);
    let noted = |deed, note: &str| Mark { note: note.to_owned(), ..mark(DAY, deed) };
    assert_eq!(codes(&[mark(DAY, WRONG), noted(GOOD, "Q7 put back")]), []);
    let both = [noted(WRONG, "visited"), noted(GOOD, "visited ")];
    assert_eq!(codes(&both), [code::FOUND_OTHERWISE_THAT_DAY], "what is said of both explains neither");
    assert_eq!(codes(&[mark(DAY, WRONG), later(GOOD)]), [code::WRONG_TAKEN_BACK]);
    assert_eq!(codes(&[mark(DAY, WRONG), later(Deed::Inspected(Condition::Faded))]), [code::WRONG_TAKEN_BACK]);
    assert_eq!(codes(&[mark(DAY, WRONG), later(WRONG), later(Deed::Replaced), later(GOOD)]), []);
    assert_eq!(codes(&[mark(DAY, GOOD), later(WRONG)]), []);
}
