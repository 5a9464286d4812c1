//! The supplies of one enclosure as a one-line diagram.
