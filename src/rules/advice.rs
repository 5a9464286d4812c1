//! What the proofs of all enclosures come to together: what is not described, what changes nothing, what fewer devices
//! would do, which sources no row names. Said once for all enclosures that it touches.

use std::collections::{BTreeMap, BTreeSet, HashSet};

use super::decision::Decision;
use super::described::{Described, DescribedSource};
use super::fed_back::FedBack;
use super::phrases::list;
use crate::finding::{Code, Finding, Severity, code};
use crate::network::device::AtRow;
use crate::network::{DeviceId, EnclosureId, Gap, Network, NodeId, ProofResult, Said};
use crate::survey::{Column, Survey};

/// Reports it, after the findings about single enclosures.
pub(super) fn report(
    survey: &Survey,
    network: &Network,
    described: &Described,
    decisions: &[Proved],
    findings: &mut Vec<Finding>,
) {
    if !network.is_described() {
        return;
    }
    let advisor = Advisor { survey, network, described, faulty: faulty(findings) };
    findings.extend(advisor.gaps(decisions));
    findings.extend(decisions.iter().filter_map(|decision| advisor.surplus(decision)));
    findings.extend(advisor.cuts(decisions));
    findings.extend(advisor.sources(decisions));
}

/// What of the proof of one enclosure is held against those of others.
#[derive(Clone, Debug)]
pub(super) struct Proved {
    enclosure: usize,
    result: ProofResult,
    /// The first reason why it is not known, and how many there are; what a UPS may do, or brings to its output, is told elsewhere.
    gap: Option<Gap>,
    gaps: usize,
    /// Devices listed each of which changes nothing while the others are open.
    surplus: Vec<DeviceId>,
    /// Devices that would do as well, in fewer operations than what is listed takes, where any are known.
    smaller: Option<Vec<NodeId>>,
}

impl Proved {
    /// `None` without a supplies file, where there is nothing to prove.
    pub(super) fn of(survey: &Survey, network: &Network, decision: &Decision) -> Option<Self> {
        if !network.is_described() {
            return None;
        }
        let proof = &decision.proof;
        let is_of_description = |gap: &&Gap| !matches!(gap, Gap::OutputNotProved(_) | Gap::BackFeed(..));
        let gaps: Vec<Gap> = proof.gaps.iter().filter(is_of_description).cloned().collect();
        let cut = proof.cut.as_ref().filter(|_| proof.result == ProofResult::NoPathFound);
        let cut = cut.filter(|cut| cut.operations < operations(network, EnclosureId::new(decision.enclosure)));
        Some(Self {
            enclosure: decision.enclosure,
            result: proof.result,
            gaps: if gaps.len() < 2 { gaps.len() } else { network.gaps_in_words(survey, &gaps).len() },
            gap: gaps.into_iter().next(),
            surplus: proof.surplus.clone(),
            smaller: cut.map(|cut| cut.devices.clone()),
        })
    }
}

/// How many operations it takes to open all that is listed: devices that one handle opens are one.
fn operations(network: &Network, enclosure: EnclosureId) -> usize {
    let graph = network.graph();
    let ways = network.ways(enclosure);
    let nodes = ways.iter().flat_map(|way| way.isolated.devices()).filter_map(|id| network.device_node(*id));
    let operation = |node: NodeId| match graph.node(node).and_then(|node| node.coupled) {
        Some(interlock) => (Some(interlock), None),
        None => (None, Some(node)),
    };
    nodes.map(operation).collect::<BTreeSet<_>>().len()
}

/// The enclosures that have an error already.
fn faulty(findings: &[Finding]) -> HashSet<String> {
    let errors = findings.iter().filter(|finding| finding.severity() == Severity::Error);
    errors.filter_map(|finding| finding.enclosure.clone()).collect()
}

/// How many enclosures a finding names.
const NAMED: usize = 3;

/// Of more unnamed sources than this it is not worked out where each can feed back: every one may reach all of a site.
const MOST_WALKED: usize = 32;

struct Advisor<'a> {
    survey: &'a Survey,
    network: &'a Network,
    described: &'a Described,
    faulty: HashSet<String>,
}

impl Advisor<'_> {
    /// The first gap of every enclosure without another error, those of one cause together.
    fn gaps(&self, decisions: &[Proved]) -> Vec<Finding> {
        let mut groups: BTreeMap<&Gap, Vec<&Proved>> = BTreeMap::new();
        for decision in decisions.iter().filter(|decision| decision.result == ProofResult::Unknown) {
            if let Some(gap) = decision.gap.as_ref().filter(|_| !self.faulty.contains(self.name(decision))) {
                groups.entry(gap).or_default().push(decision);
            }
        }
        let finding = |(gap, group): (&Gap, Vec<&Proved>)| {
            let more = match group.iter().map(|decision| decision.gaps).max().unwrap_or(0) {
                0 | 1 => String::new(),
                2 => ", and 1 more is missing".to_owned(),
                all => format!(", and {} more are missing", all - 1),
            };
            let message = format!(
                "it is not known whether energy still reaches {} with every isolator open: {}{more}",
                self.names(&group),
                self.network.gap_in_words(self.survey, gap)
            );
            let help = match gap {
                Gap::AcrossNotSaid(..) => {
                    "add a row for the other feed with its isolator; if it keeps the two apart, describe a converter for each"
                }
                Gap::SwitchedNotSaid(..) => {
                    "write into `poles` what the changeover and the devices that feed it switch: `3+N` with the neutral, `3` where that stays connected"
                }
                Gap::OutputNotProved(_)
                | Gap::NothingSaid(_)
                | Gap::NotDescribed(_)
                | Gap::FeedNotSaid(_)
                | Gap::PolesNotSaid(..)
                | Gap::LinesTogetherNotSaid(_)
                | Gap::NeutralNotSaid(..)
                | Gap::ConductorsNotSaid(_)
                | Gap::LenderNotFound(_)
                | Gap::BackFeed(..) => {
                    "say it in the supplies file; `noticewright why SURVEY ENCLOSURE` lists all that is missing"
                }
            };
            self.finding(code::PROOF_NOT_POSSIBLE, message, help, &group, Column::Isolator)
        };
        groups.into_iter().filter_map(finding).collect()
    }

    /// Isolators of one enclosure that change nothing while the others are open.
    fn surplus(&self, decision: &Proved) -> Option<Finding> {
        if decision.result != ProofResult::NoPathFound || decision.surplus.is_empty() {
            return None;
        }
        let devices = decision.surplus.iter().filter_map(|id| self.network.device(*id));
        let names: Vec<_> = devices.map(|device| format!("`{}`", device.phrase())).collect();
        let message = match names.as_slice() {
            [only] => format!("{only} changes nothing for `{}` while the others are open", self.name(decision)),
            several => format!(
                "each of {} changes nothing for `{}` while the others are open",
                list(several.iter().map(String::as_str)),
                self.name(decision)
            ),
        };
        let help =
            "the notice lists it all the same; look whether the supplies file lacks a feed, or the row is mistaken";
        self.finding(code::SURPLUS_ISOLATOR, message, help, &[decision], Column::Isolator)
    }

    /// Smaller sets of devices than are listed: one finding for all enclosures, for nearly every site has a main switch.
    fn cuts(&self, decisions: &[Proved]) -> Option<Finding> {
        let group: Vec<&Proved> = decisions.iter().filter(|decision| decision.smaller.is_some()).collect();
        let first = group.first()?;
        let devices = first.smaller.as_deref().unwrap_or_default();
        let names: Vec<_> = devices.iter().map(|node| format!("`{}`", self.network.node_phrase(*node))).collect();
        let example = format!("opening {} alone", list(names.iter().map(String::as_str)));
        let message = match group.as_slice() {
            [_] => format!("by the supplies file {example} would leave no path to {} either", self.names(&group)),
            _ => format!(
                "by the supplies file fewer devices than are listed would leave no path to {}; for `{}`, {example}",
                self.names(&group),
                self.name(first)
            ),
        };
        let help =
            "`noticewright why SURVEY ENCLOSURE` names them; the notice lists what the survey declares all the same";
        self.finding(code::FEWER_DEVICES_WOULD_DO, message, help, &group, Column::Isolator)
    }

    /// Described sources that no row of the survey names, if any names one.
    fn sources(&self, decisions: &[Proved]) -> Vec<Finding> {
        let unnamed: Vec<&DescribedSource> = self.described.unnamed(self.network).collect();
        if self.network.sources().is_empty() || unnamed.is_empty() {
            return Vec::new();
        }
        let mut fed: Vec<Vec<&Proved>> = unnamed.iter().map(|_| Vec::new()).collect();
        for decision in decisions {
            let ways = self.network.way_ids(EnclosureId::new(decision.enclosure));
            let feeding = ways.flat_map(|way| self.described.feeding(self.network, way).0);
            let places: BTreeSet<usize> = feeding.filter_map(|source| source.place_among(&unnamed)).collect();
            for place in places {
                fed.get_mut(place).into_iter().for_each(|fed| fed.push(decision));
            }
        }
        let walked = if unnamed.len() <= MOST_WALKED { decisions } else { &[] };
        let found = |(source, fed): (&&DescribedSource, &Vec<&Proved>)| {
            let back = self.fed_back(source, fed, walked);
            self.unnamed(source, fed, &back)
        };
        unnamed.iter().zip(&fed).map(found).collect()
    }

    /// The enclosures to which the energy of a source can come back against the feeds, beside those that it feeds.
    fn fed_back<'b>(&self, source: &DescribedSource, fed: &[&Proved], walked: &'b [Proved]) -> Vec<&'b Proved> {
        let fed: HashSet<usize> = fed.iter().map(|decision| decision.enclosure).collect();
        let all = FedBack::of(self.network, source.node());
        let reaches = |decision: &&Proved| {
            let mut ways = self.network.way_ids(EnclosureId::new(decision.enclosure));
            !fed.contains(&decision.enclosure) && ways.any(|way| all.reaches(self.network, way))
        };
        walked.iter().filter(reaches).collect()
    }

    fn unnamed(&self, source: &DescribedSource, fed: &[&Proved], back: &[&Proved]) -> Finding {
        let feeds = match (fed.is_empty(), back.is_empty()) {
            (true, true) => String::new(),
            (false, true) => format!(", and it feeds {}", self.names(fed)),
            (true, false) => format!(", and it can feed back to {}", self.names(back)),
            (false, false) => {
                format!(", and it feeds {}, and can feed back to {}", self.names(fed), self.names(back))
            }
        };
        let message = format!("no row of the survey names `{}` of the supplies file as a source{feeds}", source.name);
        let all: Vec<&Proved> = fed.iter().chain(back).copied().collect();
        let help = "look whether the survey has forgotten the rows of its ways into enclosures";
        let bare = || Finding::new(code::SOURCE_NOT_NAMED, message.clone()).help(help);
        let placed = self.finding(code::SOURCE_NOT_NAMED, message.clone(), help, &all, Column::Source);
        Finding { enclosure: None, ..placed.unwrap_or_else(bare) }
    }

    fn name(&self, decision: &Proved) -> &str {
        self.survey.enclosures.get(decision.enclosure).map_or("", |enclosure| enclosure.designation.as_str())
    }

    /// At most three enclosures by name, and how many more there are.
    fn names(&self, group: &[&Proved]) -> String {
        let names: Vec<_> = group.iter().take(NAMED).map(|decision| format!("`{}`", self.name(decision))).collect();
        match group.len().saturating_sub(NAMED) {
            0 => list(names.iter().map(String::as_str)),
            more => format!("{} and {more} more", names.join(", ")),
        }
    }

    /// A finding at the first enclosure of a group; about that enclosure if it is the only one.
    fn finding(&self, code: Code, message: String, help: &str, group: &[&Proved], column: Column) -> Option<Finding> {
        let enclosure = EnclosureId::new(group.first()?.enclosure);
        let row = self.survey.enclosures.get(enclosure.index())?.rows.first()?;
        let finding = Finding::new(code, message).help(help);
        let finding = finding.at_row(self.survey, Said { enclosure, record: row.record }, column);
        let is_alone = group.len() == 1;
        Some(Finding { enclosure: finding.enclosure.clone().filter(|_| is_alone), ..finding })
    }
}
