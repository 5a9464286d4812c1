//! What comes back on small networks, and on random ones against single wires in every position of the changeovers.

use proptest::prelude::*;

use super::super::super::testing::{described, joined, surveyed};
use super::super::super::{EnclosureId, Network, WayVoltage};
use super::*;
use crate::survey::value::{Earthing, Nominal, Volts};

const SUPPLIES: &str = "device,kind,fed_from,nominal,earthing";
const SURVEY: &str =
    "enclosure,circuit,fed_from,nominal,conductors,earthing,voltage_to_earth,isolator,isolator_location";

/// What a node of a random site is. Those that begin a voltage each begin another one.
#[derive(Clone, Copy, Debug, PartialEq)]
enum Thing {
    Source,
    Transformer,
    Isolator,
    Switch,
    Busbar,
    Changeover,
}

#[derive(Clone, Debug)]
struct Site(Vec<(Thing, Vec<usize>)>);

fn sites() -> impl Strategy<Value = Site> {
    let thing = prop_oneof![
        2 => Just(Thing::Source),
        1 => Just(Thing::Transformer),
        3 => Just(Thing::Isolator),
        1 => Just(Thing::Switch),
        4 => Just(Thing::Busbar),
        2 => Just(Thing::Changeover),
    ];
    prop::collection::vec((thing, prop::collection::vec(any::<usize>(), 1..3)), 1..10).prop_map(|drawn| {
        let mut nodes = vec![(Thing::Source, Vec::new())];
        for (thing, feeds) in drawn {
            let mut feeds: Vec<_> = feeds.into_iter().map(|feed| feed % nodes.len()).collect();
            feeds.sort_unstable();
            feeds.dedup();
            if thing == Thing::Source {
                feeds.clear();
            }
            nodes.push((thing, feeds));
        }
        Site(nodes)
    })
}

impl Site {
    /// The voltage to neutral that begins at a node.
    const fn volts(node: usize) -> usize {
        100 + 10 * node
    }

    fn supplies(&self) -> Vec<String> {
        let row = |(index, (thing, feeds)): (usize, &(Thing, Vec<usize>))| {
            let feeds: Vec<_> = feeds.iter().map(|feed| format!("N{feed}")).collect();
            let (kind, begins) = match thing {
                Thing::Source => ("source", true),
                Thing::Transformer => ("transformer", true),
                Thing::Isolator => ("isolator", false),
                Thing::Switch => ("switch", false),
                Thing::Busbar => ("busbar", false),
                Thing::Changeover => ("changeover", false),
            };
            let volts = Self::volts(index);
            let system =
                if begins { format!("{volts}/{},TN-S", (volts * 1_732).div_ceil(1_000)) } else { ",".to_owned() };
            format!("N{index},{kind},{},{system}", feeds.join(" + "))
        };
        let isolators = (0..self.0.len()).map(|index| format!("Q{index},isolator,N{index},,"));
        self.0.iter().enumerate().map(row).chain(isolators).collect()
    }

    /// The highest voltage to earth that is found at the load side of each node.
    fn reported(&self) -> Vec<usize> {
        let supplies = self.supplies();
        let supplies = described(SUPPLIES, &supplies.iter().map(String::as_str).collect::<Vec<_>>());
        let rows: Vec<_> =
            (0..self.0.len()).map(|index| format!("E{index},C/{index},N{index},,L1 N,,,Q{index},")).collect();
        let survey = surveyed(SURVEY, &rows.iter().map(String::as_str).collect::<Vec<_>>());
        let network: Network = joined(&survey, &supplies).0;
        let of_row = |index| network.ways(EnclosureId::new(index))[0].voltage.to_earth.unwrap().to_volts();
        (0..self.0.len()).map(|index| of_row(index) as usize).collect()
    }

    /// The same with single wires, in every position of the changeovers.
    fn in_every_position(&self) -> Vec<usize> {
        let nodes = self.0.len();
        let mut highest = vec![0; nodes];
        let positions = |node: usize| if self.0[node].0 == Thing::Changeover { self.0[node].1.len() } else { 1 };
        let all: usize = (0..nodes).map(positions).product();
        for mut number in 0..all {
            // A piece of copper for every terminal: supply sides first.
            let mut wires = Vec::new();
            for (node, (thing, feeds)) in self.0.iter().enumerate() {
                let position = number % positions(node);
                number /= positions(node);
                match thing {
                    Thing::Changeover => wires.push((nodes + feeds[position], nodes + node)),
                    Thing::Source | Thing::Transformer | Thing::Isolator | Thing::Switch | Thing::Busbar => {
                        wires.extend(feeds.iter().map(|feed| (nodes + feed, node)))
                    }
                }
                if matches!(thing, Thing::Isolator | Thing::Switch | Thing::Busbar) {
                    wires.push((node, nodes + node));
                }
            }
            for begins in (0..nodes).filter(|node| matches!(self.0[*node].0, Thing::Source | Thing::Transformer)) {
                let mut reached = vec![false; 2 * nodes];
                reached[nodes + begins] = true;
                while let Some((one, other)) = wires.iter().find(|(one, other)| reached[*one] != reached[*other]) {
                    (reached[*one], reached[*other]) = (true, true);
                }
                for node in (0..nodes).filter(|node| reached[nodes + node]) {
                    highest[node] = highest[node].max(Self::volts(begins));
                }
            }
        }
        highest
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(500))]

    #[test]
    fn no_voltage_is_lower_than_what_wires_bring(site in sites()) {
        let (reported, wires) = (site.reported(), site.in_every_position());
        for (node, (reported, wires)) in reported.iter().zip(&wires).enumerate() {

            prop_assert!(reported >= wires, "N{node}: {reported} for {wires}: {:#?}", site.supplies());
        }
    }
}

/// A system that begins at this node, so many volts to neutral.
fn begun(node: usize, volts: u32) -> System {
    let (node, volts) = (NodeId::new(node), Volts::whole(volts));
    let nominal = Some(Nominal { current: Current::Ac, to_neutral: Some(volts), between: None });
    System { began: node, nominal, earthed: node, earthing: Some(Earthing::TnS) }
}

#[test]
fn of_too_many_voltages_the_highest_are_kept_and_it_is_said() {
    let mut piece = Piece::default();
    let told = |node: usize, volts: u32| Entry { system: begun(node, volts), by: Some(NodeId::new(node)) };
    for node in 0..40 {
        piece.take(told(node, 100 + u32::try_from(node).unwrap()));
    }
    let volts: Vec<u32> =
        piece.entries.iter().map(|it| it.system.nominal.unwrap().to_neutral.unwrap().to_milli() / 1_000).collect();
    assert_eq!(volts, (108..140).rev().collect::<Vec<_>>());
    assert_eq!(piece.others, Others::TooMany);
    assert!(!piece.take(told(41, 90)), "none of the highest");
}

#[test]
fn of_alike_ones_two_are_kept_that_come_in_by_different_nodes() {
    let mut piece = Piece::default();
    let mut take =
        |began: usize, by: Option<usize>| piece.take(Entry { system: begun(began, 230), by: by.map(NodeId::new) });
    assert!(take(0, Some(5)));
    assert!(!take(1, Some(5)), "by the same node");
    assert!(!take(1, None), "what is told anew is no news");
    assert!(take(1, Some(6)));
    assert!(!take(2, Some(7)), "a third");
    assert_eq!((piece.entries.len(), piece.others), (2, Others::None));
}

#[test]
fn what_comes_back_of_unknown_earthing_and_the_same_voltage_is_no_other() {
    let unearthed = |system: System| System { earthing: None, ..system };
    let own = [begun(0, 230)];
    assert_eq!(further(&own, &[unearthed(begun(1, 230)), begun(1, 230)]), []);
    assert_eq!(further(&own, &[unearthed(begun(1, 400))]), [unearthed(begun(1, 400))]);
    let otherwise = System { earthing: Some(Earthing::It), ..begun(1, 230) };
    assert_eq!(further(&own, &[otherwise]), [otherwise]);
    assert_eq!(further(&own, &[System { nominal: None, ..otherwise }]), [], "it tells no voltage");
    assert_eq!(further(&own, &[unearthed(begun(1, 400)), begun(2, 400)]), [begun(2, 400)], "another one tells it");
    let pair = Nominal { between: Some(Volts::whole(400)), ..begun(0, 230).nominal.unwrap() };
    let neither_tells = [unearthed(begun(1, 230)), unearthed(System { nominal: Some(pair), ..begun(2, 230) })];
    assert_eq!(further(&[], &neither_tells), neither_tells);
    assert_eq!(further(&[begun(0, 230), begun(0, 400)], &[begun(1, 230)]), []);
}

/// The voltages of a circuit of each of these boards, beside the mains `NET` of 230/400 TN-S and their board `MB`.
fn at(boards: &[&str], lines: &[&str]) -> Vec<WayVoltage> {
    let isolators: Vec<String> = boards.iter().map(|board| format!("Q-{board},isolator,{board},,")).collect();
    let mains = ["NET,source,,230/400,TN-S", "QM,isolator,NET,,", "MB,busbar,QM,,"];
    let rows = mains.iter().chain(lines).copied().chain(isolators.iter().map(String::as_str));
    let supplies = described(SUPPLIES, &rows.collect::<Vec<_>>());
    let rows: Vec<_> = boards.iter().map(|board| format!("E-{board},C/{board},{board},,L1 N,,,Q-{board},")).collect();
    let survey = surveyed(SURVEY, &rows.iter().map(String::as_str).collect::<Vec<_>>());
    let network = joined(&survey, &supplies).0;
    (0..boards.len()).map(|index| *network.ways(EnclosureId::new(index))[0].voltage).collect()
}

/// The highest to earth at each of these boards.
fn volts_at(boards: &[&str], lines: &[&str]) -> Vec<f64> {
    at(boards, lines).iter().map(|voltage| voltage.to_earth.unwrap().to_volts()).collect()
}

const GENERATOR: [&str; 2] = ["GEN,source,,230/400,IT", "GB,busbar,GEN,,"];

#[test]
fn it_comes_through_a_coupler_from_whichever_board_that_is_fed() {
    let coupled = |rest: &[&'static str]| volts_at(&["MB", "GB", "B"], &[&GENERATOR, rest].concat());
    assert_eq!(coupled(&["QC,isolator,MB,,", "B,busbar,QC + GB,,"]), [400.0; 3]);
    assert_eq!(coupled(&["QC,isolator,B,,", "B,busbar,MB,,", "X,busbar,QC + GB,,"]), [400.0; 3]);
    assert_eq!(coupled(&["QC,switch,MB,,", "B,network-cutout,QC,,", "X,busbar,B + GB,,"]), [400.0; 3]);
    assert_eq!(coupled(&["QC,isolator,MB,,", "B,busbar,QC,,"]), [230.0, 400.0, 230.0]);
}

#[test]
fn it_comes_through_no_changeover_from_one_feed_to_the_other() {
    let below = ["CO,changeover,MB + GB,,", "B,busbar,CO + PV,,", "PV,source,,100/173,TN-S"];
    assert_eq!(volts_at(&["MB", "GB", "B"], &[&GENERATOR[..], &below].concat()), [230.0, 400.0, 400.0]);
    // What is below goes up to both.
    let below = ["S2,source,,120/208,TN-S", "CO,changeover,MB + S2,,", "B,busbar,CO + GB,,"];
    assert_eq!(volts_at(&["MB", "S2", "B"], &[&GENERATOR[..], &below].concat()), [400.0; 3]);
    // What comes into one feed from a board beside it goes down.
    let beside = ["QC,isolator,MB,,", "X,busbar,QC + GB,,", "CO,changeover,MB + S2,,", "S2,source,,120/208,TN-S"];
    assert_eq!(volts_at(&["CO", "S2"], &[&GENERATOR[..], &beside].concat()), [400.0, 120.0]);
}

#[test]
fn it_comes_down_through_one_changeover_and_up_through_another() {
    let lines = [
        "S1,source,,120/208,TN-S",
        "S2,source,,120/208,TN-S",
        "QC,isolator,MB,,",
        "X,busbar,QC + GB,,",
        "CO1,changeover,MB,,",
        "CO2,changeover,S1,,",
        "CO3,changeover,S2,,",
        "T1,transformer,CO1 + CO2,24/42,TN-S",
        "Y,busbar,CO3 + S1,,",
    ];
    assert_eq!(volts_at(&["S1", "CO2", "Y", "S2"], &[&GENERATOR[..], &lines].concat()), [400.0; 4]);
}

#[test]
fn it_goes_on_down_and_up_for_as_long_as_it_comes_to_new_boards() {
    // Each board below is fed from two changeovers, down one of which it comes and up the other to the board beside.
    let higher = ["GEN,source,,400/690,TN-S", "QC,isolator,MB,,", "X,busbar,QC + GEN,,"];
    let mut lines: Vec<String> = higher.map(str::to_owned).into();
    let above = |number: usize| if number == 0 { "MB".to_owned() } else { format!("B{number}") };
    for number in 0..5 {
        let (here, next) = (above(number), above(number + 1));
        lines.extend([
            format!("S{number},source,,230/400,TN-S"),
            format!("{next},busbar,S{number},,"),
            format!("D{number},changeover,{here},,"),
            format!("U{number},changeover,{next},,"),
            format!("P{number},busbar,D{number} + U{number},,"),
        ]);
    }
    let lines: Vec<&str> = lines.iter().map(String::as_str).collect();
    assert_eq!(volts_at(&["MB", "P0", "B1", "B2", "B3", "B4", "P4", "B5"], &lines), [400.0; 8]);
}

#[test]
fn it_goes_up_through_changeovers_one_on_the_other() {
    let lines = [
        "S1,source,,120/208,TN-S",
        "S2,source,,120/208,TN-S",
        "CO1,changeover,MB + S1,,",
        "CO2,changeover,CO1 + S2,,",
        "QC,isolator,CO2,,",
        "X,busbar,QC + GB,,",
    ];
    assert_eq!(volts_at(&["MB", "S1", "CO1", "S2"], &[&GENERATOR[..], &lines].concat()), [400.0; 4]);
}

#[test]
fn an_earthing_that_is_told_on_the_way_comes_back_with_it() {
    let generator = ["GEN,source,,230/400,", "GB,busbar,GEN,,IT"];
    let coupled = ["QC,isolator,MB,,", "B,busbar,QC + GB,,"];
    assert_eq!(volts_at(&["MB"], &[generator, coupled].concat()), [400.0]);
    let below = ["S2,source,,120/208,TN-S", "CO,changeover,MB + S2,,", "B,busbar,CO + GB,,"];
    assert_eq!(volts_at(&["MB", "S2"], &[&generator[..], &below].concat()), [400.0; 2]);
    // That of an installation below the changeover does not go back up with what comes down to it.
    let below = ["S2,source,,120/208,TN-S", "CO,changeover,MB + S2,,", "K,busbar,CO,,IT", "B,busbar,K + PV,,"];
    let modules = ["PV,source,,100/173,TN-S"];
    assert_eq!(volts_at(&["MB", "S2", "B"], &[&below[..], &modules].concat()), [230.0, 120.0, 400.0]);
}

#[test]
fn it_comes_to_the_output_of_a_ups_by_its_bypass_and_from_its_battery_it_does_not() {
    let ups = ["U1,ups,MB,230,TN-S", "QC,isolator,MB,,", "X,busbar,QC + GB,,"];
    assert_eq!(volts_at(&["U1"], &[&GENERATOR[..], &ups].concat()), [400.0]);
    let batteries = [
        "B1,source,,480 dc,unearthed",
        "B2,source,,500 dc,unearthed",
        "DC,busbar,B1 + B2,,",
        "U1,ups,MB + DC,230,TN-S",
    ];
    let [output] = at(&["U1"], &batteries)[..] else { panic!("one circuit") };
    assert_eq!((output.to_earth, output.other), (Some(Volts::whole(230)), None));
}

#[test]
fn it_comes_to_a_row_of_direct_current_as_the_other_that_is_there() {
    let voltage = |beside: &[&str]| {
        let lines = ["NET,source,,230/400,TN-S", "MB,busbar,NET,,", "U1,ups,MB,230,TN-S", "Q1,isolator,U1,,"];
        let supplies = described(SUPPLIES, &[&lines, beside].concat());
        let survey = surveyed(SURVEY, &["E1,C/1,U1,480 dc,,unearthed,,Q1,"]);
        *joined(&survey, &supplies).0.ways(EnclosureId::new(0))[0].voltage
    };
    let coupled = [&GENERATOR[..], &["QC,isolator,MB,,", "X,busbar,QC + GB,,"]].concat();
    for (beside, alternating) in [(&[][..], 230), (&coupled, 400)] {
        let told = voltage(beside);
        assert_eq!((told.current, told.to_earth), (Current::Dc, Some(Volts::whole(480))));
        assert_eq!(told.other.map(|other| other.to_earth), Some(Volts::whole(alternating)));
    }
}

#[test]
fn what_comes_back_to_a_ups_does_not_come_to_the_direct_current_in_it() {
    for kind in ["ups", "converter"] {
        let inside = format!("U1,{kind},Q1,230,TN-S");
        let lines = ["NET,source,,230/400,TN-S", "MB,busbar,NET,,", "Q1,isolator,MB,,", &inside];
        let coupled = ["QC,isolator,U1,,", "X,busbar,QC + GB,,"];
        let survey = surveyed(SURVEY, &["E1,C/1,U1,480 dc,,unearthed,,Q1,"]);
        let told = |lines: &[&str]| {
            let (network, findings) = joined(&survey, &described(SUPPLIES, lines));
            let way = &network.ways(EnclosureId::new(0))[0];
            (
                *way.voltage,
                way.needs,
                findings
                    .into_iter()
                    .map(|it| it.code.name)
                    .filter(|it| *it != "device-feeds-nothing")
                    .collect::<Vec<_>>(),
            )
        };
        let there = told(&[&lines[..], &GENERATOR, &coupled].concat());
        assert_eq!((there.0.to_earth, there.0.other), (Some(Volts::whole(480)), None));
        assert_eq!(there, told(&lines));
    }
}

#[test]
fn it_goes_up_where_an_alike_one_comes_down() {
    let lines = [
        "E1,source,,400/690,TN-S",
        "E2,source,,230/400,TN-S",
        "X,changeover,E1 + E2,,",
        "F,busbar,X,,",
        "N,changeover,F + MB,,",
        "G2,source,,400/690,TN-S",
        "P,busbar,N + G2,,",
    ];
    assert_eq!(volts_at(&["E1", "E2", "F", "MB"], &lines), [400.0; 4]);
}

#[test]
fn of_two_places_either_may_have_too_many() {
    let coupled = |source: usize| {
        let volts = 100 + source;
        [
            format!("S{source},source,,{volts}/{},TN-S", volts * 1_732 / 1_000),
            format!("X{source},busbar,X + S{source},,"),
        ]
    };
    let lines: Vec<String> = (0..40).flat_map(coupled).collect();
    let further =
        ["X,busbar,A,,", "A,source,,230/400,TN-S", "B,source,,230/400,TN-S", "Y,busbar,B + C,,", "C,busbar,B,,"];
    let lines: Vec<&str> = further.into_iter().chain(lines.iter().map(String::as_str)).collect();
    let network = joined(&surveyed(SURVEY, &["E1,C/1,X,,L1 N,,,QX,"]), &described(SUPPLIES, &lines)).0;
    let (graph, systems) = (network.graph(), &network.systems);
    let found = BroughtBack::of(graph, systems);
    let node = |name: &str| {
        let mut nodes = (0..graph.nodes().len()).map(NodeId::new);
        Terminal { node: nodes.find(|node| network.node_name(*node) == name).unwrap(), side: Side::Load }
    };
    let (many, few) = (node("X"), node("Y"));
    assert_eq!(found.at(graph, &[few]).1, Others::None);
    assert_eq!(found.at(graph, &[many, few]).1, Others::TooMany);
    assert_eq!(found.at(graph, &[few, many]).1, Others::TooMany);
}

#[test]
fn it_comes_through_no_ups_and_no_transformer() {
    for between in ["U1,ups,MB,230/400,TN-S", "U1,transformer,MB,230/400,TN-S", "U1,converter,MB,230/400,TN-S"] {
        let lines = [&GENERATOR[..], &[between, "B,busbar,U1 + GB,,"]].concat();
        assert_eq!(volts_at(&["MB", "B"], &lines), [230.0, 400.0], "{between}");
    }
}

#[test]
fn direct_current_comes_through_a_changeover() {
    let lines = [
        "B1,source,,110 dc,unearthed",
        "B2,source,,220 dc,unearthed",
        "B3,source,,24 dc,unearthed",
        "DC,busbar,B1,,",
        "QC,isolator,DC,,",
        "X,busbar,QC + B2,,",
        "CO,changeover,DC + B3,,",
    ];
    let voltages = at(&["DC", "CO", "B3"], &lines);
    let direct: Vec<u32> = voltages.iter().map(|it| it.other.unwrap().to_earth.to_milli() / 1_000).collect();
    assert_eq!(direct, [220, 220, 24]);
}

#[test]
fn beside_something_that_nobody_describes_it_is_the_least_that_can_stand_there() {
    let lines = ["B,busbar,NOBODY,,", "QC,isolator,B,,", "X,busbar,QC + GB,,"];
    let [voltage] = at(&["B"], &[&GENERATOR[..], &lines].concat())[..] else { panic!("one circuit") };
    assert_eq!((voltage.computed.to_earth, voltage.computed.at_least), (None, Some(Volts::whole(400))));
}

#[test]
fn of_too_many_that_come_back_no_voltage_is_certain() {
    let with = |sources: usize| {
        let coupled = |source: usize| {
            let volts = 100 + source;
            let begun = format!("S{source},source,,{volts}/{},TN-S", volts * 1_732 / 1_000);
            [begun, format!("QX{source},isolator,X,,"), format!("X{source},busbar,QX{source} + S{source},,")]
        };
        let lines: Vec<String> = (0..sources).flat_map(coupled).collect();
        let lines: Vec<&str> = lines.iter().map(String::as_str).chain(["QC,isolator,MB,,", "X,busbar,QC,,"]).collect();
        at(&["MB"], &lines)[0].computed
    };
    let highest = Some(Volts::whole(230));
    assert_eq!((with(40).to_earth, with(40).at_least), (None, highest));
    assert_eq!(with(30).to_earth.map(|(volts, _)| volts), highest);
}
