//! How large everything is: one number decides, and the rest follows by proportion.

use crate::length::{Dots, Length, Size};
use crate::notice::Notice;
use crate::typesetting::LetterFloor;

/// The least heights, in mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(in crate::typesetting) struct Floors {
    pub(in crate::typesetting) letter: f64,
    pub(in crate::typesetting) sign: f64,
}

impl Floors {
    pub(in crate::typesetting) fn of(notice: &Notice, floor: LetterFloor) -> Self {
        let letter = floor.height(notice.reading_distance).to_mm().max(SMALL_LINE);
        // DIN 4844-1: height = distance / 40 for warning signs.
        Self { letter, sign: notice.sign_distance.to_mm() / 40.0 }
    }
}

impl LetterFloor {
    /// The least height of capitals that are read from a distance, to the next whole micrometre.
    #[must_use]
    pub fn height(self, distance: Length) -> Length {
        let share = match self {
            Self::TwoHundredth => 1.0 / 200.0,
            Self::SixteenMinutes => 2.0 * (8.0_f64 / 60.0).to_radians().tan(),
        };
        Length::mm((distance.to_mm() * share * 1_000.0 - 1e-6).ceil() / 1_000.0)
    }
}

/// Capitals of the small line, which is read at 0.35 m (common practice: at least 2 mm).
pub(super) const SMALL_LINE: f64 = 2.0;

/// The least module in mm that a telephone reads from a hand's breadth (common practice).
pub(super) const LEAST_MODULE: f64 = 0.4;

/// The module in mm that a code has wherever there is room.
pub(super) const GOOD_MODULE: f64 = 0.5;

/// Where the scale starts: the least letters, everything close together.
pub(super) const TIGHTEST: f64 = -1.0;

/// The least white space, as a share of the comfortable.
const CLOSEST: f64 = 0.4;

/// Heights of capitals and of everything else, in mm, but for `open`.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Scale {
    /// Devices, places, statement, meanings, cautions, closing.
    pub(super) letter: f64,
    /// What to do; a header that is too narrow for it takes less, never less than `least_headline`.
    pub(super) headline: f64,
    /// A device's designation, which is its headline.
    pub(super) designation: f64,
    /// The least headline.
    pub(super) least_headline: f64,
    /// The least figures.
    pub(super) least_figure: f64,
    /// The voltages.
    pub(super) figure: f64,
    /// What a point serves, and the enclosure's name.
    pub(super) aside: f64,
    /// Number, revision, date and site.
    pub(super) small: f64,
    /// The warning sign.
    pub(super) sign: f64,
    /// The disc behind a number.
    pub(super) disc: f64,
    /// White space, as a share of the comfortable.
    pub(super) open: f64,
}

impl Scale {
    /// The sizes at a step. From -1 to 0 the letters stay at their floor and the white space grows to the comfortable; from 0 to 1
    /// emphasis grows (headline, figures, sign); beyond, everything grows alike. Nothing shrinks as the step rises.
    pub(super) fn at(step: f64, floors: Floors) -> Self {
        let (near, far, times) = (step.clamp(-1.0, 0.0) + 1.0, step.clamp(0.0, 1.0), step.max(1.0));
        let between = |tight: f64, comfortable: f64, ample: f64| {
            tight + (comfortable - tight) * near + (ample - comfortable) * far
        };
        let letter = floors.letter * between(1.0, 1.0, 1.14) * times;
        Self {
            letter,
            headline: letter * between(1.15, 1.31, 1.75),
            designation: letter * between(1.15, 1.7, 2.2),
            least_headline: letter * 1.15,
            least_figure: letter * between(1.0, 1.1, 1.2),
            figure: letter * between(1.15, 1.26, 1.6),
            aside: (letter * 0.72).max(SMALL_LINE),
            small: (SMALL_LINE + (letter - 4.0) * 0.25).max(SMALL_LINE),
            sign: (letter * between(3.4, 5.0, 6.25)).max(floors.sign),
            disc: letter * between(1.72, 1.9, 1.9),
            open: between(CLOSEST, 1.0, 1.0),
        }
    }

    /// The largest module of a code, in mm: more helps no reader on a plate that is read from near.
    pub(super) fn most_module(&self) -> f64 {
        (self.letter * 0.1).max(0.7)
    }

    /// How far a disc reaches beyond its row's capitals.
    pub(super) fn overhang(&self) -> f64 {
        (self.disc - self.letter) / 2.0
    }

    /// A gap of so many capital heights, closer on a tight plate.
    pub(super) fn gap(&self, capitals: f64) -> f64 {
        self.letter * self.open * capitals
    }
}

/// The plate itself, in mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Frame {
    pub(super) size: Size,
    /// The dots on which codes and rules lie, if there are any.
    pub(super) dots: Option<Dots>,
    /// The part of it that its outline goes round: all of it, or its nearest whole dots.
    pub(super) whole: Size,
    /// From the plate's edge to its words.
    pub(super) margin: f64,
    /// The room for words.
    pub(super) width: f64,
    pub(super) height: f64,
    /// Width of the outline.
    pub(super) outline: f64,
    /// From the plate's edge to the outline's outer edge, so that a cut a little off does not show.
    pub(super) inset: f64,
    /// Of the outline's outer corners.
    pub(super) radius: f64,
}

/// No plate but a strip has a smaller margin, in mm.
const LEAST_MARGIN: f64 = 2.9;

/// Width and height of A6 together, in mm; its outline is the one that larger plates are measured by.
const A6_SIDES: f64 = 148.0 + 105.0;

impl Frame {
    /// The margin grows with the plate: 4.4 mm on A7, 5.5 mm on A6.
    pub(super) fn of(size: Size, dots: Option<Dots>) -> Self {
        let whole = dots.map_or(size, |dots| dots.size(size));
        let (width, height) = (whole.width.to_mm(), whole.height.to_mm());
        let on_dots = |width: f64| dots.map_or(width, |dots| dots.to_mm(dots.nearest(Length::mm(width)).max(1)));
        let small = width.min(height) < 40.0;
        let margin = if small { 2.3 } else { 1.74 + 0.014_86 * (width + height) };
        // The outline of a sign that is seen from across a room grows too, slower than the sign.
        let grown = ((width + height) / A6_SIDES).max(1.0).sqrt();
        Self {
            size,
            dots,
            whole,
            margin,
            width: width - 2.0 * margin,
            height: height - 2.0 * margin,
            outline: on_dots(if small { 0.5 } else { 0.9 * grown }),
            inset: on_dots(if small { 0.6 } else { 0.9 }),
            radius: if small { 1.8 } else { 2.6 * grown },
        }
    }

    /// The plate with a margin as open as its scale: where everything stands close, the words come nearer to the outline.
    pub(super) fn opened(self, scale: &Scale) -> Self {
        let closer = self.margin * (1.0 - scale.open) / (1.0 - CLOSEST) * 0.18;
        let closer = closer.min(self.margin - LEAST_MARGIN).max(0.0);
        let (width, height) = (self.width + 2.0 * closer, self.height + 2.0 * closer);
        Self { margin: self.margin - closer, width, height, ..self }
    }

    /// Steps in which a module of the code may grow, in a millimetre: hundredths of one, or dots.
    pub(super) fn module_steps(&self) -> f64 {
        self.dots.map_or(100.0, Dots::per_mm)
    }

    /// A module of at least so many mm.
    pub(super) fn module(&self, least: f64) -> f64 {
        self.dots.map_or(least, |dots| dots.to_mm(dots.at_least(least)))
    }

    /// What a code may be moved by to begin on a dot, in mm.
    pub(super) fn slack(&self) -> f64 {
        self.dots.map_or(0.0, |dots| dots.to_mm(1))
    }

    /// The white between the outline and the room for words; a hair less, so that rounding crosses nothing.
    pub(super) fn clear(&self) -> f64 {
        self.margin - self.inset - self.outline - 0.01
    }

    /// Whether the plate is so wide and low that its parts stand better side by side.
    pub(super) fn is_low(&self) -> bool {
        self.size.height.to_mm() < self.size.width.to_mm() * 0.45
    }
}
