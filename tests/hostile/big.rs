//! Too much of something: one line of 100 MB, a hundred thousand quotes, assemblies ten thousand deep, nothing but errors.

use super::{book, errors, render};
use stringline::book::What;
use stringline::diagnostics::short;
use stringline::history::order::Rank;
use stringline::syntax::Mistake;

fn has(compiled: &stringline::Compiled, mistake: Mistake) -> usize {
    compiled
        .book
        .troubles
        .iter()
        .filter(|trouble| matches!(&trouble.what, What::Syntax(said) if *said == mistake))
        .count()
}

#[test]
fn a_line_of_a_hundred_megabytes() {
    for (filling, bytes) in [("x", 100_000_000), (" 5", 5_000_000), ("\"", 5_000_000), ("\u{A0}", 5_000_000)]
    {
        let mut text = String::from("2026-01-01\n  set ");
        text.push_str(&filling.repeat(bytes / filling.len()));
        text.push_str("\n  | and a note\n");
        let compiled = book(&[("a.sline", &text)]);
        assert_eq!(has(&compiled, Mistake::LineTooLong), 1, "{filling:?}");
        // The line after it is read.
        assert_eq!(compiled.book.entries.len(), 2);
        let said = render(&compiled);
        assert!(said.len() < 10_000, "{}", said.len());
    }
}

#[test]
fn a_hundred_thousand_quotes_on_one_line() {
    for quote in ["\"", "\u{201C}", "\" ", "\"\" ", "\"a\" ", "|\""] {
        for indent in ["", "  "] {
            let text = format!("2026-01-01\n{indent}{}\n", quote.repeat(100_000));
            let compiled = book(&[("a.sline", &text)]);
            assert_eq!(has(&compiled, Mistake::LineTooLong), 1, "{quote:?}");
            render(&compiled);
            // As many as a line may hold.
            let text = format!("2026-01-01\n{indent}say {}\n", quote.repeat(65_000 / quote.len()));
            render(&book(&[("a.sline", &text)]));
        }
    }
}

#[test]
fn a_line_of_thousands_of_each_thing() {
    let shop = "shop \"A\"  currency EUR  zone Europe/Dublin\ncar a \"A\"\n  cylinders 4\n\n2026-01-01 a\n";
    for piece in [
        "5 ",
        "-, ",
        "LF 5 ",
        "-> ",
        "? ",
        "1/2 ",
        "1/2/3 ",
        "x ",
        "26psi ",
        "# ",
        ", ",
        "( ",
        "\u{B1}5 ",
        "\u{1F3C1} ",
    ] {
        let many = piece.repeat(30_000 / piece.len());
        for verb in [
            "set camber ",
            "read leakdown ",
            "fit ",
            "run ",
            "say ",
            "laps ",
            "bench ",
            "waive ",
            "09:35 ",
            "with ",
        ] {
            let compiled = book(&[("a.sline", &format!("{shop}  {verb}{many}\n"))]);
            let _ = short::render(&compiled.diagnostics, &compiled.files);
        }
        for column_zero in ["part ", "car ", "kind ", "quantity ", "event ", "2026-01-02 ", ""] {
            render(&book(&[("a.sline", &format!("{column_zero}{many}\n"))]));
        }
    }
}

#[test]
fn assemblies_ten_thousand_deep() {
    let deep = 10_000;
    let mut text = String::from(
        "shop \"A\"  currency EUR  zone Europe/Dublin\ncar a \"A\"\nkind box \"box\"  inside box  fits LF\n",
    );
    for n in 0..=deep {
        text.push_str(&format!("part b-{n} box  opening new\n"));
    }
    text.push_str("\n2026-01-01 a\n");
    for n in 0..deep {
        text.push_str(&format!("  build b-{} into b-{n}\n", n + 1));
    }
    text.push_str("  fit b-0 LF\n  09:00..09:20 run s1  5 laps\n  remove b-0\n  rebuild b-0 with all\n");
    let compiled = book(&[("a.sline", &text)]);
    // Every part ran with the car, however deep it sits.
    let last = stringline::book::model::PartId::from(deep);
    let used =
        stringline::history::usage::of_part(&compiled.book, &compiled.history, last, Rank::START, Rank::END);
    assert_eq!(used.laps, 5, "{:?}", compiled.history.problems.first());
    render(&compiled);
}

#[test]
fn assemblies_in_a_circle() {
    let many = 2_000;
    let mut text = String::from(
        "shop \"A\"  currency EUR  zone Europe/Dublin\ncar a \"A\"\nkind box \"box\"  inside box  fits LF\n",
    );
    for n in 0..many {
        text.push_str(&format!("part b-{n} box  opening new\n"));
    }
    text.push_str("\n2026-01-01 a\n");
    for n in 0..many {
        text.push_str(&format!("  build b-{} into b-{n}\n", (n + 1) % many));
    }
    text.push_str("  fit b-0 LF\n  rebuild b-7 with all\n");
    let compiled = book(&[("a.sline", &text)]);
    let problems = format!("{:?}", compiled.history.problems);
    assert!(problems.contains("InsideCircle"), "{}", &problems[..problems.len().min(400)]);
    render(&compiled);
}

#[test]
fn a_part_that_names_itself_as_its_assembly() {
    let text = "shop \"A\"  currency EUR  zone Europe/Dublin\ncar a \"A\"\nkind hub \"hub\"  inside hub  fits LF\n\
                part h-1 hub  opening new\n\n2026-01-01 a\n  build h-1 into h-1\n  strip h-1 from h-1\n  swap hub LF h-1 -> h-1\n";
    let compiled = book(&[("a.sline", text)]);
    let said = |check: &str| compiled.diagnostics.iter().filter(|one| one.check == check).count();
    assert_eq!(said("inside-circle"), 1, "{:?}", compiled.diagnostics);
    // It was never inside itself, so it cannot be stripped from itself; after that its place is in doubt and it is let be.
    assert_eq!(said("pull-not-there"), 1, "{:?}", compiled.diagnostics);
    render(&compiled);
}

#[test]
fn a_file_that_is_nothing_but_errors_is_capped_with_a_count() {
    let lines = 20_000;
    let shop = "shop \"A\"  currency EUR  zone Europe/Dublin\ncar a \"A\"\n  cylinders 4\n\n2026-01-01 a\n";
    let text = format!("{shop}{}", "  set tyre-cold LF 1.5\n".repeat(lines));
    let compiled = book(&[("a.sline", &text)]);
    assert_eq!(errors(&compiled), stringline::check::run::MOST_PER_FILE);
    let said = render(&compiled);
    let more =
        format!("{} more errors in this file are not shown", lines - stringline::check::run::MOST_PER_FILE);
    assert!(said.contains(&more), "{}", said.lines().last().unwrap_or_default());
}

#[test]
fn twenty_thousand_unknown_names_and_words() {
    let shop = "shop \"A\"  currency EUR  zone Europe/Dublin\ncar a \"A\"\nkind hub \"hub\"  fits LF\n";
    let mut text = String::from(shop);
    for n in 0..2_000 {
        text.push_str(&format!("part h-{n} hub\n"));
    }
    text.push_str("\n2026-01-01 a\n");
    for n in 0..4_000 {
        text.push_str(&format!(
            "  fit q-{n} LF\n  sett camber-{n} 5 deg\n  set cambre-{n} 5 deg\n  set camber LF 5 dge{n}\n"
        ));
    }
    let compiled = book(&[("a.sline", &text)]);
    assert!(compiled.book.troubles.len() >= 16_000);
    render(&compiled);
}
