//! The proof against small networks written out line by line.

mod fixture;

mod model;

mod brute;
mod random;
mod trying;
