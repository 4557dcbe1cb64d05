//! A moment during a session takes that session's own readings and its own air, and never another session's.

use super::{close, missing, trace};

const KART: &str = "circuit pell \"Pell\"
circuit ost \"Ost\"
event test 2026-06-10 at pell
event meet 2026-06-13..14 at ost
car finch \"Finch\"
  reference driver 45 kg

2026-06-10 finch at test
  read air-pressure 1009 hPa
  read humidity 48 %
  read air-temp 22 C
  10:00..10:10 run c1  with air 27 C

2026-06-13 finch at meet
  11:00..11:11 run h1
    read weight-after-session 145.5 kg
    read fuel-used 2.0 L
  14:00..14:11 run h2

2026-06-14 finch at meet
  13:00..13:16 run final  with air 19 C
    read weight-after-session 144.5 kg
    read fuel-used 2.3 L
";

/// 144.5 kg and 2.3 L are the final's, 145.5 kg and 2.0 L the first heat's; the second heat was never weighed.
#[test]
fn what_scrutineers_weighed_is_of_the_session_that_came_in() {
    for (session, kg, litres) in [("h1", 145.5, 2.0), ("final", 144.5, 2.3)] {
        for moment in [format!("meet/{session}"), format!("meet/after-{session}")] {
            let (weight, err) = trace(KART, &["finch", "weight-after-session", &moment]);
            assert!(weight["value_si"].is_number(), "{moment}: {weight} {err}");
            close(&weight, "value_si", kg * 9.80665, 1e-6);
        }
        let (used, _) = trace(KART, &["finch", "fuel-used", &format!("meet/{session}")]);
        close(&used, "value_si", litres / 1000.0, 1e-9);
    }
    missing(KART, &["finch", "weight-after-session", "meet/h2"]);
    missing(KART, &["finch", "fuel-used", "meet/h2"]);
}

/// `with air` of a run stands before what was read earlier, of that day or another: the density is that of a book without the reading.
/// What was read at another circuit says so.
#[test]
fn a_sessions_own_air_stands_before_an_older_reading() {
    for (moment, density) in [("test/c1", 1.1636), ("meet/final", 1.1984)] {
        let (air, err) = trace(KART, &["finch", "air-density", moment]);
        assert!(err.is_empty(), "{err}");
        close(&air, "value_si", density, 5e-5);
        let without = KART.replace("  read air-temp 22 C\n", "");
        let (same, _) = trace(&without, &["finch", "air-density", moment]);
        assert_eq!(air["value_si"], same["value_si"], "{moment}");
        let careful = air.to_string().contains("out of date: read on 2026-06-10, at another circuit");
        assert_eq!(careful, moment == "meet/final", "{air}");
    }
    // Read after the run's line, the reading is the newer.
    let later = KART.replace(
        "  10:00..10:10 run c1  with air 27 C\n",
        "  10:00..10:10 run c1  with air 27 C\n  read air-temp 30 C\n",
    );
    let (air, _) = trace(&later, &["finch", "air-temp", "test/end"]);
    close(&air, "value_si", 303.15, 1e-9);
}

/// 20 L in, 6 L burnt by what stands under the run: 14 L as it came in, and no rate is wanted.
#[test]
fn what_a_session_used_is_known_as_it_comes_in() {
    let book = "circuit pell \"Pell\"\nevent meet 2026-06-13 at pell\ncar finch \"Finch\"\n\n2026-06-13 finch at meet\n  fill fuel 20 L\n  \
                11:00..11:30 run s1\n    read fuel-used 6 L\n";
    let (aboard, err) = trace(book, &["finch", "fuel-aboard", "meet/s1"]);
    assert!(aboard["value_si"].is_number(), "{aboard} {err}");
    close(&aboard, "value_si", 0.014, 1e-12);
}
