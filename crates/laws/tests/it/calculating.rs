//! `calc`: values with units, answers in both systems, errors that help.

use laws::{CalcError, calc};

#[test]
fn units_are_read_as_written_and_bare_numbers_are_si() {
    let metric = calc("layer_resistance", &["thickness=0.1016", "conductivity=0.04"]).unwrap();
    let mixed = calc("layer_resistance", &["d = 4 in", "λ=0.04 W/mK"]).unwrap();
    assert_eq!(metric.evaluation.value(), mixed.evaluation.value());
    assert_eq!(metric.output("resistance"), Some(metric.evaluation.value()));
    let labelled =
        calc("layered_resistance", &["inside_film=0.13", "layers=R-19, 0.2", "outside_film=.04"]);
    let value = labelled.unwrap().evaluation.value();
    assert!((value - (0.13 + 19.0 * 0.176_110_2 + 0.2 + 0.04)).abs() < 1e-5, "{value}");
}

/// What is written, and what the answer says.
#[test]
fn errors_name_what_is_wrong_and_what_to_do() {
    let cases: [(&str, &[&str], &str); 11] = [
        (
            "layer_resistence",
            &[],
            "no law is named `layer_resistence`, is `layer_resistance` meant?",
        ),
        ("zzz", &[], "no law is named `zzz`"),
        ("layer_resistance", &["thickness"], "`thickness` has no name: write name=value"),
        (
            "layer_resistance",
            &["thicknes=1"],
            "the law takes no `thicknes`, is `thickness` meant?; it takes thickness, conductivity",
        ),
        (
            "layer_resistance",
            &[],
            "still needed: thickness (thickness of the layer); conductivity (conductivity of its \
             material)",
        ),
        ("layer_resistance", &["thickness=1", "d=2"], "thickness is given twice"),
        (
            "layer_resistance",
            &["thickness=1", "conductivity=0"],
            "layer_resistance has no answer for these values: look for a zero that divides, a pair \
             in the wrong order, or lists of different length (R = d / λ)",
        ),
        (
            "layer_resistance",
            &["thickness=-1", "conductivity=1"],
            "thickness cannot be below zero, and is -1",
        ),
        (
            "surface_resistance",
            &["face=inside", "heat_flow=sideways"],
            "heat_flow: `sideways` is none of up, horizontal, down",
        ),
        (
            "passing_time",
            &["length=3 gpm"],
            "length: `gpm` is no unit of length: write \
            12'6 1/2, 12 ft 6-1/2 in, 3.8 m or 150 mm",
        ),
        (
            "passing_time",
            &["length=,"],
            "length: `,` is not a length: write 12'6 1/2, \
            12 ft 6-1/2 in, 3.8 m or 150 mm",
        ),
    ];
    for (law, values, expected) in cases {
        assert_eq!(calc(law, values).unwrap_err().to_string(), expected);
    }
}

#[test]
fn out_of_range_is_said_beside_the_answer() {
    let values = ["share=70 %", "temperature=20 °C"];
    let calculation = calc("propylene_glycol_density", &values).unwrap();
    assert!(!calculation.evaluation.within_range());
    let text = calculation.to_string();
    assert!(
        text.contains("out of range: share is 0.7, and the law holds from 0.1 to 0.6"),
        "{text}"
    );
    assert!(calculation.json().contains("\"within_range\": false"));
    let at_the_end = ["share=60 %", "temperature=-20 °C"];
    assert!(calc("propylene_glycol_density", &at_the_end).unwrap().evaluation.within_range());
}

#[test]
fn a_calculation_reads_as_a_working() {
    let values = ["dimension=5 m", "thickness=5.77", "ground=2"];
    let text = calc("slab_on_ground_transmittance", &values).unwrap().to_string();
    let expected = "\
slab_on_ground_transmittance: Transmittance of a slab floor on the ground.
  dt < B': U = 2 λg / (π B' + dt) ln(π B' / dt + 1); dt ≥ B': U = λg / (0.457 B' + dt)

  dimension B' = 16.404 ft (5 m): characteristic dimension of the floor
  thickness dt = 18.93 ft (5.77 m): equivalent thickness of the floor
  ground λg = 1.1556 Btu/h·ft·°F (2 W/mK): conductivity of the ground

  transmittance U = 0.043727 Btu/h·ft²·°F (0.24829 W/m²K)

  source: EN ISO 13370:2017, 7.2 (from memory)
";
    assert_eq!(text, expected);
}

#[test]
fn json_is_to_the_standard_and_holds_the_si_number() {
    let values =
        ["flow=1 gpm", "bore=0.475 in", "roughness=0", "density=992.3", "viscosity=0.65 cP"];
    let calculation = calc("tube_pressure_gradient", &values).unwrap();
    let json: serde_json::Value = serde_json::from_str(&calculation.json()).unwrap();
    assert_eq!(json["value"].as_f64(), Some(calculation.evaluation.value()));
    assert_eq!(json["unit"], "Pa/m");
    assert_eq!(json["outputs"]["reynolds"].as_f64(), calculation.output("reynolds"));
    assert_eq!(json["within_range"], true);
    assert_eq!(json["source"], calculation.law.source.to_string());
}

#[test]
fn odd_texts_are_errors() {
    let long = "x".repeat(100_000);
    let lots = "1,".repeat(10_000);
    for text in
        ["", "=", "=1", "layers=", "layers=,", "layers=1,,2", "layers=1e999", "d=1=2", "\u{0}=ß"]
    {
        assert!(calc("layered_resistance", &[text]).is_err(), "{text}");
    }
    assert!(calc(&long, &[]).is_err());
    assert!(calc("layered_resistance", &[&format!("{long}=1")]).is_err());
    assert!(calc("layered_resistance", &[&format!("layers={lots}")]).is_err());
    let error = calc("layered_resistance", &[&long]).unwrap_err();
    assert!(matches!(error, CalcError::NoKey { .. }) && error.to_string().len() < 200);
}
