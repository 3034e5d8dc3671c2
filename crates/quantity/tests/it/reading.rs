use proptest::prelude::*;
use quantity::{Measure, feet_inches, read, unit, unit::Unit};

/// Text, bare unit, SI number expected.
type Case = (&'static str, &'static Unit, f64);

fn check(measure: Measure, cases: &[Case]) {
    for (text, bare, expected) in cases {
        let got = read(text, measure, bare).unwrap_or_else(|error| panic!("{text}: {error}"));
        let tolerance = 1e-9 * expected.abs().max(1.0);
        assert!((got - expected).abs() < tolerance, "{text}: {got}, expected {expected}");
    }
}

const FOOT: f64 = 0.3048;
const INCH: f64 = 0.0254;

#[test]
fn lengths_as_a_tape_shows_them() {
    let (ft, m) = (&unit::FOOT, &unit::METRE);
    let twelve_six_half = 12.0 * FOOT + 6.5 * INCH;
    let mut cases: Vec<Case> = [
        "12'6 1/2",
        "12'6 1/2\"",
        "12' 6-1/2\"",
        "12'-6 1/2\"",
        "12'-6½”",
        "12’6½",
        "12′ 6½″",
        "12 ft 6-1/2 in",
        "12ft 6.5in",
        "12 feet 6 1/2 inches",
        "12'6.5",
        "12 ft. 6 1/2 in.",
        "12' 6 1/2''",
    ]
    .map(|text| (text, m, twelve_six_half))
    .to_vec();
    cases.extend(["12-6 1/2", "12-6-1/2", "12 6 1/2"].map(|text| (text, ft, twelve_six_half)));
    cases.extend([
        ("12'", m, 12.0 * FOOT),
        ("12", ft, 12.0 * FOOT),
        ("12.5", ft, 12.5 * FOOT),
        ("12 1/2", ft, 12.5 * FOOT),
        ("12-1/2 ft", m, 12.5 * FOOT),
        ("12-6", ft, 12.5 * FOOT),
        ("12'0", m, 12.0 * FOOT),
        ("-3'6", m, -3.5 * FOOT),
        ("3/4 in", ft, 0.75 * INCH),
        ("1-1/4 in", ft, 1.25 * INCH),
        ("1 1/4\"", m, 1.25 * INCH),
        ("¾ in", m, 0.75 * INCH),
        ("6\"", m, 6.0 * INCH),
        ("18 in", m, 18.0 * INCH),
        ("1,200 ft", m, 1200.0 * FOOT),
        ("3.8 m", ft, 3.8),
        ("3.8", m, 3.8),
        ("150 mm", ft, 0.15),
        ("42cm", ft, 0.42),
    ]);
    check(Measure::Length, &cases);
}

#[test]
fn heat_temperature_flow_and_pressure() {
    let f = &unit::FAHRENHEIT;
    check(
        Measure::Temperature,
        &[
            ("32 F", &unit::CELSIUS, 273.15),
            ("-40", f, 233.15),
            ("−40 °F", f, 233.15),
            ("70°F", f, 294.261_111_111_111_1),
            ("21 °C", f, 294.15),
            ("21C", f, 294.15),
            ("300 K", f, 300.0),
        ],
    );
    check(
        Measure::TemperatureDifference,
        &[
            ("18 F", &unit::KELVIN_DIFFERENCE, 10.0),
            ("10 K", &unit::FAHRENHEIT_DEGREE, 10.0),
            ("10 °C", &unit::FAHRENHEIT_DEGREE, 10.0),
            ("9", &unit::FAHRENHEIT_DEGREE, 5.0),
        ],
    );
    // One R in inch-pound units is 0.176110 m²K/W; one U is 5.678263 W/m²K (NIST SP 811, app. B).
    for (text, expected) in [
        ("R-19", 19.0 * 0.176_110),
        ("R19", 19.0 * 0.176_110),
        ("19", 19.0 * 0.176_110),
        ("RSI-3.3", 3.3),
        ("3.3 m²K/W", 3.3),
        ("R 10 ft2·h·F/Btu", 1.761_10),
    ] {
        let got = read(text, Measure::AreaResistance, &unit::R_US).unwrap();
        assert!((got / expected - 1.0).abs() < 2e-6, "{text}: {got}");
    }
    for (text, expected) in [
        ("U-0.30", 0.3 * 5.678_263),
        ("0.057 Btu/h·ft²·°F", 0.057 * 5.678_263),
        ("0.3 Btu/(h ft2 F)", 0.3 * 5.678_263),
        ("1.7 W/m2K", 1.7),
    ] {
        let got = read(text, Measure::Transmittance, &unit::U_US).unwrap();
        assert!((got / expected - 1.0).abs() < 2e-6, "{text}: {got}");
    }
    check(
        Measure::Power,
        &[
            ("1.5 kW", &unit::WATT, 1500.0),
            ("1000 Btu/h", &unit::WATT, 293.071_070_172_222_2),
            ("20 MBH", &unit::WATT, 5_861.421_403_444_445),
            ("20,000 btuh", &unit::WATT, 5_861.421_403_444_445),
        ],
    );
    check(
        Measure::Flow,
        &[("1 gpm", &unit::LITRE_MINUTE, 6.309_019_64e-5), ("6", &unit::LITRE_MINUTE, 1e-4)],
    );
    check(
        Measure::GaugePressure,
        &[
            ("2 bar", &unit::PSI_GAUGE, 2e5),
            ("300 kPa", &unit::PSI_GAUGE, 3e5),
            ("0 psi", &unit::BAR_GAUGE, 0.0),
        ],
    );
    // 1 psi = 6894.757 Pa; 1 ft of water (4 °C) = 2988.98 Pa (NIST SP 811, appendix B).
    for (text, expected) in
        [("80 psi", 551_580.6), ("10 ft of head", 29_889.8), ("10 ft", 29_889.8)]
    {
        let got = read(text, Measure::PressureDifference, &unit::KILOPASCAL).unwrap();
        assert!((got / expected - 1.0).abs() < 2e-6, "{text}: {got}");
    }
    check(
        Measure::Head,
        &[("10 ft of head", &unit::METRE_HEAD, 3.048), ("2", &unit::METRE_HEAD, 2.0)],
    );
    check(Measure::Ratio, &[("30 %", &unit::ONE, 0.3), ("30", &unit::PERCENT, 0.3)]);
    check(Measure::AirChange, &[("0.5 ach", &unit::AIR_CHANGES_HOUR, 0.5 / 3600.0)]);
}

#[test]
fn what_cannot_be_read_says_what_to_write() {
    let cases = [
        (
            "",
            Measure::Length,
            "nothing written: write a length, 12'6 1/2, 12 ft 6-1/2 in, 3.8 m or 150 mm",
        ),
        (
            "abc",
            Measure::Length,
            "`abc` is not a length: write 12'6 1/2, 12 ft 6-1/2 in, 3.8 m or 150 mm",
        ),
        (
            "12 furlongs",
            Measure::Length,
            "`furlongs` is no unit of length: write 12'6 1/2, 12 ft 6-1/2 in, 3.8 m or 150 mm",
        ),
        (
            "80 psi",
            Measure::Temperature,
            "`psi` is no unit of temperature: write a number with °F, °C, K",
        ),
        ("R-", Measure::AreaResistance, "`R-` is not an R-value: write R-19 or 3.3 m²K/W"),
        ("3,5 m", Measure::Length, "`3,5 m` has a comma in its number: write 3.5 m, with a point"),
    ];
    for (text, measure, expected) in cases {
        let error = read(text, measure, measure.si_unit()).unwrap_err();
        assert_eq!(error.to_string(), expected);
    }
    for text in ["NaN", "inf", "1e999", "1/0 in", "12'14", "--3", "5 5 5", "6'6'6"] {
        let got = read(text, Measure::Length, &unit::FOOT);
        assert!(got.is_err(), "{text} read as {got:?}");
    }
}

proptest! {
    #[test]
    fn any_text_reads_or_errs(text in ".{0,24}", which in 0..Measure::ALL.len()) {
        let measure = Measure::ALL[which];
        if let Ok(si) = read(&text, measure, measure.si_unit()) {
            prop_assert!(si.is_finite());
        }
    }

    #[test]
    fn feet_and_inches_read_back(sixteenths in -200_000i32..200_000) {
        let metres = f64::from(sixteenths) / 16.0 * INCH;
        let shown = feet_inches(metres, 16);
        let back = read(&shown, Measure::Length, &unit::METRE).unwrap();
        prop_assert!((back - metres).abs() < 1e-9, "{} read as {}", shown, back);
    }

    #[test]
    fn shown_units_read_back(number in -1e6f64..1e6, which in 0..unit::ALL.len()) {
        let unit = unit::ALL[which];
        let text = format!("{number} {}", unit.symbol);
        let back = read(&text, unit.measure, unit.measure.si_unit());
        // A bare symbol (ratio) falls to the bare unit, which is the same unit.
        let expected = unit.to_si(number);
        prop_assert!((back.unwrap() - expected).abs() <= 1e-9 * expected.abs().max(1e-12));
    }
}
