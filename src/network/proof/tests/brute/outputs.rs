//! What comes from outside to the output of a UPS.

use super::{Brute, Word, described};
use crate::network::graph::NodeKind;
use crate::network::id::{EnclosureId, NodeId};
use crate::network::live_parts::Outputs;
use crate::network::{Isolated, Needs, Side, Terminal};

impl<'a> Brute<'a> {
    /// The output terminals that are judged with each row.
    pub(super) fn outputs(&self) -> Vec<Option<&'a Outputs>> {
        let network = self.network;
        let ways = network.way_ids(EnclosureId::new(0)).zip(network.ways(EnclosureId::new(0)));
        let ways = ways.filter(|(_, way)| way.isolated != Isolated::Impossible);
        ways.map(|(id, _)| network.outputs.get(&id)).collect()
    }

    /// The same network, asked what comes past a UPS.
    fn past(&self, ups: NodeId) -> Self {
        let Self { network, graph, .. } = *self;
        Self { network, graph, positions: self.positions.clone(), passed: Some(ups.index()) }
    }

    /// The live parts of a row: those at the output of a UPS by what comes past it, and the others.
    pub(super) fn parted_by_output(
        &self,
        terminals: &[Terminal],
        outputs: Option<&Outputs>,
    ) -> Vec<(Self, Vec<Terminal>)> {
        let mut parts = vec![(self.past_nothing(), terminals.to_vec())];
        if let Some(outputs) = outputs {
            parts[0].1.retain(|terminal| !outputs.own.contains(terminal));
            parts.push((self.past(outputs.ups), outputs.own.clone()));
        }
        parts
    }

    fn past_nothing(&self) -> Self {
        let Self { network, graph, .. } = *self;
        Self { network, graph, positions: self.positions.clone(), passed: None }
    }

    /// Whether energy comes past the UPS to its output terminals of which no row speaks.
    pub(super) fn is_live_at_output(&self, outputs: Option<&Outputs>, needs: Needs, open: &[bool], word: Word) -> bool {
        let Some(Outputs { ups, further, .. }) = outputs else { return false };
        let lines = self.graph.lines(*ups).or(needs.lines);
        self.past(*ups).lines(further, open, lines, word)
    }

    /// Whether energy comes past a UPS, whose enclosure it is, to an output terminal of which no row speaks. It is asked
    /// only where every row says what isolates it, none the UPS itself, and one of them something that the UPS is fed from
    /// or feeds.
    pub(in super::super) fn is_output_live(&self, ups: NodeId, open: &[bool]) -> bool {
        let ways = self.network.ways(EnclosureId::new(0));
        let is_related = |node: NodeId| self.feeds_lead(ups, node) || self.feeds_lead(node, ups);
        let declared = self.declared();
        let leaves_open = declared.contains(&ups) || ways.iter().any(|way| way.isolated == Isolated::Unknown);
        !leaves_open
            && declared.into_iter().any(is_related)
            && self.is_any_output_live(ups, open, self.graph.lines(ups))
    }

    /// Whether energy comes past a UPS to an output terminal of which no row speaks, to which so many lines come.
    pub(in super::super) fn is_any_output_live(&self, ups: NodeId, open: &[bool], lines: Option<u8>) -> bool {
        let spoken_of: Vec<Terminal> = self.rows().into_iter().flat_map(|(terminals, ..)| terminals.to_vec()).collect();
        let is_asked = |terminal: &Terminal| {
            let node = &self.graph.nodes()[terminal.node.index()];
            let leads_back = match node.kind {
                NodeKind::Isolator | NodeKind::Cutout | NodeKind::Switch | NodeKind::Transformer | NodeKind::Busbar => {
                    described(node)
                }
                NodeKind::Source
                | NodeKind::Changeover { .. }
                | NodeKind::Ups { .. }
                | NodeKind::Converter
                | NodeKind::NotKnown => false,
            };
            leads_back && !spoken_of.contains(terminal)
        };
        let fed = self.graph.feeds().iter().filter(|feed| feed.from == ups);
        let outputs: Vec<Terminal> =
            fed.map(|feed| Terminal { node: feed.to, side: Side::Supply }).filter(is_asked).collect();
        self.past(ups).lines(&outputs, open, lines, Word::Certain)
    }

    /// Whether feeds lead from one node down to another, or they are the same.
    fn feeds_lead(&self, upper: NodeId, lower: NodeId) -> bool {
        let mut below = vec![upper];
        loop {
            let feeds = self.graph.feeds().iter();
            let next = feeds.filter(|feed| below.contains(&feed.from)).map(|feed| feed.to);
            let next: Vec<NodeId> = next.filter(|node| !below.contains(node)).collect();
            if next.is_empty() {
                return below.contains(&lower);
            }
            below.extend(next);
        }
    }
}
