//! The job file: text to [`Job`] and back.
//!
//! The text is the truth. This crate reads and binds it, tells every problem at its place, and
//! edits it without losing a comment. It computes nothing of the design: what touches what, whom a
//! leader can reach and whether a held value breaks a limit are questions for `design`.

mod decision;
mod edit;
mod finding;
mod library;
mod model;
mod nearest;
mod path;
mod read;
mod schema;
mod tree;
mod words;

pub use decision::{Decided, Decision, Fact, Origin, Place, Reason, Stated};
pub use edit::{Edit, EditError, apply};
pub use finding::{Finding, Limit, Mend, Promise, Severity};
pub use library::build_up_page;
pub use model::*;
pub use read::{COORDINATE_MOST_M, CORNERS_MOST, FINDINGS_MOST, TABLES_MOST, TEXT_MOST, read};
pub use schema::reference;
