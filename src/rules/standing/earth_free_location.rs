//! Earth-free location: that bonding in this location must not be connected to earth.
//!
//! Reason: protection by earth-free local bonding ends as soon as anything in the location is earthed.
//!
//! Reference: BS 7671:2018+A4:2026, 514.13.2 (clause and words from memory): words prescribed, where the location can be
//! entered, also for electrical separation of more than one item of equipment.
//!
//! In the list: `kind` is `earth-free-location`.
//!
//! Example: the door of a test room for refrigerant sensors.

use super::{Asked, Words};
use crate::rules::clause::Confidence;

pub(super) const ASKED: Asked = Asked {
    words: Words::Prescribed(Confidence::Memory),
    plate: None,
    capitals: None,
    is_advised: false,
    because: "to be fixed where everybody who enters the location sees it",
};
