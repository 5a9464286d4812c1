//! Start, run, exit code.

fn main() {}
