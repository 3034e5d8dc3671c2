//! The page about the job file, written from the table.

use super::{Absent, Form, Role, Row, TABLES};
use crate::read::value_rounded;
use quantity::System;
use std::fmt::Write;

const HEAD: &str = "# The job file

<!-- Written from the schema table of crates/job: UPDATE=1 cargo test -p job writes it anew. -->

A job file is TOML text. What is known is written down; what is open is left out, and the design
chooses. A key that can be chosen may also say `\"auto\"`, which is the same as leaving it out.

- Numbers take their unit in quotes, in the forms of the trade: `\"14'2 1/2\"`, `\"3.60 m\"`,
  `\"R-19\"`, `\"-5 F\"`. A bare number, in quotes or not, takes the unit that the tables below name
  for the units of the job.
- Plans: x runs east, y runs north. Outlines follow the inside faces of the walls, in either
  direction around.
- **Taped legs**: `outline = \"E 14'2, N 11'6 lake, W 14'2, S 11'6\"`. Each leg is a direction
  (`N`, `NE`, `E` … or a bearing such as `N30E`), a length and, if you like, the name of the wall.
  The last leg comes back to the start. An end within 1/8 in of the start is silent; one within 1 %
  of the taped length, and always one within 2 in, is spread over all legs by the compass rule and
  noted; a wider gap is an error, and the plan is closed by a straight wall.
- **Corners**: `outline = [[\"0\", \"0\"], [\"14'2\", \"0\"], [\"14'2\", \"11'6\"]]`.
- **Layers**: `\"plywood 1/2 in\"` is a material of the catalogue with its thickness, bare in inches
  or millimetres; `\"R-19 batt\"` is a rated resistance with any words, and `\"R-13 batt 3.5 in\"` says
  how thick it is. `\"air 25 mm\"` is still air; `\"slightly ventilated air 50 mm\"` and
  `\"ventilated air 40 mm\"` are open to outdoors, little or much. `\"R-19 batt 5.5 in between
  softwood 23 %\"` is insulation between studs, joists or rafters that take that share of the area;
  what lies between needs its thickness. `with tube` behind a layer says that the tube lies in it, at
  mid-depth or under the cover given: `\"concrete 4 in with tube, cover 2 in\"`, from the top of the
  tube to the top of the layer.
- **Build-ups**: floors may name one of the catalogue instead of an assembly:
  `floor = \"grooved-board-over-floor\"`; `docs/build-ups.md` lists them.
- **Far sides**: `\"outdoors\"`, `\"ground\"`, `\"heated\"`, `\"next house\"`, or a room or space by its
  key: `\"room.kitchen\"`, `\"space.attic\"` or `\"attic\"`.
- **Pitches**: `\"8:12\"`, `\"8 in 12\"`, `\"34 deg\"` or `\"67 %\"`.
- **How it is known**: any table may say which of its keys were measured on site and which are a
  guess: `measured = [\"outline\", \"height\"]`, `assumed = [\"air_changes\"]`. What is named in neither
  is taken as given.
- Names are yours: `[room.kitchen]` makes a room that other tables call `kitchen`. Names with blanks
  go in quotes: `[room.\"big room\"]`.

A wrong key is told and left out; the rest still holds.
";

/// The page about the job file, in markdown.
pub fn reference() -> String {
    let mut page = HEAD.to_owned();
    section(&mut page, "", "Top of the file", "Before the first heading.");
    for table in TABLES {
        let heading = match table.keyed() {
            true => format!("`[{}.name]`", table.name()),
            false => format!("`[{}]`", table.name()),
        };
        section(&mut page, table.pattern, &heading, table.doc);
    }
    page
}

fn section(page: &mut String, pattern: &str, heading: &str, doc: &str) {
    let _ = write!(
        page,
        "\n## {heading}\n\n{doc}\n\n\
         | key | is | write | bare number | usual | if absent | what it says |\n\
         |---|---|---|---|---|---|---|\n"
    );
    for row in super::rows(pattern) {
        let _ = writeln!(
            page,
            "| `{}` | {} | {} | {} | {} | {} | {} |",
            row.key,
            row.role.word(),
            write_form(row),
            bare(row),
            usual(row),
            absent(row),
            row.doc
        );
    }
}

fn write_form(row: &Row) -> String {
    let form = match row.form {
        Form::Count(from, to) if from == to => format!("`{from}`"),
        Form::Flag => "`true` or `false`".to_owned(),
        Form::Outline => "legs or corners".to_owned(),
        Form::Point => "two coordinates".to_owned(),
        Form::Points => "a list of places".to_owned(),
        Form::Layers => "a list of layers".to_owned(),
        Form::Faces => "a far side".to_owned(),
        Form::Pitch => "a pitch".to_owned(),
        Form::Named(tables) => {
            let tables: Vec<String> = tables.iter().map(|it| super::with_article(it)).collect();
            format!("words, or the key of {}", tables.join(" or "))
        }
        _ => row.kind(),
    };
    match row.role {
        Role::Decision => format!("{form}, or \"auto\""),
        _ => form,
    }
}

fn bare(row: &Row) -> String {
    let units = match row.form {
        Form::Quantity(number) | Form::Quantities(number, _) => (number.bare_us, number.bare_si),
        Form::Outline | Form::Point | Form::Points => {
            (&quantity::unit::FOOT, &quantity::unit::METRE)
        }
        Form::Layers => super::LAYER_BARE,
        _ => return String::new(),
    };
    match units {
        (us, si) if us == si => us.symbol.to_owned(),
        (us, si) => format!("{}; {}", us.symbol, si.symbol),
    }
}

fn usual(row: &Row) -> String {
    let number = match row.form {
        Form::Quantity(number) | Form::Quantities(number, _) => number,
        Form::Pitch => return "1:12 to 24:12".to_owned(),
        _ => return String::new(),
    };
    let (low, high) = number.plausible;
    let range = |system| {
        let shown = |si| value_rounded(si, &number, system);
        format!("{} to {}", shown(low), shown(high))
    };
    match number.bare_us == number.bare_si {
        true => range(System::Us),
        false => format!("{}; {}", range(System::Us), range(System::Si)),
    }
}

fn absent(row: &Row) -> String {
    match row.absent {
        Absent::Needed([]) => "needed".to_owned(),
        Absent::Needed(instead) => format!("needed, or `{}`", instead.join("`, `")),
        Absent::Assumed { us, si, why } if us == si => format!("{us}: {why}"),
        Absent::Assumed { us, si, why } => format!("{us}, or {si} in SI jobs: {why}"),
        Absent::Open => "the design chooses".to_owned(),
        Absent::Inherited(from) => format!("as {}", whose(from)),
        Absent::Nothing => "–".to_owned(),
    }
}

/// The key that stands in for another: `[house] wall`.
fn whose(from: &str) -> String {
    let one = |key: &str| match key.trim().rsplit_once('.') {
        Some((table, key)) => format!("`[{}] {key}`", table.trim_end_matches(".*")),
        None => key.to_owned(),
    };
    let keys: Vec<String> = from.replace(" or ", ", ").split(", ").map(one).collect();
    keys.join(" or ")
}
