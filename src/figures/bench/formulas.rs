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
    ARM_WANTED "arm-wanted" "arm for a wanted rate" "a * sqrt(k / wanted)",
        SHIGLEY_3, "the bar's twist alone", LENGTH "";
    SOLID_RATIO "bar-against-solid" "stiffness against the other bar" "(d / e)^4",
        SHIGLEY_3, "both solid, same length, arms and steel", RATIO "";
    TUBE_RATIO "bar-against" "stiffness against the other bar" "(d^4 - (d - 2 * w)^4) / (e^4 - (e - 2 * v)^4)",
        SHIGLEY_3, "d, w diameter and wall of this bar, e, v of the other; 0 wall bore where solid; same length, arms and steel", RATIO "";
}
