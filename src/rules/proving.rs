//! What the proof of an enclosure asks a person to look at: paths that remain, isolators that are none, back-feed.
//!
//! Without a supplies file there is nothing to prove, and nothing is found here.

use std::collections::HashSet;

use super::case::Case;
use super::phrases::list;
use super::switching::{self, Switching};
use crate::finding::{Finding, code};
use crate::network::{
    Carrier, DeviceId, Graph, Isolated, LineSideAsked, LivePath, Nature, NodeId, NodeKind, Side, Terminal, Way,
};
use crate::survey::value::DeviceKind;
use crate::survey::{Column, Row};

/// Reports what is wrong with the isolators of one enclosure by its proof.
pub(super) fn report(case: &Case<'_>, findings: &mut Vec<Finding>) {
    if !case.network.is_described() {
        return;
    }
    let unsuitable = report_unsuitable(case, findings);
    let unreported: Vec<(&Row, &LivePath)> = case
        .proof
        .paths
        .iter()
        .filter_map(|path| case.row_of(path.way).map(|(row, way)| (row, way, path)))
        .filter(|(row, way, path)| !is_reported(case, row, way, path, &unsuitable))
        .map(|(row, _, path)| (row, path))
        .collect();
    findings.extend(live(case, &unreported));
    if case.proof.paths.is_empty() {
        report_back_feed(case, findings);
    }
    super::outputs::report(case, findings);
    report_sources(case, findings);
}

/// Whether an error at the row names the cause of a path already.
fn is_reported(case: &Case<'_>, row: &Row, way: &Way, path: &LivePath, unsuitable: &[NodeId]) -> bool {
    if path.nodes.iter().any(|node| unsuitable.contains(node)) {
        return true;
    }
    match (switching::of_row(case, path.way, row, way), path.carrier) {
        // Of what comes to the output no row speaks.
        (_, Carrier::Output) => false,
        // What comes to a row of one line does not come by the lines of other rows.
        (Switching::LeavesLines(switched, _), Carrier::Lines) => {
            way.needs.lines_to_part().is_some_and(|lines| lines > switched)
        }
        (Switching::NotTheUsers, _) | (Switching::LeavesNeutral(_), Carrier::Neutral | Carrier::SharedNeutral) => true,
        (Switching::LeavesLines(..), Carrier::Neutral | Carrier::SharedNeutral)
        | (Switching::LeavesNeutral(_), Carrier::Lines)
        | (Switching::Enough | Switching::Unknown(..), _) => false,
    }
}

/// One finding for all paths: the shortest of lines, or of neutrals where there is no other, and the circuits besides.
fn live(case: &Case<'_>, paths: &[(&Row, &LivePath)]) -> Option<Finding> {
    let (row, path) = paths.iter().min_by_key(|(_, path)| (path.carrier, path.nodes.len()))?;
    let of_rows = paths.iter().filter(|(_, path)| path.carrier != Carrier::Output);
    let mut others: Vec<&str> = of_rows.map(|(other, _)| &*other.circuit).collect();
    others.sort_unstable();
    others.dedup();
    others.retain(|circuit| *circuit != &*row.circuit);
    let message = format!(
        "with every isolator of `{}` open a live path remains: {}{}",
        case.designation(),
        case.network.path_in_words(case.survey, path),
        circuits_too(&others)
    );
    let help = match (path.carrier, nearest_isolator(case, path)) {
        (Carrier::Lines | Carrier::Output, Some(device)) => format!(
            "if that is so, `{device}` must be opened too: add a row for the way by which this energy comes; {}else correct the row or the supplies file",
            other_side(case, path)
        ),
        (Carrier::Lines | Carrier::Output, None) => {
            "no other device on this path can be opened: correct the row or the supplies file, or write `none`"
                .to_owned()
        }
        (Carrier::Neutral, _) => {
            "name a device that parts the neutral too, or correct the row or the supplies file".to_owned()
        }
        (Carrier::SharedNeutral, _) => {
            "add a row for each circuit that shares the neutral, with its isolator, or correct the supplies file"
                .to_owned()
        }
    };
    Some(case.finding(code::LIVE_WITH_EVERYTHING_OPEN, message, row, Column::Isolator).help(help))
}

/// What to write where live parts stand on the other side of their isolator than the row says. The path then comes to
/// the isolator's load side from what the isolator feeds.
fn other_side(case: &Case<'_>, path: &LivePath) -> String {
    let [.., fed_node, isolator] = path.nodes.as_slice() else { return String::new() };
    let feeds = case.network.graph().out_of_node(*isolator).iter().any(|feed| feed.to == *fed_node);
    let fed = case.network.node_name(*fed_node);
    let Some(first) = path.nodes.first().filter(|first| is_fed_from(case.network.graph(), *fed_node, **first)) else {
        return String::new();
    };
    if !feeds || !case.lists(*isolator) || fed == case.designation() {
        return String::new();
    }
    let further = match live_before(case, path, *isolator).as_deref() {
        None => String::new(),
        Some([source, last]) if last == isolator => {
            let source = case.network.node_name(*source);
            format!(", and add a row with `none` for `{source}`, which stays live on that side")
        }
        // There the parts would be no better off.
        Some(_) => return String::new(),
    };
    let (isolator, source) = (case.network.node_phrase(*isolator), case.network.node_name(*first));
    format!("if `{isolator}` keeps it out, write `{fed}` in `fed_from` and `{source}` in `source`{further}; ")
}

/// Whether feeds lead down to a node from a source: only then does a row say by both that its energy comes back from there.
fn is_fed_from(graph: &Graph, node: NodeId, source: NodeId) -> bool {
    let (mut above, mut waiting) = (HashSet::from([node]), vec![node]);
    while let Some(here) = waiting.pop() {
        waiting.extend(graph.into_node(here).iter().map(|feed| feed.from).filter(|from| above.insert(*from)));
    }
    above.contains(&source)
}

/// The path by which the incoming terminals of an isolator of a path's row are live with everything open that the enclosure
/// lists.
fn live_before(case: &Case<'_>, path: &LivePath, isolator: NodeId) -> Option<Vec<NodeId>> {
    let (_, way) = case.row_of(path.way)?;
    let own = way.isolated.devices().iter().filter(|id| case.network.device_node(**id) == Some(isolator));
    let asked = LineSideAsked { way: path.way, isolators: own.copied().collect(), upstream: Vec::new() };
    let found = case.network.line_sides(case.id, &[asked]);
    Some(found.into_iter().next()?.paths.into_iter().next()?.nodes)
}

/// How many further circuits are named; the rest is counted.
const FURTHER_NAMED: usize = 3;

fn circuits_too(others: &[&str]) -> String {
    let named: Vec<_> = others.iter().take(FURTHER_NAMED).map(|circuit| format!("`{circuit}`")).collect();
    let noun = if others.len() == 1 { "circuit" } else { "circuits" };
    match others.len().saturating_sub(FURTHER_NAMED) {
        _ if others.is_empty() => String::new(),
        0 => format!("; {noun} {} too", list(named.iter().map(String::as_str))),
        more => format!("; {noun} {} and {more} more too", named.join(", ")),
    }
}

/// The device on a path that is suitable for isolation, is not listed, and is nearest to the live parts.
fn nearest_isolator(case: &Case<'_>, path: &LivePath) -> Option<String> {
    let graph = case.network.graph();
    let is_isolator = |node: &&NodeId| graph.node(**node).is_some_and(|node| node.kind.is_suitable_for_isolation());
    let passed = |(place, _): &(usize, &NodeId)| is_passed(case, path, *place);
    let nodes = path.nodes.iter().enumerate().rev().filter(|(_, node)| !case.lists(**node));
    let mut passed = nodes.filter(passed).map(|(_, node)| node);
    passed.find(is_isolator).map(|node| case.network.node_phrase(*node))
}

/// Whether a path passes a device from one side to the other, so that opening it parts the path. One that only meets
/// another feed on the same side of a device goes on with it open.
fn is_passed(case: &Case<'_>, path: &LivePath, place: usize) -> bool {
    let graph = case.network.graph();
    let node_at = |place: usize| path.nodes.get(place).copied();
    let Some(here) = node_at(place) else { return false };
    let feeds = |from: NodeId, to: NodeId| graph.into_node(to).iter().any(|feed| feed.from == from);
    let comes_from_above = place.checked_sub(1).and_then(node_at).is_none_or(|before| feeds(before, here));
    let goes_up = match node_at(place + 1) {
        Some(after) => feeds(after, here) && !feeds(here, after),
        None if path.carrier == Carrier::Output => true,
        None => case.network.live_parts(path.way).contains(&Terminal { node: here, side: Side::Supply }),
    };
    is_changeover(graph, here) || comes_from_above != goes_up
}

/// A changeover connects one feed at a time, and parts them all in its off position.
fn is_changeover(graph: &Graph, node: NodeId) -> bool {
    graph.node(node).is_some_and(|node| matches!(node.kind, NodeKind::Changeover { .. }))
}

/// Reports devices named as isolators that the supplies file describes as not suitable; returns their nodes.
fn report_unsuitable(case: &Case<'_>, findings: &mut Vec<Finding>) -> Vec<NodeId> {
    let mut unsuitable = Vec::new();
    for (row, way) in case.rows() {
        let upstream = way.upstream.as_deref().map_or(&[][..], Isolated::devices);
        for (devices, column) in [(way.isolated.devices(), Column::Isolator), (upstream, Column::UpstreamIsolator)] {
            for device in devices {
                let Some(node) = case.network.device_node(*device).filter(|node| !unsuitable.contains(node)) else {
                    continue;
                };
                if let Some(finding) = unsuitable_finding(case, row, *device, node, column) {
                    unsuitable.push(node);
                    findings.extend(finding);
                }
            }
        }
    }
    unsuitable
}

/// The finding of a device that is not suitable for isolation; an empty one where the survey reports it already.
fn unsuitable_finding(
    case: &Case<'_>,
    row: &Row,
    device: DeviceId,
    node: NodeId,
    column: Column,
) -> Option<Option<Finding>> {
    let kind = case.network.graph().node(node)?.kind;
    let name = case.device_name(device);
    let what = match kind {
        NodeKind::Isolator | NodeKind::Changeover { off_position: true } | NodeKind::NotKnown => return None,
        NodeKind::Cutout => {
            let is_told = row.device_kind == Some(DeviceKind::NetworkCutout) && column == Column::Isolator;
            let message = format!("`{name}` is the network operator's, and never the user's point of isolation");
            let finding = case
                .finding(code::NETWORK_CUTOUT_AS_ISOLATOR, message, row, column)
                .help("name the device of the installation that isolates this circuit, or `none`");
            return Some((!is_told).then_some(finding));
        }
        NodeKind::Changeover { off_position: false } => "a changeover without an off position",
        NodeKind::Switch => "a `switch`",
        NodeKind::Source => "a source",
        NodeKind::Transformer => "a transformer",
        NodeKind::Ups { .. } => "a UPS",
        NodeKind::Converter => "a converter",
        NodeKind::Busbar => "a busbar or board",
    };
    let message = format!("`{name}` is {what} in the supplies file, and not suitable for isolation");
    let finding = case.finding(code::ISOLATOR_NOT_SUITABLE, message, row, column);
    Some(Some(finding.help("name the device that isolates this circuit, or correct `kind` or `off_position` there")))
}

/// Reports a UPS that may feed back and that no row names.
fn report_back_feed(case: &Case<'_>, findings: &mut Vec<Finding>) {
    if super::back_feed::is_named(case) {
        return;
    }
    let back_feed = case.proof.gaps.iter().find_map(|gap| Some((case.row_of(gap.back_feed()?.0)?.0, gap)));
    let Some((row, gap)) = back_feed else { return };
    let message =
        format!("with every isolator of `{}` open {}", case.designation(), case.network.gap_in_words(case.survey, gap));
    let help =
        "add a row for the UPS with the isolator between it and this enclosure; until then the notice warns of it";
    findings.push(case.finding(code::BACK_FEED_NOT_LISTED, message, row, Column::Isolator).help(help));
}

/// Reports rows behind isolators of their own that their source does not feed by the supplies file, where that describes
/// all of the way.
fn report_sources(case: &Case<'_>, findings: &mut Vec<Finding>) {
    for (id, row, way) in case.numbered_rows() {
        let Some(named) = way.source.and_then(|source| case.network.source(source)) else { continue };
        let own: Vec<_> = way.isolated.devices().iter().filter_map(|id| case.network.device_node(*id)).collect();
        let is_behind = |terminal: &Terminal| terminal.side == Side::Load && own.contains(&terminal.node);
        // A name that tells nothing may mean any source.
        if named.nature == Nature::NotTold || !case.network.live_parts(id).iter().all(is_behind) {
            continue;
        }
        let described = &case.installation.described;
        let (feeding, is_whole) = described.feeding(case.network, id);
        if !is_whole || feeding.is_empty() || feeding.iter().any(|source| described.is_named_by(source, named)) {
            continue;
        }
        let names: Vec<_> = feeding.iter().map(|source| format!("`{}`", source.name)).collect();
        let message = format!(
            "circuit `{}` is said to come from `{}`, and by the supplies file it comes from {}",
            row.circuit,
            named.word(),
            list(names.iter().map(String::as_str))
        );
        let help = match feeding.iter().find(|source| source.nature == Nature::NotTold) {
            // To give up the word of the survey would lose what is known of the source.
            Some(untold) => format!(
                "if `{0}` is the {1}, let its name say so in both files, such as `{0} {1}`; else correct `source` or \
                 `fed_from`, or add a row for the other source",
                untold.name,
                named.word()
            ),
            None => {
                "correct `source`, or `fed_from` in the supplies file; if both come in, add a row for the other one"
                    .to_owned()
            }
        };
        findings.push(case.finding(code::SOURCE_CONTRADICTION, message, row, Column::Source).help(help));
    }
}
