//! Whether the warning sign comes out yellow.

use std::sync::Arc;

use super::{Colour, Palette, SheetFormat, Stock};
use crate::drawing::{Drawing, Ink};
use crate::finding::{Finding, code};

impl SheetFormat {
    /// Whether what is drawn in signal yellow is yellow in the end: by ink, or because the material is.
    #[must_use]
    pub fn shows_yellow(&self) -> bool {
        let inked = match Palette::of(&self.production).colour(Ink::SignalYellow) {
            Some(Colour::Rgb(_) | Colour::Cmyk(_) | Colour::Spot { .. }) => true,
            Some(Colour::Grey(_) | Colour::EveryPlate) | None => false,
        };
        inked || self.stock == Stock::Yellow
    }
}

/// The finding of a format on which signs have no yellow field, with how many they are; `None` if they have one.
#[must_use]
pub fn without_yellow(format: &SheetFormat, drawings: impl Iterator<Item = Arc<Drawing>>) -> Option<Finding> {
    if format.shows_yellow() {
        return None;
    }
    let signs = drawings.filter(|drawing| drawing.shows(Ink::SignalYellow)).count();
    let notices = if signs == 1 { "1 notice".to_owned() } else { format!("{signs} notices") };
    (signs > 0).then(|| {
        let (name, stock) = (&format.name, format.stock.name());
        let message = format!("the warning sign on {notices} of `{name}` has no yellow: black alone on {stock}");
        Finding::new(code::SIGN_WITHOUT_YELLOW, message)
            .help("choose a format on yellow material, or one that prints black and yellow")
    })
}
