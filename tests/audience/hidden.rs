//! A line that a reader may not read takes from him what he knew before it, and tells him nothing else: what was set or read of the car or
//! of a part on it, what it disturbs, what the bench said; and so does what happened to a car of his while it was another's.

use crate::checks::compile_text;
use stringline::Compiled;
use stringline::answer::state::{self, Is, Slot};
use stringline::audience::{Reader, cut};
use stringline::book::model::{CarId, ClientId, Clock, PartId};
use stringline::book::place::Place;
use stringline::figures::Calc;
use stringline::history::moment;
use stringline::history::order::Rank;
use stringline::history::parts::Where;

const SHOP: &str = "\
client kell \"Kell\"
client moor \"Moor\"
circuit ring \"Ring\"  length 2 km
event ev1 2025-05-04..05 at ring
car otter \"Otter\"  client kell  class S
  motion-ratio 0.9 0.8
  track 1400 1380 mm
  bar-motion-ratio 0.6 0.5
kind damper \"damper\"  fits LF RF  carries bump, perch  life 600 min
kind tyre-set \"set\"  fits all  carries tread  consumable
kind spring \"spring\"  fits LF RF LR RR  gives spring-rate
kind bar \"bar\"  fits front rear  gives bar-rate
kind hub \"hub\"  fits LR RR  safety  life 600 min
part d1 damper  opening new
part T1 tyre-set  opening new
part h1 hub  opening new
part s1 spring  tag spring-rate 70 N/mm  opening new
part b1 bar  tag bar-diameter 22 mm  tag bar-arm 200 mm  tag bar-arm-length 220 mm  tag bar-length 900 mm
part b2 bar  tag bar-rate 20 N/mm  opening new
";

fn whole(lines: &str) -> Compiled {
    compile_text(&format!("{SHOP}\n{lines}"))
}

/// The book as its client has it.
fn his(lines: &str) -> Compiled {
    cut(&whole(lines), &Reader::Client(ClientId::new(0)))
}

fn slots(book: &Compiled) -> Vec<Slot> {
    state::build(book, CarId::new(0), &moment::end(&book.history), None).slots
}

/// What a slot is, if it is listed; of a quantity that is unknown everywhere, that.
fn is(book: &Compiled, quantity: &str, place: &str) -> Option<Is> {
    let all = slots(book);
    let of = |slot: &&Slot| slot.quantity == quantity;
    let here = all.iter().filter(of).find(|slot| slot.place.as_deref().unwrap_or_default() == place);
    here.or_else(|| all.iter().find(|slot| of(slot) && slot.place.is_none())).map(|slot| slot.is)
}

fn stale(book: &Compiled, quantity: &str, place: &str) -> bool {
    slots(book)
        .iter()
        .any(|slot| slot.quantity == quantity && slot.place.as_deref() == Some(place) && slot.stale.is_some())
}

fn part(book: &Compiled, name: &str) -> PartId {
    let found = book.book.parts.iter_enumerated().find(|(_, part)| &*part.named.typed == name);
    found.map(|(part, _)| part).unwrap()
}

const FITTED: &str = "2025-05-04 otter at ev1\n  fit d1 LF\n  fit T1\n  fit h1 LR\n";

/// Of what the car has, what a damper carries at a corner and what a set of tyres carries at each: the same rule, by every way that hides a
/// line.
#[test]
fn what_is_hidden_leaves_nothing_standing() {
    for (first, verbs, quantity, place, number, unit) in [
        ("set camber LF -2 deg", &["set", "read", "adjust"][..], "camber", "LF", "-3", "deg"),
        ("set bump LF 5 click from full-soft", &["set", "read"], "bump", "LF", "9", "click from full-soft"),
        ("set perch LF 1 turn", &["set", "read", "adjust"], "perch", "LF", "2", "turn"),
        ("read tread LF 6 mm", &["read"], "tread", "LF", "4", "mm"),
    ] {
        for verb in verbs {
            let line = format!("  {verb} {quantity} {place} {number} {unit}");
            let away = format!(
                "2025-05-05 otter\n  sell otter to moor\n2025-05-06 otter for moor\n{line}\n2025-05-07 otter for moor\n  sell otter to kell\n2025-05-08 otter for kell\n"
            );
            for (how, text) in [
                ("hidden", format!("{FITTED}  {first}\n2025-05-05 otter\n{line}  for shop\n")),
                ("away", format!("{FITTED}  {first}\n{away}")),
                (
                    "a mistake",
                    format!(
                        "{FITTED}  {first}\n2025-05-05 otter\n  {verb} {quantity} {place} {number},5 {unit}\n"
                    ),
                ),
            ] {
                assert_eq!(is(&his(&text), quantity, place), Some(Is::Unknown), "{how}: {line}");
                // What is said after it is known again.
                let again = format!("{text}2025-05-09 otter for kell\n  {first}\n");
                assert_ne!(
                    is(&his(&again), quantity, place),
                    Some(Is::Unknown),
                    "{how}: {line}, then {first}"
                );
            }
            // Where he knew nothing of it there is nothing to tell.
            let never = his(&format!("{FITTED}2025-05-05 otter\n{line}  for shop\n"));
            assert_eq!(is(&never, quantity, place), None, "{line}");
        }
    }
}

/// A turn of a perch makes what was read of that corner, and every weight, stale: whether it can be read or not, and whoever carries the perch.
#[test]
fn what_cannot_be_read_disturbs_all_the_same() {
    let read = "2025-05-04 otter at ev1\n  read weight 149 151 171 171 kg  with driver 78 kg, fuel 20 L\n  read ride-height LF 44 RF 44 mm\n  read camber LF -2 RF -2 deg\n";
    let dampers = "2025-05-01 otter\n  fit d1 RF\n";
    for fitted in ["", dampers] {
        for before in ["", "  set perch RF 0 turn\n"] {
            for line in [
                "adjust perch RF +1 turn",
                "set perch RF 2 turn",
                "adjust perch RF +1,0 turn",
                "set perch RF 2,5 turn",
            ] {
                for hidden in ["", "  for shop"] {
                    let text = format!(
                        "{fitted}{}{read}2025-05-05 otter at ev1\n  {line}{hidden}\n",
                        if before.is_empty() { String::new() } else { format!("2025-05-02 otter\n{before}") }
                    );
                    for book in [whole(&text), his(&text)] {
                        let told =
                            [("weight", "LF"), ("weight", "RR"), ("ride-height", "RF"), ("camber", "RF")];
                        for (quantity, place) in told {
                            assert!(stale(&book, quantity, place), "{quantity} {place} after {text}");
                        }
                    }
                    // Of a line whose places are read the other corners are as they were; of one that is hidden nobody says where.
                    if hidden.is_empty() && !line.contains(',') {
                        assert!(!stale(&whole(&text), "ride-height", "LF"), "{text}");
                    }
                }
            }
        }
    }
    // A reading that cannot be read turns nothing.
    let only = format!("{read}2025-05-05 otter at ev1\n  read perch RF 2 turn  for shop\n");
    assert!(!stale(&his(&only), "weight", "RF") && !stale(&whole(&only), "weight", "RF"));
}

/// What the bench says stands before the tag, before the shape and before an older line of the bench; hidden, none of them stands in.
#[test]
fn a_hidden_bench_line_leaves_no_tag_and_no_shape() {
    let fitted = "2025-05-04 otter at ev1\n  fit s1 LF\n  fit b1 rear\n  fit b2 front\n";
    let figure = |book: &Compiled, name: &str, place: Place| {
        let mut calc = Calc::new(book.facts(), CarId::new(0), &moment::end(&book.history));
        calc.named(name, place).map(|fig| fig.value)
    };
    let told = [("wheel-rate", Place::LF), ("bar-roll", Place::REAR), ("bar-roll", Place::FRONT)];
    for (name, place) in told {
        assert!(figure(&his(fitted), name, place).is_ok(), "{name}: {:?}", figure(&his(fitted), name, place));
    }
    let hidden = "2025-05-05\n  bench s1 spring-rate 80 N/mm\n  bench b1 bar-rate 30 N/mm\n  bench b2 bar-rate 31 N/mm\n";
    let read = "2025-05-03\n  bench s1 spring-rate 70 N/mm  for client\n  bench b1 bar-rate 30 N/mm  for client\n  bench b2 bar-rate 31 N/mm  for client\n";
    for before in ["", read] {
        let text = format!("{before}{fitted}{hidden}");
        for (name, place) in told {
            assert!(figure(&whole(&text), name, place).is_ok(), "{name}");
            let got = figure(&his(&text), name, place);
            assert!(got.is_err(), "{name}: {got:?} after {text}");
        }
        assert_eq!(is(&his(&text), "spring-rate", "LF"), Some(Is::Unknown));
        assert_eq!(is(&his(&text), "bar-rate", "front"), Some(Is::Unknown));
    }
    for (name, place) in told {
        assert!(figure(&his(&format!("{read}{fitted}")), name, place).is_ok(), "what he may read stands");
    }
    // Of a void one nothing is left.
    let void =
        format!("{fitted}2025-05-05\n  bench s1 spring-rate 80 N/mm\n    void because the pad slipped\n");
    assert!(figure(&his(&void), "wheel-rate", Place::LF).is_ok());
}

/// What happened to the parts of a car that he sold and bought back is told of them: 30 min his, 30 min away, 30 min his again.
#[test]
fn what_happened_to_its_parts_while_it_was_away() {
    let season = |away: &str, then: &str| {
        format!(
            "{FITTED}  10:00..10:30 run s1\n2025-05-20 otter\n  sell otter to moor\n2025-06-04 otter for moor\n{away}  10:00..10:30 run s1\n\
             2025-06-10 otter for moor\n{then}  sell otter to kell\n2025-07-04 otter for kell\n  10:00..10:30 run s1\n"
        )
    };
    let minutes = |book: &Compiled, name: &str| {
        let used = stringline::history::usage::of_part(
            &book.book,
            &book.history,
            part(book, name),
            Rank::START,
            Rank::END,
        );
        used.on(Clock::Time).0 / 60.0
    };
    let on_otter = |book: &Compiled, name: &str| {
        let stay = book.history.parts.get(part(book, name)).at(Rank::END).map(|stay| stay.car);
        stay == Some(Some(CarId::new(0)))
    };
    for (away, then, ran, on) in [
        ("", "", 90.0, true),
        ("  remove d1\n", "", 30.0, false),
        ("  remove d1\n", "  fit d1 LF\n", 60.0, true),
        ("  scrap d1 because bent\n", "", 30.0, false),
        ("  rebuild d1 with seals\n", "", 90.0, true),
        ("  failed d1 mode split\n", "", 30.0, false),
        ("", "  remove d1\n", 60.0, false),
    ] {
        let text = season(away, then);
        let (all, own) = (whole(&text), his(&text));
        for name in ["d1", "h1"] {
            assert!((minutes(&all, name) - minutes(&own, name)).abs() < 1e-9, "{name}: {text}");
            assert_eq!(on_otter(&all, name), on_otter(&own, name), "{name}: {text}");
        }
        if !away.contains("failed") {
            assert!((minutes(&own, "d1") - ran).abs() < 1e-9, "{} for {text}", minutes(&own, "d1"));
            assert_eq!(on_otter(&own, "d1"), on, "{text}");
        }
        let rebuilt = |book: &Compiled| book.history.parts.get(part(book, "d1")).rebuilds.len();
        assert_eq!(rebuilt(&all), rebuilt(&own), "{text}");
        let failed = |book: &Compiled| book.history.parts.get(part(book, "d1")).now() == Where::Failed;
        assert_eq!(failed(&all), failed(&own), "{text}");
    }
    // A safety part that broke is broken, whose ever the car was.
    let broke = season("  failed h1 mode split\n", "");
    let state = |book: &Compiled| format!("{:?}", book.history.parts.get(part(book, "h1")).now());
    assert_eq!(state(&whole(&broke)), state(&his(&broke)));
}

/// A job whose own line is not for him is none for him: no list, no other line and no name tells of it.
#[test]
fn a_job_for_the_shop_has_no_name() {
    let text = "2025-05-04 otter at ev1\n  job overcharge-kell \"bill him twice\"  for shop\n  job j-2 \"hubs\"\n  hours 1 h \"x\" on j-2\n  hours 1 h \"y\" on overcharge-kell\n  defer overcharge-kell to winter because he is away\n";
    let own = his(text);
    let at = moment::end(&own.history);
    let told = serde_json::to_string(&state::build(&own, CarId::new(0), &at, None)).unwrap();
    assert!(told.contains("j-2") && !told.contains("overcharge") && !told.contains("winter"), "{told}");
    let words: String = own.files.iter().map(|(_, file)| file.text.clone()).collect();
    assert!(!words.contains("overcharge") && !words.contains("twice"), "{words}");
    assert!(own.book.jobs.iter().all(|job| &*job.named.typed != "overcharge-kell"));
}

/// What a part of the shop's was set to on another's car is not what it was set to on his; back on his it is not known.
#[test]
fn a_part_that_was_on_anothers_car() {
    let car = "car stoat \"Stoat\"  client moor\n\n";
    let text = |set: &str| {
        format!(
            "{car}{FITTED}  set bump LF 5 click from full-soft\n2025-05-05 otter\n  remove d1\n2025-05-06 stoat\n  fit d1 LF\n{set}  remove d1\n2025-05-07 otter\n  fit d1 LF\n"
        )
    };
    assert_eq!(is(&his(&text("")), "bump", "LF"), Some(Is::Asked));
    for line in ["  set bump LF 9 click from full-soft\n", "  set bump LF 9,5 click from full-soft\n"] {
        let own = his(&text(line));
        assert_eq!(is(&own, "bump", "LF"), Some(Is::Unknown), "{line}");
        let words: String = own.files.iter().map(|(_, file)| file.text.clone()).collect();
        assert!(!words.contains("stoat") && words.matches("full-soft").count() == 1, "{words}");
    }
    // Of the car's own camber there nothing is his.
    let other = text("  set camber LF -9 deg\n");
    assert_eq!(is(&his(&other), "camber", "LF"), None);
}
