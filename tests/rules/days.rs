//! The last good day so many months on, against python-dateutil's `relativedelta` (`tests/oracles/dateutil_days.py` writes
//! the file and names the version), and labels that are no dates.

use stringline::book::due_dates::Stated;

#[test]
fn last_good_days_are_those_of_dateutil() {
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/fixtures/dates/dateutil.json");
    let golden: serde_json::Value = serde_json::from_str(&std::fs::read_to_string(path).unwrap()).unwrap();
    assert!(golden["library"].as_str().unwrap().starts_with("python-dateutil 2.9"));
    let cases = golden["cases"].as_array().unwrap();
    assert!(cases.len() > 2000);
    for case in cases {
        let label = case[0].as_str().unwrap();
        let months = u32::try_from(case[1].as_u64().unwrap()).unwrap();
        let got = Stated::parse(label).unwrap().last_good_day(months).map(|day| day.to_string());
        assert_eq!(got.as_deref(), case[2].as_str(), "{label} + {months} months");
    }
}

/// ISO 8601-1:2019, 4.3 and 5.2: the Gregorian calendar, months 01 to 12, years of four digits.
#[test]
fn labels_that_are_no_dates() {
    for text in [
        "2021-13",
        "2021-00",
        "2021-7",
        "21-07",
        "2021-02-29",
        "2021-07-32",
        "0000",
        "20211",
        "2021-07-",
        "x",
        "",
    ] {
        assert!(Stated::parse(text).is_err(), "{text}");
    }
    let last = |text: &str| Stated::parse(text).unwrap().last_day().to_string();
    assert_eq!(
        [last("2024-02"), last("2023-02"), last("2026"), last("2026-07-31")],
        ["2024-02-29", "2023-02-28", "2026-12-31", "2026-07-31"]
    );
}
