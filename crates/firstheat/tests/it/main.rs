//! The program as its user meets it, and the arrows of the house.

mod arrows;
