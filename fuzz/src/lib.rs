//! What the fuzz targets have in common: what must hold of whatever bytes come in.
#![allow(clippy::unwrap_used, clippy::panic, reason = "a target that finds something wrong stops")]

pub mod code;
pub mod document;
pub mod place;
pub mod safety;
pub mod workbook;
