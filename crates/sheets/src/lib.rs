//! Drawings and papers of a design, laid out once for every output.
//!
//! A [`Sheet`] is a list of blocks: typed tables, drawings as marks in metres, findings, words. It
//! decides nothing: a number on a paper is a field of the job or the design, or the total of a
//! column. The writers [`svg()`], [`csv()`], [`text()`] and [`json()`] take blocks as they are and lay
//! nothing out; pages and papers show the same blocks.

mod block;
mod cautions;
mod cost;
mod drawing;
mod explain;
mod finish_later;
mod house_sheet;
mod room_sheet;
mod section;
mod setting_out;
mod sheet;
mod site_sheets;
mod source;
mod tables;
mod warm_sheet;
mod write;

pub use block::{
    Block, Cell, Column, Facts, FindingItem, FindingList, HeadLine, Prose, Row, RowKind, Sheet,
    Spot, Table, Units, Value,
};
pub use cautions::cautions;
pub use cost::cost_sheet;
pub use drawing::{Anchor, Colour, Drawing, Fill, Mark, Shape, Squares, Stroke};
pub use explain::{Step, Working, explain, explain_sheet};
pub use finish_later::finish_sheet;
pub use section::{section_of, section_sheet};
pub use sheet::{Papers, about, design_sheet, finding_list};
pub use source::Paths;
pub use tables::doubt_table;
pub use warm_sheet::{SEEN, Seen, warm_sheet};
pub use write::{csv, csv_of_all, json, json_string, svg, text, text_table};
