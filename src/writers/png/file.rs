//! Pixels into the bytes of a PNG file (ISO/IEC 15948), with the size of a pixel beside them.

use png::{BitDepth, ColorType, Compression, Encoder, EncodingError, PixelDimensions, Unit};

use super::Print;
use crate::length::Dots;

/// Red, green and blue of white, black and signal yellow, by number.
const COLOURS: [u8; 9] = [255, 255, 255, 0, 0, 0, 249, 168, 0];

/// What a printing head prints: one bit a dot for black alone, two bits with a table of colours for black and yellow.
pub(super) fn printed(
    dots: &[Print],
    size: [u32; 2],
    density: Dots,
    two_colours: bool,
) -> Result<Vec<u8>, EncodingError> {
    let width = usize::try_from(size[0]).unwrap_or(usize::MAX);
    if two_colours {
        let number = |print: &Print| match print {
            Print::Nothing => 0,
            Print::Black => 1,
            Print::Yellow => 2,
        };
        return written(&packed(dots, width, 2, number), size, density, (ColorType::Indexed, BitDepth::Two));
    }
    // A grey of one bit: black is 0.
    let light = |print: &Print| u8::from(*print != Print::Black);
    written(&packed(dots, width, 1, light), size, density, (ColorType::Grayscale, BitDepth::One))
}

/// Shades for a screen: three bytes a pixel.
pub(super) fn shaded(pixels: &[u8], size: [u32; 2], density: Dots) -> Result<Vec<u8>, EncodingError> {
    written(pixels, size, density, (ColorType::Rgb, BitDepth::Eight))
}

/// Rows of numbers of so many bits, the leftmost in the highest bits, each row in whole bytes.
fn packed(dots: &[Print], width: usize, bits: usize, number: impl Fn(&Print) -> u8) -> Vec<u8> {
    let in_byte = 8 / bits;
    let byte = |some: &[Print]| {
        let filled = some.iter().fold(0, |byte, print| byte << bits | number(print));
        filled << (bits * (in_byte - some.len()))
    };
    dots.chunks(width.max(1)).flat_map(|row| row.chunks(in_byte).map(byte)).collect()
}

fn written(
    data: &[u8],
    [width, height]: [u32; 2],
    density: Dots,
    (colour, depth): (ColorType, BitDepth),
) -> Result<Vec<u8>, EncodingError> {
    let mut bytes = Vec::new();
    let mut encoder = Encoder::new(&mut bytes, width, height);
    encoder.set_color(colour);
    encoder.set_depth(depth);
    if colour == ColorType::Indexed {
        encoder.set_palette(&COLOURS[..]);
    }
    encoder.set_compression(Compression::Fast);
    let a_metre = a_metre(density);
    encoder.set_pixel_dims(Some(PixelDimensions { xppu: a_metre, yppu: a_metre, unit: Unit::Meter }));
    let mut writer = encoder.write_header()?;
    writer.write_image_data(data)?;
    writer.finish()?;
    Ok(bytes)
}

/// Pixels in a metre, to the nearest whole one, which is all that the form can say: 8000, 11 811, 23 622.
fn a_metre(density: Dots) -> u32 {
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "one of three numbers below 30 000")]
    let whole = (density.per_mm() * 1_000.0).round() as u32;
    whole
}
