//! What a page tells of the copy on site.

use super::stands::Stands;
use crate::notice::{Notice, NoticeOptions, compose};
use crate::records::changes::Measure;
use crate::records::{Condition, Entry, Event, Lasts, Ledger, Print, Statement};
use crate::standing::Date;

/// A notice of revision B.
fn notice() -> Notice {
    let text =
        "enclosure,circuit,voltage_to_earth,isolator,isolator_location\nCH1,A/1,230,Q7,Room 1\nCH1,A/2,230,Q8,Room 2\n";
    let survey = crate::survey::read(text.as_bytes(), &crate::survey::ReadOptions::new("survey.csv")).survey;
    let network = crate::network::Network::join(&survey, None, &Default::default()).0;
    let decisions = crate::rules::decide(&survey, &network, &Default::default()).0;
    let options = NoticeOptions { revision: "B".into(), ..NoticeOptions::default() };
    let (notices, _) = compose(&survey, &decisions, &crate::wording::Wording::english(), &options);
    notices.into_iter().find(|notice| notice.number == "CH1/1").unwrap()
}

fn entry(date: &str, event: Event, revision: &str, fingerprint: &str) -> Entry {
    let (revision, fingerprint) = (revision.to_owned(), fingerprint.to_owned());
    Entry { revision, fingerprint, ..Entry::new(Date::parse(date).unwrap(), event, "CH1/1") }
}

/// What must be read first, and the rest, of a notice with these entries.
fn told(entries: &[Entry]) -> (String, String) {
    let ledger = Ledger::of(entries);
    let stands = Stands::of(ledger.find("CH1/1"), true, &notice(), &Measure::default());
    let first: Vec<String> =
        stands.first.iter().map(|one| format!("{}. {}", one.first, one.further.join(" "))).collect();
    (first.join("\n"), stands.lines.join("\n"))
}

#[test]
fn a_copy_that_says_something_else_is_told_before_anything() {
    let (first, _) = told(&[entry("2026-01-01", Event::Fixed, "A", "another")]);
    assert!(first.contains("says something else than this page: it is revision A, this page revision B"), "{first}");
    let (first, _) = told(&[entry("2026-01-01", Event::Fixed, "B", "another")]);
    assert!(first.contains("says something else than this page, and both are revision B"), "{first}");
    // Printed anew, and the old copy still stands there.
    let printed = entry("2026-02-01", Event::Printed, "B", notice().fingerprint());
    let (first, _) = told(&[entry("2026-01-01", Event::Fixed, "A", "another"), printed]);
    assert!(first.contains("it is revision A"), "{first}");
}

#[test]
fn the_same_copy_is_no_reason_to_trust_it() {
    let same = notice().fingerprint().to_owned();
    let (first, lines) = told(&[entry("2026-01-01", Event::Fixed, "B", &same)]);
    assert_eq!(first, "");
    assert!(lines.contains("says the same as this page. Look whether it does"), "{lines}");
    let (first, lines) = told(&[entry("2026-01-01", Event::Fixed, "A", &same)]);
    assert!(first.is_empty() && lines.contains("the same as this page, though it is revision A"), "{lines}");
}

#[test]
fn a_copy_of_which_nothing_is_known_is_called_so() {
    let (first, lines) = told(&[entry("2026-01-01", Event::Fixed, "A", "")]);
    assert!(first.contains("may be another: revision A by the record, and this page is revision B"), "{first}");
    assert!(lines.contains("does not tell what that copy says"), "{lines}");
    let (first, lines) = told(&[entry("2026-01-01", Event::Fixed, "B", "")]);
    assert!(first.is_empty() && lines.contains("does not tell what that copy says"), "{first} {lines}");
    // An inspection found another revision than the one that was recorded as fixed.
    let found = Entry { condition: Some(Condition::Good), ..entry("2026-03-01", Event::Inspected, "A", "") };
    let (first, _) = told(&[entry("2026-01-01", Event::Fixed, "B", notice().fingerprint()), found]);
    assert!(first.contains("may be another: revision A"), "{first}");
}

#[test]
fn what_an_inspection_found_is_told() {
    let fixed = entry("2026-01-01", Event::Fixed, "B", notice().fingerprint());
    let found = |condition| {
        let note = "Q8 has moved".to_owned();
        let found = Entry { condition: Some(condition), note, ..entry("2026-03-01", Event::Inspected, "", "") };
        told(&[fixed.clone(), found])
    };
    let (first, _) = found(Condition::Wrong);
    assert!(first.contains("does not say what is there: Q8 has moved. Go by neither"), "{first}");
    assert!(found(Condition::Missing).0.contains("missing on 2026-03-01"));
    for condition in [Condition::Faded, Condition::Damaged] {
        let first = found(condition).0;
        assert!(first.contains(&format!("found the notice {}: Q8 has moved", condition.name())), "{first}");
    }
    assert_eq!(found(Condition::Good).0, "");
    assert!(
        told(&[fixed.clone(), entry("2026-04-01", Event::Withdrawn, "", "")])
            .0
            .contains("was taken away on 2026-04-01")
    );
    assert!(told(&[entry("2026-01-01", Event::Printed, "B", "")]).1.contains("nobody told that it was fixed"));
}

#[test]
fn without_an_entry_or_a_record_nothing_is_known() {
    assert!(told(&[]).1.contains("has no entry"));
    assert_eq!(
        Stands::of(None, false, &notice(), &Measure::default()).lines,
        ["No record is kept: what stands on site is not known here."]
    );
}

#[test]
fn what_the_copy_on_site_says_otherwise_is_told_with_the_warning() {
    let mut old = notice();
    old.points[1].place = "Room 9".into();
    let says = Statement::of(&old);
    let print = Print {
        subject: old.subject,
        designation: old.designation.clone(),
        area: old.area.clone(),
        position: String::new(),
        issued: String::new(),
        size: crate::length::Size::default(),
        letters: None,
        sign: None,
        format: "a4-a7-4".into(),
        material: "vinyl-polymeric".into(),
        process: "laser".into(),
        environment: String::new(),
        lasts: Lasts::default(),
        file: "notices.pdf".into(),
        page: 1,
        cell: 1,
        copies: 1,
        run: 1,
        says,
    };
    let printed = Entry { print: Some(Box::new(print)), ..entry("2026-01-01", Event::Printed, "A", "another") };
    let (first, _) = told(&[printed, entry("2026-01-02", Event::Fixed, "A", "another")]);
    assert!(first.contains("does not name a point of isolation that is needed now: it is revision A"), "{first}");
    assert!(first.contains("Otherwise on site, point moved: Q8: Room 9 -> Room 2."), "{first}");
    assert!(first.contains("Trust neither the notice nor this page"), "{first}");
}
