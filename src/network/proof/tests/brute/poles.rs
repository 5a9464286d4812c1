//! What a device parts by its poles, in the model that is written out plainly.

use super::{Brute, Wire, Word, begins_system, described};
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

    /// Whether a changeover lets what comes by its other feeds past its switches to this one.
    pub(super) fn joins(&self, (index, feed): (usize, usize), (wire, home): (Wire, &[Terminal]), word: Word) -> bool {
        let is_possible = word == Word::Possible;
        let poles = self.graph.nodes()[index].poles;
        let Wire::Lines(needed) = wire else { return poles.map_or(is_possible, |poles| !poles.neutral) };
        let Some(poles) = poles.map(|poles| poles.lines).filter(|poles| *poles < 3) else { return false };
        // Whether each side has more lines than it switches; nothing where nobody tells.
        let others = self.graph.into_node(NodeId::new(index)).iter().map(|feed| feed.from.index());
        let others: Vec<Option<bool>> =
            others.filter(|other| *other != feed).map(|other| self.feed_has_more(index, other, poles)).collect();
        let here = self.feed_has_more(index, feed, poles);
        if here == Some(false) || others.iter().all(|other| *other == Some(false)) {
            return false;
        }
        let is_said = here == Some(true) && others.contains(&Some(true));
        let system_has_more = self.lines_at(index).is_none_or(|lines| lines > poles);
        match needed.filter(|_| self.is_at_home(index, home)) {
            Some(needed) if poles < needed => is_said || is_possible,
            Some(_) => is_said && system_has_more && is_possible,
            None => is_possible && (self.is_at_home(index, home) || system_has_more),
        }
    }

    /// Whether a feed of a changeover has more lines than so many; nothing where a device through which it comes alone does not
    /// tell.
    fn feed_has_more(&self, changeover: usize, feed: usize, lines: u8) -> Option<bool> {
        if self.brings_at_most((feed, true), (changeover, true), lines) {
            return Some(false);
        }
        let list = self.graph.nodes();
        let (mut chain, mut devices) = (vec![changeover, feed], Vec::new());
        loop {
            let &[.., below, at] = chain.as_slice() else { unreachable!() };
            let above: Vec<usize> = self.graph.into_node(NodeId::new(at)).iter().map(|it| it.from.index()).collect();
            let fed = self.graph.out_of_node(NodeId::new(at)).iter().all(|it| it.to.index() == below);
            let is_device = list[at].kind == NodeKind::Isolator;
            let is_plain = is_device || matches!(list[at].kind, NodeKind::Cutout | NodeKind::Switch | NodeKind::Busbar);
            if !(is_plain && fed && above.len() == 1 && described(&list[at])) {
                break;
            }
            devices.extend(Some(list[at].poles.map(|poles| poles.lines)).filter(|_| is_device));
            chain.push(above[0]);
        }
        if devices.iter().flatten().any(|poles| *poles <= lines) {
            return Some(false);
        }
        if devices.contains(&None) { None } else { Some(true) }
    }

    /// Whether an isolator has a pole for every line that can come to it from one side: those of all sources and other
    /// beginnings that are connected with that side, if nothing there is unknown.
    pub(super) fn parts_all_that_comes(&self, device: usize, from_below: bool, open: &[bool]) -> bool {
        let list = self.graph.nodes();
        if list[device].kind != NodeKind::Isolator {
            return false;
        }
        self.brings_at_most((device, from_below), (device, false), self.lines_parted(device, open).unwrap_or(1))
    }

    /// Whether so many lines at most come to a terminal without passing a device, or without coming to it.
    fn brings_at_most(&self, start: (usize, bool), (device, is_barred): (usize, bool), poles: u8) -> bool {
        let list = self.graph.nodes();
        let mut there = vec![start];
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
            more.retain(|terminal| !(there.contains(terminal) || is_barred && terminal.0 == device));
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
        let is_enough = |lines: Vec<u8>| !lines.is_empty() && lines.into_iter().sum::<u8>() <= poles;
        !there.iter().any(is_unknown) && lines.is_some_and(is_enough)
    }
}
