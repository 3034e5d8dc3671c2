//! What flows in the tube: water and propylene glycol.

pub mod glycol;
pub mod water;
