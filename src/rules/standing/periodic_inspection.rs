//! Periodic inspection: when the installation was inspected last, and by when it should be again.
//!
//! Reason: an installation ages, and nobody can see from a board whether anybody has looked at it.
//!
//! Reference: BS 7671:2018+A4:2026, 514.12.1 (from texts that quote it): words prescribed, with the date of the last
//! inspection and the recommended date of the next, at or near the distribution boards that it speaks of. A4 waives it
//! in domestic premises if the certificate with its guidance was issued (from the same texts). Earlier editions asked
//! for characters of at least 11 point (from memory): no capitals lower than that are used.
//!
//! In the list: `kind` is `periodic-inspection`; `last_inspection`, `next_inspection`. A date that is not given is a
//! line to write on with a permanent pen.
//!
//! Example: DB-A, inspected on 14 May 2026 and to be inspected again by 14 May 2031.

use super::{Asked, Words, points};
use crate::rules::clause::Confidence;

pub(super) const ASKED: Asked = Asked {
    words: Words::Prescribed(Confidence::Secondary),
    plate: None,
    capitals: Some(points(11)),
    is_advised: false,
    because: "to be fixed at or near the distribution boards of which it speaks; waived in domestic premises only if the \
              certificate with its guidance was issued",
};
