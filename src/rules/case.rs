//! One enclosure as the rules see it: its rows, its ways, and what holds for the whole installation.

use super::because::{Because, Telling};
use super::clause::Clause;
use super::decision::Outcome;
use super::installation::Installation;
use super::phrases::{circuits, list};
use super::statement::Statement;
use super::{Rule, RuleOptions};
use crate::finding::{Code, Finding, code};
use crate::network::device::AtRow;
use crate::network::lines::Lines;
use crate::network::upstream::said_to_stay_live;
use crate::network::{
    Device, DeviceId, EnclosureId, Gap, Interlock, Isolated, Nature, Network, NodeId, Proof, Said, SourceId, Way,
    WayId, spelling,
};
use crate::survey::value::{Basis, InterlockKind};
use crate::survey::{Column, Enclosure, Row, Survey};

/// What one rule answers.
pub(super) struct Answer {
    pub(super) outcome: Outcome,
    pub(super) because: Because,
    pub(super) statements: Vec<Statement>,
    /// Another clause than the rule's own.
    pub(super) clause: Option<Option<&'static Clause>>,
}

impl Answer {
    pub(super) fn new(outcome: Outcome, because: impl Into<Because>) -> Self {
        Self { outcome, because: because.into(), statements: Vec::new(), clause: None }
    }

    pub(super) fn not_needed(because: impl Into<Because>) -> Self {
        Self::new(Outcome::NotNeeded, because)
    }

    pub(super) fn unknown(because: impl Into<Because>) -> Self {
        Self::new(Outcome::Unknown, because)
    }

    pub(super) fn required(because: impl Into<Because>) -> Self {
        Self::new(Outcome::Required, because)
    }

    pub(super) fn says(mut self, statements: impl IntoIterator<Item = Statement>) -> Self {
        let statements = statements.into_iter();
        if self.statements.is_empty() {
            self.statements = statements.collect();
        } else {
            self.statements.extend(statements);
        }
        self
    }

    pub(super) fn under(mut self, clause: Option<&'static Clause>) -> Self {
        self.clause = Some(clause);
        self
    }
}

/// One enclosure with all that bears on it.
pub(super) struct Case<'a> {
    pub(super) survey: &'a Survey,
    pub(super) network: &'a Network,
    pub(super) id: EnclosureId,
    pub(super) enclosure: &'a Enclosure,
    pub(super) ways: &'a [Way],
    pub(super) installation: &'a Installation,
    pub(super) options: RuleOptions,
    /// Whether somebody will read why.
    pub(super) telling: Telling,
    /// Whether energy still reaches it with everything opened that is declared.
    pub(super) proof: Proof,
    /// The nodes of all devices that its rows name as their isolators, sorted; left empty without a supplies file.
    listed: Vec<NodeId>,
    /// The isolators that stand in the enclosure itself.
    inside: Vec<DeviceId>,
    /// The lines of all rows that one device alone isolates, by device.
    lines: Vec<(DeviceId, LinesHere)>,
}

/// The lines of all rows of an enclosure that one device alone isolates.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct LinesHere {
    /// Those that the rows name.
    pub(super) named: Lines,
    /// How many rows have one and do not say which.
    pub(super) unnamed: u8,
}

impl<'a> Case<'a> {
    pub(super) fn new(
        survey: &'a Survey,
        network: &'a Network,
        id: EnclosureId,
        enclosure: &'a Enclosure,
        installation: &'a Installation,
        options: RuleOptions,
        telling: Telling,
    ) -> Self {
        let ways = network.ways(id);
        let mut inside: Vec<_> = ways.iter().flat_map(|way| way.isolated.devices()).copied().collect();
        inside.sort_unstable();
        inside.dedup();
        let listed = inside.iter().filter(|_| network.is_described()).filter_map(|id| network.device_node(*id));
        let mut listed: Vec<_> = listed.collect();
        listed.sort_unstable();
        // The box of a switch bears the name of the switch, wherever it is said to be. Where a row says that its circuit
        // cannot be isolated, that is what arrives at the switch.
        let is_told = ways.iter().any(|way| way.isolated == Isolated::Impossible);
        let is_own =
            |device: &Device| !is_told && spelling::key(&device.designation) == spelling::key(&enclosure.designation);
        inside.retain(|device| {
            network.device(*device).is_some_and(|it| is_inside(&it.location, enclosure) || is_own(it))
        });
        let lines = lines_by_device(network, id);
        let proof = if network.is_described() { network.proof(id) } else { Proof::unknown() };
        Self { survey, network, id, enclosure, ways, installation, options, telling, proof, listed, inside, lines }
    }

    /// The lines that a device must part over all rows of its own system that name it alone.
    pub(super) fn lines_of(&self, device: DeviceId) -> LinesHere {
        let place = self.lines.binary_search_by_key(&device, |(device, _)| *device);
        place.ok().and_then(|place| self.lines.get(place)).map_or_else(LinesHere::default, |(_, lines)| *lines)
    }

    /// Why a rule answers as it does, where somebody will read it.
    pub(super) fn because(&self, words: impl FnOnce() -> String) -> Because {
        self.telling.because(words)
    }

    pub(super) fn designation(&self) -> &'a str {
        &self.enclosure.designation
    }

    /// Every row with its way.
    pub(super) fn rows(&self) -> impl Iterator<Item = (&'a Row, &'a Way)> + use<'a> {
        self.enclosure.rows.iter().zip(self.ways)
    }

    /// Every row with its way and the number of that.
    pub(super) fn numbered_rows(&self) -> impl Iterator<Item = (WayId, &'a Row, &'a Way)> + use<'a> {
        self.network.way_ids(self.id).zip(self.rows()).map(|(id, (row, way))| (id, row, way))
    }

    /// The row of one of its ways.
    pub(super) fn row_of(&self, way: WayId) -> Option<(&'a Row, &'a Way)> {
        let first = self.network.way_ids(self.id).next()?;
        let place = way.index().checked_sub(first.index())?;
        self.enclosure.rows.get(place).zip(self.ways.get(place))
    }

    /// Whether its rows name the device of a node as their isolator.
    pub(super) fn lists(&self, node: NodeId) -> bool {
        self.listed.binary_search(&node).is_ok()
    }

    pub(super) fn said(&self, row: &Row) -> Said {
        Said { enclosure: self.id, record: row.record }
    }

    /// A finding at a cell of one row.
    pub(super) fn finding(&self, code: Code, message: impl Into<String>, row: &Row, column: Column) -> Finding {
        Finding::new(code, message).at_row(self.survey, self.said(row), column)
    }

    /// The nature of the source of a way; `None` where the survey does not say.
    pub(super) fn nature(&self, way: &Way) -> Option<Nature> {
        self.network.nature(way)
    }

    pub(super) fn device_name(&self, id: DeviceId) -> &'a str {
        self.network.device(id).map_or("", |device| &*device.designation)
    }

    /// A source in a word of the survey.
    pub(super) fn source_word(&self, id: SourceId) -> &'a str {
        self.network.source(id).map_or("", |source| source.word())
    }

    pub(super) fn is_inside(&self, device: DeviceId) -> bool {
        self.inside.binary_search(&device).is_ok()
    }

    /// What stays live in the enclosure with the isolators of a row off; `None` where nothing is said to.
    pub(super) fn stays_live(&self, row: &Row, way: &Way) -> Option<String> {
        let said = said_to_stay_live(row);
        let names =
            way.isolated.devices().iter().filter(|device| self.is_inside(**device)).map(|it| self.device_name(*it));
        let unsaid: Vec<&str> = names.filter(|name| !said.is_some_and(|said| spelling::names(said, name))).collect();
        let terminals = (!unsaid.is_empty()).then(|| format!("incoming terminals of {}", list(unsaid)));
        match (said, terminals) {
            (Some(said), Some(terminals)) => Some(format!("{said}; {terminals}")),
            (said, terminals) => said.map(str::to_owned).or(terminals),
        }
    }

    /// A row that says it is not known what stays live.
    pub(super) fn may_stay_live(&self) -> Option<&'a Row> {
        self.enclosure.rows.iter().find(|row| row.not_known.contains(Column::LiveAfter))
    }

    /// The interlock that covers every row.
    pub(super) fn covering_interlock(&self) -> Option<&'a Interlock> {
        let first = self.ways.first()?.interlock?;
        let everywhere = self.ways.iter().all(|way| way.interlock == Some(first));
        everywhere.then(|| self.network.interlock(first)).flatten()
    }

    /// Something that a row would make unnecessary is only unknown, where the row is assumed, or says that nobody knows how
    /// it is known or, of what isolates, which kind of device that is.
    pub(super) fn unless_assumed(&self, rule: Rule, answer: Answer) -> Answer {
        if answer.outcome > Outcome::Lifted {
            return answer;
        }
        let assumed = || self.enclosure.rows.iter().filter(|row| row.basis == Some(Basis::Assumed));
        let baseless = || self.enclosure.rows.iter().filter(|row| row.not_known.contains(Column::Basis));
        let unclear = || self.rows().filter(|(row, way)| rule == Rule::SeveralIsolators && self.is_kind_open(row, way));
        let names = |row: &'a Row| &*row.circuit;
        let because = if assumed().next().is_some() {
            self.because(|| format!("{} only assumed, which proves nothing", circuits(assumed().map(names))))
        } else if baseless().next().is_some() {
            self.because(|| format!("{} of unknown basis, which proves nothing", circuits(baseless().map(names))))
        } else if unclear().next().is_some() {
            let rows = || circuits(unclear().map(|(row, _)| names(row)));
            self.because(|| format!("{} isolated by a device of which nobody knows the kind", rows()))
        } else {
            return answer;
        };
        let because = self.because(|| format!("{}; otherwise {}", because.words(), answer.because.words()));
        Answer { outcome: Outcome::Unknown, because, statements: Vec::new(), clause: answer.clause }
    }

    /// Whether a row says that nobody knows what kind of device isolates it, and nothing else says so: a contactor does not.
    fn is_kind_open(&self, row: &Row, way: &Way) -> bool {
        let is_open = |device: &DeviceId| self.network.device(*device).is_some_and(|device| device.kind.is_none());
        row.not_known.contains(Column::DeviceKind) && way.isolated.devices().iter().any(is_open)
    }

    /// What the isolators or an interlock would make unnecessary stands where the network shows a path, a UPS or converter
    /// that may feed back, or an output that is not proved, with all of them open.
    pub(super) fn unless_live(&self, rule: Rule, answer: Answer) -> Answer {
        let is_lifted = match rule {
            Rule::SeveralIsolators => answer.outcome <= Outcome::Lifted,
            Rule::SeveralSupplies => answer.outcome == Outcome::Lifted,
            Rule::UnexpectedVoltage
            | Rule::AlternativeSource
            | Rule::StoredCharge
            | Rule::LineSideLive
            | Rule::LiveAtAnyTime
            | Rule::BackFeed
            | Rule::StartsByItself
            | Rule::DeviceIdentity
            | Rule::StandingPeriodicInspection
            | Rule::StandingRcdTest
            | Rule::StandingEarthingConnection
            | Rule::StandingEarthFreeLocation
            | Rule::StandingSurgeProtection
            | Rule::StandingFirefightersSwitch
            | Rule::StandingMixedColours => false,
        };
        // A path that is found settles what the rows alone left open.
        let is_open = rule == Rule::SeveralIsolators && answer.outcome == Outcome::Unknown;
        if !(is_lifted || is_open) || !self.network.is_described() {
            return answer;
        }
        if let Some(path) = self.proof.paths.first() {
            let because = self.because(|| {
                let path = self.network.path_in_words(self.survey, path);
                format!("with everything listed open a live path remains: {path}")
            });
            return Answer { outcome: Outcome::Required, because, ..answer };
        }
        let may_be_live = |gap: &&Gap| {
            matches!(
                gap,
                Gap::OutputNotProved(_) | Gap::BackFeed(..) | Gap::AcrossNotSaid(..) | Gap::SwitchedNotSaid(..)
            )
        };
        match self.proof.gaps.iter().filter(may_be_live).find(|_| is_lifted) {
            Some(gap) => {
                let because = self
                    .because(|| format!("with everything listed open {}", self.network.gap_in_words(self.survey, gap)));
                Answer { outcome: Outcome::Unknown, because, ..answer }
            }
            None => answer,
        }
    }

    /// A statement for every circuit that cannot be isolated.
    pub(super) fn impossible_statements(&self) -> Vec<Statement> {
        let impossible = self.rows().filter(|(_, way)| way.isolated == Isolated::Impossible);
        impossible.map(|(row, _)| Statement::CannotBeIsolated { circuit: row.circuit.to_string() }).collect()
    }

    /// Reports rows without isolation, and interlocks that could lift a notice and do not cover every row.
    pub(super) fn report(&self, findings: &mut Vec<Finding>) {
        for (row, way) in self.rows() {
            let (code, message) = match way.isolated {
                Isolated::By(_) => continue,
                Isolated::Impossible => {
                    (code::CANNOT_BE_ISOLATED, format!("circuit `{}` cannot be isolated and stays live", row.circuit))
                }
                Isolated::Unknown => {
                    (code::ISOLATOR_NOT_KNOWN, format!("nobody knows yet what isolates circuit `{}`", row.circuit))
                }
            };
            findings.push(self.finding(code, message, row, Column::Isolator));
        }
        self.report_partial_interlock(findings);
    }

    fn report_partial_interlock(&self, findings: &mut Vec<Finding>) {
        if self.ways.iter().all(|way| way.interlock.is_none()) || self.covering_interlock().is_some() {
            return;
        }
        let lifting = self.rows().find_map(|(row, way)| {
            let interlock = self.network.interlock(way.interlock?)?;
            could_lift(interlock).then_some((row, interlock))
        });
        let Some((row, interlock)) = lifting else { return };
        let message = format!(
            "interlock `{}` does not cover every row of `{}`, so it lifts nothing there",
            interlock.name,
            self.designation()
        );
        findings.push(self.finding(code::INTERLOCK_NOT_ON_EVERY_ROW, message, row, Column::Interlock));
    }
}

fn lines_by_device(network: &Network, enclosure: EnclosureId) -> Vec<(DeviceId, LinesHere)> {
    let ways = network.way_ids(enclosure).zip(network.ways(enclosure));
    let of_way = |(id, way): (WayId, &Way)| match way.isolated.devices() {
        [device] if !network.is_isolated_from_another_system(id, way) => {
            Some((*device, LinesHere { named: way.needs.named, unnamed: u8::from(has_unnamed_line(way)) }))
        }
        _ => None,
    };
    let mut lines: Vec<_> = ways.filter_map(of_way).collect();
    lines.sort_by_key(|(device, _)| *device);
    lines.dedup_by(|later, kept| {
        let same = later.0 == kept.0;
        if same {
            kept.1.named = kept.1.named.union(later.1.named);
            kept.1.unnamed = kept.1.unnamed.saturating_add(later.1.unnamed);
        }
        same
    });
    lines
}

/// Whether a row has one line and does not say which.
fn has_unnamed_line(way: &Way) -> bool {
    way.needs.lines == Some(1) && !way.needs.named.is_known()
}

/// Whether a device at this location stands in the enclosure itself.
pub(super) fn is_inside(location: &str, enclosure: &Enclosure) -> bool {
    let area = enclosure.area.as_deref();
    let names = |name: &str| spelling::is_inside(location, area, name);
    names(&enclosure.designation) || enclosure.name.as_deref().is_some_and(|name| tells_one(name) && names(name))
}

/// Whether a name means one enclosure, not a kind of them: `Pump panel 2`, not `Junction box`.
fn tells_one(name: &str) -> bool {
    name.chars().any(|character| character.is_ascii_digit())
}

const fn could_lift(interlock: &Interlock) -> bool {
    match interlock.kind {
        Some(InterlockKind::Coupled | InterlockKind::TrappedKey) => true,
        Some(InterlockKind::AuxiliaryContact | InterlockKind::NoParallel) | None => false,
    }
}
