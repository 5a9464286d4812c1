//! The table of outcomes in the demo's README is true.

use std::collections::{BTreeMap, BTreeSet};

use noticewright::rules::Rule;

use crate::site::{printed, text};

/// The table's rows: rule, then what stands under each outcome.
fn table() -> Vec<(String, Vec<(String, String)>)> {
    let path = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("demo-data/README.md");
    let readme = std::fs::read_to_string(path).unwrap();
    let lines: Vec<&str> =
        readme.lines().skip_while(|line| !line.starts_with("| rule |")).take_while(|line| !line.is_empty()).collect();
    let cells =
        |line: &str| -> Vec<String> { line.trim_matches('|').split('|').map(|cell| cell.trim().to_owned()).collect() };
    let outcomes: Vec<String> = cells(lines[0]).iter().skip(1).map(|outcome| outcome.replace(' ', "-")).collect();
    let row = |line: &&str| {
        let cells = cells(line);
        let under = outcomes.iter().cloned().zip(cells[1..].iter().cloned()).collect();
        (cells[0].replace(' ', "-"), under)
    };
    lines[2..].iter().map(row).collect()
}

/// What each rule says of each enclosure.
fn decided() -> BTreeMap<(&'static str, &'static str), &'static str> {
    let mut decided = BTreeMap::new();
    for enclosure in printed().list("enclosures") {
        for reason in enclosure["reasons"].as_array().unwrap() {
            decided.insert((text(&reason["rule"]), text(&enclosure["enclosure"])), text(&reason["outcome"]));
        }
    }
    decided
}

fn enclosures() -> BTreeSet<&'static str> {
    printed().list("enclosures").iter().map(|enclosure| text(&enclosure["enclosure"])).collect()
}

/// The names of a cell that are among those known; what stands in brackets or code is a remark.
fn named<'a>(cell: &str, known: &BTreeSet<&'a str>) -> Vec<&'a str> {
    let mut plain = String::new();
    let mut depth = 0;
    let mut code = false;
    for c in cell.chars() {
        match c {
            '`' => code = !code,
            '(' => depth += 1,
            ')' => depth -= 1,
            c if depth == 0 && !code => plain.push(c),
            _ => {}
        }
    }
    let words = plain.split(|c: char| c.is_whitespace() || c == ',' || c == ';');
    words.filter_map(|word| known.get(word).copied()).collect()
}

#[test]
fn each_enclosure_named_has_the_outcome_under_which_it_stands() {
    let (decided, known) = (decided(), enclosures());
    let isolators = isolators();
    let (mut wrong, mut judged) = (Vec::new(), 0);
    for (rule, cells) in table() {
        let named_in_row: BTreeSet<&str> = cells.iter().flat_map(|(_, cell)| named(cell, &known)).collect();
        for (outcome, cell) in &cells {
            let others = known.difference(&named_in_row).copied().filter(|_| cell.contains("the others"));
            // The row on back-feed names isolators too, and one of them stands in an enclosure of its own name.
            let is_isolator = |name: &&str| rule == "back-feed" && isolators.contains(name);
            let enclosures = named(cell, &known).into_iter().filter(|name| !is_isolator(name));
            for name in enclosures.chain(others) {
                judged += 1;
                let actual = decided.get(&(rule.as_str(), name)).copied();
                if actual != Some(outcome.as_str()) {
                    wrong.push(format!("{rule}: {name} is {actual:?}, not {outcome}"));
                }
            }
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    assert!(judged >= 250, "only {judged} outcomes were found in the table");
}

#[test]
fn each_standing_notice_stands_in_the_row_of_its_kind() {
    let table: BTreeMap<_, _> = table().into_iter().collect();
    let listed = printed().list("standing");
    let numbers: BTreeSet<&str> = listed.iter().map(|entry| text(&entry["number"])).collect();
    assert_eq!(listed.len(), crate::site::standing().len());
    for entry in listed {
        let row = &table[text(&entry["rule"])];
        let named: Vec<&str> = row
            .iter()
            .filter(|(_, cell)| named(cell, &numbers).contains(&text(&entry["number"])))
            .map(|(outcome, _)| outcome.as_str())
            .collect();
        assert_eq!(named, [text(&entry["notice"])], "{entry}");
    }
}

#[test]
fn each_rule_has_its_row() {
    let rows: Vec<String> = table().into_iter().map(|(rule, _)| rule).collect();
    for rule in Rule::ALL {
        let row = if rule == Rule::DeviceIdentity { "what-a-device-isolates" } else { rule.name() };
        assert!(rows.iter().any(|name| name == row), "{row} is not in the table");
    }
}

/// The isolators named in a cell, which are those of notices or of points of isolation.
fn isolators() -> BTreeSet<&'static str> {
    let points = printed().list("enclosures").iter().flat_map(|one| one["points_of_isolation"].as_array().unwrap());
    points.map(|point| text(&point["device"])).collect()
}

/// Isolators whose notice answers a rule.
fn notices_with(rule: &str) -> BTreeSet<&'static str> {
    let on_devices = printed().notices().iter().filter(|notice| notice["subject"]["kind"] == "device");
    let answering = on_devices.filter(|notice| notice["rules"].as_array().unwrap().iter().any(|one| one == rule));
    answering.map(|notice| text(&notice["subject"]["designation"])).collect()
}

#[test]
fn the_isolators_named_carry_or_lack_their_notice() {
    let table: BTreeMap<_, _> = table().into_iter().collect();
    let back_feed: BTreeSet<&str> = named(&table["back-feed"][0].1, &isolators()).into_iter().collect();
    assert_eq!(back_feed, notices_with("back-feed"));
    let obvious: BTreeSet<&str> = named(&table["what-a-device-isolates"][2].1, &isolators()).into_iter().collect();
    assert_eq!(obvious.len(), 3);
    let without: BTreeSet<&str> = isolators().difference(&notices_with("device-identity")).copied().collect();
    assert_eq!(without, obvious, "every other isolator is labelled");
}

#[test]
fn the_enclosures_without_a_notice_are_those_listed() {
    let path = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("demo-data/README.md");
    let readme = std::fs::read_to_string(path).unwrap();
    let line = readme.lines().find(|line| line.starts_with("| no notice at all |")).unwrap();
    let listed: BTreeSet<&str> = named(line, &enclosures()).into_iter().collect();
    let unneeded = printed().list("enclosures").iter().filter(|enclosure| enclosure["notice"] == "not-needed");
    assert_eq!(unneeded.map(|enclosure| text(&enclosure["enclosure"])).collect::<BTreeSet<_>>(), listed);
}

#[test]
fn the_counts_are_those_of_the_survey() {
    let path = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("demo-data/README.md");
    let readme = std::fs::read_to_string(path).unwrap();
    let bytes = std::fs::read(crate::site::survey()).unwrap();
    let survey = noticewright::survey::read(&bytes, &noticewright::survey::ReadOptions::new("survey.csv")).survey;
    let rows: usize = survey.enclosures.iter().map(|enclosure| enclosure.rows.len()).sum();
    let counts = format!("the whole site: {} enclosures, {rows} rows", survey.enclosures.len());
    assert!(readme.contains(&counts), "{counts}");
}
