//! What a device isolates: every isolator named in the survey says which circuits it disconnects.
//!
//! Reason: a notice sends a person to a device; that device must say that it is the one, and what stays on.
//!
//! Reference: BS 7671:2018+A4:2026, 537.2.7 and 514.1.1 (from training texts that quote both). It is lifted where the
//! purpose is declared obvious for every enclosure that the device serves. It never says that something is dead.
//!
//! In the survey: `isolator`, `upstream_isolator` and their locations; `purpose_obvious`, with reason and name. The
//! notice also says what must be done before the device is opened, whether it can be locked off and opened under load,
//! what else must be opened, where other supplies or live parts may remain, and of which source it is a point of
//! isolation. With a supplies file it names all that must be opened for each enclosure, up to four further devices, and
//! says that other supplies may remain unless no path was found with all of that open.
//!
//! Example: Q7 disconnects circuit DB-C/7 to CH3-JB2; other supplies of CH3-JB2 remain.

use std::collections::HashSet;

use super::Rule;
use super::back_feed::{fed_ups, is_ups};
use super::case::{is_inside, said_to_stay_live};
use super::decision::{Decision, DeviceDecision, Disconnects, Outcome, Reason, SourcePoint};
use super::index::handle;
use super::installation::Installation;
use super::phrases::list;
use super::source_points;
use crate::length::Length;
use crate::network::{Device, DeviceId, EnclosureId, Isolated, Network, ProofResult, Way, spelling};
use crate::survey::value::InterlockKind;
use crate::survey::{Column, Enclosure, Row, Survey};

/// One decision for every device, by location and designation.
pub(super) fn decide(
    survey: &Survey,
    network: &Network,
    installation: &Installation,
    decisions: &[Decision],
) -> Vec<DeviceDecision> {
    let points = source_points::of_devices(survey, network, installation);
    let with_point = |source_point| Gathered { source_point, ..Gathered::default() };
    let mut gathered: Vec<Gathered> = points.into_iter().map(with_point).collect();
    let ambiguous = ambiguous(network);
    let rows = rows_of_devices(survey, network);
    let site = Site { network, ambiguous: &ambiguous, is_described: network.is_described(), rows: &rows };
    for (index, (enclosure, decision)) in survey.enclosures.iter().zip(decisions).enumerate() {
        gather(&Serving::new(site, enclosure, EnclosureId::new(index), decision.proof.result), &mut gathered);
    }
    for (index, facts) in gathered.iter_mut().enumerate() {
        facts.back_feed.extend(installation.described.upses_below(network, DeviceId::new(index)));
    }
    let mut decisions: Vec<_> =
        network.devices().iter().zip(gathered).map(|(device, facts)| decision(device, facts)).collect();
    decisions.sort_by(|one, other| (&one.location, &one.device).cmp(&(&other.location, &other.device)));
    decisions
}

/// What the rows say of one device.
#[derive(Default)]
struct Gathered {
    disconnects: Vec<Disconnects>,
    back_feed: Vec<String>,
    source_point: Option<SourcePoint>,
    not_obvious: bool,
    before: Vec<String>,
    reading_distance: Option<Length>,
}

/// The designations that several devices bear, in the form in which names are compared.
fn ambiguous(network: &Network) -> HashSet<String> {
    let mut seen = HashSet::new();
    let keys = network.devices().iter().map(|device| spelling::key(&device.designation));
    keys.filter(|key| !seen.insert(key.clone())).collect()
}

/// What holds for the devices of the whole site.
#[derive(Clone, Copy)]
struct Site<'a> {
    network: &'a Network,
    /// Designations that need their place beside them.
    ambiguous: &'a HashSet<String>,
    /// Whether a supplies file describes the network.
    is_described: bool,
    /// How many rows name each device as their isolator, by its number; left empty without a supplies file.
    rows: &'a [usize],
}

fn rows_of_devices(survey: &Survey, network: &Network) -> Vec<usize> {
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

/// One enclosure, and which devices alone disconnect which of its rows.
struct Serving<'a> {
    enclosure: &'a Enclosure,
    network: &'a Network,
    site: Site<'a>,
    ways: &'a [Way],
    proof: ProofResult,
    /// Every device that the rows name as their isolator, each once, in their order; left empty without a supplies file.
    listed: Vec<DeviceId>,
    /// For each row that one device alone disconnects, that device; sorted.
    alone: Vec<DeviceId>,
    one_handle: bool,
}

impl<'a> Serving<'a> {
    fn new(site: Site<'a>, enclosure: &'a Enclosure, id: EnclosureId, proof: ProofResult) -> Self {
        let network = site.network;
        let ways = network.ways(id);
        let mut seen = HashSet::new();
        let listed = ways.iter().filter(|_| site.is_described).flat_map(|way| way.isolated.devices()).copied();
        let listed = listed.filter(|device| seen.insert(*device)).collect();
        let mut alone: Vec<_> = ways.iter().flat_map(sole_devices).collect();
        alone.sort_unstable();
        Self { enclosure, network, site, ways, proof, listed, alone, one_handle: has_one_handle(network, ways) }
    }

    /// Whether a part of this row stays live inside with the device open.
    fn leaves_live(&self, row: &Row, way: &Way, device: DeviceId) -> bool {
        let is_own = way.isolated.devices().contains(&device);
        let location = self.network.device(device).map_or("", |device| device.location.as_str());
        let may_stay = said_to_stay_live(row).is_some() || row.not_known.contains(&Column::LiveAfter);
        is_own && (may_stay || is_inside(location, self.enclosure))
    }

    /// What must be opened beside a device, and whether other supplies remain with all of that open.
    ///
    /// The supplies file can tell that what the enclosure lists leaves no path; then all of that is named, if it is
    /// little enough for a notice. Without it, only the further devices of the row are.
    fn also(&self, device: DeviceId, way: &Way, devices: &[DeviceId]) -> (Vec<String>, bool) {
        let mut also: Vec<DeviceId> = self.row_mates(device, devices).collect();
        let is_own = way.isolated.devices().contains(&device);
        if !self.site.is_described || !is_own {
            return (self.names(device, &also), self.others_remain(device, way));
        }
        let further = self.listed.iter().filter(|other| !devices.contains(other) && !self.opens_with(device, **other));
        let further: Vec<DeviceId> = further.copied().take(MOST_ALSO + 1).collect();
        let rows = self.site.rows.get(device.index()).copied().unwrap_or(0);
        let are_named = also.len() + further.len() <= MOST_ALSO && (rows <= MOST_ROWS || further.is_empty());
        if are_named {
            also.extend(further);
        }
        (self.names(device, &also), !are_named || self.proof != ProofResult::NoPathFound)
    }

    /// The further devices of a row that must be opened by hand of their own.
    fn row_mates(&self, device: DeviceId, devices: &[DeviceId]) -> impl Iterator<Item = DeviceId> {
        devices.iter().copied().filter(move |other| *other != device && !self.one_handle)
    }

    /// Whether the handle of a device opens another one too.
    fn opens_with(&self, device: DeviceId, other: DeviceId) -> bool {
        let handle = |id| handle(self.network, id, None);
        self.one_handle || (handle(device).is_some() && handle(device) == handle(other))
    }

    /// Designations, with their places where another device bears the same one.
    fn names(&self, device: DeviceId, others: &[DeviceId]) -> Vec<String> {
        let needs_place = |other: &Device| self.site.ambiguous.contains(&spelling::key(&other.designation));
        let others = others.iter().filter(|other| **other != device).filter_map(|other| self.network.device(*other));
        others.map(|other| if needs_place(other) { other.phrase() } else { other.designation.clone() }).collect()
    }

    /// Whether other rows than this one remain with the device open.
    fn others_remain(&self, device: DeviceId, way: &Way) -> bool {
        if self.one_handle {
            return false;
        }
        let start = self.alone.partition_point(|other| *other < device);
        let end = self.alone.partition_point(|other| *other <= device);
        let itself_remains = usize::from(!sole_devices(way).any(|other| other == device));
        self.ways.len() > end - start + itself_remains
    }
}

/// A notice names at most so many further devices for one circuit; of more it says that other supplies may remain.
const MOST_ALSO: usize = 4;

/// The notice of a device that isolates more rows than this names for none of them what else its enclosure lists: it would
/// be larger than any that is fixed at a device.
const MOST_ROWS: usize = 8;

/// The devices each of which alone disconnects a row: its only isolator, its only device upstream; each once.
fn sole_devices(way: &Way) -> impl Iterator<Item = DeviceId> {
    let sole = |isolated: &Isolated| match isolated.devices() {
        [only] => Some(*only),
        [] | [_, _, ..] => None,
    };
    let own = sole(&way.isolated);
    let upstream = way.upstream.as_ref().and_then(sole).filter(|device| Some(*device) != own);
    own.into_iter().chain(upstream)
}

/// Whether one handle opens every row.
fn has_one_handle(network: &Network, ways: &[Way]) -> bool {
    let Some(first) = ways.first().and_then(|way| way.interlock) else { return false };
    let coupled = network.interlock(first).is_some_and(|it| it.kind == Some(InterlockKind::Coupled));
    let isolated = |way: &Way| matches!(way.isolated, Isolated::By(_)) && way.interlock == Some(first);
    coupled && ways.iter().all(isolated)
}

/// Adds what one enclosure says of its devices.
fn gather(serving: &Serving<'_>, gathered: &mut [Gathered]) {
    let Serving { enclosure, network, ways, .. } = serving;
    for (row, way) in enclosure.rows.iter().zip(*ways) {
        let back_feed = fed_ups(enclosure, row, way, network);
        let upstream = way.upstream.as_ref().map_or(&[][..], Isolated::devices);
        for devices in [way.isolated.devices(), upstream] {
            for id in devices {
                let Some(facts) = gathered.get_mut(id.index()) else { continue };
                facts.disconnects.push(disconnects(serving, row, way, *id, devices));
                facts.not_obvious |= enclosure.purpose_obvious.is_none();
                let first = row.before_isolating.as_ref().filter(|_| way.isolated.devices().contains(id));
                facts.before.extend(first.filter(|first| !facts.before.contains(first)).cloned());
                let location = network.device(*id).map_or("", |device| device.location.as_str());
                let stands_here = is_inside(location, enclosure);
                if stands_here {
                    facts.reading_distance = facts.reading_distance.max(enclosure.reading_distance);
                }
                if !(stands_here && is_ups(enclosure)) {
                    facts.back_feed.extend(back_feed.clone());
                }
            }
        }
    }
}

fn disconnects(serving: &Serving<'_>, row: &Row, way: &Way, id: DeviceId, devices: &[DeviceId]) -> Disconnects {
    let (also, others_remain) = serving.also(id, way, devices);
    Disconnects {
        circuit: row.circuit.clone(),
        enclosure: serving.enclosure.designation.clone(),
        serves: row.serves.clone(),
        alone: serving.row_mates(id, devices).next().is_none(),
        also,
        others_remain,
        parts_remain: serving.leaves_live(row, way, id),
    }
}

fn decision(device: &Device, mut facts: Gathered) -> DeviceDecision {
    facts
        .disconnects
        .sort_by(|one, other| (&one.enclosure, &one.circuit, one).cmp(&(&other.enclosure, &other.circuit, other)));
    facts.disconnects.dedup();
    facts.back_feed.sort_unstable();
    facts.back_feed.dedup();
    let reasons = reasons(device, &facts);
    let need = reasons.first().map_or(Outcome::Required, |reason| reason.outcome);
    DeviceDecision {
        device: device.designation.clone(),
        location: device.location.clone(),
        need: if reasons.len() > 1 { Outcome::Required } else { need },
        reasons,
        not_under_load: device.on_load.as_ref().is_some_and(|told| !told.value),
        before: facts.before,
        locking: device.locking.as_ref().map(|told| told.value.clone()),
        source_point: facts.source_point,
        back_feed: facts.back_feed,
        disconnects: facts.disconnects,
        reading_distance: facts.reading_distance,
        own_notice: device.own_notice.clone(),
    }
}

fn reasons(device: &Device, facts: &Gathered) -> Vec<Reason> {
    let reason = |rule: Rule, outcome, because| Reason { rule, clause: rule.clause(), outcome, because };
    let mut reasons = vec![if facts.not_obvious {
        let mut circuits: Vec<_> = facts.disconnects.iter().map(|one| one.circuit.as_str()).collect();
        circuits.dedup();
        let because = format!("{} disconnects {}", device.designation, list(circuits));
        let outcome = if device.location.is_empty() { Outcome::Unknown } else { Outcome::Required };
        reason(Rule::DeviceIdentity, outcome, because)
    } else {
        let because =
            format!("the purpose of {} is declared obvious for every enclosure that it serves", device.designation);
        reason(Rule::DeviceIdentity, Outcome::Lifted, because)
    }];
    if let Some(point) = &facts.source_point {
        let sources = list(point.sources.iter().map(String::as_str));
        let because = format!(
            "{} is a point of isolation of {sources}, and the installation has other sources",
            device.designation
        );
        reasons.push(reason(Rule::AlternativeSource, Outcome::Required, because));
    }
    if !facts.back_feed.is_empty() {
        let upses = list(facts.back_feed.iter().map(String::as_str));
        let because = format!("{} stands upstream of {upses}, which can feed back", device.designation);
        reasons.push(reason(Rule::BackFeed, Outcome::Required, because));
    }
    reasons
}

#[cfg(test)]
mod tests {
    use crate::rules::testing::{PLAIN, decided};
    use crate::rules::{DeviceDecision, Outcome};

    fn devices(further_columns: &str, rows: &[&str]) -> Vec<DeviceDecision> {
        decided(further_columns, rows).0.devices
    }

    #[test]
    fn a_device_says_what_remains() {
        let second = PLAIN.replace("C/1", "C/2").replace("Q1", "Q2");
        let elsewhere = PLAIN.replace("E1", "E2");
        let devices = devices("", &[PLAIN, &second, &elsewhere]);
        let said: Vec<_> =
            devices[0].disconnects.iter().map(|one| (one.enclosure.as_str(), one.others_remain)).collect();
        assert_eq!(said, [("E1", true), ("E2", false)]);
    }

    #[test]
    fn all_devices_of_a_row_must_be_opened() {
        let devices = devices("", &[&PLAIN.replace("Q1,Board C", "Q1 + Q2,Board C + Board D")]);
        let also: Vec<_> =
            devices.iter().map(|device| (device.device.as_str(), &*device.disconnects[0].also)).collect();
        assert_eq!(also, [("Q1", &["Q2".to_owned()][..]), ("Q2", &["Q1".to_owned()][..])]);
        assert!(devices.iter().all(|device| !device.disconnects[0].others_remain));
    }

    #[test]
    fn devices_upstream_are_named_too() {
        let devices = devices("upstream_isolator,upstream_location", &[&format!("{PLAIN},Q0,Intake")]);
        let names: Vec<_> = devices.iter().map(|device| device.device.as_str()).collect();
        assert_eq!(names, ["Q1", "Q0"]);
    }

    #[test]
    fn a_purpose_is_obvious_only_if_every_enclosure_says_so() {
        let declared = format!(r#"{PLAIN},"sole isolator, JD""#);
        assert_eq!(devices("purpose_obvious", &[&declared])[0].need, Outcome::Lifted);
        let silent = format!("{},", PLAIN.replace("E1", "E2"));
        assert_eq!(devices("purpose_obvious", &[&declared, &silent])[0].need, Outcome::Required);
    }

    #[test]
    fn one_handle_leaves_nothing_to_others() {
        let second = PLAIN.replace("C/1", "C/2").replace("Q1", "Q2");
        let rows = [&*format!("{PLAIN},IL,coupled"), &*format!("{second},IL,coupled")];
        let devices = devices("interlock,interlock_kind", &rows);
        assert!(devices.iter().all(|device| !device.disconnects[0].others_remain));
    }
}
