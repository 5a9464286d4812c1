//! Why an enclosure carries a notice, in one line with its designation, and what else must be known, one sentence each.

use super::Said;
use super::enclosure::EnclosureNotice;
use super::figure::figure;
use crate::rules::{Outcome, Rule, Statement};
use crate::survey::value::{Current, Volts};
use crate::wording::{Message, Wording, one_line};

impl EnclosureNotice<'_> {
    /// The strongest of the decision's statements. Where there is none, that what feeds the enclosure is not known, or only
    /// that it has live parts inside.
    pub(super) fn statement(&self) -> Said {
        let designation = self.designation();
        let enclosure = designation.as_str();
        match self.strongest_first().first() {
            Some(statement) => self.strongest(statement, enclosure),
            None if self.decision.need == Outcome::Unknown => self.wording.say(Message::FeedNotKnown { enclosure }),
            None => self.wording.say(Message::LivePartsInside { enclosure }),
        }
    }

    fn strongest_first(&self) -> Vec<&Statement> {
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
            Statement::UnexpectedVoltage => self.voltage(enclosure),
            Statement::AlternativeSource { sources } => self.sources(sources, enclosure),
            Statement::LiveAtAnyTime { solar: true, .. } => say(Message::SolarInside { enclosure }),
            Statement::LiveAtAnyTime { solar: false, .. } => say(Message::BatteryInside { enclosure }),
            Statement::LineSideLive { .. } => say(Message::PartsStayLive { enclosure }),
            Statement::BackFeed { .. } => say(Message::BackFeedAt { enclosure }),
            Statement::StartsByItself { source } => {
                let source = source_in_words(self.wording, source);
                self.wording.say_each(|language| Message::StartsAt { enclosure, source: text(&source, language) })
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
        let message = |language| Message::CircuitsStayLive { count, circuits: text(&circuits, language), enclosure };
        self.wording.say_each(message)
    }

    fn voltage(&self, enclosure: &str) -> Said {
        let voltages = self.decision.voltages.to_earth.iter();
        let figures: Vec<Said> = voltages.map(|voltage| figure(voltage, self.wording)).collect();
        if figures.is_empty() {
            return self.wording.say(Message::VoltageNotKnown { enclosure });
        }
        let voltages = self.wording.list(&figures);
        self.wording.say_each(|language| Message::VoltageToEarth { voltage: text(&voltages, language), enclosure })
    }

    fn sources(&self, sources: &[String], enclosure: &str) -> Said {
        if sources.len() < 2 {
            return self.wording.say(Message::SourcesPossible { enclosure });
        }
        let sources = listed_sources(self.wording, sources);
        self.wording.say_each(|language| Message::SourcesSupply { enclosure, sources: text(&sources, language) })
    }

    /// What the notice says beside its statement, the strongest first.
    pub(super) fn cautions(&self) -> Vec<Said> {
        let mut cautions = Vec::new();
        for (place, statement) in self.strongest_first().into_iter().enumerate() {
            self.caution(statement, place == 0, &mut cautions);
        }
        if self.decision.points.iter().any(|point| point.order.is_some()) && self.decision.points.len() > 1 {
            cautions.push(self.wording.say(Message::IsolateInOrder {}));
        }
        let mut said = Vec::with_capacity(cautions.len());
        for caution in cautions {
            if !said.contains(&caution) {
                said.push(caution);
            }
        }
        said
    }

    /// What a statement adds; the one that is already said above adds only its details.
    fn caution(&self, statement: &Statement, is_said: bool, cautions: &mut Vec<Said>) {
        let also = (!is_said).then_some(());
        cautions.extend(match statement {
            Statement::CannotBeIsolated { .. } | Statement::UnexpectedVoltage => None,
            Statement::SeveralSupplies { supplies } => also.map(|()| self.supplies_also(supplies)),
            Statement::SeveralIsolators => also.and_then(|()| self.isolators_also()),
            Statement::AlternativeSource { sources } => also.map(|()| isolate_sources(self.wording, sources)),
            Statement::LiveAtAnyTime { solar, .. } => Some(self.live_at_any_time(*solar)),
            Statement::LineSideLive { part, isolated_at } => Some(self.part_stays_live(part, isolated_at)),
            Statement::BackFeed { ups } => Some(back_feed(self.wording, ups)),
            Statement::StartsByItself { .. } if is_said => Some(self.wording.say(Message::InhibitStarting {})),
            Statement::StartsByItself { source } => {
                let source = source_in_words(self.wording, source);
                Some(self.wording.say_each(|language| Message::Starts { source: text(&source, language) }))
            }
            Statement::StoredCharge { .. } => Some(self.stored_charge()),
        });
    }

    fn supplies_also(&self, supplies: &[String]) -> Said {
        self.wording.say(match self.supplies(supplies) {
            Supplies::ExactlyTwo | Supplies::Several => Message::SeveralSuppliesAlso {},
            Supplies::Possibly => Message::SeveralSuppliesPossibleAlso {},
        })
    }

    /// Left out where several supplies say it already.
    fn isolators_also(&self) -> Option<Said> {
        let supplies = |statement: &Statement| matches!(statement, Statement::SeveralSupplies { .. });
        if self.decision.statements.iter().any(supplies) {
            return None;
        }
        Some(self.wording.say(match self.is_unknown(Rule::SeveralIsolators) {
            true => Message::SeveralIsolatorsPossibleAlso {},
            false => Message::SeveralIsolatorsAlso {},
        }))
    }

    /// All circuits of solar d.c., or all of a store inside, in one sentence.
    fn live_at_any_time(&self, solar: bool) -> Said {
        let circuits = self.circuits(|statement| {
            let Statement::LiveAtAnyTime { circuit, solar: kind } = statement else { return None };
            (*kind == solar).then_some(circuit)
        });
        let circuits = self.wording.list(&circuits);
        self.wording.say_each(|language| {
            let circuits = text(&circuits, language);
            if solar { Message::SolarStaysLive { circuits } } else { Message::BatteryStaysLive { circuits } }
        })
    }

    fn part_stays_live(&self, part: &str, isolated_at: &[(String, String)]) -> Said {
        let part = one_line(part);
        if isolated_at.is_empty() {
            return self.wording.say(Message::PartStaysLiveUnknown { part: &part });
        }
        let devices: Vec<Said> = isolated_at.iter().map(|(device, place)| self.device_at(device, place)).collect();
        let devices = self.wording.list(&devices);
        self.wording.say_each(|language| Message::PartStaysLive { part: &part, devices: text(&devices, language) })
    }

    fn device_at(&self, device: &str, place: &str) -> Said {
        let (device, place) = (one_line(device), one_line(place));
        if place.is_empty() {
            return self.wording.repeat(&device);
        }
        self.wording.say(Message::DeviceAtPlace { device: &device, place: &place })
    }

    /// One sentence for every charge inside: the highest voltage and the longest wait, and of neither more than is known of
    /// all of them.
    fn stored_charge(&self) -> Said {
        let charges = self.decision.statements.iter().filter_map(|statement| {
            let Statement::StoredCharge { volts, seconds } = statement else { return None };
            Some((*volts, *seconds))
        });
        let (volts, seconds): (Vec<Option<Volts>>, Vec<Option<u32>>) = charges.unzip();
        let highest =
            volts.into_iter().reduce(|one, other| one.zip(other).map(|(one, other)| one.max(other))).flatten();
        let longest =
            seconds.into_iter().reduce(|one, other| one.zip(other).map(|(one, other)| one.max(other))).flatten();
        let voltage = highest
            .map(|value| figure(&crate::rules::Voltage { value, current: Current::Dc, bound: false }, self.wording));
        let time = longest.map(|seconds| waiting_time(self.wording, seconds));
        self.wording.say_each(|language| match (&voltage, &time) {
            (Some(voltage), Some(time)) => {
                Message::ChargeWait { voltage: text(voltage, language), time: text(time, language) }
            }
            (None, Some(time)) => Message::ChargeWaitVoltageUnknown { time: text(time, language) },
            (Some(voltage), None) => Message::ChargeWaitUnknown { voltage: text(voltage, language) },
            (None, None) => Message::ChargeUnknown {},
        })
    }

    /// The circuits that some statements name, each once, as members of a list.
    fn circuits<'s>(&'s self, of: impl Fn(&'s Statement) -> Option<&'s String>) -> Vec<Said> {
        let mut circuits: Vec<Said> = Vec::new();
        for circuit in self.decision.statements.iter().filter_map(of) {
            let circuit = self.wording.repeat(circuit);
            if !circuits.contains(&circuit) {
                circuits.push(circuit);
            }
        }
        circuits
    }

    fn supplies(&self, supplies: &[String]) -> Supplies {
        if supplies.len() < 2 || self.is_unknown(Rule::SeveralSupplies) {
            return Supplies::Possibly;
        }
        let all_known = self.enclosure.rows.iter().all(|row| row.fed_from.is_some());
        if supplies.len() == 2 && all_known { Supplies::ExactlyTwo } else { Supplies::Several }
    }

    fn is_unknown(&self, rule: Rule) -> bool {
        self.decision.reasons.iter().any(|reason| reason.rule == rule && reason.outcome == Outcome::Unknown)
    }
}

/// How much is known of the supplies that meet.
enum Supplies {
    ExactlyTwo,
    Several,
    Possibly,
}

fn text(said: &Said, language: usize) -> &str {
    said.get(language).map_or("", String::as_str)
}

/// Times below a minute in seconds, longer ones in whole minutes, always rounded up.
fn waiting_time(wording: &Wording, seconds: u32) -> Said {
    wording.say(match seconds {
        ..60 => Message::Seconds { count: seconds.max(1) },
        60.. => Message::Minutes { count: seconds.div_ceil(60) },
    })
}

/// `Isolate both: mains and generator`
pub(super) fn isolate_sources(wording: &Wording, sources: &[String]) -> Said {
    if sources.len() < 2 {
        return wording.say(Message::SourcesPossibleAlso {});
    }
    let count = u32::try_from(sources.len()).unwrap_or(u32::MAX);
    let sources = listed_sources(wording, sources);
    wording.say_each(|language| Message::IsolateSources { count, sources: text(&sources, language) })
}

pub(super) fn back_feed(wording: &Wording, ups: &str) -> Said {
    wording.say(Message::BackFeed { ups: &one_line(ups) })
}

fn listed_sources(wording: &Wording, sources: &[String]) -> Said {
    let sources: Vec<Said> = sources.iter().map(|source| source_in_words(wording, source)).collect();
    wording.list(&sources)
}

/// The survey's own words for kinds of source in each language; a source with a name of its own keeps it.
fn source_in_words(wording: &Wording, source: &str) -> Said {
    wording.say(match source.trim() {
        "mains" => Message::SourceMains {},
        "generator" => Message::SourceGenerator {},
        "solar" => Message::SourceSolar {},
        "battery" => Message::SourceBattery {},
        "ups" => Message::SourceUps {},
        "vehicle" => Message::SourceVehicle {},
        named => return wording.repeat(named),
    })
}
