//! What supplies each row: boards, sources and interlocks, the voltages that come of them, and a neutral that is lent.

use std::collections::HashSet;
use std::sync::Arc;

use crate::finding::{Finding, code};
use crate::network::device::{AtRow, Said};
use crate::network::id::{EnclosureId, InterlockId, SourceId, SupplyId};
use crate::network::interlock::Interlocks;
use crate::network::supply::{Nature, Sources, SuppliesMet};
use crate::network::voltage::{self, WayVoltage};
use crate::network::{Few, Needs, NetworkOptions, spelling};
use crate::supplies::{Kind, Supplies};
use crate::survey::{Column, Enclosure, Row, Survey};
use crate::table::Alike;

/// What supplies a row, and what is wrong with what it says of that.
pub(super) struct SuppliedRow {
    pub supplies: Few<SupplyId>,
    pub source: Option<SourceId>,
    pub interlock: Option<InterlockId>,
    pub needs: Needs,
    pub voltage: Arc<WayVoltage>,
    pub findings: Vec<Finding>,
}

/// Reads what supplies the rows, one after the other.
pub(super) struct Supplying<'a> {
    survey: &'a Survey,
    options: &'a NetworkOptions,
    /// The voltages are settled with the supplies file, and reported then.
    is_settled_later: bool,
    pub supplies: SuppliesMet,
    pub sources: Sources,
    pub interlocks: Interlocks,
    voltages: Alike<WayVoltage>,
    /// The circuits of the enclosure whose rows were last asked whether they list a lender, as names are compared.
    circuits: Option<(EnclosureId, HashSet<String>)>,
    /// Of the row at hand.
    findings: Vec<Finding>,
}

impl<'a> Supplying<'a> {
    pub(super) fn new(survey: &'a Survey, supplies: Option<&Supplies>, options: &'a NetworkOptions) -> Self {
        let is_other = |key: &str| {
            let mut described = supplies.into_iter().flat_map(|file| &file.devices);
            described.any(|device| {
                let is_ups = matches!(device.kind, None | Some(Kind::Source | Kind::Ups));
                !is_ups && spelling::key(&device.designation) == key
            })
        };
        Self {
            survey,
            options,
            is_settled_later: supplies.is_some(),
            supplies: SuppliesMet::default(),
            sources: Sources::of(survey, is_other, supplies.and_then(only_mains)),
            interlocks: Interlocks::default(),
            voltages: Alike::default(),
            circuits: None,
            findings: Vec::new(),
        }
    }

    pub(super) fn row(&mut self, said: Said, enclosure: &Enclosure, row: &Row) -> SuppliedRow {
        self.report_lender(enclosure, row, said);
        let supplies = row
            .fed_from
            .as_ref()
            .map_or_else(Few::default, |cell| self.supplies.intern(cell, said, self.survey, &mut self.findings));
        let source = self.sources.of_row(row, said);
        let interlock = self.interlocks.intern(row, said, self.survey, &mut self.findings);
        let nature = row.source.as_ref().map(Nature::of);
        let voltage = voltage::of_row(row, nature, self.options.measured_tolerance_percent);
        if !self.is_settled_later {
            voltage::report::report(row, &voltage, "", said, self.survey, &mut self.findings);
        }
        let needs = Needs::of(row, nature, &voltage, (&[], false));
        let findings = std::mem::take(&mut self.findings);
        SuppliedRow { supplies, source, interlock, needs, voltage: self.voltages.one(voltage), findings }
    }

    /// A shared neutral stays live with its lender: the lender's isolator must be listed too.
    fn report_lender(&mut self, enclosure: &Enclosure, row: &Row, said: Said) {
        let Some(lender) = &row.further().neutral_from else { return };
        let circuits = || enclosure.rows.iter().map(|other| spelling::key(&other.circuit)).collect();
        let known = self.circuits.take().filter(|(of, _)| *of == said.enclosure);
        let (_, circuits) = self.circuits.insert(known.unwrap_or_else(|| (said.enclosure, circuits())));
        if circuits.contains(&spelling::key(lender)) {
            return;
        }
        let message = format!(
            "circuit `{}` shares the neutral of `{lender}`, which is not among the rows of this enclosure",
            row.circuit
        );
        self.findings.push(
            Finding::new(code::NEUTRAL_LENDER_NOT_LISTED, message)
                .help("add a row for that circuit with its isolator, so that the notice lists it")
                .at_row(self.survey, said, Column::NeutralFrom),
        );
    }
}

/// The one source of a supplies file that can be the mains: no other may be, by its name.
fn only_mains(supplies: &Supplies) -> Option<String> {
    let sources = supplies.devices.iter().filter(|device| matches!(device.kind, None | Some(Kind::Source)));
    let mut may_be = sources.filter(|device| {
        device.kind.is_none() || matches!(Nature::of_name(&device.designation), Nature::Mains | Nature::NotTold)
    });
    let only = may_be.next().filter(|_| may_be.next().is_none())?;
    (Nature::of_name(&only.designation) == Nature::Mains).then(|| spelling::key(&only.designation))
}
