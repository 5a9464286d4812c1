//! The readable specification of the rules: survey rows on top, what is decided below.
//!
//! Every file of `tests/decisions` holds cases. A case is `=== title`, comment lines with `#`, the survey as CSV, a line
//! `--->`, and what must be decided. Only rules that ask for something, are lifted or unknown are shown with their
//! reason; those that are not needed are listed. `show: devices` above the survey also shows the isolators, `show:
//! index` the isolator index, `show: help` what findings advise, `show: all` every reason and where voltages come from.
//!
//! A line `supplies:` after the survey begins the supplies file, as CSV. Then the proof is shown too: what the search
//! for a path came to with every listed isolator open, the paths and gaps, and what advice goes by.
//!
//! A line `standing:` begins a list of standing notices in the same way, and `date:` above the survey the date of the job
//! that its dates are held against. Then what was decided of each is shown.
//!
//! What is decided is held to the rules by reading it. After a deliberate change `REWRITE_DECISIONS=1 cargo test --test decisions`
//! writes what the rules say now; read every line of the difference before keeping it.

#![cfg(test)]

use std::fmt::Write as _;
use std::path::{Path, PathBuf};

use noticewright::finding::{Finding, Severity};
use noticewright::network::{Network, NetworkOptions};
use noticewright::rules::{
    self, Decision, DeviceDecision, Disconnects, Explained, Explanation, IsolatedEnclosure, IsolatorEntry, Outcome,
    PointOfIsolation, Reason, RuleOptions, SourceIsolation, Statement, Voltage, decide, explain,
};
use noticewright::standing::{self, Date};
use noticewright::supplies;
use noticewright::survey::value::Current;
use noticewright::survey::{ReadOptions, Survey, read};

#[test]
fn every_case_is_decided_as_written() {
    let mut differences = Vec::new();
    let mut count = 0;
    for file in case_files() {
        let text = load(&file);
        let mut rewritten = String::new();
        for case in cases(&text) {
            count += 1;
            let decided = decide_case(&case);
            if decided.trim() != case.expected.trim() {
                let name = file.file_name().unwrap().to_string_lossy().into_owned();
                differences.push(format!(
                    "{name}: {}\n--- written\n{}\n--- decided\n{decided}",
                    case.title,
                    case.expected.trim()
                ));
            }
            write!(rewritten, "=== {}\n{}\n--->\n{}\n\n", case.title, case.survey.trim(), decided.trim()).unwrap();
        }
        if is_rewriting() && rewritten.trim() != text.trim() {
            save(&file, &format!("{}\n", rewritten.trim_end()));
        }
    }
    assert!(count >= 60, "only {count} cases were found");
    assert!(
        is_rewriting() || differences.is_empty(),
        "{} of {count} differ\n\n{}",
        differences.len(),
        differences.join("\n\n")
    );
}

#[expect(clippy::disallowed_methods, reason = "a test reads its own cases")]
fn load(file: &Path) -> String {
    std::fs::read_to_string(file).unwrap()
}

#[expect(clippy::disallowed_methods, reason = "a test rewrites its own cases when asked")]
fn save(file: &Path, text: &str) {
    std::fs::write(file, text).unwrap();
}

#[expect(clippy::disallowed_methods, reason = "a test is told by its environment to rewrite its cases")]
fn is_rewriting() -> bool {
    std::env::var("REWRITE_DECISIONS").is_ok_and(|value| value == "1")
}

fn case_files() -> Vec<PathBuf> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/decisions");
    let mut files: Vec<_> = folder.read_dir().unwrap().map(|entry| entry.unwrap().path()).collect();
    files.retain(|file| file.extension().is_some_and(|ending| ending == "txt"));
    files.sort();
    files
}

struct Case<'a> {
    title: &'a str,
    survey: &'a str,
    expected: &'a str,
}

fn cases(text: &str) -> Vec<Case<'_>> {
    let blocks = text.split("=== ").map(str::trim).filter(|block| !block.is_empty());
    blocks
        .map(|block| {
            let (title, rest) = block.split_once('\n').unwrap_or_else(|| panic!("`{block}` is no case"));
            let (survey, expected) = rest.split_once("--->").unwrap_or((rest, ""));
            Case { title, survey, expected }
        })
        .collect()
}

fn decide_case(case: &Case<'_>) -> String {
    let is_csv = |line: &&str| !line.starts_with('#') && !line.starts_with("show:") && !line.starts_with("date:");
    let csv: Vec<_> = case.survey.lines().filter(is_csv).collect();
    let shows = |what: &str| case.survey.lines().any(|line| line.starts_with("show:") && line.contains(what));
    let csv = csv.join("\n");
    let (csv, list) = csv.split_once("standing:\n").map_or((csv.as_str(), None), |(csv, list)| (csv, Some(list)));
    let (csv, supplies) = csv.split_once("supplies:\n").map_or((csv, None), |(csv, file)| (csv, Some(file)));
    let supplies =
        supplies.map(|file| supplies::read(file.trim().as_bytes(), &supplies::ReadOptions::new("supplies.csv")));
    let file = supplies.as_ref().map(|reading| &reading.supplies);
    let ones = file.map(supplies::Supplies::ones).unwrap_or_default();
    let reading = read(csv.trim().as_bytes(), &ReadOptions { ones, ..ReadOptions::new("case.csv") });
    let (network, from_network) = Network::join(&reading.survey, file, &NetworkOptions::default());
    let (decisions, from_rules) = decide(&reading.survey, &network, &RuleOptions::default());
    let mut text = String::new();
    for (decision, enclosure) in decisions.enclosures.iter().zip(&reading.survey.enclosures) {
        let explanation = explain(&reading.survey, &network, &RuleOptions::default(), decision.enclosure);
        assert!(explanation.reasons.iter().map(|one| one.reason).eq(decision.reasons.iter().copied()));
        show_decision(&mut text, &enclosure.designation, (decision, &explanation), shows("all"));
        if network.is_described() {
            show_proof(&mut text, &reading.survey, &network, decision);
        }
    }
    let index = rules::isolators(&reading.survey, &network, &decisions.enclosures);
    for entry in index.iter().filter(|_| shows("index")) {
        show_entry(&mut text, &reading.survey, &network, entry);
    }
    for device in decisions.devices.iter().filter(|_| shows("devices")) {
        show_device(&mut text, device);
    }
    let date = case.survey.lines().find_map(|line| line.strip_prefix("date:"));
    let of_list = list.map(|list| show_standing(&mut text, list, date, &reading.survey, &network)).unwrap_or_default();
    let of_supplies = supplies.map(|reading| reading.findings).unwrap_or_default();
    let known_by_rules = [&of_supplies, &of_list, &from_network, &from_rules];
    for finding in known_by_rules.into_iter().flatten().chain(reading.findings.iter().filter(|it| is_error(it))) {
        show_finding(&mut text, finding);
        let help = finding.help.iter().filter(|_| shows("help"));
        help.for_each(|help| writeln!(text, "  help: {help}").unwrap());
    }
    text
}

/// Shows what a list of standing notices comes to; the answer is what was found in it.
fn show_standing(
    text: &mut String,
    list: &str,
    date: Option<&str>,
    survey: &Survey,
    network: &Network,
) -> Vec<Finding> {
    let standing::Reading { standing: list, findings } =
        standing::read(list.trim().as_bytes(), &standing::ReadOptions::new("standing.csv"));
    let (decided, found) = rules::standing::decide(&list, survey, network, date.and_then(Date::span));
    for decision in &decided {
        let reason = &decision.reason;
        let number = &list.entries[decision.entry].number;
        writeln!(text, "standing {number}: {}, words {}", outcome(reason.outcome), decision.words.name()).unwrap();
        writeln!(text, "  {}, {}: {}", reason.rule.name(), reason.clause_in_words(), decision.because).unwrap();
        let size = decision.least.size.map(|size| format!("plate at least {size}"));
        let capitals = decision.least.capitals.map(|capitals| format!("capitals at least {capitals} mm"));
        size.into_iter().chain(capitals).for_each(|line| writeln!(text, "  {line}").unwrap());
    }
    [findings, found].concat()
}

fn is_error(finding: &Finding) -> bool {
    finding.severity() == Severity::Error
}

fn show_decision(text: &mut String, enclosure: &str, (decision, explanation): (&Decision, &Explanation), all: bool) {
    writeln!(text, "{enclosure}: {}", outcome(decision.need)).unwrap();
    let is_quiet = |reason: &&Reason| reason.outcome == Outcome::NotNeeded && !all;
    for Explained { reason, because } in explanation.reasons.iter().filter(|one| !is_quiet(&&one.reason)) {
        writeln!(text, "  {} {}: {because}", reason.rule.name(), outcome(reason.outcome)).unwrap();
    }
    let quiet: Vec<_> = decision.reasons.iter().filter(is_quiet).map(|reason| reason.rule.name()).collect();
    if !quiet.is_empty() {
        writeln!(text, "  not needed: {}", quiet.join(", ")).unwrap();
    }
    for statement in &decision.statements {
        writeln!(text, "  says: {}", say(statement)).unwrap();
    }
    for point in &decision.points {
        writeln!(text, "  open: {}", show_point(point)).unwrap();
    }
    if decision.locations_left_out {
        text.push_str("  locations may be left out\n");
    }
    if let Some(device) = &decision.single_device {
        writeln!(text, "  single device: {device}").unwrap();
    }
    writeln!(text, "  voltage: {}", volts(decision)).unwrap();
    for line in explanation.voltages.iter().filter(|_| all) {
        writeln!(text, "    {line}").unwrap();
    }
}

fn show_proof(text: &mut String, survey: &Survey, network: &Network, decision: &Decision) {
    let proof = &decision.proof;
    writeln!(text, "  proof: {}", proof.result.in_words()).unwrap();
    for path in &proof.paths {
        writeln!(text, "    path: {}", network.path_in_words(survey, path)).unwrap();
    }
    for gap in network.gaps_in_words(survey, &proof.gaps) {
        writeln!(text, "    gap: {gap}").unwrap();
    }
    if let Some(cut) = &proof.cut {
        writeln!(text, "    cut: {}", network.cut_in_words(cut)).unwrap();
    }
    if !proof.surplus.is_empty() {
        writeln!(text, "    surplus: {}", network.surplus_in_words(proof)).unwrap();
    }
}

fn show_entry(text: &mut String, survey: &Survey, network: &Network, entry: &IsolatorEntry) {
    writeln!(text, "isolator {} ({})", entry.device, entry.location).unwrap();
    for IsolatedEnclosure { enclosure, circuits, alone, with, others } in &entry.enclosures {
        let enclosure = &survey.enclosures[*enclosure].designation;
        let with: Vec<_> = with.iter().map(|id| network.device(*id).unwrap().phrase()).collect();
        let how = match (*alone, *others) {
            (true, _) => "alone".to_owned(),
            (false, 0) => "not alone".to_owned(),
            (false, _) => format!("with {}", with.join(", ")),
        };
        writeln!(text, "  {enclosure} for {}: {how}", circuits.join(", ")).unwrap();
    }
}

const fn outcome(outcome: Outcome) -> &'static str {
    match outcome {
        Outcome::NotNeeded => "not needed",
        Outcome::Lifted => "lifted",
        Outcome::Advised => "advised",
        Outcome::Unknown => "unknown",
        Outcome::Required => "required",
    }
}

fn say(statement: &Statement) -> String {
    match statement {
        Statement::CannotBeIsolated { circuit } => format!("{circuit} cannot be isolated"),
        Statement::SeveralSupplies { supplies } => format!("several supplies: {}", supplies.join(", ")),
        Statement::SeveralIsolators => "several isolators".to_owned(),
        Statement::IsolatorsLeaveParts => "isolators leave parts".to_owned(),
        Statement::UnexpectedVoltage => "unexpected voltage".to_owned(),
        Statement::AlternativeSource { scope, sources, others, more_possible } => {
            let others = if others.is_empty() { String::new() } else { format!("; others: {}", others.join(", ")) };
            let more = if *more_possible { "; more possible" } else { "" };
            format!("sources, {scope:?}: {}{others}{more}", show_sources(sources))
        }
        Statement::LiveAtAnyTime { circuit, solar } => {
            format!("{circuit} live at any time, {}", if *solar { "solar" } else { "battery" })
        }
        Statement::LineSideLive { part, isolated_at, missing } => {
            let mut places: Vec<_> = isolated_at.iter().map(|(device, place)| format!("{device} ({place})")).collect();
            places.extend(missing.map(|missing| format!("{missing:?}")));
            format!("stays live: {part}; isolated at: {}", places.join(", "))
        }
        Statement::BackFeed { ups } => format!("{ups} can feed back"),
        Statement::StartsByItself { source } => format!("{source} may start"),
        Statement::StoredCharge { volts, seconds } => format!(
            "charge of {} V, wait {} s",
            volts.map_or_else(|| "?".to_owned(), |volts| volts.to_string()),
            seconds.map_or_else(|| "?".to_owned(), |seconds| seconds.to_string())
        ),
    }
}

fn show_sources(sources: &[SourceIsolation]) -> String {
    let show = |source: &SourceIsolation| {
        let devices: Vec<_> = source.isolated_at.iter().map(|(device, place)| format!("{device} ({place})")).collect();
        let missing = source.missing.map_or_else(String::new, |missing| format!(" {missing:?}"));
        format!("{} at {}{missing}", source.source, devices.join(" and "))
    };
    sources.iter().map(show).collect::<Vec<_>>().join("; ")
}

fn show_point(point: &PointOfIsolation) -> String {
    let order = point.order.map_or_else(String::new, |order| format!("{order}. "));
    let before = point.before.as_ref().map_or_else(String::new, |before| format!("; first {before}"));
    let load = if point.not_under_load { "; not under load" } else { "" };
    let inside = if point.inside { "; inside" } else { "" };
    let serves = if point.serves.is_empty() { String::new() } else { format!(", serving {}", point.serves.join(", ")) };
    let circuits = point.circuits.join(", ");
    format!("{order}{} ({}) for {circuits}{serves}{before}{load}{inside}", point.device, point.location)
}

fn volts(decision: &Decision) -> String {
    let figure = |voltage: &Voltage| {
        let current = if voltage.current == Current::Dc { " d.c." } else { "" };
        let bound = if voltage.bound { "at most " } else { "" };
        format!("{bound}{} V{current}", voltage.value)
    };
    let figures = |voltages: &[Voltage]| voltages.iter().map(figure).collect::<Vec<_>>().join(", ");
    match (decision.voltages.to_earth.is_empty(), decision.voltages.between.is_empty()) {
        (true, _) => "not known".to_owned(),
        (false, true) => format!("{} to earth", figures(&decision.voltages.to_earth)),
        (false, false) => {
            format!(
                "{} to earth, {} between",
                figures(&decision.voltages.to_earth),
                figures(&decision.voltages.between)
            )
        }
    }
}

fn show_device(text: &mut String, device: &DeviceDecision) {
    writeln!(text, "device {} ({}): {}", device.device, device.location, outcome(device.need)).unwrap();
    for Explained { reason, because } in device.explained() {
        writeln!(text, "  {} {}: {because}", reason.rule.name(), outcome(reason.outcome)).unwrap();
    }
    for Disconnects { circuit, is_part: _, enclosure, serves, alone, also, first, others_remain, parts_remain } in
        &device.disconnects
    {
        let serves = serves.as_ref().map_or_else(String::new, |serves| format!(" ({serves})"));
        let also = if also.is_empty() { String::new() } else { format!("; also open {}", also.join(", ")) };
        let first = if first.is_empty() { String::new() } else { format!("; first {}", first.join(", ")) };
        let others = if *others_remain { "; others remain" } else { "" };
        let half = if *alone { "" } else { "; not by itself" };
        let parts = if *parts_remain { "; parts remain" } else { "" };
        writeln!(text, "  disconnects {circuit}{serves} to {enclosure}{half}{first}{also}{others}{parts}").unwrap();
    }
    if let Some(point) = &device.source_point {
        let more = if point.more_possible { "; more possible" } else { "" };
        let sources = point.sources.join(", ");
        match point.others.is_empty() {
            true => writeln!(text, "  isolates {sources}; no others{more}").unwrap(),
            false => writeln!(text, "  isolates {sources}; others: {}{more}", show_sources(&point.others)).unwrap(),
        }
    }
    if device.not_under_load {
        text.push_str("  not under load\n");
    }
    for before in &device.before {
        writeln!(text, "  first: {before}").unwrap();
    }
    if let Some(distance) = device.reading_distance {
        writeln!(text, "  read from {distance}").unwrap();
    }
}

fn show_finding(text: &mut String, finding: &Finding) {
    let place = finding
        .place
        .as_ref()
        .map_or_else(String::new, |place| format!(" [line {} {}]", place.line, place.column_name));
    writeln!(text, "{}: {}{place}: {}", finding.severity().name(), finding.code.name, finding.message).unwrap();
}
