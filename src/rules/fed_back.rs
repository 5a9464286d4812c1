//! How far the energy of a described source comes with everything closed: down its feeds, and back up those of others.

use std::mem;

use super::described::is_ups;
use crate::network::{Graph, Network, NodeId, NodeKind, Side, Terminal, WayId};

/// The terminals that a source energises: two for every node, the load side behind the supply side.
pub(super) struct FedBack {
    energised: Vec<bool>,
}

/// One terminal: the node, and whether it is its load side.
type Place = (NodeId, bool);

impl FedBack {
    /// Walks along the energy from a source. A changeover that it enters from a feed is left by no other feed, and what
    /// comes into a UPS is taken up by that.
    pub(super) fn of(network: &Network, source: NodeId) -> Self {
        let graph = network.graph();
        let mut fed_back = Self { energised: vec![false; 2 * graph.nodes().len()] };
        let mut entered = vec![false; graph.nodes().len()];
        let (mut waiting, mut found) = (Vec::new(), vec![(source, true)]);
        loop {
            for place in found.drain(..) {
                let is_new = fed_back.energised.get_mut(number(place)).is_some_and(|it| !mem::replace(it, true));
                waiting.extend(is_new.then_some(place));
            }
            let Some(place) = waiting.pop() else { break };
            next(graph, place, &mut entered, &mut found);
        }
        fed_back
    }

    /// Whether its energy comes to the live parts of a row.
    pub(super) fn reaches(&self, network: &Network, way: WayId) -> bool {
        let place = |it: &Terminal| (it.node, it.side == Side::Load);
        let is_energised = |it: &Terminal| self.energised.get(number(place(it))) == Some(&true);
        network.live_parts(way).iter().any(is_energised)
    }
}

const fn number((node, is_load): Place) -> usize {
    2 * node.index() + if is_load { 1 } else { 0 }
}

/// Where energy comes next from a terminal.
fn next(graph: &Graph, (id, is_load): Place, entered: &mut [bool], next: &mut Vec<Place>) {
    let kind_of = |node: NodeId| graph.node(node).map_or(NodeKind::NotKnown, |node| node.kind);
    let kind = kind_of(id);
    let feeding = || graph.into_node(id).iter().map(|feed| feed.from).filter(|from| !is_end(kind_of(*from)));
    if is_load {
        for fed in graph.out_of_node(id).iter().map(|feed| feed.to) {
            let is_changeover = is_changeover(kind_of(fed));
            entered.get_mut(fed.index()).into_iter().for_each(|entered| *entered |= is_changeover);
            next.push((fed, is_changeover));
        }
        if is_changeover(kind) {
            next.extend(feeding().filter(|_| entered.get(id.index()) != Some(&true)).map(|from| (from, true)));
        } else if conducts_back(graph, id, kind) {
            next.push((id, false));
        }
    } else {
        next.extend((!is_end(kind)).then_some((id, true)));
        next.extend(feeding().map(|from| (from, true)));
    }
}

const fn is_changeover(kind: NodeKind) -> bool {
    matches!(kind, NodeKind::Changeover { .. })
}

/// Whether no energy of others passes it.
const fn is_end(kind: NodeKind) -> bool {
    matches!(kind, NodeKind::Source | NodeKind::NotKnown) || is_ups(kind)
}

fn conducts_back(graph: &Graph, id: NodeId, kind: NodeKind) -> bool {
    match kind {
        NodeKind::Isolator | NodeKind::Cutout | NodeKind::Switch | NodeKind::Transformer | NodeKind::Busbar => true,
        NodeKind::Converter => graph.is_charging(id),
        NodeKind::Source | NodeKind::Ups { .. } | NodeKind::NotKnown | NodeKind::Changeover { .. } => false,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::network::EnclosureId;
    use crate::network::testing::{described, joined, surveyed};

    /// The enclosures that the first source of a supplies file reaches.
    fn reached(rows: &[&str], lines: &[&str]) -> Vec<String> {
        let survey = surveyed("enclosure,circuit,fed_from,voltage_to_earth,isolator,isolator_location", rows);
        let network = joined(&survey, &described("device,kind,fed_from,off_position", lines)).0;
        let fed_back = FedBack::of(&network, NodeId::new(0));
        let reaches =
            |index: &usize| network.way_ids(EnclosureId::new(*index)).any(|way| fed_back.reaches(&network, way));
        let reached = (0..survey.enclosures.len()).filter(reaches);
        reached.map(|index| survey.enclosures[index].designation.clone()).collect()
    }

    const ROWS: [&str; 3] = ["JB1,C/1,MSB,230,Q1,R1", "JB2,C/2,DB2,230,Q2,R2", "JB3,C/3,DB3,230,Q3,R3"];

    #[test]
    fn energy_comes_back_up_feeds_and_down_others() {
        let lines = [
            "PV,source,,",
            "Network,source,,",
            "MSB,busbar,Network,",
            "QD2,breaker,MSB,",
            "QPV,breaker,PV,",
            "DB2,busbar,QD2 + QPV,",
            "DB3,busbar,Generator,",
            "Generator,source,,",
            "Q1,breaker,MSB,",
            "Q2,breaker,DB2,",
            "Q3,breaker,DB3,",
        ];
        assert_eq!(reached(&ROWS, &lines), ["JB1", "JB2"]);
    }

    #[test]
    fn a_changeover_is_not_left_by_another_feed_and_a_ups_or_converter_not_by_its_own() {
        let lines = [
            "GEN,source,,",
            "Network,source,,",
            "MSB,busbar,Network,",
            "CO,changeover,MSB + GEN,yes",
            "DB2,busbar,CO,",
            "U1,ups,DB2,",
            "DB3,busbar,U1,",
            "Q1,breaker,MSB,",
            "Q2,breaker,DB2,",
            "Q3,breaker,DB3,",
        ];
        assert_eq!(reached(&ROWS, &lines), ["JB2"]);
        let with_drive = lines.map(|line| line.replace("U1,ups", "U1,converter"));
        assert_eq!(reached(&ROWS, &with_drive.each_ref().map(String::as_str)), ["JB2", "JB3"]);
    }

    #[test]
    fn energy_does_not_pass_the_terminals_of_another_source_or_ups() {
        let with = |kind: &str| {
            let other = format!("X1,{kind},,");
            let lines = ["PV,source,,", &other, "MSB,busbar,X1 + PV,", "DB2,busbar,X1,", "DB3,busbar,PV,"];
            let isolators = ["Q1,breaker,MSB,", "Q2,breaker,DB2,", "Q3,breaker,DB3,"];
            reached(&ROWS, &[&lines[..], &isolators].concat())
        };
        assert_eq!(with("source"), ["JB1", "JB3"]);
        assert_eq!(with("ups"), ["JB1", "JB3"]);
        assert_eq!(with("switch"), ["JB1", "JB2", "JB3"]);
    }

    #[test]
    fn energy_goes_back_through_whatever_conducts_both_ways() {
        let with = |between: &str| {
            let lines = [
                "PV,source,,",
                "Network,source,,",
                "MSB,busbar,Network,",
                between,
                "DB2,busbar,X1 + PV,",
                "DB3,busbar,X2,",
                "Q1,breaker,MSB,",
                "Q2,breaker,DB2,",
                "Q3,breaker,DB3,",
            ];
            reached(&ROWS, &lines)
        };
        for kind in ["breaker", "network-cutout", "switch", "transformer", "busbar"] {
            assert_eq!(with(&format!("X1,{kind},MSB,")), ["JB1", "JB2"], "{kind}");
        }
        for kind in ["converter", "ups", "source"] {
            assert_eq!(with(&format!("X1,{kind},MSB,")), ["JB2"], "{kind}");
        }
        // Of what nobody describes it is not known that it joins what it feeds.
        let with_unknown = ["PV,source,,", "DB2,busbar,X1 + PV,", "DB3,busbar,X1,", "MSB,busbar,X2,"];
        let isolators = ["Q1,breaker,MSB,", "Q2,breaker,DB2,", "Q3,breaker,DB3,"];
        assert_eq!(reached(&ROWS, &[&with_unknown[..], &isolators].concat()), ["JB2"]);
    }

    #[test]
    fn a_changeover_is_left_by_any_feed_where_energy_comes_from_below() {
        let lines = [
            "PV,source,,",
            "Network,source,,",
            "MSB,busbar,Network,",
            "DB3,busbar,Generator,",
            "Generator,source,,",
            "CO,changeover,MSB + DB3,yes",
            "DB2,busbar,CO + PV,",
            "Q1,breaker,MSB,",
            "Q2,breaker,DB2,",
            "Q3,breaker,DB3,",
        ];
        assert_eq!(reached(&ROWS, &lines), ["JB1", "JB2", "JB3"]);
    }
}
