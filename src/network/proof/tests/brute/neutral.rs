//! What comes by a neutral: a live one, and the circuits whose neutral a row shares.

use super::{Brute, Live, Ways, Wire, Word, begins, described};
use crate::network::graph::{Neutral, NodeKind};
use crate::network::id::{NodeId, WayId};
use crate::network::{Side, Terminal};

impl Brute<'_> {
    /// Whether any of these terminals is live by the lines of the circuits that hang there.
    pub(super) fn lent(&self, terminals: &[Terminal], open: &[bool], word: Word) -> bool {
        terminals.iter().any(|terminal| self.lines(&[*terminal], open, self.lines_hanging_at(*terminal), word))
    }

    /// The most lines of any row at a terminal; nothing where one does not say, or there is none.
    pub(super) fn lines_hanging_at(&self, terminal: Terminal) -> Option<u8> {
        let ways = self.network.ways.iter().enumerate();
        let there = ways.filter(|(index, _)| self.network.live_parts(WayId::new(*index)).contains(&terminal));
        there.map(|(_, way)| way.needs.lines).reduce(|one, other| Some(one?.max(other?))).flatten()
    }

    /// Where a neutral is live, or may be.
    pub(super) fn neutral_seeds(&self, word: Word, energised: &dyn Fn(usize) -> bool) -> Live {
        let nodes = self.graph.nodes().iter().enumerate();
        let seeds = nodes.map(|(index, node)| {
            let possible = word == Word::Possible;
            let gap = possible && (!described(node) || node.kind == NodeKind::NotKnown);
            let no_feed = possible && self.is_not_fed(index);
            let can = node.neutral == Neutral::MayBeLive || possible && node.neutral == Neutral::NotKnown;
            let is_outside = self.passed != Some(index);
            [gap || no_feed, gap || is_outside && begins(node) && can && energised(index)]
        });
        seeds.collect()
    }

    pub(super) fn neutral(&self, terminals: &[Terminal], open: &[bool], lines: Option<u8>, word: Word) -> bool {
        let energised = |index: usize| {
            let node = self.graph.nodes()[index];
            matches!(node.kind, NodeKind::Source | NodeKind::Ups { own_battery: true })
                || self.lines(&[Terminal { node: NodeId::new(index), side: Side::Load }], open, lines, word)
        };
        self.positions.iter().any(|position| {
            let seeds = self.neutral_seeds(word, &energised);
            let conducts = |index: usize, up: bool| self.conducts((index, up), open, (Wire::Neutral, &[]), word);
            let joins = |index: usize, feed: usize| self.joins((index, feed), (Wire::Neutral, &[]), word);
            let ways = Ways { conducts: &conducts, joins: &joins };
            Self::at(&self.spread(position, seeds, Wire::Neutral, ways), terminals)
        })
    }
}
