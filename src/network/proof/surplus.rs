//! Devices that the survey declares although each changes nothing while the others are open.

use smallvec::SmallVec;

use super::super::id::{DeviceId, NodeId};
use super::declared::{Declared, DeclaredRow, Verdict};
use super::prepared::Groundwork;
use super::together::Together;

/// The devices each of which may stay closed, with what is coupled to it, while the others are open.
///
/// Only the rows whose search met a device can be reached through it once it is closed.
pub(super) fn surplus(declared: &Declared<'_>, all_open: &Verdict) -> Vec<DeviceId> {
    let devices = declared.devices.iter();
    devices.filter(|(_, node)| changes_nothing(declared, all_open, *node)).map(|(device, _)| *device).collect()
}

fn changes_nothing(declared: &Declared<'_>, all_open: &Verdict, node: NodeId) -> bool {
    let operated = declared.groundwork.operated_with(declared.graph, node);
    let mut rows = SmallVec::<[usize; 8]>::new();
    for node in &operated {
        let start = all_open.met.partition_point(|(other, _)| other < node);
        let met = all_open.met.get(start..).unwrap_or_default().iter();
        rows.extend(met.take_while(|(other, _)| other == node).map(|(_, row)| *row));
    }
    rows.sort_unstable();
    rows.dedup();
    let open: SmallVec<[NodeId; 8]> =
        declared.open.iter().copied().filter(|node| operated.binary_search(node).is_err()).collect();
    let rows = || rows.iter().filter_map(|row| declared.rows.get(*row));
    // Mostly the way that is closed again is the nearest one. Where it is not, or is open, everything is searched, and where
    // the nearest way leads through the UPS at whose output the row is, of which only what comes from outside counts.
    let Groundwork { nearest, lines, .. } = declared.groundwork;
    let is_near = |row: &DeclaredRow<'_>| {
        !row.has_outputs() && row.live_parts.iter().any(|from| nearest.reaches(lines, &open, *from))
    };
    !rows().any(is_near)
        && rows().all(|row| {
            let reach = declared.reach(row, &open);
            reach.paths.is_empty() && reach.gaps.is_empty()
        })
        && parts_all_together(declared, &open)
}

/// Whether what stays open parts the lines of all rows together.
fn parts_all_together(declared: &Declared<'_>, open: &[NodeId]) -> bool {
    let mut together = Together::default();
    for row in declared.rows.iter().filter(|row| row.is_searched) {
        together.add(declared, open, row.parted(), &declared.reach(row, open));
    }
    together.too_few(declared, open).is_empty()
}
