//! Climate, house, storeys, and air that is moved on purpose.

use super::lines::{self, Lines};
use crate::decision::Stated;
use crate::finding::{Finding, Severity};
use crate::model::{Fan, FuelBill, House, Outdoors, Storey, Ventilation};
use crate::read::Context;
use crate::read::sheet::{Sheet, Value};
use quantity::Quantity;

pub(super) fn outdoors(sheet: &Sheet, context: &mut Context<'_>) -> Outdoors {
    let lines = Lines::single(sheet, "outdoors");
    Outdoors {
        design: lines.quantity("design"),
        annual_mean: lines.quantity("annual_mean"),
        altitude: lines.quantity_fact("altitude", context),
        ground: lines.quantity_fact("ground", context),
        ground_swing: lines.quantity("ground_swing"),
        wind: lines.quantity_fact("wind", context),
        monthly: monthly(&lines, "monthly"),
        humidity: monthly(&lines, "humidity"),
    }
}

/// A quantity of each month.
fn monthly<Q: Quantity>(lines: &Lines<'_>, key: &str) -> Option<Stated<Vec<Q>>> {
    lines.stated(key, |value| match value {
        Value::Numbers(numbers) => Some(numbers.iter().map(|si| Q::from_si(*si)).collect()),
        _ => None,
    })
}

pub(super) fn house(sheet: &Sheet, context: &mut Context<'_>) -> House {
    let lines = Lines::single(sheet, "house");
    House {
        built: lines.count("built"),
        air_changes: lines.quantity_fact("air_changes", context),
        blower_door: lines.quantity("blower_door"),
        leakage_area: lines.quantity("leakage_area"),
        flue_share: lines.quantity_fact("flue_share", context),
        thickest_wall: lines.quantity_fact("thickest_wall", context),
        wall: lines.text("wall"),
        wall_in_ground: lines.text("wall_in_ground"),
        party_wall: lines.text("party_wall"),
        partition: lines.text("partition"),
        ceiling: lines.text("ceiling"),
        roof: lines.text("roof"),
        floor_between: lines.text("floor_between"),
        floor: lines.text("floor"),
        window: lines.text("window"),
        skylight: lines.text("skylight"),
        door: lines.text("door"),
    }
}

pub(super) fn storeys(sheet: &Sheet) -> Vec<Storey> {
    let storey = |group| {
        let lines = Lines::of(group);
        Storey {
            key: group.key.clone(),
            place: group.place,
            height: lines.quantity("height"),
            floor_to_floor: lines.quantity("floor_to_floor"),
            level: lines.quantity("level"),
            ground: lines.quantity("ground"),
            framing: lines.text("framing"),
        }
    };
    sheet.all("storey").map(storey).collect()
}

pub(super) fn ventilation(sheet: &Sheet, context: &mut Context<'_>) -> Ventilation {
    let lines = Lines::single(sheet, "ventilation");
    Ventilation {
        supply: lines.quantity("supply"),
        exhaust: lines.quantity("exhaust"),
        recovery: lines.quantity_fact("recovery", context),
    }
}

pub(super) fn fans(sheet: &Sheet, context: &mut Context<'_>) -> Vec<Fan> {
    let mut fan = |group| {
        let lines = Lines::of(group);
        Fan {
            key: group.key.clone(),
            place: group.place,
            room: lines.known("room", lines::text),
            flow: lines.quantity("flow"),
            continuous: lines.flag("continuous", context),
        }
    };
    sheet.all("fan").map(&mut fan).collect()
}

/// The fuel bill, if the text has one.
pub(super) fn fuel(sheet: &Sheet, context: &mut Context<'_>) -> Option<FuelBill> {
    let group = sheet.single("fuel")?;
    let lines = Lines::of(group);
    for (has, lacks) in [("energy", "degree_days"), ("degree_days", "energy")] {
        if group.mentions(has) && !group.mentions(lacks) {
            let key = format!("fuel.{lacks}");
            let (has, lacks) = (has.replace('_', "-"), lacks.replace('_', "-"));
            context.findings.push(
                Finding::new(
                    Severity::Warn,
                    "missing-key",
                    key,
                    format!("fuel has {has} but no {lacks}; the two are of use only together"),
                    format!("write the {lacks} of the same year"),
                )
                .at(group.place),
            );
        }
    }
    Some(FuelBill {
        energy: lines.quantity("energy"),
        degree_days: lines.quantity("degree_days"),
        efficiency: lines.quantity_fact("efficiency", context),
        other_use: lines.quantity_fact("other_use", context),
    })
}
