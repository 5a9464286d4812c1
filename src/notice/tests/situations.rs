//! What the notice of an enclosure says in each situation.

use super::*;
use crate::length::{Length, Size};
use crate::network::{Carrier, LivePath, NodeId, ProofResult, WayId};
use crate::rules::Missing;
use crate::survey::value::{Environment, NoticeSize};

/// The junction box of three boards: sign, what to do, why, where, how high, and the small line.
#[test]
fn three_supplies_in_full() {
    let points = vec![
        point("Q7", "Switchroom 1, board C", &["fan"]),
        point("Q12", "Chamber 3 lobby, board D", &["defrost heater"]),
        point("QU2", "Comms room, UPS output", &["probe heater"]),
    ];
    let mut situation = Situation::new("CH3-JB2", points).states([three_supplies()]);
    situation.decision.voltages.between = vec![Voltage { bound: true, ..volts(460, Current::Ac) }];
    situation.enclosure.name = Some("Evaporator junction box".into());
    situation.options = NoticeOptions {
        site: "Saltmere cold store".into(),
        revision: "B".to_owned(),
        date: "2026-11".to_owned(),
        record_link_base: "https://records.example/".to_owned(),
        ..NoticeOptions::default()
    };
    assert_eq!(
        situation.lines(),
        [
            "Isolate at all 3 points",
            "More than one supply inside CH3-JB2",
            "Evaporator junction box",
            "1 Q7 Switchroom 1, board C fan",
            "2 Q12 Chamber 3 lobby, board D defrost heater",
            "3 QU2 Comms room, UPS output probe heater",
            "230\u{A0}V to earth",
            "up\u{A0}to\u{A0}460\u{A0}V between conductors",
            "Lock off each. Prove dead before work.",
            "CH3-JB2/1 · rev B · 2026-11 · Saltmere cold store",
            "Record",
        ]
    );
    assert_eq!(situation.notice().code.as_deref(), Some("https://records.example/CH3-JB2/1"));
}

#[test]
fn two_supplies_at_two_points() {
    let points = vec![point("Q7", "Switchroom 1, board C", &[]), point("Q12", "Chamber 3 lobby, board D", &[])];
    let mut situation = Situation::new("CH3-JB1", points).states([two_supplies()]);
    situation.decision.voltages.between = vec![volts(400, Current::Ac)];
    assert_eq!(
        situation.lines(),
        [
            "Isolate at both points",
            "Two supplies inside CH3-JB1",
            "1 Q7 Switchroom 1, board C",
            "2 Q12 Chamber 3 lobby, board D",
            "230\u{A0}V to earth",
            "400\u{A0}V between conductors",
            "Lock off each. Prove dead before work.",
            "CH3-JB1/1",
        ]
    );
}

/// Two boards are named, and a third row does not say where it comes from: "two" could be one too few.
#[test]
fn two_known_supplies_and_an_unknown_one_are_not_called_two() {
    let points = ["Q7", "Q12", "Q13"].map(|device| point(device, "Switchroom 1", &[])).to_vec();
    let mut situation = Situation::new("CH3-JB1", points).states([two_supplies()]);
    situation.enclosure.rows[2].fed_from = None;
    assert_eq!(situation.notice().statement, ["More than one supply inside CH3-JB1"]);
}

#[test]
fn supplies_that_are_not_proved_are_possible() {
    let points = vec![point("Q7", "Switchroom 1", &[])];
    let situation =
        Situation::new("CH3-JB9", points).states([two_supplies()]).because(Rule::SeveralSupplies, Outcome::Unknown);
    assert_eq!(situation.notice().statement, ["More than one supply may be inside CH3-JB9"]);
}

#[test]
fn one_supply_and_several_isolators() {
    let points = ["Q1", "Q2", "Q3", "Q4"].map(|device| point(device, "Plant room", &[])).to_vec();
    let situation = Situation::new("CH3-JB4", points).states([Statement::SeveralIsolators]);
    assert_eq!(
        situation.lines()[..3],
        ["Isolate at all 4 points", "No single device isolates CH3-JB4", "1 Q1 Plant room"]
    );
    let unknown = situation.because(Rule::SeveralIsolators, Outcome::Unknown);
    assert_eq!(unknown.notice().statement, ["One device may not be enough to isolate CH3-JB4"]);
}

/// A lone point has no number: there is nothing to count.
#[test]
fn an_unexpected_voltage_alone() {
    let mut situation = Situation::new("CH3-JB5", vec![point("Q7", "Switchroom 1", &["chiller"])])
        .states([Statement::UnexpectedVoltage]);
    situation.decision.voltages.to_earth = vec![volts(400, Current::Ac)];
    assert_eq!(
        situation.lines(),
        [
            "Isolate at Q7",
            "400\u{A0}V to earth inside CH3-JB5",
            "Q7 Switchroom 1 chiller",
            "400\u{A0}V to earth",
            "Lock off. Prove dead before work.",
            "CH3-JB5/1",
        ]
    );
}

/// `Lock off each` below points that have no means of it would ask for what cannot be done.
#[test]
fn what_cannot_be_locked_is_not_to_be_locked() {
    let unlockable = |name: &str| PointOfIsolation { locking: Some("none".into()), ..point(name, "Board C", &[]) };
    let closing = |points: Vec<PointOfIsolation>, statement: Statement| {
        Situation::new("CH3-JB5", points).states([statement]).notice().closing.main().to_owned()
    };
    let lone = vec![unlockable("F1")];
    let both = vec![unlockable("F1"), point("Q2", "Board C", &[])];
    assert_eq!(closing(lone.clone(), Statement::UnexpectedVoltage), "Secure off. Prove dead before work.");
    assert_eq!(closing(both.clone(), two_supplies()), "Secure each off. Prove dead before work.");
    let remains = || Statement::CannotBeIsolated { circuit: "C/7".to_owned() };
    assert_eq!(closing(lone, remains()), "Secure off. Live parts remain: prove dead where you work.");
    assert_eq!(closing(both, remains()), "Secure each off. Live parts remain: prove dead where you work.");
}

#[test]
fn above_low_voltage_the_high_voltage_rules_come_first() {
    let cautions = |voltage: Voltage| {
        let mut situation = Situation::new("RMU-1", vec![point("Q7", "Yard", &[])]).states([two_supplies()]);
        situation.decision.voltages.between = vec![voltage];
        situation.notice().cautions
    };
    let high = [["High voltage: isolate, prove dead and earth by the site's high-voltage rules only"]];
    assert_eq!(cautions(volts(11_000, Current::Ac)), high);
    assert_eq!(cautions(volts(1_001, Current::Ac)), high);
    assert_eq!(cautions(volts(1_501, Current::Dc)), high);
    assert_eq!(cautions(volts(1_000, Current::Ac)), Vec::<Said>::new());
    assert_eq!(cautions(volts(1_500, Current::Dc)), Vec::<Said>::new());
}

#[test]
fn a_c_and_d_c_are_told_apart() {
    let mut situation = Situation::new("INV-1", vec![point("Q7", "Roof", &[])]).states([Statement::UnexpectedVoltage]);
    let d_c = Voltage { value: Volts::milli(650_100), current: Current::Dc, bound: false };
    situation.decision.voltages.to_earth = vec![volts(277, Current::Ac), d_c];
    let notice = situation.notice();
    assert_eq!(notice.statement, ["277\u{A0}V and 650.1\u{A0}V\u{A0}d.c. to earth inside INV-1"]);
    let figures: Vec<&str> = notice.figures.iter().map(|figure| figure.figure.as_str()).collect();
    assert_eq!(figures, ["277\u{A0}V", "650.1\u{A0}V\u{A0}d.c."]);
}

/// The figures say it: a second sentence would only be read twice.
#[test]
fn an_unexpected_voltage_beside_several_supplies_is_left_to_the_figures() {
    let points = vec![point("Q7", "A", &[]), point("Q8", "B", &[])];
    let situation = Situation::new("CH3-JB6", points).states([Statement::UnexpectedVoltage, two_supplies()]);
    assert_eq!(situation.notice().statement, ["Two supplies inside CH3-JB6"]);
    assert_eq!(situation.notice().cautions, Vec::<Said>::new());
}

#[test]
fn a_circuit_that_cannot_be_isolated() {
    let points = vec![point("Q7", "Switchroom 1", &["fan"]), point("Q8", "Switchroom 1", &["heater"])];
    let cannot = |circuit: &str| Statement::CannotBeIsolated { circuit: circuit.to_owned() };
    let situation = Situation::new("CH3-JB7", points).states([cannot("DB-C/7"), two_supplies()]);
    assert_eq!(
        situation.lines(),
        [
            "Cannot be fully isolated",
            "DB-C/7 stays live inside CH3-JB7",
            "1 Q7 Switchroom 1 fan",
            "2 Q8 Switchroom 1 heater",
            "230\u{A0}V to earth",
            "More than one supply inside",
            "Lock off each. Live parts remain: prove dead where you work.",
            "CH3-JB7/1",
        ]
    );
    let two = situation.states([cannot("DB-C/9"), cannot("DB-C/9")]).notice();
    assert_eq!(two.statement, ["DB-C/7 and DB-C/9 stay live inside CH3-JB7"]);
}

#[test]
fn an_enclosure_that_cannot_be_isolated_at_all() {
    let mut situation =
        Situation::new("BAT-2", Vec::new()).states([Statement::CannotBeIsolated { circuit: "String 1".to_owned() }]);
    situation.enclosure.rows = vec![Row { isolation: Some(Isolation::Impossible), ..row("String 1", "BAT-2", "", "") }];
    assert_eq!(
        situation.lines(),
        [
            "Cannot be isolated",
            "String 1 stays live inside BAT-2",
            "230\u{A0}V to earth",
            "Live parts remain: prove dead where you work.",
            "BAT-2/1",
        ]
    );
}

/// Nobody knows what isolates one of the rows: to count the points would promise too much.
#[test]
fn isolation_that_is_not_known_is_said_to_be_so() {
    let points = vec![point("Q7", "Switchroom 1", &[]), point("Q8", "Switchroom 1", &[])];
    let mut situation = Situation::new("CH3-JB8", points).states([two_supplies()]);
    situation.enclosure.rows[0].isolation = Some(Isolation::Unknown);
    assert_eq!(situation.notice().headline, ["Isolation not fully known"]);
    assert_eq!(situation.notice().closing, ["Treat as live. Prove dead before work."]);
    situation.enclosure.rows[0].isolation = None;
    assert_eq!(situation.notice().headline, ["Isolation not fully known"]);
    situation.decision.points.clear();
    assert_eq!(situation.notice().headline, ["Isolation not known"]);
}

#[test]
fn live_at_any_time() {
    let live = |circuit: &str, solar| Statement::LiveAtAnyTime { circuit: circuit.to_owned(), solar };
    let solar =
        Situation::new("PV-JB1", vec![point("QPV", "Roof", &[])]).states([live("PV-1", true), live("PV-2", true)]);
    assert_eq!(solar.notice().statement, ["Solar d.c. inside PV-JB1: live at any time"]);
    assert_eq!(
        solar.notice().cautions,
        [["Solar d.c. PV-1 and PV-2 may be live at any time, whatever is switched off elsewhere"]]
    );
    let battery = Situation::new("UPS-1", vec![point("QB", "Comms room", &[])]).states([live("BAT-1", false)]);
    assert_eq!(battery.notice().statement, ["Battery inside UPS-1: live at any time"]);
    assert_eq!(battery.notice().cautions, [["Battery BAT-1 stays live, whatever is switched off elsewhere"]]);
}

#[test]
fn isolators_that_leave_parts_live_are_named() {
    let of = |devices: &[&str]| {
        let points = devices.iter().map(|device| point(device, "in PP-1", &[])).collect();
        Situation::new("PP-1", points).states([Statement::IsolatorsLeaveParts]).notice().statement
    };
    assert_eq!(of(&["Q7"]), ["Q7 alone does not isolate PP-1"]);
    assert_eq!(of(&["Q7", "Q8"]), ["Q7 and Q8 alone do not isolate PP-1"]);
    assert_eq!(of(&["Q7", "Q8", "Q9"]), ["Parts of PP-1 stay live after isolation"], "so many are not named");
    assert_eq!(of(&["pp-1"]), ["Parts of PP-1 stay live after isolation"], "one that is called like the enclosure");
    let upstream = Statement::LineSideLive {
        part: "incoming terminals".to_owned(),
        isolated_at: vec![("Q7".to_owned(), "Switchroom 1".to_owned())],
        missing: None,
    };
    let points = vec![point("Q7", "in PP-1", &[])];
    let both = Situation::new("PP-1", points).states([Statement::IsolatorsLeaveParts, upstream]).notice();
    assert_eq!(
        both.statement,
        ["Parts of PP-1 stay live after isolation"],
        "one that is called like what does isolate"
    );
}

#[test]
fn a_line_side_that_stays_live() {
    let isolated_at = |devices: &[(&str, &str)]| Statement::LineSideLive {
        missing: devices.is_empty().then_some(Missing::NotKnown),
        part: "incoming terminals of Q7".to_owned(),
        isolated_at: devices.iter().map(|(device, place)| ((*device).to_owned(), (*place).to_owned())).collect(),
    };
    let situation = |devices| Situation::new("PP-1", vec![point("Q7", "in PP-1", &[])]).states([isolated_at(devices)]);
    let one = situation(&[("Q1", "Switchroom 1")]).notice();
    assert_eq!(one.headline, ["Isolate at both points"], "what stays live is isolated at a point like the other");
    assert_eq!(situation(&[]).notice().headline, ["Isolation not fully known"]);
    assert_eq!(one.statement, ["Parts of PP-1 stay live after isolation"]);
    assert_eq!(one.cautions, [["Stays live after isolation: incoming terminals of Q7. Isolate at Q1 (Switchroom 1)"]]);
    let two = situation(&[("Q1", "Switchroom 1, board C"), ("Q2", "")]).notice();
    assert_eq!(
        two.cautions,
        [["Stays live after isolation: incoming terminals of Q7. Isolate at Q1 (Switchroom 1, board C) and Q2"]]
    );
    assert_eq!(
        situation(&[]).notice().cautions,
        [["Stays live after isolation: incoming terminals of Q7. Where that is isolated is not known"]]
    );
    assert_eq!(one.closing, ["Lock off each. Prove dead before work."]);
    assert_eq!(situation(&[]).notice().closing, ["Lock off. Live parts remain: prove dead where you work."]);
    let nothing = Statement::LineSideLive {
        part: "battery side of F1".to_owned(),
        isolated_at: Vec::new(),
        missing: Some(Missing::CannotBeIsolated),
    };
    let notice = Situation::new("PP-1", vec![point("F1", "in PP-1", &[])]).states([nothing]).notice();
    assert_eq!(notice.cautions, [["Stays live after isolation: battery side of F1. Nothing isolates that"]]);
    assert_eq!(notice.closing, ["Lock off. Live parts remain: prove dead where you work."]);
}

#[test]
fn back_feed() {
    let situation = Situation::new("QU1", vec![point("QU1", "Switchroom 1", &[])])
        .states([Statement::BackFeed { ups: "UPS-1".to_owned() }]);
    assert_eq!(situation.notice().statement, ["Back-feed is possible at QU1"]);
    assert_eq!(
        situation.notice().cautions,
        [["Back-feed from UPS-1 is possible: isolate UPS-1, then check for voltage"]]
    );
}

#[test]
fn something_that_starts_by_itself() {
    let starts = Statement::StartsByItself { source: "generator".to_owned() };
    let alone = Situation::new("GEN-1", vec![point("QG", "Generator house", &[])]).states([starts.clone()]);
    assert_eq!(alone.notice().statement, ["GEN-1: generator may start without warning"]);
    assert_eq!(alone.notice().cautions, [["Inhibit starting before isolating"]]);
    let beside = alone.states([two_supplies()]);
    assert_eq!(beside.notice().cautions, [["May start without warning: generator. Inhibit starting first"]]);
}

#[test]
fn stored_charge_with_its_waiting_time_rounded_up() {
    let caution = |volts: Option<u32>, seconds: Option<u32>| {
        let charge = Statement::StoredCharge { volts: volts.map(Volts::whole), seconds };
        let notice = Situation::new("VSD-1", vec![point("Q7", "Plant room", &[])]).states([charge]).notice();
        assert_eq!(notice.statement, ["Stored charge inside VSD-1"]);
        notice.cautions[0][0].clone()
    };
    let wait = |seconds| caution(Some(565), Some(seconds));
    assert_eq!(wait(300), "Stored charge, 565\u{A0}V\u{A0}d.c.: wait 5 minutes after isolating");
    assert_eq!(wait(301), "Stored charge, 565\u{A0}V\u{A0}d.c.: wait 6 minutes after isolating");
    assert_eq!(wait(60), "Stored charge, 565\u{A0}V\u{A0}d.c.: wait 1 minute after isolating");
    assert_eq!(wait(61), "Stored charge, 565\u{A0}V\u{A0}d.c.: wait 2 minutes after isolating");
    assert_eq!(wait(59), "Stored charge, 565\u{A0}V\u{A0}d.c.: wait 59 seconds after isolating");
    assert_eq!(wait(1), "Stored charge, 565\u{A0}V\u{A0}d.c.: wait 1 second after isolating");
    assert_eq!(wait(0), "Stored charge, 565\u{A0}V\u{A0}d.c.: wait 1 second after isolating");
    assert_eq!(caution(None, Some(300)), "Stored charge: wait 5 minutes after isolating");
    assert_eq!(
        caution(Some(565), None),
        "Stored charge, 565\u{A0}V\u{A0}d.c.: waiting time not known, prove discharged"
    );
    assert_eq!(caution(None, None), "Stored charge may remain: waiting time not known, prove discharged");
}

#[test]
fn several_charges_are_one_sentence_that_understates_none() {
    let charge = |volts: Option<u32>, seconds| Statement::StoredCharge { volts: volts.map(Volts::whole), seconds };
    let cautions = |charges: Vec<Statement>| {
        Situation::new("VSD-1", vec![point("Q7", "Plant room", &[])]).states(charges).notice().cautions
    };
    assert_eq!(
        cautions(vec![charge(Some(565), Some(60)), charge(Some(325), Some(600))]),
        [["Stored charge, 565\u{A0}V\u{A0}d.c.: wait 10 minutes after isolating"]]
    );
    assert_eq!(
        cautions(vec![charge(Some(565), Some(60)), charge(None, None)]),
        [["Stored charge may remain: waiting time not known, prove discharged"]]
    );
}

#[test]
fn what_belongs_to_a_point_stands_with_it() {
    let mut first = point("Q7", "Switchroom 1", &["lift"]);
    first.before = Some("tell the lift users".to_owned());
    first.not_under_load = true;
    first.locking = Some("none".to_owned());
    let mut second = point("Q8", "Switchroom 2", &["lift light", "lift alarm"]);
    second.locking = Some("padlock".to_owned());
    let situation = Situation::new("LIFT-1", vec![first, second]).states([two_supplies()]);
    assert_eq!(
        situation.lines()[2..7],
        [
            "1 Q7 Switchroom 1 lift",
            "First: tell the lift users",
            "Do not open under load",
            "No means of locking off",
            "2 Q8 Switchroom 2 lift light, lift alarm",
        ]
    );
}

#[test]
fn an_order_that_matters_is_said() {
    let mut points = vec![point("Q7", "A", &[]), point("Q8", "B", &[])];
    points[0].order = Some(1);
    points[1].order = Some(2);
    let situation = Situation::new("CH3-JB2", points).states([two_supplies()]);
    assert_eq!(situation.notice().cautions, [["Isolate in the order shown"]]);
}

#[test]
fn locations_are_left_out_only_by_declaration() {
    let points = vec![point("Q7", "Switchroom 1", &[]), point("Q8", "Switchroom 2", &[])];
    let mut situation = Situation::new("CH3-JB2", points).states([two_supplies()]);
    assert_eq!(situation.notice().points[1].place, "Switchroom 2");
    situation.decision.locations_left_out = true;
    assert_eq!(situation.lines()[2..4], ["1 Q7", "2 Q8"]);
}

/// A need without a statement: the notice says what it can, and no more.
#[test]
fn without_a_statement_nothing_is_made_up() {
    let mut situation = Situation::new("CH3-JB3", vec![point("Q7", "Switchroom 1", &[])]);
    assert_eq!(situation.notice().statement, ["Live parts inside CH3-JB3"]);
    situation.decision.need = Outcome::Unknown;
    assert_eq!(situation.notice().statement, ["What feeds CH3-JB3 is not fully known"]);
}

#[test]
fn only_what_is_needed_or_unknown_is_composed() {
    let mut situation = Situation::new("CH3-JB3", vec![point("Q7", "Switchroom 1", &[])]);
    for (need, notices) in [
        (Outcome::NotNeeded, 0),
        (Outcome::Lifted, 0),
        (Outcome::Advised, 1),
        (Outcome::Unknown, 1),
        (Outcome::Required, 1),
    ] {
        situation.decision.need = need;
        assert_eq!(situation.composed().0.len(), notices, "{need:?}");
    }
}

#[test]
fn every_position_has_its_own_notice_and_number() {
    let mut situation = Situation::new("CH3-JB2", vec![point("Q7", "Switchroom 1", &[])]).states([two_supplies()]);
    situation.enclosure.particulars.get_or_insert_default().positions =
        vec!["left of the door".to_owned(), "rear  panel".to_owned()];
    let (notices, _) = situation.composed();
    let told: Vec<_> = notices.iter().map(|notice| (notice.number.as_str(), notice.position.as_str())).collect();
    assert_eq!(told, [("CH3-JB2/1", "left of the door"), ("CH3-JB2/2", "rear panel")]);
    assert_ne!(notices[0].fingerprint(), notices[1].fingerprint());
}

#[test]
fn distances_and_surroundings_are_the_surveys_or_the_jobs() {
    let mut situation = Situation::new("CH3-JB2", vec![point("Q7", "Switchroom 1", &[])]).states([two_supplies()]);
    let notice = situation.notice();
    assert_eq!((notice.reading_distance, notice.sign_distance), (Length::mm(700.0), Length::mm(700.0)));
    situation.options.environment = Environment { indoor: true, ..Environment::default() };
    situation.enclosure.particulars.get_or_insert_default().reading_distance = Some(Length::mm(1_500.0));
    let notice = situation.notice();
    assert_eq!((notice.reading_distance, notice.sign_distance), (Length::mm(1_500.0), Length::mm(1_500.0)));
    assert!(notice.environment.indoor);
    situation.enclosure.particulars.get_or_insert_default().sign_distance = Some(Length::mm(3_000.0));
    situation.enclosure.particulars.get_or_insert_default().environment =
        Some(Environment { outdoor: true, ..Environment::default() });
    situation.enclosure.particulars.get_or_insert_default().size =
        Some(NoticeSize(Size::new(Length::mm(105.0), Length::mm(74.0))));
    let notice = situation.notice();
    assert_eq!((notice.reading_distance, notice.sign_distance), (Length::mm(1_500.0), Length::mm(3_000.0)));
    assert!(notice.environment.outdoor && !notice.environment.indoor);
    assert_eq!(notice.size, Some(Size::new(Length::mm(105.0), Length::mm(74.0))));
}

#[test]
fn the_rules_answered_are_those_that_ask_for_something() {
    let situation = Situation::new("CH3-JB2", vec![point("Q7", "Switchroom 1", &[])])
        .because(Rule::SeveralIsolators, Outcome::Lifted)
        .because(Rule::SeveralSupplies, Outcome::Required)
        .because(Rule::UnexpectedVoltage, Outcome::NotNeeded)
        .because(Rule::StoredCharge, Outcome::Unknown);
    assert_eq!(situation.notice().rules, [Rule::SeveralSupplies, Rule::StoredCharge]);
}

#[test]
fn two_languages_stand_side_by_side() {
    let mut first = point("Q7", "Switchroom 1, board C", &["fan"]);
    first.before = Some("tell the shift lead".to_owned());
    let points = vec![first, point("Q12", "Chamber 3 lobby", &[])];
    let starts = Statement::StartsByItself { source: "generator".to_owned() };
    let charge = Statement::StoredCharge { volts: Some(Volts::whole(565)), seconds: Some(60) };
    let situation = Situation::new("CH3-JB1", points).states([two_supplies(), starts, charge]);
    let (notices, findings) = situation.composed_in(&english_and_german());
    assert_eq!(findings, []);
    assert_eq!(
        notices[0].lines(),
        [
            "Isolate at both points",
            "An beiden Trennstellen freischalten",
            "Two supplies inside CH3-JB1",
            "Zwei Einspeisungen in CH3-JB1",
            "1 Q7 Switchroom 1, board C fan",
            "First: tell the shift lead",
            "Zuerst: tell the shift lead",
            "2 Q12 Chamber 3 lobby",
            "230\u{A0}V to earth",
            "230\u{A0}V gegen Erde",
            "May start without warning: generator. Inhibit starting first",
            "Kann ohne Vorwarnung anlaufen: Generator. Zuerst das Anlaufen verhindern",
            "Stored charge, 565\u{A0}V\u{A0}d.c.: wait 1 minute after isolating",
            "Restladung, 565\u{A0}V\u{A0}DC: nach dem Freischalten 1 Minute warten",
            "Lock off each. Prove dead before work.",
            "Alle gegen Wiedereinschalten sichern. Vor der Arbeit Spannungsfreiheit feststellen.",
            "CH3-JB1/1",
        ]
    );
}

#[test]
fn an_enclosure_that_a_path_still_reaches_has_no_notice() {
    let mut situation = Situation::new("CH3-JB1", vec![point("Q7", "Switchroom 1, board C", &[])]);
    situation.decision.proof.result = ProofResult::Live;
    assert_eq!(situation.composed().0.len(), 1, "a part that cannot be isolated is said, not hidden");
    let nodes = vec![NodeId::new(0)];
    situation.decision.proof.paths = vec![LivePath { way: WayId::new(0), carrier: Carrier::Lines, nodes }];
    assert_eq!(situation.composed(), (Vec::new(), Vec::new()));
}
