//! The unit table against `uom`, a general-purpose library, and against published conversions.

use quantity::{Measure, System, unit};
use uom::si::f64::*;

/// A unit of ours, and the SI number that `uom` gives one of it.
#[test]
fn factors_agree_with_uom() {
    use uom::si::{
        area, dynamic_viscosity, heat_flux_density, heat_transfer, length, mass_density,
    };
    use uom::si::{mass_rate, power, pressure, specific_heat_capacity, temperature_interval};
    use uom::si::{thermal_conductivity, thermodynamic_temperature, time, velocity, volume};
    let pairs = [
        (&unit::FOOT, Length::new::<length::foot>(1.0).value),
        (&unit::INCH, Length::new::<length::inch>(1.0).value),
        (&unit::MILLIMETRE, Length::new::<length::millimeter>(1.0).value),
        (&unit::SQUARE_FOOT, Area::new::<area::square_foot>(1.0).value),
        (&unit::GALLON_US, Volume::new::<volume::gallon>(1.0).value),
        (&unit::LITRES, Volume::new::<volume::liter>(1.0).value),
        (&unit::CUBIC_FOOT, Volume::new::<volume::cubic_foot>(1.0).value),
        (
            &unit::FAHRENHEIT_DEGREE,
            TemperatureInterval::new::<temperature_interval::degree_fahrenheit>(1.0).value,
        ),
        (&unit::KILOWATT, Power::new::<power::kilowatt>(1.0).value),
        (&unit::PSI_DIFFERENCE, Pressure::new::<pressure::psi>(1.0).value),
        (&unit::BAR, Pressure::new::<pressure::bar>(1.0).value),
        (&unit::FOOT_SECOND, Velocity::new::<velocity::foot_per_second>(1.0).value),
        (&unit::MILE_HOUR, Velocity::new::<velocity::mile_per_hour>(1.0).value),
        (&unit::KILOMETRE_HOUR, Velocity::new::<velocity::kilometer_per_hour>(1.0).value),
        (&unit::HOURS, Time::new::<time::hour>(1.0).value),
        (&unit::POUND_CUFT, MassDensity::new::<mass_density::pound_per_cubic_foot>(1.0).value),
        (&unit::POUND_HOUR, MassRate::new::<mass_rate::pound_per_hour>(1.0).value),
        (
            &unit::MILLIPASCAL_SECOND,
            DynamicViscosity::new::<dynamic_viscosity::millipascal_second>(1.0).value,
        ),
        (
            &unit::JOULE_KILOGRAM_K,
            SpecificHeatCapacity::new::<specific_heat_capacity::joule_per_kilogram_kelvin>(1.0)
                .value,
        ),
        (
            &unit::CONDUCTIVITY_SI,
            ThermalConductivity::new::<thermal_conductivity::watt_per_meter_kelvin>(1.0).value,
        ),
        (&unit::U_SI, HeatTransfer::new::<heat_transfer::watt_per_square_meter_kelvin>(1.0).value),
        (
            &unit::WATT_SQM,
            HeatFluxDensity::new::<heat_flux_density::watt_per_square_meter>(1.0).value,
        ),
    ];
    for (ours, theirs) in pairs {
        // uom prints some factors to seven digits only (psi, pounds), hence 1e-6.
        assert!((ours.scale / theirs - 1.0).abs() < 1e-6, "{ours:?}: uom has {theirs}");
    }
    for fahrenheit in [-40.0, 0.0, 32.0, 212.0] {
        let theirs = ThermodynamicTemperature::new::<thermodynamic_temperature::degree_fahrenheit>(
            fahrenheit,
        );
        assert!((unit::FAHRENHEIT.to_si(fahrenheit) - theirs.value).abs() < 1e-9);
    }
}

/// NIST SP 811 (2008), appendix B.8, to the digits printed there.
#[test]
fn factors_agree_with_published_conversions() {
    let published = [
        (&unit::BTU_HOUR, 2.930_711e-1),
        (&unit::BTU_HOUR_SQFT, 3.154_591),
        (&unit::U_US, 5.678_263),
        (&unit::R_US, 1.761_102e-1),
        (&unit::CONDUCTIVITY_US, 1.730_735),
        (&unit::CONDUCTIVITY_INCH, 1.442_279e-1),
        (&unit::BTU_POUND_F, 4.186_8e3),
        (&unit::GPM, 6.309_020e-5),
        (&unit::CFM, 4.719_474e-4),
        (&unit::PSI_DIFFERENCE, 6.894_757e3),
        (&unit::FEET_WATER, 2.988_98e3),
        (&unit::POUND_CUFT, 1.601_846e1),
        (&unit::POUND_HOUR, 1.259_979e-4),
    ];
    for (unit, printed) in published {
        assert!((unit.scale / printed - 1.0).abs() < 2e-6, "{}: {}", unit.symbol, unit.scale);
    }
}

#[test]
fn every_measure_has_one_unit_for_each_system() {
    for measure in Measure::ALL {
        for system in [System::Us, System::Si] {
            let shown = measure.units().filter(|u| u.shown_in.contains(&system)).count();
            assert_eq!(shown, 1, "{measure:?} in {system:?}");
        }
        let si = measure.si_unit();
        assert_eq!((si.measure, si.scale, si.offset), (measure, 1.0, 0.0), "{measure:?}");
    }
}
