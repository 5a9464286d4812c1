//! How a sheet is made: on an office printer, on a roll of labels, at a printing works, or by an engraving machine.

use serde::Deserialize;

use crate::length::Length;

/// What a document is made for, and what only that way of making needs to know.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub enum Production {
    /// An office printer: the exact page, nothing in the border that it cannot reach.
    #[default]
    Office,
    /// A label printer that works dot by dot.
    Roll(Roll),
    /// A printing works with a cutting plotter.
    Press(Press),
    /// A machine that cuts or burns outlines.
    Engraving(Engraving),
}

/// A label printer.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Roll {
    /// How fine it prints.
    pub dots: Dots,
    /// With what.
    pub ribbon: Ribbon,
}

/// The dots of a printing head, which are as wide as they are high.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Deserialize)]
#[serde(try_from = "u32")]
pub enum Dots {
    /// 8 dots to the millimetre, called 203 dpi (common practice).
    Dpi203,
    /// 300 dots to the inch.
    Dpi300,
    /// 600 dots to the inch.
    Dpi600,
}

impl Dots {
    /// The number by which the trade calls it.
    #[must_use]
    pub const fn per_inch(self) -> u32 {
        match self {
            Self::Dpi203 => 203,
            Self::Dpi300 => 300,
            Self::Dpi600 => 600,
        }
    }

    /// Dots in a millimetre.
    #[must_use]
    pub const fn per_mm(self) -> f64 {
        match self {
            Self::Dpi203 => 8.0,
            Self::Dpi300 => 300.0 / 25.4,
            Self::Dpi600 => 600.0 / 25.4,
        }
    }

    /// The length of so many dots, to the nearest micrometre.
    #[must_use]
    pub fn length(self, dots: u32) -> Length {
        Length::mm(f64::from(dots) / self.per_mm())
    }

    /// The whole number of dots that is nearest to a length; zero for a negative one.
    #[must_use]
    pub fn nearest(self, length: Length) -> u32 {
        let dots = (length.to_mm() * self.per_mm()).round().clamp(0.0, 1e9);
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "clamped to 0 to 10^9 before")]
        let dots = dots as u32;
        dots
    }
}

impl TryFrom<u32> for Dots {
    type Error = String;

    fn try_from(per_inch: u32) -> Result<Self, String> {
        match per_inch {
            203 => Ok(Self::Dpi203),
            300 => Ok(Self::Dpi300),
            600 => Ok(Self::Dpi600),
            other => Err(format!("{other} dots an inch are not among 203, 300 and 600")),
        }
    }
}

/// What a label printer prints with.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Ribbon {
    /// Black alone: yellow is the material's own or is missing.
    Black,
    /// Black, and signal yellow.
    BlackAndYellow,
}

/// A printing works.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Press {
    /// How far the print goes on beyond the trimmed sheet.
    pub bleed: Length,
    /// Room outside the bleed for crop and registration marks.
    pub marks: Length,
    /// Name of the spot colour in which the cutting contour is drawn, as agreed with the printing works.
    pub contour: String,
}

/// An engraving machine.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Engraving {
    /// Width of the finest line that the tool cuts.
    pub tool: Length,
}

/// The colour of a material before anything is printed on it.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Stock {
    /// White, or clear over white.
    #[default]
    White,
    /// Signal yellow throughout, or a yellow surface over a black core.
    Yellow,
    /// Bare metal or silver film.
    Silver,
}

impl Stock {
    /// The colour as sheet formats spell it.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::White => "white",
            Self::Yellow => "yellow",
            Self::Silver => "silver",
        }
    }
}

impl Production {
    /// The word for it in file names and reports.
    #[must_use]
    pub const fn name(&self) -> &'static str {
        match self {
            Self::Office => "office",
            Self::Roll(_) => "roll",
            Self::Press(_) => "press",
            Self::Engraving(_) => "engraving",
        }
    }

    /// The dots to which everything must keep; `None` where there is no such grid.
    #[must_use]
    pub const fn dots(&self) -> Option<Dots> {
        match self {
            Self::Roll(roll) => Some(roll.dots),
            Self::Office | Self::Press(_) | Self::Engraving(_) => None,
        }
    }
}
