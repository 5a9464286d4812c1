//! What holds for every pair of files, however tangled.

use proptest::prelude::*;

use super::super::testing::{described, joined, surveyed};
use super::super::{Lender, Network, NodeId, Side, WayId};

/// Devices 0 to 7 may be described, 8 and 9 are only named.
const NAMES: usize = 10;

/// A row of the supplies file: kind, and what feeds it.
type Device = (usize, Vec<usize>);

/// A row of the survey: circuit, supplies, isolators, a shared neutral.
type Circuit = (usize, Vec<usize>, Vec<usize>, Option<usize>);

const KINDS: [&str; 8] = ["source", "breaker", "switch", "changeover", "transformer", "ups", "converter", "busbar"];

fn sites() -> impl Strategy<Value = (Vec<Device>, Vec<Circuit>)> {
    let names = |most| prop::collection::vec(0..NAMES, 0..most);
    let device = (0..KINDS.len(), names(4));
    let circuit = (0..NAMES + 4, names(3), names(3), prop::option::of(0..NAMES + 4));
    (prop::collection::vec(device, 1..8), prop::collection::vec(circuit, 1..5))
}

fn network((devices, circuits): &(Vec<Device>, Vec<Circuit>), name: impl Fn(usize) -> String) -> Network {
    let list = |names: &[usize]| names.iter().map(|it| name(*it)).collect::<Vec<_>>().join(" + ");
    let lines: Vec<_> = devices
        .iter()
        .enumerate()
        .map(|(row, (kind, feeds))| format!("{},{},{}", name(row), KINDS[*kind], list(feeds)))
        .collect();
    let rows: Vec<_> = circuits
        .iter()
        .map(|(circuit, supplies, isolators, lender)| {
            let isolators = if isolators.is_empty() { "?".to_owned() } else { list(isolators) };
            let lender = lender.map(&name).unwrap_or_default();
            format!("E1,{},{},mains,230,{isolators},,{lender}", name(*circuit), list(supplies))
        })
        .collect();
    let lines: Vec<_> = lines.iter().map(String::as_str).collect();
    let rows: Vec<_> = rows.iter().map(String::as_str).collect();
    let header = "enclosure,circuit,fed_from,source,voltage_to_earth,isolator,isolator_location,neutral_from";
    joined(&surveyed(header, &rows), &described("device,kind,fed_from", &lines)).0
}

/// Where a row hangs, and its lender, by the numbers of the nodes.
type Shape = (Vec<(usize, bool)>, Option<Vec<usize>>);

fn shape(network: &Network, rows: usize) -> Vec<Shape> {
    let of_way = |way| {
        let live = network.live_parts(way).iter();
        let lender = match network.lender(way) {
            Lender::None => Some(Vec::new()),
            Lender::At(terminals) => Some(terminals.iter().map(|it| it.node.index()).collect()),
            Lender::NotFound => None,
        };
        (live.map(|it| (it.node.index(), it.side == Side::Load)).collect(), lender)
    };
    (0..rows).map(|row| of_way(WayId::new(row))).collect()
}

proptest! {
    #[test]
    fn every_terminal_and_feed_is_of_a_node_and_no_node_feeds_itself(site in sites()) {
        let network = network(&site, |it| format!("D{it}"));
        let nodes = network.graph().nodes().len();
        for feed in network.graph().feeds() {
            prop_assert!(feed.from.index() < nodes && feed.to.index() < nodes);
            prop_assert!(feed.from != feed.to);
        }
        for row in 0..site.1.len() {
            prop_assert!(network.live_parts(WayId::new(row)).iter().all(|it| it.node.index() < nodes));
        }
        prop_assert!((0..nodes).all(|node| !network.node_name(NodeId::new(node)).is_empty()));
    }

    #[test]
    fn renaming_changes_nothing(site in sites()) {
        let one = network(&site, |it| format!("D{it}"));
        let other = network(&site, |it| format!("Zx{}", 90 - it));
        prop_assert_eq!(shape(&one, site.1.len()), shape(&other, site.1.len()));
        prop_assert_eq!(one.graph().feeds(), other.graph().feeds());
    }
}
