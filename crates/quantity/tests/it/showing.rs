use quantity::{Measure, System, decimal, feet_inches, show, show_both};

#[test]
fn feet_inches_and_fractions() {
    let inch = 0.0254;
    for (inches, denominator, expected) in [
        (150.5, 8, "12' 6 1/2\""),
        (150.0, 8, "12' 6\""),
        (144.0, 8, "12' 0\""),
        (0.75, 16, "3/4\""),
        (6.25, 16, "6 1/4\""),
        (143.99, 8, "12' 0\""),
        (-42.0, 8, "-3' 6\""),
        (0.0, 8, "0\""),
        (-0.001, 8, "0\""),
        (12.4, 1, "1' 0\""),
    ] {
        assert_eq!(feet_inches(inches * inch, denominator), expected);
    }
    assert_eq!(feet_inches(f64::NAN, 8), "–");
    assert_eq!(feet_inches(1e300, 8), "–");
}

#[test]
fn both_systems_side_by_side() {
    for (si, measure, us, metric) in [
        (22.5552, Measure::Length, "74.0 ft (22.56 m)", "22.56 m (74.0 ft)"),
        (294.15, Measure::Temperature, "69.8 °F (21.0 °C)", "21.0 °C (69.8 °F)"),
        (10.0, Measure::TemperatureDifference, "18.0 °F (10.0 K)", "10.0 K (18.0 °F)"),
        (1000.0, Measure::Power, "3412 Btu/h (1000 W)", "1000 W (3412 Btu/h)"),
        (1e-4, Measure::Flow, "1.59 gpm (6.00 L/min)", "6.00 L/min (1.59 gpm)"),
        (0.25, Measure::Ratio, "0.250", "0.250"),
        (3014.7, Measure::Ratio, "3015", "3015"),
        (0.0127, Measure::Length, "0.5 in (12.7 mm)", "12.7 mm (0.5 in)"),
    ] {
        assert_eq!(show_both(si, measure, System::Us), us);
        assert_eq!(show_both(si, measure, System::Si), metric);
    }
    assert_eq!(show(-0.0001, Measure::Power, System::Si), "0 W");
    assert_eq!(decimal(f64::INFINITY, 2), "–");
}
