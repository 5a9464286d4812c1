//! Pages into bytes; no decision of content or place.

pub mod engraving;
pub mod html;
pub mod outlines;
pub mod pdf;
pub mod png;
pub mod svg;
pub mod texts;
