//! Coils of tube, and loops as they were laid.

use crate::decision::{Fact, Place, Stated};
use quantity::Length;

/// A size of coil that can be bought, or coils and rest pieces on hand.
#[derive(Clone, Debug, PartialEq)]
pub struct Coil {
    /// Its key.
    pub key: String,
    /// Where its heading stands.
    pub place: Place,
    /// The tube on it, by catalogue key; that of the heating if absent.
    pub tube: Option<Stated<String>>,
    /// Tube on it.
    pub length: Option<Fact<Length>>,
    /// The mark printed at the end that is laid first.
    pub start: Fact<Length>,
    /// The mark printed at its other end.
    pub end: Option<Fact<Length>>,
    /// How many are on hand; none where as many as it takes can be bought.
    pub on_hand: Option<Fact<u32>>,
}

/// One loop as it lies, by the marks printed on its tube.
#[derive(Clone, Debug, PartialEq)]
pub struct LaidLoop {
    /// The loop's key: `kitchen/1`.
    pub key: String,
    /// Where its heading stands.
    pub place: Place,
    /// The mark at the supply port.
    pub start: Fact<Length>,
    /// The mark at the return port.
    pub end: Fact<Length>,
    /// The coil it was cut from, by key or in words.
    pub coil: Option<Stated<String>>,
    /// When it was read, in words.
    pub date: Option<Stated<String>>,
}
