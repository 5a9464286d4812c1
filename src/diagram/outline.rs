//! The region of an enclosure made readable: long chains shortened with their count said, and a bound on its size.

use std::collections::VecDeque;

use super::region::{Joint, Region};
use crate::network::{EnclosureId, Network, NodeId, WayId};

/// Devices of an unbranched chain that are drawn before its middle is only counted.
const LONGEST_CHAIN: usize = 5;

/// Nodes that a picture holds: beyond that it can no longer be read on one sheet.
const MOST_SPOTS: usize = 60;

/// One place of the outline.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Spot {
    /// A node of the network.
    Node(NodeId),
    /// So many devices of a chain, one feeding the next.
    More(usize),
    /// So many devices and boards that feed what is below, left out for their number.
    Beyond(usize),
}

/// Two spots that are connected.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Link {
    /// The spot drawn above.
    pub(super) upper: usize,
    /// The spot drawn below.
    pub(super) lower: usize,
    /// The nodes that it connects, which may be hidden in a spot; upper first.
    pub(super) nodes: (NodeId, NodeId),
}

/// What the live parts of a row hang on, by spot.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct End {
    /// The row.
    pub(super) way: WayId,
    /// Spots that feed it.
    pub(super) hangs: Vec<usize>,
    /// Spots behind the circuit whose neutral it shares.
    pub(super) lenders: Vec<usize>,
}

/// What is shown of the network for one enclosure.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(super) struct Outline {
    /// The places, nearest to the enclosure first.
    pub(super) spots: Vec<Spot>,
    /// How they are connected.
    pub(super) links: Vec<Link>,
    /// The rows of the enclosure, in their order.
    pub(super) ends: Vec<End>,
    /// Sources that can feed back and are not shown.
    pub(super) sources_left_out: usize,
}

impl Outline {
    /// The outline of an enclosure; nodes that `keep` names are never hidden in a chain.
    pub(super) fn of(network: &Network, enclosure: EnclosureId, keep: &[NodeId]) -> Self {
        let region = Region::of(network, enclosure);
        let spot_of_node = Shortening::new(&region, network.graph().nodes().len(), keep).spots();
        let mut outline = collected(&region, &spot_of_node);
        outline.limit();
        outline
    }

    /// The links into a spot, from what feeds it.
    pub(super) fn above(&self, spot: usize) -> impl Iterator<Item = &Link> {
        self.links.iter().filter(move |link| link.lower == spot)
    }

    /// Leaves the spots nearest to the enclosure, and says how many others each of them hangs on.
    fn limit(&mut self) {
        if self.spots.len() <= MOST_SPOTS {
            return;
        }
        let uppers = self.uppers();
        let near = self.nearest(&uppers);
        let kept = |spot: usize| near.get(spot).copied().flatten();
        let mut spots: Vec<Spot> = vec![Spot::Beyond(0); near.iter().flatten().count()];
        for (old, spot) in self.spots.iter().enumerate() {
            if let Some(place) = kept(old).and_then(|new| spots.get_mut(new)) {
                *place = *spot;
            }
        }
        let mut links = Vec::new();
        let mut ended: Vec<usize> = Vec::new();
        for link in &self.links {
            match (kept(link.upper), kept(link.lower)) {
                (Some(upper), Some(lower)) => links.push(Link { upper, lower, ..*link }),
                (None, Some(lower)) if !ended.contains(&lower) => {
                    ended.push(lower);
                    links.push(Link { upper: spots.len(), lower, ..*link });
                    spots.push(Spot::Beyond(self.count_beyond(link.lower, &near, &uppers)));
                }
                (_, None) | (None, Some(_)) => {}
            }
        }
        for end in &mut self.ends {
            end.hangs = end.hangs.iter().filter_map(|spot| kept(*spot)).collect();
            end.lenders = end.lenders.iter().filter_map(|spot| kept(*spot)).collect();
        }
        (self.spots, self.links) = (spots, links);
    }

    /// For each spot those that feed it.
    fn uppers(&self) -> Vec<Vec<usize>> {
        let mut uppers: Vec<Vec<usize>> = vec![Vec::new(); self.spots.len()];
        for link in &self.links {
            uppers.get_mut(link.lower).into_iter().for_each(|list| list.push(link.upper));
        }
        uppers
    }

    /// For each spot its new place, if it is among the nearest.
    fn nearest(&self, uppers: &[Vec<usize>]) -> Vec<Option<usize>> {
        let mut place = vec![None; self.spots.len()];
        let mut waiting: VecDeque<usize> =
            self.ends.iter().flat_map(|end| end.hangs.iter().chain(&end.lenders)).copied().collect();
        let mut count = 0;
        while let Some(spot) = waiting.pop_front() {
            let Some(slot) = place.get_mut(spot).filter(|slot| slot.is_none()) else { continue };
            if count == MOST_SPOTS {
                break;
            }
            *slot = Some(count);
            count += 1;
            waiting.extend(uppers.get(spot).into_iter().flatten());
        }
        place
    }

    /// How many devices and boards above a spot are left out.
    fn count_beyond(&self, spot: usize, near: &[Option<usize>], uppers: &[Vec<usize>]) -> usize {
        let mut seen = vec![false; self.spots.len()];
        let mut waiting = vec![spot];
        let mut count = 0;
        while let Some(lower) = waiting.pop() {
            for upper in uppers.get(lower).into_iter().flatten().copied() {
                let is_left_out = near.get(upper).is_some_and(Option::is_none);
                if let Some(seen) = seen.get_mut(upper).filter(|seen| is_left_out && !**seen) {
                    *seen = true;
                    waiting.push(upper);
                    count += match self.spots.get(upper) {
                        Some(Spot::More(hidden) | Spot::Beyond(hidden)) => *hidden,
                        Some(Spot::Node(_)) | None => 1,
                    };
                }
            }
        }
        count
    }
}

/// Finds the unbranched chains of a region.
struct Shortening<'a> {
    region: &'a Region,
    /// For each node of the network the only node above it, and the only one below; `None` at a branch or an end.
    above: Vec<Only>,
    below: Vec<Only>,
    is_kept: Vec<bool>,
}

#[derive(Clone, Copy, Default)]
enum Only {
    #[default]
    Nothing,
    One(NodeId),
    Several,
}

impl Only {
    fn add(&mut self, node: NodeId) {
        *self = match self {
            Self::Nothing => Self::One(node),
            Self::One(_) | Self::Several => Self::Several,
        };
    }

    const fn one(self) -> Option<NodeId> {
        match self {
            Self::One(node) => Some(node),
            Self::Nothing | Self::Several => None,
        }
    }
}

impl<'a> Shortening<'a> {
    fn new(region: &'a Region, nodes: usize, keep: &[NodeId]) -> Self {
        let mut made = Self {
            region,
            above: vec![Only::Nothing; nodes],
            below: vec![Only::Nothing; nodes],
            is_kept: vec![false; nodes],
        };
        for Joint { upper, lower } in &region.joints {
            made.above.get_mut(lower.index()).into_iter().for_each(|only| only.add(*upper));
            made.below.get_mut(upper.index()).into_iter().for_each(|only| only.add(*lower));
        }
        let hung = region.ends.iter().flat_map(|end| end.hangs.iter().chain(&end.lenders));
        for node in keep.iter().chain(hung) {
            made.is_kept.get_mut(node.index()).into_iter().for_each(|kept| *kept = true);
        }
        made
    }

    /// Whether a node has one node above and one below, and nothing else that is worth showing.
    fn is_link_of_chain(&self, node: NodeId) -> bool {
        let one = |list: &[Only]| list.get(node.index()).is_some_and(|only| only.one().is_some());
        one(&self.above) && one(&self.below) && !self.is_kept.get(node.index()).copied().unwrap_or(true)
    }

    fn one_above(&self, node: NodeId) -> Option<NodeId> {
        self.above.get(node.index()).copied().and_then(Only::one)
    }

    fn one_below(&self, node: NodeId) -> Option<NodeId> {
        self.below.get(node.index()).copied().and_then(Only::one)
    }

    /// The nodes in the order of the region, each with the first of the hidden chain to which it belongs.
    fn spots(&self) -> Vec<(NodeId, Option<NodeId>)> {
        let mut hidden: Vec<Option<NodeId>> = vec![None; self.is_kept.len()];
        let begins = |node: &&NodeId| {
            self.is_link_of_chain(**node) && !self.one_below(**node).is_some_and(|below| self.is_link_of_chain(below))
        };
        for first in self.region.nodes.iter().filter(begins) {
            let mut chain = vec![*first];
            let mut node = *first;
            while let Some(next) = self.one_above(node).filter(|next| self.is_link_of_chain(*next)) {
                chain.push(next);
                node = next;
            }
            if chain.len() <= LONGEST_CHAIN {
                continue;
            }
            // Two devices are shown on either side of those that are only counted.
            let middle = chain.get(2..chain.len() - 2).unwrap_or_default();
            for node in middle {
                if let (Some(place), Some(head)) = (hidden.get_mut(node.index()), middle.first()) {
                    *place = Some(*head);
                }
            }
        }
        let head = |node: NodeId| hidden.get(node.index()).copied().flatten();
        self.region.nodes.iter().map(|node| (*node, head(*node))).collect()
    }
}

/// The outline whose hidden nodes are gathered under the first of their chain.
fn collected(region: &Region, heads: &[(NodeId, Option<NodeId>)]) -> Outline {
    let most = heads.iter().map(|(node, _)| node.index() + 1).max().unwrap_or(0);
    let mut spot_of: Vec<Option<usize>> = vec![None; most];
    let mut spots: Vec<Spot> = Vec::new();
    for (node, head) in heads {
        let known = head.and_then(|head| spot_of.get(head.index()).copied().flatten());
        if let Some(Spot::More(count)) = known.and_then(|spot| spots.get_mut(spot)) {
            *count += 1;
        }
        let spot = known.unwrap_or(spots.len());
        if known.is_none() {
            spots.push(head.map_or(Spot::Node(*node), |_| Spot::More(1)));
        }
        for index in [head.map(NodeId::index), Some(node.index())].into_iter().flatten() {
            spot_of.get_mut(index).into_iter().for_each(|place| *place = Some(spot));
        }
    }
    let spot = |node: NodeId| spot_of.get(node.index()).copied().flatten();
    let links = region.joints.iter().filter_map(|joint| {
        let (upper, lower) = (spot(joint.upper)?, spot(joint.lower)?);
        (upper != lower).then_some(Link { upper, lower, nodes: (joint.upper, joint.lower) })
    });
    let spots_of = |nodes: &[NodeId]| nodes.iter().filter_map(|node| spot(*node)).collect();
    let ends = region.ends.iter();
    Outline {
        links: links.collect(),
        ends: ends
            .map(|end| End { way: end.way, hangs: spots_of(&end.hangs), lenders: spots_of(&end.lenders) })
            .collect(),
        spots,
        sources_left_out: region.sources_left_out,
    }
}
