//! The proof against small networks written out line by line.

mod fixture;

mod model;
