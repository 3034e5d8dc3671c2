//! The program as it is used.
