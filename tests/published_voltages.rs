//! Voltages held against published tables and worked examples, each naming its source.

#![cfg(test)]

use noticewright::network::voltage::{PAIRS, between_lines_of, high_leg, solar_maximum};
use noticewright::network::{EnclosureId, Network, NetworkOptions};
use noticewright::rules::{Decisions, Outcome, Rule, RuleOptions, Voltage, decide};
use noticewright::survey::value::{Current, Volts};
use noticewright::survey::{ReadOptions, read};

const HEADER: &str = "enclosure,circuit,fed_from,source,nominal,conductors,earthing,voltage_to_earth,expected,isolator,\
    isolator_location,poles";

fn decided(rows: &[&str]) -> Decisions {
    let text = format!("{HEADER}\n{}\n", rows.join("\n"));
    let reading = read(text.as_bytes(), &ReadOptions::new("published.csv"));
    let (network, _) = Network::join(&reading.survey, None, &NetworkOptions::default());
    decide(&reading.survey, &network, &RuleOptions::default()).0
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
    let voltages = &decided(&[mains, strings]).enclosures.first().unwrap().voltages.clone();
    let kinds: Vec<_> = voltages.to_earth.iter().map(|voltage| (voltage.value.to_milli(), voltage.current)).collect();
    assert_eq!(kinds, [(230_000, Current::Ac), (600_000, Current::Dc)]);
    assert!(voltages.between.is_empty());
    assert!(voltages.explanation.iter().any(|line| line.contains("925 V peak")));
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
