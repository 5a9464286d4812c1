//! The languages that come with the program.

use super::MessageFile;

/// A language that comes with the program.
pub(super) struct Shipped {
    /// Its messages.
    pub(super) file: MessageFile<'static>,
    /// Its name in English.
    pub(super) name: &'static str,
    /// Whether no competent translator has read it: nobody may rely on it before that.
    pub(super) unchecked: bool,
}

/// English, in which the messages are written, and what it was translated to.
pub(super) const SHIPPED: [Shipped; 2] = [
    Shipped {
        file: MessageFile { language: "en", file: "en.ftl", text: include_str!("messages/en.ftl") },
        name: "English",
        unchecked: false,
    },
    Shipped {
        file: MessageFile { language: "de", file: "de.ftl", text: include_str!("messages/de.ftl") },
        name: "German",
        unchecked: true,
    },
];
