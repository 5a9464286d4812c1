//! How large and heavy each kind of text is, and how much white stands before it.

use crate::drawing::{Face, Role};
use crate::length::Length;
use crate::typesetting::fonts;

/// A kind of text.
///
/// Documents are read in the hand, at 0.35 m: no capital is lower than 2 mm, more than the 1/200 of that distance which
/// the notices hold to (common practice).
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Style {
    /// What a section is about.
    Title,
    /// The line below it.
    Subtitle,
    /// The head of a part; stays with what follows.
    Heading,
    /// Running text that must be seen first.
    Strong,
    /// Running text.
    #[default]
    Body,
    /// Labels, captions, heads of columns.
    Small,
}

impl Style {
    /// Every style.
    pub const ALL: [Self; 6] = [Self::Title, Self::Subtitle, Self::Heading, Self::Strong, Self::Body, Self::Small];

    /// Its face.
    #[must_use]
    pub const fn face(self) -> Face {
        match self {
            Self::Title | Self::Heading => Face::Bold,
            Self::Subtitle | Self::Strong => Face::Medium,
            Self::Body | Self::Small => Face::Regular,
        }
    }

    /// Height of its capitals.
    #[must_use]
    pub const fn capitals(self) -> Length {
        Length::um(match self {
            Self::Title => 5_000,
            Self::Subtitle => 2_800,
            Self::Heading => 2_600,
            Self::Strong | Self::Body => 2_100,
            Self::Small => 2_000,
        })
    }

    /// From baseline to baseline.
    pub(super) const fn pitch(self) -> Length {
        Length::um(match self {
            Self::Title => 8_000,
            Self::Subtitle => 4_900,
            Self::Heading => 4_600,
            Self::Strong | Self::Body | Self::Small => 3_700,
        })
    }

    /// White before a block of it.
    pub(super) const fn before(self) -> Length {
        Length::um(match self {
            Self::Title => 0,
            Self::Subtitle | Self::Strong | Self::Body | Self::Small => 1_200,
            Self::Heading => 5_000,
        })
    }

    /// Whether it stays with what follows.
    pub(super) const fn leads(self) -> bool {
        match self {
            Self::Title | Self::Subtitle | Self::Heading => true,
            Self::Strong | Self::Body | Self::Small => false,
        }
    }

    /// What it is to somebody who hears it.
    pub(super) const fn role(self) -> Role {
        match self {
            Self::Title => Role::Heading(1),
            Self::Heading => Role::Heading(2),
            Self::Subtitle | Self::Strong | Self::Body | Self::Small => Role::Paragraph,
        }
    }

    /// The em at which its capitals have their height, rounded up so that none is lower.
    pub(super) fn em(self) -> Length {
        let heights = fonts::heights(self.face());
        let exact = self.capitals().to_mm() * f64::from(heights.units_per_em) / f64::from(heights.capital);
        Length::mm((exact * 1_000.0).ceil() / 1_000.0)
    }

    /// From the top of a line to its baseline: the capitals stand in the middle.
    pub(super) fn baseline(self) -> Length {
        (self.pitch() + self.capitals()) / 2
    }

    /// The width of so many font units.
    pub(super) fn width(self, units: i32) -> Length {
        self.em().scaled(f64::from(units) / f64::from(fonts::heights(self.face()).units_per_em))
    }

    /// The font units that fit into a width.
    #[expect(clippy::cast_possible_truncation, reason = "a float cast saturates, and paper is far below the range")]
    pub(super) fn units(self, width: Length) -> i32 {
        let units = f64::from(fonts::heights(self.face()).units_per_em);
        // A micrometre less, so that rounding crosses no edge.
        (f64::from(width.to_um() - 1).max(0.0) / f64::from(self.em().to_um()) * units).floor() as i32
    }
}
