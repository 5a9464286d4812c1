//! What is said to isolate incoming terminals, held against the supplies file.
//!
//! A person who reads it switches that device off and puts a hand on those terminals, so it is proved like an isolator: with
//! it and everything else open that the enclosure lists, nothing may reach them. A device that the file does not describe
//! proves nothing against a path that it does. Without a supplies file nothing is held.

use std::collections::HashSet;

use super::case::Case;
use super::phrases::list;
use crate::finding::{Finding, code};
use crate::network::{DescribedBy, DeviceId, LineSide, LineSideAsked, LivePath, NodeId, NodeKind, Way, WayId};
use crate::survey::Column;

/// What the rows of an enclosure say of their incoming terminals, each with what the supplies file says of that.
#[derive(Default)]
pub(super) struct Held {
    rows: Vec<(LineSideAsked, Says)>,
}

/// What the supplies file says of a device that is said to isolate incoming terminals.
enum Says {
    /// Nothing reaches them with it open.
    NoPathFound,
    /// It is not known, and why.
    NotKnown(String),
    /// They stay live along a path, unless a device that the file does not have stands in it; and why.
    NotDescribed(String),
    /// They stay live along a path.
    Live(LivePath),
    /// It is no isolator, which is reported as such.
    NotSuitable,
}

impl Held {
    /// Holds the upstream devices of every row whose isolators stand in the enclosure against the supplies file.
    pub(super) fn of(case: &Case<'_>, upstream: impl Fn(&Way) -> Vec<DeviceId>) -> Self {
        if !case.network.is_described() {
            return Self::default();
        }
        let asked = case.numbered_rows().map(|(id, _, way)| {
            let isolators = way.isolated.devices().iter().copied().filter(|device| case.is_inside(*device));
            LineSideAsked { way: id, isolators: isolators.collect(), upstream: upstream(way) }
        });
        let asked: Vec<LineSideAsked> = asked.filter(|asked| !asked.upstream.is_empty()).collect();
        if asked.is_empty() {
            return Self::default();
        }
        let found = case.network.line_sides(case.id, &asked);
        let says = |(asked, found): (LineSideAsked, LineSide)| {
            let says = says(case, &asked, found);
            (asked, says)
        };
        Self { rows: asked.into_iter().zip(found).map(says).collect() }
    }

    /// Whether the supplies file speaks against what a row names upstream, or shows a path and nothing to part it.
    pub(super) fn is_in_doubt(&self, way: WayId) -> bool {
        let place = self.rows.binary_search_by_key(&way, |(asked, _)| asked.way);
        let says = place.ok().and_then(|place| self.rows.get(place)).map(|(_, says)| says);
        matches!(says, Some(Says::Live(_) | Says::NotDescribed(_) | Says::NotSuitable))
    }

    /// Reports what the supplies file speaks against, and what it leaves open; each once.
    pub(super) fn report(&self, case: &Case<'_>, findings: &mut Vec<Finding>) {
        let mut told = HashSet::new();
        for (asked, says) in &self.rows {
            let upstream = names(case, &asked.upstream);
            let not_known = |why: &str| {
                let isolators = names(case, &asked.isolators);
                format!("whether {upstream} isolates the incoming terminals of {isolators} is not known: {why}")
            };
            let (code, message, help) = match says {
                Says::NoPathFound | Says::NotSuitable => continue,
                Says::Live(path) => (
                    code::LINE_SIDE_STAYS_LIVE,
                    format!(
                        "with {upstream} and every isolator of `{}` open a live path remains: {}",
                        case.designation(),
                        case.network.line_side_in_words(path)
                    ),
                    "name in `upstream_isolator` every device that must be open before those terminals are dead, or correct \
                     the supplies file; until then the notice says that nobody knows",
                ),
                Says::NotKnown(why) => (
                    code::LINE_SIDE_NOT_PROVED,
                    not_known(why),
                    "describe it in the supplies file; until then the notice names it unproved",
                ),
                Says::NotDescribed(why) => (
                    code::LINE_SIDE_NOT_PROVED,
                    not_known(why),
                    "describe it in the supplies file; until then the notice says that nobody knows",
                ),
            };
            let Some((row, _)) = case.row_of(asked.way).filter(|_| told.insert(message.clone())) else { continue };
            findings.push(case.finding(code, message, row, Column::UpstreamIsolator).help(help));
        }
    }
}

fn says(case: &Case<'_>, asked: &LineSideAsked, found: LineSide) -> Says {
    let node_of = |device: &DeviceId| case.network.device_node(*device);
    let node = |id: NodeId| case.network.graph().node(id);
    let is_described = |id: &NodeId| node(*id).is_some_and(|node| node.described_by() == DescribedBy::SuppliesFile);
    let is_suitable = |id: NodeId| {
        node(id).is_some_and(|node| node.kind.is_suitable_for_isolation() || node.kind == NodeKind::NotKnown)
    };
    let upstream: Vec<NodeId> = asked.upstream.iter().filter_map(node_of).collect();
    if upstream.iter().any(|id| !is_suitable(*id)) {
        return Says::NotSuitable;
    }
    let isolators: Vec<NodeId> = asked.isolators.iter().filter_map(node_of).collect();
    let missing = isolators.iter().find(|id| !is_described(id));
    // Of what else stays live, and of isolators none of which the file has, it says nothing.
    if isolators.iter().all(|id| !is_described(id)) {
        return Says::NoPathFound;
    }
    let LineSide { paths, gaps } = found;
    match (paths.into_iter().min_by_key(|path| (path.carrier, path.nodes.len())), gaps.first()) {
        (Some(path), _) => match upstream.iter().find(|id| !is_described(id)) {
            // It may stand anywhere on the path, or on none.
            Some(missing) => Says::NotDescribed(format!(
                "the supplies file does not describe {}, and without it a live path remains, {}",
                case.network.node_name(*missing),
                case.network.line_side_in_words(&path)
            )),
            None => Says::Live(path),
        },
        (None, Some(gap)) => Says::NotKnown(case.network.gap_in_words(case.survey, gap)),
        // Of two isolators it may know the one, and what stands upstream of that.
        (None, None) => missing.map_or(Says::NoPathFound, |missing| {
            Says::NotKnown(format!("the supplies file does not describe {}", case.network.node_name(*missing)))
        }),
    }
}

fn names(case: &Case<'_>, devices: &[DeviceId]) -> String {
    let names: Vec<_> = devices.iter().map(|device| format!("`{}`", case.device_name(*device))).collect();
    list(names.iter().map(String::as_str))
}
