//! Colours into the operators that set them.

use super::content::push_number;
use super::plates::{CONTOUR, EVERY_PLATE};
use crate::sheets::Colour;

/// What a colour is set for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Use {
    /// Fills and text.
    Fill,
    /// Lines.
    Stroke,
}

/// Sets a colour.
pub(super) fn push(bytes: &mut Vec<u8>, colour: &Colour, to: Use) {
    let operator = |fill: &'static [u8], stroke: &'static [u8]| if to == Use::Fill { fill } else { stroke };
    match colour {
        Colour::Grey(share) => {
            shares(bytes, &[*share]);
            bytes.extend_from_slice(operator(b"g\n", b"G\n"));
        }
        Colour::Rgb(parts) => {
            shares(bytes, parts);
            bytes.extend_from_slice(operator(b"rg\n", b"RG\n"));
        }
        Colour::Cmyk(parts) => {
            shares(bytes, parts);
            bytes.extend_from_slice(operator(b"k\n", b"K\n"));
        }
        Colour::Spot { .. } | Colour::EveryPlate => {
            let space = if *colour == Colour::EveryPlate { EVERY_PLATE } else { CONTOUR };
            bytes.extend_from_slice(space.as_bytes());
            bytes.extend_from_slice(operator(b" cs 1 scn\n", b" CS 1 SCN\n"));
        }
    }
}

/// Shares of one, each with a space behind it: `.9765 .6588 0 `.
pub(super) fn shares(bytes: &mut Vec<u8>, parts: &[u16]) {
    for part in parts {
        let before = bytes.len();
        push_number(bytes, f64::from(*part) / 10_000.0, 4);
        // A zero before the point says nothing.
        if bytes.get(before..before + 2) == Some(b"0.") {
            bytes.remove(before);
        }
        bytes.push(b' ');
    }
}
