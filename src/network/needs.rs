//! What the devices of a row must part before its live parts are dead.

use super::graph::Terminal;

/// The conductors of a row that must be parted, as far as the survey tells.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub struct Needs {
    /// Lines or poles; `None` where the survey does not say.
    pub lines: Option<u8>,
    /// Whether a neutral is among them; `None` where the survey does not say.
    pub neutral: Option<bool>,
}

/// The circuit whose neutral a row shares or borrows.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub enum Lender {
    /// The row's neutral is its own, on the survey's word.
    #[default]
    None,
    /// Where the live parts of the lending circuit are connected, wherever it runs.
    At(Vec<Terminal>),
    /// Neither file says where that circuit runs, or it is not known whether the neutral is shared.
    NotFound,
}
