//! Whether the rows that only say `ups` come from one UPS or from several.
//!
//! A UPS is told apart by what its rows are fed from, followed up through the enclosures of the survey, or by the
//! supplies file. Two boards of which neither tells its UPS can hang on one or on two.

use std::collections::{BTreeMap, BTreeSet};

use super::described::Described;
use crate::network::{EnclosureId, Network, SourceId, spelling};
use crate::survey::Survey;
use crate::survey::value::SourceKind;

/// How many UPSs the rows that only say `ups` come from.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) enum Upses {
    /// None, or one as far as anything tells.
    One,
    /// Nobody says whether it is the same.
    PerhapsSeveral,
    /// These, by the supplies file.
    Several(Vec<String>),
}

impl Upses {
    /// What the survey and the supplies file tell.
    pub(super) fn of(survey: &Survey, network: &Network, described: &Described) -> Self {
        let kind = network.sources().iter().position(|source| source.kind == SourceKind::Ups);
        let Some(ups) = kind.map(SourceId::new) else { return Self::One };
        let (mut names, mut roots, mut by_enclosure) = (BTreeMap::new(), BTreeSet::new(), BTreeMap::new());
        for (index, enclosure) in survey.enclosures.iter().enumerate() {
            let id = EnclosureId::new(index);
            for (way_id, way) in network.way_ids(id).zip(network.ways(id)).filter(|(_, way)| way.source == Some(ups)) {
                let told = network.is_described().then(|| described.only_ups_above(network, way_id)).flatten();
                let own = || format!("row {} {}", index, way_id.index());
                let supplies: Vec<String> = way
                    .supplies
                    .iter()
                    .filter_map(|supply| Some(spelling::key(&network.supply(*supply)?.designation)))
                    .collect();
                let root = match (&told, supplies.is_empty()) {
                    (Some(name), _) => spelling::key(name),
                    (None, true) => own(),
                    (None, false) => supplies.join(" + "),
                };
                names.extend(told.map(|name| (spelling::key(&name), name)));
                by_enclosure
                    .entry(spelling::key(&enclosure.designation))
                    .or_insert_with(BTreeSet::new)
                    .insert(root.clone());
                roots.insert(root);
            }
        }
        let roots: BTreeSet<&str> = roots.iter().map(|root| followed(root, &by_enclosure)).collect();
        match (names.len(), roots.len()) {
            (2.., _) => Self::Several(names.into_values().collect()),
            (_, 2..) => Self::PerhapsSeveral,
            (_, _) => Self::One,
        }
    }
}

/// What a board hangs on, through the enclosures whose rows are all fed from one thing.
fn followed<'a>(from: &'a str, by_enclosure: &'a BTreeMap<String, BTreeSet<String>>) -> &'a str {
    let mut at = from;
    // No chain is longer than there are enclosures; a ring ends where that is.
    for _ in 0..by_enclosure.len() {
        let mut above = by_enclosure.get(at).into_iter().flatten();
        match (above.next(), above.next()) {
            (Some(only), None) => at = only,
            _ => break,
        }
    }
    at
}
