//! The inspection list: what stands where, to be gone round with and filled in by hand, and read again.

mod column;
mod headers;
mod reader;
mod row;
mod taking;
mod workbook;

pub use column::ListColumn;
pub use reader::{Filled, ReadOptions, Reading, read};
pub use row::{ListRow, rows};
pub use taking::{Taken, Usual, take};
pub use workbook::make;

#[cfg(test)]
mod tests;
