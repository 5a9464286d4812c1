//! The isolator index: what each isolator disconnects, and where.

use super::column::{Column, Listed, Value, joined};
use crate::network::Device;
use crate::prepared::{Names, Prepared};
use crate::rules::{DeviceDecision, Disconnects, IsolatedEnclosure, IsolatorEntry, isolators};
use crate::survey::Enclosure;

/// Said of an isolator whose notice exists and is not among what is asked for.
pub(super) const NOT_SELECTED: &str = "not in this selection";

/// One isolator, with every enclosure of the survey that it serves, whether that is asked for or not.
#[derive(Clone, Debug)]
pub struct IsolatorRow<'a> {
    /// What was decided for it.
    pub device: &'a DeviceDecision,
    /// Its own notice, by its place among those of the schedule.
    pub notice: Option<usize>,
    /// The number of its own notice; `none` where it needs none, `not in this selection` where it is not
    /// asked for, or that it is left out because of errors.
    pub number: &'a str,
    /// What it disconnects, enclosure by enclosure.
    pub enclosures: Vec<Isolated<'a>>,
}

/// An enclosure in the entry of one of its isolators.
#[derive(Clone, Debug)]
pub struct Isolated<'a> {
    /// The enclosure.
    pub enclosure: &'a Enclosure,
    /// Its place in the survey.
    pub place: usize,
    /// The circuits there, each once.
    pub circuits: Vec<&'a str>,
    /// Whether it isolates the enclosure alone, or with what.
    pub alone: String,
}

/// The index of the decisions: devices by location and designation, the enclosures of each in the order of the survey.
pub(super) struct Index(Vec<IsolatorEntry>);

impl Index {
    /// The index of what was decided.
    pub(super) fn of(prepared: &Prepared<'_>) -> Self {
        Self(isolators(prepared.survey, prepared.network, &prepared.decisions.enclosures))
    }

    fn find(&self, device: &DeviceDecision, place: usize) -> Option<&IsolatedEnclosure> {
        let wanted = (device.location.as_str(), device.device.as_str());
        let name = |entry: &IsolatorEntry| (entry.location.as_str(), entry.device.as_str()).cmp(&wanted);
        let start = self.0.partition_point(|entry| name(entry).is_lt());
        // What stands inside an enclosure is another device in each of them, and may be called the same.
        let mut alike = self.0.get(start..)?.iter().take_while(|entry| name(entry).is_eq());
        alike.find_map(|entry| {
            let at = entry.enclosures.binary_search_by_key(&place, |one| one.enclosure).ok()?;
            entry.enclosures.get(at)
        })
    }
}

impl<'a> IsolatorRow<'a> {
    /// An isolator, as yet without its notice.
    pub(super) fn of(prepared: &Prepared<'a>, names: &Names<'a>, index: &Index, device: &'a DeviceDecision) -> Self {
        // They are sorted by enclosure and circuit.
        let isolated = |mine: &'a [Disconnects]| {
            let (decision, enclosure) = prepared.decided(names.enclosure(&mine.first()?.enclosure)?)?;
            let mut circuits: Vec<&str> = mine.iter().map(|one| one.circuit.as_str()).collect();
            circuits.dedup();
            let place = decision.enclosure;
            Some(Isolated { enclosure, place, circuits, alone: alone(prepared, index.find(device, place)) })
        };
        let enclosures = device.disconnects.chunk_by(|one, other| one.enclosure == other.enclosure);
        Self { device, notice: None, number: "none", enclosures: enclosures.filter_map(isolated).collect() }
    }

    /// One line for each enclosure.
    pub fn lines(&self) -> impl Iterator<Item = IsolatorLine<'_>> {
        self.enclosures.iter().map(|isolated| IsolatorLine { isolator: self, isolated })
    }
}

/// Whether a device isolates an enclosure alone, or what must be opened too; one that the enclosure does not list stands
/// upstream of it.
fn alone(prepared: &Prepared<'_>, listed: Option<&IsolatedEnclosure>) -> String {
    let Some(one) = listed else {
        return "upstream: makes dead what stays live there, and is none of its points of isolation".to_owned();
    };
    if one.alone {
        return "alone, on the survey's word".to_owned();
    }
    let named: Vec<String> =
        one.with.iter().filter_map(|id| prepared.network.device(*id)).map(Device::phrase).collect();
    if named.is_empty() {
        return "not alone: something stays live".to_owned();
    }
    let more = one.others.saturating_sub(one.with.len());
    let more = if more > 0 { format!(" and {more} more") } else { String::new() };
    format!("not alone; open as well: {}{more}", named.join(", "))
}

/// One line of the index.
#[derive(Clone, Copy, Debug)]
pub struct IsolatorLine<'a> {
    /// The isolator.
    pub isolator: &'a IsolatorRow<'a>,
    /// One enclosure that lists it.
    pub isolated: &'a Isolated<'a>,
}

impl Listed for IsolatorLine<'_> {
    const SHEET: &'static str = "Isolator index";
    const TABLE: &'static str = "isolator_index";

    fn columns() -> Vec<Column<Self>> {
        vec![
            Column::new("isolator", 16, |row| Value::text(&row.isolator.device.device)),
            Column::new("location", 28, |row| Value::text(row.isolator.device.place_in_words())),
            Column::new("notice", 28, |row| Value::text(row.isolator.number)),
            Column::new("disconnects in", 18, |row| Value::text(&row.isolated.enclosure.designation)),
            Column::new("name", 28, |row| Value::text(row.isolated.enclosure.name.as_deref().unwrap_or_default())),
            Column::new("area", 22, |row| Value::text(row.isolated.enclosure.area.as_deref().unwrap_or_default())),
            Column::new("circuits", 28, |row| {
                joined(row.isolated.circuits.iter().map(|&circuit| circuit.to_owned())).into()
            }),
            Column::new("alone", 50, |row| Value::text(&row.isolated.alone)),
        ]
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::network::{Network, NetworkOptions};
    use crate::rules::{self, RuleOptions};
    use crate::survey::{ReadOptions, read};

    #[test]
    fn what_is_inside_is_found_in_its_own_enclosure_whatever_it_is_called_elsewhere() {
        let text = "enclosure,circuit,fed_from,voltage_to_earth,isolator,isolator_location\n\
                    E1,C/1,DB-1,230,Q1,inside\nE2,C/2,DB-1,230,Q1,inside\nE2,C/3,DB-2,230,Q9,Room 2\n";
        let survey = read(text.as_bytes(), &ReadOptions::new("survey.csv")).survey;
        let network = Network::join(&survey, None, &NetworkOptions::default()).0;
        let decisions = rules::decide(&survey, &network, &RuleOptions::default()).0;
        let index = Index(isolators(&survey, &network, &decisions.enclosures));
        assert_eq!(index.0.len(), 3, "two devices are called Q1");
        let q1 = decisions.devices.iter().find(|device| device.device == "Q1").unwrap();
        let found = |place| index.find(q1, place).map(|one| (one.enclosure, one.circuits.clone(), one.others));
        assert_eq!(found(0), Some((0, vec!["C/1".to_owned()], 0)));
        assert_eq!(found(1), Some((1, vec!["C/2".to_owned()], 1)));
        assert_eq!(found(2), None);
    }
}
