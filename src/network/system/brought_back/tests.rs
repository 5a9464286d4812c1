use proptest::prelude::*;

use super::super::super::testing::{described, joined, surveyed};
use super::super::super::{EnclosureId, Network};
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
    assert_eq!(further(&own, vec![unearthed(begun(1, 230)), begun(1, 230)]), []);
    assert_eq!(further(&own, vec![unearthed(begun(1, 400))]), [unearthed(begun(1, 400))]);
    let otherwise = System { earthing: Some(Earthing::It), ..begun(1, 230) };
    assert_eq!(further(&own, vec![otherwise]), [otherwise]);
    assert_eq!(further(&own, vec![System { nominal: None, ..otherwise }]), [], "it tells no voltage");
}
