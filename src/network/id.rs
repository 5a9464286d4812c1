//! Numbers that stand for the things of a network, each kind with its own type.

use std::num::NonZeroU32;

use smallvec::SmallVec;

macro_rules! ids {
    ($($(#[doc = $line:literal])+ $name:ident;)+) => {
        $(
            $(#[doc = $line])+
            #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
            pub struct $name(NonZeroU32);

            impl $name {
                /// The thing at this place of its list.
                #[must_use]
                #[expect(clippy::cast_possible_truncation, reason = "surveys are limited to far fewer things than 2^32")]
                pub const fn new(index: usize) -> Self {
                    // One more is kept, so that none takes no more room than one.
                    Self(NonZeroU32::MIN.saturating_add(index as u32))
                }

                /// Its place in its list.
                #[must_use]
                pub const fn index(self) -> usize {
                    self.0.get() as usize - 1
                }
            }
        )+
    };
}

ids! {
    /// An enclosure: its place in the survey.
    EnclosureId;
    /// A way in which energy reaches an enclosure: a row of the survey, counted through all enclosures.
    WayId;
    /// A device, by designation and location.
    DeviceId;
    /// A board, transformer or source from which circuits come.
    SupplyId;
    /// Where energy comes from in the end.
    SourceId;
    /// An interlock, by name and kind.
    InterlockId;
    /// A node of the graph.
    NodeId;
}

/// Nodes of one row of a survey, which hardly ever are more: nothing is allocated for them.
pub type OfRow = SmallVec<[NodeId; 4]>;
