//! The network behind the isolators: a second file, one row a device, each naming what feeds it.
//!
//! Reading never fails: it returns what could be understood together with everything that was wrong.

pub mod column;
pub mod record;

mod reader;

mod devices;
mod phasing;

pub use column::SupplyColumn;
pub use reader::{ReadOptions, Reading, read};
pub use record::{DescribedDevice, Kind, Phasing, Starting, Supplies};

#[cfg(test)]
mod properties;
#[cfg(test)]
mod tests;
