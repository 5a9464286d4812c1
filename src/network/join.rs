//! Reads the rows one after the other and joins them where they name the same thing.

mod isolated;
mod supplied;

use std::collections::HashMap;

use isolated::{IsolatedRow, Isolating};
use supplied::{SuppliedRow, Supplying};

use super::assembly::assemble;
use super::designations::Designations;
use super::device::Said;
use super::graph::Graph;
use super::id::EnclosureId;
use super::live_parts::LiveParts;
use super::system::{self, Systems};
use super::{Network, NetworkOptions, Way, slips};
use crate::finding::Finding;
use crate::supplies::Supplies;
use crate::survey::{Enclosure, Row, Survey};

/// Rows of so many enclosures are joined before those of the next: what is kept of them on the way is then little.
const AT_A_TIME: usize = 1_024;

/// The network of a survey, and what is wrong with its rows.
pub(super) fn join(survey: &Survey, supplies: Option<&Supplies>, options: &NetworkOptions) -> (Network, Vec<Finding>) {
    let (mut isolating, mut supplying) = (Isolating::new(survey), Supplying::new(survey, supplies, options));
    let mut findings = Vec::new();
    let count = survey.rows();
    let mut ways = Vec::with_capacity(count);
    let mut enclosures = Vec::with_capacity(survey.enclosures.len());
    for (some, first) in survey.enclosures.chunks(AT_A_TIME).zip((0..).step_by(AT_A_TIME)) {
        // What isolates a row asks for nothing of what supplies it, and each goes row after row.
        let (isolated, supplied): (Vec<IsolatedRow>, Vec<SuppliedRow>) = rayon::join(
            || rows(some, first).map(|(said, enclosure, row)| isolating.row(said, enclosure, row)).collect(),
            || rows(some, first).map(|(said, enclosure, row)| supplying.row(said, enclosure, row)).collect(),
        );
        let mut start = ways.len();
        for (isolated, supplied) in isolated.into_iter().zip(supplied) {
            let IsolatedRow { by: isolated, upstream, findings: of_isolation } = isolated;
            let SuppliedRow { supplies, source, interlock, needs, voltage, findings: of_supply } = supplied;
            findings.extend(of_isolation);
            findings.extend(of_supply);
            ways.push(Way { isolated, upstream, supplies, source, interlock, needs, voltage });
        }
        if first == 0 {
            // A list that grows leaves as much room behind as it needs in the end. What comes is mostly like what came.
            let yet_to_come = |met: usize| met * count.saturating_sub(ways.len()) / ways.len().max(1);
            isolating.devices.reserve(yet_to_come(isolating.devices.list.len()));
            supplying.supplies.reserve(yet_to_come(supplying.supplies.list.len()));
        }
        for enclosure in some {
            enclosures.push(start..start + enclosure.rows.len());
            start += enclosure.rows.len();
        }
    }
    let described = supplies.map_or(&[][..], |file| file.devices.as_slice());
    let names = Designations::of(described);
    let mut interlock = |device| supplying.interlocks.intern_described(device, supplies?, &mut findings);
    let interlocks: Vec<_> = described.iter().map(&mut interlock).collect();
    slips::report(&isolating.devices.list, survey, &mut findings);
    // What grew with the rows has up to twice the room that it needs.
    isolating.devices.list.shrink_to_fit();
    supplying.supplies.list.shrink_to_fit();
    let mut network = Network {
        devices: isolating.devices.list,
        supplies: supplying.supplies.list,
        sources: supplying.sources.list,
        interlocks: supplying.interlocks.list,
        ways,
        enclosures,
        graph: Graph::default(),
        device_nodes: Vec::new(),
        live_parts: LiveParts::default(),
        outputs: HashMap::new(),
        unproved: HashMap::new(),
        lenders: HashMap::new(),
        sharing: HashMap::new(),
        described: Vec::new(),
        facts: Vec::new(),
        mentioned: Vec::new(),
        systems: Systems::default(),
    };
    assemble(&mut network, survey, (supplies, &names), &interlocks, &mut findings);
    findings.extend(system::settle(&mut network, survey, (supplies, &names), options));
    (network, findings)
}

/// Each row of some enclosures, of which the first has this number.
fn rows(some: &[Enclosure], first: usize) -> impl Iterator<Item = (Said, &Enclosure, &Row)> {
    some.iter().zip(first..).flat_map(|(enclosure, index)| {
        let said = move |row: &Row| Said { enclosure: EnclosureId::new(index), record: row.record };
        enclosure.rows.iter().map(move |row| (said(row), enclosure, row))
    })
}
