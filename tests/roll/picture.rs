//! A picture in black and white as a library that is not ours reads it, and the code in it, dot by dot.

use std::path::Path;

use crate::judge::Raster;

/// Dots, dark or light.
pub(crate) struct Picture {
    pub(crate) width: u32,
    pub(crate) height: u32,
    /// Bits of a dot in the file.
    pub(crate) bits: u8,
    /// Dots in a metre, across and down alike.
    pub(crate) a_metre: u32,
    dark: Vec<bool>,
}

impl Picture {
    /// Reads a PNG file: its dots by the `image` crate, its form by the bytes that ISO/IEC 15948 gives for it.
    pub(crate) fn read(path: &Path) -> Self {
        let bytes = std::fs::read(path).unwrap_or_else(|error| panic!("{}: {error}", path.display()));
        // 11.2.2: after signature, length and name come width, height, bit depth and colour type.
        assert_eq!((&bytes[12..16], bytes[25]), (&b"IHDR"[..], 0), "grey");
        // 11.3.5.3: pixels a unit across and down, unit 1 is the metre.
        let at = bytes.windows(4).position(|word| word == b"pHYs").unwrap() + 4;
        let number = |at: usize| u32::from_be_bytes(bytes[at..at + 4].try_into().unwrap());
        assert_eq!((number(at), bytes[at + 8]), (number(at + 4), 1));
        let image = image::load_from_memory(&bytes).unwrap().to_luma8();
        let dark = image.pixels().map(|pixel| {
            assert!(matches!(pixel.0[0], 0 | 255), "a shade");
            pixel.0[0] == 0
        });
        let dark = dark.collect();
        Self { width: image.width(), height: image.height(), bits: bytes[24], a_metre: number(at), dark }
    }

    /// A rendering, dark where it is nearer to black.
    pub(crate) fn of(raster: &Raster) -> Self {
        let dark = raster.pixels.iter().map(|pixel| pixel[1] < 128).collect();
        let (width, height) = (raster.width as u32, raster.height as u32);
        Self { width, height, bits: 8, a_metre: 0, dark }
    }

    fn at(&self, x: u32, y: u32) -> bool {
        x < self.width && y < self.height && self.dark[(y * self.width + x) as usize]
    }

    fn grey(&self) -> Vec<u8> {
        self.dark.iter().map(|dark| if *dark { 0 } else { 255 }).collect()
    }
}

/// A code found in a picture.
pub(crate) struct Code {
    pub(crate) text: String,
    /// Dots along a module.
    pub(crate) module: u32,
    /// Modules along a side.
    side: u32,
    /// The upper left dot.
    corner: (u32, u32),
}

impl Code {
    /// The code as rxing reads it, at the dots as they are. Its place follows from the upper left finder pattern: dark,
    /// light, three dark, light, dark modules across its middle (ISO/IEC 18004, 6.3.3).
    pub(crate) fn find(picture: &Picture) -> Result<Self, String> {
        let (grey, format) = (picture.grey(), Some(rxing::BarcodeFormat::QR_CODE));
        let found = rxing::helpers::detect_in_luma_slice(&grey, picture.width, picture.height, format);
        let found = found.map_err(|error| error.to_string())?;
        let points: Vec<(f64, f64)> =
            found.getPoints().iter().map(|point| (f64::from(point.x), f64::from(point.y))).collect();
        // The reader gives middles of finder patterns, or corners of the code, and a code stands upright.
        let middle = |a: fn(f64, f64) -> f64, of: fn(&(f64, f64)) -> f64| points.iter().map(of).reduce(a).unwrap();
        let (left, top) = (middle(f64::min, |point| point.0), middle(f64::min, |point| point.1));
        let corner = (0..picture.width * picture.height).map(|dot| (dot % picture.width, dot / picture.width));
        let near = |(x, y): &(u32, u32)| {
            let far = 40.0 * f64::from(picture.width) / 840.0 + 30.0;
            (f64::from(*x) - left).abs() < far && (f64::from(*y) - top).abs() < far
        };
        let corner = corner.filter(near).find_map(|corner| Some((corner, finder(picture, corner)?)));
        let (corner, module) = corner.ok_or_else(|| format!("no finder pattern near {left} {top}"))?;
        let side = (21..=177).step_by(4).find(|side| {
            let other = (corner.0 + (side - 7) * module, corner.1);
            finder(picture, other) == Some(module) && !picture.at(other.0 + 7 * module, corner.1)
        });
        let side = side.ok_or("no second finder pattern")?;
        Ok(Self { text: found.getText().to_owned(), module, side, corner })
    }

    /// The first dot of the code that is unlike its module's first dot.
    pub(crate) fn uneven(&self, picture: &Picture) -> Option<(u32, u32)> {
        self.dots().find(|(x, y)| {
            let first = |at: u32| at / self.module * self.module;
            picture.at(self.corner.0 + x, self.corner.1 + y)
                != picture.at(self.corner.0 + first(*x), self.corner.1 + first(*y))
        })
    }

    /// The first dot of the code that is dark in one picture only.
    pub(crate) fn differs(&self, one: &Picture, other: &Picture) -> Option<(u32, u32)> {
        let at = |picture: &Picture, x: u32, y: u32| picture.at(self.corner.0 + x, self.corner.1 + y);
        self.dots().find(|(x, y)| at(one, *x, *y) != at(other, *x, *y))
    }

    fn dots(&self) -> impl Iterator<Item = (u32, u32)> {
        let dots = self.side * self.module;
        (0..dots).flat_map(move |y| (0..dots).map(move |x| (x, y)))
    }
}

/// Dots along a module of the finder pattern that begins at a dot; `None` if none does, every dot of it being looked at.
fn finder(picture: &Picture, (left, top): (u32, u32)) -> Option<u32> {
    let outside = |x: u32, y: u32| picture.at(x, y);
    if !picture.at(left, top) || left == 0 || top == 0 || outside(left - 1, top) || outside(left, top - 1) {
        return None;
    }
    let run = (0..picture.width - left).take_while(|x| picture.at(left + x, top)).count() as u32;
    let module = run / 7;
    if module == 0 || run % 7 != 0 {
        return None;
    }
    let dark = |x: u32, y: u32| {
        let ring = |at: u32| at == 0 || at == 6;
        let inner = |at: u32| (2..5).contains(&at);
        ring(x) || ring(y) || (inner(x) && inner(y))
    };
    let mut dots = (0..7 * module).flat_map(|y| (0..7 * module).map(move |x| (x, y)));
    dots.all(|(x, y)| picture.at(left + x, top + y) == dark(x / module, y / module)).then_some(module)
}
