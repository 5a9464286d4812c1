//! Runs of text into pieces: what stands on one line without a gap, in the coordinates of the label on which it lies.

use kurbo::{Affine, Point, Rect};

use super::drawn::Drawn;
use super::gather::Run;
use super::words;
use crate::drawing::Face;
use crate::typesetting::fonts;

/// A piece of text on a label, upright, in millimetres from the label's upper left corner, `y` down.
#[derive(Clone, Debug)]
pub(super) struct Piece {
    /// What it says, as texts are compared.
    pub(super) text: String,
    /// Ends of the baseline.
    pub(super) left: f64,
    pub(super) right: f64,
    pub(super) baseline: f64,
    /// One em in height, and the em along the baseline as a share of it.
    pub(super) em: f64,
    pub(super) stretch: f64,
    /// False where it does not run level from left to right.
    pub(super) is_level: bool,
    pub(super) misdrawn: Option<Drawn>,
    /// Its letters are not those that its span tells.
    pub(super) contradicts: Option<String>,
}

impl Piece {
    /// Height of its capitals in millimetres.
    pub(super) fn capital(&self) -> f64 {
        let heights = fonts::heights(Face::Regular);
        self.em * f64::from(heights.capital) / f64::from(heights.units_per_em)
    }

    /// The box of its capitals.
    pub(super) fn bounds(&self) -> Rect {
        Rect::new(self.left, self.baseline - self.capital(), self.right, self.baseline)
    }

    /// Whether it stands on the same line as another, or so nearly that a person takes it for that.
    pub(super) fn is_level_with(&self, other: &Self) -> bool {
        (self.baseline - other.baseline).abs() < 0.25 * self.em.min(other.em)
    }

    /// Whether both begin at the same place from the left.
    pub(super) fn is_aligned_with(&self, other: &Self) -> bool {
        (self.left - other.left).abs() < 0.06 * self.em.max(other.em)
    }
}

/// Runs are one piece when the next begins where the last ended, within this share of the em.
const TOUCHING: f64 = 0.06;

/// An accent moves so far off the baseline at most, in ems.
const RISE: f64 = 0.7;

/// The pieces of visible text, in the order of painting; `to_label` leads from the page to the label.
pub(super) fn pieces<'r>(runs: impl IntoIterator<Item = &'r Run>, to_label: Affine) -> Vec<Piece> {
    let mut lines: Vec<Line<'r>> = Vec::new();
    for run in runs.into_iter().filter(|run| run.visible) {
        match lines.last_mut() {
            Some(line) if line.goes_on_with(run) => line.runs.push(run),
            Some(_) | None => lines.push(Line { runs: vec![run] }),
        }
    }
    lines.iter().filter_map(|line| line.piece(to_label)).filter(|piece| !piece.text.is_empty()).collect()
}

/// Runs that belong together.
struct Line<'r> {
    runs: Vec<&'r Run>,
}

impl Line<'_> {
    fn goes_on_with(&self, next: &Run) -> bool {
        let Some(last) = self.runs.last() else { return false };
        if last.span.is_some() || next.span.is_some() {
            return last.span == next.span;
        }
        let em = last.along.hypot();
        let same_size = (next.along - last.along).hypot() < 0.01 * em;
        let gap = next.start - last.end;
        let (along, across) = (gap.dot(last.along) / em, gap.cross(last.along) / em);
        same_size && along.abs() <= TOUCHING * em && across.abs() <= RISE * em
    }

    fn piece(&self, to_label: Affine) -> Option<Piece> {
        let (first, last) = (self.runs.first()?, self.runs.last()?);
        let told: String = self.runs.iter().map(|run| run.text.as_str()).collect();
        let span = first.span.as_ref().map(|span| span.text.as_str());
        let contradicts = span.filter(|text| !words::may_be_drawn_as(text, &told)).map(|_| words::plain(&told));
        let (start, end) = (to_label * first.start, to_label * last.end);
        let turned = |vector: kurbo::Vec2| (to_label * vector.to_point()) - (to_label * Point::ZERO);
        let (along, up) = (turned(first.along), turned(first.up));
        let em = up.hypot();
        let is_level = along.x > 0.0 && along.y.abs() < 0.01 * em && up.y < 0.0 && up.x.abs() < 0.01 * em;
        Some(Piece {
            text: words::plain(span.unwrap_or(&told)),
            left: start.x,
            right: end.x,
            baseline: start.y,
            em,
            stretch: along.hypot() / em.max(f64::MIN_POSITIVE),
            is_level,
            misdrawn: self.runs.iter().find_map(|run| run.misdrawn.clone()),
            contradicts,
        })
    }
}
