//! Isolators that a notice names beside its points of isolation: of parts that stay live, of further sources, of a UPS that
//! may feed back.

use super::decision::Decision;
use super::statement::{SourceIsolation, Statement};

/// A UPS that may feed back, with where it is isolated.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct BackFeeding<'a> {
    /// The UPS.
    pub ups: &'a str,
    /// Its isolators, designation and location; empty where the notice names none.
    pub isolated_at: Vec<(&'a str, &'a str)>,
}

impl Decision {
    /// Designation and location of each isolator that is named beside the points of isolation, each once.
    #[must_use]
    pub fn named_elsewhere(&self) -> Vec<(&str, &str)> {
        let mut named: Vec<(&str, &str)> = Vec::new();
        for device in self.statements.iter().flat_map(devices) {
            let is_point = self.points.iter().any(|point| (point.device.as_str(), point.location.as_str()) == device);
            if !is_point && !named.contains(&device) {
                named.push(device);
            }
        }
        named
    }

    /// Each UPS that may feed back.
    #[must_use]
    pub fn back_feeding(&self) -> Vec<BackFeeding<'_>> {
        let feeding = self.statements.iter().filter_map(|statement| {
            let Statement::BackFeed { ups } = statement else { return None };
            Some(BackFeeding { ups, isolated_at: self.isolators_of(ups) })
        });
        feeding.collect()
    }

    /// Where a source is isolated wholly, if that is said.
    fn isolators_of(&self, name: &str) -> Vec<(&str, &str)> {
        let sources = self.statements.iter().flat_map(sources);
        let whole = sources.filter(|source| source.source == name && source.missing.is_none());
        whole.flat_map(|source| &source.isolated_at).map(named).collect()
    }
}

fn sources(statement: &Statement) -> &[SourceIsolation] {
    if let Statement::AlternativeSource { sources, .. } = statement { sources } else { &[] }
}

fn devices(statement: &Statement) -> Vec<(&str, &str)> {
    if let Statement::LineSideLive { isolated_at, .. } = statement {
        return isolated_at.iter().map(named).collect();
    }
    sources(statement).iter().flat_map(|source| &source.isolated_at).map(named).collect()
}

fn named((device, location): &(String, String)) -> (&str, &str) {
    (device, location)
}

#[cfg(test)]
mod tests {
    use super::BackFeeding;
    use crate::rules::testing::decided;

    /// A main board that feeds a UPS; what makes its incoming terminals dead isolates the UPS too, at one place.
    #[test]
    fn isolators_beside_the_points_are_named_once_and_a_ups_with_its_own() {
        let rows = [
            "MSB,M/0,Network,mains,230,L1 N,TN-S,230,QM,inside MSB,1+N,padlock,origin,,Q0,Intake",
            "MSB,M/7,Network,mains,230,L1 N,TN-S,230,Q7,inside MSB,1+N,padlock,,UPS-1,Q8,Intake",
            "MSB,M/8,Network,mains,230,L1 N,TN-S,230,Q9,inside MSB,1+N,padlock,,,QU,Rack room",
            "RACK,U/1,UPS-1,UPS-1,230,L1 N,TN-S,230,QU,Rack room,1+N,padlock,isolating-point,,,",
        ];
        let (decisions, _) = decided("role,serves,upstream_isolator,upstream_location", &rows);
        let board = &decisions.enclosures[0];
        let mut named = board.named_elsewhere();
        named.sort_unstable();
        assert_eq!(named, [("Q0", "Intake"), ("Q8", "Intake"), ("QU", "Rack room")]);
        let feeding = BackFeeding { ups: "UPS-1", isolated_at: vec![("QU", "Rack room")] };
        assert_eq!(board.back_feeding(), [feeding]);
    }
}
