<<<<<<< HEAD
//! The program as it is used: commands through the binary, pages through HTTP on loopback.

mod commands;
mod pages;
mod program;
=======
//! The program as its user meets it, and the arrows of the house.

mod arrows;
>>>>>>> 3586afb30f05237bca6a8138264f7c9c0b9ce16b
