//! Which rows name which device: as what isolates them, or as what makes dead that which stays live after that.

use rayon::prelude::*;

use crate::network::{DeviceId, EnclosureId, Isolated, Network};
use crate::survey::Survey;

/// A row that names a device.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Naming {
    device: DeviceId,
    pub(super) enclosure: EnclosureId,
    /// The place of the row in its enclosure.
    pub(super) row: u32,
}

/// The rows of every device.
pub(super) struct RowsOfDevices {
    /// Each once, by device and then in the order of the survey.
    namings: Vec<Naming>,
    /// How often rows name each device as their isolator, by its number; left empty without a supplies file.
    isolated: Vec<usize>,
}

impl RowsOfDevices {
    pub(super) fn of(survey: &Survey, network: &Network) -> Self {
        // Most rows name one device.
        let mut namings: Vec<Naming> = Vec::with_capacity(survey.rows());
        for enclosure in (0..survey.enclosures.len()).map(EnclosureId::new) {
            for (row, way) in (0..).zip(network.ways(enclosure)) {
                let upstream = way.upstream.as_deref().map_or(&[][..], Isolated::devices);
                let devices = way.isolated.devices().iter().chain(upstream);
                namings.extend(devices.map(|device| Naming { device: *device, enclosure, row }));
            }
        }
        namings.par_sort_unstable();
        namings.dedup();
        Self { namings, isolated: isolated(survey, network) }
    }

    /// The rows that name a device, in the order of the survey.
    pub(super) fn of_device(&self, device: DeviceId) -> &[Naming] {
        let start = self.namings.partition_point(|naming| naming.device < device);
        let end = self.namings.partition_point(|naming| naming.device <= device);
        self.namings.get(start..end).unwrap_or_default()
    }

    /// How often rows name a device as their isolator, where a supplies file describes the network.
    pub(super) fn isolated(&self, device: DeviceId) -> usize {
        self.isolated.get(device.index()).copied().unwrap_or(0)
    }
}

fn isolated(survey: &Survey, network: &Network) -> Vec<usize> {
    if !network.is_described() {
        return Vec::new();
    }
    let mut rows = vec![0; network.devices().len()];
    let ways = (0..survey.enclosures.len()).flat_map(|index| network.ways(EnclosureId::new(index)));
    for device in ways.flat_map(|way| way.isolated.devices()) {
        rows.get_mut(device.index()).into_iter().for_each(|count| *count += 1);
    }
    rows
}
