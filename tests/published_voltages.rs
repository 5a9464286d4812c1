//! Voltages held against published tables and worked examples, each naming its source.

#![cfg(test)]

use noticewright::network::voltage::{PAIRS, between_lines_of, high_leg, solar_maximum};
use noticewright::network::{EnclosureId, Network, NetworkOptions};
use noticewright::rules::{Decisions, Outcome, Rule, RuleOptions, Voltage, decide, explain};
use noticewright::supplies;
use noticewright::survey::value::{Current, Volts};
use noticewright::survey::{ReadOptions, Survey, read};

const HEADER: &str = "enclosure,circuit,fed_from,source,nominal,conductors,earthing,voltage_to_earth,expected,isolator,\
    isolator_location,poles";

const SUPPLIES: &str = "device,kind,fed_from,nominal,earthing,in_step_with,phasing";

/// An enclosure whose voltages the supplies file tells: each circuit has a device, a board and its conductors.
fn supplied(supplies: &[&str], circuits: &[(&str, &str, &str)]) -> (Decisions, Vec<String>) {
    let file = format!("{SUPPLIES}\n{}\n", supplies.join("\n"));
    let file = supplies::read(file.as_bytes(), &supplies::ReadOptions::new("supplies.csv"));
    assert!(file.findings.is_empty(), "{:?}", file.findings);
    let row = |(device, board, conductors): &(&str, &str, &str)| {
        format!("E1,{board}/{device},{board},mains,,{conductors},,,,{device},,")
    };
    let text = format!("{HEADER}\n{}\n", circuits.iter().map(row).collect::<Vec<_>>().join("\n"));
    let reading = read(text.as_bytes(), &ReadOptions::new("published.csv"));
    let (network, _) = Network::join(&reading.survey, Some(&file.supplies), &NetworkOptions::default());
    decided_in(&reading.survey, &network)
}

fn decided_in(survey: &Survey, network: &Network) -> (Decisions, Vec<String>) {
    let options = RuleOptions::default();
    (decide(survey, network, &options).0, explain(survey, network, &options, 0).voltages)
}

/// The highest voltage between conductors in whole volts, and whether it is a bound.
fn across(supplies: &[&str], circuits: &[(&str, &str, &str)]) -> Option<(u32, bool)> {
    let (decisions, _) = supplied(supplies, circuits);
    let between = decisions.enclosures.first().unwrap().voltages.between.first().copied();
    between.map(|voltage| (voltage.value.to_milli() / 1_000, voltage.bound))
}

fn decided(rows: &[&str]) -> Decisions {
    decided_and_explained(rows).0
}

/// The decisions, and where the voltages of the first enclosure come from.
fn decided_and_explained(rows: &[&str]) -> (Decisions, Vec<String>) {
    let text = format!("{HEADER}\n{}\n", rows.join("\n"));
    let reading = read(text.as_bytes(), &ReadOptions::new("published.csv"));
    let (network, _) = Network::join(&reading.survey, None, &NetworkOptions::default());
    decided_in(&reading.survey, &network)
}

fn unexpected(decisions: &Decisions) -> Outcome {
    let reasons = &decisions.enclosures.first().unwrap().reasons;
    reasons.iter().find(|reason| reason.rule == Rule::UnexpectedVoltage).unwrap().outcome
}

fn to_earth(nominal: &str, conductors: &str, earthing: &str, declared: &str) -> Volts {
    let row = format!("E1,C/1,DB-C,mains,{nominal},{conductors},{earthing},{declared},,Q1,Board C,3+N");
    decided(&[&row]).enclosures.first().unwrap().voltages.to_earth.first().unwrap().value
}

/// The figure of one row whose declared value is far too low, so that the computed one stands.
fn computed(nominal: &str, conductors: &str, earthing: &str) -> Volts {
    to_earth(nominal, conductors, earthing, "1")
}

#[test]
fn pairs_of_iec_60038_table_1() {
    // IEC 60038 Table 1, 50 Hz and 60 Hz, as an encyclopaedia and an installation guide reproduce it: the first figure
    // is to neutral, the second between lines.
    let table = [(120, 208), (230, 400), (277, 480), (347, 600), (400, 690)];
    assert_eq!(PAIRS.map(|(neutral, lines)| (neutral.to_milli() / 1_000, lines.to_milli() / 1_000)), table);
    for (neutral, lines) in table {
        assert_eq!(between_lines_of(Volts::whole(neutral)), Some(Volts::whole(lines)));
        // Both are rounded nominal values: the square root of three lies between them to one per cent, never exactly.
        let ratio = f64::from(lines) / f64::from(neutral);
        assert!((ratio / 3.0_f64.sqrt() - 1.0).abs() < 0.01);
        let pair = format!("{neutral}/{lines}");
        assert_eq!(computed(&pair, "L1 L2 L3 N", "TN-S"), Volts::whole(neutral));
        assert_eq!(computed(&pair, "L1 L2 L3", "IT"), Volts::whole(lines));
        assert_eq!(computed(&pair, "L1 L2 L3", "line-earthed"), Volts::whole(lines));
    }
}

#[test]
fn four_hundred_by_root_three_would_alarm_on_every_board() {
    // Arithmetic: 400 / 1.732 = 230.94, which is above 230. The nominal pair says 230.
    assert!(400.0 / 3.0_f64.sqrt() > 230.0);
    let decisions = decided(&["E1,C/1,DB-C,mains,230/400,L1 L2 L3,TN-S,230,,Q1,Board C,3"]);
    assert_eq!(unexpected(&decisions), Outcome::NotNeeded);
}

#[test]
fn trigger_above_230_nominal_to_earth() {
    // IET EngX forum, "Panel/Switchgear Yellow Electricity Warning Labels": BS 7671 514.10.1 asks for a notice above
    // 230 V nominal to earth; the boundary is arithmetic.
    let outcome = |nominal: &str, earthing: &str, declared: &str| {
        unexpected(&decided(&[&format!("E1,C/1,DB-C,mains,{nominal},,{earthing},{declared},,Q1,Board C,3+N")]))
    };
    assert_eq!(outcome("", "", "230"), Outcome::NotNeeded);
    assert_eq!(outcome("", "", "231"), Outcome::Required);
    assert_eq!(outcome("230/400", "TN-S", "253"), Outcome::NotNeeded);
    assert_eq!(outcome("277/480", "TN-S", "277"), Outcome::Required);
    assert_eq!(outcome("400/690", "TN-S", "400"), Outcome::Required);
    assert_eq!(outcome("230/400", "line-earthed", "400"), Outcome::Required);
    assert_eq!(outcome("230/400", "IT", "400"), Outcome::Required);
    assert_eq!(outcome("55/110", "midpoint", "55"), Outcome::NotNeeded);
    assert_eq!(outcome("63.5/110", "TN-S", "63.5"), Outcome::NotNeeded);
    assert_eq!(outcome("110", "TN-S", "110"), Outcome::NotNeeded);
}

#[test]
fn supply_tolerance_is_measured_and_not_nominal() {
    // SI 1994/3021: 230 V +10 % / -6 %, that is 216.2 V to 253.0 V; all of it is nominally 230 V.
    assert_eq!(to_earth("230", "L1 N", "TN-S", "253"), Volts::whole(230));
    assert_eq!(to_earth("230", "L1 N", "TN-S", "240"), Volts::whole(230));
    assert_eq!(to_earth("230", "L1 N", "TN-S", "254"), Volts::whole(254));
}

#[test]
fn reduced_low_voltage() {
    // BS 7671 411.8 as quoted by IET Wiring Matters, September 2020: 110 V between lines, 55 V or 63.5 V to earth.
    assert_eq!(computed("55/110", "L1 L2", "midpoint"), Volts::whole(55));
    assert_eq!(computed("63.5/110", "L1 L2 L3", "TN-S"), Volts::milli(63_500));
    assert_eq!(computed("110", "L1 L2", "midpoint"), Volts::whole(55));
    assert_eq!(computed("110", "L1 L2 L3", "midpoint"), Volts::milli(63_500));
}

#[test]
fn high_leg_of_a_delta() {
    // Geometry: 240 V x 0.8660 = 207.846 V; common practice calls it 208 V.
    assert_eq!(high_leg(Volts::whole(240)), Volts::milli(207_800));
    assert_eq!(computed("120/240", "L1 L2 L3 N", "midpoint"), Volts::milli(207_800));
    assert_eq!(computed("120/240", "L1 L2 N", "midpoint"), Volts::whole(120));
    // Which line is the high leg no cell says: with line 3 a row shows that there is one, and may be it.
    assert_eq!(computed("120/240", "L3 N", "midpoint"), Volts::milli(207_800));
    assert_eq!(computed("120/240", "L2 L3", "midpoint"), Volts::milli(207_800));
}

#[test]
fn solar_string_in_the_cold() {
    // A published string-voltage calculator: 49.5 V, -0.27 % per kelvin, -10 degrees, 54.18 V a module, 12 in series.
    assert_eq!(solar_maximum(1, Volts::milli(49_500), -0.27, -10.0), Volts::milli(54_200));
    assert_eq!(solar_maximum(12, Volts::milli(49_500), -0.27, -10.0), Volts::milli(650_100));
}

fn between(rows: &[&str], current: Current) -> Option<Voltage> {
    let decisions = decided(rows);
    decisions.enclosures.first().unwrap().voltages.between.iter().find(|voltage| voltage.current == current).copied()
}

#[test]
fn sources_out_of_step_add_up() {
    // Arithmetic: beating r.m.s. values are bounded by their sum, 230 + 230 = 460.
    let mains = "E1,C/1,DB-C,mains,230,L1 N,TN-S,230,,Q1,Board C,1";
    let alone = "E1,U/1,UPS-1,ups,230,L1 N,TN-S,230,,Q2,Comms room,1+N";
    let bound = Voltage { value: Volts::whole(460), current: Current::Ac, bound: true };
    assert_eq!(between(&[mains, alone], Current::Ac), Some(bound));
    assert_eq!(between(&[mains], Current::Ac), None);
}

#[test]
fn lines_of_one_board_stand_at_the_nominal_value() {
    // Arithmetic: 230 x 1.732 = 398.4, shown as the nominal 400 of the pair.
    let one = "E1,C/1,DB-C,mains,230,L1 N,TN-S,230,,Q1,Board C,1";
    let other = "E1,C/2,DB-C,mains,230,L2 N,TN-S,230,,Q2,Board C,1";
    let same = "E1,C/4,DB-C,mains,230,L1 N,TN-S,230,,Q4,Board C,1";
    let nominal = Voltage { value: Volts::whole(400), current: Current::Ac, bound: false };
    assert_eq!(between(&[one, other], Current::Ac), Some(nominal));
    assert_eq!(between(&[one, same], Current::Ac), None);
}

#[test]
fn split_windings_add_up() {
    // Arithmetic: 55 + 55 = 110 and 120 + 120 = 240 between the ends of one winding.
    let ends = |row: &str| between(&[row], Current::Ac).map(|voltage| voltage.value);
    assert_eq!(ends("E1,C/1,T1,mains,55/110,L1 L2,midpoint,55,,Q1,Board C,2"), Some(Volts::whole(110)));
    assert_eq!(ends("E1,C/1,T1,mains,120/240,L1 L2 N,midpoint,120,,Q1,Board C,2"), Some(Volts::whole(240)));
}

#[test]
fn bands_of_voltage() {
    // Approved Document P as quoted by a building wiki: extra-low voltage is at most 50 V a.c. or 120 V d.c. A 24 V
    // circuit beside 230 V is nominally still 230 V.
    let mains = "E1,C/1,DB-C,mains,230,L1 N,TN-S,230,,Q1,Board C,1";
    let extra_low = "E1,P/1,PSU-1,mains,24,L1 N,PELV,24,,F1,Board C,1";
    assert_eq!(between(&[mains, extra_low], Current::Ac), None);
    let above = "E1,T/1,T1,mains,55/110,L1 L2,midpoint,55,,Q2,Board C,2";
    let sum = Voltage { value: Volts::whole(285), current: Current::Ac, bound: true };
    assert_eq!(between(&[mains, above], Current::Ac), Some(sum));
}

#[test]
fn direct_and_alternating_stay_apart() {
    // Arithmetic: 600 + 1.4142 x 230 = 925.3 V peak; it stands only in the explanation.
    let mains = "E1,C/1,DB-C,mains,230,L1 N,TN-S,230,,Q1,Board C,1";
    let strings = "E1,PV/1,Strings,solar,600 dc,+ -,unearthed,600,,QD,Roof,2";
    let (decisions, explanation) = decided_and_explained(&[mains, strings]);
    let voltages = &decisions.enclosures.first().unwrap().voltages;
    let kinds: Vec<_> = voltages.to_earth.iter().map(|voltage| (voltage.value.to_milli(), voltage.current)).collect();
    assert_eq!(kinds, [(230_000, Current::Ac), (600_000, Current::Dc)]);
    assert!(voltages.between.is_empty());
    assert!(explanation.iter().any(|line| line.contains("925 V peak")));
}

#[test]
fn direct_voltages_by_earthing() {
    // From memory: one pole earthed, the full voltage; midpoint earthed, half; unearthed, the full voltage at a first fault.
    let volts = |earthing: &str| {
        let row = format!("E1,C/1,R1,mains,600 dc,+ -,{earthing},1,,Q1,Board C,2");
        decided(&[&row]).enclosures.first().unwrap().voltages.to_earth.first().unwrap().value
    };
    assert_eq!(volts("pole-earthed"), Volts::whole(600));
    assert_eq!(volts("midpoint"), Volts::whole(300));
    assert_eq!(volts("unearthed"), Volts::whole(600));
}

#[test]
fn a_proof_needs_more_than_a_survey() {
    let text = format!("{HEADER}\nE1,C/1,DB-C,mains,230,L1 N,TN-S,230,,Q1,Board C,1\n");
    let reading = read(text.as_bytes(), &ReadOptions::new("published.csv"));
    let (network, _) = Network::join(&reading.survey, None, &NetworkOptions::default());
    assert_eq!(network.proof(EnclosureId::new(0)).result.name(), "unknown");
}

fn earth_by_supplies_file(supplies: &[&str], circuit: (&str, &str, &str)) -> Volts {
    supplied(supplies, &[circuit]).0.enclosures.first().unwrap().voltages.to_earth.first().unwrap().value
}

#[test]
fn pairs_of_iec_60038_by_the_supplies_file_alone() {
    // IEC 60038 Table 1, as above; the arrangements of BS 7671 312.2 decide what stands to earth (from memory).
    for (neutral, lines) in [(120, 208), (230, 400), (277, 480), (347, 600), (400, 690)] {
        let volts = |earthing: &str| {
            let source = format!("NET,source,,{neutral}/{lines},{earthing},,");
            earth_by_supplies_file(&[&source, "Q1,isolator,NET,,,,"], ("Q1", "NET", "L1 L2 L3"))
        };
        assert_eq!(volts("TN-S"), Volts::whole(neutral));
        assert_eq!(volts("TN-C-S"), Volts::whole(neutral));
        assert_eq!(volts("TT"), Volts::whole(neutral));
        assert_eq!(volts("IT"), Volts::whole(lines));
        assert_eq!(volts("line-earthed"), Volts::whole(lines));
    }
}

#[test]
fn reduced_low_voltage_by_the_supplies_file_alone() {
    // BS 7671 411.8 as quoted by IET Wiring Matters, September 2020: 55 V or 63.5 V to earth, 110 V between lines.
    let one = ["T1,transformer,NET,55/110,midpoint,,", "NET,source,,230/400,TN-S,,", "Q1,isolator,T1,,,,"];
    let three = ["T2,transformer,NET,63.5/110,TN-S,,", "NET,source,,230/400,TN-S,,", "Q2,isolator,T2,,,,"];
    assert_eq!(earth_by_supplies_file(&one, ("Q1", "T1", "L1 L2")), Volts::whole(55));
    assert_eq!(earth_by_supplies_file(&three, ("Q2", "T2", "L1 L2 L3")), Volts::milli(63_500));
    assert_eq!(across(&one, &[("Q1", "T1", "L1 L2")]), Some((110, false)));
    assert_eq!(across(&three, &[("Q2", "T2", "L1 L2 L3")]), Some((110, false)));
}

/// Two transformers of one source with these vector groups, and a device behind each.
fn two_transformers(groups: [&str; 2]) -> [String; 5] {
    let [one, other] = groups;
    [
        "HV,source,,400/690,TN-S,,".to_owned(),
        format!("TX1,transformer,HV,230/400,TN-S,,{one}"),
        format!("TX2,transformer,HV,230/400,TN-S,,{other}"),
        "Q1,isolator,TX1,,,,".to_owned(),
        "Q2,isolator,TX2,,,,".to_owned(),
    ]
}

fn behind_two_transformers(groups: [&str; 2], lines: [&str; 2]) -> Option<(u32, bool)> {
    let supplies = two_transformers(groups);
    let supplies: Vec<_> = supplies.iter().map(String::as_str).collect();
    across(&supplies, &[("Q1", "TX1", lines[0]), ("Q2", "TX2", lines[1])])
}

#[test]
fn clock_numbers_of_iec_60076_1_turn_the_phasors() {
    // IEC 60076-1 (from memory): the clock number is how many twelfths of a turn the low-voltage side lags behind.
    // Geometry of phasors of 230 V, rounded up: 30 degrees 2 x 230 x sin 15 = 119.06 V, which is less than to earth and
    // so not shown; 60 degrees 230 V, no more than to earth; 90 degrees 325.3 V; 150 degrees 444.3 V; 180 degrees 460 V.
    let same_line = |groups| behind_two_transformers(groups, ["L1 N", "L1 N"]);
    assert_eq!(same_line(["Dyn11", "Yyn0"]), None);
    assert_eq!(same_line(["Dyn1", "Dyn11"]), None);
    assert_eq!(same_line(["Dyn11", "Dyn11"]), None);
    assert_eq!(same_line(["Dyn5", "Yyn0"]), Some((445, false)));
    assert_eq!(same_line(["Dyn5", "Dyn11"]), Some((460, false)));
    assert_eq!(same_line(["Dyn11", "Yyn6"]), Some((445, false)));
    // Line 2 lags behind line 1 by 120 degrees: by 90 or by 150 degrees behind a line that is turned by 30.
    let other_line = |groups| behind_two_transformers(groups, ["L1 N", "L2 N"]);
    assert_eq!(other_line(["Dyn11", "Dyn11"]), Some((400, false)));
    assert_eq!(other_line(["Dyn1", "Yyn0"]), Some((326, false)));
    assert_eq!(other_line(["Dyn11", "Yyn0"]), Some((445, false)));
    // All lines: the widest pair is 150 degrees apart.
    assert_eq!(behind_two_transformers(["Dyn11", "Yyn0"], ["L1 L2 L3", "L1 L2 L3"]), Some((445, false)));
}

#[test]
fn half_a_turn_and_an_unknown_turn_both_come_to_the_sum() {
    // Arithmetic: 230 + 230 = 460 V; without vector group it is an upper bound.
    assert_eq!(behind_two_transformers(["Yyn0", "Yyn6"], ["L1 N", "L1 N"]), Some((460, false)));
    assert_eq!(behind_two_transformers(["", "Yyn0"], ["L1 N", "L1 N"]), Some((460, true)));
    assert_eq!(behind_two_transformers(["", ""], ["L1 N", "L1 N"]), Some((460, true)));
}

#[test]
fn what_feeds_a_transformer_is_turned_against_it_too() {
    // Geometry: 400 V and 230 V turned by 150 degrees against each other, |400 + 230 e^(i 30)| = 610.0 V, rounded up;
    // which is less than the 690 V between the lines of the higher system, so that one line of it alone is looked at.
    let supplies = [
        "NET,source,,230/400,TN-S,,",
        "TX,transformer,NET,400/690,TN-S,,Dyn11",
        "Q1,isolator,TX,,,,",
        "Q2,isolator,NET,,,,",
    ];
    let exact = (400.0_f64.powi(2) + 230.0_f64.powi(2) + 2.0 * 400.0 * 230.0 * 30.0_f64.to_radians().cos()).sqrt();
    let expected = exact.ceil() as u32;
    assert_eq!(expected, 611);
    assert_eq!(across(&supplies, &[("Q1", "TX", "L1 N"), ("Q2", "NET", "L2 N")]), Some((expected, false)));
    assert_eq!(across(&supplies, &[("Q1", "TX", "L1 L2 L3"), ("Q2", "NET", "L2 N")]), Some((690, false)));
}

#[test]
fn sources_that_drift_add_up_by_the_supplies_file() {
    // Arithmetic: beating r.m.s. values are bounded by their sum, 230 + 230 = 460; held in step they are two boards.
    let supplies = |in_step: &str| {
        let generator = format!("GEN,source,,230/400,TN-S,{in_step},");
        across(
            &["NET,source,,230/400,TN-S,,", &generator, "Q1,isolator,NET,,,,", "Q2,isolator,GEN,,,,"],
            &[("Q1", "NET", "L1 N"), ("Q2", "GEN", "L1 N")],
        )
    };
    assert_eq!(supplies(""), Some((460, true)));
    assert_eq!(supplies("NET"), Some((400, false)));
}

#[test]
fn a_first_fault_lifts_an_unearthed_system_against_another() {
    // From memory of IEC 60364-1 312.2.3: after a first fault the lines of an IT system stand at the voltage between
    // lines to earth; with the other system's 230 V the bound is 400 + 230 = 630.
    let supplies = [
        "NET,source,,230/400,TN-S,,",
        "TX,transformer,NET,230/400,IT,,Dyn11",
        "Q1,isolator,TX,,,,",
        "Q2,isolator,NET,,,,",
    ];
    assert_eq!(across(&supplies, &[("Q1", "TX", "L1 L2 L3"), ("Q2", "NET", "L1 N")]), Some((630, true)));
}

#[test]
fn a_split_winding_by_the_supplies_file() {
    // Arithmetic: 120 + 120 = 240 and 55 + 55 = 110 between the ends of one winding, on two circuits of it.
    let ends = |pair: &str| {
        let winding = format!("T1,transformer,NET,{pair},midpoint,,");
        across(
            &["NET,source,,230/400,TN-S,,", &winding, "Q1,isolator,T1,,,,", "Q2,isolator,T1,,,,"],
            &[("Q1", "T1", "L1"), ("Q2", "T1", "L2")],
        )
    };
    assert_eq!(ends("120/240"), Some((240, false)));
    assert_eq!(ends("55/110"), Some((110, false)));
}

#[test]
fn each_figure_says_where_it_comes_from() {
    let supplies = ["NET,source,,230/400,TN-S,,", "T2,transformer,NET,63.5/110,TN-S,,", "Q2,isolator,T2,,,,"];
    let (_, explanation) = supplied(&supplies, &[("Q2", "T2", "L1 L2 L3")]);
    let expected = "63.5 V to earth: T2 63.5/110 TN-S, by the supplies file, reduced low voltage (circuit T2/Q2)";
    assert_eq!(explanation.first().map(String::as_str), Some(expected));
}
