//! The plate: the words of a notice on a sheet of a size, at the largest letters that fit.

mod choice;
mod content;
mod corner;
mod figures;
mod foot;
mod header;
mod likeness;
mod pen;
mod points;
mod scale;
pub(super) mod tag;
pub(super) mod words;

use choice::{Choice, Split, choices};
use corner::Corner;
use foot::{Foot, Holds, Room};
use pen::Pen;
use scale::{Frame, GOOD_MODULE, LEAST_MODULE, Scale, TIGHTEST};

use super::{Arrangement, LetterFloor, Misfit, Setting, code};
use crate::drawing::{Drawing, Ink, Path};
use crate::length::{Dots, Length, Point, Rect, Size};
use crate::notice::Subject;

pub(super) use content::Content;
pub(super) use likeness::Likeness;
pub(super) use scale::Floors;

/// A plate of one size, to be tried and drawn.
pub(super) struct Plate<'a> {
    content: &'a Content,
    frame: Frame,
    floors: Floors,
}

/// An arrangement with the step of the scale that it fills.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Fitted {
    choice: Choice,
    step: f64,
    /// A module of the code, in mm.
    module: f64,
}

impl Fitted {
    /// Whether it shows what the points serve, and the name.
    pub(super) fn shows(&self) -> (bool, bool) {
        (self.choice.serves, self.choice.name)
    }

    /// Whether everything stands so close that a larger plate is better.
    pub(super) fn is_crowded(&self) -> bool {
        self.step < CROWDED
    }
}

/// Whether larger letters may take more lines than the least letters do.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Lines {
    AsFew,
    More,
}

/// How much an arrangement is liked whose letters are larger at the price of more lines.
const MORE_LINES: f64 = 0.9;

/// How much an arrangement is liked whose code has the least modules.
const LEAST_MODULES: f64 = 0.82;

/// Every part once measured, and what is left over.
struct Measured<'a> {
    frame: Frame,
    columns: Columns,
    header: header::Header,
    list: points::List,
    foot: Foot<'a>,
    /// The foot under the points, where these stand apart.
    right: Option<Foot<'a>>,
    corner: Option<Corner>,
    gaps: Gaps,
    /// Height that is left when every gap is as its scale wants it, and the same beside it where the points stand apart.
    left: f64,
    beside: f64,
    lines: usize,
}

/// Thickness of the rule under the head, and of the one over the foot; thinner where letters are small.
fn rules(scale: &Scale) -> [f64; 2] {
    [(scale.letter * 0.145).min(0.5), (scale.letter * 0.07).min(0.24)]
}

impl<'a> Plate<'a> {
    /// A plate of a size that is printed in dots, or as finely as need be.
    pub(super) fn new(content: &'a Content, (size, dots): (Size, Option<Dots>), floors: Floors) -> Self {
        Self { content, frame: Frame::of(size, dots), floors }
    }

    /// The best arrangement: large letters, and all else being equal the one that is liked most. `None` if nothing fits.
    pub(super) fn fit(&self) -> Option<Fitted> {
        let [wished, least] = [GOOD_MODULE, LEAST_MODULE].map(|module| self.frame.module(module));
        let good = self.best(wished, 1.0, None);
        let enough = self.content.code.is_none() || least >= wished || good.is_some_and(|(worth, _)| worth >= 1.0);
        let best = if enough { good } else { self.best(least, LEAST_MODULES, good) };
        best.map(|(_, fitted)| self.with_larger_code(fitted))
    }

    /// The best arrangement for a module of the code, which is itself liked so much, with its worth; or one known before.
    fn best(&self, module: f64, module_liking: f64, known: Option<(f64, Fitted)>) -> Option<(f64, Fitted)> {
        let mut best = known;
        for choice in choices(self.content, &self.frame) {
            let liking = choice.liking * module_liking;
            for (lines, liking) in [(Lines::AsFew, liking), (Lines::More, liking * MORE_LINES)] {
                let start = best.map_or(TIGHTEST, |(worth, _)| step_for(worth / liking).max(TIGHTEST));
                let Some(at_start) = self.measured(choice, start, module).filter(|_| start <= LARGEST) else { break };
                let most = match lines {
                    Lines::AsFew => self.lines_at_floor(choice, module).unwrap_or(at_start.lines),
                    Lines::More => usize::MAX,
                };
                if at_start.lines > most {
                    continue;
                }
                let step = self.largest(choice, start, module, most);
                let worth = worth_of(step) * liking;
                if best.is_none_or(|(least, _)| worth > least + 1e-9) {
                    best = Some((worth, Fitted { choice, step, module }));
                }
            }
        }
        best
    }

    /// The same arrangement with the largest code that moves no word, or that takes at most a third of what is left over.
    fn with_larger_code(&self, fitted: Fitted) -> Fitted {
        let Some(now) = self.content.code.as_ref().and(self.measured(fitted.choice, fitted.step, fitted.module)) else {
            return fitted;
        };
        let fits = |module: f64| {
            let left = if module > GOOD_MODULE { now.left * 2.0 / 3.0 - 1e-6 } else { 0.0 };
            let measured = self.measured(fitted.choice, fitted.step, module);
            measured.is_some_and(|then| then.lines <= now.lines && then.left >= left)
        };
        let per_mm = self.frame.module_steps();
        let steps = ((Scale::at(fitted.step, self.floors).most_module() - fitted.module) * per_mm + 0.5).floor();
        let module = |step: f64| ((fitted.module * per_mm).round() + step) / per_mm;
        let (mut low, mut high) = (0.0, steps + 1.0);
        while high - low > 1.0 {
            let middle = (low.midpoint(high)).floor();
            if fits(module(middle)) { low = middle } else { high = middle }
        }
        Fitted { module: module(low), ..fitted }
    }

    /// Whether any arrangement fits at all.
    pub(super) fn fits(&self) -> bool {
        choices(self.content, &self.frame)
            .into_iter()
            .any(|choice| self.measured(choice, TIGHTEST, self.frame.module(LEAST_MODULE)).is_some())
    }

    /// The largest step at which an arrangement fits with so many lines, from `start` on, where it does. Everything grows with the
    /// step, so that what fits at one fits at all below.
    fn largest(&self, choice: Choice, start: f64, module: f64, most: usize) -> f64 {
        let fits = |step: f64| self.measured(choice, step, module).is_some_and(|measured| measured.lines <= most);
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
        low
    }

    /// The lines that an arrangement takes at the least letters with comfortable white space, or at the tightest.
    fn lines_at_floor(&self, choice: Choice, module: f64) -> Option<usize> {
        let at = |step| self.measured(choice, step, module);
        at(0.0).or_else(|| at(TIGHTEST)).map(|measured| measured.lines)
    }

    /// Measures everything at a step; `None` if it does not fit.
    fn measured(&self, choice: Choice, step: f64, module: f64) -> Option<Measured<'a>> {
        let scale = Scale::at(step, self.floors);
        let frame = self.frame.opened(&scale);
        let columns = Columns::of(frame.width, choice, &scale);
        let header = header::measure(self.content, choice, &scale, columns.head)?;
        let list = points::measure(self.content, choice, &scale, columns.list)?;
        if choice.split.is_none() && header.height + list.height > frame.height {
            return None;
        }
        let corner = match self.content.code_side() {
            Some(side) => Some(Corner::of(side, module, &scale, &frame, columns.list)?),
            None => None,
        };
        let foot_of = |holds, width, corner| {
            let room = Room { width, corner, clear: frame.clear() };
            foot::measure(self.content, choice, &scale, room, holds)
        };
        let (foot, right) = match choice.split {
            None => (foot_of(Holds::ALL, columns.head, corner)?, None),
            Some(split) => {
                let [left, right] = Holds::split(split.cautions_right);
                (foot_of(left, columns.head, None)?, Some(foot_of(right, columns.list, corner)?))
            }
        };
        let gaps = Gaps::of(&scale, list.rows > 0 && right.is_none(), !foot.is_empty());
        let left = frame.height - header.height - foot.height - gaps.sum();
        let (left, beside) = match &right {
            None => (left - list.height, 0.0),
            Some(right) => (left, frame.height - height_beside(&list, right, &scale)),
        };
        let lines = header.lines + list.lines + foot.lines + right.as_ref().map_or(0, |right| right.lines);
        (left >= 0.0 && beside >= 0.0).then_some(Measured {
            frame,
            columns,
            header,
            list,
            foot,
            right,
            corner,
            gaps,
            left,
            beside,
            lines,
        })
    }

    /// Draws the plate as fitted.
    ///
    /// # Errors
    /// [`Misfit::MissingGlyph`] for the first character that the faces do not have.
    pub(super) fn draw(&self, fitted: Fitted) -> Result<Option<Drawing>, Misfit> {
        let Fitted { choice, step, module } = fitted;
        let Some(measured) = self.measured(choice, step, module) else { return Ok(None) };
        let scale = Scale::at(step, self.floors);
        let mut pen = Pen::new(&measured.frame);
        outline(pen.drawing(), &self.frame);
        self.fill(choice, &scale, &measured, &mut pen)?;
        Ok(Some(pen.into_drawing()))
    }

    /// How large everything is on the plate as fitted.
    pub(super) fn setting(&self, fitted: Fitted, floor: LetterFloor) -> Setting {
        let scale = Scale::at(fitted.step, self.floors);
        Setting {
            size: self.frame.size,
            letter_height: Length::mm(scale.letter),
            sign_height: (self.content.subject == Subject::Enclosure).then(|| Length::mm(scale.sign)),
            code_module: self.content.code.is_some().then(|| Length::mm(fitted.module)),
            is_tag: false,
            dots: self.frame.dots,
            floor,
            arrangement: Arrangement::Plate(fitted),
        }
    }

    fn fill(&self, choice: Choice, scale: &Scale, measured: &Measured<'_>, pen: &mut Pen) -> Result<(), Misfit> {
        let Measured { columns, header, list, foot, right, corner, gaps, left, .. } = measured;
        let bottom = measured.frame.height;
        let rows = if right.is_none() { list.rows } else { 0 };
        let (gaps, between_rows, in_foot) = gaps.shared_out(*left, scale, rows);
        header.draw(self.content, choice, scale, pen)?;
        let mut y = header.height + gaps.over_head_rule;
        if gaps.has_rules() {
            pen.rule(y, columns.head, gaps.head_rule);
        }
        if let Some(right) = right {
            return self.fill_beside(choice, scale, (measured, right), pen, in_foot);
        }
        y += gaps.head_rule + gaps.under_head_rule;
        list.draw(self.content, choice, scale, pen, (y, between_rows))?;
        y += list.height + steps(list.rows) * between_rows + gaps.over_foot_rule;
        if gaps.foot_rule > 0.0 {
            pen.rule(y, columns.head, gaps.foot_rule);
        }
        foot.draw_high(self.content, choice, scale, pen, (bottom, in_foot))?;
        foot.draw_low(pen, bottom)?;
        if let Some(corner) = corner {
            corner.draw(self.content, scale, pen, bottom, (foot, foot.raised(in_foot)));
        }
        Ok(())
    }

    /// The points and what stands under them at the right, in the order of reading among what stands at the left.
    fn fill_beside(
        &self,
        choice: Choice,
        scale: &Scale,
        (measured, right): (&Measured<'_>, &Foot<'_>),
        pen: &mut Pen,
        in_foot: f64,
    ) -> Result<(), Misfit> {
        let Measured { columns, list, foot, corner, beside, .. } = measured;
        let bottom = measured.frame.height;
        pen.upright(columns.rule, bottom, rules(scale)[1]);
        pen.shift(columns.list_left);
        let between = (beside / (steps(list.rows) + 1.0)).min(scale.letter);
        list.draw(self.content, choice, scale, pen, (scale.overhang(), between))?;
        pen.shift(0.0);
        foot.draw_high(self.content, choice, scale, pen, (bottom, in_foot))?;
        pen.shift(columns.list_left);
        right.draw_high(self.content, choice, scale, pen, (bottom, 0.0))?;
        right.draw_low(pen, bottom)?;
        if let Some(corner) = corner {
            corner.draw(self.content, scale, pen, bottom, (right, right.raised(0.0)));
        }
        pen.shift(0.0);
        foot.draw_low(pen, bottom)
    }
}

/// The height of a list that stands beside the head, with what stands under it.
fn height_beside(list: &points::List, foot: &Foot<'_>, scale: &Scale) -> f64 {
    let gap = if foot.is_empty() { 0.0 } else { scale.gap(0.85) };
    scale.overhang() * 2.0 + list.height + gap + foot.height
}

/// How often one row follows on another.
fn steps(rows: usize) -> f64 {
    f64::from(u32::try_from(rows.saturating_sub(1)).unwrap_or(u32::MAX))
}

/// The widths of the parts: all alike, or head and foot on the left and the points on the right.
#[derive(Clone, Copy, Debug)]
struct Columns {
    head: f64,
    list: f64,
    list_left: f64,
    /// Where the rule between them stands.
    rule: f64,
}

impl Columns {
    fn of(width: f64, choice: Choice, scale: &Scale) -> Self {
        let Some(Split { share, .. }) = choice.split else {
            return Self { head: width, list: width, list_left: 0.0, rule: 0.0 };
        };
        let gutter = scale.letter * (1.0 + 1.4 * scale.open);
        let head = (width - gutter) * share;
        Self { head, list: width - gutter - head, list_left: head + gutter, rule: head + gutter / 2.0 }
    }
}

/// The side of a content's code with its quiet zone at the least module, and the room for it on a plate: if the code is all
/// that does not fit.
pub(super) fn code_and_room(
    content: &mut Content,
    (size, dots): (Size, Option<Dots>),
    floors: Floors,
) -> Option<(Length, Length)> {
    let side = content.code_side()?;
    let module = Frame::of(size, dots).module(LEAST_MODULE);
    let square = |side: u16| Length::mm(f64::from(side + 2 * code::QUIET_ZONE) * module);
    let mut fits_with = |side: Option<u16>| {
        content.set_code_side(side);
        Plate::new(content, (size, dots), floors).fits()
    };
    let room = fits_with(None).then(|| (0..side).rev().find(|side| fits_with(Some(*side))));
    content.set_code_side(Some(side));
    room.map(|room| (square(side), room.map_or(Length::ZERO, square)))
}

/// No plate has larger letters than this step gives.
const LARGEST: f64 = 40.0;

/// Below this step everything stands so close that a larger plate is better, if there is one.
const CROWDED: f64 = -0.7;

/// Where white space starts to count for more than a third of a step.
const CLOSE: (f64, f64) = (-0.5, 0.85);

/// What a step is worth: emphasis and white space count for a third of a step, the last white space for more, and beyond emphasis
/// the size of the letters.
fn worth_of(step: f64) -> f64 {
    let (close, worth) = CLOSE;
    if step < close {
        worth + 0.7 * (step - close)
    } else if step <= 1.0 {
        1.0 + 0.3 * step
    } else {
        1.3 * step
    }
}

fn step_for(worth: f64) -> f64 {
    let (close, close_worth) = CLOSE;
    if worth < close_worth {
        close + (worth - close_worth) / 0.7
    } else if worth <= 1.3 {
        (worth - 1.0) / 0.3
    } else {
        worth / 1.3
    }
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
    fn of(scale: &Scale, rows: bool, foot: bool) -> Self {
        let [head_rule, foot_rule] = rules(scale);
        let only = |there: bool, gap: f64| if there { gap } else { 0.0 };
        Self {
            over_head_rule: only(rows || foot, scale.gap(1.0)),
            head_rule: only(rows || foot, head_rule),
            under_head_rule: only(rows, scale.overhang() + scale.gap(0.62)),
            over_foot_rule: only(rows && foot, scale.overhang() + scale.gap(0.72)),
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
    fn shared_out(self, left: f64, scale: &Scale, rows: usize) -> (Self, f64, f64) {
        let letter = scale.letter;
        let between = steps(rows);
        let first = left.min(between * letter * 0.45);
        let rest = left - first;
        let there = |gap: f64, weight: f64| if gap > 0.0 { weight } else { 0.0 };
        let weights = [
            there(self.over_head_rule, 0.7),
            there(self.under_head_rule, 1.0),
            there(self.over_foot_rule, 1.0),
            there(self.under_foot_rule, 0.7),
            between,
            there(self.under_foot_rule, 0.6),
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
    let rect = Rect::new(Point::default(), frame.whole).inset(middle);
    drawing.stroke(
        Path::rounded(rect, Length::mm(frame.radius - frame.outline / 2.0)),
        Ink::Black,
        Length::mm(frame.outline),
    );
}
