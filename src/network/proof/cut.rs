//! The smallest set of devices that parts an enclosure from everything that can energise it, as advice.
//!
//! A maximum flow from the enclosure to the sources, on which every device counts one, is as large as the smallest cut;
//! where the residual flow ends stands the cut nearest to the enclosure. A coupled interlock opens several devices in
//! one operation, which no flow can express: every choice of interlocks is tried.

use super::super::id::NodeId;
use super::super::needs::Lender;
use super::Cut;
use super::conduction::{End, Pass, node_of};
use super::declared::{Declared, DeclaredRow};
use super::fitness::starts_of;
use super::flood::Flood;
use super::flow::{Flow, Part};
use super::operations::{Operation, Operations};
use super::region::Region;
use super::search::{Conductors, Opened, Without};

/// Up to so many interlocks that bear on an enclosure, every choice of them is tried.
const INTERLOCKS_LIMIT: usize = 12;

/// The smallest cut; `None` where there is none, where nothing reaches the enclosure, or where its network is not
/// described.
pub(super) fn smallest(declared: &Declared<'_>) -> Option<Cut> {
    let is_known = |row: &DeclaredRow<'_>| match row.lender {
        Lender::None => !row.live_parts.is_empty(),
        Lender::At(terminals) => !row.live_parts.is_empty() && !terminals.is_empty(),
        Lender::NotFound => false,
    };
    if declared.is_impossible || !declared.rows.iter().all(is_known) {
        return None;
    }
    let starts = starts_of(declared, |_| true);
    let mut region = Region::of(&declared.groundwork.lines, &starts);
    if region.has_gap || !region.is_live {
        return None;
    }
    let is_rough = drop_own_back_feed(declared, &mut region, &starts);
    let operations = Operations::of(declared, &region);
    let is_proved = !is_rough && !operations.is_rough;
    let mut flow = Flow::of(&region, &operations);
    let several = operations.of_several_contacts();
    if several.len() > INTERLOCKS_LIMIT {
        let done = flow.complete(|_| Part::MayBeDone)?;
        return Some(Candidate::of(&operations, done).into_cut(false));
    }
    let mut best: Option<Candidate> = None;
    for size in 0..=several.len() {
        if best.as_ref().is_some_and(|best| best.count < size) {
            break;
        }
        for choice in (0..1_u32 << several.len()).filter(|choice| choice.count_ones() as usize == size) {
            let part = |operation: usize| match several.iter().position(|other| *other == operation) {
                Some(place) if choice >> place & 1 == 1 => Part::Done,
                Some(_) => Part::LeftOut,
                None => Part::MayBeDone,
            };
            let Some(mut done) = flow.complete(part) else { continue };
            done.extend(
                several.iter().enumerate().filter(|(place, _)| choice >> place & 1 == 1).map(|(_, other)| other),
            );
            let candidate = Candidate::of(&operations, done);
            best = best.filter(|best| *best <= candidate).or(Some(candidate));
        }
    }
    best.map(|best| best.into_cut(is_proved))
}

/// Leaves out what a UPS would feed back through itself; true if it can come another way too, so that the cut may be
/// larger than it need be.
fn drop_own_back_feed(declared: &Declared<'_>, region: &mut Region, starts: &[usize]) -> bool {
    let passed = |node: NodeId| region.arcs.iter().any(|arc| arc.pass == Pass::Through(node));
    let is_own =
        |terminal: usize| declared.groundwork.lines.end(terminal) == End::BackFeed && passed(node_of(terminal));
    let own: Vec<usize> = region.origins.iter().map(|(_, terminal)| *terminal).filter(|it| is_own(*it)).collect();
    let Declared { graph, groundwork, .. } = *declared;
    let view = Opened { graph, groundwork, open: &[], conductors: Conductors::Lines(None) };
    let comes_otherwise = |terminal: &usize| {
        let flood = Flood::from(&groundwork.lines, &Without { view: &view, node: node_of(*terminal) }, starts);
        flood.reached.iter().any(|reached| reached.place.terminal == *terminal)
    };
    let (otherwise, only_own): (Vec<usize>, Vec<usize>) = own.into_iter().partition(comes_otherwise);
    region.origins.retain(|(_, terminal)| !only_own.contains(terminal));
    !otherwise.is_empty()
}

/// A cut; the smaller one is better, and of two as small the one nearer to the enclosure.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
struct Candidate {
    count: usize,
    depths: usize,
    devices: Vec<NodeId>,
    done: Vec<usize>,
}

impl Candidate {
    fn of(operations: &Operations, done: Vec<usize>) -> Self {
        let chosen = || done.iter().filter_map(|number| operations.list.get(*number));
        let depths = chosen().map(|operation| operation.depth).sum();
        let mut devices: Vec<NodeId> = chosen().flat_map(|operation: &Operation| operation.devices.clone()).collect();
        devices.sort_unstable();
        Self { count: done.len(), depths, devices, done }
    }

    fn into_cut(self, proved_smallest: bool) -> Cut {
        Cut { devices: self.devices, operations: self.count, proved_smallest }
    }
}
