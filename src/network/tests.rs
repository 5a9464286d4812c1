//! Rows joined: what is one thing and what is two, and how far the survey tells what feeds what.

mod attaching;
mod describing;
mod growth;
mod properties;
mod reporting;

use super::{DescribedBy, EnclosureId, Gap, Isolated, Network, NetworkOptions, NodeKind, ProofResult};
use crate::survey::{ReadOptions, read};

const HEADER: &str = "enclosure,circuit,fed_from,source,voltage_to_earth,isolator,isolator_location";

fn network(rows: &[&str]) -> Network {
    let text = format!("{HEADER}\n{}\n", rows.join("\n"));
    let reading = read(text.as_bytes(), &ReadOptions::new("test.csv"));
    Network::join(&reading.survey, None, &NetworkOptions::default()).0
}

#[test]
fn designation_and_location_make_a_device() {
    let network = network(&[
        "E1,C/1,DB-C,mains,230,Q7,Board C",
        "E2,C/1,DB-C,mains,230,Q7,board  c",
        "E2,D/1,DB-D,mains,230,Q7,Board D",
    ]);
    assert_eq!(network.devices().len(), 2);
    assert_eq!(network.supplies().len(), 2);
    assert_eq!(network.sources().len(), 1);
    let [first, _] = network.ways(EnclosureId::new(1)) else { panic!("two rows") };
    assert_eq!(first.isolated, network.ways(EnclosureId::new(0))[0].isolated);
}

#[test]
fn a_device_without_a_place_is_one_only_within_its_enclosure() {
    let network = network(&["E1,C/1,,,230,Q7,", "E1,C/2,,,230,Q7,", "E2,C/3,,,230,Q7,", "E3,C/4,,,230,Q7,inside"]);
    assert_eq!(network.devices().len(), 3);
}

#[test]
fn none_and_unknown_are_kept_apart() {
    let network = network(&["E1,C/1,,,230,none,", "E1,C/2,,,230,?,"]);
    let [one, other] = network.ways(EnclosureId::new(0)) else { panic!("two rows") };
    assert_eq!((&one.isolated, &other.isolated), (&Isolated::Impossible, &Isolated::Unknown));
}

#[test]
fn energy_flows_from_source_to_live_parts() {
    let network = network(&["E1,C/1,DB-C,mains,230,Q7 + Q8,Board C + Board C"]);
    let way = network.way_ids(EnclosureId::new(0)).next().unwrap();
    let live = network.live_parts(way);
    let names: Vec<_> = live.iter().map(|terminal| network.node_name(terminal.node)).collect();
    assert_eq!(names, ["Q7 (Board C)", "Q8 (Board C)"]);
    let supply = network.graph().into_node(live[0].node)[0].from;
    assert_eq!(network.node_name(supply), "DB-C");
    let source = network.graph().into_node(supply)[0].from;
    assert_eq!(network.graph().node(source).unwrap().kind, NodeKind::Source);
    assert!(network.graph().nodes().iter().all(|node| node.described_by() == DescribedBy::Survey));
}

#[test]
fn a_survey_alone_proves_nothing_and_says_where_it_ends() {
    let network = network(&["E1,C/1,DB-C,mains,230,Q7,Board C", "E1,C/2,DB-D,,230,none,"]);
    let proof = network.proof(EnclosureId::new(0));
    assert_eq!(proof.result, ProofResult::Unknown);
    let ends = |gap: &Gap| if let Gap::NotDescribed(node) = gap { Some(network.node_name(*node)) } else { None };
    assert_eq!(proof.gaps.iter().filter_map(ends).collect::<Vec<_>>(), ["Q7 (Board C)"]);
    assert!(proof.paths.is_empty());
}
