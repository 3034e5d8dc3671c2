//! How fast heated floors follow their water.

use super::HOURS;
use crate::block::{Cell, Column, Row, Table, Units};
use crate::source::Source;
use design::responses::{FloorResponse, FloorTimes};
use quantity::{Measure, decimal};

fn columns() -> Vec<Column> {
    vec![
        Column::words("room", "room"),
        Column::of("most", "63 % of its heat after", HOURS),
        Column::of("nearly_all", "95 % after", HOURS),
        Column::of("day_lag", "behind its water, day and night", HOURS),
        Column::of("day_share", "of a day's swing arrives", Units::of(Measure::Ratio)),
        Column::words("words", "in words"),
    ]
}

/// The table of how fast floors answer; none where no floor is heated.
pub(crate) fn responses(source: &Source) -> Option<Table> {
    let all = &source.design.responses;
    let rows: Vec<Row> = all.iter().map(|response| row(source, response)).collect();
    let notes = vec![
        "Heat into the room after its water is suddenly as warm as designed, the room held at its \
         temperature; walls and furniture take their own time. Finish, film and wall of the tube \
         count; ground below is taken as it is."
            .to_owned(),
        "A night's setback pays where the floor is quick: one that lags by many hours is best left \
         running evenly."
            .to_owned(),
    ];
    let (key, title) = ("responses".to_owned(), "How fast floors answer".to_owned());
    (!rows.is_empty()).then(|| Table { key, title, columns: columns(), rows, notes })
}

fn row(source: &Source, response: &FloorResponse) -> Row {
    let mut cells = vec![Cell::Text(source.room_name(&response.room))];
    match &response.times {
        Ok(times) => cells.extend([
            source.cell_in(&times.most, HOURS),
            source.cell_in(&times.nearly_all, HOURS),
            source.cell_in(&times.day_lag, HOURS),
            source.cell(&times.day_share),
            Cell::Text(words(times)),
        ]),
        Err(why) => {
            cells.extend((0..4).map(|_| Cell::CannotTell(why.clone())));
            cells.push(Cell::Text(why.clone()));
        }
    }
    Row::new(response.room.clone(), cells)
}

fn words(times: &FloorTimes) -> String {
    format!("warm in {} after a cold start", spoken_time(times.nearly_all.si()))
}

/// A time as a person says it: minutes in fives, hours in halves, then whole hours.
fn spoken_time(seconds: f64) -> String {
    let minutes = seconds / 60.0;
    let hours = minutes / 60.0;
    match minutes {
        few if few < 57.5 => format!("{} min", decimal(5.0 * (few / 5.0).round().max(1.0), 0)),
        some if some < 300.0 => {
            let halves = (2.0 * hours).round() / 2.0;
            format!("{} h", decimal(halves, usize::from(halves.fract() > 0.0)))
        }
        _ => format!("{} h", decimal(hours, 0)),
    }
}

#[cfg(test)]
mod tests {
    use super::spoken_time;

    #[test]
    fn times_are_said_as_a_person_says_them() {
        let said = [20.0, 52.0 * 60.0, 5300.0, 10_900.0, 19_000.0].map(spoken_time);
        assert_eq!(said, ["5 min", "50 min", "1.5 h", "3 h", "5 h"]);
    }
}
