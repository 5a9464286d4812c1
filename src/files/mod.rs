//! The only door to the disk: limited reads, safe writes, a file that only grows.
//!
//! A file is written beside its destination, flushed and synced, and only then takes the destination's name; what stood
//! there before stays whole until that moment. Nothing is overwritten unless that was asked for.

mod error;

mod name;
mod read;

mod stamp;

mod temporary;

mod destination;

mod ahead;
mod draft;

mod exchange;

mod folder;

mod journal;

pub use destination::{Destination, check_all};
pub use draft::{Draft, PublishError, Published, publish};
pub use error::FileError;
pub use exchange::exchange;
pub use folder::Folder;
pub use journal::{Journal, look};
pub use name::safe_name;
pub use read::{STANDARD, beginning, exists, make_folder, read, read_text, read_within};
pub use stamp::{Stamp, stamp};
pub use temporary::{Temporary, temporary};
