//! The model once more, written out plainly: what is live spreads from the sources until nothing changes, for every
//! position of every changeover. No code of the proof is used.

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
}

/// Live or not, for the supply and load side of every node.
type Live = Vec<[bool; 2]>;

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
        Self { network, graph, positions }
    }

    /// Whether a node conducts what is connected with these terminals.
    fn conducts(&self, index: usize, open: &[bool], (wire, home): (Wire, &[Terminal]), word: Word) -> bool {
        let node = &self.graph.nodes()[index];
        if wire == Wire::Neutral && begins(node) {
            return false;
        }
        if !open[index] || !suitable(node) {
            return true;
        }
        if wire != Wire::Neutral && !self.is_at_home(index, home) {
            let needed = self.lines_at(index);
            let is_enough = node.poles.map_or(needed == Some(1), |poles| poles.lines >= needed.unwrap_or(3));
            return !is_enough && word == Word::Possible;
        }
        match (wire, node.poles) {
            (Wire::Lines(Some(needed)), Some(poles)) => poles.lines < needed,
            (Wire::Lines(None), Some(_)) => false,
            (Wire::Lines(Some(needed)), None) if needed <= 1 => false,
            (Wire::Neutral, Some(poles)) => !poles.neutral,
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
    fn spread(&self, position: &[usize], seeds: Live, wire: Wire, conducts: &dyn Fn(usize) -> bool) -> Live {
        let nodes = self.graph.nodes();
        let mut live = seeds.clone();
        loop {
            let before = live.clone();
            for (index, node) in nodes.iter().enumerate() {
                let [above, below] = live[index];
                let feeds = self.graph.into_node(NodeId::new(index));
                let both = match node.kind {
                    NodeKind::Busbar => described(node) && !(wire == Wire::Neutral && begins(node)),
                    NodeKind::Isolator => described(node) && conducts(index),
                    NodeKind::Changeover { .. } => feeds.is_empty() && conducts(index),
                    NodeKind::Cutout | NodeKind::Switch | NodeKind::Transformer => described(node) && conducts(index),
                    NodeKind::Source | NodeKind::Ups { .. } | NodeKind::Converter | NodeKind::NotKnown => false,
                };
                let down = both
                    || matches!(node.kind, NodeKind::Converter | NodeKind::Ups { own_battery: false })
                        && conducts(index)
                    || node.kind == NodeKind::Isolator && conducts(index);
                live[index] = [above || both && below, below || down && above];
                for (place, feed) in feeds.iter().enumerate() {
                    let from = feed.from.index();
                    let feeding = &nodes[from];
                    let upwards = described(feeding) && described(node) && !(wire == Wire::Neutral && begins(feeding));
                    let is_changeover = matches!(node.kind, NodeKind::Changeover { .. });
                    if is_changeover && !(position[index] == place && conducts(index)) {
                        continue;
                    }
                    let side = usize::from(is_changeover);
                    live[index][side] |= live[from][1];
                    if upwards && !matches!(feeding.kind, NodeKind::Source | NodeKind::Ups { .. } | NodeKind::NotKnown)
                    {
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

    /// Where energy comes from, or may come from.
    fn energy_seeds(&self, word: Word, with_back_feed: bool, with_gaps: bool) -> Live {
        let nodes = self.graph.nodes().iter().enumerate();
        let seeds = nodes.map(|(index, node)| {
            let possible = word == Word::Possible;
            let gap = possible && with_gaps && (!described(node) || node.kind == NodeKind::NotKnown);
            let is_origin =
                described(node) && matches!(node.kind, NodeKind::Source | NodeKind::Ups { own_battery: true });
            let back_feed = matches!(node.kind, NodeKind::Ups { .. }) && described(node) && possible && with_back_feed;
            let no_feed = self.graph.into_node(NodeId::new(index)).is_empty()
                && !matches!(node.kind, NodeKind::Source | NodeKind::Ups { .. });
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
        conducts: &dyn Fn(usize) -> bool,
    ) -> bool {
        let wire = Wire::Lines(None);
        let mut seeds = self.energy_seeds(word, true, with_gaps);
        for (index, node) in self.graph.nodes().iter().enumerate() {
            if node.kind == (NodeKind::Ups { own_battery: false }) && seeds[index][0] {
                seeds[index][0] = false;
                let mut own = vec![[false; 2]; seeds.len()];
                own[index][0] = true;
                let live = self.spread(position, own, wire, &|other| other != index && conducts(other));
                if Self::at(&live, terminals) {
                    return true;
                }
            }
        }
        Self::at(&self.spread(position, seeds, wire, conducts), terminals)
    }

    /// Whether any of these terminals is live, in any position.
    fn lines(&self, terminals: &[Terminal], open: &[bool], lines: Option<u8>, word: Word) -> bool {
        self.positions.iter().any(|position| {
            let wire = (Wire::Lines(lines), terminals);
            self.energy(position, terminals, (word, true), &|index| self.conducts(index, open, wire, word))
        })
    }

    /// Where a neutral is live, or may be.
    fn neutral_seeds(&self, word: Word, energised: &dyn Fn(usize) -> bool) -> Live {
        let nodes = self.graph.nodes().iter().enumerate();
        let seeds = nodes.map(|(index, node)| {
            let possible = word == Word::Possible;
            let gap = possible && (!described(node) || node.kind == NodeKind::NotKnown);
            let no_feed = possible
                && self.graph.into_node(NodeId::new(index)).is_empty()
                && !matches!(node.kind, NodeKind::Source | NodeKind::Ups { .. });
            let can = node.neutral == Neutral::MayBeLive || possible && node.neutral == Neutral::NotKnown;
            [gap || no_feed, gap || begins(node) && can && energised(index)]
        });
        seeds.collect()
    }

    fn neutral(&self, terminals: &[Terminal], open: &[bool], lines: Option<u8>, word: Word) -> bool {
        let energised = |index: usize| {
            let node = self.graph.nodes()[index];
            matches!(node.kind, NodeKind::Source | NodeKind::Ups { own_battery: true })
                || self.lines(&[Terminal { node: NodeId::new(index), side: Side::Load }], open, lines, word)
        };
        self.positions.iter().any(|position| {
            let seeds = self.neutral_seeds(word, &energised);
            let conducts = |index: usize| self.conducts(index, open, (Wire::Neutral, &[]), word);
            Self::at(&self.spread(position, seeds, Wire::Neutral, &conducts), terminals)
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

    /// For every searched row, whether its lines, its neutral and its shared neutral are live.
    pub(super) fn live_rows(&self, open: &[bool], word: Word) -> Vec<[bool; 3]> {
        let rows = self.rows().into_iter().filter(|(.., searched)| *searched);
        let copper = self.copper_of_impossible_rows();
        rows.map(|(terminals, needs, lender, _)| {
            let all = self.with_feeds_of_upses(terminals);
            if !terminals.is_empty() && all.iter().all(|terminal| copper.contains(terminal)) {
                return [false; 3];
            }
            let lent = match lender {
                Lender::None => false,
                Lender::At(terminals) => self.lines(terminals, open, needs.lines, word),
                Lender::NotFound => word == Word::Possible,
            };
            let has_neutral = match word {
                Word::Certain => needs.neutral == Some(true),
                Word::Possible => needs.neutral != Some(false),
            };
            let neutral = has_neutral && self.neutral(terminals, open, needs.lines, word);
            [self.lines(terminals, open, needs.lines, word), neutral, lent]
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

/// The smallest cut, by trying all of them.
impl Brute<'_> {
    /// Every terminal that must be dead: live parts and lenders.
    fn must_be_dead(&self) -> Vec<Terminal> {
        let mut all = Vec::new();
        for (terminals, _, lender, _) in self.rows() {
            all.extend_from_slice(terminals);
            if let Lender::At(lent) = lender {
                all.extend_from_slice(lent);
            }
        }
        all
    }

    /// Whether a device that parts too little stands between a source and these terminals, in some position: energy
    /// comes to one side of it without passing it, and goes from its other side to the terminals without passing it.
    fn bears(&self, device: usize, terminals: &[Terminal], wire: Wire, seeds: &Live) -> bool {
        let closed = vec![false; self.graph.nodes().len()];
        self.positions.iter().any(|position| {
            let conducts = |index: usize| index != device && self.conducts(index, &closed, (wire, &[]), Word::Certain);
            let mut seeds = seeds.clone();
            let changeover = matches!(self.graph.nodes()[device].kind, NodeKind::Changeover { .. });
            seeds[device] = [false; 2];
            let reached = self.spread(position, seeds, wire, &conducts);
            let feed = self.graph.into_node(NodeId::new(device)).get(position[device]).map(|feed| feed.from.index());
            // The two ends of its contact: what is connected on each side while it is open.
            let ends = match feed.filter(|_| changeover) {
                Some(feed) => [(feed, 1), (device, 1)],
                None => [(device, 0), (device, 1)],
            };
            let brings = |one: (usize, usize), other: (usize, usize)| {
                // No search goes on from a source, nor one for neutrals from where another one begins.
                let end = self.graph.nodes()[other.0];
                let is_origin = matches!(end.kind, NodeKind::Source | NodeKind::Ups { own_battery: true });
                if other.0 != device && (is_origin || wire == Wire::Neutral && begins(&end)) {
                    return false;
                }
                let mut from = vec![[false; 2]; closed.len()];
                from[other.0][other.1] = true;
                reached[one.0][one.1] && Self::at(&self.spread(position, from, wire, &conducts), terminals)
            };
            brings(ends[0], ends[1]) || brings(ends[1], ends[0])
        })
    }

    /// Whether a device counts for no cut.
    fn is_unfit(&self, device: usize) -> bool {
        let node = self.graph.nodes()[device];
        let closed = vec![false; self.graph.nodes().len()];
        let energy = self.energy_seeds(Word::Possible, true, false);
        self.rows().into_iter().any(|(terminals, needs, lender, _)| {
            let lent = if let Lender::At(lent) = lender { lent.clone() } else { Vec::new() };
            let lines_too_few = node.poles.is_some_and(|poles| needs.lines.is_some_and(|needed| poles.lines < needed));
            let bears = |terminals: &[Terminal]| {
                self.is_at_home(device, terminals) && self.bears(device, terminals, Wire::Lines(needs.lines), &energy)
            };
            if lines_too_few && (bears(terminals) || bears(&lent)) {
                return true;
            }
            if needs.neutral == Some(false) || node.poles.is_some_and(|poles| poles.neutral) {
                return false;
            }
            let energised = |index: usize| {
                let node = self.graph.nodes()[index];
                matches!(node.kind, NodeKind::Source | NodeKind::Ups { own_battery: true })
                    || self.lines(
                        &[Terminal { node: NodeId::new(index), side: Side::Load }],
                        &closed,
                        None,
                        Word::Possible,
                    )
            };
            let neutrals = self.neutral_seeds(Word::Possible, &energised);
            self.bears(device, terminals, Wire::Neutral, &neutrals)
        })
    }

    /// Whether all is dead, as far as the model tells, with these devices open; each of them parts all lines.
    fn is_dead(&self, parts_lines: &[bool]) -> bool {
        let all = self.must_be_dead();
        let dead = |terminals: &[Terminal]| {
            !self
                .positions
                .iter()
                .any(|position| self.energy(position, terminals, (Word::Possible, false), &|index| !parts_lines[index]))
        };
        let energised = |index: usize| {
            let node = self.graph.nodes()[index];
            matches!(node.kind, NodeKind::Source | NodeKind::Ups { own_battery: true })
                || !dead(&[Terminal { node: NodeId::new(index), side: Side::Load }])
        };
        let neutral_dead = |terminals: &[Terminal]| {
            !self.positions.iter().any(|position| {
                let seeds = self.neutral_seeds(Word::Possible, &energised);
                let conducts = |index: usize| self.conducts(index, parts_lines, (Wire::Neutral, &[]), Word::Possible);
                Self::at(&self.spread(position, seeds, Wire::Neutral, &conducts), terminals)
            })
        };
        dead(&all)
            && self.rows().iter().all(|(terminals, needs, ..)| needs.neutral == Some(false) || neutral_dead(terminals))
    }

    /// What the operations, each as the nodes that it opens, part.
    fn parted(&self, operations: &[Vec<NodeId>], unfit: &[bool]) -> Vec<bool> {
        let mut parts = vec![false; unfit.len()];
        for node in operations.iter().flatten() {
            parts[node.index()] = suitable(&self.graph.nodes()[node.index()]) && !unfit[node.index()];
        }
        parts
    }

    /// How many operations the smallest cut takes; `None` where there is none, or none can be stated.
    pub(super) fn cut(&self) -> Option<usize> {
        let rows = self.rows();
        let impossible = self.network.ways(EnclosureId::new(0)).iter().any(|way| way.isolated == Isolated::Impossible);
        let unsaid = rows.iter().any(|(terminals, _, lender, _)| terminals.is_empty() || **lender == Lender::NotFound);
        let all = self.must_be_dead();
        let closed = vec![false; self.graph.nodes().len()];
        let gap_reaches = self.positions.iter().any(|position| {
            let mut seeds = self.energy_seeds(Word::Possible, false, true);
            let origins = self.energy_seeds(Word::Certain, false, false);
            for (seed, origin) in seeds.iter_mut().zip(origins) {
                *seed = [seed[0] && !origin[0], seed[1] && !origin[1]];
            }
            let wire = Wire::Lines(None);
            let conducts = |index: usize| self.conducts(index, &closed, (wire, &[]), Word::Certain);
            Self::at(&self.spread(position, seeds, wire, &conducts), &all)
        });
        if impossible || unsaid || gap_reaches || !self.lines(&all, &closed, None, Word::Certain) {
            return None;
        }
        let unfit: Vec<bool> = (0..closed.len()).map(|device| self.is_unfit(device)).collect();
        let operations = self.operations();
        let mut best = None;
        for choice in 0..1_u32 << operations.len() {
            let size = choice.count_ones() as usize;
            if best.is_some_and(|best| best <= size) {
                continue;
            }
            let chosen: Vec<_> = operations
                .iter()
                .enumerate()
                .filter(|(place, _)| choice >> place & 1 == 1)
                .map(|(_, nodes)| nodes.clone())
                .collect();
            if self.is_dead(&self.parted(&chosen, &unfit)) {
                best = Some(size);
            }
        }
        best
    }

    /// Whether opening these devices, with what is coupled to them, makes all dead.
    pub(super) fn does(&self, devices: &[NodeId]) -> bool {
        let unfit: Vec<bool> = (0..self.graph.nodes().len()).map(|device| self.is_unfit(device)).collect();
        self.is_dead(&self.parted(&[devices.to_vec()], &unfit))
    }

    /// Every operation: a device, or a coupled interlock.
    fn operations(&self) -> Vec<Vec<NodeId>> {
        let mut operations = Vec::new();
        for (index, node) in self.graph.nodes().iter().enumerate().filter(|(_, node)| suitable(node)) {
            let opened = self.opening(&[NodeId::new(index)]);
            let nodes: Vec<_> =
                opened.iter().enumerate().filter(|(_, open)| **open).map(|(other, _)| NodeId::new(other)).collect();
            if described(node) && !operations.contains(&nodes) {
                operations.push(nodes);
            }
        }
        operations
    }
}
