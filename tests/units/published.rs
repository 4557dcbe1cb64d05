//! U1 to U16: conversions as published in NIST SP 811 (2008) appendix B and NIST Handbook 44 appendix C.
//! The tolerance is half of the last digit published; zero where the relation is exact by definition.

use super::{convert, unit};
use stringline::units::DimensionId as K;

/// Asserts the published value within half of its last digit.
fn published(name: &str, ours: f64, value: f64, half: f64) {
    assert!((ours - value).abs() <= half, "{name}: ours {ours}, published {value}");
}

#[test]
fn u1_pound_force_sp811_b8() {
    published("1 lbf in N", unit("lbf", K::FORCE).to_si(1.0), 4.448_222, 5e-7);
    // By definition 0.45359237 x 9.80665, all digits.
    published("1 lbf in N, exact", unit("lbf", K::FORCE).to_si(1.0), 4.448_221_615_260_5, 0.0);
}

#[test]
fn u2_pound_force_per_inch_sp811_b8() {
    published("1 lbf/in in N/m", unit("lbf/in", K::STIFFNESS).to_si(1.0), 175.1268, 5e-5);
    published("1 lb/in in N/mm", convert(1.0, "lb/in", "N/mm", K::STIFFNESS), 0.175_126_8, 5e-8);
}

#[test]
fn u3_pound_force_per_foot_sp811_b8() {
    published("1 lbf/ft in N/m", unit("lbf/ft", K::STIFFNESS).to_si(1.0), 14.593_90, 5e-6);
}

#[test]
fn u4_kilogram_force_per_millimetre_exact() {
    let ours = convert(1.0, "kgf/mm", "N/mm", K::STIFFNESS);
    published("1 kgf/mm in N/mm", ours, 9.806_65, 0.0);
    published("a spring's `kg/mm`", convert(1.0, "kg/mm", "N/mm", K::STIFFNESS), 9.806_65, 0.0);
}

#[test]
fn u5_psi_sp811_b8() {
    published("1 psi in Pa", unit("psi", K::PRESSURE).to_si(1.0), 6894.757, 5e-4);
}

#[test]
fn u6_bar_in_psi_sp811_b8() {
    published("1 bar in psi", convert(1.0, "bar", "psi", K::PRESSURE), 14.503_77, 5e-6);
}

#[test]
fn u7_conventional_inch_of_mercury_sp811_b8() {
    published("1 inHg in Pa", unit("inHg", K::PRESSURE).to_si(1.0), 3386.389, 5e-4);
}

#[test]
fn u8_inches_of_mercury_at_32_and_60_fahrenheit_sp811_b8() {
    published("32 F", unit("inHg32F", K::PRESSURE).to_si(1.0), 3386.38, 5e-3);
    published("60 F", unit("inHg60F", K::PRESSURE).to_si(1.0), 3376.85, 5e-3);
}

#[test]
fn u9_torques_sp811_b8() {
    published("1 lbf.ft in N.m", unit("lbf·ft", K::TORQUE).to_si(1.0), 1.355_818, 5e-7);
    published("1 lbf.in in N.m", unit("lbf·in", K::TORQUE).to_si(1.0), 0.112_984_8, 5e-8);
}

#[test]
fn u10_horsepower_of_both_kinds_sp811_b8() {
    published("1 hp in W", unit("hp", K::POWER).to_si(1.0), 745.6999, 5e-5);
    published("1 PS in W, exact", unit("PS", K::POWER).to_si(1.0), 735.498_75, 0.0);
}

#[test]
fn u11_gallons_and_fluid_ounce_hb44_c() {
    published("1 US gal in L", convert(1.0, "US-gal", "L", K::VOLUME), 3.785_412, 5e-7);
    published("1 UK gal in L, exact", convert(1.0, "UK-gal", "L", K::VOLUME), 4.546_09, 1e-15);
    published("1 US fl oz in L", convert(1.0, "US-floz", "L", K::VOLUME), 0.029_573_53, 5e-9);
}

#[test]
fn u12_specific_consumption_from_sp811_factors() {
    let ours = convert(1.0, "lb/(hp.h)", "g/kWh", K::SPECIFIC_CONSUMPTION);
    published("1 lb/hp.h in g/kWh", ours, 608.2774, 5e-5);
}

#[test]
fn u13_a_temperature_and_a_difference_of_temperature_sp811_b9() {
    published("72 F in C", convert(72.0, "°F", "°C", K::TEMPERATURE), 22.2222, 5e-5);
    published("10 F apart in C", convert(10.0, "F", "C", K::TEMPERATURE_DIFFERENCE), 5.5556, 5e-5);
}

#[test]
fn u14_miles_per_gallon_hb44_c() {
    let ours = convert(25.0, "US-mpg", "L/100km", K::CONSUMPTION);
    published("25 US mpg in L/100 km", ours, 9.408_58, 5e-6);
    published("and back", convert(ours, "L/100_km", "usmpg", K::CONSUMPTION), 25.0, 1e-12);
}

#[test]
fn u15_miles_per_hour_exact() {
    published("1 mph in m/s", unit("mph", K::SPEED).to_si(1.0), 0.447_04, 0.0);
    published("1 mph in km/h", convert(1.0, "mph", "km/h", K::SPEED), 1.609_344, 1e-15);
}

#[test]
fn u16_power_is_torque_times_speed_sp811_factors() {
    let power = |torque: f64, of: &str, rpm: f64| {
        unit(of, K::TORQUE).to_si(torque) * unit("rpm", K::ROTATION).to_si(rpm)
    };
    let kw = unit("kW", K::POWER).from_si(power(400.0, "N.m", 6000.0));
    published("400 N.m at 6000 rpm", kw, 251.3274, 5e-5);
    let rpm = 1.0 / unit("hp", K::POWER).from_si(power(1.0, "lb-ft", 1.0));
    published("hp = lbf.ft x rpm / 5252.113", rpm, 5252.113, 5e-4);
    let rpm = 1.0 / unit("kW", K::POWER).from_si(power(1.0, "Nm", 1.0));
    published("kW = N.m x rpm / 9549.297", rpm, 9549.297, 5e-4);
}
