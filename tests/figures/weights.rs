//! Shares of the weight. Closed forms of the trade's definitions (common practice).

use super::{changes, close, demo, figure, missing, trace};

/// Right front 600, left rear 560 of 2400 lb: cross 1160/2400; front 1250/2400; left 1210/2400.
const FOUR: &str = "car wren \"Wren\"  units imperial\n  reference driver 172 lb, fuel 20 L\n\n2025-05-03 wren\n  left weight LF 650 RF 600 LR 560 RR 590 lb\n";

#[test]
fn shares_of_four_pads() {
    close(&figure(FOUR, &["wren", "total-weight"]), "value", 2400.0, 1e-9);
    close(&figure(FOUR, &["wren", "front-weight"]), "value", 52.083_333_333_333, 1e-9);
    close(&figure(FOUR, &["wren", "left-weight"]), "value", 50.416_666_666_667, 1e-9);
    close(&figure(FOUR, &["wren", "cross-weight"]), "value", 48.333_333_333_333, 1e-9);
}

#[test]
fn three_pads_give_no_share() {
    let three = FOUR.replace("RR 590", "RR -");
    let (value, _) = trace(&three, &["wren", "cross-weight"]);
    assert_eq!(value["figure"], "cross-weight");
    assert!(value["missing"][0].as_str().unwrap().contains("weight RR"), "{value}");
}

/// Cross shares its pads with the total above and below the line: taken as independent, its uncertainty would be too large.
/// Closed form: with four equal u, d cross / d pad = ((1 or 0) - cross) / total.
#[test]
fn shared_readings_correlate() {
    let book = FOUR
        .replace("car wren", "gauge pads \"pads\"  reads weight  resolution 1 lb\ncar wren")
        .replace("590 lb", "590 lb  by pads");
    let value = figure(&book, &["wren", "cross-weight"]);
    let u = 0.5 / 3f64.sqrt();
    let cross: f64 = 1160.0 / 2400.0;
    let expected = u / 2400.0 * (2.0 * (1.0 - cross) * (1.0 - cross) + 2.0 * cross * cross).sqrt();
    close(&value, "u_si", expected, 1e-12);
}

/// Statics: the whole car less three pads. Only a total of the same block will do.
#[test]
fn a_fourth_pad_from_the_total() {
    let book = FOUR.replace("RR 590 lb", "RR - lb") + "  left total-weight 2400 lb\n";
    let value = figure(&book, &["wren", "corner-weight", "RR"]);
    close(&value, "value", 590.0, 1e-9);
    assert_eq!(value["status"], "inferred");
    close(&figure(&book, &["wren", "cross-weight"]), "value", 48.333_333_333_333, 1e-9);
    let other = book.replace("  left total", "\n2025-05-04 wren\n  left total");
    assert!(missing(&other, &["wren", "corner-weight", "RR"]).contains("same block"));
    let small = book.replace("2400", "1700");
    assert!(missing(&small, &["wren", "cross-weight"]).contains("above the three pads"));
    assert!(
        missing(&FOUR.replace("RR 590", "RR -").replace("LR 560", "LR -"), &["wren", "cross-weight"])
            .contains("weight LR")
    );
}

/// What moves a share of the weight moves the pads that it is read off; and a spacer leaves what the front axle carries alone.
#[test]
fn what_moves_a_share_moves_the_pads_it_is_read_off() {
    let vocabulary = crate::checks::compile_text("car wren \"Wren\"\n").book.vocabulary;
    let of = |name: &str| vocabulary.get(vocabulary.find(name).unwrap()).disturbed_by.clone();
    let pads = of("weight");
    for share in ["cross-weight", "front-weight", "left-weight", "total-weight"] {
        assert!(of(share).iter().all(|by| pads.contains(by)), "{share}");
    }
    let stale = |line: &str, name: &str| {
        let book = format!("{FOUR}2025-05-04 wren\n  {line}\n");
        !trace(&book, &["wren", name]).0["stale"].is_null()
    };
    for (line, front, left) in [
        ("set wheelbase 2300 mm", true, false),
        ("set track front 1450 mm", false, true),
        ("set spacer LF 5 mm", false, true),
        ("set wheel-offset RF 10 mm", false, true),
    ] {
        assert_eq!((stale(line, "front-weight"), stale(line, "left-weight")), (front, left), "{line}");
        assert!(stale(line, "cross-weight") && !stale(line, "total-weight"), "{line}");
    }
}

/// 10 L of 0.745 kg/L gone: 7.45 kg.
#[test]
fn weight_with_fuel_burned() {
    let book = "car wren \"Wren\"\n\n2025-05-03 wren\n  left weight 200 200 200 200 kg  with fuel 30 L\n  set fuel 20 L\n";
    let value = figure(book, &["wren", "weight-now"]);
    close(&value, "value", 800.0 - 7.45, 1e-9);
    assert!(value.to_string().contains("EN 228"));
    let heavy = book.replace("car wren \"Wren\"\n", "car wren \"Wren\"\n  fuel-density 0.78 kg/L\n");
    close(&changes(&heavy, &["wren", "weight-now"]), "value", 800.0 - 7.8, 1e-9);
    assert!(missing(&book.replace("  with fuel 30 L", ""), &["wren", "weight-now"]).contains("with fuel"));
}

/// The pads of the demo book as its lines give them, day by day.
#[test]
fn demo_shares() {
    let rows = [
        ("2026-04-04", 50.16, 46.73, 49.84),
        // Found after the repair, before the afternoon's work; the block ends with what was left.
        ("2026-08-22", 50.08, 46.81, 49.84),
    ];
    for (date, cross, front, left) in rows {
        close(&demo(&["bittern", "total-weight", date]), "value", 642.0, 1e-9);
        close(&demo(&["bittern", "cross-weight", date]), "value", cross, 0.005_01);
        close(&demo(&["bittern", "front-weight", date]), "value", front, 0.005_01);
        close(&demo(&["bittern", "left-weight", date]), "value", left, 0.005_01);
    }
}

/// As it was found on 22 August: the fold at the moment just after that line.
#[test]
fn demo_shares_as_found() {
    let root = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("ledgers/2026");
    let compiled = stringline::compile(&stringline::source::Disk { root }).unwrap();
    let book = &compiled.book;
    let weight = book.vocabulary.find("weight");
    let day = jiff::civil::date(2026, 8, 22);
    let found = book
        .entries
        .iter()
        .position(|entry| {
            entry.verb == stringline::book::entry::Verb::Found
                && entry.quantity == weight
                && book.head(entry).is_some_and(|head| head.date == day)
        })
        .unwrap();
    let mut moment = stringline::history::moment::end(&compiled.history);
    moment.rank = compiled.history.order.rank[stringline::book::entry::EntryId::from(found)].next();
    let Some(stringline::book::names::Thing::Car(car)) = book.names.find("bittern") else { panic!() };
    let mut calc = stringline::figures::Calc::new(compiled.facts(), car, &moment);
    for (name, share) in [("cross-weight", 48.13), ("front-weight", 46.81), ("left-weight", 49.92)] {
        let got = calc.named(name, stringline::book::place::Place::CAR).unwrap().value * 100.0;
        assert!((got - share).abs() < 0.005_01, "{name} {got}");
    }
}

/// 30 L/h for 20 minutes burn 10 L; 800 kg with 30 L less 10 L of 0.745 kg/L is 792.55 kg. Standard gravity cancels.
#[test]
fn weight_after_a_session() {
    let book = "car wren \"Wren\"\n\n2025-05-03 wren\n  set fuel-rate 30 L/h\n  left weight 200 200 200 200 kg  with fuel 30 L\n  10:00..10:20 run s1\n";
    close(&figure(book, &["wren", "fuel-burnt"]), "value", 10.0, 1e-9);
    close(&figure(book, &["wren", "weight-after-session"]), "value", 792.55, 1e-9);
    // Filled to 25 L before it: 15 L are left.
    let filled = book.replace("  10:00", "  fill fuel 25 L\n  10:00");
    close(&changes(&filled, &["wren", "weight-after-session"]), "value", 800.0 - 15.0 * 0.745, 1e-9);
    // Read in the session, the fuel burnt needs no rate.
    let read =
        book.replace("run s1\n", "run s1\n    read fuel-used 12 L\n").replace("  set fuel-rate 30 L/h\n", "");
    close(&figure(&read, &["wren", "weight-after-session"]), "value", 800.0 - 12.0 * 0.745, 1e-9);
    let dry = book.replace("30 L/h", "300 L/h");
    // More than there is: nobody knows what was left, and the sentence says what would.
    let lacks = missing(&dry, &["wren", "weight-after-session"]);
    assert!(lacks.contains("fuel-rate") && lacks.contains("`fill fuel 30 L`"), "{lacks}");
    let after = book
        .replace("  10:00..10:20 run s1\n", "")
        .replace("  left weight", "  09:00..09:20 run s1\n  left weight")
        .replace("with fuel", "after s1 with fuel");
    close(&figure(&after, &["wren", "weight-after-session"]), "value", 800.0, 1e-9);
    assert!(
        missing(&book.replace("  set fuel-rate 30 L/h\n", ""), &["wren", "weight-after-session"])
            .contains("fuel-rate")
    );
}

/// 160 kW and 800 kg: 200 kW/t. 1 hp is 550 ft.lbf/s (NIST SP 811, B.8), so 200 hp and 2000 lb are 0.1 hp/lb.
#[test]
fn power_to_weight() {
    let book = "car wren \"Wren\"\n\n2025-05-03 wren\n  set peak-power 160 kW\n  left weight 200 200 200 200 kg  with fuel 30 L\n";
    close(&figure(book, &["wren", "power-to-weight"]), "value", 200.0, 1e-9);
    let inches = book
        .replace("\"Wren\"", "\"Wren\"  units imperial")
        .replace("160 kW", "200 hp")
        .replace("200 200 200 200 kg", "500 500 500 500 lb");
    close(&figure(&inches, &["wren", "power-to-weight"]), "value", 0.1, 1e-12);
    assert!(
        missing(&book.replace("  set peak-power 160 kW\n", ""), &["wren", "power-to-weight"])
            .contains("peak-power")
    );
}

/// Pads LF 655 RF 640 LR 560: what three pads give is their axle and their side. With 2400 in all the fourth is 545.
const THREE: &str = "car wren \"Wren\"  units imperial\n  reference driver 172 lb, fuel 20 L\n\n2025-05-03 wren\n  left weight LF 655 RF 640 LR 560 lb\n";

/// Statics, closed form.
#[test]
fn three_pads_and_a_total() {
    close(&figure(THREE, &["wren", "axle-weight", "front"]), "value", 1295.0, 1e-9);
    close(&figure(THREE, &["wren", "left-side-weight"]), "value", 1215.0, 1e-9);
    for (name, place) in [
        ("axle-weight", "rear"),
        ("cross-weight", ""),
        ("total-weight", ""),
        ("right-side-weight", ""),
        ("corner-weight", "RR"),
    ] {
        let words: Vec<&str> = ["wren", name, place].into_iter().filter(|word| !word.is_empty()).collect();
        assert!(missing(THREE, &words).contains("RR"), "{name}");
    }
    let total = format!("{THREE}  left total-weight 2400 lb\n");
    let rear = figure(&total, &["wren", "corner-weight", "RR"]);
    close(&rear, "value", 545.0, 1e-9);
    assert_eq!(rear["status"], "inferred");
    for (name, share) in [("cross-weight", 50.0), ("front-weight", 53.958_333), ("left-weight", 50.625)] {
        close(&figure(&total, &["wren", name]), "value", share, 1e-6);
    }
    // On lines of their own, the total first: the same.
    let lines = "car wren \"Wren\"  units imperial\n  reference driver 172 lb, fuel 20 L\n\n2025-05-03 wren\n  read total-weight 2400 lb\n  left weight LF 655 RF 640 lb\n  left weight LR 560 lb\n";
    close(&figure(lines, &["wren", "cross-weight"]), "value", 50.0, 1e-9);
    // Two of a diagonal and the total give the diagonal's share and no corner's.
    let two = lines.replace("LF 655 RF 640", "RF 640");
    close(&figure(&two, &["wren", "cross-weight"]), "value", 50.0, 1e-9);
    assert!(missing(&two, &["wren", "front-weight"]).contains("weight"));
}

/// A reading of one pad by itself takes no figure away: the older weighing stands, and says of which day it is.
#[test]
fn a_later_pad_takes_nothing_away() {
    let later = format!("{THREE}  left total-weight 2400 lb\n\n2025-05-10 wren\n  read weight RR 545 lb\n");
    let cross = trace(&later, &["wren", "cross-weight"]).0;
    close(&cross, "value", 50.0, 1e-9);
    assert!(cross["caution"].as_str().unwrap().contains("as of 2025-05-03"), "{cross}");
    assert!(cross["stale"].is_null(), "{cross}");
    // It is of one weighing: a pad of the newer is not mixed in.
    let other = later.replace("RR 545", "RR 500");
    close(&trace(&other, &["wren", "cross-weight"]).0, "value", 50.0, 1e-9);
    close(&trace(&other, &["wren", "corner-weight", "RR"]).0, "value", 500.0, 1e-9);
    let raised = later.replace("  read weight RR", "  adjust perch RR +1 turn\n  read weight RR");
    assert!(!trace(&raised, &["wren", "cross-weight"]).0["stale"].is_null());
    // The fourth in the same block, read after a change: of another state.
    let raised = format!("{THREE}  adjust perch RR +1 turn\n  left weight RR 590 lb\n");
    assert!(missing(&raised, &["wren", "cross-weight"]).contains("LF"));
}

/// 48 L aboard at 31 L/h for 40 minutes: 27.33 L are left; 15 L put in at a stop: 42.33 L.
#[test]
fn fuel_left_after_a_session() {
    let book = "circuit pell \"Pell\"\nevent e1 2025-05-03 at pell \"One\"\ncar wren \"Wren\"\n  reference fuel 20 L\n\n2025-05-03 wren at e1\n  set fuel-rate 31 L/h\n  fill fuel 48 L\n  left weight 200.5 200.0 200.0 200.0 kg\n  10:00..10:40 run s1\n";
    close(&changes(book, &["wren", "fuel-left"]), "value", 48.0 - 31.0 * 40.0 / 60.0, 1e-9);
    let stop = format!("{book}    adjust fuel +15 L\n");
    close(&changes(&stop, &["wren", "fuel-left"]), "value", 63.0 - 31.0 * 40.0 / 60.0, 1e-9);
    // What the sheet says is aboard, whatever the pads' line was read with: 28 L more than then, and 20.67 burnt.
    let value = changes(book, &["wren", "weight-after-session"]);
    close(&value, "value", 800.5 + 0.745 * (28.0 - 31.0 * 40.0 / 60.0), 1e-9);
    // Pads read to 0.5 kg: an estimate is in whole kilograms.
    assert_eq!(value["shown"], "806 kg");
    assert_eq!(value["status"], "derived");
    // The minutes of that session, not of the last: the second is longer.
    let two = format!("{book}  12:00..13:20 run s2\n");
    close(
        &trace(&two, &["wren", "weight-after-session", "e1/s1"]).0,
        "value",
        800.5 + 0.745 * (28.0 - 31.0 * 40.0 / 60.0),
        1e-9,
    );
    // The first left 27.33 L, and the second burns 41.33.
    let second = missing(&two, &["wren", "weight-after-session"]);
    assert!(second.contains("fuel-rate") && second.contains("`fill fuel 30 L`"), "{second}");
    // 20 L put in between leave 6 L.
    let between = two.replace("  12:00", "  fill fuel +20 L\n  12:00");
    close(&changes(&between, &["wren", "fuel-left"]), "value", 68.0 - 31.0 * 120.0 / 60.0, 1e-9);
    close(&changes(&between, &["wren", "fuel-aboard"]), "value", 68.0 - 31.0 * 120.0 / 60.0, 1e-9);
    // How much there was at a stop counts from there: 60 L after 30 minutes, and 60 more minutes at 31 L/h.
    let stated = book
        .replace("10:00..10:40 run s1", "10:00..11:35 run s1\n    10:30..10:35 stop\n      fill fuel 60 L");
    close(&changes(&stated, &["wren", "fuel-left"]), "value", 60.0 - 31.0, 1e-9);
    // Weighed after s1: what came in is of s1, and s2 began with other fuel.
    let in_ = two.replace("  12:00", "  read total-weight 790 kg  after s1 with fuel 27 L\n  12:00");
    close(&trace(&in_, &["wren", "weight-after-session", "e1/s1"]).0, "value", 790.0, 1e-9);
    // A second of half an hour leaves 11.83 L of the 27 it was weighed with.
    let shorter = in_.replace("12:00..13:20", "12:00..12:30");
    close(
        &trace(&shorter, &["wren", "weight-after-session"]).0,
        "value",
        790.0 - 0.745 * (27.0 - (48.0 - 31.0 * 70.0 / 60.0)),
        1e-9,
    );
    // A weighing after the last session says nothing of it.
    let later = book.replace("  left weight 200.5 200.0 200.0 200.0 kg\n", "")
        + "\n2025-06-01 wren\n  left weight 200.5 200 200 200 kg\n";
    assert!(missing(&later, &["wren", "weight-after-session"]).contains("before the session"));
}

/// A total read alone later takes nothing from the pads of an older block: 2400 less their three is 590 still.
#[test]
fn a_later_total_leaves_the_fourth_pad() {
    let april = FOUR.replace("RR 590 lb", "RR - lb") + "  left total-weight 2400 lb\n";
    let august = format!("{april}\n2025-08-03 wren\n  read total-weight 2450 lb\n");
    let value = trace(&august, &["wren", "corner-weight", "RR"]).0;
    close(&value, "value", 590.0, 1e-9);
    assert_eq!(value["status"], "inferred");
    // Of two in the block, the newer; a line of it that cannot be read leaves nothing to go by.
    let two = april.replace("  left total", "  found total-weight 2380 lb\n  left total");
    close(&trace(&two, &["wren", "corner-weight", "RR"]).0, "value", 590.0, 1e-9);
    let broken = format!("{april}  read total-weight 2410 bar\n");
    assert!(missing(&broken, &["wren", "corner-weight", "RR"]).contains("same block"));
}

/// A turn of a perch moves load from pad to pad: it makes the cross weight out of date, and leaves the sum and the shares of the axles and the
/// sides alone (statics); ballast makes all of them so, before or after the perch.
#[test]
fn what_moves_load_between_the_pads_leaves_their_sum_alone() {
    let told = |after: &str, figure: &str| {
        let text = format!(
            "car heron \"Heron\"\n2025-05-10 heron\n  read weight 210 205 190 195 kg  with driver 78 kg, fuel 20 L\n2025-05-11 heron\n{after}"
        );
        let (value, err) = super::trace(&text, &["heron", figure]);
        assert!(value["value_si"].is_number(), "{figure}: {err}");
        !value["stale"].is_null()
    };
    let perch = "  adjust perch LR +1 turn\n";
    let ballast = "  set ballast 12 kg\n";
    for figure in ["total-weight", "front-weight", "left-weight"] {
        assert!(!told(perch, figure), "{figure}");
        assert!(told(ballast, figure), "{figure}");
        assert!(told(&format!("{perch}{ballast}"), figure), "{figure}");
        assert!(told(&format!("{ballast}{perch}"), figure), "{figure}");
    }
    assert!(told(perch, "cross-weight"));
}
