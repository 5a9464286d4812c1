//! Which devices suitable for isolation cannot be counted on for this enclosure: they are not known to switch all of its
//! conductors.

use std::collections::BTreeMap;

use super::super::graph::Neutral;
use super::super::id::NodeId;
use super::super::needs::Lender;
use super::conduction::numbers;
use super::declared::{Declared, DeclaredRow};
use super::extent::ExtentsMet;
use super::flood::{Flood, Gate, View};
use super::search::{Conductors, MOST_LINES, Opened, Without, live_neutral_possible};

/// Devices that cannot be counted on.
#[derive(Debug, Default)]
pub(super) struct Unfit {
    /// The devices, sorted.
    pub(super) devices: Vec<NodeId>,
    /// Whether there were so many that some may be counted among them which do no harm.
    pub(super) is_rough: bool,
}

/// Up to so many steps are spent on whether a device stands between a source and live parts, or only beside them.
const STEPS_LIMIT: usize = 200_000;

/// The devices that are no use to a row although they stand between it and a source.
///
/// That is a device not known to switch as many lines as a row has, and, between live parts and a neutral that can be live,
/// one that is not known to switch the neutral.
pub(super) fn unfit(declared: &Declared<'_>) -> Unfit {
    let mut unfit = Unfit::default();
    // What a row needs holds within its own system, so that rows are looked at system by system.
    let mut searches: BTreeMap<(Option<u8>, ExtentsMet), Vec<usize>> = BTreeMap::new();
    for row in &declared.rows {
        let further = numbers(declared.graph, row.further());
        let (needed, of_further) = (row.needs.lines_to_part(), row.lines_to_further(declared.graph));
        let lent = row.lent.iter().map(|(needed, starts)| (*needed, starts));
        for (needed, starts) in [(needed, &row.live_parts), (of_further, &further)].into_iter().chain(lent) {
            if needed.is_none_or(|lines| lines > 1) && !starts.is_empty() {
                let home = declared.groundwork.extents.of_all(starts);
                searches.entry((needed, home)).or_default().extend(starts);
            }
        }
    }
    let clear_of_few_poles = &declared.groundwork.clear_of_few_poles;
    let has_more = |needed: Option<u8>| needed.is_some_and(|lines| lines > MOST_LINES);
    searches.retain(|(needed, _), starts| has_more(*needed) || !clear_of_few_poles.has(starts));
    for ((needed, _), starts) in searches {
        unfit.add(declared, Conductors::Lines(needed), &starts);
    }
    let of_neutral = neutral_starts(declared);
    if !declared.groundwork.clear_of_neutrals.has(&of_neutral) {
        unfit.add(declared, Conductors::Neutral, &of_neutral);
    }
    unfit.devices.sort_unstable();
    unfit.devices.dedup();
    // What is no use to one row may do for another.
    unfit.is_rough |= !unfit.devices.is_empty() && !are_alike(declared);
    unfit
}

/// Whether all rows need the same parted in the same system.
fn are_alike(declared: &Declared<'_>) -> bool {
    let needs = |row: &DeclaredRow<'_>| {
        let home = declared.groundwork.extents.of_all(&row.live_parts);
        let has_more = row.lender != &Lender::None || !row.further().is_empty();
        (row.needs.lines_to_part(), row.needs.neutral, home, has_more)
    };
    let mut all = declared.rows.iter().map(needs);
    let first = all.next();
    first.as_ref().is_none_or(|(.., has_more)| !has_more || declared.rows.len() == 1) && all.all(|it| Some(it) == first)
}

impl Unfit {
    /// Adds devices with which a proof would not hold; with others open, they might do.
    pub(super) fn add_rough(&mut self, devices: &[NodeId]) {
        self.devices.extend(devices);
        self.devices.sort_unstable();
        self.devices.dedup();
        self.is_rough = true;
    }

    /// Adds the devices that stand in the way of these conductors and are not known to part them.
    fn add(&mut self, declared: &Declared<'_>, conductors: Conductors, starts: &[usize]) {
        if starts.is_empty() {
            return;
        }
        let view = view(declared, conductors, starts);
        let flood = Flood::from(view.conduction(), &view, starts);
        if conductors == Conductors::Neutral && !brings_live_neutral(declared, &flood) {
            return;
        }
        let mut suspects = crossed(&view, &flood);
        suspects.retain(|id| {
            let node = declared.graph.node(*id).filter(|node| node.kind.is_suitable_for_isolation());
            node.is_some() && view.gate_opened(*id) != Gate::Blocks
        });
        if suspects.len().saturating_mul(flood.reached.len()) > STEPS_LIMIT {
            self.is_rough = true;
        } else {
            suspects.retain(|node| stands_between(&view, *node, starts));
        }
        self.devices.append(&mut suspects);
    }
}

/// Whether live parts reach one side of a node without it, and its other side an end without it, from which it is not known
/// to part them.
fn stands_between(view: &Opened<'_>, node: NodeId, starts: &[usize]) -> bool {
    let without = Without { view, node };
    let near = Flood::from(view.conduction(), &without, starts);
    let steps = near.reached.iter().flat_map(|reached| view.conduction().steps(reached.place.terminal));
    let beyond = steps.filter(|step| step.pass.node() == Some(node)).map(|step| step.to);
    let beyond: Vec<usize> = beyond.filter(|from| view.gate_towards(node, *from) != Gate::Blocks).collect();
    let far = Flood::from(view.conduction(), &without, &beyond);
    far.reached.iter().any(|reached| view.is_end(reached.place.terminal))
}

/// The live parts of some rows, with those of the circuits whose neutral they share.
pub(super) fn starts_of(declared: &Declared<'_>, which: impl Fn(&DeclaredRow<'_>) -> bool) -> Vec<usize> {
    let mut starts = Vec::new();
    for row in declared.rows.iter().filter(|row| which(row)) {
        starts.extend(&row.live_parts);
        starts.extend(numbers(declared.graph, row.further()));
        if let Lender::At(terminals) = row.lender {
            starts.extend(numbers(declared.graph, terminals));
        }
    }
    starts.sort_unstable();
    starts.dedup();
    starts
}

fn neutral_starts(declared: &Declared<'_>) -> Vec<usize> {
    let rows = declared.rows.iter().filter(|row| row.needs.neutral != Some(false));
    let starts =
        rows.flat_map(|row| row.live_parts.iter().chain(row.lent.iter().flat_map(|(_, starts)| starts)).copied());
    let mut starts: Vec<usize> = starts.filter(|terminal| declared.groundwork.neutral_matters(*terminal)).collect();
    starts.sort_unstable();
    starts.dedup();
    starts
}

/// The nodes that a search passes, or could have passed; sorted.
fn crossed(view: &Opened<'_>, flood: &Flood) -> Vec<NodeId> {
    let steps = flood.reached.iter().flat_map(|reached| view.conduction().steps(reached.place.terminal));
    let mut crossed: Vec<NodeId> = steps.filter_map(|step| step.pass.node()).collect();
    crossed.sort_unstable();
    crossed.dedup();
    crossed
}

fn view<'a>(declared: &'a Declared<'_>, conductors: Conductors, starts: &[usize]) -> Opened<'a> {
    let Declared { graph, groundwork, ref by_rows, .. } = *declared;
    let home = groundwork.extents.of_all(starts);
    let live_midpoint = declared.rows.iter().any(|row| row.needs.live_midpoint);
    Opened { graph, groundwork, open: &[], conductors, live_midpoint, home, by_rows, passed: None }
}

fn brings_live_neutral(declared: &Declared<'_>, flood: &Flood) -> bool {
    let view = view(declared, Conductors::Neutral, &[]);
    flood.reached.iter().map(|reached| reached.place.terminal).any(|terminal| {
        let node = view.begins_at(terminal);
        let can_be_live = node.is_some_and(|node| matches!(node.neutral, Neutral::MayBeLive | Neutral::NotKnown));
        can_be_live && live_neutral_possible(declared.graph, declared.groundwork, terminal)
    })
}
