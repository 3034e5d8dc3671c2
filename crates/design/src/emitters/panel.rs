//! Panels on walls and ceilings, by their section.

use super::build_up::{Lying, cut_of};
use super::choose::decide_tube;
use super::helpers::{Around, Served, Unused};
use super::section::{Beyond, Response, Sections};
use crate::figure::{Figure, How};
use crate::words::Words;
use job::{
    Assembly, Construction, Emitter, EmitterKind, Fact, Finding, Job, Origin, Rule, Severity,
    Stated,
};
use quantity::{Area, HeatFlux, Length, Power, Quantity, Temperature, Transmittance};

/// Outer air film of what lies behind a panel, m²K/W (ISO 6946).
const OUTER_FILM_M2K_W: f64 = 0.04;
/// Warmth over a limit that counts, kelvin.
const OVER_K: f64 = 0.1;

/// What a wall or ceiling panel does.
#[derive(Clone, Debug, PartialEq)]
pub struct Panel {
    /// What it is made of, on paper.
    pub name: String,
    /// Its area.
    pub area: Figure<Area>,
    /// Spacing of its tubes.
    pub spacing: Figure<Length>,
    /// Output per area and degree of water excess.
    pub coefficient: Figure<Transmittance>,
    /// Heat per area into the room.
    pub flux: Figure<HeatFlux>,
    /// Heat into the room.
    pub output: Figure<Power>,
    /// Heat lost behind it.
    pub behind: Figure<Power>,
    /// Mean of its surface.
    pub surface: Figure<Temperature>,
    /// Hottest surface allowed.
    pub surface_limit: Figure<Temperature>,
}

pub(super) fn panel(
    around: &Around<'_>,
    emitter: &Emitter,
    made: &Stated<String>,
    served: &Served<'_>,
    sections: &mut Sections,
    findings: &mut Vec<Finding>,
) -> Result<Panel, Unused> {
    let job = around.job;
    let area = emitter.area.as_ref();
    let area =
        area.ok_or(("the area of its panel is not said".to_owned(), "write `area = ...`"))?;
    let area = Figure::fact("area of the panel", area);
    let (film, limit) = match emitter.kind.value {
        EmitterKind::WallPanel => (&job.rules.wall_film, &job.rules.wall_surface),
        EmitterKind::CeilingPanel => (&job.rules.ceiling_film, &job.rules.ceiling_surface),
        _ => {
            let why = "only panels are worked out by what they are made of".to_owned();
            return Err((why, "write `kind = \"wall panel\"` or \"ceiling panel\""));
        }
    };
    let assembly = assembly(job, made).ok_or_else(|| {
        let why = format!("there is no construction or build-up `{}`", made.value);
        (why, "write one of docs/build-ups.md, or an assembly of the job")
    })?;
    let tube = decide_tube(job).value;
    let tube = job.catalogue.tube(&tube);
    let tube = tube.ok_or(("its tube is not in the catalogue".to_owned(), "look at `tube`"))?;
    let lying = cut_of(&assembly, tube, &job.catalogue, film.value.si())
        .map_err(|why| (why, "complete the layers of its panel"))?;
    let spacing = spacing(job, emitter, &lying)?;
    let curve = sections.curve(lying.cut.clone());
    let solved = curve.at(spacing.si());
    let solved = solved.map_err(|error| (error.to_string(), "look at the layers of its panel"))?;
    let outdoor_k = around.weather.map_or(served.enclosure.indoor.si(), |it| it.outdoor.si());
    let beyond = Beyond { resistance_m2k_w: OUTER_FILM_M2K_W, below_k: outdoor_k, edge_w_m2: 0.0 };
    let response = Response::of(&solved, lying.tube_w_mk(tube), &beyond);
    let film_figure: Figure<Transmittance> = Figure::rule("from the surface to the room", film);
    let mut from = vec![spacing.work.clone(), film_figure.work.clone()];
    from.extend(lying.works.iter().cloned());
    let coefficient: Figure<Transmittance> = Figure::settled(
        "output per area and degree of water excess",
        response.room,
        "conduction in two dimensions through the panel, solved within 0.2 %; outdoors behind it",
        from.clone(),
    );
    let flux: Figure<HeatFlux> =
        Figure::product("heat per area into the room", &[&coefficient.work, &served.excess.work]);
    let name = format!("heat of emitter {}", emitter.key);
    let output: Figure<Power> = Figure::product(name, &[&flux.work, &area.work]);
    let water_k = served.enclosure.indoor.si() + served.excess.si();
    let behind_w = response.below * (water_k - outdoor_k) * area.si();
    from.extend([served.excess.work.clone(), area.work.clone()]);
    let behind = Figure::settled(
        "heat lost behind the panel",
        behind_w,
        "conduction from water to outdoors; what the wall lost before is in the room's loss",
        from,
    );
    let surface = Figure::settled(
        "mean surface of the panel",
        served.enclosure.indoor.si() + flux.si() / film.value.si(),
        "room temperature plus heat per area over the surface's coefficient",
        vec![flux.work.clone(), film_figure.work, served.enclosure.indoor.work.clone()],
    );
    let panel = Panel {
        name: lying.name.clone(),
        area,
        spacing,
        coefficient,
        flux,
        output,
        behind,
        surface,
        surface_limit: Figure::rule("hottest surface allowed", limit),
    };
    judge(job, emitter, &panel, limit, findings);
    water(job, emitter, &lying, served, findings);
    Ok(panel)
}

/// The construction of the job by that key, or the catalogue's build-up as one.
fn assembly(job: &Job, made: &Stated<String>) -> Option<Assembly> {
    if let Some(own) = job.assembly(&made.value) {
        return Some(own.clone());
    }
    let build_up = job.catalogue.build_up(&made.value)?;
    let layers = Stated { value: build_up.layers.clone(), place: made.place };
    let gaps = Fact { value: 0, origin: Origin::Assumed("as the catalogue has it".to_owned()) };
    Some(Assembly {
        key: build_up.key.clone(),
        place: made.place,
        construction: Some(Construction::Layers(layers)),
        edge: None,
        edge_depth: None,
        edge_width: None,
        gaps,
        fixings: None,
        added: None,
        build_up: Some(build_up.key.clone()),
    })
}

fn spacing(job: &Job, emitter: &Emitter, lying: &Lying) -> Result<Figure<Length>, Unused> {
    let name = "tube spacing";
    if let Some(stated) = &emitter.spacing {
        return Ok(Figure::fact(name, stated));
    }
    if let Some(grooves) = lying.grooves {
        let how = How::Catalogue(format!("{}: distance of its grooves", lying.name));
        return Ok(Figure::new(name, grooves.si(), how));
    }
    let closest = job.rules.spacings.value.last();
    let closest = closest.ok_or(("no spacing is known".to_owned(), "write `spacing = ...`"))?;
    Ok(Figure::assumed(name, closest.si(), "the closest that the rule set lays"))
}

/// A surface warmer than it may be.
fn judge(
    job: &Job,
    emitter: &Emitter,
    panel: &Panel,
    limit: &Rule<Temperature>,
    findings: &mut Vec<Finding>,
) {
    let words = Words { first: job.units.value };
    let over_k = panel.surface.si() - limit.si();
    if over_k <= OVER_K {
        return;
    }
    let message = format!("its surface gets to {}", words.temperature(panel.surface.si()));
    let advice = "cooler water, a wider spacing, or a larger panel";
    let subject = format!("emitter.{}", emitter.key);
    findings.push(
        Finding::new(Severity::Warn, "panel-too-warm", subject, message, advice)
            .at(emitter.place)
            .amount(over_k)
            .limit(words.temperature(limit.si()), limit.citation()),
    );
}

/// Water hotter than the layers at its tube bear.
fn water(
    job: &Job,
    emitter: &Emitter,
    lying: &Lying,
    served: &Served<'_>,
    findings: &mut Vec<Finding>,
) {
    let words = Words { first: job.units.value };
    let materials = |key: &String| job.catalogue.material(key);
    let Some(holder) = materials(&lying.holder) else { return };
    let rule = job.rules.hottest_supply(holder, lying.beside.iter().filter_map(materials));
    let over_k = served.supply.si() - rule.si();
    if over_k <= OVER_K {
        return;
    }
    let message =
        format!("water of {} is too hot for {}", words.temperature(served.supply.si()), lying.name);
    let advice = "a circuit of its own with cooler water";
    let subject = format!("emitter.{}", emitter.key);
    findings.push(
        Finding::new(Severity::Stop, "water-too-hot", subject, message, advice)
            .at(emitter.place)
            .amount(over_k)
            .limit(words.temperature(rule.si()), rule.citation()),
    );
}
