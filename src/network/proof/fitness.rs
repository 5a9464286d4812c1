//! Which devices suitable for isolation cannot be counted on for this enclosure: they switch too few of its conductors.

use super::super::graph::{Neutral, Node};
use super::super::id::NodeId;
use super::super::needs::Lender;
use super::conduction::{Pass, number};
use super::declared::{Declared, DeclaredRow};
use super::flood::{Flood, Gate};
use super::search::{Conductors, Opened, live_neutral_possible, parts};

/// The devices, sorted, that are no use to a row although they stand between it and a source.
///
/// That is a device known to switch fewer lines than a row has, and, between live parts and a neutral that can be live,
/// one that is not known to switch the neutral.
pub(super) fn unfit(declared: &Declared<'_>) -> Vec<NodeId> {
    let mut unfit = Vec::new();
    let mut lines: Vec<u8> =
        declared.rows.iter().filter_map(|row| row.needs.lines).filter(|lines| *lines > 1).collect();
    lines.sort_unstable();
    lines.dedup();
    for needed in lines {
        let conductors = Conductors::Lines(Some(needed));
        let starts = starts_of(declared, |row| row.needs.lines == Some(needed));
        let (_, crossed) = crossed(declared, conductors, &starts);
        unfit.extend(without(declared, &crossed, |node| parts(node, conductors) == Gate::Conducts));
    }
    let starts: Vec<usize> = neutral_starts(declared);
    if !starts.is_empty() {
        let (flood, crossed) = crossed(declared, Conductors::Neutral, &starts);
        if brings_live_neutral(declared, &flood) {
            unfit.extend(without(declared, &crossed, |node| parts(node, Conductors::Neutral) != Gate::Blocks));
        }
    }
    unfit.sort_unstable();
    unfit.dedup();
    unfit
}

/// The live parts of some rows, with those of the circuits whose neutral they share.
pub(super) fn starts_of(declared: &Declared<'_>, which: impl Fn(&DeclaredRow<'_>) -> bool) -> Vec<usize> {
    let mut starts = Vec::new();
    for row in declared.rows.iter().filter(|row| which(row)) {
        starts.extend(&row.live_parts);
        if let Lender::At(terminals) = row.lender {
            starts.extend(terminals.iter().map(|terminal| number(*terminal)));
        }
    }
    starts.sort_unstable();
    starts.dedup();
    starts
}

fn neutral_starts(declared: &Declared<'_>) -> Vec<usize> {
    let rows = declared.rows.iter().filter(|row| row.needs.neutral != Some(false));
    let starts = rows.flat_map(|row| row.live_parts.iter().copied());
    let mut starts: Vec<usize> = starts.filter(|terminal| declared.groundwork.neutral_matters(*terminal)).collect();
    starts.sort_unstable();
    starts.dedup();
    starts
}

/// What a search with everything closed reaches, and the nodes that it passes; sorted.
fn crossed(declared: &Declared<'_>, conductors: Conductors, starts: &[usize]) -> (Flood, Vec<NodeId>) {
    let view = view(declared, conductors);
    let conduction = &declared.groundwork.conduction;
    let flood = Flood::from(conduction, &view, starts);
    let mut crossed: Vec<NodeId> = Vec::new();
    for reached in &flood.reached {
        let passes = conduction.steps(reached.place.terminal).iter().map(|step| step.pass);
        crossed.extend(passes.filter_map(|pass| match pass {
            Pass::Free => None,
            Pass::Through(node) | Pass::Into(node) => Some(node),
        }));
    }
    crossed.sort_unstable();
    crossed.dedup();
    (flood, crossed)
}

fn view<'a>(declared: &Declared<'a>, conductors: Conductors) -> Opened<'a> {
    Opened { graph: declared.graph, groundwork: declared.groundwork, open: &[], conductors }
}

fn without(declared: &Declared<'_>, crossed: &[NodeId], is_unfit: impl Fn(&Node) -> bool) -> Vec<NodeId> {
    let nodes = crossed.iter().copied();
    nodes.filter(|id| declared.graph.node(*id).is_some_and(|node| is_unfit(&node))).collect()
}

fn brings_live_neutral(declared: &Declared<'_>, flood: &Flood) -> bool {
    let view = view(declared, Conductors::Neutral);
    flood.reached.iter().map(|reached| reached.place.terminal).any(|terminal| {
        let node = view.begins_at(terminal);
        let can_be_live = node.is_some_and(|node| matches!(node.neutral, Neutral::MayBeLive | Neutral::NotKnown));
        can_be_live && live_neutral_possible(declared.graph, declared.groundwork, terminal)
    })
}
