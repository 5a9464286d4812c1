//! The enclosures, and everything of one: what was decided and why, its supplies, its notices.

use serde::Serialize;

use super::answer::{Answer, Refused, json};
use super::findings::{self, FindingAnswer};
use super::notices;
use super::reply;
use super::shown::Shown;
use crate::cli::why;
use crate::diagram;
use crate::finding::Severity;
use crate::rules::{Decision, Explained, PointOfIsolation, enclosure_in_words};
use crate::survey::Enclosure;
use crate::typesetting::Typesetter;
use crate::writers::svg;

#[derive(Serialize)]
struct EnclosuresAnswer<'a> {
    enclosures: Vec<EnclosureAnswer<'a>>,
}

#[derive(Serialize)]
struct EnclosureAnswer<'a> {
    index: usize,
    designation: &'a str,
    name: &'a str,
    area: &'a str,
    need: &'static str,
    points: usize,
    to_earth: String,
    proof: &'static str,
    notices: &'a [usize],
    errors: usize,
    warnings: usize,
}

/// All enclosures, a line each.
pub(super) fn all(shown: &Shown) -> Answer {
    let enclosures = shown.loaded.survey.enclosures.iter().enumerate();
    Ok(json(&EnclosuresAnswer { enclosures: enclosures.map(|(index, one)| line(shown, index, one)).collect() }))
}

fn line<'a>(shown: &'a Shown, index: usize, enclosure: &'a Enclosure) -> EnclosureAnswer<'a> {
    let decision = decision(shown, index);
    let described = shown.loaded.network.is_described();
    let rows = enclosure.rows.iter().filter_map(|row| shown.of_row.get(&row.record)).flatten();
    let severities = rows.filter_map(|number| shown.findings.get(*number)).map(crate::finding::Finding::severity);
    let severities: Vec<Severity> = severities.collect();
    let count = |wanted| severities.iter().filter(|severity| **severity == wanted).count();
    EnclosureAnswer {
        index,
        designation: &enclosure.designation,
        name: enclosure.name.as_deref().unwrap_or_default(),
        area: enclosure.area.as_deref().unwrap_or_default(),
        need: decision.map_or("unknown", |decision| decision.need.of_notice()),
        points: decision.map_or(0, |decision| decision.points.len()),
        to_earth: decision.map_or_else(|| "voltage unknown".to_owned(), |decision| decision.voltages.in_words()),
        proof: match decision {
            Some(decision) if described => decision.proof.result.in_words(),
            Some(_) | None => "not described",
        },
        notices: shown.notices.get(index).map_or(&[], Vec::as_slice),
        errors: count(Severity::Error),
        warnings: count(Severity::Warning),
    }
}

/// What was decided for an enclosure by its place in the survey, in whose order decisions stand.
fn decision(shown: &Shown, index: usize) -> Option<&Decision> {
    shown.loaded.decisions().enclosures.get(index).filter(|decision| decision.enclosure == index)
}

#[derive(Serialize)]
struct Whole<'a> {
    index: usize,
    designation: &'a str,
    name: &'a str,
    area: &'a str,
    heading: String,
    need: &'static str,
    row: Option<u32>,
    reasons: Vec<ReasonAnswer>,
    voltages: Vec<String>,
    points: Vec<PointAnswer<'a>>,
    proof: ProofAnswer,
    supply_path: Vec<String>,
    diagram: bool,
    notices: Vec<notices::Short<'a>>,
    devices: Vec<notices::Short<'a>>,
    findings: Vec<FindingAnswer>,
}

#[derive(Serialize)]
struct ReasonAnswer {
    rule: String,
    outcome: &'static str,
    clause: String,
    because: String,
}

#[derive(Serialize)]
struct PointAnswer<'a> {
    number: usize,
    device: &'a str,
    location: &'a str,
    circuits: String,
    handling: Vec<String>,
}

#[derive(Serialize)]
struct ProofAnswer {
    result: String,
    lines: Vec<String>,
    advice: Vec<String>,
}

/// Everything of one enclosure.
pub(super) fn one(shown: &Shown, index: usize) -> Answer {
    let loaded = &shown.loaded;
    let enclosure = loaded.survey.enclosures.get(index).ok_or_else(Refused::not_found)?;
    let decision = decision(shown, index).ok_or_else(Refused::not_found)?;
    let explained = loaded.assessor().explain(index).unwrap_or_default();
    let about = shown.findings.iter().filter(|found| found.enclosure.as_deref() == Some(&enclosure.designation));
    let tree = diagram::text_tree(&loaded.survey, loaded.supplies.as_ref(), &loaded.network, decision);
    Ok(json(&Whole {
        index,
        designation: &enclosure.designation,
        name: enclosure.name.as_deref().unwrap_or_default(),
        area: enclosure.area.as_deref().unwrap_or_default(),
        heading: enclosure_in_words(&enclosure.designation, Some(enclosure)),
        need: decision.need.of_notice(),
        row: enclosure.rows.first().map(|row| row.record),
        reasons: explained.reasons.into_iter().map(reason).collect(),
        voltages: explained.voltages,
        points: (1..).zip(&decision.points).map(point).collect(),
        proof: proof(shown, decision),
        supply_path: tree,
        diagram: drawn(shown, decision).is_some(),
        notices: shown.notices.get(index).into_iter().flatten().filter_map(|at| notices::short(shown, *at)).collect(),
        devices: devices(shown, decision),
        findings: about.map(|found| findings::one(shown, found)).collect(),
    }))
}

fn reason(Explained { reason, because }: Explained) -> ReasonAnswer {
    ReasonAnswer {
        rule: reason.rule.name().to_owned(),
        outcome: reason.outcome.name(),
        clause: reason.clause_in_words(),
        because,
    }
}

fn point((number, point): (usize, &PointOfIsolation)) -> PointAnswer<'_> {
    let PointOfIsolation { device, location, circuits, .. } = point;
    PointAnswer { number, device, location, circuits: circuits.join(", "), handling: point.handling() }
}

fn proof(shown: &Shown, decision: &Decision) -> ProofAnswer {
    let why::Proved { paths, gaps, advice, .. } = why::proved(&shown.loaded, decision);
    let paths = paths.into_iter().map(|path| format!("live: {path}"));
    let lines = paths.chain(gaps.into_iter().map(|gap| format!("not known: {gap}"))).collect();
    ProofAnswer { result: decision.proof_in_words(), lines, advice }
}

/// The notices on the isolators that the enclosure lists.
fn devices<'a>(shown: &'a Shown, decision: &Decision) -> Vec<notices::Short<'a>> {
    let notices = shown.loaded.notices().iter().enumerate();
    let devices = notices.filter(|(_, notice)| notice.subject == crate::notice::Subject::Device);
    let listed = devices.filter(|(_, notice)| {
        let is_it = |point: &PointOfIsolation| point.device == notice.designation && point.location == notice.area;
        decision.points.iter().any(is_it)
    });
    listed.filter_map(|(index, _)| notices::short(shown, index)).collect()
}

/// The one-line diagram of an enclosure.
pub(super) fn picture(shown: &Shown, index: usize) -> Answer {
    let decision = decision(shown, index).ok_or_else(Refused::not_found)?;
    let name = shown.loaded.survey.enclosures.get(index).map_or("", |one| one.designation.as_str());
    let drawing = drawn(shown, decision).ok_or_else(Refused::not_found)?;
    Ok(reply::picture(svg::svg(&drawing, &format!("Supplies of {name}"))))
}

fn drawn(shown: &Shown, decision: &Decision) -> Option<crate::drawing::Drawing> {
    let loaded = &shown.loaded;
    let typesetter = Typesetter::new();
    diagram::of(&loaded.survey, loaded.supplies.as_ref(), &loaded.network, decision, &typesetter).ok()
}
