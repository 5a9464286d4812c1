//! The only door to the disk: limited reads, safe writes.
