//! What must hold for every survey: more supplies never mean fewer notices, names and order do not matter.

use proptest::prelude::*;

use super::testing::decided_text;
use super::{Decisions, Explanation, Outcome, Reason, RuleOptions, explain};
use crate::network::{EnclosureId, Network, NetworkOptions, Proof};
use crate::survey::{ReadOptions, read};

const HEADER: &str = "enclosure,role,circuit,serves,fed_from,source,nominal,conductors,earthing,voltage_to_earth,\
    expected,isolator,isolator_location,poles,locking,interlock,interlock_kind,live_after,stored_v,discharge_s,basis";

fn cell(choices: &'static [&'static str]) -> impl Strategy<Value = &'static str> {
    proptest::sample::select(choices)
}

prop_compose! {
    /// The cells of a row after the circuit. Names are plain, so that none of them tells what a thing is.
    fn cells()(
        serves in cell(&["", "fan drive", "lights"]),
        fed_from in cell(&["", "DB-1", "DB-2"]),
        source in cell(&["", "mains", "mains", "generator", "solar"]),
        system in cell(&["230,L1 N,TN-S,230", "230,L2 N,TN-S,230", "230/400,L1 L2 L3,IT,400", ",,,230", "400/690,,TN-S,400"]),
        expected in cell(&["", "yes", "no"]),
        isolator in cell(&["Q1,Room 1", "Q1,Room 1", "Q2,Room 1", "Q2,Room 2", "Q1 + Q2,Room 1 + Room 2", "none,"]),
        poles in cell(&["", "1", "1+N", "3+N"]),
        interlock in cell(&[",", "IL-1,coupled", "IL-1,trapped-key", "IL-2,"]),
        live_after in cell(&["", "", "terminals"]),
        charge in cell(&[",", "565,300", "565,4", "20,0"]),
        basis in cell(&["", "proved", "assumed"]),
    ) -> String {
        format!("{serves},{fed_from},{source},{system},{expected},{isolator},{poles},padlock,{interlock},{live_after},{charge},{basis}")
    }
}

fn survey(rows: &[String], role: &str) -> String {
    let rows = rows.iter().enumerate().map(|(index, cells)| {
        let role = if index == 0 { role } else { "" };
        format!("E1,{role},C/{index},{cells}")
    });
    format!("{HEADER}\n{}\n", rows.collect::<Vec<_>>().join("\n"))
}

fn decide(text: &str) -> Decisions {
    decided_text(text, &RuleOptions::default()).0
}

fn explanation(text: &str) -> Explanation {
    let survey = read(text.as_bytes(), &ReadOptions::new("test.csv")).survey;
    let network = Network::join(&survey, None, &NetworkOptions::default()).0;
    explain(&survey, &network, &RuleOptions::default(), 0)
}

fn outcomes(decisions: &Decisions) -> Vec<Outcome> {
    decisions.enclosures.iter().flat_map(|decision| &decision.reasons).map(|reason| reason.outcome).collect()
}

proptest! {
    #[test]
    fn a_further_supply_never_removes_a_need(
        rows in proptest::collection::vec(cells(), 1..5),
        role in cell(&["", "board"]),
        source in cell(&["", "mains", "generator"]),
    ) {
        let before = decide(&survey(&rows, role));
        let mut more = rows;
        more.push(format!(",DB-9,{source},230,L1 N,TN-S,230,,Q9,Room 9,1+N,padlock,,,,,,proved"));
        let after = decide(&survey(&more, role));
        for (before, after) in outcomes(&before).into_iter().zip(outcomes(&after)) {
            prop_assert!(before <= Outcome::Lifted || after > Outcome::Lifted, "{before:?} became {after:?}");
        }
        for voltage in &before.enclosures[0].voltages.to_earth {
            let of_kind = after.enclosures[0].voltages.to_earth.iter().find(|other| other.current == voltage.current);
            prop_assert!(of_kind.is_some_and(|other| other.value >= voltage.value));
        }
        prop_assert!(after.enclosures[0].need >= Outcome::Required, "two supplies must ask for a notice");
    }

    #[test]
    fn a_notice_lists_every_isolator_that_the_rows_name(rows in proptest::collection::vec(cells(), 1..6)) {
        let decisions = decide(&survey(&rows, ""));
        let points = &decisions.enclosures[0].points;
        for (name, place) in [("Q1", "Room 1"), ("Q2", "Room 1"), ("Q2", "Room 2")] {
            let single = format!(",{name},{place},");
            let is_named = rows.iter().any(|row| {
                row.contains(&single) || row.contains("Q1 + Q2") && (name, place) != ("Q2", "Room 1")
            });
            let is_listed = points.iter().any(|point| point.device == name && point.location == place);
            prop_assert_eq!(is_named, is_listed, "{} in {}", name, place);
        }
    }

    #[test]
    fn to_explain_a_decision_changes_nothing_of_it(rows in proptest::collection::vec(cells(), 1..6)) {
        let text = survey(&rows, "board");
        let explained = explanation(&text);
        let reasons: Vec<Reason> = explained.reasons.iter().map(|one| one.reason).collect();
        prop_assert_eq!(&reasons, &decide(&text).enclosures[0].reasons);
        prop_assert!(explained.reasons.iter().all(|one| !one.because.is_empty()), "{explained:?}");
        prop_assert!(!explained.voltages.is_empty());
    }

    #[test]
    fn without_a_supplies_file_a_proof_has_gaps_and_nothing_else(rows in proptest::collection::vec(cells(), 1..6)) {
        let survey = read(survey(&rows, "").as_bytes(), &ReadOptions::new("test.csv")).survey;
        let network = Network::join(&survey, None, &NetworkOptions::default()).0;
        let whole = network.proof(EnclosureId::new(0));
        prop_assert!(whole.gaps.iter().all(|gap| gap.back_feed().is_none()), "{whole:?}");
        prop_assert_eq!(Proof { gaps: Vec::new(), ..whole }, Proof::unknown());
    }

    #[test]
    fn names_change_nothing_but_names(rows in proptest::collection::vec(cells(), 1..5)) {
        let renamed = |text: &str| text.replace('Q', "K").replace("Room", "Hall").replace("DB-", "SW-");
        let text = survey(&rows, "");
        let before = renamed(&format!("{:?}", decide(&text)));
        prop_assert_eq!(before, format!("{:?}", decide(&renamed(&text))));
        let before = renamed(&format!("{:?}", explanation(&text)));
        prop_assert_eq!(before, format!("{:?}", explanation(&renamed(&text))));
    }

    #[test]
    fn the_order_of_rows_does_not_matter(
        (rows, shuffled) in proptest::collection::vec(cells(), 1..5)
            .prop_flat_map(|rows| (Just(rows.clone()), Just(rows).prop_shuffle())),
    ) {
        let (one, other) = (decide(&survey(&rows, "")), decide(&survey(&shuffled, "")));
        prop_assert_eq!(outcomes(&one), outcomes(&other));
        prop_assert_eq!(&one.enclosures[0].voltages.to_earth, &other.enclosures[0].voltages.to_earth);
        prop_assert_eq!(&one.enclosures[0].voltages.between, &other.enclosures[0].voltages.between);
        prop_assert_eq!(one.devices.len(), other.devices.len());
    }
}
