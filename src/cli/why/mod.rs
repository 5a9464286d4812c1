//! `why`: the reasoning for one enclosure, rule by rule; what an isolator disconnects; what asks for a
//! standing notice; what a finding or a rule means.

mod isolator;
mod picture;
mod proof;
mod standing;

pub(super) use proof::{Proved, proved};

use std::fmt::Write as _;
use std::path::Path;

use super::arguments::{General, ReportForm, Why};
use super::failure::Failure;
use super::pipeline::{self, Loaded};
use super::report::visible;
use super::terminal::Terminal;
use crate::diagram;
use crate::finding;
use crate::notice::Subject;
use crate::rules::{Decision, DeviceDecision, Explained, PointOfIsolation, Reason, Rule, enclosure_in_words};

/// Explains an enclosure or an isolator of a survey, or a code.
pub(super) fn perform(why: &Why, general: &General, terminal: Terminal) -> Result<(), Failure> {
    match &why.name {
        Some(name) => explain_name(why, name, general, terminal),
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

fn explain_name(why: &Why, name: &str, general: &General, terminal: Terminal) -> Result<(), Failure> {
    let survey = Path::new(&why.subject);
    let loaded = pipeline::load(survey, general)?;
    if let Some((entry, decision)) = standing::named(&loaded, name) {
        if why.svg.is_some() {
            return Err(Failure::could_not_run(format!("`{name}` is a standing notice; --svg draws an enclosure")));
        }
        if general.report == ReportForm::Json {
            let mut report = loaded.json(&[]);
            report.standing(loaded.standing.as_ref(), std::slice::from_ref(decision));
            return Ok(terminal.stream(|out| report.write(out))?);
        }
        return Ok(terminal.print(&standing::explanation(&loaded, entry, decision))?);
    }
    let isolators = isolator::named(&loaded, name);
    let is_named = !isolators.is_empty() || loaded.decision(name).is_some();
    let name = if is_named { name } else { of_notice(&loaded, name).unwrap_or(name) };
    let Some(decision) = loaded.decision(name) else {
        return match (isolators.as_slice(), &why.svg) {
            ([], _) if loaded.survey.enclosures.is_empty() && pipeline::judge(&loaded.findings, false).is_err() => {
                unread(&loaded, general, terminal)
            }
            ([], _) => Err(unknown_name(&loaded, name)),
            (_, Some(_)) => Err(Failure::could_not_run(format!("`{name}` is an isolator; --svg draws an enclosure"))),
            (devices, None) => explain_isolators(&loaded, devices, general, terminal),
        };
    };
    if let Some(path) = &why.svg {
        picture::write(&loaded, decision, path, survey, general, terminal)?;
    }
    explain_enclosure(&loaded, name, decision, general, terminal)?;
    if let ([device, ..], ReportForm::Text) = (isolators.as_slice(), general.report) {
        let name = visible(&isolator::full_name(device));
        terminal.say(&format!("an isolator is called so too: noticewright why SURVEY '{name}'\n"));
    }
    Ok(())
}

/// What is wrong with a file that tells of no enclosure at all: the name that was asked for is not at fault.
fn unread(loaded: &Loaded, general: &General, terminal: Terminal) -> Result<(), Failure> {
    if general.report == ReportForm::Json {
        terminal.stream(|out| loaded.json(&loaded.findings).write(out))?;
    } else {
        let colour = terminal.message_colour();
        terminal.complain(&pipeline::render_findings(&loaded.findings, general.report, colour));
    }
    Err(Failure::Faulty)
}

/// The enclosure whose notice bears this number: what a person reads who stands before it.
fn of_notice<'l>(loaded: &'l Loaded, number: &str) -> Option<&'l str> {
    let mut of_enclosures = loaded.briefs().filter(|notice| notice.subject == Subject::Enclosure);
    of_enclosures.find(|notice| notice.number == number).map(|notice| notice.designation)
}

fn explain_enclosure(
    loaded: &Loaded,
    name: &str,
    decision: &Decision,
    general: &General,
    terminal: Terminal,
) -> Result<(), Failure> {
    let findings = about(loaded, name);
    if general.report == ReportForm::Json {
        let mut report = loaded.json(&findings);
        report.decisions(loaded.assessor(), std::slice::from_ref(decision));
        return Ok(terminal.stream(|out| report.write(out))?);
    }
    terminal.print(&explanation(loaded, decision))?;
    Ok(terminal.print(&pipeline::render_findings(&findings, general.report, terminal.output_colour()))?)
}

fn explain_isolators(
    loaded: &Loaded,
    devices: &[&DeviceDecision],
    general: &General,
    terminal: Terminal,
) -> Result<(), Failure> {
    if general.report == ReportForm::Json {
        let entries = isolator::entries(loaded, devices);
        let mut report = loaded.json(&[]);
        report.isolators(&loaded.survey, &loaded.network, &entries);
        return Ok(terminal.stream(|out| report.write(out))?);
    }
    Ok(terminal.print(&isolator::explanation(loaded, devices))?)
}

fn about(loaded: &Loaded, name: &str) -> Vec<finding::Finding> {
    loaded.findings.iter().filter(|one| one.enclosure.as_deref() == Some(name)).cloned().collect()
}

fn unknown_name(loaded: &Loaded, name: &str) -> Failure {
    let enclosures = loaded.survey.enclosures.iter().map(|one| one.designation.clone());
    let devices = &loaded.decisions().devices;
    let isolators = devices.iter().flat_map(|device| [device.device.clone(), isolator::full_name(device)]);
    let listed = loaded.standing.iter().flat_map(|list| list.entries.iter().map(|entry| entry.number.clone()));
    let known: Vec<String> = enclosures.chain(isolators).chain(listed).collect();
    let known: Vec<&str> = known.iter().map(String::as_str).collect();
    let described = loaded.supplies.iter().flat_map(|supplies| &supplies.devices);
    let hint = match pipeline::nearest(name, &known) {
        _ if described.into_iter().any(|device| device.designation == name) => {
            "the supplies file describes it; `why` with an enclosure shows it in the supply path".to_owned()
        }
        Some(near) => format!("did you mean `{near}`?"),
        None => "`noticewright check SURVEY` lists the enclosures".to_owned(),
    };
    Failure::with_hint(format!("the survey has no enclosure and no isolator `{name}`"), hint)
}

fn explanation(loaded: &Loaded, decision: &Decision) -> String {
    let mut text = heading(loaded, decision);
    text.push_str("\nRules\n");
    let explained = loaded.assessor().explain(decision.enclosure).unwrap_or_default();
    for Explained { reason, because } in &explained.reasons {
        text.push_str(&reason_text(reason, because));
    }
    text.push_str("\nVoltages\n");
    for line in &explained.voltages {
        let _ = writeln!(text, "  {}", visible(line));
    }
    text.push_str("\nPoints of isolation\n");
    for (number, point) in decision.points.iter().enumerate() {
        text.push_str(&point_text(number + 1, point));
    }
    text.push_str("\nSupply path\n");
    for line in diagram::text_tree(&loaded.survey, loaded.supplies.as_ref(), &loaded.network, decision) {
        let _ = writeln!(text, "  {}", visible(&line));
    }
    text.push_str(&proof::section(loaded, decision));
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
    let edition = &loaded.job.job.edition;
    let title = visible(&enclosure_in_words(&enclosure.designation, Some(enclosure)));
    format!("{title}\nNotice: {}, by {}\n", decision.need.of_notice(), visible(edition))
}

fn reason_text(reason: &Reason, because: &str) -> String {
    format!(
        "  {:20} {:11} {}\n{:4}{}\n",
        reason.rule.name(),
        reason.outcome.name(),
        reason.clause_in_words(),
        "",
        visible(because)
    )
}

fn point_text(number: usize, point: &PointOfIsolation) -> String {
    let mut parts = vec![format!("{number}. {}", point.device)];
    parts.extend((!point.location.is_empty()).then(|| point.location.clone()));
    parts.push(format!("circuits {}", point.circuits.join(", ")));
    parts.extend(point.handling());
    format!("  {}\n", visible(&parts.join("; ")))
}
