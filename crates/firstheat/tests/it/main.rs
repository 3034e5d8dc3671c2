//! The program as its user meets it, and the arrows of the house.
//!
//! Commands run through the binary, pages through HTTP on loopback.

mod arrows;
mod commands;
mod pages;
mod program;
