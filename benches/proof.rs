//! The proof of whole sites at growing sizes, and its floor: a plain search over the same network by petgraph alone.
//!
//! The largest site is the one that was promised: 10,000 enclosures, 40,000 circuits, 2,000 devices, 20 boards deep.

#![allow(clippy::unwrap_used, clippy::indexing_slicing, reason = "a bench that cannot go on stops")]

use std::fmt::Write as _;

use divan::counter::ItemsCount;
use noticewright::network::{EnclosureId, Network, NetworkOptions};
use noticewright::{supplies, survey};
use petgraph::graph::{DiGraph, NodeIndex};
use petgraph::visit::Bfs;

fn main() {
    divan::main();
}

/// How the boards of a site are connected.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Shape {
    /// One supply, boards one below the other.
    Tree,
    /// Two supplies behind changeovers, couplers between neighbouring boards, solar modules and UPSs on some.
    Mesh,
}

const DEPTH: usize = 20;

/// A supplies file of about so many devices, and its boards' names.
fn supplies_file(devices: usize, shape: Shape) -> (String, Vec<String>) {
    let mut text = String::from("device,kind,fed_from,location,off_position,poles,earthing,nominal\n");
    text += "Mains,source,,,,,TN-S,230/400\nSet,source,,,,,TN-S,230/400\n";
    text += "X0,changeover,Mains + Set,Switchroom,yes,3+N,,\nMB,busbar,X0,Switchroom,,,,\n";
    let (mut boards, mut count) = (vec!["MB".to_owned()], 4);
    let mut previous = "MB".to_owned();
    while count + 2 <= devices {
        let number = boards.len();
        if number % DEPTH == 0 {
            previous = "MB".to_owned();
        }
        let mut feeds = format!("Q-B{number}");
        let _ = writeln!(text, "Q-B{number},breaker,{previous},Switchroom,,3+N,,");
        if shape == Shape::Mesh && number % 10 == 0 {
            let _ = write!(feeds, " + T-B{number}");
            let _ = writeln!(text, "T-B{number},breaker,B{},Switchroom,,3+N,,", number - 5);
            count += 1;
        }
        if shape == Shape::Mesh && number % 50 == 0 {
            let _ = write!(feeds, " + Q-PV{number}");
            let _ = writeln!(text, "PV{number},source,,,,,TN-S,230/400");
            let _ = writeln!(text, "Q-PV{number},switch-disconnector,PV{number},Roof,,3+N,,");
            count += 2;
        }
        let _ = writeln!(text, "B{number},busbar,{feeds},Switchroom,,,,");
        previous = format!("B{number}");
        boards.push(previous.clone());
        count += 2;
    }
    (text, boards)
}

/// A survey of enclosures with four circuits each, from boards of different branches.
fn survey_of(enclosures: usize, boards: &[String]) -> String {
    let mut text = String::from(
        "enclosure,circuit,fed_from,source,nominal,conductors,earthing,voltage_to_earth,isolator,isolator_location,poles\n",
    );
    for enclosure in 0..enclosures {
        for row in 0..4 {
            let board = &boards[(enclosure * 7 + row * 13) % boards.len()];
            let isolator = if board == "MB" { "X0".to_owned() } else { format!("Q-{board}") };
            let _ = writeln!(
                text,
                "E{enclosure},{board}/{enclosure}-{row},{board},mains,230/400,L1 L2 L3 N,TN-S,230,{isolator},Switchroom,3+N"
            );
        }
    }
    text
}

fn network(enclosures: usize, shape: Shape) -> Network {
    let (file, boards) = supplies_file(enclosures / 5, shape);
    let supplies = supplies::read(file.as_bytes(), &supplies::ReadOptions::new("supplies.csv")).supplies;
    let survey =
        survey::read(survey_of(enclosures, &boards).as_bytes(), &survey::ReadOptions::new("survey.csv")).survey;
    Network::join(&survey, Some(&supplies), &NetworkOptions::default()).0
}

const SIZES: [usize; 3] = [2_500, 5_000, 10_000];

/// What every proof needs is worked out anew in each run, because a copy does so.
fn prove(bencher: divan::Bencher, enclosures: usize, shape: Shape) {
    let network = network(enclosures, shape);
    bencher.counter(ItemsCount::new(enclosures)).with_inputs(|| network.clone()).bench_refs(|network| network.proofs());
}

#[divan::bench(args = SIZES, sample_count = 10, sample_size = 1)]
fn tree(bencher: divan::Bencher, enclosures: usize) {
    prove(bencher, enclosures, Shape::Tree);
}

#[divan::bench(args = SIZES, sample_count = 10, sample_size = 1)]
fn mesh(bencher: divan::Bencher, enclosures: usize) {
    prove(bencher, enclosures, Shape::Mesh);
}

/// The floor: from every enclosure one plain search by petgraph over all feeds, in both directions, on one processor.
fn floor(bencher: divan::Bencher, enclosures: usize, shape: Shape) {
    let network = network(enclosures, shape);
    let mut graph = DiGraph::<(), ()>::new();
    let nodes: Vec<NodeIndex> = network.graph().nodes().iter().map(|_| graph.add_node(())).collect();
    for feed in network.graph().feeds() {
        graph.add_edge(nodes[feed.from.index()], nodes[feed.to.index()], ());
        graph.add_edge(nodes[feed.to.index()], nodes[feed.from.index()], ());
    }
    bencher.counter(ItemsCount::new(enclosures)).bench_local(|| {
        let mut reached = 0;
        for enclosure in 0..enclosures {
            let way = network.way_ids(EnclosureId::new(enclosure)).next().unwrap();
            let start = nodes[network.live_parts(way)[0].node.index()];
            let mut search = Bfs::new(&graph, start);
            while search.next(&graph).is_some() {
                reached += 1;
            }
        }
        reached
    });
}

#[divan::bench(args = SIZES, sample_count = 3, sample_size = 1)]
fn tree_plain_search(bencher: divan::Bencher, enclosures: usize) {
    floor(bencher, enclosures, Shape::Tree);
}

#[divan::bench(args = SIZES, sample_count = 3, sample_size = 1)]
fn mesh_plain_search(bencher: divan::Bencher, enclosures: usize) {
    floor(bencher, enclosures, Shape::Mesh);
}

/// One enclosure at the end of a chain of so many devices, fed from one end or from both.
fn chain(bencher: divan::Bencher, devices: usize, both_ends: bool) {
    let mut file = String::from("device,kind,fed_from,location\nMains,source,,\nSet,source,,\n");
    for number in 0..devices {
        let feed = if number == 0 { "Mains".to_owned() } else { format!("Q{}", number - 1) };
        let other = if both_ends && number + 1 == devices { " + Set" } else { "" };
        let _ = writeln!(file, "Q{number},breaker,{feed}{other},Cable duct");
    }
    let last = devices - 1;
    let rows = format!(
        "enclosure,circuit,conductors,voltage_to_earth,isolator,isolator_location\nE1,C/1,L1,230,Q{last},Cable duct\n"
    );
    let supplies = supplies::read(file.as_bytes(), &supplies::ReadOptions::new("supplies.csv")).supplies;
    let survey = survey::read(rows.as_bytes(), &survey::ReadOptions::new("survey.csv")).survey;
    let network = Network::join(&survey, Some(&supplies), &NetworkOptions::default()).0;
    bencher
        .counter(ItemsCount::new(devices))
        .with_inputs(|| network.clone())
        .bench_refs(|network| network.proof(EnclosureId::new(0)));
}

#[divan::bench(args = [25_000, 50_000, 100_000], sample_count = 5, sample_size = 1)]
fn chain_from_one_end(bencher: divan::Bencher, devices: usize) {
    chain(bencher, devices, false);
}

#[divan::bench(args = [25_000, 50_000, 100_000], sample_count = 5, sample_size = 1)]
fn chain_from_both_ends(bencher: divan::Bencher, devices: usize) {
    chain(bencher, devices, true);
}
