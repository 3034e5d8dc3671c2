//! What is read, what is shown, and that the unit table is right.

mod reading;
mod showing;
mod table;
