//! The load list. Lives of the demo's plan: cp-07 161 min, cp-02 225 min of 300; ch-03 never used.

use super::{in_order, of_book, of_demo};

#[test]
fn spares_with_life_left_stand_by_car() {
    let said = of_demo("load-quern-27.html");
    in_order(
        &said,
        &[
            "What to load for quern-27",
            "Teal",
            "chain rear ☐ ch-03 60 of 60 launches left",
            "Papers",
            "extinguisher bulkhead fx-1 31 March 2027, ends before the event",
            "Bittern",
            "replace coupling LR ar-01 its limit of 300 min falls in what is planned",
            "coupling LR RR",
            "cp-07 std, natural rubber 139 of 300 min left too little",
            "cp-02 std, natural rubber 75 of 300 min left too little",
            "Curlew",
            "☐ j-05 head off, cylinder 2",
        ],
    );
    // Plover was sold; it goes nowhere.
    assert!(!said.contains("Plover"), "{said}");
}

#[test]
fn fluids_add_up_by_grade_and_gauges_out_of_date_stand_first() {
    let said = of_demo("load-quern-27.html");
    // Last fills: teal 0.4, bittern 0.7, curlew 0.8 L.
    in_order(
        &said,
        &[
            "☐ brake fluid DOT4 1.9 L teal 0.4 L, bittern 0.7 L, curlew 0.8 L",
            "☐ engine oil 10W-40 2.8 L",
            "☐ engine oil 10W-60 5.2 L",
        ],
    );
    in_order(
        &said,
        &[
            "Gauges",
            "☐ tw-1",
            "out of date: 31 July 2026",
            "☐ pg-1",
            "no last day",
            "Never used at an event: ",
        ],
    );
    let june = of_demo("load-barrows-1.html");
    assert!(june.contains("As the book stood on its eve, 27 June 2026."), "{june}");
    assert!(
        june.contains("j-02 gearbox rear seal weeps open since 20 Jun; promised for 26 Jun, over"),
        "{june}"
    );
}

#[test]
fn a_spare_that_is_not_there_is_asked_for() {
    let said = of_book(
        "circuit c \"C\" length 2 km\nevent e 2026-05-02..02 at c \"E\"\nevent f 2026-06-06..06 at c \"F\"\ncar a \"A\"\nkind k \"K\" fits front on a life 40 min must\n\
         part p k opening new\n2026-05-01 a\n  fit p front\n2026-05-02 a at e\n  10:00..10:30 run s1 4 laps\n",
        "load-f.html",
    );
    in_order(
        &said,
        &["☐ replace k front p", "spare: none on the shelf", "Spares", "k front none on the shelf"],
    );
    assert!(
        said.contains("The book has no fluid of these cars.") && said.contains("The book declares no gauge."),
        "{said}"
    );
}
