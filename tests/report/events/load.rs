//! The load list. Lives of the demo's plan: cp-07 161 min, cp-02 225 min of 300; ch-03 never used.

use super::{in_order, of_book, of_demo};

#[test]
fn spares_with_life_left_stand_by_car() {
    let said = of_demo("load-quern-27.html");
    in_order(
        &said,
        &[
            "What to load for quern-27",
            // Two chains, two sprockets, two bearings, a dog ring, a spring, a clutch pack, a disc, a blade; ct-1, ct-2, bt-1, pt-1, ht-1;
            // Each fluid by itself: petrol and oil add up to nothing; tw-1, tw-2, pg-1, pg-2, py-1.
            "3 cars, 11 spare parts, 5 tyre sets, 5 gauges",
            "To fill: brake fluid 1.9 L ·",
            "Before it is loaded",
            "☐ have checked, or leave at home torque wrench, red handle tw-1 out of date: 31 July 2026",
            "☐ replace bittern coupling LR ar-01 its 300 min run out during this event; spare: fit ar-02, 218 of 300 min left",
            "☐ look at bittern spring sp-02 not looked at since the impact of 28 June 2026",
            "Teal",
            "chain rear ☐ ch-03 new, 60 launches left",
            "Papers",
            "extinguisher fx-1 31 March 2027, ends before the event",
            "Bittern",
            // The one that would do is fitted before the car is loaded; the two that are left have too little for 162.5 min.
            "coupling LR RR ar-02 is fitted before it is loaded cp-07 std, natural rubber 139 of 300 min left too little",
            "cp-02 std, natural rubber 75 of 300 min left too little",
            "none with enough left",
            "Curlew",
            "☐ j-05 head off, cylinder 2",
            "Spares for several cars",
            "bearing ☐ wb-04 new fits bittern, curlew",
            "tyre set ☐ ct-1",
            "fits teal, bittern, curlew",
            "Spares in all",
            "coupling: none lies ready, once ar-02 is fitted, for 2 places",
            "no spare left",
            "bearing: take 2, as listed, for 4 places; 2 ready: wb-04, wb-06; 1 would be enough at 90 %",
            "dog ring: take 2 for 3 places; 1 ready: dr-05 short 1",
            "fuel by what a car burns, where the book says it; else to fill each once, as last filled; what leaks is not in it",
        ],
    );
    // A set of tyres is ticked once, whatever it fits, and what waits for a look after an impact is no spare.
    assert_eq!((said.matches("☐ ct-1").count(), said.matches("☐ sp-02").count()), (1, 0), "{said}");
    assert_eq!(said.matches("☐ ar-02").count(), 0, "{said}");
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
    assert!(june.contains("As the book stood on its eve, 26 June 2026."), "{june}");
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
        &["☐ replace a k front p", "spare: none on the shelf", "Spares", "k front none on the shelf"],
    );
    assert!(
        said.contains("The book has no fluid of these cars.") && said.contains("The book declares no gauge."),
        "{said}"
    );
}

/// Wren is at e still, and not entered at f: what is due before f tells of it, the list for f does not.
#[test]
fn a_car_that_is_at_another_event_is_not_loaded() {
    let book = "circuit c \"C\" length 2 km\nevent e 2026-05-02..03 at c \"E\"  entered wren\nevent f 2026-06-06..06 at c \"F\"  entered rook\n\
                car rook \"Rook\"\ncar wren \"Wren\"\n2026-05-01 wren\n  set fuel 10 L\n2026-05-02 wren at e\n  10:00..10:30 run s1 4 laps\n";
    let said = of_book(book, "load-f.html");
    in_order(&said, &["What to load for f", "1 car"]);
    assert!(said.contains("Rook") && !said.contains("Wren"), "{said}");
}

/// Each fluid by itself; what was drained and read is no fill, and a top-up does not say how much is in.
#[test]
fn what_is_to_be_filled_is_what_was_filled_last_as_a_whole() {
    let said = of_book(
        "circuit k \"K\"\nevent e 2026-06-02 at k  entered a\ncar a \"A\"\n2026-05-01 a\n  fill fuel 60 L\n  fill brake-fluid DOT4 0.6 L\n  \
         fill engine-oil 10W-50 +0.8 L\n2026-05-02 a\n  10:00..10:30 run s1 4 laps\n  read fuel 8.2 L\n",
        "load-e.html",
    );
    in_order(&said, &["To fill: brake fluid 0.6 L · fuel 60 L", "engine oil 10W-50"]);
    assert!(!said.contains("8.2 L") && !said.contains("0.8 L"), "{said}");
}

/// The last line that filled it has a mistake: what was filled before is not told as the newest.
#[test]
fn what_a_broken_fill_may_have_said_is_not_known() {
    for slip in [
        "  fill fuel 2x0 L\n",
        "  fill fuel 20,5 L\n",
        "  fill fuel 20 L \"from the can\n",
        "  set fuel 20 bar\n",
    ] {
        let said = of_book(
            &format!(
                "circuit k \"K\"\nevent e 2026-06-02 at k  entered a\ncar a \"A\"\n2026-05-01 a\n  fill fuel 60 L\n  fill brake-fluid DOT4 0.6 L\n\
                 2026-05-02 a\n{slip}  fill brake-fluid DOT4 0,4 L\n"
            ),
            "load-e.html",
        );
        assert!(!said.contains("60 L") && !said.contains("0.6 L"), "{slip}: {said}");
        in_order(
            &said,
            &[
                "brake fluid",
                "not known: the last line about it has a mistake",
                "fuel",
                "not known: the last line that filled it has a mistake",
            ],
        );
    }
}

/// 30 and 90 minutes at two events: 60 an event; at 30 L/h that is 30 L, and with 10 % over it 33.0 L. Of two grades each stands by itself.
#[test]
fn fuel_is_what_the_car_burns_at_an_event() {
    let book = |reserve: &str| {
        format!(
            "circuit k \"K\"\nevent d1 2026-04-01 at k\nevent d2 2026-04-08 at k\nevent e 2026-06-02 at k  entered a, b\ncar a \"A\"\ncar b \"B\"\n\
             2026-04-01 a at d1\n  set fuel-rate 30 L/h\n  set fuel-grade E5\n{reserve}  fill fuel 60 L\n  10:00..10:30 run s1\n\
             2026-04-08 a at d2\n  10:00..11:30 run s1\n2026-04-09 b\n  fill fuel 12 L\n  set fuel-grade E85\n"
        )
    };
    let said = of_book(&book("  set fuel-reserve 10 %\n"), "load-e.html");
    in_order(
        &said,
        &[
            "To fill: fuel E5 33.0 L · fuel E85 12 L",
            "fuel E5 33.0 L a 33.0 L (60 min, the mean of its 2 events, at 30 L/h; and 10% over it, its fuel-reserve)",
            "fuel E85 12 L b 12 L",
        ],
    );
    let said = of_book(&book(""), "load-e.html");
    in_order(
        &said,
        &[
            "a 30.0 L (60 min, the mean of its 2 events, at 30 L/h; no fuel-reserve is stated, so nothing over it)",
        ],
    );
    // Of a reserve or a rate with a mistake nobody knows how much: as it was last filled, and why.
    let said = of_book(&book("  set fuel-reserve 10 bar\n"), "load-e.html");
    in_order(&said, &["a 60 L (as last filled; the last line about its fuel-reserve has a mistake)"]);
}
