//! The program as it is used: commands through the binary, pages through HTTP on loopback.

mod commands;
mod pages;
mod program;
