//! How a sheet is made: on an office printer, on a roll of labels, at a printing works, or by an engraving machine.

use serde::Deserialize;

use crate::length::{Dots, Length};

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
