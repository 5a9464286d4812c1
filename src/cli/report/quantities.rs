//! What a run needs of each material: a few lines for a buyer, and an entry of the machine-readable report.

use serde::Serialize;

use super::{counted, visible};
use crate::material::RubTest;
use crate::sheets::{Quantity, SizeQuantity, paper_name};

/// What a run needs of one sheet format, as a script sees it. Areas are square metres to four decimals.
#[derive(Clone, Debug, Serialize)]
pub struct QuantityEntry {
    /// Name of the sheet format.
    format: String,
    /// Class of the material.
    material: String,
    /// How it is marked: `laser`, `inkjet`, `thermal-transfer`, `engraving`, `press`.
    process: &'static str,
    /// Its colour before it is marked: `white`, `yellow`, `silver`.
    stock: &'static str,
    /// The paper, `A4`, or its size in millimetres.
    paper: String,
    /// Sheets, or pieces of a roll.
    sheets: usize,
    /// Notices of all sizes, copies included.
    notices: usize,
    /// Area of the notices.
    notice_area_m2: f64,
    /// Area of the sheets that they use up.
    material_area_m2: f64,
    /// The notices by size, largest first.
    sizes: Vec<SizeEntry>,
    /// How the mark is tried; absent figures are those of a class that nobody knows.
    rub_test: Option<RubTestEntry>,
    /// Usual years indoors: least and most, or the least alone for "and more"; empty where it is not meant for that.
    indoor_years: Vec<u16>,
    /// Usual years in the open.
    outdoor_years: Vec<u16>,
    /// Notices of which nobody says what they must stand up to.
    environment_unknown: usize,
    /// Notices of which nobody says what they are fixed on.
    surface_unknown: usize,
}

#[derive(Clone, Debug, Serialize)]
struct SizeEntry {
    size_mm: [f64; 2],
    notices: usize,
}

#[derive(Clone, Debug, Serialize)]
struct RubTestEntry {
    /// `exempt` or `water-then-spirit`.
    requirement: &'static str,
    /// `not-rubbed`, `passes`, `fails` or `not-known`: an expectation, never a result.
    expected: &'static str,
}

/// The entries of a report.
#[must_use]
pub fn entries(quantities: &[Quantity]) -> Vec<QuantityEntry> {
    quantities.iter().map(entry).collect()
}

fn entry(quantity: &Quantity) -> QuantityEntry {
    let (indoors, outdoors) = quantity.lives.unzip();
    let rub = |test: RubTest| RubTestEntry { requirement: test.requirement.name(), expected: test.expectation.name() };
    let size = |one: &SizeQuantity| SizeEntry {
        size_mm: [one.size.width.to_mm(), one.size.height.to_mm()],
        notices: one.notices,
    };
    QuantityEntry {
        format: quantity.format.name.clone(),
        material: quantity.material().to_owned(),
        process: quantity.process().name(),
        stock: quantity.stock().name(),
        paper: paper_name(quantity.format.paper),
        sheets: quantity.sheets,
        notices: quantity.notices(),
        notice_area_m2: rounded(quantity.notice_area()),
        material_area_m2: rounded(quantity.material_area()),
        sizes: quantity.sizes.iter().map(size).collect(),
        rub_test: quantity.rub_test.map(rub),
        indoor_years: indoors.map(crate::material::Life::numbers).unwrap_or_default(),
        outdoor_years: outdoors.map(crate::material::Life::numbers).unwrap_or_default(),
        environment_unknown: quantity.environment_unknown,
        surface_unknown: quantity.surface_unknown,
    }
}

fn rounded(square_metres: f64) -> f64 {
    (square_metres * 10_000.0).round() / 10_000.0
}

/// What to order, a block of lines for each material, way of marking and stock; empty for nothing.
#[must_use]
pub fn text(quantities: &[Quantity]) -> String {
    let mut groups: Vec<Vec<&Quantity>> = Vec::new();
    for quantity in quantities {
        match groups.iter_mut().find(|group| group.first().is_some_and(|first| first.is_like(quantity))) {
            Some(group) => group.push(quantity),
            None => groups.push(vec![quantity]),
        }
    }
    groups.iter().filter_map(|group| Some(block(group.first()?, group))).collect()
}

fn block(first: &Quantity, group: &[&Quantity]) -> String {
    let area = |of: fn(&Quantity) -> f64| group.iter().map(|one| of(one)).sum::<f64>();
    let mut text = format!(
        "to order: {} of {}, {}, marked by {}: {:.2} m² for {:.2} m² of notices ({})\n",
        sheets(group),
        visible(first.material()),
        first.stock().name(),
        first.process(),
        area(Quantity::material_area),
        area(Quantity::notice_area),
        sizes(group),
    );
    if let Some(test) = first.rub_test {
        text.push_str(&format!("  rub test: {test}\n"));
    }
    if let Some((indoors, outdoors)) = first.lives {
        text.push_str(&format!("  usual life: {indoors} indoors, {outdoors} in the open\n"));
    }
    let count = |of: fn(&Quantity) -> usize| group.iter().map(|one| of(one)).sum::<usize>();
    let unknown = [
        (count(|one| one.environment_unknown), "must stand up to"),
        (count(|one| one.surface_unknown), "are fixed on"),
    ];
    let unknown: Vec<String> = unknown
        .into_iter()
        .filter(|(notices, _)| *notices > 0)
        .map(|(notices, what)| format!("what {notices} of {} {what}", count(Quantity::notices)))
        .collect();
    if !unknown.is_empty() {
        text.push_str(&format!("  not known: {}\n", unknown.join("; ")));
    }
    text
}

/// `3 sheets A4 and 1 sheet A3`
fn sheets(group: &[&Quantity]) -> String {
    let mut papers: Vec<(String, bool, usize)> = Vec::new();
    for one in group {
        let paper = paper_name(one.format.paper);
        match papers.iter_mut().find(|(known, roll, _)| (known, *roll) == (&paper, one.is_roll())) {
            Some((_, _, count)) => *count += one.sheets,
            None => papers.push((paper, one.is_roll(), one.sheets)),
        }
    }
    let words = papers.iter().map(|(paper, roll, count)| {
        let word = if *roll { "label" } else { "sheet" };
        format!("{} {paper}", counted(*count, word))
    });
    words.collect::<Vec<_>>().join(" and ")
}

/// `8 of 105 x 74 mm, 2 of 148 x 105 mm`
fn sizes(group: &[&Quantity]) -> String {
    let mut sizes: Vec<SizeQuantity> = Vec::new();
    for one in group.iter().flat_map(|one| &one.sizes) {
        match sizes.iter_mut().find(|known| known.size == one.size) {
            Some(known) => known.notices += one.notices,
            None => sizes.push(*one),
        }
    }
    sizes.iter().map(|one| format!("{} of {}", one.notices, one.size)).collect::<Vec<_>>().join(", ")
}
