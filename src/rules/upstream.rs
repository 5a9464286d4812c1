//! What feeds every place of the described network in the end, worked out once for all rows.
//!
//! What lies above a node follows from what lies above its feeds, so the network is gone through from its sources down,
//! each node once; only nodes that feed each other in a circle are walked up from one by one.

use std::collections::HashSet;

use smallvec::SmallVec;

use super::described::{is_ups, walk_up};
use crate::network::{DescribedBy, Network, Neutral, NodeId, NodeKind};

/// What lies above each node, by its number; empty where there is no supplies file.
#[derive(Default)]
pub(super) struct Upstream {
    above: Vec<Above>,
    /// Sources with how many steps away they are, the nearest first. Nodes with one feed share the list of that.
    lists: Vec<Vec<(u32, usize)>>,
}

/// What a walk up from a node meets, the node itself taken along.
#[derive(Clone, Copy)]
struct Above {
    /// The place of the list of sources.
    list: usize,
    /// How many steps farther away they are than the list says.
    farther: u32,
    /// Whether the file describes all of the way to them.
    is_whole: bool,
    /// Whether a neutral that begins there can be live.
    neutral: Neutral,
}

/// The place of the list without any source.
const NONE: usize = 0;

impl Upstream {
    /// Goes through a network in which `source_at` knows the sources.
    pub(super) fn of(network: &Network, source_at: impl Fn(NodeId) -> Option<usize>) -> Self {
        let nothing = Above { list: NONE, farther: 0, is_whole: false, neutral: Neutral::NotKnown };
        let mut upstream = Self { above: vec![nothing; network.graph().nodes().len()], lists: vec![Vec::new()] };
        for mut circle in network.upstream_first() {
            circle.sort_unstable();
            for at in circle.iter().copied() {
                let above = if circle.len() == 1 {
                    upstream.above_one(network, at, &source_at)
                } else {
                    upstream.above_in_circle(network, at, &circle, &source_at)
                };
                upstream.above.get_mut(at.index()).into_iter().for_each(|place| *place = above.unwrap_or(nothing));
            }
        }
        upstream
    }

    /// The sources above these nodes, the nearest first, by way of no other source and no UPS.
    pub(super) fn sources(&self, nodes: &[NodeId]) -> SmallVec<[usize; 4]> {
        match self.of_nodes(nodes).as_slice() {
            [one] => self.list(*one).map(|(_, source)| source).collect(),
            several => self.merged(several, 0).into_iter().map(|(_, source)| source).collect(),
        }
    }

    /// Whether the file describes all of the way to them.
    pub(super) fn is_whole(&self, nodes: &[NodeId]) -> bool {
        self.of_nodes(nodes).iter().all(|above| above.is_whole)
    }

    /// Whether the neutral of what hangs on these nodes can be live; `NotKnown` where the file does not say.
    pub(super) fn neutral(&self, nodes: &[NodeId]) -> Neutral {
        worst(&self.of_nodes(nodes))
    }

    fn of_nodes(&self, nodes: &[NodeId]) -> SmallVec<[Above; 4]> {
        nodes.iter().filter_map(|node| self.above.get(node.index())).copied().collect()
    }

    fn list(&self, above: Above) -> impl Iterator<Item = (u32, usize)> {
        let list = self.lists.get(above.list).into_iter().flatten();
        list.map(move |(steps, source)| (steps + above.farther, *source))
    }

    /// The sources above any of these, each once at its nearest; of those equally near, the first named first.
    fn merged(&self, several: &[Above], steps: u32) -> Vec<(u32, usize)> {
        let mut merged: Vec<_> = several.iter().flat_map(|above| self.list(*above)).collect();
        merged.sort_by_key(|(steps, _)| *steps);
        let mut seen = HashSet::new();
        merged.retain(|(_, source)| seen.insert(*source));
        merged.iter_mut().for_each(|(farther, _)| *farther += steps);
        merged
    }

    fn add(&mut self, list: Vec<(u32, usize)>) -> usize {
        if list.is_empty() {
            return NONE;
        }
        self.lists.push(list);
        self.lists.len() - 1
    }

    /// What lies above a node, from what lies above its feeds.
    fn above_one(
        &mut self,
        network: &Network,
        at: NodeId,
        source_at: impl Fn(NodeId) -> Option<usize>,
    ) -> Option<Above> {
        let node = network.graph().node(at)?;
        let feeds = network.graph().into_node(at).iter().map(|feed| feed.from).filter(|from| *from != at);
        let feeds = self.of_nodes(&feeds.collect::<Vec<_>>());
        let is_end = is_end(node.kind);
        let (list, farther) = match feeds.as_slice() {
            _ if is_end => (self.add(source_at(at).map(|source| (0, source)).into_iter().collect()), 0),
            [] => (NONE, 0),
            [first, rest @ ..] if rest.iter().all(|it| (it.list, it.farther) == (first.list, first.farther)) => {
                (first.list, first.farther + 1)
            }
            several => (self.add(self.merged(several, 1)), 0),
        };
        let is_described = node.described_by() == DescribedBy::SuppliesFile;
        let is_whole = is_described && (is_end || !feeds.is_empty() && feeds.iter().all(|it| it.is_whole));
        let neutral = begun_here(node.neutral, feeds.is_empty()).unwrap_or_else(|| worst(&feeds));
        Some(Above { list, farther, is_whole, neutral })
    }

    /// The same by a walk of its own, for a node of a circle. What feeds the circle is known by then.
    fn above_in_circle(
        &mut self,
        network: &Network,
        at: NodeId,
        circle: &[NodeId],
        source_at: impl Fn(NodeId) -> Option<usize>,
    ) -> Option<Above> {
        let (mut list, mut is_whole, mut is_fed) = (Vec::new(), true, false);
        walk_up(network, [at], |at, node, steps| {
            let is_end = is_end(node.kind);
            is_fed |= is_end;
            list.extend(source_at(at).filter(|_| is_end).map(|source| (steps, source)));
            is_whole &= match circle.binary_search(&at) {
                Ok(_) => node.described_by() == DescribedBy::SuppliesFile,
                Err(_) => self.above.get(at.index()).is_some_and(|above| above.is_whole),
            };
            !is_end
        });
        let is_whole = is_whole && is_fed;
        let mut neutral = None;
        walk_up(network, [at], |at, node, _| {
            let found = match circle.binary_search(&at) {
                Ok(_) => begun_here(node.neutral, network.graph().into_node(at).is_empty()),
                Err(_) => self.above.get(at.index()).map(|above| above.neutral),
            };
            neutral = [neutral, found].into_iter().flatten().reduce(worse);
            found.is_none()
        });
        Some(Above { list: self.add(list), farther: 0, is_whole, neutral: neutral.unwrap_or(Neutral::NotKnown) })
    }
}

/// Where a walk to the sources ends.
const fn is_end(kind: NodeKind) -> bool {
    matches!(kind, NodeKind::Source) || is_ups(kind)
}

/// What is known of the neutral at a node; `None` where that is decided further up.
const fn begun_here(neutral: Neutral, is_last: bool) -> Option<Neutral> {
    match neutral {
        Neutral::PassedOn if is_last => Some(Neutral::NotKnown),
        Neutral::PassedOn => None,
        Neutral::Earthed | Neutral::MayBeLive | Neutral::NotKnown => Some(neutral),
    }
}

fn worst(several: &[Above]) -> Neutral {
    several.iter().map(|above| above.neutral).reduce(worse).unwrap_or(Neutral::NotKnown)
}

/// What can be live comes before what is not known, and that before what is earthed.
const fn worse(one: Neutral, other: Neutral) -> Neutral {
    match (one, other) {
        (Neutral::MayBeLive, _) | (_, Neutral::MayBeLive) => Neutral::MayBeLive,
        (Neutral::Earthed, Neutral::Earthed) => Neutral::Earthed,
        (Neutral::NotKnown | Neutral::PassedOn | Neutral::Earthed, _) => Neutral::NotKnown,
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;
    use crate::network::testing::{described, joined, surveyed};

    const KINDS: [&str; 8] = ["source", "busbar", "busbar", "breaker", "ups", "changeover", "transformer", ""];
    const EARTHING: [&str; 4] = ["", "", "TN-S", "TT"];

    /// A network of rows that are fed from any others, circles not left out.
    fn networks() -> impl Strategy<Value = Network> {
        let row = (0..KINDS.len(), prop::collection::vec(0_usize..14, 0..3), 0..EARTHING.len());
        prop::collection::vec(row, 1..13).prop_map(|rows| {
            let line = |(index, (kind, feeds, earthing)): (usize, &(usize, Vec<usize>, usize))| {
                let feeds: Vec<_> = feeds.iter().map(|feed| format!("N{feed}")).collect();
                format!("N{index},{},{},{}", KINDS[*kind], feeds.join(" + "), EARTHING[*earthing])
            };
            let lines: Vec<_> = rows.iter().enumerate().map(line).collect();
            let lines: Vec<&str> = lines.iter().map(String::as_str).collect();
            let survey =
                surveyed("enclosure,circuit,voltage_to_earth,isolator,isolator_location", &["E1,C/1,230,Q1,R1"]);
            joined(&survey, &described("device,kind,fed_from,earthing", &lines)).0
        })
    }

    /// The sources that a walk up meets, whether all that it meets is described and fed, and whether it meets any end.
    fn walked(network: &Network, at: NodeId, source_at: impl Fn(NodeId) -> Option<usize>) -> (Vec<usize>, bool, bool) {
        let (mut sources, mut is_described, mut is_fed) = (Vec::new(), true, false);
        walk_up(network, [at], |at, node, _| {
            let is_end = is_end(node.kind);
            is_fed |= is_end;
            sources.extend(source_at(at).filter(|_| is_end));
            is_described &= node.described_by() == DescribedBy::SuppliesFile;
            !is_end
        });
        (sources, is_described, is_fed)
    }

    /// Whether the file describes all of the way to the sources: whatever is met on it is described, and fed in the end.
    fn is_whole(network: &Network, start: NodeId) -> bool {
        let mut is_whole = true;
        walk_up(network, [start], |at, node, _| {
            let (_, is_described, is_fed) = walked(network, at, |_| None);
            is_whole &= is_described && is_fed;
            !is_end(node.kind)
        });
        is_whole
    }

    /// What a walk up finds of the neutral, and which nodes it passes without finding any.
    fn begun_above(network: &Network, start: NodeId) -> (Option<Neutral>, Vec<NodeId>) {
        let (mut begun, mut passed) = (None, Vec::new());
        walk_up(network, [start], |at, node, _| {
            let found = begun_here(node.neutral, network.graph().into_node(at).is_empty());
            passed.extend(found.is_none().then_some(at));
            begun = [begun, found].into_iter().flatten().reduce(worse);
            found.is_none()
        });
        (begun, passed)
    }

    /// A node above which no neutral begins, because nothing feeds its circle, leaves it unknown.
    fn neutral_above(network: &Network, start: NodeId) -> Neutral {
        let (begun, passed) = begun_above(network, start);
        let unfed = passed.into_iter().any(|at| begun_above(network, at).0.is_none()).then_some(Neutral::NotKnown);
        [begun, unfed].into_iter().flatten().reduce(worse).unwrap()
    }

    #[test]
    fn a_circle_that_nothing_feeds_leaves_what_is_below_it_unknown() {
        let survey = surveyed("enclosure,circuit,voltage_to_earth,isolator,isolator_location", &["E1,C/1,230,Q1,R1"]);
        let lines =
            ["N,source,,TN-S", "A,busbar,B,", "B,busbar,A,", "C,busbar,N + A,", "D,busbar,E + C,", "E,busbar,D,"];
        let network = joined(&survey, &described("device,kind,fed_from,earthing", &lines)).0;
        let upstream = Upstream::of(&network, |_| None);
        let neutrals: Vec<_> = (0..lines.len()).map(|node| upstream.neutral(&[NodeId::new(node)])).collect();
        use Neutral::{Earthed, NotKnown};
        assert_eq!(neutrals, [Earthed, NotKnown, NotKnown, NotKnown, NotKnown, NotKnown]);
        let whole: Vec<_> = (0..lines.len()).map(|node| upstream.is_whole(&[NodeId::new(node)])).collect();
        assert_eq!(whole, [true, false, false, false, false, false]);
    }

    proptest! {
        #[test]
        fn agrees_with_a_walk_from_every_node(network in networks()) {
            let nodes = network.graph().nodes();
            let source_at = |node: NodeId| Some(node.index()).filter(|index| nodes[*index].kind == NodeKind::Source);
            let upstream = Upstream::of(&network, source_at);
            for node in (0..nodes.len()).map(NodeId::new) {
                let (sources, ..) = walked(&network, node, source_at);
                let is_whole = is_whole(&network, node);
                let found = (upstream.sources(&[node]).into_vec(), upstream.is_whole(&[node]));
                prop_assert_eq!(found, (sources, is_whole), "{:?}", network.graph());
                prop_assert_eq!(upstream.neutral(&[node]), neutral_above(&network, node), "{:?}", network.graph());
            }
        }

        #[test]
        fn agrees_with_a_walk_from_several_nodes_at_once(network in networks(), starts in prop::collection::vec(0_usize..12, 1..4)) {
            let nodes = network.graph().nodes();
            let starts: Vec<_> = starts.into_iter().map(|start| NodeId::new(start % nodes.len())).collect();
            let source_at = |node: NodeId| Some(node.index()).filter(|index| nodes[*index].kind == NodeKind::Source);
            let mut expected = Vec::new();
            walk_up(&network, starts.clone(), |at, node, _| {
                expected.extend(source_at(at));
                !is_end(node.kind)
            });
            let mut seen = HashSet::new();
            expected.retain(|source| seen.insert(*source));
            prop_assert_eq!(Upstream::of(&network, source_at).sources(&starts).into_vec(), expected);
        }
    }
}
