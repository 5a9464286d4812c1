//! What lists come to, and what a person is asked to look at.

use super::decide;
use crate::finding::Finding;
use crate::network::{Network, NetworkOptions};
use crate::rules::{Confidence, Outcome, StandingDecision, WhoseWords};
use crate::standing::{Date, Kind, ReadOptions, read};
use crate::survey;

const HEADER: &str = "number,kind,last_inspection,next_inspection,words,size\n";
const SURVEY: &str =
    "enclosure,circuit,voltage_to_earth,isolator,isolator_location,positions\nCH3-JB1,C/7,230,Q7,Room 1,left; right\n";

fn decided(rows: &str, date: &str) -> (Vec<StandingDecision>, Vec<Finding>) {
    let survey = survey::read(SURVEY.as_bytes(), &survey::ReadOptions::new("survey.csv")).survey;
    let network = Network::join(&survey, None, &NetworkOptions::default()).0;
    let list = read(format!("{HEADER}{rows}").as_bytes(), &ReadOptions::new("standing.csv")).standing;
    decide(&list, &survey, &network, Date::span(date))
}

fn found(rows: &str) -> Vec<&'static str> {
    let findings = decided(rows, "2026-11-24").1;
    findings.iter().map(|finding| finding.code.name).filter(|name| *name != "standing-words-unverified").collect()
}

fn one(kind: Kind) -> StandingDecision {
    decided(&format!("STN-1,{},2026-05-14,2031-05-14,,\n", kind.name()), "").0.remove(0)
}

#[test]
fn what_is_listed_is_required_and_good_practice_is_advised() {
    for kind in Kind::ALL {
        let expected = if kind == Kind::MixedColours { Outcome::Advised } else { Outcome::Required };
        let decision = one(kind);
        assert_eq!(decision.reason.outcome, expected, "{kind:?}");
        assert!(decision.reason.rule.name().starts_with("standing-"));
        assert_eq!(decision.reason.rule.name(), format!("standing-{}", kind.name()));
    }
    assert_eq!(one(Kind::MixedColours).reason.clause_in_words(), "common practice");
}

#[test]
fn ours_are_never_called_verified() {
    let words = |kind| one(kind).words;
    assert_eq!(words(Kind::PeriodicInspection), WhoseWords::OursPrescribed(Confidence::Secondary));
    assert_eq!(words(Kind::RcdTest), WhoseWords::OursPrescribed(Confidence::Memory));
    assert_eq!(words(Kind::SurgeProtection), WhoseWords::OursFree);
    assert!(Kind::ALL.iter().all(|kind| words(*kind).name() != "prescribed"), "nobody has read the standard itself");
    let advice = |rows: &str| -> Vec<String> {
        let findings = decided(rows, "").1.into_iter();
        findings.filter(|one| one.code.name == "standing-words-unverified").map(|one| one.message).collect()
    };
    assert_eq!(
        advice("STN-1,rcd-test,,,,\nSTN-2,rcd-test,,,,\nSTN-3,rcd-test,,,Test six-monthly,\n"),
        [
            "ours are from memory: the words of `STN-1` and 1 more notice, which are prescribed by BS 7671 514.12.2 (from \
          texts that quote it; check your own copy)"
        ]
    );
    assert!(
        advice("STN-1,rcd-test,,,Test six-monthly,\nSTN-2,surge-protection,,,,\nSTN-3,mixed-colours,,,,\n").is_empty()
    );
}

#[test]
fn the_interval_of_earlier_editions_is_refused() {
    for old in ["Test quarterly by pressing", "Test THREE-MONTHLY", "test every three months", "Test 3-monthly"] {
        assert_eq!(found(&format!("STN-1,rcd-test,,,{old},\n")), ["standing-words-outdated"], "{old}");
    }
    let more = ["Test every 3 months", "each quarter", "every 13 weeks", "every 90 days", "four times a year"];
    for old in more {
        assert_eq!(found(&format!("STN-1,rcd-test,,,{old},\n")), ["standing-words-outdated"], "{old}");
    }
    for longer in ["Test yearly", "Press T once a year", "Test annually", "every 12 months", "every two years"] {
        assert_eq!(found(&format!("STN-1,rcd-test,,,{longer},\n")), ["standing-words-outdated"], "{longer}");
    }
    for in_force in ["Test half-yearly", "Press T twice a year", "Test semi-annually"] {
        assert_eq!(found(&format!("STN-1,rcd-test,,,{in_force},\n")), [""; 0], "{in_force}");
    }
    for other in ["Press the button every 13 months", "Test every 36 months"] {
        assert_eq!(found(&format!("STN-1,rcd-test,,,{other},\n")), ["standing-words-doubtful"], "{other}");
    }
    assert_eq!(found("STN-1,rcd-test,,,Test six-monthly by pressing the relevant test button(s),\n"), [""; 0]);
    assert_eq!(found("STN-1,surge-protection,,,Looked at quarterly,\n"), [""; 0]);
}

#[test]
fn words_of_ones_own_do_not_reassure_and_have_their_key_words() {
    let codes = |rows: &str| decided(rows, "2026-11-24").1.iter().map(|one| one.code.name).collect::<Vec<_>>();
    for word in ["SAFE to touch", "is dead", "is isolated here", "is de-energised"] {
        assert_eq!(
            found(&format!("STN-1,surge-protection,,,This part {word},\n")),
            ["standing-words-doubtful"],
            "{word}"
        );
    }
    assert_eq!(found("STN-1,surge-protection,,,Safety first,\n"), [""; 0]);
    // Words of the clauses, some from memory; see tests/published/standing.rs.
    let both = ["standing-words-doubtful", "standing-words-unverified"];
    for (kind, right) in [
        ("earthing-connection", "Safety Electrical Connection - DO NOT REMOVE"),
        ("earth-free-location", "conductors MUST NOT BE CONNECTED TO EARTH"),
        ("periodic-inspection", "This installation should be inspected"),
    ] {
        let row = |words: &str| format!("STN-1,{kind},2026-05-14,2031-05-14,{words},\n");
        assert_eq!(codes(&row(right)), [""; 0], "{kind}");
        assert_eq!(codes(&row("Look here")), both, "{kind}");
    }
    assert_eq!(found("STN-1,firefighters-switch,,,Fire switch,\n"), ["standing-words-doubtful", "standing-not-red"]);
    assert_eq!(found("STN-1,firefighters-switch,,,FIREFIGHTER'S SWITCH,\n"), ["standing-not-red"]);
}

#[test]
fn dates_are_held_against_the_jobs() {
    let found = |last: &str, next: &str| found(&format!("STN-1,periodic-inspection,{last},{next},,\n"));
    assert_eq!(found("2026-05-14", "2031-05-14"), [""; 0]);
    assert_eq!(found("2026-11-25", "2031-05-14"), ["standing-inspection-ahead"]);
    assert_eq!(found("2021-05-14", "2026-11-23"), ["standing-inspection-overdue"]);
    assert_eq!(found("2021-05-14", "2026-11-24"), [""; 0], "due today is not overdue");
    for (last, next) in [("", ""), ("2026-05-14", ""), ("", "2031-05-14")] {
        assert_eq!(found(last, next), ["standing-date-left-to-write"]);
    }
    let overdue = decided("STN-1,periodic-inspection,2016-05-14,2021-05-14,,\n", "").1;
    let codes: Vec<_> = overdue.iter().map(|one| one.code.name).collect();
    assert_eq!(codes, ["standing-date-not-judged", "standing-words-unverified"], "without a date nobody knows");
    let undated = decided("STN-1,periodic-inspection,2016-05-14,,,\n", "").1;
    assert!(undated.iter().all(|one| one.code.name != "standing-date-not-judged"), "there is no date to judge");
    let month = decided("STN-1,periodic-inspection,2026-11-30,2026-12-01,,\n", "2026-11").1;
    assert!(month.iter().all(|one| one.code.name == "standing-words-unverified"), "any day of the month may be meant");
}

#[test]
fn a_number_of_the_survey_is_taken() {
    for taken in ["CH3-JB1", "ch3-jb1/2", "Q7", "Q7@Room 1", "sheet-1"] {
        assert_eq!(found(&format!("{taken},surge-protection,,,,\n")), ["standing-number-taken"], "{taken}");
    }
    assert_eq!(found("CH3-JB1/3,surge-protection,,,,\n"), [""; 0], "there are two positions");
}

#[test]
fn a_firefighters_plate_is_large_and_red() {
    let found = |size: &str| found(&format!("STN-1,firefighters-switch,,,,{size}\n"));
    assert_eq!(found("A6"), ["standing-plate-too-small", "standing-not-red"], "148 mm is not 150 mm");
    for size in ["150x100", "100x150", "A5", ""] {
        assert_eq!(found(size), ["standing-not-red"], "{size}");
    }
}
