//! What else must be known beside the statement of a notice, one sentence each.

use super::Said;
use super::enclosure::EnclosureNotice;
use super::figure::figure;
use super::source::Sources;
use super::statement::{Supplies, source_in_words};
use crate::rules::sequence::Sequence;
use crate::rules::{Missing, Rule, Statement, Voltage};
use crate::survey::value::{Current, Volts};
use crate::wording::{Message, Wording, one_line};

/// Low voltage goes up to 1 000 V a.c. and 1 500 V d.c. (IEC 60038, BS 7671 part 2: from memory). Above, circuit earthing and
/// a permit belong to isolation, which a notice cannot tell (common practice).
fn is_high(voltage: &Voltage) -> bool {
    let limit = match voltage.current {
        Current::Ac => Volts::whole(1_000),
        Current::Dc => Volts::whole(1_500),
    };
    voltage.value > limit
}

impl EnclosureNotice<'_> {
    /// What the notice says beside its statement, the strongest first.
    pub(super) fn cautions(&self) -> Vec<Said> {
        let mut cautions = Vec::new();
        let voltages = &self.decision.voltages;
        if voltages.to_earth.iter().chain(&voltages.between).any(is_high) {
            cautions.push(self.wording.say(Message::HighVoltage {}));
        }
        for (place, statement) in self.strongest_first().into_iter().enumerate() {
            self.caution(statement, place == 0, &mut cautions);
        }
        if Sequence::of(&self.decision.points) == Sequence::Whole {
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
        let caution = match statement {
            Statement::CannotBeIsolated { .. } | Statement::UnexpectedVoltage | Statement::IsolatorsLeaveParts => None,
            Statement::SeveralSupplies { supplies } => also.map(|()| self.supplies_also(supplies)),
            Statement::SeveralIsolators => also.and_then(|()| self.isolators_also()),
            Statement::AlternativeSource { scope, sources, others, more_possible } => {
                let of = Sources { scope: *scope, sources, others, more_possible: *more_possible };
                cautions.extend(self.sources_also(of, is_said));
                None
            }
            Statement::LiveAtAnyTime { solar, .. } => Some(self.live_at_any_time(*solar)),
            Statement::LineSideLive { part, isolated_at, missing } => {
                Some(self.part_stays_live(part, isolated_at, *missing))
            }
            Statement::BackFeed { ups } => Some(back_feed(self.wording, ups)),
            Statement::StartsByItself { .. } if is_said => Some(self.wording.say(Message::InhibitStarting {})),
            Statement::StartsByItself { source } => {
                let source = source_in_words(self.wording, source);
                Some(self.wording.say_each(|language| Message::Starts { source: source.in_language(language) }))
            }
            Statement::StoredCharge { .. } => Some(self.stored_charge()),
        };
        cautions.extend(caution);
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
            let circuits = circuits.in_language(language);
            if solar { Message::SolarStaysLive { circuits } } else { Message::BatteryStaysLive { circuits } }
        })
    }

    fn part_stays_live(&self, part: &str, isolated_at: &[(String, String)], missing: Option<Missing>) -> Said {
        let part = one_line(part);
        if part.is_empty() {
            return self.wording.say(Message::PartMayStayLive {});
        }
        if missing == Some(Missing::CannotBeIsolated) {
            return self.wording.say(Message::PartCannotBeIsolated { part: &part });
        }
        if isolated_at.is_empty() {
            return self.wording.say(Message::PartStaysLiveUnknown { part: &part });
        }
        let devices: Vec<Said> = isolated_at.iter().map(|(device, place)| self.device_at(device, place)).collect();
        let devices = self.wording.list(&devices);
        self.wording.say_each(|language| Message::PartStaysLive { part: &part, devices: devices.in_language(language) })
    }

    pub(super) fn device_at(&self, device: &str, place: &str) -> Said {
        let (device, place) = (one_line(device), one_line(place));
        if place.is_empty() {
            return self.wording.repeat(&device);
        }
        self.wording.say(Message::DeviceAtPlace { device: &device, place: &place })
    }

    /// One sentence for every charge inside: the highest voltage and the longest wait, and of neither more than is
    /// known of all of them.
    fn stored_charge(&self) -> Said {
        let charges = self.decision.statements.iter().filter_map(|statement| {
            let Statement::StoredCharge { volts, seconds } = statement else { return None };
            Some((*volts, *seconds))
        });
        let (volts, seconds): (Vec<Option<Volts>>, Vec<Option<u32>>) = charges.unzip();
        let voltage = highest(volts).map(|value| Voltage { value, current: Current::Dc, bound: false });
        let voltage = voltage.map(|voltage| figure(&voltage, self.wording));
        let time = highest(seconds).map(|seconds| waiting_time(self.wording, seconds));
        self.wording.say_each(|language| match (&voltage, &time) {
            (Some(voltage), Some(time)) => {
                Message::ChargeWait { voltage: voltage.in_language(language), time: time.in_language(language) }
            }
            (None, Some(time)) => Message::ChargeWaitVoltageUnknown { time: time.in_language(language) },
            (Some(voltage), None) => Message::ChargeWaitUnknown { voltage: voltage.in_language(language) },
            (None, None) => Message::ChargeUnknown {},
        })
    }
}

/// The highest of several values, if all of them are known.
fn highest<T: Ord>(values: Vec<Option<T>>) -> Option<T> {
    values.into_iter().collect::<Option<Vec<T>>>()?.into_iter().max()
}

/// Times below a minute in seconds, longer ones in whole minutes, always rounded up.
fn waiting_time(wording: &Wording, seconds: u32) -> Said {
    wording.say(match seconds {
        ..60 => Message::Seconds { count: seconds.max(1) },
        60.. => Message::Minutes { count: seconds.div_ceil(60) },
    })
}

pub(super) fn back_feed(wording: &Wording, ups: &str) -> Said {
    wording.say(Message::BackFeed { ups: &one_line(ups) })
}
