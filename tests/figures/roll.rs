//! Roll stiffness and load transfer.

use super::{changes, close, figure, missing, trace};

/// `lbf.ft/deg` in `N.m/rad`: 4.4482216152605 x 0.3048 x 180 / pi.
const LBFT_DEG: f64 = 4.448_221_615_260_5 * 0.3048 * 57.295_779_513_082_32;

fn car(lines: &str) -> String {
    format!("car wren \"Wren\"\n{lines}")
}

/// Rate x track squared / 2 (RCVD ch. 16): 225 lbf/in on 58 in is 550.4332 `lbf.ft/deg` (the 1375 of the handbooks gives 550.4728);
/// 40 N/mm on 1.5 m is 45000 `N.m/rad`.
#[test]
fn equal_sides() {
    let book = car("  spring-rate front 225 lb/in\n  motion-ratio front 1\n  track front 58 in\n");
    let value = figure(&book, &["wren", "spring-roll", "front"]);
    close(&value, "value_si", 550.4332 * LBFT_DEG, 5e-5 * LBFT_DEG);
    let book = car("  spring-rate front 40 N/mm\n  motion-ratio front 1\n  track front 1500 mm\n");
    let value = figure(&book, &["wren", "spring-roll", "front"]);
    close(&value, "value_si", 45_000.0, 1e-6);
    close(&value, "value", 785.3982, 5e-5);
}

/// Left rate x right rate x track squared over their sum (RCVD ch. 16): 200 and 250 lbf/in on 58 in is
/// 543.6378 `lbf.ft/deg`; their mean would give 550.43.
#[test]
fn unequal_sides() {
    let book = "car wren \"Wren\"  units imperial\n  spring-rate LF 200 RF 250 lb/in\n  motion-ratio front 1\n  track front 58 in\n";
    close(&figure(book, &["wren", "spring-roll", "front"]), "value", 543.6378, 1e-4);
}

const BAR: &str = "car wren \"Wren\"  units imperial\n  spring-rate front 225 lb/in\n  motion-ratio front 1\n  track front 58 in\n  \
                   bar-motion-ratio front 0.6\n  bar-rate front 300 lb/in\n";

/// k MR^2 t^2 (RCVD ch. 16): 300 lbf/in with one end held, 0.6, 58 in: 528.4158 `lbf.ft/deg`.
#[test]
fn a_bar() {
    close(&figure(BAR, &["wren", "bar-roll", "front"]), "value", 528.4158, 1e-4);
    close(&changes(BAR, &["wren", "axle-roll", "front"]), "value", 528.4158 + 550.4332, 2e-4);
    // No bar in the book, or its link off: springs alone, and the convention says which.
    let none = BAR.replace("  bar-rate front 300 lb/in\n", "");
    let value = figure(&none, &["wren", "axle-roll", "front"]);
    close(&value, "value", 550.4332, 5e-5);
    assert!(value["formula"]["convention"].as_str().unwrap().contains("knows no bar"));
    let off = format!("{BAR}\n2025-03-01 wren\n  set bar-hole front off\n");
    let value = trace(&off, &["wren", "axle-roll", "front"]).0;
    close(&value, "value", 550.4332, 5e-5);
    assert!(value["formula"]["convention"].as_str().unwrap().contains("link is off"));
}

/// What is supposed to be disconnected is as if the book had it off; and it is refused of what a figure takes a number of.
#[test]
fn a_bar_may_be_supposed_off() {
    let book = BAR.to_owned() + "\n2025-03-01 wren\n  set bar-hole front 2\n";
    close(&trace(&book, &["wren", "axle-roll", "front"]).0, "value", 528.4158 + 550.4332, 2e-4);
    let off = trace(&book, &["wren", "axle-roll", "front", "--with", "bar-hole front off"]).0;
    close(&off, "value", 550.4332, 5e-5);
    assert!(off["formula"]["convention"].as_str().unwrap().contains("link is off"));
    let roll = trace(&book, &["wren", "bar-roll", "front", "--with", "bar-hole front off"]);
    assert!(roll.0["missing"][0].as_str().unwrap().contains("off"), "{roll:?}");
    let refused = trace(&book, &["wren", "axle-roll", "front", "--with", "track front off"]).1;
    assert!(refused.contains("cannot be off"), "{refused}");
}

const FITTED: &str = "car wren \"Wren\"\n  spring-rate front 40 N/mm\n  motion-ratio front 1\n  track front 1000 mm\n  bar-motion-ratio \
                      front 1\nkind bar \"bar\"  fits front on wren  gives bar-rate\npart br-1 bar\n\n2025-02-01\n  bench br-1 bar-rate 10 \
                      N/mm  with bar-hole 1\n  bench br-1 bar-rate 15 N/mm  with bar-hole 2\n\n2025-03-01 wren\n  fit br-1 front\n";

#[test]
fn a_fitted_bar_at_its_hole() {
    let book = format!("{FITTED}  set bar-hole front 2\n");
    close(&changes(&book, &["wren", "bar-roll", "front"]), "value_si", 15_000.0, 1e-6);
    let what = trace(&book, &["wren", "bar-roll", "front", "--with", "bar-hole front 1"]).0;
    close(&what, "value_si", 10_000.0, 1e-6);
    let none = missing(FITTED, &["wren", "axle-roll", "front"]);
    assert!(none.contains("bar-hole front"), "{none}");
    let bare = "car wren \"Wren\"\n  bar-motion-ratio front 1\n  track front 1 m\nkind bar \"bar\"  fits front on wren  gives bar-rate\npart br-1 \
                bar\n\n2025-03-01 wren\n  fit br-1 front\n";
    let words = missing(bare, &["wren", "bar-roll", "front"]);
    assert!(
        words.contains("bench reading of bar-rate of br-1") && words.contains("bar-diameter of br-1"),
        "{words}"
    );
}

/// Elementary total (RCVD ch. 18), W A h / t: 3000 lb, 20 in, 1 g, 60 in is 1000 lb.
#[test]
fn load_transfer_in_all() {
    let book = "car wren \"Wren\"  units imperial\n  track front 60 in\n  track rear 60 in\n  cg-height 20 in\n\n2025-03-01 wren\n  left weight 750 750 750 \
                750 lb\n";
    let value = figure(book, &["wren", "load-transfer"]);
    close(&value, "value", 1000.0, 1e-9);
    assert!(value.to_string().contains("cornering of 1 g"));
}

/// First principles (RCVD ch. 18, elementary form): 1100 kg, h 0.45, l 2.5, a 1.15, tracks 1.50 and 1.48, roll centres 0.05
/// and 0.10 m, 45 and 30 `kN.m/rad`, 1.2 g.
const CORNER: &str = "car wren \"Wren\"\n  cg-height 450 mm\n  track 1500 1480 mm\n  roll-centre-height 50 100 mm\n  motion-ratio 1 1\n  \
                      lateral 1.2 g\n  spring-rate front 40 N/mm\n  spring-rate rear 27.392257121986852 N/mm\n\n2025-03-01 wren\n  left weight 297 \
                      297 253 253 kg\n";

#[test]
fn load_transfer_by_axle() {
    let front = changes(CORNER, &["wren", "axle-load-transfer", "front"]);
    let rear = changes(CORNER, &["wren", "axle-load-transfer", "rear"]);
    close(&front, "value_si", 2185.0785, 5e-5);
    close(&rear, "value_si", 1721.3056, 5e-5);
    close(&changes(CORNER, &["wren", "load-transfer-share"]), "value_si", 0.559_360_9, 5e-8);
    close(&figure(CORNER, &["wren", "roll-share"]), "value", 60.0, 1e-9);
    assert!(
        front["inputs"]
            .as_array()
            .unwrap()
            .iter()
            .any(|one| (one["value_si"].as_f64().unwrap() - 0.377).abs() < 1e-12)
    );
    // What the axles take against their tracks is the whole moment, W A h.
    let moment = front["value_si"].as_f64().unwrap() * 1.5 + rear["value_si"].as_f64().unwrap() * 1.48;
    assert!((moment - 5825.1501).abs() < 1e-4, "{moment}");
    // W H / (K_F + K_R), radians for 1 g: in SI for each m/s2.
    close(&figure(CORNER, &["wren", "roll-gradient"]), "value_si", 1100.0 * 0.377 / 75_000.0, 1e-12);
    // Closed form: 50 N/mm makes 56250 N.m/rad, so 56250/86250 - 0.6 of W A H / t more on the front.
    let compiled = crate::checks::compile_text(CORNER);
    let end = stringline::history::moment::end(&compiled.history);
    let car = stringline::book::model::CarId::new(0);
    let mut calc = stringline::figures::Calc::new(compiled.facts(), car, &end);
    let (lf, rf) = (stringline::book::place::Place::LF, stringline::book::place::Place::RF);
    let front = stringline::book::place::Place::FRONT;
    let springs = [("spring-rate", lf, 50_000.0), ("spring-rate", rf, 50_000.0)];
    let what =
        calc.difference(|calc, place| calc.named("axle-load-transfer", place), front, &springs).unwrap();
    let worth = 1100.0 * 9.80665 * 1.2 * 0.377 / 1.5 * (56_250.0 / 86_250.0 - 0.6);
    assert!((what.change - worth).abs() < 1e-6, "{} {worth}", what.change);
    assert!(calc.what_if.is_empty());
    // A spring put in place of the book's moves the share; the difference is what it is worth.
    let stiff = trace(CORNER, &["wren", "load-transfer-share", "--with", "spring-rate front 50 N/mm"]).0;
    assert!(stiff["value_si"].as_f64().unwrap() > 0.559_360_9);
}

#[test]
fn what_is_missing_is_named() {
    let words = missing(&car("  track front 1500 mm\n"), &["wren", "axle-load-transfer", "front"]);
    for need in ["weight", "cg-height", "roll-centre-height front", "spring-rate LF", "track rear"] {
        assert!(words.contains(need), "{need}: {words}");
    }
}

/// Weighed and lifted with one spring, lifted again with another: the gradient as of the older day rests on the spring of that day.
/// Closed form as above: 40 N/mm on both sides of 1.5 m, 1100 kg, arm 0.377 m.
#[test]
fn a_gradient_as_of_a_day_rests_on_the_spring_of_that_day() {
    let kinds = "kind spring \"spring\"  fits LF RF LR RR on wren  gives spring-rate\npart k1 spring  tag spring-rate 40 N/mm\npart k2 spring  \
                 tag spring-rate 80 N/mm\n";
    let april = CORNER
        .replace("  cg-height 450 mm\n", "")
        .replace("2025-03-01 wren\n", "2025-04-01 wren\n  fit k1 LF\n");
    let book = format!(
        "{april}  read cg-height 450 mm\n\n2025-05-01 wren\n  remove k1\n  fit k2 LF\n\n2025-05-02 wren\n  read cg-height 460 mm\n"
    );
    let book = book.replace("\n2025-04-01", &format!("{kinds}\n2025-04-01"));
    let value = trace(&book, &["wren", "roll-gradient"]).0;
    let words = value.to_string();
    assert!(words.contains("as of 2025-04-01"), "{words}");
    assert!(words.contains("spring-rate of k1") && !words.contains("spring-rate of k2"), "{words}");
    close(&value, "value_si", 1100.0 * 0.377 / 75_000.0, 1e-12);
    let read = book
        .replace("  motion-ratio 1 1\n", "")
        .replace("  fit k1 LF\n", "  fit k1 LF\n  read motion-ratio LF 1 RF 1 LR 1 RR 1\n");
    let value = trace(&format!("{read}  set motion-ratio front 0.8\n"), &["wren", "roll-gradient"]).0;
    close(&value, "value_si", 1100.0 * 0.377 / 75_000.0, 1e-12);
    // Never said until it was set since: nobody knows what it was then.
    let never = book.replace("  motion-ratio 1 1\n", "");
    let words = missing(&format!("{never}  set motion-ratio 0.8 0.8\n"), &["wren", "roll-gradient"]);
    assert!(words.contains("read in one state"), "{words}");
    // What was set since was never true with that spring either: another hole of the rocker, another target.
    for since in
        ["set motion-ratio front 0.8", "set roll-centre-height 80 120 mm", "set spring-rate rear 60 N/mm"]
    {
        let value = trace(&format!("{book}  {since}\n"), &["wren", "roll-gradient"]).0;
        close(&value, "value_si", 1100.0 * 0.377 / 75_000.0, 1e-12);
    }
    // In one state with the new spring, it is of the new spring.
    let again = format!("{book}  left weight 297 297 253 253 kg\n");
    let value = trace(&again, &["wren", "roll-gradient"]).0.to_string();
    assert!(value.contains("spring-rate of k2"), "{value}");
}
