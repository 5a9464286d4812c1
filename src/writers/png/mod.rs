//! A drawing as a picture of pixels: for a printing head dot by dot, each printed or not; for a screen in shades.
//!
//! A picture for a printing head holds what is printed and nothing else: where the material shows, yellow or silver as
//! it may be, the picture is white.

mod file;
mod paint;

use std::fmt;

use crate::drawing::{Drawing, Ink};
use crate::length::Dots;
use crate::sheets::{Colour, Palette, Stock};

/// What a screen is given where there is no printing head, in pixels an inch.
const ON_A_SCREEN: Dots = Dots::Dpi300;

/// Why a picture is not drawn.
#[derive(Debug)]
pub enum PictureError {
    /// It has more pixels than the limit.
    TooLarge {
        /// Pixels that it would have.
        pixels: u64,
        /// The most that are accepted.
        most: u64,
    },
    /// It cannot be put into the form of a PNG file.
    Form(png::EncodingError),
}

impl fmt::Display for PictureError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::TooLarge { pixels, most } => write!(f, "a picture has {pixels} pixels, and {most} are accepted"),
            Self::Form(error) => error.fmt(f),
        }
    }
}

impl std::error::Error for PictureError {}

/// Width and height of a drawing's picture in pixels: the nearest whole dots.
///
/// # Errors
/// [`PictureError::TooLarge`] if there are more than `most`.
pub fn pixels(drawing: &Drawing, most: usize) -> Result<[u32; 2], PictureError> {
    let dots = drawing.dots.unwrap_or(ON_A_SCREEN);
    let sides = [drawing.size.width, drawing.size.height].map(|side| dots.nearest(side).max(1));
    let (pixels, most) = (sides.into_iter().map(u64::from).product(), u64::try_from(most).unwrap_or(u64::MAX));
    if pixels <= most { Ok(sides) } else { Err(PictureError::TooLarge { pixels, most }) }
}

/// The drawing as the bytes of a PNG file.
///
/// # Errors
/// [`PictureError`] if it has more than `most` pixels, or cannot be written.
pub fn png(drawing: &Drawing, palette: &Palette, stock: Stock, most: usize) -> Result<Vec<u8>, PictureError> {
    let size = pixels(drawing, most)?;
    let Some(dots) = drawing.dots else {
        let shown = paint::shaded(drawing, size, ON_A_SCREEN, ground(stock), |ink| shade(palette, stock, ink));
        return file::shaded(&shown, size, ON_A_SCREEN).map_err(PictureError::Form);
    };
    let printed = paint::printed(drawing, size, dots, |ink| print(palette, ink));
    let two_colours = print(palette, Ink::SignalYellow) == Some(Print::Yellow);
    file::printed(&printed, size, dots, two_colours).map_err(PictureError::Form)
}

/// What a printing head does at a dot.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Print {
    Nothing,
    Black,
    Yellow,
}

/// What an ink is for a printing head, which knows no shades; `None` if it paints nothing.
fn print(palette: &Palette, ink: Ink) -> Option<Print> {
    palette.colour(ink).map(|colour| match colour {
        Colour::Grey(share) if share >= 5_000 => Print::Nothing,
        Colour::Rgb(_) => Print::Yellow,
        Colour::Grey(_) | Colour::Cmyk(_) | Colour::Spot { .. } | Colour::EveryPlate => Print::Black,
    })
}

/// What an ink is on a screen, over material of a colour; `None` if it paints nothing.
fn shade(palette: &Palette, stock: Stock, ink: Ink) -> Option<[u8; 3]> {
    palette.colour(ink).map(|colour| match colour {
        Colour::Grey(10_000) => ground(stock),
        Colour::Grey(share) => [part(share); 3],
        Colour::Rgb(shares) => shares.map(part),
        Colour::Cmyk([cyan, magenta, yellow, black]) | Colour::Spot { instead: [cyan, magenta, yellow, black], .. } => {
            let left = |share: u16| u32::from(10_000 - share.min(10_000));
            [cyan, magenta, yellow].map(|share| part(u16::try_from(left(share) * left(black) / 10_000).unwrap_or(0)))
        }
        Colour::EveryPlate => [0; 3],
    })
}

/// The material as a screen shows it. Yellow is that of the sign, silver a light grey.
const fn ground(stock: Stock) -> [u8; 3] {
    match stock {
        Stock::White => [255; 3],
        Stock::Yellow => [249, 168, 0],
        Stock::Silver => [212; 3],
    }
}

/// A share in ten-thousandths as a byte.
fn part(share: u16) -> u8 {
    u8::try_from((u32::from(share.min(10_000)) * 255 + 5_000) / 10_000).unwrap_or(u8::MAX)
}

#[cfg(test)]
mod tests;
