//! What a bypass brings to the output of a UPS, from both files on, each judged by trying everything.

use proptest::prelude::*;
use proptest::sample::Index;

use super::brute::Brute;
use super::fixture::Site;
use super::random::{cases, open_all, random_site};
use crate::network::testing::{described, joined, surveyed};
use crate::network::{Carrier, EnclosureId, Gap, Network, NodeId, ProofResult};

const DEVICES: &str = "device,kind,fed_from,location,off_position,poles,nominal,earthing";
const ROWS: &str = "enclosure,circuit,conductors,voltage_to_earth,isolator,isolator_location";

/// The network as both files, and the survey one of the enclosure of this node.
fn network_of(lines: &[String], rows: &str, enclosure: &str) -> Network {
    network_with(lines, rows, enclosure, |_| "Site")
}

/// The same with each device of a line in its place.
fn network_with(lines: &[String], rows: &str, enclosure: &str, place: impl Fn(&str) -> &'static str) -> Network {
    let devices: Vec<String> =
        lines.iter().map(|line| device_of(line).replacen(",Site,", &format!(",{},", place(line)), 1)).collect();
    let batteries = lines.iter().filter(|line| line.contains(" ups-with-battery-apart"));
    let batteries = batteries.map(|line| format!("{},source,,Site,,,400 dc,unearthed", battery_of(line)));
    let devices: Vec<String> = devices.into_iter().chain(batteries).collect();
    let devices: Vec<&str> = devices.iter().map(String::as_str).collect();
    let rows: Vec<String> = rows.lines().enumerate().map(|(place, row)| row_of(enclosure, place, row)).collect();
    let rows: Vec<&str> = rows.iter().map(String::as_str).collect();
    joined(&surveyed(ROWS, &rows), &described(DEVICES, &devices)).0
}

fn name_of(line: &str) -> &str {
    line.split(' ').next().unwrap()
}

fn battery_of(line: &str) -> String {
    format!("{} battery", name_of(line))
}

fn option_of<'a>(line: &'a str, name: &str) -> &'a str {
    line.split(' ').find_map(|word| word.strip_prefix(name)).unwrap_or_default()
}

fn device_of(line: &str) -> String {
    let feeds = line.split_once(" < ").map_or("", |(_, feeds)| feeds);
    let mut feeds: Vec<String> =
        feeds.split(' ').filter(|word| word.starts_with('n') && !word.contains('=')).map(str::to_owned).collect();
    let (kind, off_position) = match line.split(' ').nth(1).unwrap() {
        "changeover" => ("changeover", "no"),
        "changeover-off" => ("changeover", "yes"),
        "cutout" => ("network-cutout", ""),
        // What a converter lets through at which feed is asked elsewhere.
        "converter" => ("transformer", ""),
        "unknown" => ("", ""),
        "ups-with-battery-apart" => {
            feeds.push(battery_of(line));
            ("ups", "")
        }
        kind => (kind, ""),
    };
    let nominal = match (kind, option_of(line, "system=")) {
        ("source" | "transformer" | "ups", "1") => "230",
        ("source" | "transformer" | "ups", "2") => "120/240",
        ("source" | "transformer" | "ups", _) => "230/400",
        (_, _) => "",
    };
    let earthing = if nominal.is_empty() { "" } else { "TN-S" };
    let poles = option_of(line, "poles=");
    format!("{},{kind},{},Site,{off_position},{poles},{nominal},{earthing}", name_of(line), feeds.join(" + "))
}

fn row_of(enclosure: &str, place: usize, row: &str) -> String {
    let words = row.split(' ').skip(1).take_while(|word| *word != "at" && !word.contains('='));
    let isolators: Vec<&str> = words.filter(|word| *word != "+").collect();
    let conductors = match option_of(row, "lines=") {
        "3" => "L1 L2 L3 N",
        "?" => "",
        _ => "L1 N",
    };
    let locations = match isolators.as_slice() {
        ["?" | "none"] => String::new(),
        names => vec!["Site"; names.len()].join(" + "),
    };
    format!("{enclosure},C/{place},{conductors},230,{},{locations}", isolators.join(" + "))
}

/// The lines of a site with a UPS in the place of one of the nodes that are fed, and that place.
fn with_a_ups(nodes: &str, ups: Index, kind: &str) -> Option<(Vec<String>, usize)> {
    let mut lines: Vec<String> = nodes.lines().map(str::to_owned).collect();
    let fed: Vec<usize> = (0..lines.len()).filter(|place| lines[*place].contains(" < ")).collect();
    let ups = *fed.get(ups.index(fed.len().max(1)))?;
    let (name, rest) = lines[ups].split_once(' ')?;
    let (_, rest) = rest.split_once(' ')?;
    lines[ups] = format!("{name} {kind} {rest}");
    Some((lines, ups))
}

proptest! {
    #![proptest_config(cases(4_000))]

    #[test]
    fn what_comes_past_a_ups_is_found_at_the_outputs_of_which_no_row_speaks(
        (nodes, rows) in random_site(12),
        ups in any::<Index>(),
        kind in prop_oneof![Just("ups"), Just("ups-with-battery-apart")],
    ) {
        let Some((lines, ups)) = with_a_ups(&nodes, ups, kind) else { return Ok(()) };
        // What comes through a changeover that stands next to the output is not looked for.
        let is_fed = |line: &&String| line.split(' ').skip(2).any(|word| word == name_of(&lines[ups]));
        let stands_next = |line: &String| line.contains(" changeover");
        if lines.iter().filter(is_fed).any(stands_next) {
            return Ok(());
        }
        let network = network_of(&lines, &rows, name_of(&lines[ups]));
        let brute = Brute::of(&network);
        let expected = brute.is_output_live(NodeId::new(ups), &open_all(&brute));
        let proof = network.proof(EnclosureId::new(0));
        let paths: Vec<_> = proof.paths.iter().filter(|path| path.carrier == Carrier::Output).collect();
        prop_assert_eq!(!paths.is_empty(), expected, "of {}: {}\n{}", lines[ups], lines.join("\n"), rows);
        prop_assert!(paths.iter().all(|path| path.nodes[0] != NodeId::new(ups)), "{:?}", paths);
    }
}

proptest! {
    #![proptest_config(cases(1_500))]

    #[test]
    fn a_ups_in_an_enclosure_of_another_name_shifts_no_row_and_is_said_where_its_output_is_live(
        (nodes, rows) in random_site(12),
        ups in any::<Index>(),
        kind in prop_oneof![Just("ups"), Just("ups-with-battery-apart")],
    ) {
        let Some((lines, ups)) = with_a_ups(&nodes, ups, kind) else { return Ok(()) };
        // A row that names the UPS as its isolator names the one at another place then.
        if rows.split_whitespace().any(|word| word == name_of(&lines[ups])) {
            return Ok(());
        }
        let apart = network_of(&lines, &rows, "RACK").proof(EnclosureId::new(0));
        let place = |line: &str| if line == lines[ups] { "inside RACK" } else { "Site" };
        let network = network_with(&lines, &rows, "RACK", place);
        let inside = network.proof(EnclosureId::new(0));
        let device = NodeId::new(ups);
        let is_said = inside.gaps.contains(&Gap::OutputNotProved(device));
        let others: Vec<Gap> = inside.gaps.iter().filter(|gap| **gap != Gap::OutputNotProved(device)).cloned().collect();
        prop_assert_eq!((&apart.paths, &apart.gaps), (&inside.paths, &others));
        if is_said && apart.result == ProofResult::NoPathFound {
            prop_assert_eq!(inside.result, ProofResult::Unknown);
        } else {
            prop_assert_eq!(inside.result, apart.result);
        }
        prop_assert!(!is_said || inside.cut.is_none() && inside.surplus.is_empty());
        let brute = Brute::of(&network);
        // Of an open device of few poles the rows tell that name it.
        let is_live = brute.is_any_output_live(device, &open_all(&brute), None);
        prop_assert!(is_said || !is_live, "of {}: {}\n{}", lines[ups], lines.join("\n"), rows);
    }
}

/// A row with live parts at the output of a UPS and elsewhere, and a live neutral that comes to both: it is told once.
#[test]
fn a_neutral_is_told_once_of_live_parts_at_an_output_and_elsewhere() {
    let site = Site::of(
        "m source neutral=earthed\nq0 isolator < m poles=3+N\nu ups < q0 neutral=earthed\nq1 isolator < u poles=3\n\
         o busbar < q1 + by\ns source neutral=live\nby isolator < s poles=3+N\nq9 isolator < s poles=3\n\
         row q1 + q9 at q1.supply + q9.load lines=3 neutral=yes ups=u own=q1",
    );
    assert_eq!(site.told(), "live; neutral s > by > o > q1; gap back-feed u > q1");
}
