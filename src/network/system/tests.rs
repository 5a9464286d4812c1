//! Which systems meet in an enclosure, on small networks; figures of standards stand in `tests/published_voltages.rs`.

use super::super::between::{Apart, Between, highest};
use super::super::testing::{described, joined, surveyed};
use super::super::{Agreement, EnclosureId, Network, ToldBy, WayVoltage};
use super::*;
use crate::finding::Finding;
use crate::survey::value::{Current, Volts};

const SUPPLIES: &str = "device,kind,fed_from,nominal,earthing,in_step_with,phasing";
const SURVEY: &str =
    "enclosure,circuit,fed_from,source,nominal,conductors,earthing,voltage_to_earth,isolator,isolator_location";

/// The mains and a main board.
const MAINS: [&str; 3] = ["NET,source,,230/400,TN-S", "QM,isolator,NET", "MSB,busbar,QM"];

struct Joined {
    network: Network,
    findings: Vec<Finding>,
    survey: crate::survey::Survey,
}

/// A network of these rows of the supplies file, and one enclosure with these rows behind its number.
fn network(supplies: &[&[&str]], rows: &[&str]) -> Joined {
    let supplies = described(SUPPLIES, &supplies.concat());
    let rows: Vec<_> = rows.iter().map(|row| format!("E1,{row}")).collect();
    let survey = surveyed(SURVEY, &rows.iter().map(String::as_str).collect::<Vec<_>>());
    let (network, findings) = joined(&survey, &supplies);
    Joined { network, findings, survey }
}

impl Joined {
    fn between(&self) -> Option<(u32, bool, Apart)> {
        self.highest(Current::Ac).map(|between| (between.value.to_milli() / 1_000, between.bound, between.apart))
    }

    fn highest(&self, current: Current) -> Option<Between> {
        highest(&self.network, EnclosureId::new(0), &self.survey.enclosures[0].rows, current)
    }

    fn voltage(&self) -> WayVoltage {
        *self.network.ways(EnclosureId::new(0))[0].voltage
    }

    /// The codes of what was found wrong with voltages.
    fn codes(&self) -> Vec<&str> {
        let codes = self.findings.iter().map(|finding| finding.code.name);
        codes.filter(|name| name.starts_with("voltage-") || name.starts_with("system-")).collect()
    }
}

#[test]
fn blank_cells_are_filled_by_the_supplies_file() {
    let tx = ["TX,transformer,MSB,230/400,IT", "Q1,isolator,TX"];
    let filled = network(&[&MAINS, &tx], &["TX/1,TX,mains,,L1 L2 L3,,400,Q1,"]);
    let voltage = filled.voltage();
    assert_eq!(voltage.computed.to_earth.map(|(volts, _)| volts), Some(Volts::whole(400)));
    assert_eq!(voltage.computed.between, Some(Volts::whole(400)));
    assert_eq!(voltage.agreement, Agreement::Agrees);
    assert!(matches!(voltage.told_by, ToldBy::SuppliesFile(system) if filled.network.node_name(system.began) == "TX"));
    assert!(filled.codes().is_empty(), "{:?}", filled.codes());
}

#[test]
fn a_declared_voltage_is_held_against_the_supplies_file() {
    let tx = ["TX,transformer,MSB,230/400,IT", "Q1,isolator,TX"];
    let declared = |volts: &str| network(&[&MAINS, &tx], &[&format!("TX/1,TX,mains,,L1 L2 L3,,{volts},Q1,")]);
    assert_eq!(declared("230").codes(), ["voltage-understated"]);
    assert_eq!(declared("230").voltage().to_earth, Some(Volts::whole(400)));
    assert_eq!(declared("690").codes(), ["voltage-overstated"]);
}

#[test]
fn a_row_that_contradicts_its_system_is_reported_and_the_higher_voltage_stands() {
    let row = |nominal: &str, earthing: &str, volts: &str| {
        let q1 = ["Q1,isolator,MSB"];
        network(&[&MAINS, &q1], &[&format!("MSB/1,MSB,mains,{nominal},L1 L2 L3,{earthing},{volts},Q1,")])
    };
    let higher = row("230/400", "IT", "400");
    assert_eq!(higher.codes(), ["system-contradiction"]);
    assert_eq!(higher.voltage().to_earth, Some(Volts::whole(400)));
    assert_eq!(row("230/400", "TN-C-S", "230").codes(), [] as [&str; 0]);
    assert_eq!(row("230/400", "TT", "230").codes(), [] as [&str; 0]);
    let lower = row("120/208", "TN-S", "120");
    assert_eq!(lower.codes(), ["system-contradiction", "voltage-understated"]);
    assert_eq!(lower.voltage().to_earth, Some(Volts::whole(230)));
    let direct = row("600 dc", "unearthed", "600");
    assert!(direct.codes().contains(&"system-contradiction"));
}

#[test]
fn of_two_systems_the_higher_counts() {
    let generator = ["GEN,source,,230/400,IT", "QG,isolator,GEN", "CO,changeover,QM + QG", "Q1,isolator,CO"];
    let row =
        |volts: &str| network(&[&MAINS, &generator], &[&format!("CO/1,CO,mains,230/400,L1 L2 L3,TN-S,{volts},Q1,")]);
    assert_eq!(row("230").codes(), ["voltage-understated"]);
    assert_eq!(row("400").codes(), [] as [&str; 0]);
    assert_eq!(row("230").network.systems().of_way(WayId::new(0)).len(), 2);
}

#[test]
fn what_is_not_described_is_not_made_certain() {
    let board = ["B,busbar,QM + QX", "Q1,isolator,B"];
    let joined = network(&[&MAINS, &board], &["B/1,B,mains,,L1 L2 L3,,230,Q1,"]);
    let voltage = joined.voltage();
    assert_eq!((voltage.computed.to_earth, voltage.computed.at_least), (None, Some(Volts::whole(230))));
    assert_eq!(voltage.agreement, Agreement::NotComputed);
    assert_eq!(joined.network.systems().others_of_way(WayId::new(0)), Others::NotDescribed);
    let low = network(&[&MAINS, &board], &["B/1,B,mains,,L1 L2 L3,,120,Q1,"]);
    assert!(low.codes().contains(&"voltage-understated"));
}

#[test]
fn an_earthing_that_is_not_said_leaves_the_higher_voltage_open() {
    let tx = ["TX,transformer,MSB,400/690", "CO,changeover,QM + TX", "Q1,isolator,CO"];
    let joined = network(&[&MAINS, &tx], &["C/1,CO,mains,230/400,L1 L2 L3,TN-S,230,Q1,"]);
    assert_eq!(joined.codes(), ["voltage-understated"]);
    assert_eq!(joined.voltage().to_earth, Some(Volts::whole(400)));
    let message = &joined.findings.iter().find(|it| it.code.name == "voltage-understated").unwrap().message;
    assert!(message.contains("by the supplies file it can be fed from `TX`, which gives at least 400 V"), "{message}");
}

#[test]
fn a_system_that_contradicts_a_row_is_not_said_to_agree() {
    let joined = network(&[&MAINS, &["Q1,isolator,MSB"]], &["M/1,MSB,mains,230/400,L1 L2 L3,IT,400,Q1,"]);
    assert_eq!(joined.voltage().told_by, ToldBy::Row);
    let agreeing = network(&[&MAINS, &["Q1,isolator,MSB"]], &["M/1,MSB,mains,230/400,L1 L2 L3,TN-S,230,Q1,"]);
    assert!(matches!(agreeing.voltage().told_by, ToldBy::Both(_)));
}

#[test]
fn an_earthing_of_its_own_begins_anew_and_the_angle_goes_on() {
    let outbuilding = ["QT,isolator,MSB", "DB-T,busbar,QT,,IT,,proved", "Q1,isolator,DB-T", "Q2,isolator,MSB"];
    let rows = ["T/1,DB-T,mains,,L1 N,,400,Q1,", "M/2,MSB,mains,,L1 N,,230,Q2,"];
    let joined = network(&[&MAINS, &outbuilding], &rows);
    let systems = joined.network.systems();
    let [system] = systems.of_way(WayId::new(0)) else { panic!("one system") };
    assert_eq!(joined.network.node_name(system.began), "NET");
    assert_eq!(joined.network.node_name(system.earthed), "DB-T");
    let Tie::InStep(held) = systems.tie(systems.certain_place(WayId::new(0)), systems.certain_place(WayId::new(1)))
    else {
        panic!("in step")
    };
    assert_eq!((held.hours, held.is_one_voltage), (Some(0), true));
}

/// A circuit of one board and a circuit of the other, whose line numbers are proved or not.
fn two_boards(lines: [&str; 2], phasing: [&str; 2]) -> Option<(u32, bool, Apart)> {
    let [one, other] = phasing;
    let boards = [
        "QA,isolator,MSB".to_owned(),
        format!("DB-A,busbar,QA,,,,{one}"),
        "QB,isolator,MSB".to_owned(),
        format!("DB-B,busbar,QB,,,,{other}"),
        "Q1,isolator,DB-A".to_owned(),
        "Q2,isolator,DB-B".to_owned(),
    ];
    let boards: Vec<_> = boards.iter().map(String::as_str).collect();
    let [line, other_line] = lines;
    let rows = [format!("A/1,DB-A,mains,,{line},,230,Q1,"), format!("B/2,DB-B,mains,,{other_line},,230,Q2,")];
    network(&[&MAINS, &boards], &rows.iter().map(String::as_str).collect::<Vec<_>>()).between()
}

#[test]
fn proved_line_numbers_make_two_boards_one() {
    assert_eq!(two_boards(["L1 N", "L1 N"], ["proved", "proved"]), None);
    assert_eq!(two_boards(["L1 N", "L2 N"], ["proved", "proved"]), Some((400, false, Apart::PhasingProved)));
    assert_eq!(two_boards(["L1 N", "L1 N"], ["proved", ""]), Some((400, false, Apart::TwoBoards)));
    assert_eq!(two_boards(["L1 N", "L1 N"], ["", ""]), Some((400, false, Apart::TwoBoards)));
}

#[test]
fn lines_that_are_not_said_can_be_any() {
    let row = |conductors: &str| format!("A/1,MSB,mains,230,{conductors},,230,Q1,");
    let q1 = ["Q1,isolator,MSB", "Q2,isolator,MSB"];
    let rows = [row(""), "A/2,MSB,mains,230,L1 N,,230,Q2,".to_owned()];
    let joined = network(&[&MAINS, &q1], &rows.iter().map(String::as_str).collect::<Vec<_>>());
    assert_eq!(joined.between(), Some((400, false, Apart::OneBoardLinesNotSaid)));
}

/// Two sources, one circuit of each on line 1.
fn two_sources(in_step: &str, phasing: &str) -> Option<(u32, bool, Apart)> {
    let second = [
        format!("INV,converter,PV,230/400,TN-S,{in_step},{phasing}"),
        "PV,source,,600 dc,unearthed".to_owned(),
        "Q1,isolator,MSB".to_owned(),
        "Q2,isolator,INV".to_owned(),
    ];
    let second: Vec<_> = second.iter().map(String::as_str).collect();
    let rows = ["M/1,MSB,mains,,L1 N,,230,Q1,", "I/2,INV,solar,,L1 N,,230,Q2,"];
    let proved = ["NET,source,,230/400,TN-S", "QM,isolator,NET", "MSB,busbar,QM,,,,proved"];
    network(&[&proved, &second], &rows).between()
}

#[test]
fn sources_in_step_are_like_two_boards() {
    assert_eq!(two_sources("", ""), Some((460, true, Apart::NotInStep)));
    assert_eq!(two_sources("NET", ""), Some((400, false, Apart::InStep)));
    assert_eq!(two_sources("NET", "proved"), None);
    assert_eq!(two_sources("nowhere", "proved"), Some((460, true, Apart::NotInStep)));
}

#[test]
fn in_step_with_what_changes_means_nothing() {
    let board = ["GEN,source,,230/400,TN-S", "CO,changeover,QM + GEN", "INV,converter,NET,230/400,TN-S,CO"];
    let ends = ["Q1,isolator,MSB", "Q2,isolator,INV"];
    let rows = ["M/1,MSB,mains,,L1 N,,230,Q1,", "I/2,INV,solar,,L1 N,,230,Q2,"];
    let joined = network(&[&MAINS, &board, &ends], &rows);
    assert_eq!(joined.between(), Some((460, true, Apart::NotInStep)));
}

#[test]
fn in_step_is_passed_on_from_source_to_source() {
    let sources = [
        "I1,converter,X1,230/400,TN-S,NET",
        "I2,converter,X1,230/400,TN-S,I1",
        "X1,source,,600 dc,unearthed",
        "Q1,isolator,MSB",
        "Q2,isolator,I2",
    ];
    let rows = ["M/1,MSB,mains,,L1 N,,230,Q1,", "I/2,I2,solar,,L1 N,,230,Q2,"];
    assert_eq!(network(&[&MAINS, &sources], &rows).between(), Some((400, false, Apart::InStep)));
}

#[test]
fn a_board_that_either_source_feeds_stays_in_step_with_itself_alone() {
    let essential = ["GEN,source,,230/400,TN-S", "ESB,changeover,QM + GEN,,,,proved"];
    let ends = ["Q1,isolator,ESB", "Q2,isolator,ESB", "Q3,isolator,MSB"];
    let row = |number: u8, board: &str| format!("C/{number},{board},mains,,L1 N,,230,Q{number},");
    let between = |rows: [String; 2]| {
        network(&[&MAINS, &essential, &ends], &rows.iter().map(String::as_str).collect::<Vec<_>>()).between()
    };
    assert_eq!(between([row(1, "ESB"), row(2, "ESB")]), None);
    assert_eq!(between([row(1, "ESB"), row(3, "MSB")]), Some((460, true, Apart::NotInStep)));
}

#[test]
fn one_described_circuit_cannot_be_in_step_with_an_unknown_one_if_its_own_sources_are_not() {
    let essential =
        ["GEN,source,,230/400,TN-S", "ESB,changeover,QM + GEN,,,,proved", "Q1,isolator,ESB", "Q2,isolator,MSB"];
    let unknown = "X/1,DB-X,mains,230,L1 N,TN-S,230,Q9,";
    let with = |row: &str| network(&[&MAINS, &essential], &[row, unknown]).between();
    assert_eq!(with("C/1,ESB,mains,,L1 N,,230,Q1,"), Some((460, true, Apart::NotInStep)));
    assert_eq!(with("C/2,MSB,mains,,L1 N,,230,Q2,"), Some((400, false, Apart::TwoBoards)));
}

#[test]
fn a_transformer_without_vector_group_may_turn_by_anything() {
    let tx = ["TX,transformer,MSB,230/400,TN-S", "Q1,isolator,TX", "Q2,isolator,MSB"];
    let rows = ["T/1,TX,mains,,L1 N,,230,Q1,", "M/2,MSB,mains,,L1 N,,230,Q2,"];
    assert_eq!(network(&[&MAINS, &tx], &rows).between(), Some((460, true, Apart::AngleNotKnown)));
}

#[test]
fn a_vector_group_means_nothing_on_a_winding_of_two_ends() {
    let tx = ["TX,transformer,MSB,55/110,midpoint,,Ii0", "Q1,isolator,TX", "Q2,isolator,MSB"];
    let rows = ["T/1,TX,mains,,L1 L2,,55,Q1,", "M/2,MSB,mains,,L1 N,,230,Q2,"];
    assert_eq!(network(&[&MAINS, &tx], &rows).between(), Some((285, true, Apart::AngleNotKnown)));
}

#[test]
fn unearthed_circuits_add_unless_they_are_one_system() {
    let tx = ["TX,transformer,MSB,230/400,IT,,Dyn11", "Q1,isolator,TX", "Q2,isolator,TX", "Q3,isolator,MSB"];
    let row = |number: u8, board: &str, volts: u16| format!("C/{number},{board},mains,,L1 L2 L3,,{volts},Q{number},");
    let between =
        |rows: [String; 2]| network(&[&MAINS, &tx], &rows.iter().map(String::as_str).collect::<Vec<_>>()).between();
    assert_eq!(between([row(1, "TX", 400), row(2, "TX", 400)]), Some((400, false, Apart::OneCircuit)));
    assert_eq!(between([row(1, "TX", 400), row(3, "MSB", 230)]), Some((630, true, Apart::Floating)));
}

#[test]
fn what_comes_back_from_below_brings_its_own_sources() {
    let solar = |in_step: &str| {
        let site = [
            "NET,source,,230/400,TN-S".to_owned(),
            "IS1,isolator,NET".to_owned(),
            "Q0,isolator,IS1".to_owned(),
            format!("INV,converter,PV,230/400,TN-S,{in_step}"),
            "PV,source,,600 dc,unearthed".to_owned(),
            "MSB,busbar,Q0 + INV".to_owned(),
        ];
        let site: Vec<_> = site.iter().map(String::as_str).collect();
        let rows = ["I/1,NET,mains,,L1 N,,230,none,", "M/0,MSB,INV,,L1 N,,230,Q0,"];
        network(&[&site], &rows).between()
    };
    assert_eq!(solar(""), Some((460, true, Apart::NotInStep)));
    assert_eq!(solar("NET"), Some((400, false, Apart::InStep)));
}

#[test]
fn strings_of_their_own_add_and_direct_stays_apart_from_alternating() {
    let solar = ["S1,source,,600 dc,unearthed", "S2,source,,600 dc,unearthed", "Q1,isolator,S1", "Q2,isolator,S2"];
    let rows = ["S/1,S1,solar,,+ -,,600,Q1,", "S/2,S2,solar,,+ -,,600,Q2,"];
    let joined = network(&[&solar], &rows);
    let direct = joined.highest(Current::Dc).unwrap();
    assert_eq!((direct.value, direct.bound, direct.apart), (Volts::whole(1200), true, Apart::NotInStep));
    assert_eq!(joined.highest(Current::Ac), None);
}

#[test]
fn the_battery_side_of_a_ups_is_no_contradiction() {
    let ups = ["BAT,source,,384 dc,unearthed", "QB,isolator,BAT", "UPS,ups,QM + QB,230/400,TN-S"];
    let joined = network(&[&MAINS, &ups], &["U/C,UPS,mains,384 dc,+ -,unearthed,384,QM,"]);
    assert!(!joined.codes().contains(&"system-contradiction"), "{:?}", joined.codes());
    let output = network(&[&MAINS, &ups, &["Q1,isolator,UPS"]], &["U/1,UPS,ups,,L1 N,,230,Q1,"]);
    assert!(
        output
            .network
            .systems()
            .of_way(WayId::new(0))
            .iter()
            .all(|system| { system.nominal.is_some_and(|nominal| nominal.current == Current::Ac) })
    );
}

#[test]
fn a_board_cannot_change_its_voltage() {
    let with = |nominal: &str| {
        let board = format!("DB,busbar,MSB,{nominal}");
        network(&[&MAINS, &[&board, "Q1,isolator,DB"]], &["D/1,DB,mains,,L1 N,,,Q1,"])
    };
    let lower = with("120/208");
    assert_eq!(lower.codes(), ["system-contradiction"]);
    assert_eq!(
        lower.findings.iter().find(|it| it.code.name == "system-contradiction").unwrap().place.as_ref().unwrap().cell,
        "120/208"
    );
    assert_eq!(lower.voltage().to_earth, Some(Volts::whole(230)));
    assert_eq!(with("400/690").voltage().to_earth, Some(Volts::whole(400)));
    let one_line = with("230");
    assert_eq!(one_line.codes(), [] as [&str; 0]);
    assert_eq!(one_line.voltage().to_earth, Some(Volts::whole(230)));
}

#[test]
fn boards_of_a_ring_are_one_junction() {
    let ring = |phasing: &str| {
        [
            format!("R1,busbar,QM + R3,,,,{phasing}"),
            format!("R2,busbar,R1 + R3,,,,{phasing}"),
            format!("R3,busbar,R2 + R1,,,,{phasing}"),
            "Q1,isolator,R1".to_owned(),
            "Q2,isolator,R3".to_owned(),
        ]
    };
    let between = |phasing: &str| {
        let ring = ring(phasing);
        let ring: Vec<_> = ring.iter().map(String::as_str).collect();
        network(&[&MAINS, &ring], &["R/1,R1,mains,,L1 N,,230,Q1,", "R/2,R3,mains,,L1 N,,230,Q2,"]).between()
    };
    assert_eq!(between("proved"), None);
    assert_eq!(between(""), Some((400, false, Apart::TwoBoards)));
}

#[test]
fn so_many_sources_that_they_are_no_longer_told_apart_still_bound_the_voltage() {
    let mut lines: Vec<String> =
        (0..20).map(|number| format!("S{number},source,,{}/{},IT", 300 + number, 520 + 2 * number)).collect();
    let all: Vec<_> = (0..20).map(|number| format!("S{number}")).collect();
    lines.push(format!("B,changeover,{}", all.join(" + ")));
    lines.extend(["Q1,isolator,B".to_owned(), "Q2,isolator,S0".to_owned()]);
    let lines: Vec<_> = lines.iter().map(String::as_str).collect();
    let joined = network(&[&lines], &["B/1,B,mains,,L1 L2 L3,,,Q1,", "B/2,S0,mains,,L1 L2 L3,,400,Q2,"]);
    assert_eq!(joined.network.systems().others_of_way(WayId::new(0)), Others::TooMany);
    assert_eq!(joined.voltage().computed.at_least, Some(Volts::whole(558)));
}

#[test]
fn a_chain_of_a_hundred_thousand_is_followed_without_recursion() {
    use super::super::graph::{Feed, Named, Neutral, Node, NodeKind, Side};
    let mut graph = super::super::Graph::default();
    let length = 100_000_u32;
    let add = |graph: &mut super::super::Graph, row| {
        let kind = if row == 0 { NodeKind::Source } else { NodeKind::Isolator };
        graph.add_node(Node {
            kind,
            named: Named::Described(row),
            poles: None,
            coupled: None,
            neutral: Neutral::PassedOn,
        })
    };
    let nodes: Vec<_> = (0..length).map(|row| add(&mut graph, row)).collect();
    nodes.windows(2).for_each(|pair| graph.add_feed(pair[0], pair[1]));
    graph.finish();
    let Feed { to: last, .. } = *graph.feeds().last().unwrap();
    let supplies = described(SUPPLIES, &["NET,source,,230/400,TN-S"]);
    let (systems, _) = descent::descend(&graph, &supplies);
    let place = systems.load_sides[last.index()];
    assert_eq!(systems.systems_at(place).0.len(), 1);
    assert_eq!(place.junction, Some(Terminal { node: nodes[0], side: Side::Load }));
}
