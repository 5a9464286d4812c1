//! What a person must bear in mind who reads a document about notices: said alike in all of them.

use super::Block;

/// How surely clauses are known.
pub const CLAUSES: &str =
    "Not every clause was read in the standard itself; each says how surely it is known. Check your own copy.";

/// What the words behind clauses mean.
pub const CLAUSE_WORDS: &str = "Behind a clause: read, in the document itself; quoted, from texts that quote it; from \
     memory, unverified. Check your own copy.";

/// What a person must bear in mind who approves, fixes or keeps notices; common practice of the trade.
pub const CAUTIONS: [&str; 6] = [
    "A notice makes nothing dead. Follow the safe isolation procedure: prove the indicator, prove dead at the point of \
     work between all conductors and to earth, prove the indicator again.",
    "Local rules, the standard's own text and licensed practice come before anything printed here.",
    "What the survey does not say is unknown. That no notice is needed is always on the survey's word.",
    "\u{201C}No path found\u{201D} is on the word of survey and supplies file. It never says that something is dead.",
    CLAUSES,
    "Pictures of notices on these pages are for reading. Printed on plain paper they are no durable notices.",
];

/// All of them as a list.
#[must_use]
pub fn list() -> Block {
    Block::List(CAUTIONS.map(str::to_owned).into())
}
