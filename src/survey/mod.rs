//! Bytes into typed rows: the survey as its author wrote it, each value knowing its place.
//!
//! Reading never fails: it returns what could be understood together with everything that was wrong.

pub mod column;
pub mod record;
pub mod value;

pub use column::Column;
pub use record::{Enclosure, Row, Survey};
