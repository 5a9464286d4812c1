//! The proof in words: paths, gaps and devices by the names that a person reads on site.

use std::collections::HashSet;

use super::Network;
use super::graph::Named;
use super::id::{EnclosureId, NodeId, WayId};
use super::proof::{Carrier, Cut, Gap, LivePath, Proof, ProofResult};
use crate::survey::{Row, Survey};

/// Nodes of a path that are named one by one; of a longer one, the middle is counted.
const LONGEST_PATH: usize = 12;

impl ProofResult {
    /// The result in words. It never says that something is dead.
    #[must_use]
    pub const fn in_words(self) -> &'static str {
        match self {
            Self::NoPathFound => "no path found",
            Self::Unknown => "unknown",
            Self::Live => "live path found",
        }
    }
}

impl Network {
    /// The enclosure of a way, and the place of its row there.
    #[must_use]
    pub fn place_of(&self, way: WayId) -> Option<(EnclosureId, usize)> {
        let enclosure = self.enclosures.partition_point(|range| range.end <= way.index());
        let range = self.enclosures.get(enclosure)?;
        Some((EnclosureId::new(enclosure), way.index().checked_sub(range.start)?))
    }

    /// The row of a way in the survey that this network was joined from.
    #[must_use]
    pub fn row_of<'a>(&self, survey: &'a Survey, way: WayId) -> Option<&'a Row> {
        let (enclosure, place) = self.place_of(way)?;
        survey.enclosures.get(enclosure.index())?.rows.get(place)
    }

    /// The circuit of a way: `circuit DB-C/7`, or `a circuit without designation`.
    #[must_use]
    pub fn circuit_in_words(&self, survey: &Survey, way: WayId) -> String {
        let circuit = self.row_of(survey, way).map_or("", |row| &*row.circuit);
        if circuit.is_empty() { "a circuit without designation".to_owned() } else { format!("circuit {circuit}") }
    }

    /// A live path written out, source first: `Network > Q0 > MSB > live parts of circuit DB-C/7`.
    #[must_use]
    pub fn path_in_words(&self, survey: &Survey, path: &LivePath) -> String {
        let circuit = self.circuit_in_words(survey, path.way);
        let end = match path.carrier {
            Carrier::Lines => format!("live parts of {circuit}"),
            Carrier::Output => {
                let ups = self.outputs.get(&path.way).map(|outputs| self.node_name(outputs.ups));
                ups.map_or_else(|| "output terminals".to_owned(), |ups| format!("output terminals of {ups}"))
            }
            Carrier::Neutral => format!("neutral of {circuit}"),
            Carrier::SharedNeutral => format!("neutral that {circuit} shares"),
        };
        self.chain_in_words(&path.nodes, &end)
    }

    /// A live path to incoming terminals written out, source first: `Network > Q5 > incoming terminals of Q1`.
    #[must_use]
    pub fn line_side_in_words(&self, path: &LivePath) -> String {
        let Some((isolator, before)) = path.nodes.split_last() else { return String::new() };
        let neutral = if matches!(path.carrier, Carrier::Lines | Carrier::Output) { "" } else { "neutral at the " };
        self.chain_in_words(before, &format!("{neutral}incoming terminals of {}", self.node_name(*isolator)))
    }

    /// Why it is not known whether live parts remain.
    #[must_use]
    pub fn gap_in_words(&self, survey: &Survey, gap: &Gap) -> String {
        let circuit = |way: &WayId| self.circuit_in_words(survey, *way);
        let name = |node: &NodeId| self.node_name(*node);
        match gap {
            Gap::OutputNotProved(node) => format!(
                "the output terminals of {} are not proved, and energy may come to them",
                self.node_phrase(*node)
            ),
            Gap::NothingSaid(way) => format!("nothing says what isolates {}, or what feeds it", circuit(way)),
            Gap::NotDescribed(node) => match self.graph().node(*node).map(|node| node.named) {
                Some(Named::Mentioned(_)) => {
                    format!("the supplies file names {} and has no row for it", name(node))
                }
                Some(Named::Described(_) | Named::Device(_) | Named::Supply(_) | Named::Source(_)) | None => {
                    format!("{} is named by the survey alone: what feeds it is not described", name(node))
                }
            },
            Gap::FeedNotSaid(node) => format!("the supplies file does not say what feeds {}", name(node)),
            Gap::PolesNotSaid(node, way) => {
                match self.graph().node(*node).and_then(|node| node.poles).map(|poles| poles.lines) {
                    Some(1) => {
                        format!("{} parts one line, and more may come to it on the way to {}", name(node), circuit(way))
                    }
                    Some(lines) => {
                        format!(
                            "{} parts {lines} lines, and more may come to it on the way to {}",
                            name(node),
                            circuit(way)
                        )
                    }
                    None => {
                        format!(
                            "it is not said which conductors {} parts, of more than one in {}",
                            name(node),
                            circuit(way)
                        )
                    }
                }
            }
            Gap::SwitchedNotSaid(node, way) => match self.graph().node(*node).and_then(|node| node.poles) {
                Some(poles) => {
                    let lines = if poles.lines == 1 { "line" } else { "lines" };
                    let all = format!("{} {lines}", poles.lines);
                    format!(
                        "{} switches {all} of its feeds, and another may come past it to {}",
                        name(node),
                        circuit(way)
                    )
                }
                None => format!(
                    "it is not said whether {} switches the neutral, and one that can be live may come past it to {}",
                    name(node),
                    circuit(way)
                ),
            },
            Gap::LinesTogetherNotSaid(node) => match self.graph().node(*node).and_then(|node| node.poles) {
                Some(_) => format!("{} parts fewer lines than the circuits behind it have together", name(node)),
                None => format!("it is not said that {} parts every line of the circuits behind it", name(node)),
            },
            Gap::NeutralNotSaid(node, way) => format!(
                "it is not said whether the neutral that begins at {} can be live, and {} stays connected to it",
                name(node),
                circuit(way)
            ),
            Gap::ConductorsNotSaid(way) => format!(
                "it is not said whether {} has a neutral, and one that can be live would stay connected",
                circuit(way)
            ),
            Gap::LenderNotFound(way) => {
                format!("nothing tells where the circuit runs whose neutral {} shares", circuit(way))
            }
            Gap::AcrossNotSaid(node, way) => format!(
                "{} is fed with a.c. and d.c., and it is not said whether it lets one out where the other comes in, at {}",
                name(node),
                circuit(way)
            ),
            Gap::BackFeed(way, nodes) => {
                let end = format!("live parts of {}", circuit(way));
                format!("a UPS may feed back: {}", self.chain_in_words(nodes, &end))
            }
        }
    }

    /// The same of several, each once: two rows of one circuit lack the same.
    #[must_use]
    pub fn gaps_in_words(&self, survey: &Survey, gaps: &[Gap]) -> Vec<String> {
        let mut seen = HashSet::new();
        let words = gaps.iter().map(|gap| self.gap_in_words(survey, gap));
        words.filter(|words| seen.insert(words.clone())).collect()
    }

    /// A smallest set of devices: `Q1 and Q4`; those of one interlock are one operation.
    #[must_use]
    pub fn cut_in_words(&self, cut: &Cut) -> String {
        listed(cut.devices.iter().map(|node| self.node_name(*node)))
    }

    /// The devices that are declared and change nothing while the others are open.
    #[must_use]
    pub fn surplus_in_words(&self, proof: &Proof) -> String {
        listed(proof.surplus.iter().filter_map(|id| self.device(*id)).map(super::Device::phrase))
    }

    /// What would do as well, or better; it does not replace what the survey declares. Nothing where there is none.
    #[must_use]
    pub fn advice_in_words(&self, proof: &Proof) -> Vec<String> {
        let mut lines: Vec<String> = proof.cut.iter().map(|cut| self.smallest_in_words(cut)).collect();
        if !proof.surplus.is_empty() {
            let devices = self.surplus_in_words(proof);
            lines.push(format!("with the others open, this changes nothing in the model: {devices}"));
        }
        lines
    }

    fn smallest_in_words(&self, cut: &Cut) -> String {
        let devices = self.cut_in_words(cut);
        let proved = if cut.proved_smallest { "" } else { "; it is not proved that none is smaller" };
        let plural = if cut.operations == 1 { "" } else { "s" };
        match cut.devices.as_slice() {
            [_] => format!("one device parts it from every source in the model: {devices}"),
            _ => format!(
                "the smallest set known to part it from every source in the model: {devices} ({} operation{plural}){proved}",
                cut.operations
            ),
        }
    }

    fn chain_in_words(&self, nodes: &[NodeId], end: &str) -> String {
        let kept = LONGEST_PATH / 2;
        let mut names: Vec<String> = Vec::with_capacity(nodes.len().min(LONGEST_PATH) + 2);
        if nodes.len() > LONGEST_PATH {
            let (first, last) = (nodes.iter().take(kept), nodes.iter().skip(nodes.len() - kept));
            names.extend(first.map(|node| self.node_name(*node)));
            names.push(format!("({} devices more)", nodes.len() - 2 * kept));
            names.extend(last.map(|node| self.node_name(*node)));
        } else {
            names.extend(nodes.iter().map(|node| self.node_name(*node)));
        }
        names.push(end.to_owned());
        names.join(" > ")
    }
}

/// `A`, `A and B`, `A, B and C`.
fn listed(names: impl Iterator<Item = String>) -> String {
    let mut names: Vec<String> = names.collect();
    match (names.pop(), names.is_empty()) {
        (None, _) => String::new(),
        (Some(only), true) => only,
        (Some(last), false) => format!("{} and {last}", names.join(", ")),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::network::NetworkOptions;
    use crate::survey::{ReadOptions, read};

    fn joined(rows: &[&str]) -> (Survey, Network) {
        let header = "enclosure,circuit,fed_from,voltage_to_earth,isolator,isolator_location";
        let text = format!("{header}\n{}\n", rows.join("\n"));
        let survey = read(text.as_bytes(), &ReadOptions::new("site.csv")).survey;
        let network = Network::join(&survey, None, &NetworkOptions::default()).0;
        (survey, network)
    }

    #[test]
    fn a_way_finds_its_row_again() {
        let (survey, network) = joined(&["E1,C/1,C,230,Q1,R1", "E2,C/2,C,230,Q2,R1", "E1,D/1,D,230,Q3,R1"]);
        let ways: Vec<WayId> =
            network.way_ids(EnclosureId::new(0)).chain(network.way_ids(EnclosureId::new(1))).collect();
        let circuits: Vec<_> = ways.iter().map(|way| network.circuit_in_words(&survey, *way)).collect();
        assert_eq!(circuits, ["circuit C/1", "circuit D/1", "circuit C/2"]);
    }

    #[test]
    fn a_long_path_is_shortened_and_the_count_is_said() {
        let rows: Vec<String> = (0..20).map(|index| format!("E{index},C/{index},C,230,Q{index},R1")).collect();
        let rows: Vec<&str> = rows.iter().map(String::as_str).collect();
        let (survey, network) = joined(&rows);
        let nodes: Vec<NodeId> =
            (0..20).filter_map(|index| network.device_node(crate::network::DeviceId::new(index))).collect();
        let way = network.way_ids(EnclosureId::new(0)).next().unwrap();
        let path = |nodes: &[NodeId], carrier| {
            network.path_in_words(&survey, &LivePath { way, carrier, nodes: nodes.to_vec() })
        };
        assert_eq!(path(&nodes[..2], Carrier::Lines), "Q0 (R1) > Q1 (R1) > live parts of circuit C/0");
        assert_eq!(path(&nodes[..1], Carrier::SharedNeutral), "Q0 (R1) > neutral that circuit C/0 shares");
        let long = path(&nodes, Carrier::Neutral);
        assert!(long.contains("Q5 (R1) > (8 devices more) > Q14 (R1)"), "{long}");
        assert!(long.ends_with("Q19 (R1) > neutral of circuit C/0"), "{long}");
    }

    #[test]
    fn every_gap_names_what_is_missing() {
        let (survey, network) = joined(&["E1,C/1,C,230,Q1,R1"]);
        let way = network.way_ids(EnclosureId::new(0)).next().unwrap();
        let node = network.device_node(crate::network::DeviceId::new(0)).unwrap();
        let gaps = [
            (Gap::OutputNotProved(node), "the output terminals of Q1 (R1) are not proved"),
            (Gap::NothingSaid(way), "what isolates circuit C/1"),
            (Gap::NotDescribed(node), "Q1 (R1) is named by the survey alone"),
            (Gap::FeedNotSaid(node), "what feeds Q1 (R1)"),
            (Gap::PolesNotSaid(node, way), "which conductors Q1 (R1) parts"),
            (
                Gap::SwitchedNotSaid(node, way),
                "it is not said whether Q1 (R1) switches the neutral, and one that can be live",
            ),
            (Gap::LinesTogetherNotSaid(node), "it is not said that Q1 (R1) parts every line of the circuits behind it"),
            (Gap::NeutralNotSaid(node, way), "begins at Q1 (R1)"),
            (Gap::ConductorsNotSaid(way), "whether circuit C/1 has a neutral"),
            (Gap::LenderNotFound(way), "whose neutral circuit C/1 shares"),
            (Gap::AcrossNotSaid(node, way), "Q1 (R1) is fed with a.c. and d.c."),
            (Gap::BackFeed(way, vec![node]), "a UPS may feed back: Q1 (R1) > live parts of circuit C/1"),
        ];
        for (gap, words) in gaps {
            let said = network.gap_in_words(&survey, &gap);
            assert!(said.contains(words), "{said}");
        }
    }

    #[test]
    fn what_two_rows_of_one_circuit_lack_is_said_once() {
        let (survey, network) = joined(&["E1,C/1,C,230,Q1,R1", "E1,C/1,C,230,Q2,R1", "E1,C/2,C,230,Q2,R1"]);
        let gaps: Vec<Gap> = network.way_ids(EnclosureId::new(0)).map(Gap::ConductorsNotSaid).collect();
        let said = network.gaps_in_words(&survey, &gaps);
        assert_eq!((gaps.len(), said.len()), (3, 2), "{said:?}");
        assert!(said[0].contains("circuit C/1") && said[1].contains("circuit C/2"), "{said:?}");
    }
}
