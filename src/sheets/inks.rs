//! Inks into the colours of a process: what black, white, yellow and the cutting contour are on this machine.

use std::sync::Arc;

use super::{Production, Ribbon};
use crate::drawing::Ink;

/// A colour as a process has it. Shares are in ten-thousandths, so that equal colours are equal.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub enum Colour {
    /// A grey between black (0) and no ink at all (10 000).
    Grey(u16),
    /// Red, green and blue as a screen or an office printer takes them.
    Rgb([u16; 3]),
    /// Cyan, magenta, yellow and black.
    Cmyk([u16; 4]),
    /// An ink of its own by name, and what stands for it where there is no such ink.
    Spot {
        /// Its name.
        name: Arc<str>,
        /// Cyan, magenta, yellow and black for a reader without that ink.
        instead: [u16; 4],
    },
    /// Every plate alike: register marks.
    EveryPlate,
}

/// The inks of one document.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub enum Palette {
    /// Black alone for black, RGB for the yellow; marks of a printing works are not printed.
    #[default]
    Office,
    /// Black or nothing: what is yellow stays as the material is.
    BlackOnly,
    /// Black and signal yellow, each whole or not at all.
    BlackAndYellow,
    /// Black or nothing, and the edges of plates as lines in a colour of their own.
    Engraving,
    /// Process colours, and the cutting contour in a spot colour of this name.
    Press(Arc<str>),
}

/// Signal yellow, RAL 1003, for a screen or an office printer.
///
/// F9A800 is the usual approximation (the table of ISO 3864-4, from a secondary source), and three renderers that were
/// tried show it as that to within one step. The same table's CMYK came out as F9A70D, FCAF17 and FFA500.
const YELLOW_RGB: [u16; 3] = [9_765, 6_588, 0];

/// Signal yellow for a printing works: the CMYK of the same table.
const YELLOW_CMYK: [u16; 4] = [0, 3_500, 10_000, 0];

/// What shows a cutting contour where its spot colour is not known: magenta alone.
const CONTOUR_CMYK: [u16; 4] = [0, 10_000, 0, 0];

/// The edge of a plate among outlines to engrave: full red and blue, which nobody takes for black. Machines tell what to
/// cut from what to engrave by colour (common practice); which colour means what is set at the machine.
const EDGE_RGB: [u16; 3] = [10_000, 0, 10_000];

const BLACK: u16 = 0;
const NOTHING: u16 = 10_000;

impl Palette {
    /// The inks of a way of making.
    #[must_use]
    pub fn of(production: &Production) -> Self {
        match production {
            Production::Office => Self::Office,
            Production::Roll(roll) => match roll.ribbon {
                Ribbon::Black => Self::BlackOnly,
                Ribbon::BlackAndYellow => Self::BlackAndYellow,
            },
            Production::Press(press) => Self::Press(Arc::from(press.contour.as_str())),
            Production::Engraving(_) => Self::Engraving,
        }
    }

    /// Whether marks of an ink leave the other inks as they are below; `None` where there are no plates to say it of.
    ///
    /// Black overprints, so that no light edge opens round it where the plates do not lie exactly over each other; white
    /// would vanish if it did (both common practice).
    #[must_use]
    pub fn overprints(&self, ink: Ink) -> Option<bool> {
        match self {
            Self::Office | Self::BlackOnly | Self::BlackAndYellow | Self::Engraving => None,
            Self::Press(_) => Some(matches!(ink, Ink::Black | Ink::Contour | Ink::Register)),
        }
    }

    /// What an ink is in this process; `None` if nothing is painted with it.
    #[must_use]
    pub fn colour(&self, ink: Ink) -> Option<Colour> {
        match self {
            Self::Office => match ink {
                Ink::Black => Some(Colour::Grey(BLACK)),
                Ink::White => Some(Colour::Grey(NOTHING)),
                Ink::SignalYellow => Some(Colour::Rgb(YELLOW_RGB)),
                Ink::Grey => Some(Colour::Grey(4_500)),
                Ink::Contour | Ink::Register => None,
            },
            Self::Engraving if ink == Ink::Contour => Some(Colour::Rgb(EDGE_RGB)),
            Self::BlackOnly | Self::Engraving => match ink {
                Ink::Black | Ink::Grey => Some(Colour::Grey(BLACK)),
                // Painted with nothing, so that it opens the black below.
                Ink::White | Ink::SignalYellow => Some(Colour::Grey(NOTHING)),
                Ink::Contour | Ink::Register => None,
            },
            Self::BlackAndYellow => match ink {
                Ink::Black | Ink::Grey => Some(Colour::Grey(BLACK)),
                Ink::White => Some(Colour::Grey(NOTHING)),
                Ink::SignalYellow => Some(Colour::Rgb(YELLOW_RGB)),
                Ink::Contour | Ink::Register => None,
            },
            Self::Press(contour) => Some(match ink {
                Ink::Black => Colour::Cmyk([0, 0, 0, 10_000]),
                Ink::White => Colour::Cmyk([0; 4]),
                Ink::SignalYellow => Colour::Cmyk(YELLOW_CMYK),
                Ink::Grey => Colour::Cmyk([0, 0, 0, 5_500]),
                Ink::Contour => Colour::Spot { name: Arc::clone(contour), instead: CONTOUR_CMYK },
                Ink::Register => Colour::EveryPlate,
            }),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::length::Length;
    use crate::sheets::{Dots, Engraving, Press, Roll};

    fn press() -> Production {
        Production::Press(Press { bleed: Length::mm(3.0), marks: Length::mm(8.0), contour: "Cut".into() })
    }

    #[test]
    fn yellow_leaves_the_material_free_where_there_is_only_black() {
        let roll = Production::Roll(Roll { dots: Dots::Dpi203, ribbon: Ribbon::Black });
        let engraving = Production::Engraving(Engraving { tool: Length::mm(0.3) });
        for production in [roll, engraving] {
            let palette = Palette::of(&production);
            assert_eq!(palette.colour(Ink::SignalYellow), palette.colour(Ink::White));
            assert_eq!(palette.colour(Ink::Black), Some(Colour::Grey(0)));
        }
    }

    #[test]
    fn a_printing_works_gets_black_alone_for_black_and_nothing_but_its_own_inks() {
        let palette = Palette::of(&press());
        assert_eq!(palette.colour(Ink::Black), Some(Colour::Cmyk([0, 0, 0, 10_000])));
        for ink in Ink::ALL {
            let colour = palette.colour(ink);
            assert!(
                matches!(colour, Some(Colour::Cmyk(_) | Colour::Spot { .. } | Colour::EveryPlate)),
                "{ink:?}: {colour:?}"
            );
        }
    }

    #[test]
    fn only_an_engraver_sees_the_edges_of_plates_beside_black() {
        let engraver = Palette::of(&Production::Engraving(Engraving { tool: Length::mm(0.3) }));
        assert!(matches!(engraver.colour(Ink::Contour), Some(Colour::Rgb(_))));
        assert_eq!(Palette::BlackOnly.colour(Ink::Contour), None);
    }

    #[test]
    fn an_office_printer_prints_no_marks_of_a_printing_works() {
        for ink in [Ink::Contour, Ink::Register] {
            assert_eq!(Palette::Office.colour(ink), None);
        }
    }
}
