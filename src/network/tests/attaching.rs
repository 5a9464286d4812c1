//! Where live parts hang, by how a row's isolators and supplies lie to each other in the supplies file.

use super::super::testing::{described, described_chain, joined, live_parts, surveyed};
use super::super::{Lender, Network, NodeKind, Side, WayId};
use crate::supplies::Supplies;

const HEADER: &str = "enclosure,circuit,fed_from,source,voltage_to_earth,isolator,isolator_location";

/// Network -> Q1 -> DB-C -> Q7, with solar modules behind an inverter on DB-C.
fn site() -> Supplies {
    described(
        "device,kind,fed_from,location",
        &[
            "Network,source,,",
            "Q1,switch-disconnector,Network,Switchroom 1",
            "DB-C,busbar,Q1 + QPV,",
            "Q7,breaker,DB-C,Board C",
            "PV1,source,,",
            "INV-1,converter,PV1,",
            "QPV,switch-disconnector,INV-1,Roof",
        ],
    )
}

fn attached(rows: &[&str]) -> (Network, Vec<String>) {
    let (network, _) = joined(&surveyed(HEADER, rows), &site());
    let live = live_parts(&network);
    (network, live)
}

fn live(row: &str) -> String {
    attached(&[row]).1.remove(0)
}

#[test]
fn a_described_circuit_tells_where_its_parts_hang() {
    assert_eq!(live("E1,Q7,DB-C,mains,230,Q1,Switchroom 1"), "load of Q7");
    assert_eq!(live("E1,DB-C,,mains,230,Q7,Board C"), "load of Q7", "beyond an isolator below it");
    assert_eq!(live("E1,DB-C,,solar,230,Q1,Switchroom 1"), "supply of Q1", "where its energy comes back");
    assert_eq!(live("E1,Q7,,mains,230,?,"), "load of Q7");
}

/// The breaker of another board bears the name of a circuit: where the row is fed from counts too.
#[test]
fn a_circuit_off_its_supply_may_be_another_one() {
    assert_eq!(live("E1,Q1,INV-1,solar,230,QPV,Roof"), "load of Q1, load of QPV");
    assert_eq!(live("E1,Q1,Network,mains,230,QPV,Roof"), "load of Q1");
}

#[test]
fn below_its_isolator_a_circuit_hangs_on_the_load_side() {
    assert_eq!(live("E1,C/7,DB-C,mains,230,Q7,Board C"), "load of Q7");
    assert_eq!(live("E1,C/7,Network,mains,230,Q7,Board C"), "load of Q7");
    assert_eq!(live("E1,C/7,,mains,230,Q7,Board C"), "load of Q7");
    assert_eq!(live("E1,C/7,Q7,mains,230,Q7,Board C"), "load of Q7");
}

#[test]
fn energy_that_comes_back_from_below_meets_the_supply_side() {
    assert_eq!(live("E1,Q1/1,DB-C,solar,230,Q1,Switchroom 1"), "supply of Q1");
    assert_eq!(live("E1,Q1/1,DB-C,PV1,230,Q1,Switchroom 1"), "supply of Q1");
}

/// The main switch of a board isolates the board's circuits: they hang on the board, whatever else feeds it.
#[test]
fn energy_that_comes_back_through_several_in_a_row_is_held_by_the_first() {
    let file = described(
        "device,kind,fed_from",
        &["Network,source,", "Q0,breaker,Network", "Q1,breaker,Q0", "DB,busbar,Q1 + PV", "PV,source,"],
    );
    let survey = surveyed(HEADER, &["E1,Q1/1,DB,PV,230,Q0 + Q1,here + there"]);
    assert_eq!(live_parts(&joined(&survey, &file).0), ["supply of Q1"]);
}

#[test]
fn a_circuit_isolated_by_the_incomer_of_its_board_hangs_on_the_board() {
    assert_eq!(live("E1,C/7,DB-C,mains,230,Q1,Switchroom 1"), "load of DB-C");
    assert_eq!(live("E1,C/7,DB-C,,230,Q1,Switchroom 1"), "load of DB-C");
    let both = "E1,C/7,DB-C,mains,230,Q1 + Q7,Switchroom 1 + Board C";
    assert_eq!(live(both), "load of Q7");
}

/// Network 1 -> QA -> SEC-A -> QBC -> SEC-B <- QB <- Network 2: each half of the board comes through the coupler too.
#[test]
fn the_bars_of_a_board_are_its_live_parts_whichever_way_energy_comes_through_a_coupler() {
    let file = described(
        "device,kind,fed_from",
        &[
            "Network 1,source,",
            "QA,breaker,Network 1",
            "SEC-A,busbar,QA",
            "QBC,breaker,SEC-A",
            "SEC-B,busbar,QB + QBC",
            "QB,breaker,Network 2",
            "Network 2,source,",
        ],
    );
    let live = |rows: &[&str]| live_parts(&joined(&surveyed(HEADER, rows), &file).0);
    let one = ["SEC-A,SEC-A,Network 1,mains,230,QA,Board", "SEC-A,SEC-A,SEC-B,mains,230,QBC,Board"];
    assert_eq!(live(&one), ["load of SEC-A", "load of SEC-A"]);
    let other = ["SEC-B,SEC-B,Network 2,mains,230,QB,Board", "SEC-B,SEC-B,SEC-A,mains,230,QBC,Board"];
    assert_eq!(live(&other), ["load of SEC-B", "load of SEC-B"]);
    let elsewhere = live(&["E1,SEC-A,SEC-B,mains,230,QBC,Board"]);
    assert_eq!(elsewhere, ["load of QBC"], "another enclosure may hold what lies beyond");
}

/// Network -> MSB -> Q0 -> UPS-1 -> Q1 -> OUT, and MSB -> QB -> OUT around it.
#[test]
fn what_a_bypass_brings_meets_the_output_terminals_of_a_ups() {
    let with_output = |output: &[&str]| {
        let all = ["Network,source,", "MSB,busbar,Network", "Q0,breaker,MSB", "UPS-1,ups,Q0", "Q1,breaker,UPS-1"];
        described("device,kind,fed_from", &[&all, output].concat())
    };
    let file = with_output(&["QB,breaker,MSB", "OUT,busbar,Q1 + QB"]);
    let live = |rows: &[&str]| live_parts(&joined(&surveyed(HEADER, rows), &file).0);
    let unsaid = |rows: &[&str], file: &Supplies| {
        let network = joined(&surveyed(HEADER, rows), file).0;
        let mut ways: Vec<usize> =
            network.outputs.iter().filter(|(_, of)| !of.further.is_empty()).map(|(way, _)| way.index()).collect();
        ways.sort_unstable();
        ways
    };
    let input = "UPS-1,U/1,MSB,mains,230,Q0,Room";
    let battery = "UPS-1,U/3,Battery,battery,230,none,";
    assert_eq!(unsaid(&[input], &file), [0], "no row speaks of the output");
    assert_eq!(unsaid(&[battery, input], &file), [1]);
    assert_eq!(
        live(&[battery, input]),
        ["load of Battery", "load of Q0"],
        "the row itself does not speak of it either"
    );
    assert!(unsaid(&[input, "UPS-1,U/3,Battery,battery,230,?,"], &file).is_empty());
    for source in ["mains", "Network", "UPS-1", "ups", ""] {
        let output = format!("UPS-1,U/2,OUT,{source},230,Q1,Room");
        assert_eq!(live(&[input, &output]), ["load of Q0", "supply of Q1"], "{source}");
        assert!(unsaid(&[input, &output], &file).is_empty(), "{source}");
    }
    assert_eq!(live(&["E1,U/2,OUT,mains,230,Q1,Room"]), ["load of OUT"], "another enclosure");
    assert_eq!(live(&[input, "UPS-1,OUT,OUT,mains,230,Q1,Room"])[1], "load of OUT", "a described circuit tells");
    let without = with_output(&["OUT,busbar,Q1"]);
    assert!(unsaid(&[input], &without).is_empty(), "nothing comes from outside");
}

#[test]
fn an_isolator_elsewhere_leaves_the_parts_on_their_supply() {
    assert_eq!(live("E1,X/1,INV-1,solar,230,Q1,Switchroom 1"), "load of INV-1");
}

#[test]
fn without_an_isolator_the_parts_hang_on_what_feeds_them() {
    assert_eq!(live("E1,C/7,DB-C + INV-1,mains,230,none,"), "load of DB-C, load of INV-1");
    assert_eq!(live("E1,C/7,DB-C,mains,230,?,"), "load of DB-C");
    assert_eq!(live("E1,C/7,,Network,230,?,"), "load of Network");
    assert_eq!(live("E1,C/7,,,230,?,"), "");
}

#[test]
fn undescribed_names_stand_between_what_is_known_and_the_parts() {
    let (network, live) = attached(&["E1,C/8,DB-C,mains,230,Q8,Board C", "E1,D/1,DB-D,mains,230,Q7,Board C"]);
    assert_eq!(live, ["load of Q8 (Board C)", "load of Q7, load of DB-D"]);
    let q8 = network.live_parts(WayId::new(0))[0].node;
    let feeding = network.graph().into_node(q8)[0].from;
    assert_eq!(network.node_name(feeding), "DB-C");
    let unknown = network.live_parts(WayId::new(1))[1].node;
    assert_eq!(network.graph().node(unknown).unwrap().kind, NodeKind::NotKnown);
    assert_eq!(network.graph().into_node(unknown), [], "what lies behind it may come through Q7 too");
}

#[test]
fn an_undescribed_chain_leads_from_source_to_parts() {
    let (network, live) = attached(&["E1,D/1,DB-D,generator,230,Q9,Board D"]);
    assert_eq!(live, ["load of Q9 (Board D)"]);
    let board = network.graph().into_node(network.live_parts(WayId::new(0))[0].node)[0].from;
    let source = network.graph().into_node(board)[0].from;
    assert_eq!((network.node_name(board), network.node_name(source)), ("DB-D".to_owned(), "generator".to_owned()));
}

#[test]
fn a_lender_is_found_in_any_enclosure_or_in_the_file() {
    let survey = surveyed(
        "enclosure,circuit,fed_from,voltage_to_earth,isolator,isolator_location,neutral_from",
        &[
            "E1,C/6,DB-C,230,Q7,Board C,C/5",
            "E2,C/5,DB-C,230,none,,",
            "E3,C/8,DB-C,230,Q7,Board C,q 7",
            "E4,C/9,DB-C,230,Q7,Board C,C/77",
            "E5,C/10,DB-C,230,Q7,Board C,?",
        ],
    );
    let (network, _) = joined(&survey, &site());
    let lender = |way| match network.lender(WayId::new(way)) {
        Lender::None => "own".to_owned(),
        Lender::NotFound => "not found".to_owned(),
        Lender::At(terminals) => {
            assert!(terminals.iter().all(|terminal| terminal.side == Side::Load));
            terminals.iter().map(|terminal| network.node_name(terminal.node)).collect::<Vec<_>>().join(", ")
        }
    };
    assert_eq!([0, 1, 2, 3, 4].map(lender), ["DB-C", "Q7", "Q7", "not found", "not found"]);
}

/// With only its own isolator open, the load of the circuit that borrows makes the lender's neutral live.
#[test]
fn a_circuit_that_lends_its_neutral_shares_it_with_those_that_borrow() {
    let header = "enclosure,circuit,fed_from,conductors,voltage_to_earth,isolator,isolator_location,neutral_from";
    let lenders = |rows: &[&str]| {
        let (network, _) = joined(&surveyed(header, rows), &site());
        let of_way = |way| match network.lender(WayId::new(way)) {
            Lender::None => "own".to_owned(),
            Lender::NotFound => "not found".to_owned(),
            Lender::At(terminals) => {
                terminals.iter().map(|it| network.node_name(it.node)).collect::<Vec<_>>().join(", ")
            }
        };
        (0..rows.len()).map(of_way).collect::<Vec<_>>()
    };
    let borrowers = ["E1,C/6,DB-C,L1 N,230,Q7,Board C,C/5", "E2,C/7,INV-1,L1 N,230,QPV,Roof,C/5"];
    let lender = "E3,C/5,DB-C,L1 N,230,?,,";
    assert_eq!(lenders(&[borrowers[0], borrowers[1], lender]), ["DB-C, QPV", "DB-C, Q7", "Q7, QPV"]);
    let lines_only = "E3,C/5,DB-C,L1 L2,230,?,,";
    assert_eq!(lenders(&[borrowers[0], lines_only]), ["DB-C", "own"]);
    let same_name = "E4,C/5,INV-1,L1 N,230,?,,";
    assert_eq!(lenders(&[borrowers[0], lender, same_name])[1..], ["not found", "not found"]);
}

#[test]
fn a_row_of_a_lending_circuit_that_hangs_nowhere_leaves_the_lender_unknown() {
    let survey = surveyed(
        "enclosure,circuit,fed_from,voltage_to_earth,isolator,isolator_location,neutral_from",
        &["E1,C/6,DB-C,230,Q7,Board C,C/5", "E2,C/5,DB-C,230,Q7,Board C,", "E3,C/5,,230,?,,"],
    );
    assert_eq!(joined(&survey, &site()).0.lender(WayId::new(0)), &Lender::NotFound);
}

#[test]
fn a_hundred_thousand_devices_in_a_chain_are_joined() {
    let rows: Vec<_> = (1..300).map(|row| format!("E{row},C/{row},D{},mains,230,D{},", row * 300, row * 290)).collect();
    let rows: Vec<_> = rows.iter().map(String::as_str).collect();
    let (network, _) = joined(&surveyed(HEADER, &rows), &described_chain(100_000));
    assert_eq!(network.graph().feeds().len(), 99_999);
    assert_eq!(live_parts(&network), ["load of D300"]);
}
