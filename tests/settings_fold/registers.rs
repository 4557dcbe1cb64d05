//! What was asked and what was read; what a later change does to a reading; counters; text and `off`.

use super::{book, close, held, held_before, heron, is, problems, speaks};
use stringline::book::place::Place;
use stringline::history::order::Rank;
use stringline::history::problem::Problem;

/// Degrees in SI.
fn deg(degrees: f64) -> f64 {
    degrees * std::f64::consts::PI / 180.0
}

#[test]
fn asked_and_read_are_kept_apart_and_the_later_one_is_what_it_is() {
    let book = book("2025-05-03 heron\n  set camber LF -3.2 deg\n  left camber LF -3.1 deg\n");
    let held = held(&book, "camber", Place::LF);
    close(held.asked.unwrap().value, deg(-3.2));
    close(held.read.unwrap().value, deg(-3.1));
    close(held.is(&book.history).unwrap().value, deg(-3.1));
}

#[test]
fn a_setting_after_the_reading_is_what_it_is() {
    let book = book("2025-05-03 heron\n  left camber LF -3.1 deg\n  set camber LF -3.4 deg\n");
    close(is(&book, "camber", Place::LF), deg(-3.4));
}

#[test]
fn a_corner_not_read_keeps_what_it_had() {
    let book = book("2025-05-03 heron\n  left camber LF -3.1 RF -3.0 deg\n  left camber LF -3.2 RF - deg\n");
    close(is(&book, "camber", Place::LF), deg(-3.2));
    close(is(&book, "camber", Place::RF), deg(-3.0));
}

#[test]
fn an_axle_stands_for_its_two_corners() {
    let book = book("2025-05-03 heron\n  set spring-rate front 70 N/mm\n");
    // 70 N/mm is 70000 N/m.
    close(is(&book, "spring-rate", Place::LF), 70_000.0);
    close(is(&book, "spring-rate", Place::RF), 70_000.0);
}

#[test]
fn repeats_are_kept_as_their_mean() {
    let book = book("2025-05-03 heron\n  read ride-height LF 44, 45, 46 RF 50 mm  by bg-1\n");
    close(is(&book, "ride-height", Place::LF), 0.045);
    close(is(&book, "ride-height", Place::RF), 0.050);
}

#[test]
fn a_voided_reading_is_not_used() {
    let book = book(
        "2025-05-03 heron\n  left camber LF -3.1 deg\n  left camber LF -1.3 deg\n    void because wrong car\n",
    );
    close(is(&book, "camber", Place::LF), deg(-3.1));
}

#[test]
fn a_relative_quantity_counts_from_where_the_book_began() {
    let book = book("2025-05-03 heron\n  adjust perch RF +1/4 turn\n  adjust perch RF +1/2 turn\n");
    close(is(&book, "perch", Place::RF), 0.75);
    assert_eq!(speaks(&book), [""; 0]);
}

#[test]
fn a_change_adds_to_what_was_read_last() {
    // Set 60, read 61: the change is from 61.
    let book =
        book("2025-05-03 heron\n  set brake-bias 60 %\n  read brake-bias 61 %\n  adjust brake-bias -2 %\n");
    close(is(&book, "brake-bias", Place::CAR), 0.59);
}

#[test]
fn a_change_of_what_disturbs_it_makes_a_reading_stale_and_only_there() {
    let book = book(
        "2025-05-03 heron\n  left camber LF -3.1 RF -3.0 deg\n  set brake-bias 60 %\n  set caster LF 6.0 deg\n",
    );
    let stale = held(&book, "camber", Place::LF).stale.unwrap();
    assert_eq!(stale.quantity, book.book.vocabulary.find("caster"));
    assert!(held(&book, "camber", Place::RF).stale.is_none());
    // Before the caster was touched it was fresh.
    let rank = book.history.order.rank[stale.entry];
    assert!(held_before(&book, "camber", Place::LF, rank).stale.is_none());
}

/// Tread is read of the tyres that are on, and stays with them; what another set has nobody has read yet.
#[test]
fn what_was_read_of_a_set_stays_with_it() {
    let sets = "kind tyre-set \"set of four\"  fits all on heron  carries tread\npart t-1 tyre-set\npart t-2 tyre-set\n\n";
    let read = "2025-05-03 heron\n  fit t-1\n  read tread 5.3 5.2 5.6 5.6 mm\n";
    let own = book(&format!("{sets}{read}"));
    assert!(held(&own, "tread", Place::LF).read.is_some_and(|read| (read.value - 0.0053).abs() < 1e-9));
    let other = book(&format!("{sets}{read}  swap t-1 -> t-2\n"));
    let tread = other.book.vocabulary.find("tread").unwrap();
    for place in Place::CORNERS {
        let slot = other.facts().on(heron(&other), Rank::END).slot(tread, place);
        assert!(slot.is_none_or(|slot| slot.held.read.is_none()), "{place:?}");
    }
    let again = book(&format!("{sets}{read}  swap t-1 -> t-2\n  read tread 7.0 7.0 7.0 7.0 mm\n"));
    assert!(held(&again, "tread", Place::LF).stale.is_none());
    let back = book(&format!("{sets}{read}  swap t-1 -> t-2\n  swap t-2 -> t-1\n"));
    assert!(held(&back, "tread", Place::LF).read.is_some_and(|read| (read.value - 0.0053).abs() < 1e-9));
}

#[test]
fn an_impact_makes_a_reading_stale_at_its_corner() {
    let book = book("2025-05-03 heron\n  left camber LF -3.1 RF -3.0 deg\n  hit RF \"gate post\"\n");
    assert_eq!(held(&book, "camber", Place::RF).stale.unwrap().quantity, None);
    assert!(held(&book, "camber", Place::LF).stale.is_none());
}

#[test]
fn every_wheel_weight_feels_any_perch() {
    let text = "2025-05-03 heron\n  left weight 149 151 171 171 kg  with driver 78 kg, fuel 20 L\n  adjust perch LF +1/4 turn\n";
    let book = book(text);
    for place in Place::CORNERS {
        assert!(held(&book, "weight", place).stale.is_some());
    }
}

#[test]
fn a_counter_only_goes_up_until_it_is_set_anew() {
    let back =
        book("2025-05-03 heron\n  read engine-hours 61.3 h\n2025-05-10 heron\n  read engine-hours 58.1 h\n");
    assert!(matches!(problems(&back), [Problem::CounterWentBack { .. }]));
    let anew = book(
        "2025-05-03 heron\n  read engine-hours 61.3 h\n2025-05-10 heron\n  set engine-hours 0.0 h\n  read engine-hours 0.4 h\n",
    );
    assert_eq!(problems(&anew), []);
    // 0.4 h is 1440 s.
    close(is(&anew, "engine-hours", Place::CAR), 1440.0);
}

/// The one place that a part gives is said, and said once; the others are what the line says.
#[test]
fn a_part_that_gives_one_place_leaves_the_others_of_the_line() {
    let kinds = "kind spring \"spring\"  fits LF RF LR RR on heron  gives spring-rate\npart k1 spring\npart k2 spring\n";
    let one = book(&format!("{kinds}\n2025-05-03 heron\n  fit k1 LF\n  set spring-rate 60 70 80 90 N/mm\n"));
    assert!(matches!(problems(&one), [Problem::RateFromPart { .. }]), "{:?}", problems(&one));
    for (place, value) in [(Place::RF, 70_000.0), (Place::LR, 80_000.0), (Place::RR, 90_000.0)] {
        close(is(&one, "spring-rate", place), value);
    }
    let two = book(&format!(
        "{kinds}\n2025-05-03 heron\n  fit k1 LF\n  fit k2 RF\n  set spring-rate 60 70 80 90 N/mm\n"
    ));
    assert!(matches!(problems(&two), [Problem::RateFromPart { .. }]), "{:?}", problems(&two));
}

/// What a car is declared with is so until a line says otherwise, whether or not there are parts that could bring it along: none is fitted.
#[test]
fn a_declared_value_stays_where_no_part_brings_it() {
    let declared = "car wren \"Wren\"\n  spring-rate rear 27 N/mm\n  rebound 6 6 5 5\n";
    let kind = "kind spring \"spring\"  fits LF RF LR RR on wren  gives spring-rate\n";
    let days = "\n2025-04-01 wren\n  set spring-rate rear 27 -> 60 N/mm\n  adjust rebound front +2\n\n2025-04-02 wren\n  set spring-rate LR 55 -> \
                60 N/mm\n  set rebound RR 5\n";
    for head in [declared.to_owned(), format!("{declared}{kind}"), format!("{kind}{declared}")] {
        let book = super::compile_text(&format!("{}{head}{days}", super::HEAD));
        let Some(super::Thing::Car(wren)) = book.book.names.find("wren") else { panic!() };
        let at = |quantity: &str, place: Place, rank: Rank| {
            let id = book.book.vocabulary.find(quantity).unwrap();
            book.facts().on(wren, rank).slot(id, place).unwrap().held.is(&book.history).unwrap().value
        };
        let first = book.history.order.rank[book.book.entries.keys().next().unwrap()];
        assert!((at("spring-rate", Place::LR, first) - 27_000.0).abs() < 1e-9, "{head}");
        assert!((at("spring-rate", Place::LR, Rank::END) - 60_000.0).abs() < 1e-9, "{head}");
        assert!((at("rebound", Place::LF, Rank::END) - 8.0).abs() < 1e-9, "{head}");
        // 55 was not on the car, 5 is no change, and the clicks of no damper have no end to count from.
        let said = ["old-value-differs", "change-is-nothing", "clicks-without-datum"];
        assert_eq!(speaks(&book), said, "{head}");
        let mut keys: Vec<_> =
            book.history.slots.tracks.iter().map(|one| (one.owner, one.quantity, one.place)).collect();
        let all = keys.len();
        keys.dedup();
        assert_eq!(keys.len(), all, "a slot has one track");
    }
}
