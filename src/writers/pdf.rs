//! Portable Document Format, written page by page.
