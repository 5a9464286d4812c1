//! Whose neutral each row shares or borrows, and where that circuit runs.

use std::collections::HashMap;

use super::designations::Designations;
use super::graph::{Side, Terminal};
use super::id::{NodeId, WayId};
use super::{Lender, Network, spelling};
use crate::survey::{Column, Row, Survey};

/// A lending circuit that runs in more places than this is not followed: a circuit has far fewer.
const MOST_TERMINALS: usize = 100;

/// The lender of every row, in the order of the ways.
pub(super) fn lenders(network: &Network, survey: &Survey, names: &Designations) -> Vec<Lender> {
    let rows = || survey.enclosures.iter().flat_map(|enclosure| &enclosure.rows);
    let mut lent: HashMap<String, Lender> =
        rows().filter_map(|row| row.neutral_from.as_deref()).map(|name| (spelling::key(name), Lender::None)).collect();
    if !lent.is_empty() {
        for (index, row) in rows().enumerate() {
            if let Some(lender) = lent.get_mut(&spelling::key(&row.circuit)) {
                add(lender, network.live_parts(WayId::new(index)));
            }
        }
    }
    let settled = |row: &Row| match &row.neutral_from {
        None if row.not_known.contains(&Column::NeutralFrom) => Lender::NotFound,
        None => Lender::None,
        Some(name) => match lent.get(&spelling::key(name)) {
            Some(Lender::At(terminals)) => Lender::At(sorted(terminals)),
            Some(Lender::NotFound) => Lender::NotFound,
            Some(Lender::None) | None => described(names, name),
        },
    };
    rows().map(settled).collect()
}

/// Adds the terminals of a row of the lending circuit. Where one row of it hangs nowhere, it is not known in full.
fn add(lender: &mut Lender, terminals: &[Terminal]) {
    let known = match std::mem::take(lender) {
        Lender::None => Some(Vec::new()),
        Lender::At(known) => Some(known),
        Lender::NotFound => None,
    };
    let room = known.filter(|known| !terminals.is_empty() && known.len() <= MOST_TERMINALS);
    *lender = room.map_or(Lender::NotFound, |mut known| {
        known.extend(terminals.iter().filter(|it| !known.contains(it)).copied().collect::<Vec<_>>());
        Lender::At(known)
    });
}

fn sorted(terminals: &[Terminal]) -> Vec<Terminal> {
    let mut sorted = terminals.to_vec();
    sorted.sort_unstable();
    sorted
}

fn described(names: &Designations, name: &str) -> Lender {
    let row = names.find(name).one();
    row.map_or(Lender::NotFound, |row| Lender::At(vec![Terminal { node: NodeId::new(row), side: Side::Load }]))
}
