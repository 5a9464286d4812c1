//! The UPSs and converters that an enclosure of the survey holds, or is, without bearing their designation.
//!
//! The supplies file places a device `inside RACK-U`, or the survey calls `UPS 1` what the file calls `UPS-1`. The
//! terminals of such a device are in that enclosure all the same, and so is what comes to its output past it.

use std::collections::HashMap;

use foldhash::fast::RandomState;

use super::designations::{Designations, Found};
use super::graph::{Graph, NodeKind};
use super::id::NodeId;
use super::spelling;
use crate::supplies::Supplies;
use crate::survey::Survey;

/// What is held, by the number of the enclosure.
#[derive(Default)]
pub(super) struct Held {
    /// Devices that the file places inside.
    placed: HashMap<usize, Vec<NodeId>, RandomState>,
    /// A device whose designation differs in punctuation alone.
    alike: HashMap<usize, NodeId, RandomState>,
}

impl Held {
    /// What the enclosures of a survey hold.
    pub(super) fn of(survey: &Survey, file: &Supplies, names: &Designations, graph: &Graph) -> Self {
        let mut held = Self::default();
        let rows = (0..file.devices.len()).map(NodeId::new);
        let with_output: Vec<NodeId> = rows.filter(|node| has_output(graph, *node)).collect();
        if with_output.is_empty() {
            return held;
        }
        // Of many enclosures few have a name whose first word any of these places has.
        let mut by_word: HashMap<String, Vec<usize>, RandomState> = HashMap::default();
        for (index, enclosure) in survey.enclosures.iter().enumerate() {
            let designation = &enclosure.designation;
            let first = spelling::words(designation).next().map(str::to_lowercase);
            first.into_iter().for_each(|word| by_word.entry(word).or_default().push(index));
            let is_named = names.find(designation) != Found::Nowhere;
            let alike = names.alike(designation).filter(|_| !is_named && !designation.is_empty());
            let alike = alike.map(NodeId::new).filter(|node| with_output.contains(node));
            held.alike.extend(alike.map(|node| (index, node)));
        }
        for node in with_output {
            let location = file.devices.get(node.index()).map_or("", |device| device.location.as_str());
            // `inside` alone means the device itself.
            if spelling::is_here(location) {
                continue;
            }
            let words = spelling::words(location).map(str::to_lowercase);
            for index in words.filter_map(|word| by_word.get(&word)).flatten() {
                let enclosure = survey.enclosures.get(*index);
                let is_inside =
                    enclosure.is_some_and(|it| spelling::is_inside(location, it.area.as_deref(), &it.designation));
                let placed = held.placed.entry(*index).or_default();
                if is_inside && !placed.contains(&node) {
                    placed.push(node);
                }
            }
        }
        held
    }

    /// The devices that the file places inside an enclosure.
    pub(super) fn placed(&self, enclosure: usize) -> &[NodeId] {
        self.placed.get(&enclosure).map_or(&[], Vec::as_slice)
    }

    /// A device that has the designation of an enclosure but for punctuation.
    pub(super) fn alike(&self, enclosure: usize) -> Option<NodeId> {
        self.alike.get(&enclosure).copied()
    }
}

/// Whether a node has terminals at which it gives out what it made, apart from those where it is fed.
pub(super) fn has_output(graph: &Graph, node: NodeId) -> bool {
    let kind = graph.node(node).map(|node| node.kind);
    matches!(kind, Some(NodeKind::Ups { .. } | NodeKind::Converter))
}
