//! The reverse look-up, for a person who stands at an isolator: what it disconnects, and what stays live.

use std::collections::BTreeSet;

use crate::cli::pipeline::Loaded;
use crate::cli::report::visible;
use crate::network::spelling;
use crate::rules::{DeviceDecision, Disconnects, IsolatorEntry, enclosure_in_words};

/// The isolators that a name means: a designation, or designation and location as on the device's notice,
/// `Q7@Switchroom 1`.
pub(super) fn named<'a>(loaded: &'a Loaded, name: &str) -> Vec<&'a DeviceDecision> {
    let devices = || loaded.decisions().devices.iter();
    let wanted = spelling::key(name);
    let plain: Vec<_> = devices().filter(|device| spelling::key(&device.device) == wanted).collect();
    if !plain.is_empty() {
        return plain;
    }
    devices().filter(|device| spelling::key(&full_name(device)) == wanted).collect()
}

/// The name that only one isolator bears: the number of its notice.
pub(super) fn full_name(device: &DeviceDecision) -> String {
    format!("{}@{}", device.device, device.location)
}

/// Their entries in the isolator index.
pub(super) fn entries(loaded: &Loaded, devices: &[&DeviceDecision]) -> Vec<IsolatorEntry> {
    let is_one = |entry: &IsolatorEntry| {
        devices.iter().any(|device| device.device == entry.device && device.location == entry.location)
    };
    loaded.isolators().into_iter().filter(is_one).collect()
}

/// What is said of each of them.
pub(super) fn explanation(loaded: &Loaded, devices: &[&DeviceDecision]) -> String {
    let mut text = String::new();
    if let [first, _, ..] = devices {
        let name = visible(&first.device);
        text.push_str(&format!("{} isolators are called {name}; their locations tell them apart\n\n", devices.len()));
    }
    let each: Vec<String> = devices.iter().map(|device| one(loaded, device)).collect();
    text + &each.join("\n")
}

fn one(loaded: &Loaded, device: &DeviceDecision) -> String {
    let mut text = format!("{}, {}\n", visible(&device.device), visible(device.place_in_words()));
    for line in device.handling() {
        text.push_str(&format!("  {}\n", visible(&line)));
    }
    text.push_str("\nDisconnects\n");
    let enclosures: BTreeSet<&str> = device.disconnects.iter().map(|one| one.enclosure.as_str()).collect();
    for designation in enclosures {
        text.push_str(&of_enclosure(loaded, device, designation));
    }
    for ups in &device.back_feed {
        text.push_str(&format!("  {} can feed back to its load side\n", visible(ups)));
    }
    text.push_str("\nOpening it makes nothing dead by itself. Isolate all points of the enclosure, then prove dead\n");
    text
}

fn of_enclosure(loaded: &Loaded, device: &DeviceDecision, designation: &str) -> String {
    let enclosure = loaded.survey.enclosures.iter().find(|one| one.designation == designation);
    let mut text = format!("  {}\n", visible(&enclosure_in_words(designation, enclosure)));
    let mine: Vec<&Disconnects> = device.disconnects.iter().filter(|one| one.enclosure == designation).collect();
    for one in &mine {
        text.push_str(&format!("    {}\n", visible(&one.in_words())));
    }
    if let Some(decision) = loaded.decision(designation) {
        text.extend(device.remains_in(decision, &mine).iter().map(|line| format!("    {}\n", visible(line))));
    }
    text
}
