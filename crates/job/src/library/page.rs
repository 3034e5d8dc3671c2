//! The page about the catalogue's build-ups.

use crate::model::{BuildUp, BuildUpKind, Catalogue};
use std::fmt::Write;

const HEAD: &str = "# Build-ups of the catalogue

<!-- Written from catalogue/build_ups.toml: UPDATE=1 cargo test -p job writes it anew. -->

Floors that hold tube, ready to be named: `floor = \"gypsum-topping-on-joists\"` in `[house]` or a
room. Layers go from the room down, without the finish; those before the bar are laid on what bears
them. Write an `[assembly.name]` of your own where yours differs. Wall and ceiling panels are listed
for their layers; a job cannot name them yet.
";

/// The page about the build-ups of a catalogue, in markdown.
pub fn build_up_page(catalogue: &Catalogue) -> String {
    let mut page = HEAD.to_owned();
    let kinds = [
        (BuildUpKind::Floor, "Floors"),
        (BuildUpKind::Wall, "Walls"),
        (BuildUpKind::Ceiling, "Ceilings"),
    ];
    for (kind, heading) in kinds {
        let _ = write!(page, "\n## {heading}\n");
        for build_up in catalogue.build_ups.iter().filter(|it| it.kind == kind) {
            entry(&mut page, build_up);
        }
    }
    page
}

fn entry(page: &mut String, build_up: &BuildUp) {
    let added = usize::try_from(build_up.added).unwrap_or(usize::MAX);
    let (laid, bearing) = build_up.written.split_at(added.min(build_up.written.len()));
    let joined = |layers: &[String]| layers.join(", ");
    let layers = match laid {
        [] => joined(bearing),
        laid => format!("{} | {}", joined(laid), joined(bearing)),
    };
    let _ = write!(
        page,
        "\n### `{}`: {}\n\n- layers: {layers}\n- suits {}\n",
        build_up.key, build_up.name, build_up.suits
    );
    if !build_up.bears.is_empty() {
        let _ = writeln!(page, "- bears {}", build_up.bears.join(", "));
    }
    let _ = write!(page, "- to know: {}\n- source: {}\n", build_up.cannot, build_up.source);
}
