//! A picture file as the logo of a house: its size is looked at before it is decoded, and what is transparent lies on white.

use std::fmt;
use std::io::Cursor;

use image::imageops::FilterType;
use image::metadata::Orientation;
use image::{DynamicImage, ImageDecoder, ImageError, ImageFormat, ImageReader, Limits, RgbImage, RgbaImage};

use super::stationery::LOGO;
use crate::drawing::Raster;

/// Dots to the inch that a logo keeps: twice what an office printer shows of a picture (common practice).
const DENSITY: f64 = 600.0;

const INCH: f64 = 25.4;

/// What decoding a picture may take beside its pixels, of eight bytes at most: tables, a row or two, and what a file says of
/// itself.
const BESIDE: u64 = 8 << 20;

/// Why a file cannot be a logo.
#[derive(Debug)]
pub enum LogoFault {
    /// Neither PNG nor JPEG by its first bytes.
    NoPicture,
    /// More pixels than are accepted.
    TooLarge {
        /// Pixels in a row.
        width: u32,
        /// Rows.
        height: u32,
        /// The most pixels that are accepted.
        most: usize,
    },
    /// Broken, or in a form that is not read.
    Broken(ImageError),
}

impl fmt::Display for LogoFault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::NoPicture => write!(f, "neither a PNG nor a JPEG picture"),
            Self::TooLarge { width, height, most } => {
                write!(f, "a picture of {width} x {height} pixels, and {most} pixels are accepted")
            }
            Self::Broken(error) => write!(f, "a picture that cannot be read: {error}"),
        }
    }
}

/// A PNG or JPEG file as dots, reduced where it has more than print shows; `most` pixels are accepted.
///
/// # Errors
/// [`LogoFault`]; the size is judged by what the file says of itself, before room is made for it.
pub fn logo(file: &[u8], most: usize, alternative: &str) -> Result<Raster, LogoFault> {
    let format = image::guess_format(file).ok();
    let format = format.filter(|format| matches!(format, ImageFormat::Png | ImageFormat::Jpeg));
    let mut reader = ImageReader::with_format(Cursor::new(file), format.ok_or(LogoFault::NoPicture)?);
    let mut limits = Limits::no_limits();
    let most_bytes = u64::try_from(most).unwrap_or(u64::MAX).saturating_mul(8).saturating_add(BESIDE);
    limits.max_alloc = Some(most_bytes);
    reader.limits(limits);
    let mut decoder = reader.into_decoder().map_err(LogoFault::Broken)?;
    let (width, height) = decoder.dimensions();
    let pixels = usize::try_from(u64::from(width) * u64::from(height)).unwrap_or(usize::MAX);
    if pixels > most {
        return Err(LogoFault::TooLarge { width, height, most });
    }
    if pixels == 0 {
        return Err(LogoFault::NoPicture);
    }
    let orientation = decoder.orientation().unwrap_or(Orientation::NoTransforms);
    let mut picture = DynamicImage::from_decoder(decoder).map_err(LogoFault::Broken)?;
    picture.apply_orientation(orientation);
    let opaque = reduced(on_white(&picture.into_rgba8()));
    let (width, height) = opaque.dimensions();
    Ok(Raster { width, height, rgb: opaque.into_raw(), alternative: alternative.to_owned() })
}

/// Every pixel as it looks over white paper.
fn on_white(picture: &RgbaImage) -> RgbImage {
    let (width, height) = picture.dimensions();
    RgbImage::from_fn(width, height, |x, y| {
        let image::Rgba([red, green, blue, opacity]) = *picture.get_pixel(x, y);
        let over = |colour: u8| {
            let sum = u32::from(colour) * u32::from(opacity) + 255 * (255 - u32::from(opacity));
            u8::try_from((sum + 127) / 255).unwrap_or(u8::MAX)
        };
        image::Rgb([red, green, blue].map(over))
    })
}

/// No more dots than are seen at the size at which a logo is printed.
#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "between nought and the size of a picture")]
fn reduced(picture: RgbImage) -> RgbImage {
    let dots = |length: crate::length::Length| length.to_mm() / INCH * DENSITY;
    let (width, height) = (f64::from(picture.width()), f64::from(picture.height()));
    let scale = (dots(LOGO.width) / width).min(dots(LOGO.height) / height);
    if scale >= 1.0 {
        return picture;
    }
    let shrunk = |length: f64| (length * scale).round().max(1.0) as u32;
    image::imageops::resize(&picture, shrunk(width), shrunk(height), FilterType::Triangle)
}

#[cfg(test)]
mod tests {
    use super::*;
    use image::{ExtendedColorType, ImageEncoder as _, Rgba};

    fn png(picture: &RgbaImage) -> Vec<u8> {
        let mut file = Vec::new();
        let encoder = image::codecs::png::PngEncoder::new(&mut file);
        let (width, height) = picture.dimensions();
        encoder.write_image(picture.as_raw(), width, height, ExtendedColorType::Rgba8).unwrap();
        file
    }

    /// A PNG file of nothing but the head that says its size (W3C PNG, 11.2.2), with the checksum that belongs to it.
    fn only_says(width: u32, height: u32) -> Vec<u8> {
        let mut chunk = b"IHDR".to_vec();
        chunk.extend([width, height].iter().flat_map(|length| length.to_be_bytes()));
        chunk.extend([8, 6, 0, 0, 0]);
        let crc = !chunk.iter().fold(u32::MAX, |crc, byte| {
            (0..8).fold(crc ^ u32::from(*byte), |crc, _| if crc & 1 == 1 { (crc >> 1) ^ 0xEDB8_8320 } else { crc >> 1 })
        });
        let mut file = b"\x89PNG\r\n\x1A\n\0\0\0\x0D".to_vec();
        file.extend(chunk);
        file.extend(crc.to_be_bytes());
        file.extend(b"\0\0\0\x10IDAT");
        file
    }

    #[test]
    fn what_is_transparent_lies_on_white() {
        let picture = RgbaImage::from_fn(3, 1, |x, _| Rgba([200, 0, 100, [0, 128, 255][x as usize]]));
        let raster = logo(&png(&picture), 10, "Saltmere").unwrap();
        assert_eq!((raster.width, raster.height, raster.alternative.as_str()), (3, 1, "Saltmere"));
        assert_eq!(raster.rgb, [255, 255, 255, 227, 127, 177, 200, 0, 100]);
    }

    #[test]
    fn a_jpeg_is_read_too() {
        let mut file = Vec::new();
        let picture = RgbImage::from_pixel(16, 8, image::Rgb([10, 120, 200]));
        image::codecs::jpeg::JpegEncoder::new_with_quality(&mut file, 100).encode_image(&picture).unwrap();
        let raster = logo(&file, 128, "").unwrap();
        assert_eq!((raster.width, raster.height), (16, 8));
        let near = raster.rgb.chunks(3).all(|dot| dot.iter().zip([10, 120, 200]).all(|(is, was)| is.abs_diff(was) < 4));
        assert!(near, "{:?}", &raster.rgb[..3]);
    }

    #[test]
    fn a_picture_keeps_no_more_dots_than_print_shows_and_its_proportions() {
        let raster = logo(&png(&RgbaImage::from_pixel(2_000, 500, Rgba([0, 0, 0, 255]))), 1_000_000, "").unwrap();
        // 9 mm at 600 dots to the inch.
        assert_eq!((raster.width, raster.height), (850, 213));
        assert!(raster.rgb.iter().all(|&byte| byte == 0), "reducing lightens nothing");
    }

    #[test]
    fn a_picture_that_only_says_that_it_is_huge_is_refused_for_what_it_says() {
        for (width, height) in [(50_000, 50_000), (1 << 30, 1 << 30), (4_001, 1_000)] {
            let fault = logo(&only_says(width, height), 4_000_000, "").unwrap_err();
            assert!(
                matches!(fault, LogoFault::TooLarge { most: 4_000_000, .. } | LogoFault::Broken(ImageError::Limits(_))),
                "{width} x {height}: {fault}"
            );
        }
    }

    #[test]
    fn what_is_no_picture_or_a_broken_one_is_refused() {
        for file in [&b""[..], b"enclosure,circuit\n", b"GIF89a\x01\0\x01\0\0\0\0;", b"\xFF\xD8\xFF", b"<svg/>"] {
            let fault = logo(file, 1_000, "").unwrap_err();
            assert!(matches!(fault, LogoFault::NoPicture | LogoFault::Broken(_)), "{fault}");
        }
        let whole = png(&RgbaImage::from_pixel(20, 20, Rgba([1, 2, 3, 255])));
        for length in 0..whole.len() - 12 {
            assert!(logo(&whole[..length], 1_000, "").is_err(), "{length} of {} bytes", whole.len());
        }
    }
}
