//! Whose neutral each row shares or borrows, and where that circuit runs.

use std::collections::{HashMap, HashSet};

use super::designations::Designations;
use super::graph::{Side, Terminal};
use super::id::{NodeId, SupplyId, WayId};
use super::{Lender, Network, Way, spelling};
use crate::survey::{Column, Row, Survey};

/// A lending circuit that runs in more places than this is not followed: a circuit has far fewer.
const MOST_TERMINALS: usize = 100;

/// Which rows of circuits that lend or borrow a neutral hang at each terminal.
pub(super) fn sharing(network: &Network, survey: &Survey) -> HashMap<Terminal, Vec<WayId>> {
    let rows = || survey.enclosures.iter().flat_map(|enclosure| &enclosure.rows);
    let borrowed = |row: &Row| row.further().neutral_from.as_deref().map(spelling::key);
    let lent: HashSet<String> = rows().filter_map(borrowed).collect();
    let mut sharing: HashMap<Terminal, Vec<WayId>> = HashMap::new();
    if lent.is_empty() {
        return sharing;
    }
    let shares = |row: &Row| row.further().neutral_from.is_some() || lent.contains(&spelling::key(&row.circuit));
    for (index, _) in rows().enumerate().filter(|(_, row)| shares(row)) {
        let way = WayId::new(index);
        network.live_parts(way).iter().for_each(|terminal| sharing.entry(*terminal).or_default().push(way));
    }
    sharing
}

/// Whose neutral is connected with that of every row, of the ways that share one or may: the circuit that lends it and those that
/// borrow it too; for the lending circuit, those that borrow. A load on any of them can make it live for all.
pub(super) fn lenders(network: &Network, survey: &Survey, names: &Designations) -> HashMap<WayId, Lender> {
    let rows = || survey.enclosures.iter().flat_map(|enclosure| &enclosure.rows);
    let mut lent: HashMap<String, Lent> = rows()
        .filter_map(|row| row.further().neutral_from.as_deref())
        .map(|name| (spelling::key(name), Lent { name, ..Lent::default() }))
        .collect();
    let share = |(index, lender): (usize, Lender)| (lender != Lender::None).then(|| (WayId::new(index), lender));
    if lent.is_empty() {
        return rows().map(alone).enumerate().filter_map(share).collect();
    }
    for (row, way) in rows().zip(network.ways.iter()) {
        if let Some(lent) = lent.get_mut(&spelling::key(&row.circuit)) {
            lent.come_from(&way.supplies);
        }
    }
    for (index, row) in rows().enumerate() {
        let terminals = network.live_parts(WayId::new(index));
        let own = spelling::key(&row.circuit);
        if let Some(lent) = lent.get_mut(&own) {
            add(&mut lent.by, terminals);
        }
        if let Some(lent) = row.further().neutral_from.as_deref().and_then(|name| lent.get_mut(&spelling::key(name))) {
            lent.borrower(own, terminals);
        }
    }
    let neutral = |way: &Way| way.needs.neutral != Some(false);
    let settled = |(row, way): (&Row, &Way)| {
        let own = spelling::key(&row.circuit);
        let borrowed = row.further().neutral_from.as_deref().and_then(|name| lent.get(&spelling::key(name)));
        match (borrowed, lent.get(&own).filter(|_| neutral(way))) {
            (Some(borrowed), _) => borrowed.for_borrower(&own, names),
            (None, Some(lent)) => lent.for_lender(&own),
            (None, None) => alone(row),
        }
    };
    rows().zip(&network.ways).map(settled).enumerate().filter_map(share).collect()
}

/// A row whose neutral no other row shares, on the survey's word.
fn alone(row: &Row) -> Lender {
    if row.not_known.contains(Column::NeutralFrom) { Lender::NotFound } else { Lender::None }
}

/// A neutral that circuits share.
#[derive(Default)]
struct Lent<'a> {
    /// The circuit that lends it, as one of those that borrow names it.
    name: &'a str,
    /// Where that circuit runs.
    by: Lender,
    /// The circuits that borrow it, and where they run.
    to: Vec<(String, Lender)>,
    /// What feeds the circuit that lends it, by the first row that says so.
    supplies: &'a [SupplyId],
    /// Rows of its name come from different supplies, so that they may be different circuits.
    may_be_several: bool,
}

impl<'a> Lent<'a> {
    fn come_from(&mut self, supplies: &'a [SupplyId]) {
        self.may_be_several |= !supplies.is_empty() && !self.supplies.is_empty() && supplies != self.supplies;
        if self.supplies.is_empty() {
            self.supplies = supplies;
        }
    }

    fn borrower(&mut self, circuit: String, terminals: &[Terminal]) {
        let is_full = self.to.len() > MOST_TERMINALS;
        match self.to.iter_mut().find(|(known, _)| *known == circuit) {
            Some((_, lender)) => add(lender, terminals),
            // Their number is limited like that of the places.
            None if is_full => self.by = Lender::NotFound,
            None => {
                let mut lender = Lender::None;
                add(&mut lender, terminals);
                self.to.push((circuit, lender));
            }
        }
    }

    fn for_borrower(&self, own: &str, names: &Designations) -> Lender {
        let by = if self.by == Lender::None { described(names, self.name) } else { self.by.clone() };
        sorted(self.others(own).fold(by, together))
    }

    /// A circuit elsewhere that only bears the name of the one that lends is left in doubt.
    fn for_lender(&self, own: &str) -> Lender {
        if self.may_be_several { Lender::NotFound } else { sorted(self.others(own).fold(Lender::None, together)) }
    }

    fn others(&self, own: &str) -> impl Iterator<Item = &Lender> {
        self.to.iter().filter(move |(circuit, _)| circuit != own).map(|(_, lender)| lender)
    }
}

fn together(mut all: Lender, more: &Lender) -> Lender {
    match more {
        Lender::None => all,
        Lender::NotFound => Lender::NotFound,
        Lender::At(terminals) => {
            add(&mut all, terminals);
            all
        }
    }
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

fn sorted(lender: Lender) -> Lender {
    match lender {
        Lender::At(mut terminals) => {
            terminals.sort_unstable();
            Lender::At(terminals)
        }
        Lender::None | Lender::NotFound => lender,
    }
}

fn described(names: &Designations, name: &str) -> Lender {
    let row = names.find(name).one();
    row.map_or(Lender::NotFound, |row| Lender::At(vec![Terminal { node: NodeId::new(row), side: Side::Load }]))
}
