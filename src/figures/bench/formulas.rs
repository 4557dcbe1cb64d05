//! The formulas of the bench, as data.

use crate::figures::formula::Formula;
use crate::units::DimensionId;

macro_rules! formulas {
    ($($name:ident $id:literal $words:literal $expression:literal, $source:expr, $convention:literal, $dimension:ident $shown:literal;)*) => {
        $(pub(super) const $name: Formula = Formula {
            id: $id,
            name: $words,
            expression: $expression,
            source: $source,
            convention: $convention,
            dimension: DimensionId::$dimension,
            shown: $shown,
            show: [None, None],
        };)*
    };
}

const PRACTICE: &str = "common practice";
const LEAST_SQUARES: &str = "least squares, JCGM 100:2008 (GUM), H.3";
const SHIGLEY_3: &str = "Shigley, Mechanical Engineering Design, ch. 3, torsion";

formulas! {
    TRAVEL "rate-two-points" "rate from two points" "(f2 - f1) / (x2 - x1)",
        PRACTICE, "travel grows; the first pair is the preload and is taken off", STIFFNESS "";
    GAP "rate-two-points-gap" "rate from two points" "(f2 - f1) / (x1 - x2)",
        PRACTICE, "the gap closes; the first pair is the preload and is taken off", STIFFNESS "";
    TRAVEL_LINE "rate-line" "rate from a line through the points" "slope(x, f)",
        LEAST_SQUARES, "travel grows; the slope does not care about the preload", STIFFNESS "";
    GAP_LINE "rate-line-gap" "rate from a line through the points" "-slope(x, f)",
        LEAST_SQUARES, "the gap closes; the slope does not care about the preload", STIFFNESS "";
    MEAN_RATE "bench-rate" "mean of the repeats" "mean(k)",
        "JCGM 100:2008 (GUM), 4.2.1", "repeats that are void are left out", STIFFNESS "";
    MEAN_LENGTH "bench-length" "mean of the repeats" "mean(k)",
        "JCGM 100:2008 (GUM), 4.2.1", "repeats that are void are left out", LENGTH "";
    SCATTER "rate-scatter" "scatter of the repeats" "stdev(k)",
        "JCGM 100:2008 (GUM), 4.2.2", "sample standard deviation, n - 1", STIFFNESS "";
    HALF_WIDTH "rate-half-width" "95 % half-width of the mean" "t * stdev(k) / sqrt(count(k))",
        "JCGM 100:2008 (GUM), G.3.2", "the mean of many more repeats would lie within this, 95 times in 100", STIFFNESS "";
    TAG "tag-error" "bench rate over its tag" "k / tag - 1",
        PRACTICE, "positive is stiffer than the tag says", RATIO "%";
    ONE_END "bar-rate-one-end" "bar rate with the other end held" "k / 2",
        "common practice; statics", "benched in roll, both ends going opposite ways: each end then carries twice", STIFFNESS "";
    IN_ROLL "bar-rate-in-roll" "bar rate felt by each wheel in roll" "2 * k",
        "common practice; statics", "at the bar's end; in pure roll the other end goes the other way, so each end carries twice the rate with one end held", STIFFNESS "";
    BY_ARM "hole-rate-by-arm" "rate by the arms" "k * (a / b)^2",
        SHIGLEY_3, "the bar's twist alone; a is the arm of the benched hole, b of the wanted one", STIFFNESS "";
    BY_ARM_ERROR "hole-rate-error" "bench rate over the rate by the arms" "k / (k0 * (a / b)^2) - 1",
        SHIGLEY_3, "k0 is the first other hole that was benched, a its arm; positive is stiffer than the arms say", RATIO "%";
    ARM_WANTED "arm-wanted" "arm for a wanted rate" "a * sqrt(k / wanted)",
        SHIGLEY_3, "the bar's twist alone", LENGTH "";
    SOLID_RATIO "bar-against-solid" "stiffness against the other bar" "(d / e)^4",
        SHIGLEY_3, "both solid, same length, arms and steel", RATIO "";
    TUBE_RATIO "bar-against" "stiffness against the other bar" "(d^4 - (d - 2 * w)^4) / (e^4 - (e - 2 * v)^4)",
        SHIGLEY_3, "d, w diameter and wall of this bar, e, v of the other; 0 wall bore where solid; same length, arms and steel", RATIO "";
    MASS_RATIO "bar-mass-ratio" "mass against a solid bar of the same outside" "1 - ((d - 2 * w) / d)^2",
        "geometry", "same length and steel", RATIO "";
    EQUAL_SOLID "equal-solid-diameter" "solid bar of the same stiffness" "(d^4 - (d - 2 * w)^4)^0.25",
        SHIGLEY_3, "same length, arms and steel", LENGTH "";
    TORSION "bar-torsion" "torque for each degree of twist" "3.141592653589793 / 32 * (d^4 - b^4) * g / l",
        SHIGLEY_3, "the straight middle alone; b is the bore", ROLL_STIFFNESS "";
    U_BAR "theoretical-bar-rate" "bar rate from its shape" "1 / (a^2 * l / (g * 3.141592653589793 / 32 * (d^4 - b^4)) + 2 * c^3 / (3 * e * 3.141592653589793 / 64 * (d^4 - b^4)))",
        "twist of the middle and bending of both arms: Shigley, Mechanical Engineering Design, ch. 3 and 4",
        "one end held; a the arm square to the bar, c its developed length, l the middle, b the bore; clamps and links taken as stiff", STIFFNESS "";
    HANDBOOK "handbook-bar-rate" "bar rate by the handbook's short form" "500000 * (d / 0.0254)^4 / (0.4244 * (a / 0.0254)^2 * (l / 0.0254) + 0.2264 * (c / 0.0254)^3) * 175.12683524647636",
        "Puhn, How to Make Your Car Handle (inches, lbf/in)",
        "one end held, solid bar; its constants hide a shear modulus of 12.0 Mpsi and an elastic modulus of 30 Mpsi, 4 % stiff for most steels", STIFFNESS "";
    COIL "theoretical-spring-rate" "coil spring rate from its shape" "g * d^4 / (8 * m^3 * n)",
        "Shigley, Mechanical Engineering Design, eq. 10-9", "d the wire, m the mean coil diameter, n the active coils", STIFFNESS "";
}
