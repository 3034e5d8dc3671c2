//! Edits of the job text that keep its comments and order.

/// One change of the text.
#[derive(Clone, Debug, PartialEq)]
pub enum Edit {
    /// Sets a key, making its table if there is none: `room.kitchen.spacing` to `"6 in"`.
    Set {
        /// Dotted path of the key.
        path: String,
        /// The value as it is to stand in the text, without TOML quoting.
        value: String,
    },
    /// Takes a key away, which opens a decision.
    Unset {
        /// Dotted path of the key.
        path: String,
    },
    /// Gives a key another name and keeps its value and its comments.
    RenameKey {
        /// Dotted path of the key or table: `room.kitchen.spacng`.
        path: String,
        /// Its last name as it shall be.
        to: String,
    },
    /// Renames a keyed table and all references to it.
    Rename {
        /// The kind of table: `room`.
        table: String,
        /// The key it has.
        from: String,
        /// The key it shall have.
        to: String,
    },
}
