//! The model once more, written out plainly: what is live spreads from the sources until nothing changes, for every
//! position of every changeover. No code of the proof is used.

mod advice;
mod neutral;
mod outputs;
mod poles;

use crate::network::graph::{DescribedBy, Graph, Neutral, Node, NodeKind};
use crate::network::id::{EnclosureId, NodeId};
use crate::network::{Isolated, Lender, Needs, Network, ProofResult, Side, Terminal};

/// What an opened device does to what is looked at.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum Wire {
    Lines(Option<u8>),
    Neutral,
}

/// Whether what is not known counts as live.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum Word {
    Certain,
    Possible,
}

pub(super) struct Brute<'a> {
    pub(super) network: &'a Network,
    graph: &'a Graph,
    /// Every combination of positions: for each changeover the place of its feed.
    positions: Vec<Vec<usize>>,
    /// A UPS at whose output it is asked what comes from outside: it conducts nothing, and what it brings is not certain.
    passed: Option<usize>,
}

/// Live or not, for the supply and load side of every node.
type Live = Vec<[bool; 2]>;

/// Which nodes conduct, upwards or downwards, and which changeovers let what comes by their other feeds past their switches to
/// a feed.
#[derive(Clone, Copy)]
struct Ways<'b> {
    conducts: &'b dyn Fn(usize, bool) -> bool,
    joins: &'b dyn Fn(usize, usize) -> bool,
}

fn suitable(node: &Node) -> bool {
    matches!(node.kind, NodeKind::Isolator | NodeKind::Changeover { off_position: true })
}

fn begins_system(node: &Node) -> bool {
    matches!(node.kind, NodeKind::Source | NodeKind::Transformer | NodeKind::Ups { .. } | NodeKind::Converter)
}

fn begins(node: &Node) -> bool {
    let installation = node.kind != NodeKind::NotKnown && node.neutral == Neutral::MayBeLive;
    if begins_system(node) { node.neutral != Neutral::PassedOn } else { installation }
}

fn described(node: &Node) -> bool {
    node.described_by() == DescribedBy::SuppliesFile
}

impl<'a> Brute<'a> {
    pub(super) fn of(network: &'a Network) -> Self {
        let graph = network.graph();
        let mut positions: Vec<Vec<usize>> = vec![Vec::new()];
        for (index, node) in graph.nodes().iter().enumerate() {
            let changes_over = matches!(node.kind, NodeKind::Changeover { .. });
            let choices = if changes_over { graph.into_node(NodeId::new(index)).len().max(1) } else { 1 };
            positions = positions
                .iter()
                .flat_map(|chosen| (0..choices).map(|choice| [chosen.as_slice(), &[choice]].concat()))
                .collect();
        }
        Self { network, graph, positions, passed: None }
    }

    /// Whether a node conducts what is connected with these terminals, upwards or downwards.
    fn conducts(
        &self,
        (index, upwards): (usize, bool),
        open: &[bool],
        (wire, home): (Wire, &[Terminal]),
        word: Word,
    ) -> bool {
        let node = &self.graph.nodes()[index];
        if self.passed == Some(index) || wire == Wire::Neutral && begins(node) {
            return false;
        }
        if !open[index] || !suitable(node) {
            return true;
        }
        if wire != Wire::Neutral && !self.is_at_home(index, home) {
            if !upwards && node.kind == NodeKind::Isolator && self.is_of_one_line(index) {
                return false;
            }
            let needed = self.lines_at(index);
            let is_enough =
                self.lines_parted(index, open).map_or(needed == Some(1), |lines| lines >= needed.unwrap_or(3));
            return !is_enough && word == Word::Possible;
        }
        if wire != Wire::Neutral && self.parts_all_that_comes(index, upwards, open) {
            return false;
        }
        match (wire, self.lines_parted(index, open)) {
            (Wire::Lines(Some(needed)), Some(lines)) => lines < needed,
            (Wire::Lines(None), Some(lines)) => lines < 3 && word == Word::Possible,
            (Wire::Lines(Some(needed)), None) if needed <= 1 => false,
            (Wire::Neutral, Some(_)) => !node.poles.is_some_and(|poles| poles.neutral),
            (_, None) => word == Word::Possible,
        }
    }

    /// The terminals connected with this one without passing what begins a system, whatever is open.
    fn system_of(&self, terminal: (usize, usize)) -> Vec<(usize, usize)> {
        let mut known = vec![terminal];
        let mut next = 0;
        while next < known.len() {
            let (index, side) = known[next];
            next += 1;
            let node = &self.graph.nodes()[index];
            let id = NodeId::new(index);
            let transforms = matches!(node.kind, NodeKind::Ups { .. } | NodeKind::Transformer | NodeKind::Converter);
            let mut others: Vec<(usize, usize)> = Vec::new();
            if !transforms {
                others.push((index, 1 - side));
            }
            if side == 0 {
                others.extend(self.graph.into_node(id).iter().map(|feed| (feed.from.index(), 1)));
            }
            if side == 1 {
                others.extend(self.graph.out_of_node(id).iter().map(|feed| (feed.to.index(), 0)));
            }
            for other in others {
                if !known.contains(&other) {
                    known.push(other);
                }
            }
        }
        known
    }

    fn is_at_home(&self, index: usize, home: &[Terminal]) -> bool {
        let system = self.system_of((index, 1));
        home.iter().any(|terminal| system.contains(&(terminal.node.index(), usize::from(terminal.side == Side::Load))))
    }

    /// How many lines the system of a device has; `None` where one of its beginnings does not say.
    fn lines_at(&self, index: usize) -> Option<u8> {
        let system = self.system_of((index, 1)).into_iter();
        let beginnings = system.filter(|(node, side)| *side == 1 && begins_system(&self.graph.nodes()[*node]));
        let lines: Option<Vec<u8>> = beginnings.map(|(node, _)| self.graph.lines(NodeId::new(node))).collect();
        lines?.into_iter().max()
    }

    /// Spreads what is live over all conductors with the changeovers in these positions.
    fn spread(&self, position: &[usize], seeds: Live, wire: Wire, ways: Ways<'_>) -> Live {
        let Ways { conducts, joins } = ways;
        let nodes = self.graph.nodes();
        let mut live = seeds.clone();
        loop {
            let before = live.clone();
            for (index, node) in nodes.iter().enumerate() {
                let [above, below] = live[index];
                let feeds = self.graph.into_node(NodeId::new(index));
                let up = match node.kind {
                    NodeKind::Busbar => described(node) && !(wire == Wire::Neutral && begins(node)),
                    NodeKind::Isolator => described(node) && conducts(index, true),
                    NodeKind::Changeover { .. } => feeds.is_empty() && conducts(index, true),
                    NodeKind::Cutout | NodeKind::Switch | NodeKind::Transformer => {
                        described(node) && conducts(index, true)
                    }
                    NodeKind::Source | NodeKind::Ups { .. } | NodeKind::Converter | NodeKind::NotKnown => false,
                };
                let is_one_way = matches!(node.kind, NodeKind::Converter | NodeKind::Ups { own_battery: false });
                let down = match is_one_way || node.kind == NodeKind::Isolator {
                    true => conducts(index, false),
                    false => up,
                };
                live[index] = [above || up && below, below || down && above];
                for (place, feed) in feeds.iter().enumerate() {
                    let from = feed.from.index();
                    let feeding = &nodes[from];
                    let upwards = described(feeding) && described(node) && !(wire == Wire::Neutral && begins(feeding));
                    let is_changeover = matches!(node.kind, NodeKind::Changeover { .. });
                    let is_live_itself = matches!(
                        feeding.kind,
                        NodeKind::Source | NodeKind::Ups { own_battery: true } | NodeKind::NotKnown
                    );
                    if is_changeover && upwards && !is_live_itself && joins(index, from) {
                        live[from][1] |= feeds.iter().any(|other| live[other.from.index()][1]);
                    }
                    if is_changeover && !(position[index] == place && conducts(index, false)) {
                        continue;
                    }
                    let side = usize::from(is_changeover);
                    live[index][side] |= live[from][1];
                    if upwards && !is_live_itself {
                        // What an unknown thing brings is its own: that its feeds meet in it is not known.
                        let is_closed = matches!(node.kind, NodeKind::NotKnown | NodeKind::Ups { .. });
                        let brings = if is_closed { seeds[index] } else { live[index] };
                        live[from][1] |= brings[side];
                    }
                }
            }
            if live == before {
                return live;
            }
        }
    }

    /// Nothing feeds it, or only what feeds itself in a circle.
    fn is_not_fed(&self, index: usize) -> bool {
        let mut above = vec![index];
        let mut next = 0;
        while next < above.len() {
            let feeds = self.graph.into_node(NodeId::new(above[next])).iter().map(|feed| feed.from.index());
            let news: Vec<usize> = feeds.filter(|from| !above.contains(from)).collect();
            above.extend(news);
            next += 1;
        }
        let is_beginning = |at: usize| {
            let node = &self.graph.nodes()[at];
            let is_end = matches!(node.kind, NodeKind::Source | NodeKind::Ups { .. } | NodeKind::NotKnown);
            is_end || !described(node) || self.graph.into_node(NodeId::new(at)).is_empty()
        };
        let is_origin = matches!(self.graph.nodes()[index].kind, NodeKind::Source | NodeKind::Ups { .. });
        let has_feeds = !self.graph.into_node(NodeId::new(index)).is_empty();
        !(is_origin || has_feeds && above.into_iter().any(is_beginning))
    }

    /// Where energy comes from, or may come from.
    fn energy_seeds(&self, word: Word, with_back_feed: bool, with_gaps: bool) -> Live {
        let nodes = self.graph.nodes().iter().enumerate();
        let seeds = nodes.map(|(index, node)| {
            let possible = word == Word::Possible;
            let gap = possible && with_gaps && (!described(node) || node.kind == NodeKind::NotKnown);
            let is_told = possible || self.passed != Some(index);
            let is_origin = is_told
                && described(node)
                && matches!(node.kind, NodeKind::Source | NodeKind::Ups { own_battery: true });
            let is_outside = self.passed != Some(index);
            let back_feed = is_outside
                && matches!(node.kind, NodeKind::Ups { .. })
                && described(node)
                && possible
                && with_back_feed;
            let no_feed = self.is_not_fed(index);
            [gap || back_feed || possible && with_gaps && no_feed, gap || is_origin]
        });
        seeds.collect()
    }

    fn at(live: &Live, terminals: &[Terminal]) -> bool {
        terminals.iter().any(|terminal| live[terminal.node.index()][usize::from(terminal.side == Side::Load)])
    }

    /// Whether energy reaches any of these terminals in a position. What a UPS without a battery of its own feeds back
    /// does not come through itself.
    fn energy(
        &self,
        position: &[usize],
        terminals: &[Terminal],
        (word, with_gaps): (Word, bool),
        ways: Ways<'_>,
    ) -> bool {
        let wire = Wire::Lines(None);
        let mut seeds = self.energy_seeds(word, true, with_gaps);
        for (index, node) in self.graph.nodes().iter().enumerate() {
            if node.kind == (NodeKind::Ups { own_battery: false }) && seeds[index][0] {
                seeds[index][0] = false;
                let mut own = vec![[false; 2]; seeds.len()];
                own[index][0] = true;
                let conducts = |other: usize, up: bool| other != index && (ways.conducts)(other, up);
                let live = self.spread(position, own, wire, Ways { conducts: &conducts, ..ways });
                if Self::at(&live, terminals) {
                    return true;
                }
            }
        }
        Self::at(&self.spread(position, seeds, wire, ways), terminals)
    }

    /// Whether any of these terminals is live, in any position.
    fn lines(&self, terminals: &[Terminal], open: &[bool], lines: Option<u8>, word: Word) -> bool {
        self.positions.iter().any(|position| {
            let wire = (Wire::Lines(lines), terminals);
            let conducts = |index: usize, up: bool| self.conducts((index, up), open, wire, word);
            let joins = |index: usize, feed: usize| self.joins((index, feed), wire, word);
            self.energy(position, terminals, (word, true), Ways { conducts: &conducts, joins: &joins })
        })
    }

    /// Opens some nodes, with everything that a coupled interlock opens with them.
    pub(super) fn opening(&self, nodes: &[NodeId]) -> Vec<bool> {
        let list = self.graph.nodes();
        let mut open = vec![false; list.len()];
        for node in nodes {
            open[node.index()] = true;
            let coupled = list[node.index()].coupled;
            for (other, mark) in list.iter().zip(&mut open) {
                *mark |= coupled.is_some() && other.coupled == coupled;
            }
        }
        open
    }

    /// The nodes that the first enclosure declares, each once.
    pub(super) fn declared(&self) -> Vec<NodeId> {
        let ways = self.network.ways(EnclosureId::new(0)).iter();
        let mut nodes: Vec<_> = ways
            .flat_map(|way| way.isolated.devices())
            .map(|device| self.network.device_node(*device).unwrap())
            .collect();
        nodes.sort_unstable();
        nodes.dedup();
        nodes
    }

    /// The rows that are searched: terminals, needs, lender.
    fn rows(&self) -> Vec<(&[Terminal], Needs, &Lender, bool)> {
        let network = self.network;
        let ways = network.way_ids(EnclosureId::new(0)).zip(network.ways(EnclosureId::new(0)));
        ways.filter(|(_, way)| way.isolated != Isolated::Impossible)
            .map(|(id, way)| {
                let searched = matches!(way.isolated, Isolated::By(_));
                (network.live_parts(id), way.needs, network.lender(id), searched)
            })
            .collect()
    }

    /// Parts on the supply side of a UPS hang on all that feeds it.
    fn with_feeds_of_upses(&self, terminals: &[Terminal]) -> Vec<Terminal> {
        let mut all = terminals.to_vec();
        for terminal in terminals.iter().filter(|terminal| terminal.side == Side::Supply) {
            if matches!(self.graph.nodes()[terminal.node.index()].kind, NodeKind::Ups { .. }) {
                let feeds = self.graph.into_node(terminal.node).iter();
                all.extend(feeds.map(|feed| Terminal { node: feed.from, side: Side::Load }));
            }
        }
        all
    }

    /// Everything that wires, busbars and cut-outs alone connect to a row that cannot be isolated.
    fn copper_of_impossible_rows(&self) -> Vec<Terminal> {
        let network = self.network;
        let ways = network.way_ids(EnclosureId::new(0)).zip(network.ways(EnclosureId::new(0)));
        let impossible = ways.filter(|(_, way)| way.isolated == Isolated::Impossible);
        let mut copper: Vec<_> =
            impossible.flat_map(|(id, _)| self.with_feeds_of_upses(network.live_parts(id))).collect();
        let at = |node, side| Terminal { node, side };
        let is_through =
            |node: NodeId| matches!(self.graph.nodes()[node.index()].kind, NodeKind::Busbar | NodeKind::Cutout);
        let is_junction = |node: NodeId| {
            let kind = self.graph.nodes()[node.index()].kind;
            !matches!(kind, NodeKind::Changeover { .. } | NodeKind::Ups { .. } | NodeKind::NotKnown)
        };
        loop {
            let mut wires: Vec<(Terminal, Terminal)> = Vec::new();
            let feeds = self.graph.feeds().iter().filter(|feed| is_junction(feed.to));
            wires.extend(feeds.map(|feed| (at(feed.from, Side::Load), at(feed.to, Side::Supply))));
            let nodes = (0..self.graph.nodes().len()).map(NodeId::new).filter(|node| is_through(*node));
            wires.extend(nodes.map(|node| (at(node, Side::Supply), at(node, Side::Load))));
            let before = copper.len();
            for (one, other) in wires {
                if copper.contains(&one) != copper.contains(&other) {
                    copper.extend([one, other].into_iter().find(|end| !copper.contains(end)));
                }
            }
            if copper.len() == before {
                return copper;
            }
        }
    }

    /// For every searched row, whether its lines, its neutral, its shared neutral, and the outputs beside it are live.
    pub(super) fn live_rows(&self, open: &[bool], word: Word) -> Vec<[bool; 4]> {
        let rows = self.rows().into_iter().zip(self.outputs()).filter(|((.., searched), _)| *searched);
        let copper = self.copper_of_impossible_rows();
        rows.map(|((terminals, needs, lender, _), outputs)| {
            let at_output = self.is_live_at_output(outputs, needs, open, word);
            let all = self.with_feeds_of_upses(terminals);
            if !terminals.is_empty() && all.iter().all(|terminal| copper.contains(terminal)) {
                return [false, false, false, at_output];
            }
            let has_neutral = match word {
                Word::Certain => needs.neutral == Some(true),
                Word::Possible => needs.neutral != Some(false),
            };
            let lent = match lender {
                Lender::None => false,
                Lender::At(terminals) => {
                    self.lent(terminals, open, word)
                        || has_neutral && terminals.iter().any(|at| self.neutral(&[*at], open, needs.lines, word))
                }
                Lender::NotFound => word == Word::Possible,
            };
            let parts = self.parted_by_output(terminals, outputs);
            let live = |look: &dyn Fn(&Self, &[Terminal]) -> bool| parts.iter().any(|(brute, at)| look(brute, at));
            let neutral = has_neutral && live(&|brute, at| brute.neutral(at, open, needs.lines, word));
            [live(&|brute, at| brute.lines(at, open, needs.lines, word)), neutral, lent, at_output]
        })
        .collect()
    }

    pub(super) fn result(&self, open: &[bool]) -> ProofResult {
        let ways = self.network.ways(EnclosureId::new(0));
        let impossible = ways.iter().any(|way| way.isolated == Isolated::Impossible);
        if impossible || self.live_rows(open, Word::Certain).into_iter().flatten().any(|live| live) {
            return ProofResult::Live;
        }
        let unsaid = self.rows().iter().any(|(terminals, _, _, searched)| !searched || terminals.is_empty());
        let possible = self.live_rows(open, Word::Possible).into_iter().flatten().any(|live| live);
        if unsaid || possible || ways.is_empty() { ProofResult::Unknown } else { ProofResult::NoPathFound }
    }

    /// Declared devices each of which changes nothing while the others are open.
    pub(super) fn surplus(&self) -> Vec<NodeId> {
        let declared = self.declared();
        if self.result(&self.opening(&declared)) != ProofResult::NoPathFound {
            return Vec::new();
        }
        let stays = |node: &NodeId| {
            let mut open = self.opening(&declared);
            for (index, closes) in self.opening(&[*node]).into_iter().enumerate() {
                open[index] &= !closes;
            }
            self.result(&open) == ProofResult::NoPathFound
        };
        declared.iter().copied().filter(stays).collect()
    }
}
