//! A second opinion on factors: uom 0.38.0.

use super::{near, unit};
use stringline::units::DimensionId as K;
use uom::si::f64::{
    Acceleration, Angle, AngularVelocity, Area, ElectricCharge, ElectricCurrent, ElectricPotential, Energy,
    Force, Frequency, Length, Mass, MassDensity, Power, Pressure, ThermodynamicTemperature, Time, Torque,
    Velocity, Volume,
};
use uom::si::{
    acceleration, angle, angular_velocity, area, electric_charge, electric_current, electric_potential,
    energy, force, frequency, length, mass, mass_density, power, pressure, thermodynamic_temperature, time,
    torque, velocity, volume,
};

#[test]
fn exact_factors_agree_with_uom() {
    let theirs = [
        (K::FORCE, "kgf", Force::new::<force::kilogram_force>(1.0).get::<force::newton>()),
        (K::FORCE, "daN", Force::new::<force::decanewton>(1.0).get::<force::newton>()),
        (K::LENGTH, "mm", Length::new::<length::millimeter>(1.0).get::<length::meter>()),
        (K::LENGTH, "in", Length::new::<length::inch>(1.0).get::<length::meter>()),
        (K::LENGTH, "thou", Length::new::<length::mil>(1.0).get::<length::meter>()),
        (K::LENGTH, "ft", Length::new::<length::foot>(1.0).get::<length::meter>()),
        (K::LENGTH, "yd", Length::new::<length::yard>(1.0).get::<length::meter>()),
        (K::LENGTH, "mile", Length::new::<length::mile>(1.0).get::<length::meter>()),
        (K::MASS, "g", Mass::new::<mass::gram>(1.0).get::<mass::kilogram>()),
        (K::MASS, "t", Mass::new::<mass::ton>(1.0).get::<mass::kilogram>()),
        (K::PRESSURE, "kPa", Pressure::new::<pressure::kilopascal>(1.0).get::<pressure::pascal>()),
        (K::PRESSURE, "bar", Pressure::new::<pressure::bar>(1.0).get::<pressure::pascal>()),
        (K::PRESSURE, "mbar", Pressure::new::<pressure::millibar>(1.0).get::<pressure::pascal>()),
        (K::PRESSURE, "atm", Pressure::new::<pressure::atmosphere>(1.0).get::<pressure::pascal>()),
        (K::VOLUME, "L", Volume::new::<volume::liter>(1.0).get::<volume::cubic_meter>()),
        (K::VOLUME, "cc", Volume::new::<volume::cubic_centimeter>(1.0).get::<volume::cubic_meter>()),
        (K::VOLUME, "UK-gal", Volume::new::<volume::gallon_imperial>(1.0).get::<volume::cubic_meter>()),
        (K::AREA, "in2", Area::new::<area::square_inch>(1.0).get::<area::square_meter>()),
        (K::ENERGY, "kWh", Energy::new::<energy::kilowatt_hour>(1.0).get::<energy::joule>()),
        (K::SPEED, "mph", Velocity::new::<velocity::mile_per_hour>(1.0).get::<velocity::meter_per_second>()),
        (
            K::SPEED,
            "km/h",
            Velocity::new::<velocity::kilometer_per_hour>(1.0).get::<velocity::meter_per_second>(),
        ),
        (K::SPEED, "knot", Velocity::new::<velocity::knot>(1.0).get::<velocity::meter_per_second>()),
        (K::TORQUE, "kgf.m", Torque::new::<torque::kilogram_force_meter>(1.0).get::<torque::newton_meter>()),
        (K::ANGLE, "deg", Angle::new::<angle::degree>(1.0).get::<angle::radian>()),
        (K::ANGLE, "arcmin", Angle::new::<angle::minute>(1.0).get::<angle::radian>()),
        (
            K::ROTATION,
            "rpm",
            AngularVelocity::new::<angular_velocity::revolution_per_minute>(1.0)
                .get::<angular_velocity::radian_per_second>(),
        ),
        (
            K::ACCELERATION,
            "g",
            Acceleration::new::<acceleration::standard_gravity>(1.0)
                .get::<acceleration::meter_per_second_squared>(),
        ),
        (K::TIME, "min", Time::new::<time::minute>(1.0).get::<time::second>()),
        (K::TIME, "h", Time::new::<time::hour>(1.0).get::<time::second>()),
        (K::TIME, "d", Time::new::<time::day>(1.0).get::<time::second>()),
        (
            K::CHARGE,
            "Ah",
            ElectricCharge::new::<electric_charge::ampere_hour>(1.0).get::<electric_charge::coulomb>(),
        ),
        (
            K::DENSITY,
            "g/cm3",
            MassDensity::new::<mass_density::gram_per_cubic_centimeter>(1.0)
                .get::<mass_density::kilogram_per_cubic_meter>(),
        ),
        (K::FREQUENCY, "kHz", Frequency::new::<frequency::kilohertz>(1.0).get::<frequency::hertz>()),
        (
            K::VOLTAGE,
            "mV",
            ElectricPotential::new::<electric_potential::millivolt>(1.0).get::<electric_potential::volt>(),
        ),
        (
            K::CURRENT,
            "mA",
            ElectricCurrent::new::<electric_current::milliampere>(1.0).get::<electric_current::ampere>(),
        ),
    ];
    assert!(theirs.len() >= 25);
    for (kind, symbol, factor) in theirs {
        near(symbol, unit(symbol, kind).to_si(1.0), factor, 1e-12);
    }
}

#[test]
fn factors_that_uom_rounds_to_seven_digits_agree_to_seven() {
    let theirs = [
        (K::FORCE, "lbf", Force::new::<force::pound_force>(1.0).get::<force::newton>()),
        (K::MASS, "lb", Mass::new::<mass::pound>(1.0).get::<mass::kilogram>()),
        (K::MASS, "oz", Mass::new::<mass::ounce>(1.0).get::<mass::kilogram>()),
        (K::PRESSURE, "psi", Pressure::new::<pressure::psi>(1.0).get::<pressure::pascal>()),
        (
            K::PRESSURE,
            "mmHg",
            Pressure::new::<pressure::millimeter_of_mercury>(1.0).get::<pressure::pascal>(),
        ),
        (K::PRESSURE, "inHg", Pressure::new::<pressure::inch_of_mercury>(1.0).get::<pressure::pascal>()),
        (K::VOLUME, "US-gal", Volume::new::<volume::gallon>(1.0).get::<volume::cubic_meter>()),
        (K::VOLUME, "in3", Volume::new::<volume::cubic_inch>(1.0).get::<volume::cubic_meter>()),
        (K::POWER, "hp", Power::new::<power::horsepower>(1.0).get::<power::watt>()),
        (K::POWER, "PS", Power::new::<power::horsepower_metric>(1.0).get::<power::watt>()),
        (K::TORQUE, "lbf.ft", Torque::new::<torque::pound_force_foot>(1.0).get::<torque::newton_meter>()),
        (K::TORQUE, "lbf.in", Torque::new::<torque::pound_force_inch>(1.0).get::<torque::newton_meter>()),
    ];
    for (kind, symbol, factor) in theirs {
        near(symbol, unit(symbol, kind).to_si(1.0), factor, 5e-7);
    }
}

#[test]
fn temperature_readings_agree_with_uom() {
    let theirs = ThermodynamicTemperature::new::<thermodynamic_temperature::degree_fahrenheit>(72.0);
    near(
        "72 F",
        unit("F", K::TEMPERATURE).to_si(72.0),
        theirs.get::<thermodynamic_temperature::kelvin>(),
        1e-12,
    );
    let theirs = ThermodynamicTemperature::new::<thermodynamic_temperature::degree_celsius>(-3.5);
    near(
        "-3.5 C",
        unit("C", K::TEMPERATURE).to_si(-3.5),
        theirs.get::<thermodynamic_temperature::kelvin>(),
        1e-12,
    );
}
