//! Devices of one designation whose places differ by a slip of the pen: `Main switchrom` beside `Main switchroom`.
//!
//! They are two devices, each with a part of the circuits, and each notice would name one of two that are the same. Rooms
//! that differ in a figure or in a short word, such as `Board C` and `Board D`, are taken as they are written.

use std::collections::HashMap;

use rayon::prelude::*;
use strsim::osa_distance;

use super::device::{AtRow, Device};
use super::spelling;
use crate::finding::{Finding, code};
use crate::survey::{Column, Survey};

/// Words of fewer letters than this tell rooms apart by one letter: `Bay` and `Day`.
const SHORTEST: usize = 6;

/// Of so many places that differ in one word, no further ones are held against the others.
const MOST: usize = 64;

/// Words before a place that say no more of where it is.
const LEADING: [&str; 4] = ["inside", "in", "at", "within"];

/// Reports each device whose place looks like that of an earlier one of the same designation.
pub(super) fn report(devices: &[Device], survey: &Survey, findings: &mut Vec<Finding>) {
    let mut order: Vec<usize> = (0..devices.len()).collect();
    let designation = |index: &usize| devices.get(*index).map_or("", |device| &*device.designation);
    order.par_sort_unstable_by_key(|index| (designation(index), *index));
    for alike in order.chunk_by(|one, other| designation(one) == designation(other)).filter(|alike| alike.len() > 1) {
        let alike = alike.iter().filter_map(|index| devices.get(*index));
        let placed = alike.filter(|device| !device.location.is_empty() && !spelling::is_own(&device.location));
        among(placed, survey, findings);
    }
}

fn among<'a>(devices: impl Iterator<Item = &'a Device>, survey: &Survey, findings: &mut Vec<Finding>) {
    // By the words of a place, all of them or with a `*` for one: that word, and the device.
    let mut met: HashMap<String, Vec<(String, &Device)>> = HashMap::new();
    for device in devices {
        let words = words_of_place(&device.location);
        let whole = met.entry(words.join(" ")).or_default();
        let mut earlier = whole.first().map(|(_, other)| *other);
        whole.push((String::new(), device));
        for (place, word) in words.iter().enumerate().filter(|(_, word)| may_be_slip(word)) {
            let mut others = words.clone();
            others.get_mut(place).into_iter().for_each(|word| "*".clone_into(word));
            let like = met.entry(others.join(" ")).or_default();
            let near = like.iter().find(|(other, _)| osa_distance(other, word) == 1);
            earlier = earlier.or(near.map(|(_, other)| *other));
            if like.len() < MOST {
                like.push((word.clone(), device));
            }
        }
        findings.extend(earlier.and_then(|other| slip(device, other, survey)));
    }
}

/// The words of a place in small letters, without those before it that tell nothing.
fn words_of_place(location: &str) -> Vec<String> {
    let words = spelling::words(location).map(str::to_lowercase);
    let below = spelling::below_nought(location).map(|figures| format!("-{figures}"));
    words.skip_while(|word| LEADING.contains(&word.as_str())).chain(below).collect()
}

fn may_be_slip(word: &str) -> bool {
    word.chars().count() >= SHORTEST && word.chars().all(char::is_alphabetic)
}

/// Nothing where the two differ only in punctuation: that has been reported.
fn slip(device: &Device, other: &Device, survey: &Survey) -> Option<Finding> {
    let rough = |device: &Device| {
        let mut key = String::new();
        spelling::push_rough_place(&mut key, &device.location);
        key
    };
    if rough(device) == rough(other) {
        return None;
    }
    let message = format!("`{}` and `{}` are taken for two devices, and may be one", device.phrase(), other.phrase());
    let finding = Finding::new(code::DEVICE_SPELT_TWO_WAYS, message)
        .help("write the location alike in every row if they mean one device");
    Some(finding.at_row(survey, device.first, Column::IsolatorLocation))
}

#[cfg(test)]
mod tests {
    use crate::network::testing::surveyed;
    use crate::network::{Network, NetworkOptions};

    fn found(places: &[&str]) -> usize {
        let rows: Vec<String> = places.iter().map(|place| format!("E1,C/1,230,Q1,\"{place}\"")).collect();
        let rows: Vec<&str> = rows.iter().map(String::as_str).collect();
        let survey = surveyed("enclosure,circuit,voltage_to_earth,isolator,isolator_location", &rows);
        let findings = Network::join(&survey, None, &NetworkOptions::default()).1;
        findings.iter().filter(|finding| finding.code.name == "device-spelt-two-ways").count()
    }

    #[test]
    fn a_slip_in_a_place_is_asked_about() {
        for places in [
            ["Main switchroom", "Main switchrom"],
            ["Main switchroom, board C", "Main switchroom board C"],
            ["Plant room, boiler house", "Plant room, boielr house"],
            ["DB-2", "inside DB-2"],
            ["Intake room", "in intake room"],
            ["Room 1", "Room-1"],
            ["Level -1 switchroom", "Level -1 switchrom"],
        ] {
            assert_eq!(found(&places), 1, "{places:?}");
        }
        assert_eq!(found(&["Main switchroom", "Main switchrom", "Main switchrooms", "Main switchrom"]), 2);
    }

    #[test]
    fn places_that_tell_rooms_apart_are_not() {
        for places in [
            ["Switchroom 1", "Switchroom 2"],
            ["Board C", "Board D"],
            ["Chamber A lobby", "Chamber B lobby"],
            ["Bay 1", "Day 1"],
            ["North wing", "South wing"],
            ["Level 1", "Level -1"],
            ["Level 1, riser 2", "Level -1, riser 2"],
            ["", "inside"],
        ] {
            assert_eq!(found(&places), 0, "{places:?}");
        }
    }
}
