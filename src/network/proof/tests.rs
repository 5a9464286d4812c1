//! The proof against small networks written out line by line.

mod bottleneck;
mod fixture;
mod joined;
mod meshed;

mod converters;
mod model;
mod poles;

mod advised;
mod brute;
mod outputs;
mod random;
mod region;
mod side_by_side;
mod trying;
