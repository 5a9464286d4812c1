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
//! further devices, and says that other supplies may remain unless no path was found with all of that open.
//!
//! Example: Q7 disconnects circuit DB-C/7 to CH3-JB2; other supplies of CH3-JB2 remain.

use std::collections::{HashMap, HashSet};
use std::sync::OnceLock;

use foldhash::fast::RandomState;
use rayon::prelude::*;

use super::assessor::Assessor;
use super::back_feed::{fed_ups, is_ups};
use super::case::{is_inside, said_to_stay_live};
use super::decision::{Decision, DeviceDecision, Disconnects, Explained, Outcome, Reason, SourcePoint};
use super::index::handle;
use super::met::Met;
use super::phrases::list;
use super::rows_of_devices::RowsOfDevices;
use super::several_isolators::are_apart;
use super::source_points;
use super::statement::Statement;
use super::{FEWEST_TOGETHER, Rule};
use crate::length::Length;
use crate::network::{DescribedBy, Device, DeviceId, EnclosureId, Isolated, Network, ProofResult, Way, spelling};
use crate::survey::value::InterlockKind;
use crate::survey::{Column, Enclosure, Row};

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
    /// Of which source each device is a point of isolation, by its number.
    points: Vec<Option<SourcePoint>>,
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
        let source_point = self.points.get(id.index()).cloned().flatten();
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

/// One enclosure, and which devices alone disconnect which of its rows.
struct Serving<'a> {
    enclosure: &'a Enclosure,
    network: &'a Network,
    ways: &'a [Way],
    settled: Settled,
    /// Every device that the rows name as their isolator, each once, in their order; left empty without a supplies file.
    listed: Vec<DeviceId>,
    /// For each row that one device alone disconnects, that device; sorted.
    alone: Vec<DeviceId>,
    one_handle: bool,
    /// The devices of rows with a number in the sequence, each once with the first of its numbers.
    orders: Vec<(DeviceId, u16)>,
    /// The isolators of all rows, sorted; left empty where no row names a device upstream.
    isolators: Vec<DeviceId>,
}

impl<'a> Serving<'a> {
    fn new(network: &'a Network, enclosure: &'a Enclosure, id: EnclosureId, settled: Settled) -> Self {
        let ways = network.ways(id);
        let mut seen = Met::default();
        let listed = ways.iter().filter(|_| network.is_described()).flat_map(|way| way.isolated.devices()).copied();
        let listed = listed.filter(|device| seen.is_new(*device)).collect();
        let (one_handle, orders) = (has_one_handle(network, ways), orders(enclosure, ways));
        let are_wanted = ways.iter().any(|way| way.upstream.is_some());
        let mut isolators: Vec<DeviceId> =
            ways.iter().filter(|_| are_wanted).flat_map(|way| way.isolated.devices()).copied().collect();
        isolators.sort_unstable();
        let mut alone: Vec<_> = Vec::with_capacity(ways.len());
        ways.iter().for_each(|way| alone.extend(sole_devices(way, &isolators)));
        alone.sort_unstable();
        Self { enclosure, network, ways, settled, listed, alone, one_handle, orders, isolators }
    }

    /// Whether a part of this row may stay live inside with a device open that stands there or elsewhere.
    fn leaves_live(&self, row: &Row, way: &Way, device: DeviceId, stands_here: bool) -> bool {
        let is_own = way.isolated.devices().contains(&device);
        let may_stay = said_to_stay_live(row).is_some() || row.not_known.contains(Column::LiveAfter);
        is_own && (may_stay || stands_here || self.settled.parts_may_stay)
    }

    /// What must be opened beside a device, and whether other supplies remain with all of that open.
    ///
    /// The supplies file can tell that what the enclosure lists leaves no path; then all of that is named, if it is
    /// little enough for a notice. Without it, only the further devices of the row are.
    fn also(&self, site: &Devices<'_>, device: DeviceId, way: &Way, devices: &[DeviceId]) -> (Vec<String>, bool) {
        let mut also: Vec<DeviceId> = self.row_mates(device, devices).collect();
        let is_own = way.isolated.devices().contains(&device);
        if !self.network.is_described() || !is_own {
            // Of a device upstream that the supplies file does not have it cannot be told what it parts.
            let is_in_doubt = self.network.is_described() && !self.is_described(device);
            return (self.names(site, device, &also), is_in_doubt || self.others_remain(device, way));
        }
        let further = self.listed.iter().filter(|other| !devices.contains(other) && !self.opens_with(device, **other));
        let further: Vec<DeviceId> = further.copied().take(MOST_ALSO + 1).collect();
        let rows = site.rows.isolated(device);
        let are_named = also.len() + further.len() <= MOST_ALSO && (rows <= MOST_ROWS || further.is_empty());
        if are_named {
            also.extend(further);
        }
        (self.names(site, device, &also), !are_named || self.settled.proof != ProofResult::NoPathFound)
    }

    /// What is opened before a device by the numbers of the rows, in their order; of more than a notice names, those with the
    /// next lower number, whose own notices name what comes before them.
    fn first(&self, site: &Devices<'_>, device: DeviceId) -> Vec<String> {
        let own = self.orders.iter().find(|(other, _)| *other == device).map(|(_, order)| *order);
        let lower = self.orders.iter().filter(|(_, order)| own.is_some_and(|own| *order < own));
        let mut lower: Vec<(DeviceId, u16)> = lower.copied().collect();
        lower.sort_by_key(|(_, order)| *order);
        let next = lower.last().map(|(_, order)| *order);
        if lower.len() > MOST_ALSO {
            lower.retain(|(_, order)| Some(*order) == next);
        }
        self.names(site, device, &lower.into_iter().map(|(other, _)| other).collect::<Vec<_>>())
    }

    /// Of a device upstream, whether it is the isolator of a row here; and whether more than one of them is none.
    fn among_upstream(&self, device: DeviceId, upstream: &[DeviceId]) -> (bool, bool) {
        let is_isolator = |device: &DeviceId| self.isolators.binary_search(device).is_ok();
        let others = upstream.iter().filter(|device| !is_isolator(device)).count();
        (upstream.contains(&device) && is_isolator(&device), others > 1)
    }

    fn is_described(&self, device: DeviceId) -> bool {
        let node = self.network.device_node(device).and_then(|node| self.network.graph().node(node));
        node.is_some_and(|node| node.described_by() == DescribedBy::SuppliesFile)
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
    fn names(&self, site: &Devices<'_>, device: DeviceId, others: &[DeviceId]) -> Vec<String> {
        let ambiguous = || site.ambiguous.get_or_init(|| ambiguous(self.network));
        let needs_place = |other: &Device| ambiguous().contains(&spelling::key(&other.designation));
        let others = others.iter().filter(|other| **other != device).filter_map(|other| self.network.device(*other));
        others
            .map(|other| if needs_place(other) { other.phrase() } else { other.designation.as_ref().to_owned() })
            .collect()
    }

    /// Whether other rows than this one remain with the device open.
    fn others_remain(&self, device: DeviceId, way: &Way) -> bool {
        if self.one_handle {
            return false;
        }
        let start = self.alone.partition_point(|other| *other < device);
        let end = self.alone.partition_point(|other| *other <= device);
        let itself_remains = usize::from(!sole_devices(way, &self.isolators).any(|other| other == device));
        self.ways.len() > end - start + itself_remains
    }
}

fn orders(enclosure: &Enclosure, ways: &[Way]) -> Vec<(DeviceId, u16)> {
    let mut orders: Vec<(DeviceId, u16)> = Vec::new();
    let mut seen: Met<DeviceId> = Met::default();
    for (row, way) in enclosure.rows.iter().zip(ways) {
        let Some(order) = row.order else { continue };
        let new = way.isolated.devices().iter().filter(|device| seen.is_new(**device));
        orders.extend(new.map(|device| (*device, order)));
    }
    orders
}

/// A notice names at most so many further devices for one circuit; of more it says that other supplies may remain.
const MOST_ALSO: usize = 4;

/// The notice of a device that isolates more rows than this names for none of them what else its enclosure lists: it would
/// be larger than any that is fixed at a device.
const MOST_ROWS: usize = 8;

/// The devices each of which alone disconnects a row: its only isolator, its only device upstream, unless that is one of the
/// isolators of the rows beside it, which feeds another circuit; each once.
fn sole_devices(way: &Way, isolators: &[DeviceId]) -> impl Iterator<Item = DeviceId> {
    let sole = |isolated: &Isolated| match isolated.devices() {
        [only] => Some(*only),
        [] | [_, _, ..] => None,
    };
    let own = sole(&way.isolated);
    let is_other = |device: &DeviceId| Some(*device) != own && isolators.binary_search(device).is_err();
    let upstream = way.upstream.as_deref().and_then(sole).filter(is_other);
    own.into_iter().chain(upstream)
}

/// Whether one handle opens every row.
fn has_one_handle(network: &Network, ways: &[Way]) -> bool {
    let Some(first) = ways.first().and_then(|way| way.interlock) else { return false };
    let coupled = network.interlock(first).is_some_and(|it| it.kind == Some(InterlockKind::Coupled));
    let isolated = |way: &Way| matches!(way.isolated, Isolated::By(_)) && way.interlock == Some(first);
    let devices = || ways.iter().flat_map(|way| way.isolated.devices()).copied().collect::<Vec<_>>();
    coupled && ways.iter().all(isolated) && !are_apart(network, &devices())
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
        let (also, others_remain) = serving.also(site, id, way, devices);
        facts.disconnects.push(Disconnects {
            circuit: row.circuit.to_string(),
            enclosure: enclosure.designation.clone(),
            serves: row.serves.as_deref().filter(|_| !is_untold || is_own(devices)).map(str::to_owned),
            alone: serving.row_mates(id, devices).next().is_none(),
            also,
            first: serving.first(site, id),
            others_remain,
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
