//! Turns of phrase that every message, answer and page shares. Laps are written as a timing sheet has them (common practice).

use stringline::words;

#[test]
fn lists() {
    let list = |all: &[&str]| [words::and(all), words::or(all)];
    assert_eq!(list(&[]), ["", ""]);
    assert_eq!(list(&["a"]), ["a", "a"]);
    assert_eq!(list(&["a", "b"]), ["a and b", "a or b"]);
    assert_eq!(list(&["a", "b", "c"]), ["a, b and c", "a, b or c"]);
}

#[test]
fn counts() {
    let laps = [0_usize, 1, 2].map(|n| words::count(n, "lap", "laps"));
    assert_eq!(laps, ["0 laps", "1 lap", "2 laps"]);
    assert_eq!([words::days(1), words::days(12), words::days(-1)], ["1 day", "12 days", "-1 days"]);
    assert_eq!(words::summary(|_| 0), "nothing wrong");
    assert_eq!(words::summary(|_| 1), "1 error, 1 warning and 1 note");
}

#[test]
fn laps() {
    let lap = |seconds: f64| words::lap(seconds, 2);
    assert_eq!(lap(68.42), "1:08.42");
    assert_eq!(lap(41.4), "0:41.40");
    assert_eq!(lap(5.0), "0:05.00");
    assert_eq!(lap(120.0), "2:00.00");
    // What rounds to a minute is one.
    assert_eq!(lap(59.999), "1:00.00");
    assert_eq!(words::lap(68.4249, 3), "1:08.425");
    assert_eq!(words::lap(68.4, 0), "1:08");
    assert_eq!(words::clock(575), "09:35");
}

#[test]
fn names_and_lines() {
    assert_eq!(words::or_nearest(Some("camber")), "; did you mean `camber`?");
    assert_eq!(words::or_nearest(None::<&str>), "");
    assert_eq!(words::place("a/b.sline", 12), "a/b.sline:12");
    assert_eq!([words::a("event"), words::a("car")], ["an event", "a car"]);
    assert_eq!([words::capital("this"), words::capital("`x` is")], ["This", "`x` is"]);
    assert_eq!(
        [0.5, 100.0, -8.0, 1.23456].map(|value| words::amount(value, 3)),
        ["0.5", "100", "-8", "1.235"]
    );
}

/// No number of times in a hundred is none where it is only few.
#[test]
fn how_often() {
    let often = [0.000_04, 0.000_99, 0.001, 0.004, 0.01, 0.06, 1.0].map(words::scale::how_often);
    let said = [
        "less than once in 1000",
        "less than once in 1000",
        "0.1 times in 100",
        "0.4 times in 100",
        "once in 100",
        "6 times in 100",
        "100 times in 100",
    ];
    assert_eq!(often, said);
}

/// An amount of use is told in the unit its limit was typed in; a mile is 1609.344 m (international yard and pound agreement, 1959).
#[test]
fn use_is_told_as_its_limit_was_typed() {
    use stringline::book::model::Clock;
    use stringline::words::scale::Scale;
    let told = |clock, typed, value| Scale::typed(clock, typed).words(value);
    assert_eq!(told(Clock::Distance, "300 mile", 100.0 * 0.375 * 1609.344), "37.5 mile");
    assert_eq!(told(Clock::Distance, "300 km", 37_500.0), "37.5 km");
    assert_eq!(told(Clock::Time, "5 h", 5400.0), "1.5 h");
    assert_eq!(told(Clock::Time, "300 min", 5400.0), "90 min");
}
