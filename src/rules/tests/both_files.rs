//! What the rules make of a supplies file beside the survey: its codes, isolators' notices, the index.

use proptest::prelude::*;

use crate::finding::Finding;
use crate::network::ProofResult;
use crate::rules::testing::{PLAIN, codes, decided, decided_by_both, indexed_by_both, outcome_in};
use crate::rules::{Decisions, DeviceDecision, Disconnects, Outcome, Rule};

const NETWORK: &str = "Network,source,,,,TN-S";
const BOARD: &str = "DB-C,busbar,Network,,,";
const Q1: &str = "Q1,breaker,DB-C,Board C,1,";
const Q2: &str = "Q2,breaker,DB-C,Board C,1,";

fn found(rows: &[&str], lines: &[&str]) -> Vec<Finding> {
    decided_by_both("", rows, "", lines).1
}

fn second() -> String {
    PLAIN.replace("C/1", "C/2").replace("Q1", "Q2")
}

#[test]
fn a_plain_network_is_faultless() {
    let (decisions, findings) = decided_by_both("", &[PLAIN], "", &[NETWORK, BOARD, Q1]);
    assert_eq!(codes(&findings), [""; 0]);
    assert_eq!(decisions.enclosures[0].proof.result, ProofResult::NoPathFound);
    assert_eq!(decisions.enclosures[0].need, Outcome::NotNeeded);
}

#[test]
fn a_path_is_one_error_however_many_circuits_it_reaches() {
    let switch = found(&[PLAIN], &[NETWORK, BOARD, "Q1,switch,DB-C,Board C,1,"]);
    assert_eq!(codes(&switch), ["isolator-not-suitable"], "one cause is one error");

    let board =
        |circuit: &str| format!("DB-C,{circuit},Network,mains,230/400,L1 L2 L3 N,TN-S,230,QM,Intake,3+N,padlock");
    let rows: Vec<String> = ["M/1", "M/2", "M/3", "M/4", "M/5", "M/6"].map(board).into();
    let rows: Vec<&str> = rows.iter().map(String::as_str).collect();
    let solar = ["QPV,breaker,PV,Roof,3+N,", "PV,source,,,,TN-S"];
    let lines = [NETWORK, "QM,breaker,Network,Intake,3+N,", "DB-C,busbar,QM + QPV,,,", solar[0], solar[1]];
    let live: Vec<_> =
        found(&rows, &lines).into_iter().filter(|it| it.code.name == "live-with-everything-open").collect();
    let [finding] = live.as_slice() else { panic!("{live:?}") };
    assert_eq!(
        finding.message,
        "with every isolator of `DB-C` open a live path remains: PV > QPV > DB-C > QM > live parts of circuit M/1; \
         circuits `M/2`, `M/3`, `M/4` and 2 more too"
    );
    assert_eq!(finding.enclosure.as_deref(), Some("DB-C"));
    assert_eq!(finding.place.as_ref().unwrap().column_name, "isolator");
    assert!(finding.help.as_ref().unwrap().contains("`QPV (Roof)` must be opened too"), "{finding:?}");
}

#[test]
fn a_row_on_the_wrong_side_of_its_isolator_is_told_what_to_write() {
    let inverter = |from: &str| format!("INV,PV/1,{from},230/400,L1 L2 L3 N,TN-S,230,QPV,Roof,3+N,padlock");
    let lines = [NETWORK, "DB-C,busbar,QM + QPV,,,", "QM,breaker,Network,Intake,3+N,", "QPV,breaker,PV,Roof,3+N,"];
    let lines = [lines.as_slice(), &["PV,source,,,,TN-S"]].concat();
    let live = |row: &str| {
        let live = found(&[row], &lines).into_iter().find(|it| it.code.name == "live-with-everything-open").unwrap();
        (live.message, live.help.unwrap())
    };
    let (message, help) = live(&inverter("PV,solar"));
    assert!(message.contains(": Network > QM > DB-C > QPV > live parts"), "{message}");
    assert!(
        help.contains("if `QPV (Roof)` keeps it out, write `DB-C` in `fed_from` and `Network` in `source`"),
        "{help}"
    );
    let (message, help) = live(&inverter("DB-C,Network"));
    assert!(message.contains(": PV > QPV > live parts"), "what remains is the inverter's own source: {message}");
    assert!(!help.contains("fed_from"), "{help}");
}

#[test]
fn what_the_survey_reports_already_is_not_said_twice() {
    let lines = ["Gate,source,,,,TT", "DB-C,busbar,Gate,,,", Q1];
    assert_eq!(codes(&found(&[&PLAIN.replace("TN-S", "TT")], &lines)), ["neutral-stays-connected"]);
    let two_lines = PLAIN.replace("230,L1 N", "230/400,L1 L2 N");
    assert_eq!(codes(&found(&[&two_lines], &[NETWORK, BOARD, Q1])), ["lines-stay-connected"]);
    let (_, findings) = decided_by_both(
        "device_kind",
        &[&format!("{PLAIN},network-cutout")],
        "",
        &[NETWORK, BOARD, "Q1,network-cutout,DB-C,Board C,1,"],
    );
    assert_eq!(codes(&findings), ["network-cutout-as-isolator"]);
}

#[test]
fn devices_that_isolate_nothing() {
    let named = |kind: &str| codes(&found(&[PLAIN], &[NETWORK, BOARD, &format!("Q1,{kind},DB-C,Board C,1,")]));
    for kind in ["switch", "changeover", "transformer", "converter", "busbar"] {
        assert_eq!(named(kind)[0], "isolator-not-suitable", "{kind}");
    }
    assert_eq!(named("network-cutout"), ["network-cutout-as-isolator"]);
    assert_eq!(named("isolator"), [""; 0]);
    let upstream = format!("{PLAIN},terminals,K0,Intake");
    let columns = "live_after,upstream_isolator,upstream_location";
    let lines = [NETWORK, "K0,switch,Network,Intake,1,", "DB-C,busbar,K0,,,", Q1];
    let (_, findings) = decided_by_both(columns, &[&upstream], "", &lines);
    let finding = findings.iter().find(|it| it.code.name == "isolator-not-suitable").unwrap();
    assert_eq!(finding.place.as_ref().unwrap().column_name, "upstream_isolator");
}

#[test]
fn a_ups_that_may_feed_back() {
    let lines = [NETWORK, BOARD, "Q1,breaker,DB-C,Board C,1+N,", "UPS-1,ups,Q1,Comms room,,TN-S"];
    let (decisions, findings) = decided_by_both("", &[PLAIN], "", &lines);
    assert!(codes(&findings).contains(&"back-feed-not-listed"), "{findings:?}");
    assert_eq!(outcome_in(&decisions, Rule::BackFeed), Outcome::Required);
    assert!(outcome_in(&decisions, Rule::SeveralIsolators) >= Outcome::Unknown);
    assert_eq!(decisions.devices[0].back_feed, ["UPS-1"]);
    let named = format!("{PLAIN},UPS-1");
    let (decisions, findings) = decided_by_both("serves", &[&named], "", &lines);
    assert!(!codes(&findings).contains(&"back-feed-not-listed"), "{findings:?}");
    assert_eq!(outcome_in(&decisions, Rule::BackFeed), Outcome::Required);
}

#[test]
fn an_isolator_at_the_ups_is_not_away_from_it() {
    let at = |place: &str| {
        let lines = [NETWORK, BOARD, &format!("Q1,breaker,DB-C,{place},1+N,"), "UPS-1,ups,Q1,Comms room,,TN-S"];
        let row = PLAIN.replace("Board C", place);
        decided_by_both("", &[&row], "", &lines).0.devices[0].back_feed.clone()
    };
    assert_eq!(at("Board C"), ["UPS-1"]);
    assert_eq!(at("Comms room"), [""; 0]);
    assert_eq!(at("inside UPS-1"), [""; 0]);
}

#[test]
fn what_is_not_described_is_said_once_for_all_that_it_touches() {
    let rows: Vec<String> = (1..=5).map(|number| PLAIN.replace("E1", &format!("E{number}"))).collect();
    let rows: Vec<&str> = rows.iter().map(String::as_str).collect();
    let findings = found(&rows, &[NETWORK, BOARD]);
    assert_eq!(codes(&findings), ["proof-not-possible"]);
    assert!(findings[0].message.contains("`E1`, `E2`, `E3` and 2 more with every isolator open"), "{findings:?}");
    assert_eq!(findings[0].enclosure, None);
    let one = found(&rows[..1], &[NETWORK, BOARD]);
    assert_eq!(one[0].enclosure.as_deref(), Some("E1"));
    let faulty = found(&[&PLAIN.replace("Q1,Board C", "?,")], &[NETWORK, BOARD]);
    assert_eq!(codes(&faulty), ["isolator-not-known"], "an enclosure with an error needs no warning of its proof");
}

#[test]
fn advice_never_replaces_what_is_declared() {
    let row = PLAIN.replace("Q1,Board C", "Q1 + Q2,Board C + Board C");
    let lines = [NETWORK, BOARD, Q1, "Q2,breaker,Q1,Board C,1,"];
    let (decisions, findings) = decided_by_both("", &[&row], "", &lines);
    assert_eq!(codes(&findings), ["surplus-isolator", "fewer-devices-would-do"]);
    assert_eq!(decisions.enclosures[0].points.len(), 2);
    assert_eq!(outcome_in(&decisions, Rule::SeveralIsolators), Outcome::Required);
    assert_eq!(decisions.enclosures[0].single_device, None);
}

#[test]
fn a_far_device_upstream_is_advice_only() {
    let lines = [NETWORK, "Q0,breaker,Network,Intake,3+N,", "DB-C,busbar,Q0,,,", Q1, Q2];
    let (decisions, findings) = decided_by_both("", &[PLAIN, &second()], "", &lines);
    assert_eq!(codes(&findings), ["fewer-devices-would-do"]);
    assert!(findings[0].message.contains("`Q0 (Intake)`"), "{findings:?}");
    assert_eq!(outcome_in(&decisions, Rule::SeveralIsolators), Outcome::Required);
}

#[test]
fn a_source_that_contradicts_the_supplies_file() {
    let lines = ["GEN,source,,Yard,,TN-S", "DB-C,busbar,GEN,,,", "Q1,breaker,DB-C,Board C,1+N,"];
    let row = PLAIN.replace(",1,padlock", ",1+N,padlock");
    let findings = found(&[&row], &lines);
    assert_eq!(codes(&findings), ["roles-not-given", "source-contradiction", "source-not-named"]);
    let generator = PLAIN.replace("mains", "generator").replace(",1,padlock", ",1+N,padlock");
    assert_eq!(codes(&found(&[&generator], &lines)), [""; 0]);
    // A name that does not tell what its source is: the word of the survey is not the one to give up.
    let untold = lines.map(|line| line.replace("GEN", "G1"));
    let findings = found(&[&generator], &untold.each_ref().map(String::as_str));
    let contradiction = findings.iter().find(|finding| finding.code.name == "source-contradiction").unwrap();
    assert!(contradiction.help.as_deref().unwrap().contains("such as `G1 generator`"), "{contradiction:?}");
    let told = lines.map(|line| line.replace("GEN", "G1 generator"));
    assert_eq!(codes(&found(&[&generator], &told.each_ref().map(String::as_str))), [""; 0]);
}

#[test]
fn a_generator_that_feeds_the_enclosure_may_start() {
    let started_by = |source: &str, word: &str, kind: &str| {
        let changeover = format!("CO1,{kind},Network + GEN,Lobby,3+N,,,yes");
        let generator = format!("GEN,source,,Yard,,TN-S,{word},");
        let lines = [
            "Network,source,,,,TN-S,,",
            &generator,
            &changeover,
            "DB-C,busbar,CO1,,,,,",
            "Q1,breaker,DB-C,Board C,1,,,",
        ];
        let row = PLAIN.replace("mains", source);
        let (decisions, _) = decided_by_both("", &[&row], "starts_by_itself,off_position", &lines);
        outcome_in(&decisions, Rule::StartsByItself)
    };
    let started = |word: &str, kind: &str| started_by("", word, kind);
    assert_eq!(started("", "changeover"), Outcome::Required);
    assert_eq!(started("yes", "changeover"), Outcome::Required);
    assert_eq!(started("no", "changeover"), Outcome::Unknown);
    assert_eq!(started("yes", "busbar"), Outcome::Required);
    assert_eq!(started_by("GEN", "yes", "changeover"), Outcome::Required);
    // Behind the isolator of a row that names another source, a set that starts changes nothing.
    assert_eq!(started_by("mains", "yes", "changeover"), Outcome::NotNeeded);
}

#[test]
fn a_converter_keeps_its_charge_on_its_own_side() {
    let charge = |lines: &[&str], isolator: &str| {
        let row = PLAIN.replace("C/1", "VC1").replace("Q1", isolator);
        outcome_in(&decided_by_both("", &[&row], "", lines).0, Rule::StoredCharge)
    };
    let before = [NETWORK, BOARD, Q1, "VC1,converter,Q1,Plant room,,TN-S"];
    assert_eq!(charge(&before, "Q1"), Outcome::Unknown);
    let behind =
        [NETWORK, BOARD, "VC2,converter,DB-C,Plant room,,TN-S", "Q1,breaker,VC2,Board C,1,", "VC1,busbar,Q1,,,"];
    assert_eq!(charge(&behind, "Q1"), Outcome::NotNeeded, "an isolator lies between");
}

#[test]
fn the_device_upstream_is_told_where_the_survey_is_silent() {
    let row = format!("{PLAIN},incoming terminals of Q1");
    let lines = [NETWORK, "Q0,breaker,Network,Intake,3+N,", "DB-C,busbar,Q0,,,", Q1];
    let (_, findings) = decided_by_both("live_after", &[&row], "", &lines);
    let finding = findings.iter().find(|it| it.code.name == "line-side-isolation-not-given").unwrap();
    assert!(finding.help.as_ref().unwrap().ends_with("next upstream the supplies file describes `Q0 (Intake)`"));
}

fn of_device<'a>(devices: &'a [DeviceDecision], name: &str) -> &'a Disconnects {
    &devices.iter().find(|device| device.device == name).unwrap().disconnects[0]
}

#[test]
fn a_notice_names_what_else_must_be_opened_for_each_enclosure() {
    let lines = [NETWORK, BOARD, Q1, Q2];
    let (decisions, _) = decided_by_both("", &[PLAIN, &second()], "", &lines);
    let first = of_device(&decisions.devices, "Q1");
    assert_eq!((first.also.as_slice(), first.others_remain), (["Q2".to_owned()].as_slice(), false));
    let (decisions, _) = decided_by_both("", &[PLAIN, &second()], "", &[NETWORK, BOARD, Q1]);
    let first = of_device(&decisions.devices, "Q1");
    assert_eq!((first.also.as_slice(), first.others_remain), (["Q2".to_owned()].as_slice(), true), "not proved");
    let (decisions, _) = decided("", &[PLAIN, &second()]);
    let first = of_device(&decisions.devices, "Q1");
    assert_eq!((first.also.len(), first.others_remain), (0, true), "nothing described");
}

#[test]
fn a_designation_that_is_met_twice_is_named_with_its_place() {
    let other = PLAIN.replace("C/1", "D/1").replace("Board C", "Yard");
    let lines = [NETWORK, BOARD, Q1, "Q1,breaker,DB-C,Yard,1,"];
    let (decisions, _) = decided_by_both("", &[PLAIN, &other], "", &lines);
    let also: Vec<_> = decisions.devices.iter().map(|device| device.disconnects[0].also.join(", ")).collect();
    assert_eq!(also, ["Q1 (Yard)", "Q1 (Board C)"]);
}

#[test]
fn of_more_devices_than_a_notice_names_it_says_that_others_may_remain() {
    let rows: Vec<String> = (1..=6)
        .map(|number| PLAIN.replace("C/1", &format!("C/{number}")).replace("Q1", &format!("Q{number}")))
        .collect();
    let rows: Vec<&str> = rows.iter().map(String::as_str).collect();
    let lines: Vec<String> = (1..=6).map(|number| format!("Q{number},breaker,DB-C,Board C,1,")).collect();
    let lines: Vec<&str> = [NETWORK, BOARD].into_iter().chain(lines.iter().map(String::as_str)).collect();
    let named = |count: usize| {
        let (decisions, _) = decided_by_both("", &rows[..count], "", &lines);
        let first = of_device(&decisions.devices, "Q1");
        (first.also.len(), first.others_remain)
    };
    assert_eq!(named(5), (4, false));
    assert_eq!(named(6), (0, true));
}

#[test]
fn a_device_of_many_enclosures_says_of_each_that_others_may_remain() {
    let lines = [NETWORK, BOARD, Q1, Q2];
    let named = |enclosures: usize| {
        let of = |row: &str, number: usize| row.replace("E1", &format!("E{number}"));
        let rows: Vec<String> =
            (1..=enclosures).flat_map(|number| [of(PLAIN, number), of(&second(), number)]).collect();
        let rows: Vec<&str> = rows.iter().map(String::as_str).collect();
        let (decisions, _) = decided_by_both("", &rows, "", &lines);
        let first = of_device(&decisions.devices, "Q1");
        (first.also.len(), first.others_remain)
    };
    assert_eq!(named(8), (1, false));
    assert_eq!(named(9), (0, true));
}

#[test]
fn the_index_tells_alone_from_together() {
    let entry = |further: &str, rows: &[&str], lines: &[&str]| {
        let index = indexed_by_both(further, rows, "interlock,interlock_kind", lines);
        let first = index.into_iter().find(|entry| entry.device == "Q1").unwrap();
        let listed = first.enclosures.into_iter().next().unwrap();
        let with: Vec<String> = listed.with.iter().map(|device| format!("Q{}", device.index() + 1)).collect();
        (listed.alone, with.join(" "), listed.others)
    };
    let plain = |line: &str| format!("{line},,");
    let lines = [plain(NETWORK), plain(BOARD), plain(Q1), plain(Q2)];
    let lines: Vec<&str> = lines.iter().map(String::as_str).collect();
    let alone = (true, String::new(), 0);
    assert_eq!(entry("", &[PLAIN], &lines), alone);
    assert_eq!(entry("", &[PLAIN, &second()], &lines), (false, "Q2".to_owned(), 1));
    assert_eq!(entry("live_after", &[&format!("{PLAIN},heater")], &lines), (false, String::new(), 0));
    let coupled = |line: &str| format!("{line},IL-1,coupled");
    let with_handle = [lines[0], lines[1], &coupled(Q1), &coupled(Q2)];
    assert_eq!(entry("", &[PLAIN, &second()], &with_handle), alone);
    let fed_back = [lines[0], "DB-C,busbar,Network,,,,,", "Q1,switch,DB-C,Board C,1,,,"];
    assert_eq!(entry("", &[PLAIN], &fed_back), (false, String::new(), 0), "the path is live");
}

fn cell(choices: &'static [&'static str]) -> impl Strategy<Value = &'static str> {
    proptest::sample::select(choices)
}

proptest! {
    #[test]
    fn a_supplies_file_lifts_nothing_that_the_survey_asks_for(
        isolators in proptest::collection::vec(cell(&["Q1,Board C", "Q2,Board C", "Q1 + Q2,Board C + Board C", "none,"]), 1..4),
        boards in proptest::collection::vec(cell(&["DB-C", "DB-D"]), 4),
        sources in proptest::collection::vec(cell(&["mains", "generator", "solar"]), 4),
        feeds in proptest::collection::vec(cell(&["DB-C", "DB-D", "Network", "GEN", "DB-C + DB-D"]), 2),
        kind in cell(&["breaker", "switch", "isolator"]),
        coupled in cell(&[",", "IL-1,coupled"]),
    ) {
        let row = |(number, isolator): (usize, &&str)| {
            let (board, source) = (boards[number], sources[number]);
            format!("E1,C/{number},{board},{source},230,L1 N,TN-S,230,{isolator},1+N,padlock")
        };
        let rows: Vec<String> = isolators.iter().enumerate().map(row).collect();
        let rows: Vec<&str> = rows.iter().map(String::as_str).collect();
        let lines = [
            "Network,source,,,,TN-S,,".to_owned(),
            "GEN,source,,Yard,,TN-S,,".to_owned(),
            "DB-C,busbar,Network,,,,,".to_owned(),
            "DB-D,busbar,GEN,,,,,".to_owned(),
            format!("Q1,{kind},{},Board C,1+N,,{coupled}", feeds[0]),
            format!("Q2,breaker,{},Board C,1+N,,{coupled}", feeds[1]),
        ];
        let lines: Vec<&str> = lines.iter().map(String::as_str).collect();
        let without = decided("", &rows).0;
        let with = decided_by_both("", &rows, "interlock,interlock_kind", &lines).0;
        for (before, after) in without.enclosures[0].reasons.iter().zip(&with.enclosures[0].reasons) {
            prop_assert!(after.outcome >= before.outcome, "{before:?} became {after:?}");
        }
        let points = |decisions: &Decisions| {
            let points = decisions.enclosures[0].points.iter();
            points.map(|it| (it.device.clone(), it.location.clone(), it.circuits.clone())).collect::<Vec<_>>()
        };
        prop_assert_eq!(points(&without), points(&with), "what is declared stays listed");
        for (before, after) in without.devices.iter().zip(&with.devices) {
            for (before, after) in before.disconnects.iter().zip(&after.disconnects) {
                let is_named = |other: &String| after.also.contains(other);
                prop_assert!(before.also.iter().all(is_named));
                prop_assert!(after.others_remain || !before.others_remain || !after.also.is_empty() || coupled.len() > 1);
            }
        }
    }
}
