//! What flows in the tube: water, propylene glycol, ethylene glycol.

pub mod ethylene;
pub mod glycol;
pub mod water;
