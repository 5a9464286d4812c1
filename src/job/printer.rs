//! What one printer does wrong, as the job file keeps it.

use serde::Deserialize;

use super::{JobFault, fault};
use crate::length::{Length, Point};
use crate::sheets::Correction;

/// What one printer does wrong, as measured on the `ruler` page: the print is scaled, then skewed, then moved.
#[derive(Clone, Copy, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct Printer {
    /// Millimetres to move everything to the right.
    pub offset_x_mm: f64,
    /// Millimetres to move everything down.
    pub offset_y_mm: f64,
    /// Scale from left to right that makes 100 mm come out as 100 mm.
    pub scale_x: f64,
    /// Scale from top to bottom that makes 100 mm come out as 100 mm.
    pub scale_y: f64,
    /// Millimetres to move down for each metre to the right.
    pub skew_across_mm_per_m: f64,
    /// Millimetres to move to the right for each metre down.
    pub skew_down_mm_per_m: f64,
}

impl Default for Printer {
    fn default() -> Self {
        Self {
            offset_x_mm: 0.0,
            offset_y_mm: 0.0,
            scale_x: 1.0,
            scale_y: 1.0,
            skew_across_mm_per_m: 0.0,
            skew_down_mm_per_m: 0.0,
        }
    }
}

impl Printer {
    /// What is made good for it.
    #[must_use]
    pub(super) fn correction(&self) -> Correction {
        Correction {
            offset: Point::new(Length::mm(self.offset_x_mm), Length::mm(self.offset_y_mm)),
            scale_x: self.scale_x,
            scale_y: self.scale_y,
            skew_across: self.skew_across_mm_per_m,
            skew_down: self.skew_down_mm_per_m,
        }
    }

    /// A printer that is off by more than this is not corrected but mended: 20 mm, 2 per cent, 10 mm in a metre.
    pub(super) fn check(&self, name: &str) -> Result<(), JobFault> {
        let offsets = [self.offset_x_mm, self.offset_y_mm];
        let scales = [self.scale_x, self.scale_y];
        if offsets.iter().any(|offset| !(-20.0..=20.0).contains(offset)) {
            return Err(fault(format!("printer `{name}`: an offset beyond 20 mm is not a printer's error")));
        }
        if scales.iter().any(|scale| !(0.98..=1.02).contains(scale)) {
            return Err(fault(format!(
                "printer `{name}`: a scale beyond 2 per cent points to `fit to page` in the print dialog"
            )));
        }
        let skews = [self.skew_across_mm_per_m, self.skew_down_mm_per_m];
        let most = Correction::LARGEST_SKEW;
        if skews.iter().any(|skew| !(-most..=most).contains(skew)) {
            return Err(fault(format!(
                "printer `{name}`: a skew beyond {most} mm in a metre points to paper that lies askew in its tray"
            )));
        }
        Ok(())
    }
}
