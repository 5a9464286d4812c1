//! The first pages: what the job is, how much there is to approve, what to bear in mind, and where each part is found.

use super::{Document, Part, found, standing};
use crate::finding::{Finding, Severity};
use crate::network::ProofResult;
use crate::notice::Subject;
use crate::pages::texts::{body, counted, definitions, mm, parts, ruled};
use crate::pages::{Block, Cell, Column, Section, Style, Text, cautions};
use crate::rules::Outcome;

/// The cover.
pub(super) fn cover(document: &Document<'_>) -> Section {
    let identity = document.prepared.identity;
    let title = [identity.title, "Warning notices"].into_iter().find(|title| !title.is_empty()).unwrap_or_default();
    let named = |text: &str| if text.is_empty() { "not said".to_owned() } else { text.to_owned() };
    let supplies = if identity.supplies.is_empty() {
        "none: nothing is proved about the network behind the isolators".to_owned()
    } else {
        identity.supplies.to_owned()
    };
    let mut blocks = vec![
        Block::text(Style::Title, title),
        Block::text(Style::Subtitle, "Notices with their reasons, for approval before they are printed"),
        definitions(
            mm(34),
            [
                ("Site", named(identity.site)),
                ("Client", named(identity.client)),
                ("Revision", named(identity.revision)),
                ("Date", named(identity.date)),
                ("Prepared by", named(identity.prepared_by)),
                ("Survey", identity.survey.to_owned()),
                ("Supplies file", supplies),
                ("Decided by", identity.edition.to_owned()),
            ],
        ),
        Block::heading("What there is to approve"),
        definitions(mm(34), counts(document)),
        Block::heading("To bear in mind"),
        cautions::list(),
    ];
    let general: Vec<&Finding> =
        document.prepared.findings.iter().filter(|finding| finding.enclosure.is_none()).collect();
    blocks.extend(found::table(&general));
    Section { head: "Cover".to_owned(), blocks }
}

fn counts(document: &Document<'_>) -> [(&'static str, String); 6] {
    let prepared = &document.prepared;
    let notices = |subject: Subject| {
        prepared
            .chosen
            .iter()
            .filter_map(|&index| document.prepared.notice(index))
            .filter(|one| one.subject == subject)
            .count()
    };
    let on_survey = format!("{} on enclosures, {} on isolators", notices(Subject::Enclosure), notices(Subject::Device));
    let decided: Vec<_> =
        document.parts.iter().filter_map(|part| document.prepared.decided(part.decision()?)).collect();
    let need = |outcome: Outcome| decided.iter().filter(|(decision, _)| decision.need == outcome).count();
    let proof = |result: ProofResult| decided.iter().filter(|(decision, _)| decision.proof.result == result).count();
    let found = |severity: Severity| prepared.findings.iter().filter(|one| one.severity() == severity).count();
    [
        (
            "Notices",
            match notices(Subject::Standing) {
                0 => on_survey,
                listed => format!("{on_survey}, {}", counted(listed, "standing notice")),
            },
        ),
        (
            "Enclosures",
            format!(
                "{} with notices here: {} required, {} advised, {} where the survey does not say enough",
                decided.len(),
                need(Outcome::Required),
                need(Outcome::Advised),
                need(Outcome::Unknown)
            ),
        ),
        (
            "No notice",
            format!("{} on the survey's word, on the last pages", counted(prepared.silent.len(), "enclosure")),
        ),
        ("Left out", left_out(prepared.left_out.len())),
        (
            "Proof",
            format!(
                "no path found for {}, unknown for {}, live path found for {}",
                proof(ProofResult::NoPathFound),
                proof(ProofResult::Unknown),
                proof(ProofResult::Live)
            ),
        ),
        (
            "Findings",
            format!(
                "{}, {}, {} of advice",
                counted(found(Severity::Error), "error"),
                counted(found(Severity::Warning), "warning"),
                found(Severity::Advice)
            ),
        ),
    ]
}

fn left_out(count: usize) -> String {
    if count == 0 { "nothing".to_owned() } else { format!("{count} because of errors, on the last pages") }
}

/// Where each part is found.
pub(super) fn contents(document: &Document<'_>, pages: impl Fn(usize) -> usize) -> Section {
    let rows = document.parts.iter().enumerate().filter_map(|(number, part)| {
        let (name, about, notices) = entry(document, part)?;
        let name = Text::new(Style::Strong, name).leading_to(document.anchor(part)?);
        Some(vec![vec![name.into()], body(about), body(notices), body(pages(number).to_string())])
    });
    let rows: Vec<Vec<Cell>> = rows.collect();
    let columns = vec![Column::Share(4), Column::Share(7), Column::Fixed(mm(60)), Column::Fixed(mm(16))];
    let blocks = vec![
        Block::text(Style::Title, "Contents"),
        ruled(&["enclosure, or place of isolators", "name, area", "notices", "page"], columns, rows),
    ];
    Section { head: "Contents".to_owned(), blocks }
}

fn entry(document: &Document<'_>, part: &Part) -> Option<(String, String, String)> {
    match part {
        Part::Cover | Part::Contents => None,
        Part::Enclosure(place, notices) => {
            let (decision, enclosure) = document.prepared.decided(*place)?;
            let about =
                parts([enclosure.name.as_deref().unwrap_or_default(), enclosure.area.as_deref().unwrap_or_default()]);
            let notices = format!("{}, {}", counted(notices.len(), "notice"), decision.need.of_notice());
            Some((enclosure.designation.clone(), about, notices))
        }
        Part::Devices(location, notices) => {
            let place = if location.is_empty() { "location not known".to_owned() } else { location.clone() };
            Some((place, String::new(), format!("{} on isolators", counted(notices.len(), "notice"))))
        }
        Part::Standing(notices) => Some((standing::TITLE.to_owned(), String::new(), counted(notices.len(), "notice"))),
        Part::Rest => Some(("No notice, and left out".to_owned(), String::new(), String::new())),
    }
}

impl Part {
    fn decision(&self) -> Option<usize> {
        match self {
            Self::Enclosure(place, _) => Some(*place),
            Self::Cover | Self::Contents | Self::Devices(..) | Self::Standing(_) | Self::Rest => None,
        }
    }
}
