//! What a device parts by its poles, in the model that is written out plainly.

use super::{Brute, begins_system, described};
use crate::network::graph::NodeKind;
use crate::network::id::{EnclosureId, NodeId};
use crate::network::{Side, Terminal, Way};

impl Brute<'_> {
    /// How many lines a device parts, with open ones of one pole between the same two places that a row names beside it.
    pub(super) fn lines_parted(&self, index: usize, open: &[bool]) -> Option<u8> {
        let list = self.graph.nodes();
        let own = list[index].poles?.lines;
        let feeds = |at: usize| {
            let feeds = self.graph.feeds().iter();
            let above: Vec<usize> = feeds.clone().filter(|it| it.to.index() == at).map(|it| it.from.index()).collect();
            let below: Vec<usize> = feeds.filter(|it| it.from.index() == at).map(|it| it.to.index()).collect();
            (above, below)
        };
        let (above, below) = feeds(index);
        let is_apart = |at: &usize| {
            matches!(list[*at].kind, NodeKind::Changeover { .. } | NodeKind::Ups { .. } | NodeKind::NotKnown)
        };
        if above.len() != 1 || below.iter().any(is_apart) {
            return Some(own);
        }
        let is_beside = |at: &usize| {
            let node = &list[*at];
            let is_of_one_pole = node.poles.is_some_and(|poles| poles.lines == 1);
            let is_alike = node.kind == NodeKind::Isolator && described(node) && is_of_one_pole;
            is_alike && feeds(*at) == (above.clone(), below.clone()) && (open[*at] || *at == index)
        };
        let of_row = |way: &Way| {
            let devices = way.isolated.devices().iter();
            let mut named: Vec<usize> = devices.map(|it| self.network.device_node(*it).unwrap().index()).collect();
            named.sort_unstable();
            named.dedup();
            let is_named = named.contains(&index) && is_beside(&index);
            u8::try_from(named.into_iter().filter(|at| is_named && is_beside(at)).count()).unwrap()
        };
        let together = self.network.ways(EnclosureId::new(0)).iter().map(of_row).max();
        Some(own.max(together.unwrap_or(0)))
    }

    /// Whether a declared device has live parts on its load side, and every row there has one line.
    pub(super) fn is_of_one_line(&self, device: usize) -> bool {
        let terminal = Terminal { node: NodeId::new(device), side: Side::Load };
        let rows = self.rows().into_iter().filter(|(at, ..)| self.with_feeds_of_upses(at).contains(&terminal));
        let lines: Vec<Option<u8>> = rows.map(|(_, needs, ..)| needs.lines).collect();
        self.declared().contains(&terminal.node) && !lines.is_empty() && lines.iter().all(|it| *it == Some(1))
    }

    /// Whether an isolator has a pole for every line that can come to it from one side: those of all sources and other
    /// beginnings that are connected with that side, if nothing there is unknown.
    pub(super) fn parts_all_that_comes(&self, device: usize, from_below: bool, open: &[bool]) -> bool {
        let list = self.graph.nodes();
        if list[device].kind != NodeKind::Isolator {
            return false;
        }
        let mut there = vec![(device, from_below)];
        loop {
            let mut more: Vec<(usize, bool)> = Vec::new();
            for feed in self.graph.feeds() {
                let ends = [(feed.from.index(), true), (feed.to.index(), false)];
                if ends.iter().any(|end| there.contains(end)) {
                    more.extend(ends);
                }
            }
            for &(index, below) in &there {
                if index != device && !begins_system(&list[index]) {
                    more.push((index, !below));
                }
            }
            more.retain(|terminal| !there.contains(terminal));
            if more.is_empty() {
                break;
            }
            more.sort_unstable();
            more.dedup();
            there.extend(more);
        }
        let is_unknown = |&(index, below): &(usize, bool)| {
            let node = &list[index];
            let is_charging = node.kind == NodeKind::Converter && self.graph.is_charging(NodeId::new(index));
            let conducts_back = matches!(node.kind, NodeKind::Transformer | NodeKind::Ups { .. }) || is_charging;
            let is_fed = begins_system(node) || !self.graph.into_node(NodeId::new(index)).is_empty();
            !described(node) || node.kind == NodeKind::NotKnown || !below && (conducts_back || !is_fed)
        };
        let mut beginnings: Vec<usize> = there
            .iter()
            .filter(|(index, below)| begins_system(&list[*index]) && (*below || list[*index].kind == NodeKind::Source))
            .map(|(index, _)| *index)
            .collect();
        beginnings.sort_unstable();
        beginnings.dedup();
        let lines: Option<Vec<u8>> = beginnings.iter().map(|index| self.graph.lines(NodeId::new(*index))).collect();
        let poles = self.lines_parted(device, open).unwrap_or(1);
        let is_enough = |lines: Vec<u8>| !lines.is_empty() && lines.into_iter().sum::<u8>() <= poles;
        !there.iter().any(is_unknown) && lines.is_some_and(is_enough)
    }
}
