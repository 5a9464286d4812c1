//! `why`: the reasoning for one enclosure, rule by rule; or what a finding or a rule means.

use std::fmt::Write as _;
use std::path::Path;

use super::arguments::{General, ReportForm, Why};
use super::failure::Failure;
use super::pipeline::{self, Loaded};
use super::report::json::{confidence_name, need_name, outcome_name};
use super::report::visible;
use super::terminal::Terminal;
use crate::finding;
use crate::rules::{Decision, PointOfIsolation, Reason, Rule};

/// Explains an enclosure of a survey, or a code.
pub(super) fn perform(why: &Why, general: &General, terminal: Terminal) -> Result<(), Failure> {
    match &why.enclosure {
        Some(enclosure) => explain_enclosure(&why.subject, enclosure, general, terminal),
        None => Ok(terminal.print(&explain_code(&why.subject)?)?),
    }
}

fn explain_code(name: &str) -> Result<String, Failure> {
    if let Some(code) = finding::find(name) {
        return Ok(format!("{} ({})\n\n{}", code.name, code.severity.name(), unindented(code.explanation)));
    }
    if let Some(rule) = Rule::ALL.into_iter().find(|rule| rule.name() == name) {
        return Ok(format!("{} (rule)\n\n{}", rule.name(), unindented(&rule.explanation())));
    }
    let known: Vec<&str> = finding::table().iter().map(|code| code.name).chain(Rule::ALL.map(Rule::name)).collect();
    let hint = match pipeline::nearest(name, &known) {
        Some(near) => format!("did you mean `{near}`?"),
        None => "for an enclosure, name the survey first: noticewright why SURVEY ENCLOSURE".to_owned(),
    };
    Err(Failure::with_hint(format!("`{name}` is neither the code of a finding nor the name of a rule"), hint))
}

/// Doc comments keep the blank after their slashes; the reader need not see it.
fn unindented(text: &str) -> String {
    text.lines().map(|line| line.strip_prefix(' ').unwrap_or(line).to_owned() + "\n").collect()
}

fn explain_enclosure(survey: &str, name: &str, general: &General, terminal: Terminal) -> Result<(), Failure> {
    let loaded = pipeline::load(Path::new(survey), general)?;
    let decision = loaded.decision(name).ok_or_else(|| unknown_enclosure(&loaded, name))?;
    if general.report == ReportForm::Json {
        let findings = about(&loaded, name);
        let mut report = loaded.json(&findings);
        report.decisions(&loaded.survey, &loaded.network, std::slice::from_ref(decision));
        return Ok(terminal.print(&report.render().map_err(std::io::Error::from)?)?);
    }
    terminal.print(&explanation(&loaded, decision))?;
    let findings = about(&loaded, name);
    Ok(terminal.print(&pipeline::render_findings(&findings, general.report, terminal.output_colour()))?)
}

fn about(loaded: &Loaded, name: &str) -> Vec<finding::Finding> {
    loaded.findings.iter().filter(|one| one.enclosure.as_deref() == Some(name)).cloned().collect()
}

fn unknown_enclosure(loaded: &Loaded, name: &str) -> Failure {
    let known: Vec<&str> = loaded.survey.enclosures.iter().map(|one| one.designation.as_str()).collect();
    let hint = match pipeline::nearest(name, &known) {
        Some(near) => format!("did you mean `{near}`?"),
        None => "`noticewright check SURVEY` lists the enclosures".to_owned(),
    };
    Failure::with_hint(format!("the survey has no enclosure `{name}`"), hint)
}

fn explanation(loaded: &Loaded, decision: &Decision) -> String {
    let mut text = heading(loaded, decision);
    text.push_str("\nRules\n");
    for reason in &decision.reasons {
        text.push_str(&reason_text(reason));
    }
    text.push_str("\nVoltages\n");
    for line in &decision.voltages.explanation {
        let _ = writeln!(text, "  {}", visible(line));
    }
    text.push_str("\nPoints of isolation\n");
    for (number, point) in decision.points.iter().enumerate() {
        text.push_str(&point_text(number + 1, point));
    }
    text.push_str("\nProof: unknown. The supply network is not described, so it is not proved that opening these leaves nothing live\n");
    for notice in loaded.notices_of(decision) {
        let _ = writeln!(text, "\nNotice {}", visible(&notice.number));
        for line in notice.lines() {
            let _ = writeln!(text, "  | {}", visible(&line));
        }
    }
    text + "\n"
}

fn heading(loaded: &Loaded, decision: &Decision) -> String {
    let Some(enclosure) = loaded.survey.enclosures.get(decision.enclosure) else { return String::new() };
    let name = enclosure.name.as_ref().map(|name| format!(", {name}")).unwrap_or_default();
    let area = enclosure.area.as_ref().map(|area| format!(" ({area})")).unwrap_or_default();
    let edition = &loaded.job.job.edition;
    let title = visible(&format!("{}{name}{area}", enclosure.designation));
    format!("{title}\nNotice: {}, by {}\n", need_name(decision.need), visible(edition))
}

fn reason_text(reason: &Reason) -> String {
    let clause = reason.clause.map_or_else(
        || "common practice".to_owned(),
        |clause| format!("{} ({})", clause.reference, confidence_in_words(confidence_name(clause.confidence))),
    );
    format!(
        "  {:20} {:11} {clause}\n{:4}{}\n",
        reason.rule.name(),
        outcome_name(reason.outcome),
        "",
        visible(&reason.because)
    )
}

fn confidence_in_words(name: &str) -> &str {
    match name {
        "primary" => "read in the document itself",
        "secondary" => "from texts that quote it; check your own copy",
        _ => "from memory, unverified; check your own copy",
    }
}

fn point_text(number: usize, point: &PointOfIsolation) -> String {
    let mut parts = vec![format!("{number}. {}", point.device)];
    parts.extend((!point.location.is_empty()).then(|| point.location.clone()));
    parts.push(format!("circuits {}", point.circuits.join(", ")));
    parts.extend(point.locking.as_ref().map(|locking| format!("secured by {locking}")));
    parts.extend(point.not_under_load.then(|| "not under load".to_owned()));
    parts.extend(point.before.as_ref().map(|before| format!("first: {before}")));
    format!("  {}\n", visible(&parts.join("; ")))
}
