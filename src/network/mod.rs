//! Rows into a network: what feeds what, what isolates what, which voltages meet where.
