//! The season under its class rules: the clearance rule that changes on 1 August, and what stands on the card after it.

use super::{DEMO, car};
use stringline::rules::judge::{Judged, Verdict};

/// Rule, day, verb, verdict and margin in millimetres of every reading judged by a clearance rule.
fn clearance(name: &str, class: &str) -> Vec<(String, String, &'static str, Verdict, i64, bool)> {
    let scrutiny = DEMO.context().scrutiny();
    let all: Vec<Judged> = scrutiny.judged(car(name), class);
    all.iter()
        .filter(|one| scrutiny.name(scrutiny.rule(one.rule)) == "ride-height")
        .map(|one| {
            let reading = one.reading.as_ref().unwrap();
            (
                scrutiny.rule(one.rule).named.typed.to_string(),
                reading.date.unwrap().to_string(),
                DEMO.book.entries[reading.entry.unwrap()].verb.word(),
                one.verdict.clone(),
                libm::round(one.margin.unwrap().margin * 1000.0) as i64,
                one.mended,
            )
        })
        .collect()
}

/// 26 June 44 mm passes by 4; 22 August found 44, short by 4; left 51, passes by 3, and the block gauge is good to 1.
#[test]
fn ground_clearance_of_bittern() {
    let all = clearance("bittern", "SR-2");
    let on = |day: &str| -> Vec<_> {
        all.iter()
            .filter(|row| row.1 == day)
            .map(|row| (row.0.as_str(), row.2, &row.3, row.4, row.5))
            .collect()
    };
    assert_eq!(on("2026-06-26")[1], ("sr2-clearance-2025", "left", &Verdict::Passes, 4, false));
    assert_eq!(
        on("2026-08-22"),
        [
            ("sr2-clearance", "found", &Verdict::Fails, -4, true),
            ("sr2-clearance", "left", &Verdict::Passes, 3, false)
        ]
    );
    let scrutiny = DEMO.context().scrutiny();
    let end = DEMO.history.order.entries.next_key();
    let card = scrutiny.card(car("bittern"), "SR-2", ["2026-09-05".parse().unwrap(); 2], None, end);
    let near = card[0].margin.unwrap();
    assert!((near.margin - 0.003).abs() < 1e-9 && (near.value.error - 0.001).abs() < 1e-9);
    assert_eq!(card[0].verdict, Verdict::Passes);
}

/// Curlew weighs 1065 kg against 1060: it passes by 5, and four pads of half a kilogram are good to 2.
#[test]
fn weight_of_curlew() {
    let scrutiny = DEMO.context().scrutiny();
    let end = DEMO.history.order.entries.next_key();
    let card = scrutiny.card(car("curlew"), "END-16", ["2026-10-24".parse().unwrap(); 2], None, end);
    let weight = card.iter().find(|one| scrutiny.name(scrutiny.rule(one.rule)) == "total-weight").unwrap();
    let near = weight.margin.unwrap();
    assert!((near.margin / 9.80665 - 5.0).abs() < 1e-6 && (near.value.error / 9.80665 - 2.0).abs() < 1e-6);
}

/// What if teal ran in bittern's class after July: on the very limit of 48 mm, which is no pass.
#[test]
fn teal_in_another_class() {
    let scrutiny = DEMO.context().scrutiny();
    let end = DEMO.history.order.entries.next_key();
    let card = scrutiny.card(car("teal"), "SR-2", ["2026-08-15".parse().unwrap(); 2], None, end);
    assert_eq!(card[0].verdict, Verdict::InsideError);
    assert!(card[0].margin.unwrap().margin.abs() < 1e-9);
}
