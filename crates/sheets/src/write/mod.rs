//! One writer for each output; none lays anything out.

mod csv;
mod json;
mod picture;
mod svg;
mod text;

pub use csv::{csv, csv_of_all};
pub use json::{json, json_string};
pub use svg::svg;
pub use text::{text, text_table};
