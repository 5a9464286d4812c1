//! What was measured on the ruler page, and the correction that follows from it: all arithmetic of a printer's error.
//!
//! A printer puts a point of the page, in millimetres from the upper left corner of the paper, at `M p + t`: two scales, two
//! skews, an offset. The six measures of the page give all six figures; the correction is the inverse. With `f` left out,
//! the page is taken to be turned as a whole, as paper that is drawn in askew is.

use std::fmt;

use super::Correction;
use super::ruler::Geometry;
use crate::length::{Length, Point, Size};

/// What was measured, in millimetres.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Measured {
    /// Left edge of the paper to the upright line of cross A.
    pub a: f64,
    /// Upper edge of the paper to the level line of cross A.
    pub b: f64,
    /// The level ruler from 0 to its end.
    pub c: f64,
    /// The upright ruler from 0 to its end.
    pub d: f64,
    /// Upper edge of the paper to the level line of cross B.
    pub e: f64,
    /// Left edge of the paper to the upright line of cross C, if it was measured.
    pub f: Option<f64>,
}

/// Why a list of measures cannot be read.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum MeasuredError {
    /// A part is no measure.
    NotAMeasure {
        /// The part.
        part: String,
    },
    /// A measure is given twice.
    Twice {
        /// Its letter.
        name: char,
    },
    /// Measures are missing.
    Missing {
        /// Their letters.
        names: String,
    },
}

/// Why no correction follows from what was measured.
#[derive(Clone, Debug, PartialEq)]
pub enum Implausible {
    /// The ruler page does not fit on the paper.
    Paper,
    /// A measure is so far from what the page has that it was misread or mistyped.
    Slip {
        /// Its letter.
        name: char,
        /// What was measured, mm.
        measured: f64,
        /// What the page has, mm.
        expected: f64,
    },
    /// Both rulers are wrong alike: the page was fitted to the paper.
    Fitted {
        /// The size at which it was printed, per cent.
        percent: f64,
    },
    /// A skew that no printer has, in millimetres to the metre.
    Askew {
        /// The letters of the measures that show it.
        names: &'static str,
        /// The skew.
        skew: f64,
    },
}

/// A printer's correction as the job file keeps it: offsets to 0.01 mm, scales to 0.00001, skews to 0.01 mm in a metre,
/// which over an A3 sheet is less than a hundredth of a millimetre each.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Calibration {
    /// Millimetres to move everything to the right.
    pub offset_x_mm: f64,
    /// Millimetres to move everything down.
    pub offset_y_mm: f64,
    /// Scale from left to right.
    pub scale_x: f64,
    /// Scale from top to bottom.
    pub scale_y: f64,
    /// Millimetres to move down for each metre to the right.
    pub skew_across_mm_per_m: f64,
    /// Millimetres to move to the right for each metre down.
    pub skew_down_mm_per_m: f64,
}

/// How much alike two scales are of a page that was fitted to the paper.
const FITTED_ALIKE: f64 = 0.005;

impl Measured {
    /// Reads a list of measures in millimetres: `a=19.6,b=20.3,c=149.8,d=200.2,e=20.6,f=19.1`.
    ///
    /// # Errors
    /// [`MeasuredError`] for what is no measure, given twice or missing; `f` alone may be left out.
    pub fn parse(text: &str) -> Result<Self, MeasuredError> {
        let mut found: [Option<f64>; 6] = [None; 6];
        for part in text.split([',', ';']).map(str::trim).filter(|part| !part.is_empty()) {
            let wrong = || MeasuredError::NotAMeasure { part: part.to_owned() };
            let (name, value) = part.split_once('=').ok_or_else(wrong)?;
            let name = name.trim().to_lowercase();
            let (place, letter) =
                "abcdef".char_indices().find(|(_, letter)| name == letter.to_string()).ok_or_else(wrong)?;
            let value = value.trim().trim_end_matches("mm").trim_end();
            let value: f64 = value.parse().ok().filter(|value: &f64| value.is_finite()).ok_or_else(wrong)?;
            let slot = found.get_mut(place).ok_or_else(wrong)?;
            if slot.replace(value).is_some() {
                return Err(MeasuredError::Twice { name: letter });
            }
        }
        let [Some(a), Some(b), Some(c), Some(d), Some(e), f] = found else {
            let missing = "abcde".chars().zip(found).filter(|(_, value)| value.is_none());
            let names: Vec<String> = missing.map(|(name, _)| name.to_string()).collect();
            return Err(MeasuredError::Missing { names: names.join(", ") });
        };
        Ok(Self { a, b, c, d, e, f })
    }

    /// What a page that is a little too small across, a little too large down, moved and turned shows: the example of the
    /// ruler page.
    pub(super) fn example(page: &Geometry) -> Self {
        let turned = (page.across_crosses() / page.down_crosses()).recip() * 0.3;
        let tenth = |mm: f64| (mm * 10.0).round() / 10.0;
        let (c, d) = (tenth(page.across() - 0.2), tenth(page.down() + 0.2));
        Self { a: 19.6, b: 20.3, c, d, e: 20.6, f: Some(tenth(19.6 - turned)) }
    }

    /// The correction that makes good what was measured on a ruler page of this paper, which itself was printed with a
    /// correction or none.
    ///
    /// # Errors
    /// [`Implausible`] where a measure must be wrong, or the page was not printed as it should be.
    pub fn correction(&self, paper: Size, printed_with: Correction) -> Result<Calibration, Implausible> {
        let page = Geometry::of(paper).ok_or(Implausible::Paper)?;
        self.plausible(&page)?;
        let printed = self.printed(&page);
        Ok(Calibration::of(&Affine::of(printed_with).after(&printed.inverse())))
    }

    /// Every measure by itself, then the two rulers together, then the skews.
    fn plausible(&self, page: &Geometry) -> Result<(), Implausible> {
        let cross = page.cross();
        let edges = [('a', Some(self.a)), ('b', Some(self.b)), ('e', Some(self.e)), ('f', self.f)];
        let edges = edges.into_iter().filter_map(|(name, measured)| Some((name, measured?)));
        for (name, measured) in edges {
            if measured <= 0.0 || (measured - cross).abs() > Correction::LARGEST_OFFSET || near_tenth(measured, cross) {
                return Err(Implausible::Slip { name, measured, expected: cross });
            }
        }
        let (across, down) = (self.c / page.across(), self.d / page.down());
        let off = |scale: f64| (scale - 1.0).abs() > Correction::LARGEST_SCALE;
        if (off(across) || off(down)) && (0.5..2.0).contains(&across) && (across - down).abs() < FITTED_ALIKE {
            return Err(Implausible::Fitted { percent: across * 100.0 });
        }
        for (name, measured, expected) in [('c', self.c, page.across()), ('d', self.d, page.down())] {
            if off(measured / expected) {
                return Err(Implausible::Slip { name, measured, expected });
            }
        }
        let level = (self.e - self.b) / page.across_crosses() * 1_000.0;
        let upright = self.f.map_or(0.0, |f| (f - self.a) / page.down_crosses() * 1_000.0);
        for (names, skew) in [("b and e", level), ("a and f", upright)] {
            if skew.abs() > Correction::LARGEST_SKEW {
                return Err(Implausible::Askew { names, skew });
            }
        }
        Ok(())
    }

    /// Where the printer puts the points of the page.
    fn printed(&self, page: &Geometry) -> Affine {
        let (across, down) = (self.c / page.across(), self.d / page.down());
        // How much the level line falls over its length on the page; a rule laid along it measures its slope's length.
        let yx = (self.e - self.b) / page.across_crosses();
        let xx = (across * across - yx * yx).sqrt();
        let (xy, yy) = match self.f {
            Some(f) => {
                let xy = (f - self.a) / page.down_crosses();
                (xy, (down * down - xy * xy).sqrt())
            }
            // Turned as a whole: upright lines stay square to level ones.
            None => (-down * yx / across, down * xx / across),
        };
        let cross = page.cross();
        let (x, y) = (self.a - (xx + xy) * cross, self.b - (yx + yy) * cross);
        Affine { xx, xy, yx, yy, x, y }
    }
}

/// Whether a measure was read in centimetres.
fn near_tenth(measured: f64, expected: f64) -> bool {
    (measured * 10.0 - expected).abs() < expected / 10.0
}

/// `x' = xx x + xy y + x`, `y' = yx x + yy y + y`, in millimetres.
struct Affine {
    xx: f64,
    xy: f64,
    yx: f64,
    yy: f64,
    x: f64,
    y: f64,
}

impl Affine {
    /// What a correction does.
    fn of(correction: Correction) -> Self {
        let (across, down) = correction.scales();
        let (x, y) = (correction.offset.x.to_mm(), correction.offset.y.to_mm());
        let (xy, yx) = (correction.skew_down / 1_000.0 * down, correction.skew_across / 1_000.0 * across);
        Self { xx: across, xy, yx, yy: down, x, y }
    }

    /// What undoes it. What is plausible is near 1 and has an inverse.
    fn inverse(&self) -> Self {
        let determinant = self.xx * self.yy - self.xy * self.yx;
        let (xx, xy) = (self.yy / determinant, -self.xy / determinant);
        let (yx, yy) = (-self.yx / determinant, self.xx / determinant);
        Self { xx, xy, yx, yy, x: -(xx * self.x + xy * self.y), y: -(yx * self.x + yy * self.y) }
    }

    /// This after another.
    fn after(&self, first: &Self) -> Self {
        Self {
            xx: self.xx * first.xx + self.xy * first.yx,
            xy: self.xx * first.xy + self.xy * first.yy,
            yx: self.yx * first.xx + self.yy * first.yx,
            yy: self.yx * first.xy + self.yy * first.yy,
            x: self.xx * first.x + self.xy * first.y + self.x,
            y: self.yx * first.x + self.yy * first.y + self.y,
        }
    }
}

impl Calibration {
    /// Scale, skew and offset, in this order, of a map that is near to doing nothing.
    fn of(map: &Affine) -> Self {
        // Adding nought turns a negative one into a plain one.
        let to = |value: f64, parts: f64| (value * parts).round() / parts + 0.0;
        Self {
            offset_x_mm: to(map.x, 100.0),
            offset_y_mm: to(map.y, 100.0),
            scale_x: to(map.xx, 100_000.0),
            scale_y: to(map.yy, 100_000.0),
            skew_across_mm_per_m: to(map.yx / map.xx * 1_000.0, 100.0),
            skew_down_mm_per_m: to(map.xy / map.yy * 1_000.0, 100.0),
        }
    }

    /// What a page applies.
    #[must_use]
    pub fn correction(&self) -> Correction {
        Correction {
            offset: Point::new(Length::mm(self.offset_x_mm), Length::mm(self.offset_y_mm)),
            scale_x: self.scale_x,
            scale_y: self.scale_y,
            skew_across: self.skew_across_mm_per_m,
            skew_down: self.skew_down_mm_per_m,
        }
    }

    /// Each key of the job file with its value.
    #[must_use]
    pub fn entries(&self) -> [(&'static str, String); 6] {
        [
            ("offset_x_mm", format!("{:.2}", self.offset_x_mm)),
            ("offset_y_mm", format!("{:.2}", self.offset_y_mm)),
            ("scale_x", format!("{:.5}", self.scale_x)),
            ("scale_y", format!("{:.5}", self.scale_y)),
            ("skew_across_mm_per_m", format!("{:.2}", self.skew_across_mm_per_m)),
            ("skew_down_mm_per_m", format!("{:.2}", self.skew_down_mm_per_m)),
        ]
    }
}

/// As it is typed: `a=19.6,b=20.3,c=149.8,d=200.2,e=20.6,f=19.1`.
impl fmt::Display for Measured {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let Self { a, b, c, d, e, .. } = self;
        write!(f, "a={a:.1},b={b:.1},c={c:.1},d={d:.1},e={e:.1}")?;
        self.f.map_or(Ok(()), |last| write!(f, ",f={last:.1}"))
    }
}

impl fmt::Display for MeasuredError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::NotAMeasure { part } => write!(
                f,
                "`{part}` is not one of the measures a to f in millimetres: write `a=19.6`, with a point and a comma between two"
            ),
            Self::Twice { name } => write!(f, "`{name}` is given twice"),
            Self::Missing { names } => write!(f, "{names} missing: a to e are needed, and f makes it surer"),
        }
    }
}

impl fmt::Display for Implausible {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Paper => f.write_str("the ruler page needs 200 x 270 mm or more, upright"),
            Self::Slip { name, measured, expected } => {
                write!(f, "`{name}` is {measured} mm, and the page has {expected}: measure it again, in millimetres")?;
                if near_tenth(*measured, *expected) { f.write_str("; this looks like centimetres") } else { Ok(()) }
            }
            Self::Fitted { percent } => write!(
                f,
                "the page was printed at {percent:.1} %: switch off `fit to page`, print it at 100 % and measure it again"
            ),
            Self::Askew { names, skew } => write!(
                f,
                "{names} differ by {skew:.1} mm in a metre, which is no printer's error: measure them again, and set the \
                 guides of the paper tray"
            ),
        }
    }
}

impl std::error::Error for MeasuredError {}

impl std::error::Error for Implausible {}

#[cfg(test)]
mod tests;
