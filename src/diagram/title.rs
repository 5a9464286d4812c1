//! The words above and below the picture: whose supplies these are, what the proof came to, and what a drawing cannot do.

use super::facts::Case;
use super::lettering::{BODY, Lettering, PITCH, Words};
use super::outline::Outline;
use super::pen::Pen;
use crate::drawing::{Face, Ink};
use crate::network::{Isolated, ProofResult};
use crate::typesetting::Misfit;

/// Height of the capitals of the designation, of the name beside it, and of the result.
const DESIGNATION: f64 = 4.4;
const NAME: f64 = 2.6;
const RESULT: f64 = 2.2;

/// Things not known that are written out.
const MOST_GAPS: usize = 3;

/// From baseline to baseline of the result.
const RESULT_PITCH: f64 = 3.9;

/// The head of the diagram.
pub(super) struct Title {
    designation: Vec<Words>,
    name: Vec<Words>,
    result: Vec<Words>,
    width: f64,
}

impl Title {
    /// Sets the head within a width.
    pub(super) fn of(case: &Case<'_>, lettering: Lettering<'_>, width: f64) -> Result<Self, Misfit> {
        let designation = case.enclosure().map_or("", |enclosure| enclosure.designation.as_str());
        let mut result = Vec::new();
        for (place, text) in result_in_words(case).iter().enumerate() {
            let face = if place == 0 { Face::Bold } else { Face::Medium };
            result.extend(lettering.wrapped(face, RESULT, text, width, 6)?);
        }
        Ok(Self {
            designation: lettering.wrapped(Face::Bold, DESIGNATION, designation, width, 2)?,
            name: lettering.wrapped(Face::Medium, NAME, &name_and_area(case), width, 3)?,
            result,
            width,
        })
    }

    fn name_is_beside(&self) -> bool {
        let widths = self.designation.iter().chain(&self.name).map(Words::width).sum::<f64>();
        self.designation.len() + self.name.len() <= 2 && widths + 4.0 <= self.width
    }

    pub(super) fn height(&self) -> f64 {
        self.lines(&mut |_, _, _| {}) + 5.0
    }

    /// Calls with every line and the left end of its baseline, and returns the height of all of them.
    fn lines(&self, put: &mut dyn FnMut(&Words, f64, f64)) -> f64 {
        let mut y = 0.0;
        for words in &self.designation {
            y += DESIGNATION + 1.6;
            put(words, 0.0, y - 1.6);
        }
        match (self.name_is_beside(), self.designation.first()) {
            (true, Some(first)) => {
                self.name.iter().for_each(|words| put(words, first.width() + 4.0, y - 1.6));
            }
            (true | false, _) => {
                for words in &self.name {
                    y += NAME + 2.0;
                    put(words, 0.0, y - 1.6);
                }
            }
        }
        y += 2.4;
        for words in &self.result {
            put(words, 0.0, y + RESULT);
            y += RESULT_PITCH;
        }
        y
    }

    pub(super) fn draw(&self, pen: &mut Pen<'_>, top: f64) {
        let height = self.lines(&mut |words, x, y| pen.words(words, (x, top + y), Ink::Black));
        pen.line(&[(0.0, top + height + 0.4), (self.width, top + height + 0.4)], 0.5);
    }

    /// The enclosure's name in its box.
    pub(super) fn box_name(&self, case: &Case<'_>, lettering: Lettering<'_>, width: f64) -> Result<Vec<Words>, Misfit> {
        let Some(enclosure) = case.enclosure() else { return Ok(Vec::new()) };
        let mut words = lettering.wrapped(Face::Bold, RESULT, &enclosure.designation, width.max(60.0), 1)?;
        if let Some(name) = &enclosure.name {
            let beside = lettering.line(Face::Regular, RESULT, name)?;
            let used = words.iter().map(Words::width).sum::<f64>();
            words.extend((used + beside.width() + 10.0 < width).then_some(beside));
        }
        Ok(words)
    }
}

fn name_and_area(case: &Case<'_>) -> String {
    let enclosure = case.enclosure();
    let parts =
        enclosure.into_iter().flat_map(|enclosure| [enclosure.name.as_deref(), enclosure.area.as_deref()]).flatten();
    parts.collect::<Vec<_>>().join(", ")
}

/// What the proof came to, then what it rests on.
fn result_in_words(case: &Case<'_>) -> Vec<String> {
    let proof = case.proof();
    let open = opened(case.decision.points.len());
    match proof.result {
        ProofResult::NoPathFound => vec![
            format!("No path found {open}"),
            "On the word of survey and supplies file: what they leave out is not in this drawing".to_owned(),
        ],
        ProofResult::Live => {
            let impossible = case.network.ways(case.id()).iter().any(|way| way.isolated == Isolated::Impossible);
            let why = if proof.paths.is_empty() && impossible {
                "a circuit cannot be isolated"
            } else {
                "see the heavy line"
            };
            vec![format!("Live path found {open}: {why}"), "Treat as live".to_owned()]
        }
        ProofResult::Unknown => {
            let mut lines = vec![format!("Unknown whether live parts remain {open}")];
            let gaps = proof.gaps.iter().map(|gap| case.network.gap_in_words(case.survey, gap));
            lines.extend(gaps.take(MOST_GAPS).map(|gap| format!("Not known: {gap}")));
            lines.extend(match proof.gaps.len().saturating_sub(MOST_GAPS) {
                0 => None,
                1 => Some("and one thing more".to_owned()),
                more => Some(format!("and {more} things more")),
            });
            lines
        }
    }
}

/// `with 1, 2 and 3 open`.
fn opened(points: usize) -> String {
    match points {
        0 => "with nothing declared to open".to_owned(),
        1 => "with 1 open".to_owned(),
        2 => "with 1 and 2 open".to_owned(),
        3 => "with 1, 2 and 3 open".to_owned(),
        count => format!("with 1 to {count} open"),
    }
}

/// The lines below the picture.
pub(super) struct Foot {
    lines: Vec<Words>,
    width: f64,
}

impl Foot {
    /// Sets the foot within a width.
    pub(super) fn of(case: &Case<'_>, outline: &Outline, lettering: Lettering<'_>, width: f64) -> Result<Self, Misfit> {
        let caution = "A drawing does not make anything dead: prove dead at the point of work.";
        let mut lines = lettering.wrapped(Face::Bold, RESULT, caution, width, 2)?;
        let mut notes = vec![
            "Numbers are the points of isolation, as on the notice. Contacts are drawn at rest, by IEC 60617: that says \
             nothing about their position on site."
                .to_owned(),
        ];
        if outline.sources_left_out > 0 {
            notes.push(format!("{} sources more could feed back and are not drawn.", outline.sources_left_out));
        }
        if case.supplies.is_none() {
            notes.push("Without a supplies file: only what the survey says is drawn.".to_owned());
        }
        for note in notes {
            lines.extend(lettering.wrapped(Face::Regular, BODY, &note, width, 3)?);
        }
        Ok(Self { lines, width })
    }

    pub(super) fn height(&self) -> f64 {
        f64::from(u32::try_from(self.lines.len()).unwrap_or(0)) * PITCH + 5.0
    }

    pub(super) fn draw(&self, pen: &mut Pen<'_>, top: f64) {
        pen.line(&[(0.0, top + 1.0), (self.width, top + 1.0)], 0.24);
        let mut baseline = top + 1.0 + 3.0 + BODY;
        for words in &self.lines {
            pen.words(words, (0.0, baseline), Ink::Black);
            baseline += PITCH;
        }
    }
}
