//! What still reaches the incoming terminals of isolators that are off, with what is said to isolate those open too.

use super::super::Network;
use super::super::graph::DescribedBy;
use super::super::id::{DeviceId, EnclosureId, NodeId, WayId};
use super::super::needs::{Lender, Needs};
use super::by_rows::NOTHING;
use super::conduction::{load, supply};
use super::declared::{Declared, DeclaredRow};
use super::flood::Flood;
use super::search::{Conductors, Opened, Reach, Row, reach};
use super::together::Together;
use super::{Gap, LivePath};

/// The incoming terminals of a row's isolators, and the devices that are said to isolate them.
#[derive(Clone, Debug)]
pub struct LineSideAsked {
    /// The row.
    pub way: WayId,
    /// Its isolators whose incoming terminals stay live.
    pub isolators: Vec<DeviceId>,
    /// What is said to make them dead.
    pub upstream: Vec<DeviceId>,
}

/// What still reaches incoming terminals.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct LineSide {
    /// A shortest path for each carrier; the isolator at whose terminals it ends is the last of its nodes.
    pub paths: Vec<LivePath>,
    /// What is not known.
    pub gaps: Vec<Gap>,
}

/// Opens everything that the rows of an enclosure declare, and for each row what stands upstream of it by its word: that
/// of another row need not be off when somebody relies on this one.
pub(in crate::network) fn line_sides(
    network: &Network,
    enclosure: EnclosureId,
    asked: &[LineSideAsked],
) -> Vec<LineSide> {
    let ways: Vec<WayId> = network.way_ids(enclosure).collect();
    let declared = Declared::of(network, &ways);
    let mut together: Vec<(Vec<NodeId>, Together)> = Vec::new();
    let mut sides = Vec::with_capacity(asked.len());
    for asked in asked {
        let open = open_with_upstream(network, &declared, asked);
        let Some((needs, starts, reach)) = line_side(network, &declared, asked, &open) else {
            sides.push((LineSide::default(), None));
            continue;
        };
        let place = together.iter().position(|(known, _)| *known == open).unwrap_or_else(|| {
            together.push((open.clone(), Together::default()));
            together.len() - 1
        });
        if let Some((_, together)) = together.get_mut(place) {
            together.add(&declared, &open, (needs, &starts), &reach);
        }
        sides.push((LineSide { paths: reach.paths, gaps: reach.gaps }, Some(place)));
    }
    // What is upstream of several rows must part the lines of all of them.
    let too_few: Vec<_> = together.into_iter().map(|(open, together)| together.too_few(&declared, &open)).collect();
    let of_asked = sides.into_iter().zip(asked);
    let with_those = |((mut side, place), asked): ((LineSide, Option<usize>), &LineSideAsked)| {
        let upstream: Vec<NodeId> = asked.upstream.iter().filter_map(|it| network.device_node(*it)).collect();
        let devices = place.and_then(|place| too_few.get(place)).into_iter().flatten();
        let own = devices.filter(|device| upstream.contains(device));
        side.gaps.extend(own.map(|device| Gap::LinesTogetherNotSaid(*device)));
        side
    };
    of_asked.map(with_those).collect()
}

/// Everything that is open with what the enclosure declares and what a row says stands upstream of it; sorted.
fn open_with_upstream(network: &Network, declared: &Declared<'_>, asked: &LineSideAsked) -> Vec<NodeId> {
    let Declared { graph, groundwork, .. } = *declared;
    let upstream = asked.upstream.iter().filter_map(|device| network.device_node(*device));
    let operated = upstream.flat_map(|node| groundwork.operated_with(graph, node));
    let mut open: Vec<NodeId> = declared.open.iter().copied().chain(operated).collect();
    open.sort_unstable();
    open.dedup();
    open
}

/// What a row needs parted, its incoming terminals, and what reaches them with these nodes open.
fn line_side(
    network: &Network,
    declared: &Declared<'_>,
    asked: &LineSideAsked,
    open: &[NodeId],
) -> Option<(Needs, Vec<usize>, Reach)> {
    let Declared { graph, groundwork, .. } = *declared;
    let row = declared.rows.iter().find(|row| row.way == asked.way)?;
    let is_described =
        |node: &NodeId| graph.node(*node).is_some_and(|node| node.described_by() == DescribedBy::SuppliesFile);
    let isolators = asked.isolators.iter().filter_map(|device| network.device_node(*device)).filter(is_described);
    let mut starts: Vec<usize> = isolators.map(|node| incoming(declared, row, node)).collect();
    starts.sort_unstable();
    starts.dedup();
    // The neutral that a row shares meets it beyond its isolator.
    let (way, needs, lender) = (asked.way, row.needs, &Lender::None);
    let of_terminals = Row { way, live_parts: &starts, needs, lender, lent: &[], outputs: None, by_rows: &NOTHING };
    let reach = reach(graph, groundwork, open, &of_terminals);
    Some((needs, starts, reach))
}

/// The terminal of an isolator that is not connected to the live parts of the row while it is open. That is its load side
/// where energy comes back from what it feeds, and where a coupler feeds the bars against its feed.
fn incoming(declared: &Declared<'_>, row: &DeclaredRow<'_>, node: NodeId) -> usize {
    let (above, below) = (supply(node), load(node));
    if row.live_parts.contains(&below) {
        return above;
    }
    if row.live_parts.contains(&above) {
        return below;
    }
    let Declared { graph, groundwork, .. } = *declared;
    let home = groundwork.extents.of_all(&row.live_parts);
    let conductors = Conductors::Lines(row.needs.lines_to_part());
    let (open, live_midpoint) = (&declared.open, row.needs.live_midpoint);
    let view = Opened { graph, groundwork, open, conductors, live_midpoint, home, by_rows: &NOTHING, passed: None };
    let flood = Flood::from(view.conduction(), &view, &row.live_parts);
    let is_met = |terminal: usize| flood.reached.iter().any(|reached| reached.place.terminal == terminal);
    if is_met(above) && !is_met(below) { below } else { above }
}
