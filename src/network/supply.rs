//! SuppliesMet and sources: where circuits come from, and where their energy comes from in the end.

use std::collections::HashMap;

use foldhash::fast::RandomState;

use super::device::{AtRow, Said};
use super::graph::{DescribedBy, NodeKind};
use super::id::{SourceId, SupplyId};
use super::{Few, spelling};
use crate::finding::{Finding, code};
use crate::survey::value::SourceKind;
use crate::survey::{Column, Row, Survey};
use crate::table::WordList;

/// A board, transformer or source from which circuits come: a distinct `fed_from`.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Supply {
    /// Designation, as first spelt.
    pub designation: String,
    /// The row that first names it.
    pub first: Said,
    /// Which file describes it.
    pub described_by: DescribedBy,
}

/// Where energy comes from in the end.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Source {
    /// The source as the survey names it.
    pub kind: SourceKind,
    /// What it is by nature, as far as its name tells.
    pub nature: Nature,
    /// The row that first names it.
    pub first: Said,
}

impl Source {
    /// The source in a word of the survey.
    #[must_use]
    pub fn word(&self) -> &str {
        match &self.kind {
            SourceKind::Mains => "mains",
            SourceKind::Generator => "generator",
            SourceKind::Solar => "solar",
            SourceKind::Battery => "battery",
            SourceKind::Ups => "ups",
            SourceKind::Vehicle => "vehicle",
            SourceKind::Named(name) => name,
        }
    }
}

/// What kind of source it is by nature.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Nature {
    /// The public network.
    Mains,
    /// A generating set.
    Generator,
    /// Solar modules.
    Solar,
    /// A battery.
    Battery,
    /// An uninterruptible power supply.
    Ups,
    /// A vehicle that can export.
    Vehicle,
    /// A source whose name does not tell.
    NotTold,
}

impl Nature {
    /// The nature of a source; a name such as `UPS-2` or `standby generator` tells it.
    #[must_use]
    pub fn of(kind: &SourceKind) -> Self {
        match kind {
            SourceKind::Mains => Self::Mains,
            SourceKind::Generator => Self::Generator,
            SourceKind::Solar => Self::Solar,
            SourceKind::Battery => Self::Battery,
            SourceKind::Ups => Self::Ups,
            SourceKind::Vehicle => Self::Vehicle,
            // A survey that means the public network says `mains`; a network by another name may be somebody else's.
            SourceKind::Named(name) => match Self::of_name(name) {
                Self::Mains => Self::NotTold,
                told @ (Self::Generator | Self::Solar | Self::Battery | Self::Ups | Self::Vehicle | Self::NotTold) => {
                    told
                }
            },
        }
    }

    /// The nature of a described node that brings energy of its own, by its name; `None` for one that only passes it on.
    #[must_use]
    pub fn of_node(kind: NodeKind, name: &str) -> Option<Self> {
        let nature = if kind == NodeKind::Source { Self::of_name(name) } else { Self::Ups };
        kind.brings_energy().then_some(nature)
    }

    /// The nature that a name tells: the public network last, because others may be tied to it.
    #[must_use]
    pub fn of_name(name: &str) -> Self {
        static NAMES: [(WordList, Nature); 7] = [
            (WordList::new(&["generator", "gen", "genset", "generators", "diesel", "dg"]), Nature::Generator),
            (WordList::new(&["ups", "uninterruptible"]), Nature::Ups),
            // Before the sun, which may charge it.
            (WordList::new(&["battery", "batteries", "bat", "batt", "bess"]), Nature::Battery),
            (WordList::new(&["solar", "pv", "photovoltaic"]), Nature::Solar),
            (WordList::new(&["vehicle", "v2g"]), Nature::Vehicle),
            (WordList::new(&["inverter", "off", "island", "islanded", "micro", "tied", "forming"]), Nature::NotTold),
            (WordList::new(&["mains", "network", "grid", "utility", "dno", "intake"]), Nature::Mains),
        ];
        let told = NAMES.iter().find(|(wanted, _)| spelling::has_word(name, wanted));
        told.map_or(Self::NotTold, |(_, nature)| *nature)
    }
}

/// The supplies met so far.
#[derive(Default)]
pub(super) struct SuppliesMet {
    pub(super) list: Vec<Supply>,
    by_key: HashMap<String, SupplyId, RandomState>,
    by_rough_key: HashMap<String, SupplyId, RandomState>,
    buffer: String,
}

impl SuppliesMet {
    /// Makes room for so many more.
    pub(super) fn reserve(&mut self, more: usize) {
        self.list.reserve(more);
        self.by_key.reserve(more);
        self.by_rough_key.reserve(more);
    }

    /// The supplies that a `fed_from` cell names, joined by ` + ` if energy may come from any of several.
    pub(super) fn intern(
        &mut self,
        cell: &str,
        said: Said,
        survey: &Survey,
        findings: &mut Vec<Finding>,
    ) -> Few<SupplyId> {
        if !cell.contains('+') && !cell.trim().is_empty() {
            return Few::one(self.intern_one(cell.trim(), said, survey, findings));
        }
        let mut ids = Vec::with_capacity(1);
        for name in cell.split(" + ").map(str::trim).filter(|name| !name.is_empty()) {
            let id = self.intern_one(name, said, survey, findings);
            if !ids.contains(&id) {
                ids.push(id);
            }
        }
        ids.into()
    }

    fn intern_one(&mut self, name: &str, said: Said, survey: &Survey, findings: &mut Vec<Finding>) -> SupplyId {
        self.buffer.clear();
        spelling::push_key(&mut self.buffer, name);
        if let Some(id) = self.by_key.get(&self.buffer) {
            return *id;
        }
        let id = SupplyId::new(self.list.len());
        self.by_key.insert(self.buffer.clone(), id);
        self.list.push(Supply { designation: name.to_owned(), first: said, described_by: DescribedBy::Survey });
        self.compare_spelling(name, id, survey, findings);
        id
    }

    fn compare_spelling(&mut self, name: &str, id: SupplyId, survey: &Survey, findings: &mut Vec<Finding>) {
        let mut rough = String::with_capacity(name.len());
        spelling::push_rough_key(&mut rough, name);
        let Some(earlier) = self.by_rough_key.get(&rough) else {
            self.by_rough_key.insert(rough, id);
            return;
        };
        let (Some(supply), Some(other)) = (self.list.get(id.index()), self.list.get(earlier.index())) else { return };
        let message = format!(
            "`{}` and `{}` are taken for two supplies, and differ only in the way they are written",
            supply.designation, other.designation
        );
        findings.push(
            Finding::new(code::SUPPLY_SPELT_TWO_WAYS, message)
                .help("write the designation alike in every row if one supply is meant")
                .at_row(survey, supply.first, Column::FedFrom),
        );
    }
}

/// The sources met so far.
#[derive(Default)]
pub(super) struct Sources {
    pub(super) list: Vec<Source>,
    /// Where rows that only say `ups` are fed from UPSs of two names, or from one that other rows name as their source, each
    /// of these as a source of its own.
    upses: HashMap<String, SourceKind, RandomState>,
    /// The name of the public network, where rows bear it and others only say `mains`.
    network: Option<String>,
    by_kind: HashMap<SourceKind, SourceId, RandomState>,
}

/// The name of the UPS that a row comes from which only says `ups`.
fn ups_named(row: &Row) -> Option<&str> {
    let name = row.fed_from.as_deref().filter(|_| row.source == Some(SourceKind::Ups))?.trim();
    (Nature::of_name(name) == Nature::Ups && !name.contains(" + ")).then_some(name)
}

/// The name of a UPS that a row gives as its source.
fn ups_as_source(row: &Row) -> Option<&str> {
    let Some(SourceKind::Named(name)) = &row.source else { return None };
    (Nature::of_name(name) == Nature::Ups).then_some(name)
}

impl Sources {
    /// None yet. `is_other` tells what a supplies file calls something else than a UPS, and `network` is the one source
    /// there that can be the mains.
    pub(super) fn of(survey: &Survey, is_other: impl Fn(&str) -> bool, network: Option<String>) -> Self {
        let rows = || survey.enclosures.iter().flat_map(|enclosure| &enclosure.rows);
        let mut upses: HashMap<String, SourceKind, RandomState> = HashMap::default();
        for name in rows().filter_map(ups_as_source) {
            upses.entry(spelling::key(name)).or_insert_with(|| SourceKind::Named(name.into()));
        }
        let are_sources = !upses.is_empty();
        for name in rows().filter_map(ups_named) {
            upses.entry(spelling::key(name)).or_insert_with(|| SourceKind::Named(name.into()));
        }
        upses.retain(|key, _| !is_other(key));
        if upses.len() < 2 && !are_sources {
            upses.clear();
        }
        let says_mains = || rows().any(|row| row.source == Some(SourceKind::Mains));
        Self { upses, network: network.filter(|_| says_mains()), ..Self::default() }
    }

    /// The source of a row.
    pub(super) fn of_row(&mut self, row: &Row, first: Said) -> Option<SourceId> {
        let mut kind = row.source.as_ref()?;
        if let (Some(network), SourceKind::Named(name)) = (&self.network, kind)
            && spelling::key(name) == *network
        {
            kind = &SourceKind::Mains;
        }
        if self.upses.is_empty() {
            return Some(self.intern(kind, first));
        }
        let own = ups_named(row).and_then(|name| self.upses.get(&spelling::key(name))).cloned();
        Some(self.intern(own.as_ref().unwrap_or(kind), first))
    }

    fn intern(&mut self, kind: &SourceKind, first: Said) -> SourceId {
        if let Some(id) = self.by_kind.get(kind) {
            return *id;
        }
        let id = SourceId::new(self.list.len());
        self.by_kind.insert(kind.clone(), id);
        self.list.push(Source { kind: kind.clone(), nature: Nature::of(kind), first });
        id
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_name_can_tell_what_a_source_is() {
        let nature = |name: &str| Nature::of(&SourceKind::Named(name.into()));
        assert_eq!(nature("UPS-2"), Nature::Ups);
        assert_eq!(nature("standby generator"), Nature::Generator);
        assert_eq!(nature("PV roof"), Nature::Solar);
        assert_eq!(nature("PV battery"), Nature::Battery);
        assert_eq!(nature("BAT1"), Nature::Battery);
        assert_eq!(nature("UPS-BAT"), Nature::Ups);
        assert_eq!(nature("TX1"), Nature::NotTold);
        assert_eq!(nature("Upstand"), Nature::NotTold);
        assert_eq!(nature("estate network"), Nature::NotTold);
        assert_eq!(nature("Grid-tied inverter"), Nature::NotTold);
        assert_eq!(nature("off-grid"), Nature::NotTold);
        assert_eq!(nature("Networking rack"), Nature::NotTold);
        assert_eq!(Nature::of_name("Network"), Nature::Mains);
        assert_eq!(Nature::of_name("Intake supply 1"), Nature::Mains);
    }
}
