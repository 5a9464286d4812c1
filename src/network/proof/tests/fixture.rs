//! Networks written out line by line, without the files that describe them.
//!
//! A line describes a node, `Q7 isolator < DB-C + DB-D poles=3+N il=IL-1`, or a row of an enclosure,
//! `row Q7 + Q8 at Q7.load lines=3 neutral=yes lender=DB-C.load`. A line `--` begins the next enclosure. In the enclosure of
//! a UPS `ups=U1 own=Q2 further=Q3,Q4` says which live parts of the row are its output, and which outputs no row speaks of.

use super::super::declared::Declared;
use crate::network::graph::{Feed, Graph, Named, Neutral, Node, NodeKind, Side, Terminal};
use crate::network::id::{DeviceId, EnclosureId, InterlockId, NodeId, SupplyId, WayId};
use crate::network::lines::Lines;
use crate::network::live_parts::Outputs;
use crate::network::voltage::of_row;
use crate::network::{Carrier, Cut, Few, Gap, Isolated, Lender, Needs, Network, Proof, ProofResult, Way};
use crate::survey::Row;
use crate::survey::value::{Conductor, Conductors, Poles};

/// Result, carriers by row, gaps, size of the cut and whether it is proved, surplus.
pub(super) type Unnumbered<'a> = (ProofResult, Vec<String>, Vec<String>, Option<(usize, bool)>, Vec<&'a str>);

/// A network, and the names of its nodes.
#[derive(Debug)]
pub(super) struct Site {
    pub(super) network: Network,
    pub(super) names: Vec<String>,
}

impl Site {
    pub(super) fn of(text: &str) -> Self {
        let lines = || text.lines().map(str::trim).filter(|line| !line.is_empty());
        let is_row = |line: &str| line.starts_with("row ") || line == "--";
        let nodes: Vec<&str> = lines().filter(|line| !is_row(line)).collect();
        let names: Vec<String> = nodes.iter().map(|line| line.split(' ').next().unwrap().to_owned()).collect();
        let mut site = Self { network: Network::default(), names };
        site.draw(&nodes);
        let mut start = 0;
        for line in lines().filter(|line| is_row(line)) {
            if line == "--" {
                site.network.enclosures.push(start..site.network.ways.len());
                start = site.network.ways.len();
            } else {
                site.add_row(line);
            }
        }
        site.network.enclosures.push(start..site.network.ways.len());
        site
    }

    fn draw(&mut self, lines: &[&str]) {
        let mut graph = Graph::default();
        for (index, line) in lines.iter().enumerate() {
            let words: Vec<&str> = line.split(' ').collect();
            let kind = kind_of(words[1]);
            let is_survey = words.contains(&"by=survey");
            let named = match (is_survey, kind == NodeKind::Isolator) {
                (false, _) => Named::Described(u32::try_from(index).unwrap()),
                (true, true) => Named::Device(DeviceId::new(index)),
                (true, false) => Named::Supply(SupplyId::new(index)),
            };
            let coupled =
                option(&words, "il=").map(|name| InterlockId::new(name.trim_start_matches("IL").parse().unwrap()));
            let neutral = match (option(&words, "neutral="), kind) {
                (Some("earthed"), _) => Neutral::Earthed,
                (Some("live"), _) => Neutral::MayBeLive,
                (Some("unknown"), _) => Neutral::NotKnown,
                (None, NodeKind::Source | NodeKind::Transformer | NodeKind::Ups { .. } | NodeKind::Converter) => {
                    Neutral::Earthed
                }
                (_, _) => Neutral::PassedOn,
            };
            let node = Node { kind, named, poles: option(&words, "poles=").map(poles_of), coupled, neutral };
            let id = graph.add_node(node);
            graph.set_lines(id, option(&words, "system=").map(|lines| lines.parse().unwrap()));
            self.network.described.push(words[0].to_owned());
            self.network.device_nodes.push(NodeId::new(index));
        }
        for (index, line) in lines.iter().enumerate() {
            for from in feeds_of(line) {
                graph.add_feed(self.node(from), NodeId::new(index));
            }
        }
        graph.finish();
        let direct = |(to, line): (usize, &&str)| {
            let from = option(&line.split(' ').collect::<Vec<_>>(), "direct=").map(|name| self.node(name));
            from.map(|from| Feed { to: NodeId::new(to), from })
        };
        graph.set_direct(lines.iter().enumerate().filter_map(direct).collect());
        self.network.graph = graph;
    }

    fn add_row(&mut self, line: &str) {
        let words: Vec<&str> = line.split(' ').collect();
        let opens: Vec<&str> = list_after(&words, "row");
        let at: Vec<&str> = list_after(&words, "at");
        let isolated = match opens.as_slice() {
            ["none"] => Isolated::Impossible,
            ["?"] => Isolated::Unknown,
            names => Isolated::By(names.iter().map(|name| DeviceId::new(self.node(name).index())).collect()),
        };
        let live_parts: Vec<_> = if at.is_empty() && !matches!(isolated, Isolated::Impossible | Isolated::Unknown) {
            opens.iter().map(|name| Terminal { node: self.node(name), side: Side::Load }).collect()
        } else {
            at.iter().filter(|name| **name != "nowhere").map(|name| self.terminal(name)).collect()
        };
        let lines = match option(&words, "lines=") {
            Some("?") => None,
            lines => Some(lines.map_or(1, |lines| lines.parse().unwrap())),
        };
        let named = match option(&words, "named=") {
            Some("?") => Lines::default(),
            Some(names) => lines_of(names),
            None if lines == Some(1) => lines_of("L1"),
            None => Lines::default(),
        };
        let needs = Needs {
            lines,
            neutral: match option(&words, "neutral=") {
                Some("yes") => Some(true),
                Some("?") => None,
                _ => Some(false),
            },
            neutral_can_be_live: words.contains(&"neutral-live"),
            may_have_poles: false,
            named,
            live_midpoint: named.has_midpoint() && lines.is_some_and(|lines| lines > named.count()),
        };
        let lender = match option(&words, "lender=") {
            None => Lender::None,
            Some("?") => Lender::NotFound,
            Some(name) => Lender::At(vec![self.terminal(name)]),
        };
        if let Some(ups) = option(&words, "ups=") {
            let at = |name: &str| Terminal { node: self.node(name), side: Side::Supply };
            let list = |word| option(&words, word).map_or(Vec::new(), |names| names.split(',').map(at).collect());
            let outputs = Outputs { ups: self.node(ups), own: list("own="), further: list("further=") };
            assert!(outputs.own.iter().all(|terminal| live_parts.contains(terminal)));
            self.network.outputs.insert(WayId::new(self.network.ways.len()), outputs);
        }
        let way = WayId::new(self.network.ways.len());
        self.network.lenders.insert(way, lender);
        live_parts.iter().for_each(|terminal| self.network.sharing.entry(*terminal).or_default().push(way));
        self.network.live_parts.push(&live_parts);
        self.network.ways.push(Way {
            isolated,
            upstream: None,
            supplies: Few::default(),
            source: None,
            interlock: None,
            needs,
            voltage: of_row(&Row::default(), None, 10).into(),
        });
    }

    pub(super) fn node(&self, name: &str) -> NodeId {
        NodeId::new(self.names.iter().position(|other| other == name).unwrap_or_else(|| panic!("no node {name}")))
    }

    fn terminal(&self, name: &str) -> Terminal {
        let (name, side) = name.split_once('.').unwrap();
        Terminal { node: self.node(name), side: if side == "load" { Side::Load } else { Side::Supply } }
    }

    pub(super) fn name(&self, node: NodeId) -> &str {
        &self.names[node.index()]
    }

    /// The rows of its first enclosure.
    pub(super) fn declared(&self) -> Declared<'_> {
        let ways: Vec<WayId> = self.network.way_ids(EnclosureId::new(0)).collect();
        Declared::of(&self.network, &ways)
    }

    pub(super) fn proof(&self) -> Proof {
        self.network.proof(EnclosureId::new(0))
    }

    fn path(&self, nodes: &[NodeId]) -> String {
        nodes.iter().map(|node| self.name(*node)).collect::<Vec<_>>().join(" > ")
    }

    /// A proof in words: result, then paths, gaps, cut and surplus, as far as there are any.
    pub(super) fn told(&self) -> String {
        let proof = self.proof();
        let mut told = vec![proof.result.name().to_owned()];
        told.extend(proof.paths.iter().map(|path| {
            let carrier = match path.carrier {
                Carrier::Lines => "",
                Carrier::Neutral => "neutral ",
                Carrier::SharedNeutral => "shared neutral ",
                Carrier::Output => "output ",
            };
            format!("{carrier}{}", self.path(&path.nodes))
        }));
        told.extend(proof.gaps.iter().map(|gap| self.gap(gap)));
        if let Some(Cut { devices, operations, proved_smallest }) = &proof.cut {
            let names: Vec<_> = devices.iter().map(|node| self.name(*node)).collect();
            let doubt = if *proved_smallest { "" } else { " not proved" };
            let coupled = if *operations == devices.len() { "" } else { " coupled" };
            told.push(format!("cut {}{coupled}{doubt}", names.join(" + ")));
        }
        let surplus: Vec<_> = proof.surplus.iter().map(|device| self.names[device.index()].as_str()).collect();
        if !surplus.is_empty() {
            assert_eq!(proof.result, ProofResult::NoPathFound);
            told.push(format!("surplus {}", surplus.join(" + ")));
        }
        told.join("; ")
    }

    /// What does not depend on the order of the nodes: which of several paths or cuts as good is shown does.
    pub(super) fn without_numbers(&self) -> Unnumbered<'_> {
        let proof = self.proof();
        let paths = proof.paths.iter().map(|path| format!("{:?} {:?}", path.way, path.carrier)).collect();
        let mut gaps: Vec<String> = proof
            .gaps
            .iter()
            .map(|gap| match gap.back_feed() {
                Some((way, nodes)) => format!("{way:?} {}", self.name(nodes[0])),
                None => self.gap(gap),
            })
            .collect();
        gaps.sort_unstable();
        gaps.dedup();
        let cut = proof.cut.map(|cut| (cut.operations, cut.proved_smallest));
        let mut surplus: Vec<&str> = proof.surplus.iter().map(|device| self.names[device.index()].as_str()).collect();
        surplus.sort_unstable();
        (proof.result, paths, gaps, cut, surplus)
    }

    fn gap(&self, gap: &Gap) -> String {
        match gap {
            Gap::OutputNotProved(node) => format!("gap output of {} not proved", self.name(*node)),
            Gap::NothingSaid(_) => "gap nothing said".to_owned(),
            Gap::NotDescribed(node) => format!("gap {} not described", self.name(*node)),
            Gap::FeedNotSaid(node) => format!("gap feed of {} not said", self.name(*node)),
            Gap::PolesNotSaid(node, _) => format!("gap poles of {} not said", self.name(*node)),
            Gap::SwitchedNotSaid(node, _) => format!("gap what {} switches not said", self.name(*node)),
            Gap::NeutralNotSaid(node, _) => format!("gap neutral of {} not said", self.name(*node)),
            Gap::LinesTogetherNotSaid(node) => format!("gap lines behind {} together", self.name(*node)),
            Gap::ConductorsNotSaid(_) => "gap neutral of the row not said".to_owned(),
            Gap::LenderNotFound(_) => "gap lender not found".to_owned(),
            Gap::AcrossNotSaid(node, _) => format!("gap across {} not said", self.name(*node)),
            Gap::BackFeed(_, nodes) => format!("gap back-feed {}", self.path(nodes)),
        }
    }
}

fn kind_of(word: &str) -> NodeKind {
    match word {
        "source" => NodeKind::Source,
        "isolator" => NodeKind::Isolator,
        "cutout" => NodeKind::Cutout,
        "switch" => NodeKind::Switch,
        "changeover" => NodeKind::Changeover { off_position: false },
        "changeover-off" => NodeKind::Changeover { off_position: true },
        "transformer" => NodeKind::Transformer,
        "ups" => NodeKind::Ups { own_battery: true },
        "ups-with-battery-apart" => NodeKind::Ups { own_battery: false },
        "converter" => NodeKind::Converter,
        "busbar" => NodeKind::Busbar,
        "unknown" => NodeKind::NotKnown,
        other => panic!("no kind {other}"),
    }
}

fn option<'a>(words: &[&'a str], name: &str) -> Option<&'a str> {
    words.iter().find_map(|word| word.strip_prefix(name))
}

fn poles_of(word: &str) -> Poles {
    Poles { lines: word.trim_end_matches("+N").parse().unwrap(), neutral: word.ends_with("+N") }
}

fn lines_of(names: &str) -> Lines {
    let conductor = |name: &str| match name {
        "L1" => Conductor::L1,
        "L2" => Conductor::L2,
        "L3" => Conductor::L3,
        "+" => Conductor::Positive,
        "-" => Conductor::Negative,
        "M" => Conductor::Midpoint,
        "N" => Conductor::N,
        other => panic!("no line {other}"),
    };
    let mut all = Conductors::default();
    names.split(',').for_each(|name| all.insert(conductor(name)));
    Lines::of(all)
}

fn feeds_of(line: &str) -> Vec<&str> {
    list_after(&line.split(' ').collect::<Vec<_>>(), "<")
}

/// The words joined by `+` after a word.
fn list_after<'a>(words: &[&'a str], word: &str) -> Vec<&'a str> {
    let Some(place) = words.iter().position(|other| *other == word) else { return Vec::new() };
    let mut list = Vec::new();
    let mut rest = words[place + 1..].iter();
    while let Some(name) = rest.next() {
        list.push(*name);
        if rest.next() != Some(&"+") {
            break;
        }
    }
    list
}
