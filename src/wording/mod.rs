//! Message files by language, through a localisation library.
