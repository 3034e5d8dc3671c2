//! To be described with its first content.
