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

    /// A square part in shades, light where it lies outside.
    fn grey(&self, (left, top): (u32, u32), side: u32) -> Vec<u8> {
        let dots = (0..side).flat_map(|y| (0..side).map(move |x| (left + x, top + y)));
        dots.map(|(x, y)| if self.at(x, y) { 0 } else { 255 }).collect()
    }
}

/// A code found in a picture.
pub(crate) struct Code {
    /// Dots along a module.
    pub(crate) module: u32,
    /// Modules along a side.
    side: u32,
    /// The upper left dot.
    corner: (u32, u32),
}

impl Code {
    /// The code whose upper left finder pattern comes first: dark, light, three dark, light, dark modules across and down
    /// (ISO/IEC 18004, 6.3.3). Every dot of two finder patterns is looked at.
    pub(crate) fn find(picture: &Picture) -> Option<Self> {
        (0..picture.height).flat_map(|y| (0..picture.width).map(move |x| (x, y))).find_map(|corner| {
            let module = finder(picture, corner)?;
            let other = |side: &u32| finder(picture, (corner.0 + (side - 7) * module, corner.1)) == Some(module);
            let side = (21..=177).step_by(4).find(other)?;
            Some(Self { module, side, corner })
        })
    }

    /// What rxing reads at the dots as they are, with four light modules around the code (ISO/IEC 18004, 6.3.8).
    pub(crate) fn text(&self, picture: &Picture) -> Result<String, String> {
        let (quiet, side) = (4 * self.module, (self.side + 8) * self.module);
        let grey = picture.grey((self.corner.0 - quiet, self.corner.1 - quiet), side);
        let found = rxing::helpers::detect_in_luma_slice(&grey, side, side, Some(rxing::BarcodeFormat::QR_CODE));
        found.map(|found| found.getText().to_owned()).map_err(|error| error.to_string())
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
    if !picture.at(left, top) || left == 0 || top == 0 || picture.at(left - 1, top) || picture.at(left, top - 1) {
        return None;
    }
    let run = (0..picture.width - left).take_while(|x| picture.at(left + x, top)).count() as u32;
    let module = run / 7;
    if module == 0 || !run.is_multiple_of(7) {
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
