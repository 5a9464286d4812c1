//! What the notice of an isolator says: what it disconnects, and what may remain.

use std::sync::Arc;

use super::*;
use crate::length::{Length, Size};
use crate::network::OwnNotice;
use crate::rules::{DeviceDecision, Disconnects, Missing, SourceIsolation, SourcePoint};
use crate::survey::value::{NoticeSize, RecordLink};

fn disconnects(circuit: &str, enclosure: &str, serves: &str) -> Disconnects {
    Disconnects {
        circuit: circuit.to_owned(),
        is_part: false,
        enclosure: enclosure.to_owned(),
        serves: (!serves.is_empty()).then(|| serves.to_owned()),
        also: Vec::new(),
        first: Vec::new(),
        others_remain: false,
        parts_remain: false,
        alone: true,
    }
}

fn decision(disconnects: Vec<Disconnects>) -> DeviceDecision {
    DeviceDecision {
        device: "Q7".to_owned(),
        location: "Switchroom 1, board C".to_owned(),
        need: Outcome::Required,
        reasons: vec![reason(Rule::DeviceIdentity, Outcome::Required)],
        disconnects,
        back_feed: Vec::new(),
        source_point: None,
        not_under_load: false,
        before: Vec::new(),
        locking: None,
        reading_distance: None,
        own_notice: None,
    }
}

fn composed(decision: DeviceDecision, options: &NoticeOptions) -> (Vec<Notice>, Vec<crate::finding::Finding>) {
    let decisions = Decisions { devices: vec![decision], ..Decisions::default() };
    compose(&Survey::default(), &decisions, &Wording::english(), options)
}

fn notice(decision: DeviceDecision) -> Notice {
    let (notices, findings) = composed(decision, &NoticeOptions::default());
    assert_eq!(findings, []);
    notices.into_iter().next().unwrap()
}

#[test]
fn what_it_disconnects_row_by_row() {
    let mut fan = disconnects("DB-C/7", "CH3-JB2", "fan");
    fan.also = vec!["Q12".to_owned(), "QU2".to_owned()];
    fan.others_remain = true;
    let notice = notice(decision(vec![fan, disconnects("DB-C/8", "CH3-JB4", "defrost heater")]));
    assert_eq!(notice.subject, Subject::Device);
    assert_eq!(
        notice.lines(),
        [
            "Q7",
            "Disconnects these circuits",
            "DB-C/7 CH3-JB2 fan",
            "Also open Q12 and QU2",
            "Other supplies may remain",
            "DB-C/8 CH3-JB4 defrost heater",
            "Q7@Switchroom 1, board C",
        ]
    );
    assert_eq!(notice.rules, [Rule::DeviceIdentity]);
}

#[test]
fn live_parts_of_its_own_circuit_may_remain_whatever_other_supplies_do() {
    let parts = Disconnects { parts_remain: true, ..disconnects("DB-C/7", "CH3-JB2", "") };
    let both = Disconnects { others_remain: true, ..Disconnects { enclosure: "CH3-JB3".to_owned(), ..parts.clone() } };
    let lone = notice(decision(vec![both.clone()]));
    let remarks: Vec<Vec<Said>> =
        notice(decision(vec![parts, both])).points.into_iter().map(|point| point.remarks).collect();
    assert_eq!(remarks[0], [["Live parts may remain"]]);
    assert_eq!(remarks[1], [["Other supplies may remain"], ["Live parts may remain"]]);
    assert_eq!(lone.cautions, [["Other supplies may remain"]]);
    assert_eq!(lone.points[0].remarks, [["Live parts may remain"]]);
    let tag = lone.on_a_tag().unwrap().lines();
    assert_eq!(tag[3..5], ["Other supplies may remain", "Live parts may remain"]);
}

#[test]
fn one_circuit_is_one_circuit_in_however_many_enclosures() {
    let one = notice(decision(vec![disconnects("DB-C/7", "CH3-JB2", ""), disconnects("DB-C/7", "CH3-JB3", "")]));
    assert_eq!(one.statement, ["Disconnects this circuit"]);
}

#[test]
fn what_holds_for_every_row_is_said_once() {
    let remains = |enclosure: &str| Disconnects { others_remain: true, ..disconnects("DB-C/7", enclosure, "") };
    let two = notice(decision(vec![remains("CH3-JB2"), remains("CH3-JB3")]));
    assert_eq!(two.cautions, [["Other supplies may remain in each enclosure"]]);
    assert!(two.points.iter().all(|point| point.remarks.is_empty()));
    assert_eq!(notice(decision(vec![remains("CH3-JB2")])).cautions, [["Other supplies may remain"]]);
}

#[test]
fn what_must_be_known_before_it_is_opened() {
    let mut decision = decision(vec![disconnects("DB-C/7", "UPS-1", "")]);
    decision.not_under_load = true;
    decision.before = vec!["tell the shift lead".to_owned()];
    decision.locking = Some("not lockable".to_owned());
    decision.back_feed = vec!["UPS-1".to_owned()];
    decision.source_point = Some(SourcePoint {
        sources: vec!["mains".to_owned()],
        others: vec![isolated("mains", &[("Q8", "Switchroom 1, board C")]), isolated("ups", &[("QU", "Comms room")])],
        more_possible: false,
    });
    decision.reading_distance = Some(Length::mm(1_000.0));
    let notice = notice(decision);
    assert_eq!(
        notice.cautions,
        [
            ["First: tell the shift lead"],
            ["No means of locking off"],
            ["Do not open under load"],
            ["Back-feed from UPS-1 is possible: isolate UPS-1, then check for voltage"],
            ["Point of isolation: mains. Other points: mains at Q8 (Switchroom 1, board C); UPS at QU (Comms room)"],
        ]
    );
    assert_eq!((notice.reading_distance, notice.sign_distance), (Length::mm(1_000.0), Length::mm(1_000.0)));
    assert!(notice.closing.is_empty() && notice.figures.is_empty());
}

#[test]
fn a_point_of_isolation_of_every_source_names_no_other_and_says_where_more_are_possible() {
    let cautions = |more_possible: bool| {
        let mut decision = decision(vec![disconnects("DB-C/7", "LDB", "")]);
        let sources = vec!["mains".to_owned(), "generator".to_owned()];
        decision.source_point = Some(SourcePoint { sources, others: Vec::new(), more_possible });
        notice(decision).cautions.iter().flat_map(|said| said.iter().cloned()).collect::<Vec<String>>()
    };
    let point = "Q7: point of isolation of mains and generator";
    assert_eq!(cautions(false), [point]);
    assert_eq!(cautions(true), [point, "Further sources may supply this installation"]);
}

#[test]
fn the_mains_of_which_nothing_tells_where_they_come_in_are_a_source_and_no_point() {
    let nowhere = |source: &str| SourceIsolation { missing: Some(Missing::NotKnown), ..isolated(source, &[]) };
    let cautions = |others: Vec<SourceIsolation>| {
        let sources = vec!["battery".to_owned()];
        let source_point = Some(SourcePoint { sources, others, more_possible: false });
        let decision = DeviceDecision { source_point, ..decision(vec![disconnects("DB-C/7", "LDB", "")]) };
        notice(decision).cautions.iter().flat_map(|said| said.iter().cloned()).collect::<Vec<String>>()
    };
    let mains = "Other sources supply this installation: mains";
    assert_eq!(cautions(vec![nowhere("mains")]), ["Q7: point of isolation of battery", mains]);
    let solar = isolated("solar", &[("QS", "Roof")]);
    assert_eq!(
        cautions(vec![nowhere("mains"), solar, nowhere("generator")]),
        ["Point of isolation: battery. Other points: solar at QS (Roof); generator (where is not known)", mains]
    );
    // Where they are isolated, or that they cannot be, is said.
    let at = |devices: &[(&str, &str)], missing| vec![SourceIsolation { missing, ..isolated("mains", devices) }];
    let others = [at(&[("QM", "Intake")], Some(Missing::NotKnown)), at(&[], Some(Missing::CannotBeIsolated))];
    for others in others {
        let said = cautions(others);
        assert!(
            said[0].starts_with("Point of isolation: battery. Other points: mains ") && said.len() == 1,
            "{said:?}"
        );
    }
}

#[test]
fn its_number_is_what_identifies_it_and_its_code_leads_there() {
    let options = NoticeOptions { record_link_base: "https://records.example/".to_owned(), ..NoticeOptions::default() };
    let (notices, findings) = composed(decision(vec![disconnects("DB-C/7", "CH3-JB2", "")]), &options);
    assert_eq!(findings, []);
    assert_eq!(notices[0].number, "Q7@Switchroom 1, board C");
    assert_eq!(notices[0].code.as_deref(), Some("https://records.example/Q7%40Switchroom%201%2C%20board%20C"));
    assert_eq!(notices[0].area, "Switchroom 1, board C");
}

#[test]
fn an_obvious_purpose_needs_no_notice() {
    let lifted = DeviceDecision { need: Outcome::Lifted, ..decision(vec![disconnects("DB-C/7", "CH3-JB2", "")]) };
    assert_eq!(composed(lifted, &NoticeOptions::default()).0, []);
}

#[test]
fn the_supplies_file_says_how_large_it_is_and_where_its_code_leads() {
    let size = Size { width: Length::um(74_000), height: Length::um(52_000) };
    let environment = Environment { outdoor: true, ..Environment::default() };
    let own_notice = Some(Arc::new(OwnNotice {
        size: Some(NoticeSize(size)),
        reading_distance: Some(Length::um(1_500_000)),
        environment: Some(environment),
        surface: None,
        record_link: RecordLink::Given("SCS-D-007".to_owned()),
    }));
    let near = decision(vec![disconnects("DB-C/7", "CH3-JB2", "")]);
    let wished = DeviceDecision { own_notice, reading_distance: Some(Length::um(700_000)), ..near.clone() };
    let wished = notice(wished);
    assert_eq!((wished.size, wished.environment), (Some(size), environment));
    assert_eq!(wished.reading_distance, Length::um(1_500_000));
    assert_eq!(wished.code.as_deref(), Some("SCS-D-007"));
    assert_eq!(notice(near.clone()).code, None);
    let options = NoticeOptions { record_link_base: "https://records.example/".to_owned(), ..NoticeOptions::default() };
    let code = |record_link| {
        let own_notice = Some(Arc::new(OwnNotice { record_link, ..OwnNotice::default() }));
        composed(DeviceDecision { own_notice, ..near.clone() }, &options).0.remove(0).code
    };
    assert_eq!(code(RecordLink::Unset).as_deref(), Some("https://records.example/Q7%40Switchroom%201%2C%20board%20C"));
    assert_eq!(code(RecordLink::None), None);
}

#[test]
fn a_tag_says_in_few_words_that_something_may_remain() {
    let mut fan = disconnects("DB-C/7", "CH3-JB2", "fan");
    fan.also = vec!["Q12".to_owned(), "QU2".to_owned()];
    let mut decided = decision(vec![fan.clone(), disconnects("DB-C/8", "CH3-JB4", "defrost heater")]);
    decided.not_under_load = true;
    let options = NoticeOptions { revision: "B".into(), date: "2026-11-24".into(), ..NoticeOptions::default() };
    let (notices, _) = composed(decided, &options);
    assert_eq!(
        notices[0].on_a_tag().unwrap().lines(),
        [
            "Q7",
            "Disconnects these circuits",
            "DB-C/7 CH3-JB2 fan",
            "DB-C/8 CH3-JB4 defrost heater",
            "Do not open under load",
            "Other supplies may remain",
            "Switchroom 1, board C",
            "rev B · 2026-11-24",
        ]
    );
    let alone = notice(decision(vec![disconnects("DB-C/8", "CH3-JB4", "")]));
    assert_eq!(
        alone.on_a_tag().unwrap().lines(),
        ["Q7", "Disconnects this circuit", "DB-C/8 CH3-JB4", "Switchroom 1, board C"]
    );
    let parts = notice(decision(vec![Disconnects { parts_remain: true, ..disconnects("DB-C/8", "CH3-JB4", "") }]));
    assert_eq!(parts.on_a_tag().unwrap().lines()[3..], ["Live parts may remain", "Switchroom 1, board C"]);
}

#[test]
fn a_tag_says_that_parts_stay_live_beside_other_devices_to_open() {
    let also = vec!["Q12".to_owned()];
    let both = Disconnects { parts_remain: true, also, ..disconnects("DB-C/8", "CH3-JB4", "") };
    let lines = notice(decision(vec![both])).on_a_tag().unwrap().lines();
    assert_eq!(lines[3..5], ["Other supplies may remain", "Live parts may remain"]);
}

#[test]
fn a_circuit_that_needs_two_devices_has_no_tag_on_one_of_them() {
    // On the tag of Q7 it would read as if Q7 disconnected the circuit, and `Also open Q12` has no room there.
    let half = Disconnects { alone: false, also: vec!["Q12".to_owned()], ..disconnects("DB-C/7", "CH3-JB2", "") };
    let notice = notice(decision(vec![half, disconnects("DB-C/8", "CH3-JB4", "")]));
    assert_eq!(notice.tag, None);
    assert_eq!(notice.on_a_tag(), None);
}

#[test]
fn a_tag_is_read_by_the_hand_unless_somebody_says_from_where() {
    let usual = notice(decision(vec![disconnects("DB-C/7", "CH3-JB2", "")]));
    let mut told = decision(vec![disconnects("DB-C/7", "CH3-JB2", "")]);
    told.reading_distance = Some(Length::mm(1_000.0));
    let distance = |notice: Notice| notice.tag.unwrap().reading_distance;
    assert_eq!((distance(usual), distance(notice(told))), (Length::mm(400.0), Length::mm(1_000.0)));
}

/// Read on the way to it, before a hand is on the device.
#[test]
fn what_is_opened_before_it_stands_first_and_once() {
    let mut pump = disconnects("DB-C/7", "CH3-JB2", "");
    pump.first = vec!["QA".to_owned()];
    pump.also = vec!["QA".to_owned(), "QB".to_owned()];
    let told = notice(decision(vec![pump.clone()]));
    assert_eq!(told.points[0].remarks, [["First open QA"], ["Also open QB"]]);
    assert_eq!(before_opening(&decision(vec![pump.clone()]), &Wording::english()), ["First open QA"]);
    let tag = |disconnects: Vec<Disconnects>| notice(decision(disconnects)).on_a_tag().unwrap().lines();
    assert_eq!(tag(vec![pump.clone()])[3], "First open QA");
    let elsewhere = disconnects("DB-C/8", "CH3-JB4", "");
    assert_eq!(tag(vec![pump.clone(), elsewhere])[4], "Others may have to be opened first");
    pump.also = pump.first.clone();
    assert_eq!(notice(decision(vec![pump.clone()])).points[0].remarks, [["First open QA"]]);
    pump.first = ["QA", "QB", "QC", "QD", "QE"].map(str::to_owned).to_vec();
    let many = notice(decision(vec![pump]));
    assert_eq!(many.points[0].remarks[0], ["Others may have to be opened first"]);
}

#[test]
fn long_words_for_a_part_go_on_below_their_beginning() {
    let two = |part: &str| crate::notice::part_in_two(part);
    assert_eq!(two("crankcase heater"), ("crankcase heater".to_owned(), None));
    assert_eq!(
        two("crankcase heater, oil return valve and fan"),
        ("crankcase heater, oil …".to_owned(), Some("… return valve and fan".to_owned()))
    );
    let rest = two("crankcase heater, oil return valve, liquid line solenoid and fan controller").1;
    assert_eq!(rest.as_deref(), Some("… return valve, liquid …"));
    let long = "Sammelschienenheizungsverteiler";
    assert_eq!(two(long), (long.to_owned(), None), "one word stays whole");
    assert_eq!(two(&format!("{long} 2")).0, format!("{long} …"));
    let part = Disconnects { is_part: true, ..disconnects("incoming control cable from PLC-1", "CP-1", "") };
    let whole = Disconnects { is_part: false, ..part.clone() };
    let points = |one: Disconnects| notice(decision(vec![one])).points;
    assert_eq!(points(part)[0].remarks[0][0], "… from PLC-1");
    assert_eq!(points(whole)[0].designation, "incoming control cable from PLC-1", "a circuit's name is never split");
}
