//! What the car's other runs lend a trial: their scatter on that course, and the same contrast at another.

use super::{book, day, only, runs, view};

/// By hand: four runs alike on each of two other days there leave 0.008 s2 by two degrees of freedom each, with the trial's own one five.
#[test]
fn the_scatter_of_other_runs_on_that_course_counts() {
    let own = day("2025-05-10", "pell-1", 1, &runs("ABBA", &[60.00, 59.70, 59.72, 60.04]));
    // Laps of 0, 0.1, 0, 0.1 s: slope 0.02, squares 0.01 - 0.002 = 0.008 by two degrees of freedom.
    let alike = [60.00, 60.10, 60.00, 60.10];
    let two = day("2025-08-02", "pell-2", 1, &runs("AAAA", &alike));
    let three = day("2025-08-03", "pell-2", 1, &runs("AAAA", &alike));
    assert!(only(&format!("{own}{two}")).pooled.is_none(), "two degrees of freedom are too few");
    let trial = only(&format!("{own}{two}{three}"));
    let pooled = trial.pooled.as_ref().unwrap();
    assert_eq!((pooled.freedom, pooled.pooled), (5, 4));
    // By double substitution (NISTIR 6969, SOP 4) B less A is (59.70 - 60.00 + 59.72 - 60.04) / 2.
    let one = &pooled.effects[0];
    assert!((one.value + 0.31).abs() < 1e-9, "{}", one.value);
    // Left over: the contrast (1, -3, 3, -1) / sqrt(20) alone, (60.00 - 3 * 59.70 + 3 * 59.72 - 60.04)^2 / 20 = 0.02^2 / 20.
    let scatter = ((0.02_f64 * 0.02 / 20.0 + 2.0 * 0.008) / 5.0).sqrt();
    assert!((pooled.scatter - scatter).abs() < 1e-9, "{} {scatter}", pooled.scatter);
    // The sum of squares of the setting is 1; Student's t of five degrees of freedom is 2.570582.
    assert!((one.high - one.low - 2.0 * 2.570_582 * scatter).abs() < 1e-6);
    assert!(
        trial
            .sentence
            .contains("judged by the scatter of its other runs on that circuit too (4 of 5 degrees"),
        "{}",
        trial.sentence
    );
}

/// On two circuits in per cent of the lap. By hand: hole 3 is 0.6 s of 60.2 s and 1.2 s of 120.4 s quicker, 0.996678 per cent of either.
#[test]
fn on_two_circuits_the_difference_is_in_per_cent_of_the_lap() {
    let first = day("2025-05-10", "pell-1", 1, &runs("ABBAAB", &[60.50, 59.91, 59.90, 60.51, 60.50, 59.88]));
    let second =
        day("2025-08-02", "hill-1", 3, &runs("ABBAAB", &[121.00, 119.82, 119.80, 121.02, 121.00, 119.76]));
    let text = format!(
        "circuit hill \"Hill\"  length 5.00 km\nevent hill-1 2025-08-02..03 at hill \"Hill\"\n{first}{second}"
    );
    let view = view(&book(&text));
    let [one] = view.together.as_slice() else { panic!("{}", view.together.len()) };
    assert_eq!(one.unit, "%");
    // Each lap of the second is twice that of the first: the same per cent, so both say what one says.
    let alone = view.trials[0].measures[0].fit.as_ref().unwrap().effects[0].value;
    assert!((one.fit.effects[0].value - alone / 60.20 * 100.0).abs() < 1e-6, "{}", one.fit.effects[0].value);
    assert!(one.sentence.contains("% of the lap"), "{}", one.sentence);
    assert_eq!(one.fit.freedom, 12 - 5);
}
