//! What holds for the whole installation: its sources, its roles, its UPSs.

use std::collections::HashSet;

use super::back_feed::fed_ups;
use super::described::Described;
use super::phrases::list;
use super::sources::{self, Isolators};
use super::statement::SourceIsolation;
use super::upses::Upses;
use crate::finding::{Finding, code};
use crate::network::device::AtRow;
use crate::network::lines::Lines;
use crate::network::{DeviceId, EnclosureId, Nature, Network, Said, SourceId, spelling};
use crate::survey::value::Role;
use crate::survey::{Column, Row, Survey};

/// What the survey as a whole tells.
pub struct Installation {
    /// The sources of the installation in a fixed order: those that the survey names, in its words, then the others that
    /// only the supplies file describes.
    pub(super) sources: Vec<String>,
    /// The same in one phrase.
    pub(super) sources_in_words: String,
    /// The sources that the survey names, by number, in the same order.
    pub(super) source_ids: Vec<SourceId>,
    /// Those that only the supplies file describes, with where each is isolated.
    pub(super) unnamed: Vec<SourceIsolation>,
    /// What isolates each source for the whole installation, by its number.
    isolators: Vec<Isolators>,
    /// How many UPSs the rows come from that only say `ups`.
    pub(super) upses_apart: Upses,
    /// True where at least one row leaves its source blank.
    pub(super) source_is_blank: bool,
    /// True where at least one enclosure has a role.
    pub(super) has_roles: bool,
    /// The UPSs that feed circuits.
    upses: Vec<Ups>,
    /// Their names, in the form in which names are compared.
    ups_keys: HashSet<String>,
    /// What the supplies file tells; nothing where there is none.
    pub(super) described: Described,
    /// The columns on which it depends what a device parts, as far as any row fills them.
    filled: Vec<Column>,
    /// The circuits whose neutral another one shares, in the form in which names are compared.
    lent_neutrals: HashSet<String>,
    /// The lines of all circuits that name a device alone, by its number.
    lines: Vec<Lines>,
}

/// The columns on which it depends what a device parts.
const SWITCHING_COLUMNS: [Column; 4] = [Column::Poles, Column::Conductors, Column::Earthing, Column::Source];

/// A UPS by what the survey says of it.
struct Ups {
    name: String,
    first: Said,
    input_is_found: bool,
}

impl Installation {
    /// What this survey tells, with the supplies file if its network was joined with one.
    #[must_use]
    pub fn of(survey: &Survey, network: &Network) -> Self {
        let mut sources: Vec<_> = network.sources().iter().enumerate().collect();
        sources.sort_by(|(_, one), (_, other)| one.kind.cmp(&other.kind));
        let described = Described::of(network);
        let upses = upses(survey, network, &described);
        let unnamed = unnamed(network, &described);
        let named = sources.iter().map(|(_, source)| source.word().to_owned());
        let all: Vec<String> = named.chain(unnamed.iter().map(|it| it.source.clone())).collect();
        let upses_apart = Upses::of(survey, network, &described);
        let in_words = match (&upses_apart, all.as_slice()) {
            (Upses::Several(names), [_]) => list(names.iter().map(String::as_str)),
            _ => list(all.iter().map(String::as_str)),
        };
        Self {
            sources_in_words: in_words,
            upses_apart,
            sources: all,
            unnamed,
            source_ids: sources.into_iter().map(|(index, _)| SourceId::new(index)).collect(),
            isolators: sources::of_installation(survey, network, &described),
            source_is_blank: rows(survey).any(|row| row.source.is_none()),
            has_roles: survey
                .enclosures
                .iter()
                .any(|it| it.particulars().roles.as_ref().is_some_and(|roles| !roles.is_empty())),
            ups_keys: upses.iter().map(|ups| spelling::key(&ups.name)).collect(),
            upses,
            described,
            filled: filled(survey),
            lent_neutrals: rows(survey)
                .filter_map(|row| row.further().neutral_from.as_deref())
                .map(spelling::key)
                .collect(),
            lines: lines_by_device(survey, network),
        }
    }

    /// The lines that a device must part over all circuits of its own system that name it alone, of all enclosures.
    pub(super) fn lines_of(&self, device: DeviceId) -> Lines {
        self.lines.get(device.index()).copied().unwrap_or_default()
    }

    /// What isolates a source for the whole installation.
    pub(super) fn isolators(&self, source: SourceId) -> Isolators {
        self.isolators.get(source.index()).cloned().unwrap_or_default()
    }

    /// Whether there are two or more sources.
    pub(super) fn has_several_sources(&self) -> bool {
        self.sources.len() >= 2 || matches!(self.upses_apart, Upses::Several(_))
    }

    /// Whether any row fills this column.
    pub(super) fn is_filled(&self, column: Column) -> bool {
        !SWITCHING_COLUMNS.contains(&column) || self.filled.contains(&column)
    }

    /// Whether another circuit shares the neutral of this one.
    pub(super) fn lends_neutral(&self, circuit: &str) -> bool {
        !self.lent_neutrals.is_empty() && self.lent_neutrals.contains(&spelling::key(circuit))
    }

    /// Whether this is the designation of a UPS that feeds circuits.
    pub(super) fn is_ups(&self, designation: &str) -> bool {
        !self.ups_keys.is_empty() && self.ups_keys.contains(&spelling::key(designation))
    }

    /// True where a UPS feeds circuits and nothing tells what feeds it.
    pub(super) fn ups_input_is_unknown(&self, name: &str) -> bool {
        self.upses.iter().any(|ups| ups.name == name && !ups.input_is_found)
    }

    pub(super) fn report(&self, survey: &Survey, network: &Network, findings: &mut Vec<Finding>) {
        if self.has_several_sources() && !has_origin(survey) {
            let sources = &self.sources_in_words;
            let who = if self.unnamed.is_empty() { "the survey names" } else { "survey and supplies file name" };
            let lacking = if self.has_roles { "roles, and no enclosure is the origin" } else { "no roles" };
            let number = match &self.upses_apart {
                Upses::Several(names) => self.sources.len().max(names.len()),
                Upses::One | Upses::PerhapsSeveral => self.sources.len(),
            };
            let message = format!("{who} {number} sources ({sources}) and {lacking}");
            let place = network.sources().get(1).map(|source| source.first);
            let finding = Finding::new(code::ROLES_NOT_GIVEN, message)
                .help("say in `role` which enclosure is the `origin`, a `meter`, a `board` or an `isolating-point`");
            findings.push(match place {
                Some(said) => Finding { enclosure: None, ..finding.at_row(survey, said, Column::Source) },
                None => finding,
            });
        }
        for ups in self.upses.iter().filter(|ups| !ups.input_is_found) {
            let message = format!("no row tells which isolators feed `{}`, so its back-feed cannot be told", ups.name);
            let finding = Finding::new(code::UPS_INPUT_NOT_FOUND, message)
                .help("survey the UPS as an enclosure, or name it in `serves` of the circuits that feed it")
                .at_row(survey, ups.first, Column::Source);
            findings.push(Finding { enclosure: None, ..finding });
        }
    }
}

fn has_origin(survey: &Survey) -> bool {
    survey
        .enclosures
        .iter()
        .any(|it| it.particulars().roles.as_ref().is_some_and(|roles| roles.contains(&Role::Origin)))
}

fn rows(survey: &Survey) -> impl Iterator<Item = &Row> {
    survey.enclosures.iter().flat_map(|enclosure| &enclosure.rows)
}

fn filled(survey: &Survey) -> Vec<Column> {
    let fills: [fn(&Row) -> bool; 4] = [
        |row| row.poles.is_some(),
        |row| !row.conductors.is_empty(),
        |row| row.earthing.is_some(),
        |row| row.source.is_some(),
    ];
    let columns = SWITCHING_COLUMNS.into_iter().zip(fills);
    columns.filter(|(_, fills)| rows(survey).any(fills)).map(|(column, _)| column).collect()
}

fn lines_by_device(survey: &Survey, network: &Network) -> Vec<Lines> {
    let mut all = vec![Lines::default(); network.devices().len()];
    for enclosure in (0..survey.enclosures.len()).map(EnclosureId::new) {
        for (id, way) in network.way_ids(enclosure).zip(network.ways(enclosure)) {
            let [device] = way.isolated.devices() else { continue };
            if network.is_isolated_from_another_system(id, way) {
                continue;
            }
            all.get_mut(device.index()).into_iter().for_each(|lines| *lines = lines.union(way.needs.named));
        }
    }
    all
}

/// What isolates the sources that only the supplies file names, those of one nature together.
fn unnamed(network: &Network, described: &Described) -> Vec<SourceIsolation> {
    let mut found: Vec<SourceIsolation> = Vec::new();
    for isolation in described.unnamed(network).map(|source| source.isolation(network)) {
        let Some(known) = found.iter_mut().find(|known| known.source == isolation.source) else {
            found.push(isolation);
            continue;
        };
        let further: Vec<_> = isolation.isolated_at.into_iter().filter(|it| !known.isolated_at.contains(it)).collect();
        known.isolated_at.extend(further);
        known.missing = known.missing.max(isolation.missing);
    }
    found
}

/// Every UPS that is a source, each once, in the order of the survey.
fn upses(survey: &Survey, network: &Network, described: &Described) -> Vec<Ups> {
    let natures: Vec<_> = network.sources().iter().map(|source| source.nature).collect();
    let is_ups = |id: SourceId| natures.get(id.index()) == Some(&Nature::Ups);
    if !natures.contains(&Nature::Ups) {
        return Vec::new();
    }
    let mut upses: Vec<Ups> = Vec::new();
    let mut fed: Vec<String> = Vec::new();
    for (index, enclosure) in survey.enclosures.iter().enumerate() {
        let id = EnclosureId::new(index);
        let rows = enclosure.rows.iter().zip(network.ways(id)).zip(network.way_ids(id));
        for ((row, way), way_id) in rows {
            if way.source.is_some_and(is_ups) {
                for name in described.upses_of(network, way_id, way) {
                    if !upses.iter().any(|ups| ups.name == name) {
                        let first = Said { enclosure: id, record: row.record };
                        upses.push(Ups { name, first, input_is_found: false });
                    }
                }
            } else if let Some(name) = fed_ups(enclosure, row, way, network) {
                fed.push(spelling::key(&name));
            }
        }
    }
    fed.extend(described.fed_upses(network));
    fed.sort_unstable();
    fed.dedup();
    for ups in &mut upses {
        let key = spelling::key(&ups.name);
        ups.input_is_found = if key == "ups" { !fed.is_empty() } else { fed.binary_search(&key).is_ok() };
    }
    upses
}
