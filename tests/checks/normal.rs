//! Two shops unlike most, an oval's and a kart's, typed from the reference (`tests/fixtures/normal`): once a car or its class says what is
//! normal, nothing of it is asked about; before, each is.

use super::{compile_text, expected, found};
use std::path::Path;

fn book(name: &str) -> String {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join(format!("tests/fixtures/normal/{name}.sline"));
    std::fs::read_to_string(path).unwrap()
}

#[test]
fn what_is_declared_normal_is_not_asked_about() {
    for name in ["oval", "kart"] {
        let text = book(name);
        assert_eq!(found(&compile_text(&text)), expected(&text), "{name}");
    }
}

#[test]
fn without_the_declarations_each_is_asked_about() {
    let wanted =
        [("oval", &["left camber", "set tyre-cold"][..]), ("kart", &["set tyre-cold", "left weight"][..])];
    for (name, lines) in wanted {
        // In place of each range a comment, so that lines keep their numbers.
        let range = |line: &str| line.trim_start().starts_with("usual ");
        let text: Vec<String> = book(name)
            .lines()
            .map(|line| if range(line) { "# ".to_owned() } else { line.to_owned() })
            .collect();
        let compiled = compile_text(&text.join("\n"));
        let asked: Vec<u32> = found(&compiled)
            .into_iter()
            .filter(|(_, check)| check == "value-implausible" || check == "value-impossible")
            .map(|(line, _)| line)
            .collect();
        for words in lines {
            let at = text.iter().position(|line| line.trim_start().starts_with(words)).unwrap() as u32 + 1;
            assert!(asked.contains(&at), "{name}: `{words}` of line {at} is not asked about, {asked:?}");
        }
    }
}

#[test]
fn a_quantity_declared_again_for_its_range_is_told_what_to_type() {
    let compiled = compile_text(
        "quantity tyre-cold pressure corner  usual 0.5..1 bar  possible 0.3..2 bar\ncar lark \"Lark\"\n\n\
         2026-05-01 lark\n  read tyre-cold 1.2 1.2 1.2 1.2 bar\n",
    );
    let cures: Vec<&str> = compiled.diagnostics.iter().filter_map(|one| one.cure.as_deref()).collect();
    let [cure] = cures[..] else { panic!("{cures:?}") };
    for line in ["usual tyre-cold 0.5..1 bar", "possible tyre-cold 0.3..2 bar"] {
        assert!(cure.contains(&format!("`{line}`")), "{cure}");
        let pasted =
            format!("car lark \"Lark\"\n  {line}\n\n2026-05-01 lark\n  read tyre-cold 0.7 0.7 0.7 0.7 bar\n");
        let asked = found(&compile_text(&pasted));
        assert_eq!(asked.is_empty(), line.starts_with("usual"), "{asked:?}");
    }
}

#[test]
fn a_unit_that_belongs_to_a_namesake_names_it() {
    let compiled = compile_text(&book("oval"));
    let cures: Vec<&str> = compiled
        .diagnostics
        .iter()
        .filter(|one| one.check == "unit-wrong-kind")
        .filter_map(|one| one.cure.as_deref())
        .collect();
    assert!(cures.iter().any(|cure| cure.ends_with("for lb there is `wedge-load`")), "{cures:?}");
    assert!(cures.iter().any(|cure| cure.ends_with("for thou/in there is `bump-steer`")), "{cures:?}");
}

/// The line to paste is offered where the habit begins, whatever stood before it: a lone slip, the other sign on a car that was turned round,
/// a value that was answered; and it holds what it is offered for.
#[test]
fn an_offer_stands_at_the_first_of_its_habit() {
    let day = |n: u32, value: &str, more: &str| {
        format!("\n2026-05-{n:02} lark at meet-{n}\n  read camber LF {value} deg\n{more}")
    };
    let events =
        (1..=6).map(|n| format!("event meet-{n} 2026-05-{n:02} at ring\n")).collect::<Vec<_>>().concat();
    let head = format!("circuit ring \"Ring\"  length 2 km\n{events}car lark \"Lark\"\n");
    let cases: [(&str, String, &str, &str); 3] = [
        ("a slip first", [day(1, "1.2", ""), day(2, "-2.0", "")].concat(), "0.8", "0.8..1 deg"),
        ("the other sign first", [day(1, "-2.0", ""), day(2, "-2.5", "")].concat(), "0.8", "0.8..1 deg"),
        (
            "an answered one first",
            day(1, "1.2", "    waive value-implausible because so it was\n"),
            "0.8",
            "0.8..1.2 deg",
        ),
    ];
    for (what, before, low, range) in cases {
        let habit = [day(3, low, ""), day(4, "0.9", ""), day(5, "1.0", "")].concat();
        let book = format!("{head}{before}{habit}");
        let compiled = compile_text(&book);
        let offers: Vec<(u32, &str)> = compiled
            .diagnostics
            .iter()
            .filter(|one| one.check == "value-implausible")
            .filter_map(|one| {
                let line = one.cure.as_deref()?.split_once("`usual camber LF ")?.1.trim_end_matches('`');
                Some((compiled.files.line(one.at.as_ref()?.span), line))
            })
            .collect();
        let at = book.lines().position(|line| line.contains(&format!("LF {low} deg"))).unwrap() as u32 + 1;
        assert_eq!(offers, [(at, range)], "{what}");
    }
}

/// Where the car says what is possible itself, that line is to be widened: a second one would be a mistake.
#[test]
fn what_is_impossible_by_the_cars_own_line_is_put_right_there() {
    let compiled = compile_text(
        "car lark \"Lark\"\n  possible camber LF -4..3 deg\n\n2026-05-01 lark\n  read camber LF 5 RF 5 deg\n",
    );
    let cures: Vec<&str> = compiled
        .diagnostics
        .iter()
        .filter(|one| one.check == "value-impossible")
        .filter_map(|one| one.cure.as_deref())
        .collect();
    assert!(cures.iter().any(|cure| cure.ends_with("widen the range at book.sline:2")), "{cures:?}");
}

/// What a car is declared with is refused as a line would be, by its own ranges wherever they stand.
#[test]
fn a_declared_value_that_cannot_be_is_refused() {
    let of = |lines: &str| {
        let compiled = compile_text(&format!("car lark \"Lark\"\n{lines}\n2026-05-01 lark\n  | quiet\n"));
        found(&compiled).into_iter().map(|(line, check)| format!("{line} {check}")).collect::<Vec<_>>()
    };
    assert_eq!(of("  tyre-diameter all 6000 mm\n  wheelbase 2350 mm\n"), ["2 value-impossible"]);
    assert_eq!(of("  camber LF 4.5 RF -3 LR 0 RR 0 deg\n"), ["2 value-impossible"]);
    assert!(of("  camber LF 4.5 RF -3 LR 0 RR 0 deg\n  usual camber LF 2..7 deg\n").is_empty());
}
