//! A picture of dots, such as a logo. Only documents that are read carry one: a notice is drawn, never made of dots.

/// Rows of dots, opaque.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Raster {
    /// Dots in a row.
    pub width: u32,
    /// Rows.
    pub height: u32,
    /// Row by row from the top, red, green and blue of each dot in one byte each (sRGB, IEC 61966-2-1).
    pub rgb: Vec<u8>,
    /// What it shows.
    pub alternative: String,
}
