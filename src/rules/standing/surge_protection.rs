//! Surge protection: that surge protective devices are fitted.
//!
//! Reason: a test of insulation at 500 V damages a surge protective device, or is spoilt by it.
//!
//! Reference: BS 7671:2018+A4:2026, 514.16.1, new in A4 (from texts that quote it): the words are free. A4 waives the
//! notice in domestic premises if the certificate with its guidance was issued (from the same texts).
//!
//! In the list: `kind` is `surge-protection`.
//!
//! Example: the main board, with a type 1 + 2 device on its incoming side.

use super::{Asked, Words};

pub(super) const ASKED: Asked = Asked {
    words: Words::Free,
    plate: None,
    capitals: None,
    is_advised: false,
    because: "to be fixed at or near the board that holds the surge protective devices; waived in domestic premises only \
              if the certificate with its guidance was issued",
};
