//! Shaped text: glyphs in font units beside the text that they show.

/// One of the embedded faces.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Face {
    /// For the small line and what a point feeds.
    Regular,
    /// For places, voltages' meanings and statements.
    Medium,
    /// For what must be seen first.
    Bold,
}

impl Face {
    /// Every face, in a fixed order.
    pub const ALL: [Self; 3] = [Self::Regular, Self::Medium, Self::Bold];
}

/// One glyph of a line, in the font's own numbering and units (1000 to the em in the embedded faces).
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Glyph {
    /// Glyph number in the whole font file.
    pub id: u16,
    /// How far the pen goes on after it, kerning included, in font units.
    pub advance: i16,
    /// How far the glyph stands to the right of the pen, in font units.
    pub shift: i16,
    /// How far the glyph stands above the baseline, in font units.
    pub rise: i16,
    /// Byte of the source text at which the cluster of this glyph starts.
    pub cluster: u16,
}

/// One line of text, shaped once and used at any size.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct GlyphLine {
    /// The face it is shaped with.
    pub face: Face,
    /// The text that the glyphs show.
    pub text: Box<str>,
    /// The glyphs from left to right.
    pub glyphs: Vec<Glyph>,
    /// Sum of the advances, in font units.
    pub width: i32,
}
