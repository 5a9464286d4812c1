//! A printer's measured error, made good: scale, skew, offset, in this order.

use crate::finding::{Finding, code};
use crate::length::{Dots, Length, Point};

/// A measured error of one printer, which the page makes good: every point is first scaled from the upper left corner of
/// the paper, then skewed, then moved.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Correction {
    /// Added to every x and y, after scale and skew.
    pub offset: Point,
    /// Scale from left to right that the page applies, 0 for none, else near 1.
    pub scale_x: f64,
    /// Scale from top to bottom that the page applies, 0 for none, else near 1.
    pub scale_y: f64,
    /// Millimetres to move down for each metre to the right.
    pub skew_across: f64,
    /// Millimetres to move to the right for each metre down.
    pub skew_down: f64,
}

/// A scale beyond this share is more likely a page that was fitted to the paper.
const LARGEST_USUAL_SCALE: f64 = 0.01;

/// A skew beyond so many millimetres in a metre is more likely paper that lay askew in its tray.
const LARGEST_USUAL_SKEW: f64 = 2.0;

impl Correction {
    /// An offset beyond so many millimetres is no printer's error.
    pub const LARGEST_OFFSET: f64 = 20.0;

    /// A scale further from 1 is no printer's error. (Above the limit by less than a float can tell.)
    pub const LARGEST_SCALE: f64 = 0.020_000_001;

    /// A skew beyond so many millimetres in a metre is no printer's error.
    pub const LARGEST_SKEW: f64 = 10.0;

    /// Whether the page is printed as it is.
    #[must_use]
    pub fn is_none(&self) -> bool {
        self.offset == Point::default() && self.scales() == (1.0, 1.0) && !self.is_skewed()
    }

    /// Whether lines are turned.
    #[must_use]
    pub fn is_skewed(&self) -> bool {
        self.skew_across != 0.0 || self.skew_down != 0.0
    }

    /// The scales that the page applies, 1 for none.
    #[must_use]
    pub fn scales(&self) -> (f64, f64) {
        let scale = |scale: f64| if scale == 0.0 { 1.0 } else { scale };
        (scale(self.scale_x), scale(self.scale_y))
    }

    /// Where a point of the page, in millimetres from the upper left corner, is put so that it lands where it belongs.
    #[must_use]
    pub fn apply(&self, (x, y): (f64, f64)) -> (f64, f64) {
        let (across, down) = self.scales();
        let (x, y) = (across * x, down * y);
        let (right, lower) = (self.skew_down / 1_000.0 * y, self.skew_across / 1_000.0 * x);
        (x + right + self.offset.x.to_mm(), y + lower + self.offset.y.to_mm())
    }

    /// Whether it is small enough to be a printer's error, which is corrected, and not a mistake, which is mended.
    #[must_use]
    pub fn is_a_printers(&self) -> bool {
        let (across, down) = self.scales();
        let within = |value: f64, most: f64| value.abs() <= most;
        [self.offset.x, self.offset.y].iter().all(|offset| within(offset.to_mm(), Self::LARGEST_OFFSET))
            && [across, down].iter().all(|scale| within(scale - 1.0, Self::LARGEST_SCALE))
            && [self.skew_across, self.skew_down].iter().all(|skew| within(*skew, Self::LARGEST_SKEW))
    }

    /// What of it a printing head can do: move by whole dots. It cannot be scaled or skewed, since a module of a code that
    /// lost or gained a dot would be another module.
    #[must_use]
    pub fn on_dots(&self, dots: Dots) -> Self {
        Self { offset: dots.corner(self.offset), ..Self::default() }
    }

    /// Whether it asks for anything that a printing head cannot do.
    #[must_use]
    pub fn asks_beyond_dots(&self) -> bool {
        !Self { offset: Point::default(), ..*self }.is_none()
    }

    /// In words: `corrected for office: 0.4 mm right, 0.3 mm up, +0.20 % across, +0.00 % down`, and the skew where there
    /// is one: `skew -1.76 mm/m across, +1.76 mm/m down`.
    #[must_use]
    pub fn stated(&self, printer: &str) -> String {
        let way = |length: Length, less: &str, more: &str| {
            format!("{} mm {}", length.abs(), if length < Length::ZERO { less } else { more })
        };
        let (across, down) = self.scales();
        let mut text = format!(
            "corrected for {}: {}, {}, {} across, {} down",
            if printer.is_empty() { "the printer" } else { printer },
            way(self.offset.x, "left", "right"),
            way(self.offset.y, "up", "down"),
            percent(across),
            percent(down)
        );
        if self.is_skewed() {
            text.push_str(&format!(", skew {:+.2} mm/m across, {:+.2} mm/m down", self.skew_across, self.skew_down));
        }
        text
    }

    /// A scale beyond one part in a hundred, a skew beyond 2 mm in a metre.
    #[must_use]
    pub fn check(&self, printer: &str) -> Option<Finding> {
        let (x, y) = self.scales();
        let usual = |scale: f64| (scale - 1.0).abs() <= LARGEST_USUAL_SCALE;
        let straight = |skew: f64| skew.abs() <= LARGEST_USUAL_SKEW;
        let (message, help) = if !(usual(x) && usual(y)) {
            let (x, y) = (percent(x), percent(y));
            (
                format!("the scale of printer `{printer}` is corrected by {x} across and {y} down"),
                "print the ruler page at 100 % and measure it again",
            )
        } else if !(straight(self.skew_across) && straight(self.skew_down)) {
            let (across, down) = (self.skew_across, self.skew_down);
            (
                format!(
                    "the skew of printer `{printer}` is corrected by {across:+.2} mm/m across and {down:+.2} mm/m down"
                ),
                "set the guides of the paper tray, print the ruler page again and measure it",
            )
        } else {
            return None;
        };
        Some(Finding::new(code::LARGE_CORRECTION, message).help(help))
    }
}

/// `+0.2 %`
fn percent(scale: f64) -> String {
    format!("{:+.2} %", (scale - 1.0) * 100.0)
}
