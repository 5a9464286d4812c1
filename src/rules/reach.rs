//! Where the energy of one source comes to when every device is closed and every changeover may stand in any position.

use crate::network::{Graph, NodeId, NodeKind, Side, Terminal};

/// The terminals that one source reaches.
pub(super) struct Reach {
    /// Two bits a node: supply side, load side.
    reached: Vec<u64>,
}

impl Reach {
    /// Floods the graph from the load side of a source.
    ///
    /// A changeover connects its output to one feed at a time. So energy that came to its output through one feed goes
    /// on to no other; energy that came from elsewhere may go on to any.
    pub(super) fn of(graph: &Graph, source: NodeId) -> Self {
        let mut outwards: Vec<NodeId> = Vec::new();
        loop {
            let reached = Flood { graph, outwards: &outwards, shut: None }.from(source);
            let further = graph.nodes().iter().enumerate().find_map(|(index, node)| {
                let changeover = NodeId::new(index);
                let is_changeover = matches!(node.kind, NodeKind::Changeover { .. });
                let output = Terminal { node: changeover, side: Side::Load };
                let is_candidate = is_changeover && !outwards.contains(&changeover) && reached.contains(output);
                let otherwise = || Flood { graph, outwards: &outwards, shut: Some(changeover) }.from(source);
                (is_candidate && otherwise().contains(output)).then_some(changeover)
            });
            match further {
                Some(changeover) => outwards.push(changeover),
                None => return reached,
            }
        }
    }

    fn none(graph: &Graph) -> Self {
        Self { reached: vec![0; (graph.nodes().len() * 2).div_ceil(64)] }
    }

    /// Whether the source reaches this side of this node.
    pub(super) fn contains(&self, terminal: Terminal) -> bool {
        let (word, bit) = place(terminal);
        self.reached.get(word).is_some_and(|bits| bits & bit != 0)
    }

    /// Adds a terminal; true where it is new.
    fn insert(&mut self, terminal: Terminal) -> bool {
        let (word, bit) = place(terminal);
        let Some(bits) = self.reached.get_mut(word) else { return false };
        let is_new = *bits & bit == 0;
        *bits |= bit;
        is_new
    }
}

const fn place(terminal: Terminal) -> (usize, u64) {
    let number = terminal.node.index() * 2 + matches!(terminal.side, Side::Load) as usize;
    (number / 64, 1 << (number % 64))
}

/// One flood: which changeovers pass energy from their output to their feeds, and which one passes none at all.
struct Flood<'a> {
    graph: &'a Graph,
    outwards: &'a [NodeId],
    shut: Option<NodeId>,
}

impl Flood<'_> {
    fn from(&self, source: NodeId) -> Reach {
        let mut reach = Reach::none(self.graph);
        let first = Terminal { node: source, side: Side::Load };
        reach.insert(first);
        let mut open = vec![first];
        while let Some(terminal) = open.pop() {
            self.next(terminal, &mut |next| {
                if reach.insert(next) {
                    open.push(next);
                }
            });
        }
        reach
    }

    fn next(&self, at: Terminal, reached: &mut impl FnMut(Terminal)) {
        let Some(node) = self.graph.node(at.node) else { return };
        match at.side {
            Side::Load => {
                for feed in self.graph.out_of_node(at.node) {
                    self.enter(feed.to, reached);
                }
                if conducts_back(node.kind) {
                    reached(Terminal { node: at.node, side: Side::Supply });
                }
                if self.outwards.contains(&at.node) && self.shut != Some(at.node) {
                    self.leave(at.node, reached);
                }
            }
            Side::Supply => {
                if conducts_back(node.kind) || node.kind == NodeKind::Converter {
                    reached(Terminal { node: at.node, side: Side::Load });
                    self.leave(at.node, reached);
                }
            }
        }
    }

    /// Energy arrives at a node from one of its feeds.
    fn enter(&self, node: NodeId, reached: &mut impl FnMut(Terminal)) {
        reached(Terminal { node, side: Side::Supply });
        match self.graph.node(node).map(|node| node.kind) {
            Some(NodeKind::Changeover { .. }) if self.shut != Some(node) => {
                reached(Terminal { node, side: Side::Load });
            }
            Some(NodeKind::Ups { .. }) => reached(Terminal { node, side: Side::Load }),
            Some(
                NodeKind::Source
                | NodeKind::Isolator
                | NodeKind::Cutout
                | NodeKind::Switch
                | NodeKind::Changeover { .. }
                | NodeKind::Transformer
                | NodeKind::Converter
                | NodeKind::Busbar
                | NodeKind::NotKnown,
            )
            | None => {}
        }
    }

    /// Energy goes on to everything that feeds a node.
    fn leave(&self, node: NodeId, reached: &mut impl FnMut(Terminal)) {
        for feed in self.graph.into_node(node) {
            reached(Terminal { node: feed.from, side: Side::Load });
        }
    }
}

/// Whether a node connects its two sides both ways.
pub(super) const fn conducts_back(kind: NodeKind) -> bool {
    match kind {
        NodeKind::Isolator | NodeKind::Cutout | NodeKind::Switch | NodeKind::Transformer | NodeKind::Busbar => true,
        NodeKind::Source
        | NodeKind::Changeover { .. }
        | NodeKind::Ups { .. }
        | NodeKind::Converter
        | NodeKind::NotKnown => false,
    }
}
