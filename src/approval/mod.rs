//! Pages for approval.
