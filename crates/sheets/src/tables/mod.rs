//! The tables of the papers: every number in them is a field of the job or the design.

mod assumed;
mod basis;
mod circuits;
mod conventions;
mod covered;
mod cuts;
mod decisions;
mod doubt;
mod fixtures;
mod floor_parts;
mod floors;
mod governed;
mod groups;
mod helpers;
mod house;
mod joints;
mod joist_holes;
mod laid;
mod loops;
mod manifolds;
mod pieces;
mod port_card;
mod responses;
mod rooms;
mod setting_out;
mod surfaces;
mod warmth;

pub(crate) use basis::{assumptions, basis, limits};
pub(crate) use circuits::circuits;
pub(crate) use conventions::{conventions, overrides};
pub(crate) use covered::{doorway_table, wall_table};
pub(crate) use cuts::cuts;
pub(crate) use decisions::decisions;
pub use doubt::doubt_table;
pub(crate) use fixtures::fixtures;
pub(crate) use floor_parts::floor_parts;
pub(crate) use floors::floors;
pub(crate) use governed::governed;
pub(crate) use groups::{groups, per_degree};
pub(crate) use helpers::helpers;
pub(crate) use house::{parts, sanity, space_kind, unheated};
pub(crate) use joints::joints;
pub(crate) use joist_holes::{hole_table, lane_table};
pub(crate) use laid::laid;
pub(crate) use loops::loops;
pub(crate) use manifolds::manifolds;
pub(crate) use pieces::{boards, plates};
pub(crate) use port_card::port_cards;
pub(crate) use responses::responses;
pub(crate) use rooms::rooms;
pub(crate) use setting_out::setting_out;
pub(crate) use surfaces::surfaces;
pub(crate) use warmth::{warm_loops, warm_rooms};

use crate::block::{Column, Units};
use quantity::{Measure, System, show_in, unit};

/// A column in the usual units of a measure.
pub(crate) fn column(key: &'static str, heading: &'static str, measure: Measure) -> Column {
    Column::of(key, heading, Units::of(measure))
}

/// Inches and millimetres, for spacings, bends and thicknesses.
pub(crate) const SMALL: Units = Units { us: &unit::INCH, si: &unit::MILLIMETRE };

/// Hours, for what takes long.
pub(crate) const HOURS: Units = Units { us: &unit::HOURS, si: &unit::HOURS };
/// Times from here on are shown in hours, seconds.
const HOURS_FROM_S: f64 = 7200.0;

/// A number in both unit systems; a length below a metre in inches and millimetres.
pub(crate) fn shown_both(si: f64, measure: Measure, first: System) -> String {
    let units = match measure {
        Measure::Ratio => return show_in(si, &unit::ONE),
        Measure::Length if si.abs() < 1.0 => SMALL,
        Measure::Time if si.abs() >= HOURS_FROM_S => HOURS,
        measure => Units::of(measure),
    };
    let show = |system: System| show_in(si, units.unit(system));
    let (one, other) = (show(first), show(first.other()));
    if units.agree() { one } else { format!("{one} ({other})") }
}
