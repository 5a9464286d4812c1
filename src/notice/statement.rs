//! Why an enclosure carries a notice, in one line with its designation.

use super::Said;
use super::enclosure::EnclosureNotice;
use super::figure::figure;
use super::source::Sources;
use crate::network::spelling::{self, Incoming};
use crate::rules::{Outcome, PointOfIsolation, Rule, Statement};
use crate::survey::Row;
use crate::wording::{Message, Wording, one_line};

/// So many isolators are named that leave parts live; of more it is said that they do.
const MOST_LEAVING: usize = 2;

impl EnclosureNotice<'_> {
    /// The strongest of the decision's statements. Where there is none, that what feeds the enclosure is not known, or
    /// only that it has live parts inside.
    pub(super) fn statement(&self) -> Said {
        let designation = self.designation();
        let enclosure = designation.as_str();
        match self.strongest_first().first() {
            Some(statement) => self.strongest(statement, enclosure),
            None if self.decision.need == Outcome::Unknown => self.wording.say(Message::FeedNotKnown { enclosure }),
            None => self.wording.say(Message::LivePartsInside { enclosure }),
        }
    }

    pub(super) fn strongest_first(&self) -> Vec<&Statement> {
        let mut statements: Vec<&Statement> = self.decision.statements.iter().collect();
        statements.sort();
        statements
    }

    fn strongest(&self, statement: &Statement, enclosure: &str) -> Said {
        let say = |message| self.wording.say(message);
        match statement {
            Statement::CannotBeIsolated { .. } => self.stays_live(enclosure),
            Statement::SeveralSupplies { supplies } => match self.supplies(supplies) {
                Supplies::ExactlyTwo => say(Message::TwoSupplies { enclosure }),
                Supplies::Several => say(Message::SeveralSupplies { enclosure }),
                Supplies::Possibly => say(Message::SeveralSuppliesPossible { enclosure }),
            },
            Statement::SeveralIsolators if self.is_unknown(Rule::SeveralIsolators) => {
                say(Message::SeveralIsolatorsPossible { enclosure })
            }
            Statement::SeveralIsolators => say(Message::SeveralIsolators { enclosure }),
            Statement::IsolatorsLeaveParts => self.leave_parts(enclosure),
            Statement::UnexpectedVoltage => self.voltage(enclosure),
            Statement::AlternativeSource { scope, sources, others, more_possible } => {
                let of = Sources { scope: *scope, sources, others, more_possible: *more_possible };
                self.sources(of, enclosure)
            }
            Statement::LiveAtAnyTime { solar: true, .. } => say(Message::SolarInside { enclosure }),
            Statement::LiveAtAnyTime { solar: false, .. } => say(Message::BatteryInside { enclosure }),
            Statement::LineSideLive { part, .. } if part.is_empty() => say(Message::PartsMayStayLive { enclosure }),
            Statement::LineSideLive { .. } => say(Message::PartsStayLive { enclosure }),
            Statement::BackFeed { .. } => say(Message::BackFeedAt { enclosure }),
            Statement::StartsByItself { source } => {
                let source = source_in_words(self.wording, source);
                self.wording.say_each(|language| Message::StartsAt { enclosure, source: source.in_language(language) })
            }
            Statement::StoredCharge { .. } => say(Message::ChargeInside { enclosure }),
        }
    }

    /// Every circuit that cannot be isolated, in one sentence.
    fn stays_live(&self, enclosure: &str) -> Said {
        let circuits =
            self.circuits(
                |statement| {
                    if let Statement::CannotBeIsolated { circuit } = statement { Some(circuit) } else { None }
                },
            );
        let count = u32::try_from(circuits.len()).unwrap_or(u32::MAX);
        let circuits = self.wording.list(&circuits);
        let message =
            |language| Message::CircuitsStayLive { count, circuits: circuits.in_language(language), enclosure };
        self.wording.say_each(message)
    }

    /// That the isolators listed do not isolate it by themselves.
    fn leave_parts(&self, enclosure: &str) -> Said {
        let mut devices: Vec<Said> = Vec::new();
        for point in &self.decision.points {
            let device = self.wording.repeat(&one_line(&point.device));
            devices.extend((!devices.contains(&device)).then_some(device));
        }
        // A device that bears the name of the enclosure would not isolate itself; of one that bears the name of what isolates
        // the parts it would be said that it both does and does not.
        let upstream = self.decision.statements.iter().flat_map(|statement| {
            if let Statement::LineSideLive { isolated_at, .. } = statement { isolated_at.as_slice() } else { &[] }
        });
        let others: Vec<String> = upstream.map(|(device, _)| spelling::key(device)).collect();
        let is_taken = |point: &PointOfIsolation| {
            let name = spelling::key(&point.device);
            name == spelling::key(enclosure) || others.contains(&name)
        };
        if devices.len() > MOST_LEAVING || self.decision.points.iter().any(is_taken) {
            return self.wording.say(Message::PartsStayLive { enclosure });
        }
        let count = u32::try_from(devices.len()).unwrap_or(u32::MAX);
        let devices = self.wording.list(&devices);
        let message =
            |language| Message::IsolatorsLeaveParts { count, devices: devices.in_language(language), enclosure };
        self.wording.say_each(message)
    }

    fn voltage(&self, enclosure: &str) -> Said {
        let voltages = self.decision.voltages.to_earth.iter();
        let figures: Vec<Said> = voltages.map(|voltage| figure(voltage, self.wording)).collect();
        let says_none = |row: &Row| row.voltage_to_earth.is_none() && row.nominal.is_none();
        if figures.is_empty() || self.enclosure.rows.iter().any(says_none) {
            return self.wording.say(Message::VoltageNotKnown { enclosure });
        }
        let voltages = self.wording.list(&figures);
        self.wording.say_each(|language| Message::VoltageToEarth { voltage: voltages.in_language(language), enclosure })
    }

    /// The circuits that some statements name, each once, as members of a list.
    pub(super) fn circuits<'s>(&'s self, of: impl Fn(&'s Statement) -> Option<&'s String>) -> Vec<Said> {
        let mut circuits: Vec<Said> = Vec::new();
        for circuit in self.decision.statements.iter().filter_map(of) {
            let circuit = self.wording.repeat(circuit);
            if !circuits.contains(&circuit) {
                circuits.push(circuit);
            }
        }
        circuits
    }

    pub(super) fn supplies(&self, supplies: &[String]) -> Supplies {
        if supplies.len() < 2 || self.is_unknown(Rule::SeveralSupplies) {
            return Supplies::Possibly;
        }
        let all_known = self.enclosure.rows.iter().all(|row| row.fed_from.is_some());
        if supplies.len() == 2 && all_known && !self.is_fed_otherwise() {
            Supplies::ExactlyTwo
        } else {
            Supplies::Several
        }
    }

    /// Whether a part stays live that is not the incoming terminals of an isolator listed: what feeds it may be a further
    /// supply.
    fn is_fed_otherwise(&self) -> bool {
        let own = || self.decision.points.iter().map(|point| point.device.as_str());
        self.decision.statements.iter().any(|statement| {
            let Statement::LineSideLive { part, .. } = statement else { return false };
            spelling::incoming_terminals(part, own()) != Incoming::All
        })
    }

    pub(super) fn is_unknown(&self, rule: Rule) -> bool {
        self.decision.reasons.iter().any(|reason| reason.rule == rule && reason.outcome == Outcome::Unknown)
    }
}

/// How much is known of the supplies that meet.
pub(super) enum Supplies {
    ExactlyTwo,
    Several,
    Possibly,
}

pub(super) fn listed_sources(wording: &Wording, sources: &[String]) -> Said {
    let sources: Vec<Said> = sources.iter().map(|source| source_in_words(wording, source)).collect();
    wording.list(&sources)
}

/// The survey's own words for kinds of source in each language; a source with a name of its own keeps it.
pub(super) fn source_in_words(wording: &Wording, source: &str) -> Said {
    wording.say(match source.trim() {
        "mains" => Message::SourceMains {},
        "generator" => Message::SourceGenerator {},
        "solar" => Message::SourceSolar {},
        "battery" => Message::SourceBattery {},
        "ups" => Message::SourceUps {},
        "vehicle" => Message::SourceVehicle {},
        "" => Message::SourceNotKnown {},
        named => return wording.repeat(named),
    })
}
