//! Networks whose reachability and smallest cuts were computed by networkx, driven through survey and supplies file.
//!
//! `networks/networks.py` generates them and writes out the model that it follows; it shares no code with the program.

#![cfg(test)]

use noticewright::network::{EnclosureId, Network, NetworkOptions, Side};
use noticewright::{supplies, survey};

const NETWORKS: &str = include_str!("networks/networks.txt");

/// One network of the data.
struct Case<'a> {
    title: &'a str,
    devices: Vec<&'a str>,
    /// Circuit and isolators of each row.
    rows: Vec<(&'a str, &'a str)>,
    result: &'a str,
    /// How many operations the smallest cut takes; empty where it was not searched.
    cut: &'a str,
}

fn cases() -> Vec<Case<'static>> {
    NETWORKS.split("\n\n").skip(1).map(case).collect()
}

fn case(text: &str) -> Case<'_> {
    let lines = || text.lines().filter(|line| !line.is_empty());
    let after = |word: &str| lines().find_map(|line| line.strip_prefix(word)).unwrap_or_default();
    Case {
        title: after("network "),
        devices: lines().filter(|line| line.split(' ').next().unwrap().contains(',')).collect(),
        rows: lines().filter_map(|line| line.strip_prefix("row ")?.split_once(" opens ")).collect(),
        result: after("result "),
        cut: after("cut "),
    }
}

/// The supplies file of a network: everything stands in one place.
fn supplies_file(case: &Case<'_>) -> String {
    let mut text = String::from("device,kind,fed_from,location,interlock,interlock_kind,off_position,poles\n");
    for line in &case.devices {
        let cells: Vec<&str> = line.split(',').collect();
        let cell = |place: usize| cells.get(place).copied().unwrap_or_default();
        let (kind, position_and_poles) = match cell(1) {
            "changeover" => ("changeover", "no,3+N"),
            "changeover-off" => ("changeover", "yes,3+N"),
            "isolator" => ("isolator", ",3+N"),
            "cutout" => ("network-cutout", ","),
            other => (other, ","),
        };
        let interlock_kind = if cell(3).is_empty() { "" } else { "coupled" };
        text += &format!("{},{kind},{},Site,{},{interlock_kind},{position_and_poles}\n", cell(0), cell(2), cell(3));
    }
    text
}

/// The survey of a network: one enclosure, of which each row has one line.
fn survey_of(case: &Case<'_>) -> String {
    let mut text = String::from("enclosure,circuit,conductors,voltage_to_earth,isolator,isolator_location\n");
    for (circuit, isolators) in &case.rows {
        let places = vec!["Site"; isolators.split(" + ").count()].join(" + ");
        text += &format!("E1,{circuit},L1,230,{isolators},{places}\n");
    }
    text
}

fn network_of(case: &Case<'_>) -> Network {
    let supplies = supplies::read(supplies_file(case).as_bytes(), &supplies::ReadOptions::new("supplies.csv")).supplies;
    let survey = survey::read(survey_of(case).as_bytes(), &survey::ReadOptions::new("survey.csv")).survey;
    Network::join(&survey, Some(&supplies), &NetworkOptions::default()).0
}

#[test]
fn there_are_enough_of_every_result() {
    let cases = cases();
    assert!(cases.len() >= 200, "only {}", cases.len());
    for result in ["live", "unknown", "no-path-found"] {
        assert!(cases.iter().filter(|case| case.result == result).count() >= 10, "{result}");
    }
    for cut in ["1", "2", "3", "4", "none"] {
        assert!(cases.iter().filter(|case| case.cut == cut).count() >= 5, "cuts of {cut}");
    }
}

/// The data say where live parts hang; without that the rest would compare two questions.
#[test]
fn live_parts_hang_where_the_data_say() {
    for case in cases() {
        let network = network_of(&case);
        for (way, (circuit, _)) in network.way_ids(EnclosureId::new(0)).zip(&case.rows) {
            let [terminal] = network.live_parts(way) else { panic!("{}: {circuit} hangs on several", case.title) };
            assert_eq!((network.node_name(terminal.node).as_str(), terminal.side), (*circuit, Side::Load));
        }
    }
}

#[test]
fn networkx_agrees_on_what_is_reached() {
    for case in cases() {
        let proof = network_of(&case).proof(EnclosureId::new(0));
        assert_eq!(proof.result.name(), case.result, "network {}", case.title);
    }
}

#[test]
fn networkx_agrees_on_the_size_of_the_smallest_cut() {
    for case in cases().into_iter().filter(|case| !case.cut.is_empty()) {
        let cut = network_of(&case).proof(EnclosureId::new(0)).cut;
        let operations = cut.as_ref().map_or_else(|| "none".to_owned(), |cut| cut.operations.to_string());
        assert_eq!(operations, case.cut, "network {}", case.title);
        assert!(cut.is_none_or(|cut| cut.proved_smallest), "network {}", case.title);
    }
}
