//! The plate: the words of a notice on a sheet of a size, at the largest letters that fit.

mod choice;
mod content;
mod figures;
mod foot;
mod header;
mod pen;
mod points;
mod scale;

use std::sync::Arc;

use choice::{Choice, choices};
use pen::Pen;
use scale::{Frame, Scale, TIGHTEST};

use super::shaping::Shaper;
use super::{Misfit, SetNotice, code};
use crate::drawing::{Drawing, Ink, Path};
use crate::length::{Length, Point, Rect, Size};
use crate::notice::Subject;

pub(super) use content::Content;
pub(super) use scale::Floors;

/// A plate of one size, to be tried and drawn.
pub(super) struct Plate<'a> {
    content: &'a Content,
    frame: Frame,
    floors: Floors,
}

/// An arrangement with the step of the scale that it fills.
#[derive(Clone, Copy, Debug)]
pub(super) struct Fitted {
    choice: Choice,
    lines: Lines,
    step: f64,
    /// The largest module of the code, in mm.
    module: f64,
}

/// Whether larger letters may take more lines than the least letters do.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Lines {
    AsFew,
    More,
}

/// How much an arrangement is liked whose letters are larger at the price of more lines.
const MORE_LINES: f64 = 0.78;

/// Every part once measured, and what is left over.
struct Measured<'a> {
    header: header::Header,
    list: points::List,
    foot: foot::Foot<'a>,
    /// Height that is left when every gap is as its scale wants it.
    left: f64,
    lines: usize,
}

/// Thickness of the rule under the head, and of the one over the foot; thinner where letters are small.
fn rules(scale: &Scale) -> [f64; 2] {
    [(scale.letter * 0.145).min(0.5), (scale.letter * 0.07).min(0.24)]
}

impl<'a> Plate<'a> {
    pub(super) fn new(content: &'a Content, size: Size, floors: Floors) -> Self {
        Self { content, frame: Frame::of(size), floors }
    }

    /// The best arrangement: large letters, and all else being equal the one that is liked most. `None` if nothing fits.
    pub(super) fn fit(&self) -> Option<Fitted> {
        let mut best: Option<(f64, Fitted)> = None;
        for choice in choices(self.content, &self.frame) {
            for (lines, liking) in [(Lines::AsFew, choice.liking), (Lines::More, choice.liking * MORE_LINES)] {
                let start = best.map_or(TIGHTEST, |(worth, _)| step_for(worth / liking).max(TIGHTEST));
                if start > LARGEST || self.measured(choice, start, f64::INFINITY).is_none() {
                    break;
                }
                let Some(step) = self.largest(choice, start, f64::INFINITY, lines) else { continue };
                let worth = worth_of(step) * liking;
                if best.is_none_or(|(least, _)| worth > least + 1e-9) {
                    best = Some((worth, Fitted { choice, lines, step, module: f64::INFINITY }));
                }
            }
        }
        best.map(|(_, fitted)| self.opened(fitted))
    }

    /// A tight plate opens further if its code stays as it is: the growing code may be all that stood in the way.
    fn opened(&self, fitted: Fitted) -> Fitted {
        if fitted.step >= 0.0 || self.content.code_side().is_none() {
            return fitted;
        }
        let module = Scale::at(fitted.step, self.floors).module;
        let step = self.largest(fitted.choice, fitted.step, module, fitted.lines).unwrap_or(fitted.step);
        Fitted { step, module, ..fitted }
    }

    /// Whether any arrangement fits at all.
    pub(super) fn fits(&self) -> bool {
        choices(self.content, &self.frame)
            .into_iter()
            .any(|choice| self.measured(choice, TIGHTEST, f64::INFINITY).is_some())
    }

    /// The largest step at which an arrangement fits, from `start` on. Everything grows with the step, so that what fits at one
    /// fits at all below.
    fn largest(&self, choice: Choice, start: f64, module: f64, lines: Lines) -> Option<f64> {
        let most = match lines {
            Lines::AsFew => self.lines_at_floor(choice)?,
            Lines::More => usize::MAX,
        };
        let fits = |step: f64| self.measured(choice, step, module).is_some_and(|measured| measured.lines <= most);
        if !fits(start) {
            return None;
        }
        let (mut low, mut high, mut stride) = (start, start, 0.5);
        while high < LARGEST {
            high = (low + stride).min(LARGEST);
            if !fits(high) {
                break;
            }
            (low, stride) = (high, stride * 2.0);
        }
        while high - low > 0.01 * high.max(1.0) {
            let middle = low.midpoint(high);
            if fits(middle) { low = middle } else { high = middle }
        }
        Some(low)
    }

    /// The lines that an arrangement takes at the least letters with comfortable white space, or at the tightest.
    fn lines_at_floor(&self, choice: Choice) -> Option<usize> {
        let at = |step| self.measured(choice, step, f64::INFINITY);
        at(0.0).or_else(|| at(TIGHTEST)).map(|measured| measured.lines)
    }

    /// Measures everything at a step; `None` if it does not fit.
    fn measured(&self, choice: Choice, step: f64, module: f64) -> Option<Measured<'a>> {
        let scale = Scale::at(step, self.floors).with_module_below(module);
        let width = self.frame.width;
        let header = header::measure(self.content, choice, &scale, width)?;
        let list = points::measure(self.content, choice, &scale, width)?;
        let foot = foot::measure(self.content, choice, &scale, width)?;
        let gaps = Gaps::of(&scale, &list, &foot);
        let left = self.frame.height - header.height - list.height - foot.height - gaps.sum();
        let lines = header.lines + list.lines + foot.lines;
        (left >= 0.0).then_some(Measured { header, list, foot, left, lines })
    }

    /// Draws the plate as fitted.
    pub(super) fn draw(&self, fitted: Fitted, shaper: &Shaper) -> Result<Option<SetNotice>, Misfit> {
        let Fitted { choice, step, module, .. } = fitted;
        let Some(measured) = self.measured(choice, step, module) else { return Ok(None) };
        let scale = Scale::at(step, self.floors).with_module_below(module);
        let mut pen = Pen::new(shaper, self.frame.size, self.frame.margin);
        outline(pen.drawing(), &self.frame);
        self.fill(choice, &scale, &measured, &mut pen)?;
        Ok(Some(SetNotice {
            drawing: Arc::new(pen.into_drawing()),
            letter_height: Length::mm(scale.letter),
            sign_height: (self.content.subject == Subject::Enclosure).then(|| Length::mm(scale.sign)),
            code_module: self.content.code.is_some().then(|| Length::mm((scale.module * 1_000.0).floor() / 1_000.0)),
        }))
    }

    fn fill(&self, choice: Choice, scale: &Scale, measured: &Measured<'_>, pen: &mut Pen<'_>) -> Result<(), Misfit> {
        let Measured { header, list, foot, left, .. } = measured;
        let width = self.frame.width;
        let (gaps, between_rows, in_foot) = Gaps::of(scale, list, foot).shared_out(*left, scale, list, foot);
        header.draw(self.content, choice, scale, pen)?;
        let mut y = header.height + gaps.over_head_rule;
        if gaps.has_rules() {
            pen.rule(y, width, gaps.head_rule);
        }
        y += gaps.head_rule + gaps.under_head_rule;
        list.draw(self.content, choice, scale, pen, (y, between_rows))?;
        let rows = u32::try_from(list.rows.saturating_sub(1)).unwrap_or(u32::MAX);
        y += list.height + f64::from(rows) * between_rows + gaps.over_foot_rule;
        if gaps.foot_rule > 0.0 {
            pen.rule(y, width, gaps.foot_rule);
        }
        foot.draw(self.content, choice, scale, pen, (self.frame.height, in_foot))
    }
}

/// The side of a content's code with its quiet zone at the least module, and the room for it on a plate: if the code is all
/// that does not fit.
pub(super) fn code_and_room(content: &mut Content, size: Size, floors: Floors) -> Option<(Length, Length)> {
    let side = content.code_side()?;
    let square = |side: u16| Length::mm(f64::from(side + 2 * code::QUIET_ZONE) * scale::LEAST_MODULE);
    let mut fits_with = |side: Option<u16>| {
        content.set_code_side(side);
        Plate::new(content, size, floors).fits()
    };
    let room = fits_with(None).then(|| (0..side).rev().find(|side| fits_with(Some(*side))));
    content.set_code_side(Some(side));
    room.map(|room| (square(side), room.map_or(Length::ZERO, square)))
}

/// No plate has larger letters than this step gives.
const LARGEST: f64 = 40.0;

/// What a step is worth: emphasis counts for a third of a step, and beyond it the size of the letters.
fn worth_of(step: f64) -> f64 {
    if step <= 1.0 { 1.0 + 0.3 * step } else { 1.3 * step }
}

fn step_for(worth: f64) -> f64 {
    if worth <= 1.3 { (worth - 1.0) / 0.3 } else { worth / 1.3 }
}

/// The white between the parts, and the rules in it, in mm.
#[derive(Clone, Copy, Debug)]
struct Gaps {
    over_head_rule: f64,
    head_rule: f64,
    under_head_rule: f64,
    over_foot_rule: f64,
    foot_rule: f64,
    under_foot_rule: f64,
}

impl Gaps {
    fn of(scale: &Scale, list: &points::List, foot: &foot::Foot<'_>) -> Self {
        let (rows, foot) = (list.rows > 0, !foot.is_empty());
        let [head_rule, foot_rule] = rules(scale);
        let only = |there: bool, gap: f64| if there { gap } else { 0.0 };
        // A disc reaches beyond its row's capitals by not quite half a capital.
        let overhang = (scale.disc - scale.letter) / 2.0;
        Self {
            over_head_rule: only(rows || foot, scale.gap(1.0)),
            head_rule: only(rows || foot, head_rule),
            under_head_rule: only(rows, overhang + scale.gap(0.62)),
            over_foot_rule: only(rows && foot, overhang + scale.gap(0.72)),
            foot_rule: only(rows && foot, foot_rule),
            under_foot_rule: only(foot, scale.gap(0.85)),
        }
    }

    fn sum(&self) -> f64 {
        self.over_head_rule
            + self.head_rule
            + self.under_head_rule
            + self.over_foot_rule
            + self.foot_rule
            + self.under_foot_rule
    }

    fn has_rules(&self) -> bool {
        self.head_rule > 0.0
    }

    /// What is left over goes between the rows first, until they stand comfortably apart, and then everywhere by weight. The
    /// answer is the gaps, what is added between rows, and what is added inside the foot.
    fn shared_out(self, left: f64, scale: &Scale, list: &points::List, foot: &foot::Foot<'_>) -> (Self, f64, f64) {
        let letter = scale.letter;
        let between = f64::from(u32::try_from(list.rows.saturating_sub(1)).unwrap_or(u32::MAX));
        let first = left.min(between * letter * 0.45);
        let rest = left - first;
        let there = |gap: f64, weight: f64| if gap > 0.0 { weight } else { 0.0 };
        let weights = [
            there(self.over_head_rule, 0.7),
            there(self.under_head_rule, 1.0),
            there(self.over_foot_rule, 1.0),
            there(self.under_foot_rule, 0.7),
            between,
            if foot.is_empty() { 0.0 } else { 0.6 },
        ];
        let unit = rest / weights.iter().sum::<f64>().max(1e-9);
        let [over_head, under_head, over_foot, _, rows, in_foot] = weights.map(|weight| weight * unit);
        let gaps = Self {
            over_head_rule: self.over_head_rule + over_head,
            under_head_rule: self.under_head_rule + under_head,
            over_foot_rule: self.over_foot_rule + over_foot,
            ..self
        };
        (gaps, if between > 0.0 { (first + rows) / between } else { 0.0 }, in_foot)
    }
}

/// The outline, a frame with round corners.
fn outline(drawing: &mut Drawing, frame: &Frame) {
    let middle = Length::mm(frame.inset + frame.outline / 2.0);
    let rect = Rect::new(Point::default(), frame.size).inset(middle);
    drawing.stroke(
        Path::rounded(rect, Length::mm(frame.radius - frame.outline / 2.0)),
        Ink::Black,
        Length::mm(frame.outline),
    );
}
