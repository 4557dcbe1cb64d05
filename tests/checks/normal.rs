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
    let wanted = [
        ("oval", &["left camber", "set tyre-cold"][..]),
        ("kart", &["set tyre-cold", "left weight", "set sprocket-rear", "read tyre-diameter"][..]),
    ];
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
