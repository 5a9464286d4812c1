//! What a device isolates: every isolator named in the survey says which circuits it disconnects.
//!
//! Reason: a notice sends a person to a device; that device must say that it is the one, and what stays on.
//!
//! Reference: BS 7671:2018+A4:2026, 537.2.7 and 514.1.1 (from training texts that quote both). It is lifted where the
//! purpose is declared obvious for every enclosure that the device serves. It never says that something is dead.
//!
//! In the survey: `isolator`, `upstream_isolator` and their locations; `purpose_obvious`, with reason and name. The
//! notice also says what must be done before the device is opened, whether it can be locked off and opened under load,
//! what else must be opened and what of that first, where other supplies or live parts may remain, and of which source
//! it is a point of isolation. With a supplies file it names all that must be opened for each enclosure, up to four
//! further devices, and says that other supplies may remain unless no path was found with all of that open. Of a device
//! upstream of what need not be of the row's circuit, by `live_after`, it names that part.
//!
//! Example: Q7 disconnects circuit DB-C/7 to CH3-JB2; other supplies of CH3-JB2 remain.

mod serving;

use std::collections::{HashMap, HashSet};
use std::sync::OnceLock;

use foldhash::fast::RandomState;
use rayon::prelude::*;
use serving::{Serving, part_upstream};

use super::assessor::Assessor;
use super::back_feed::{fed_ups, is_ups};
use super::case::is_inside;
use super::decision::{Decision, DeviceDecision, Disconnects, Explained, Outcome, Reason, SourcePoint};
use super::phrases::list;
use super::rows_of_devices::RowsOfDevices;
use super::source_points;
use super::statement::Statement;
use super::{FEWEST_TOGETHER, Rule};
use crate::length::Length;
use crate::network::{Device, DeviceId, EnclosureId, Isolated, Network, ProofResult, spelling};

/// What of the decision about an enclosure bears on those about its devices.
#[derive(Clone, Copy, Debug)]
pub(super) struct Settled {
    proof: ProofResult,
    /// Whether parts may stay live with the devices of a row open: what it holds is never off, or a device is not known to part
    /// every conductor.
    parts_may_stay: bool,
}

impl Settled {
    pub(super) fn of(decision: &Decision) -> Self {
        let is_doubtful = |reason: &Reason| reason.rule == Rule::SeveralIsolators && reason.outcome == Outcome::Unknown;
        let is_never_off = |statement: &Statement| matches!(statement, Statement::LiveAtAnyTime { .. });
        let parts_may_stay = decision.reasons.iter().any(is_doubtful) || decision.statements.iter().any(is_never_off);
        Self { proof: decision.proof.result, parts_may_stay }
    }
}

/// Decides about one device at a time, in any order and on any thread.
pub struct Devices<'a> {
    assessor: Assessor<'a>,
    /// What bears on the devices of each enclosure.
    settled: &'a [Settled],
    /// Designations that need their place beside them, in the form in which names are compared; known once they are asked
    /// for, which they are not where every row has a device of its own.
    ambiguous: OnceLock<HashSet<String, RandomState>>,
    points: source_points::Points,
    rows: RowsOfDevices,
    /// Enclosures of so many rows that they are looked through once for all of their devices.
    large: HashMap<EnclosureId, Serving<'a>>,
}

/// From so many rows on an enclosure is looked through once for all of its devices.
const LARGE: usize = 24;

impl<'a> Devices<'a> {
    /// `settled` is what was decided of all enclosures, in the order of the survey.
    pub(super) fn new(assessor: Assessor<'a>, settled: &'a [Settled]) -> Self {
        let Assessor { survey, network, installation, .. } = assessor;
        let mut devices = Self {
            assessor,
            settled,
            ambiguous: OnceLock::new(),
            points: source_points::of_devices(survey, network, installation),
            rows: RowsOfDevices::of(survey, network),
            large: HashMap::new(),
        };
        let large = survey.enclosures.par_iter().enumerate().filter(|(_, enclosure)| enclosure.rows.len() >= LARGE);
        let large = large.map(|(index, _)| EnclosureId::new(index));
        devices.large = large.filter_map(|id| Some((id, devices.serving(id)?))).collect();
        devices
    }

    /// Every device by location and designation: the order of the decisions about them.
    #[must_use]
    pub fn order(&self) -> Vec<DeviceId> {
        let network = self.assessor.network;
        let place = |id: &DeviceId| network.device(*id).map(|device| (&device.location, &device.designation));
        let mut order: Vec<DeviceId> = (0..network.devices().len()).map(DeviceId::new).collect();
        order.par_sort_by(|one, other| place(one).cmp(&place(other)));
        order
    }

    /// The decision about one device; `None` where there is none.
    #[must_use]
    pub fn one(&self, id: DeviceId) -> Option<DeviceDecision> {
        let network = self.assessor.network;
        let device = network.device(id)?;
        let source_point = self.points.get(&id).cloned();
        let rows = self.rows.of_device(id);
        let mut facts = Gathered { disconnects: Vec::with_capacity(rows.len()), source_point, ..Gathered::default() };
        for named in rows.chunk_by(|one, other| one.enclosure == other.enclosure) {
            let Some(enclosure) = named.first().map(|named| named.enclosure) else { continue };
            let own;
            let serving = match self.large.get(&enclosure) {
                Some(serving) => serving,
                None => match self.serving(enclosure) {
                    Some(serving) => {
                        own = serving;
                        &own
                    }
                    None => continue,
                },
            };
            named.iter().for_each(|named| gather(self, serving, named.row, (id, device), &mut facts));
        }
        facts.back_feed.extend(self.assessor.installation.described.upses_below(network, id));
        Some(decision(device, facts))
    }

    /// One decision for every device, by location and designation.
    #[must_use]
    pub fn all(&self) -> Vec<DeviceDecision> {
        let order = self.order();
        order.into_par_iter().with_min_len(FEWEST_TOGETHER).filter_map(|id| self.one(id)).collect()
    }

    fn serving(&self, id: EnclosureId) -> Option<Serving<'a>> {
        let enclosure = self.assessor.survey.enclosures.get(id.index())?;
        let unknown = Settled { proof: ProofResult::Unknown, parts_may_stay: true };
        let settled = self.settled.get(id.index()).copied().unwrap_or(unknown);
        Some(Serving::new(self.assessor.network, enclosure, id, settled))
    }
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
fn ambiguous(network: &Network) -> HashSet<String, RandomState> {
    let mut seen = HashSet::with_hasher(RandomState::default());
    let keys = network.devices().iter().map(|device| spelling::key(&device.designation));
    keys.filter_map(|key| seen.replace(key)).collect()
}

/// Adds what one row says of a device.
fn gather(
    site: &Devices<'_>,
    serving: &Serving<'_>,
    row: u32,
    (id, device): (DeviceId, &Device),
    facts: &mut Gathered,
) {
    let Serving { enclosure, network, ways, .. } = serving;
    let Some((row, way)) = enclosure.rows.get(row as usize).zip(ways.get(row as usize)) else { return };
    let upstream = way.upstream.as_deref().map_or(&[][..], Isolated::devices);
    let naming = [way.isolated.devices(), upstream].into_iter().filter(|devices| devices.contains(&id));
    let is_own = |devices: &[DeviceId]| way.isolated.devices() == devices;
    // A device upstream that is the isolator of another row here feeds that row's circuit and not this one: a heater, the
    // battery that starts a set. Of several others it is not told which feeds what the circuit serves.
    let (is_of_another_row, is_untold) = serving.among_upstream(id, upstream);
    let naming = naming.filter(|devices| !is_of_another_row || is_own(devices));
    let stands_here = is_inside(&device.location, enclosure);
    for devices in naming {
        let parts_remain = serving.leaves_live(row, way, id, stands_here);
        let (also, others_remain) = serving.also(site, id, row, way, devices);
        let part = if is_own(devices) { None } else { part_upstream(network, (row, way), id, is_untold) };
        let is_whole = part.is_none() && (!is_untold || is_own(devices));
        facts.disconnects.push(Disconnects {
            circuit: part.unwrap_or(&row.circuit).to_owned(),
            is_part: part.is_some(),
            enclosure: enclosure.designation.clone(),
            serves: row.serves.as_deref().filter(|_| is_whole).map(str::to_owned),
            alone: serving.row_mates(id, devices).next().is_none(),
            also,
            first: serving.first(site, id),
            others_remain: others_remain || part.is_some(),
            parts_remain,
        });
    }
    facts.not_obvious |= enclosure.purpose_obvious.is_none();
    let first = row.further().before_isolating.as_ref().filter(|_| way.isolated.devices().contains(&id));
    facts.before.extend(first.filter(|first| !facts.before.contains(first)).cloned());
    if stands_here {
        facts.reading_distance = facts.reading_distance.max(enclosure.particulars().reading_distance);
    }
    if !(stands_here && is_ups(enclosure)) {
        facts.back_feed.extend(fed_ups(enclosure, row, way, network));
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
        device: device.designation.as_ref().to_owned(),
        location: device.location.as_ref().to_owned(),
        need: if reasons.len() > 1 { Outcome::Required } else { need },
        reasons,
        not_under_load: device.on_load.as_ref().is_some_and(|told| !told.value),
        before: facts.before,
        locking: device.locking.as_ref().map(|told| told.value.as_ref().to_owned()),
        source_point: facts.source_point,
        back_feed: facts.back_feed,
        disconnects: facts.disconnects,
        reading_distance: facts.reading_distance,
        own_notice: device.own_notice.clone(),
    }
}

fn reasons(device: &Device, facts: &Gathered) -> Vec<Reason> {
    let reason = |rule: Rule, outcome| Reason { rule, clause: rule.clause(), outcome };
    let identity = match (facts.not_obvious, device.location.is_empty()) {
        (false, _) => Outcome::Lifted,
        (true, true) => Outcome::Unknown,
        (true, false) => Outcome::Required,
    };
    let mut reasons = vec![reason(Rule::DeviceIdentity, identity)];
    reasons.extend(facts.source_point.is_some().then(|| reason(Rule::AlternativeSource, Outcome::Required)));
    reasons.extend((!facts.back_feed.is_empty()).then(|| reason(Rule::BackFeed, Outcome::Required)));
    reasons
}

impl DeviceDecision {
    /// The rules' answers with their reasons in words.
    #[must_use]
    pub fn explained(&self) -> Vec<Explained> {
        self.reasons.iter().map(|reason| Explained { reason: *reason, because: self.because(*reason) }).collect()
    }

    /// Why, for one of its reasons; each rule that bears on a device has one.
    fn because(&self, reason: Reason) -> String {
        let device = &self.device;
        match (reason.rule, reason.outcome) {
            (Rule::AlternativeSource, _) => {
                let sources = self.source_point.iter().flat_map(|point| &point.sources);
                let sources = list(sources.map(String::as_str));
                let is_all = self.source_point.as_ref().is_some_and(|point| point.others.is_empty());
                let has = if is_all { "several" } else { "other" };
                format!("{device} is a point of isolation of {sources}, and the installation has {has} sources")
            }
            (Rule::BackFeed, _) => {
                let upses = list(self.back_feed.iter().map(String::as_str));
                format!("{device} stands upstream of {upses}, which can feed back")
            }
            (_, Outcome::Lifted) => {
                format!("the purpose of {device} is declared obvious for every enclosure that it serves")
            }
            (_, Outcome::NotNeeded | Outcome::Advised | Outcome::Unknown | Outcome::Required) => {
                let mut circuits: Vec<_> = self.disconnects.iter().map(|one| one.circuit.as_str()).collect();
                circuits.dedup();
                format!("{device} disconnects {}", list(circuits))
            }
        }
    }
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
    fn a_device_upstream_with_a_row_of_its_own_claims_no_other_circuit() {
        let heater = format!("{},,", PLAIN.replace("C/1", "H/9").replace("Q1,Board C", "Q9,Board H"));
        let rows = [&*format!("{PLAIN},Q9,Board H"), &heater];
        let devices = devices("upstream_isolator,upstream_location", &rows);
        let of_heater = devices.iter().find(|device| device.device == "Q9").unwrap();
        let circuits: Vec<_> = of_heater.disconnects.iter().map(|one| (&*one.circuit, one.others_remain)).collect();
        assert_eq!(circuits, [("H/9", true)]);
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
