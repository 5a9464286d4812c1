//! Mixed wiring colours: that conductors have the colours of two editions.
//!
//! Reason: black is a line of today and was the neutral of yesterday; blue was a line and is the neutral.
//!
//! Reference: none today. It was BS 7671 514.14.1, which was deleted (from texts that say so, and from memory); to warn
//! is common practice still, and never required. The words are those of the deleted clause, from memory.
//!
//! In the list: `kind` is `mixed-colours`.
//!
//! Example: a board of 1994 to which circuits were added in 2019.

use super::{Asked, Words};

pub(super) const ASKED: Asked = Asked {
    words: Words::Free,
    plate: None,
    capitals: None,
    is_advised: true,
    because: "the clause that asked for it was deleted; good practice at a board where both colour codes meet",
};
