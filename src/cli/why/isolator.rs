//! The reverse look-up, for a person who stands at an isolator: what it disconnects, and what stays live.

use std::collections::BTreeSet;

use crate::cli::pipeline::Loaded;
use crate::cli::report::visible;
use crate::network::spelling;
use crate::rules::{Decision, DeviceDecision, Disconnects, IsolatorEntry, PointOfIsolation};
use crate::survey::Enclosure;

/// The isolators that a name means: a designation, or designation and location as on the device's notice,
/// `Q7@Switchroom 1`.
pub(super) fn named<'a>(loaded: &'a Loaded, name: &str) -> Vec<&'a DeviceDecision> {
    let devices = || loaded.decisions.devices.iter();
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
    let is_one = |entry: &&IsolatorEntry| {
        devices.iter().any(|device| device.device == entry.device && device.location == entry.location)
    };
    loaded.decisions.isolators.iter().filter(is_one).cloned().collect()
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
    let place = if device.location.is_empty() { "location not known" } else { device.location.as_str() };
    let mut text = format!("{}, {}\n", visible(&device.device), visible(place));
    for line in handling(device) {
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

/// How it is secured, opened and what comes first.
fn handling(device: &DeviceDecision) -> Vec<String> {
    let locking = device.locking.as_ref();
    let mut lines = vec![locking.map_or("locking not said".to_owned(), |locking| format!("secured by {locking}"))];
    lines.extend(device.not_under_load.then(|| "not to be opened under load".to_owned()));
    lines.extend(device.before.iter().map(|before| format!("first: {before}")));
    let sources = device.source_point.as_ref().map(|point| point.sources.join(", "));
    lines.extend(sources.map(|sources| format!("point of isolation of: {sources}")));
    lines
}

fn of_enclosure(loaded: &Loaded, device: &DeviceDecision, designation: &str) -> String {
    let enclosure = loaded.survey.enclosures.iter().find(|one| one.designation == designation);
    let mut text = format!("  {}\n", visible(&title(designation, enclosure)));
    let mine: Vec<&Disconnects> = device.disconnects.iter().filter(|one| one.enclosure == designation).collect();
    for one in &mine {
        text.push_str(&format!("    {}\n", visible(&circuit(one))));
    }
    if let Some(decision) = loaded.decision(designation) {
        text.push_str(&remains(device, decision, &mine));
    }
    text
}

fn title(designation: &str, enclosure: Option<&Enclosure>) -> String {
    let name = enclosure.and_then(|one| one.name.as_ref()).map(|name| format!(", {name}")).unwrap_or_default();
    let area = enclosure.and_then(|one| one.area.as_ref()).map(|area| format!(" ({area})")).unwrap_or_default();
    format!("{designation}{name}{area}")
}

fn circuit(disconnects: &Disconnects) -> String {
    let mut words = format!("circuit {}", disconnects.circuit);
    if let Some(serves) = &disconnects.serves {
        words.push_str(&format!(", {serves}"));
    }
    if !disconnects.also.is_empty() {
        words.push_str(&format!("; open as well: {}", disconnects.also.join(", ")));
    }
    words
}

/// What stays live in the enclosure with this device alone open, and what the proof came to with all of them open.
fn remains(device: &DeviceDecision, decision: &Decision, mine: &[&Disconnects]) -> String {
    let is_other = |point: &&PointOfIsolation| point.device != device.device || point.location != device.location;
    let others: Vec<String> = decision.points.iter().filter(is_other).map(point_in_words).collect();
    let mut lines = Vec::new();
    if mine.iter().any(|one| one.others_remain) {
        lines.push(match others.as_slice() {
            [] => "other supplies stay live".to_owned(),
            others => format!("other supplies stay live until these are open too: {}", others.join(", ")),
        });
    }
    if mine.iter().any(|one| one.parts_remain) {
        lines.push("parts of this circuit stay live inside".to_owned());
    }
    if others.is_empty() && lines.is_empty() {
        lines.push("the only isolator that the survey declares there".to_owned());
    }
    lines.push(format!("proof with everything declared open: {}", decision.proof.result.in_words()));
    lines.iter().map(|line| format!("    {}\n", visible(line))).collect()
}

fn point_in_words(point: &PointOfIsolation) -> String {
    if point.location.is_empty() { point.device.clone() } else { format!("{} ({})", point.device, point.location) }
}
