//! What a device upstream of a row isolates: the row's own circuit, or a part that need not be of it.

use super::spelling::{self, Incoming};
use crate::survey::Row;
use crate::survey::value::{DeviceRef, Isolation};

/// What the survey says stays live; a cell that only says "nothing" says nothing.
pub fn said_to_stay_live(row: &Row) -> Option<&str> {
    const NOTHING: [&str; 6] = ["nothing", "none", "no", "-", "n/a", "nil"];
    let part = row.further().live_after.as_deref()?.trim();
    let is_nothing = part.is_empty() || NOTHING.iter().any(|word| part.eq_ignore_ascii_case(word));
    (!is_nothing).then_some(part)
}

/// Whether what is upstream of a row feeds its isolators, as far as the row tells: a part that stays live and is not their
/// incoming terminals, such as a crankcase heater, may be fed from elsewhere. Of several devices for several parts, which
/// of them feeds which `is_untold`.
#[must_use]
pub fn feeds_isolators(row: &Row, is_untold: bool) -> bool {
    // Nearly no row says anything.
    if row.further().live_after.is_none() {
        return true;
    }
    let own = isolators_of(row).iter().map(|device| &*device.designation);
    match said_to_stay_live(row).map(|part| spelling::incoming_terminals(part, own)) {
        None | Some(Incoming::All) => true,
        Some(Incoming::Some) => !is_untold,
        Some(Incoming::Nothing) => false,
    }
}

fn isolators_of(row: &Row) -> &[DeviceRef] {
    match &row.isolation {
        Some(Isolation::By(devices)) => devices,
        Some(Isolation::Impossible | Isolation::Unknown) | None => &[],
    }
}

#[cfg(test)]
mod tests {
    use super::feeds_isolators;
    use crate::network::testing::surveyed;

    #[test]
    fn what_isolates_another_part_is_not_known_to_feed_the_isolators() {
        let feeds = |part: &str, is_untold: bool| {
            let survey = surveyed(
                "enclosure,circuit,isolator,isolator_location,live_after,upstream_isolator",
                &[&format!("E1,C/1,Q4,MCC,{part},Q9")],
            );
            feeds_isolators(&survey.enclosures[0].rows[0], is_untold)
        };
        for part in ["", "none", "incoming terminals of Q4", "line side"] {
            assert!(feeds(part, false) && feeds(part, true), "{part}");
        }
        for part in ["crankcase heater", "terminals of Q5"] {
            assert!(!feeds(part, false), "{part}");
        }
        let both = "incoming terminals; crankcase heater";
        assert!(feeds(both, false) && !feeds(both, true));
    }
}
