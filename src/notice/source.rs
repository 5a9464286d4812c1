//! Which sources there are, and where each is isolated.

use super::Said;
use super::enclosure::EnclosureNotice;
use super::statement::{listed_sources, source_in_words};
use crate::network::Nature;
use crate::rules::{Missing, SourceIsolation, SourcePoint, SourceScope};
use crate::wording::{Message, Wording, one_line};

/// What a notice says of several sources, as its decision gives it.
#[derive(Clone, Copy)]
pub(super) struct Sources<'a> {
    pub(super) scope: SourceScope,
    pub(super) sources: &'a [SourceIsolation],
    pub(super) others: &'a [String],
    pub(super) more_possible: bool,
}

impl EnclosureNotice<'_> {
    /// The line with the designation.
    pub(super) fn sources(&self, of: Sources<'_>, enclosure: &str) -> Said {
        let mut names: Vec<String> = of.sources.iter().map(|source| source.source.clone()).collect();
        if matches!(of.scope, SourceScope::NotSaid) {
            names.extend_from_slice(of.others);
        }
        if names.len() < 2 && !matches!(of.scope, SourceScope::PointOfIsolation) {
            return self.wording.say(Message::SourcesPossible { enclosure });
        }
        let listed = listed_sources(self.wording, &names);
        self.wording.say_each(|language| {
            let sources = listed.in_language(language);
            match of.scope {
                SourceScope::Installation | SourceScope::NotSaid => Message::SourcesSupply { enclosure, sources },
                SourceScope::Here => Message::SourcesMeet { enclosure, sources },
                SourceScope::PointOfIsolation => Message::SourcePoint { enclosure, sources },
            }
        })
    }

    /// Where each source is isolated, and whether there may be more; `is_said` where the line with the designation
    /// names the sources already.
    pub(super) fn sources_also(&self, of: Sources<'_>, is_said: bool) -> Vec<Said> {
        let mut also = Vec::new();
        match of.scope {
            SourceScope::Installation | SourceScope::Here => also.push(self.isolate_each(of)),
            SourceScope::PointOfIsolation if !of.others.is_empty() => also.push(self.others(of.others)),
            SourceScope::NotSaid if of.others.len() < 2 => {
                also.extend((!is_said).then(|| self.wording.say(Message::SourcesPossibleAlso {})));
                return also;
            }
            SourceScope::NotSaid if !is_said => also.push(self.several(of.others)),
            SourceScope::PointOfIsolation | SourceScope::NotSaid => {}
        }
        if of.more_possible {
            also.push(self.wording.say(Message::FurtherSourcesPossible {}));
        }
        also
    }

    fn isolate_each(&self, of: Sources<'_>) -> Said {
        let is_listed = |device: &str, place: &str| {
            let same = |point: &&crate::rules::PointOfIsolation| point.device == device;
            let mut points = self.decision.points.iter().filter(same);
            points.next().is_some_and(|point| point.location == place) && points.next().is_none()
        };
        let sources = isolated_sources(self.wording, of.sources, is_listed);
        self.wording.say_each(|language| {
            let sources = sources.in_language(language);
            match of.scope {
                SourceScope::Installation => Message::IsolateSourcesOfInstallation { sources },
                SourceScope::Here | SourceScope::PointOfIsolation | SourceScope::NotSaid => {
                    Message::IsolateSources { sources }
                }
            }
        })
    }

    fn others(&self, others: &[String]) -> Said {
        other_sources(self.wording, others)
    }

    fn several(&self, sources: &[String]) -> Said {
        let sources = listed_sources(self.wording, sources);
        self.wording.say_each(|language| Message::SeveralSources { sources: sources.in_language(language) })
    }
}

fn other_sources(wording: &Wording, others: &[String]) -> Said {
    let sources = listed_sources(wording, others);
    wording.say_each(|language| Message::OtherSources { sources: sources.in_language(language) })
}

/// What an isolator says as a point of isolation of a source: the other points, if it knows any, and whether there may be
/// further sources.
pub(super) fn source_point(wording: &Wording, device: &str, point: &SourcePoint) -> Vec<Said> {
    let sources = listed_sources(wording, &point.sources);
    // Of the public network nothing need tell where it comes in: it is named as a source, and no point of it.
    let is_placeless = |other: &&SourceIsolation| {
        let is_nowhere = other.isolated_at.is_empty() && other.missing == Some(Missing::NotKnown);
        is_nowhere && Nature::of_name(&other.source) == Nature::Mains
    };
    let (placeless, others): (Vec<&SourceIsolation>, Vec<&SourceIsolation>) =
        point.others.iter().partition(is_placeless);
    let others: Vec<SourceIsolation> = others.into_iter().cloned().collect();
    let points = isolated_sources(wording, &others, |_, _| false);
    let here = wording.say_each(|language| {
        let sources = sources.in_language(language);
        match others.is_empty() {
            true => Message::SourcePoint { enclosure: device, sources },
            false => Message::PointOfSource { sources, points: points.in_language(language) },
        }
    });
    let placeless: Vec<String> = placeless.into_iter().map(|other| other.source.clone()).collect();
    let also = (!placeless.is_empty()).then(|| other_sources(wording, &placeless));
    let more = point.more_possible.then(|| wording.say(Message::FurtherSourcesPossible {}));
    std::iter::once(here).chain(also).chain(more).collect()
}

/// `mains at IS1; solar at QPV1 and QPV2 (Roof deck)`: a device that stands in the notice's own list by its name alone.
fn isolated_sources(wording: &Wording, sources: &[SourceIsolation], is_listed: impl Fn(&str, &str) -> bool) -> Said {
    let each: Vec<Said> = sources.iter().map(|source| isolated_source(wording, source, &is_listed)).collect();
    let in_language =
        |language: usize| each.iter().map(|said| said.in_language(language)).collect::<Vec<_>>().join("; ");
    (0..wording.languages().count()).map(in_language).collect()
}

fn isolated_source(wording: &Wording, source: &SourceIsolation, is_listed: &impl Fn(&str, &str) -> bool) -> Said {
    let name = source_in_words(wording, &source.source);
    let devices = devices(wording, &source.isolated_at, is_listed);
    let is_somewhere = !source.isolated_at.is_empty();
    wording.say_each(|language| {
        let (source_name, devices) = (name.in_language(language), devices.in_language(language));
        match (is_somewhere, source.missing) {
            (true, None) => Message::SourceAt { source: source_name, devices },
            (true, Some(Missing::Elsewhere | Missing::NotKnown)) => {
                Message::SourceAtAndElsewhere { source: source_name, devices }
            }
            (true, Some(Missing::CannotBeIsolated | Missing::RestCannotBeIsolated)) => {
                Message::SourceAtInPart { source: source_name, devices }
            }
            (false, Some(Missing::RestCannotBeIsolated)) => Message::SourceInPart { source: source_name },
            (false, Some(Missing::Elsewhere)) => Message::SourceElsewhere { source: source_name },
            (false, Some(Missing::CannotBeIsolated)) => Message::SourceCannotBeIsolated { source: source_name },
            (false, Some(Missing::NotKnown) | None) => Message::SourceIsolationNotKnown { source: source_name },
        }
    })
}

/// Devices with their places, those of one place together: `QD1 and QD2 (Roof deck)`.
fn devices(wording: &Wording, devices: &[(String, String)], is_listed: &impl Fn(&str, &str) -> bool) -> Said {
    let mut by_place: Vec<(&str, Vec<Said>)> = Vec::new();
    for (device, place) in devices {
        let shown = if is_listed(device, place) { "" } else { place.as_str() };
        let device = wording.repeat(device);
        match by_place.iter_mut().find(|(known, _)| *known == shown) {
            Some((_, devices)) => devices.push(device),
            None => by_place.push((shown, vec![device])),
        }
    }
    let with_place = |(place, devices): (&str, Vec<Said>)| {
        let devices = wording.list(&devices);
        let place = one_line(place);
        if place.is_empty() {
            return devices;
        }
        wording.say_each(|language| Message::DeviceAtPlace { device: devices.in_language(language), place: &place })
    };
    wording.list(&by_place.into_iter().map(with_place).collect::<Vec<_>>())
}
