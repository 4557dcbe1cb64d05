//! costs: by car, client, event and job, with and without their lines.

use super::{BOOK, holds, holds_in, said};

/// A small book in which everything that has to do with money happens once.
const MONEY: &str = "tests/fixtures/command/money";

#[test]
fn what_things_cost() {
    holds("costs", &["costs", MONEY]);
    holds("costs-lines", &["costs", MONEY, "--car", "heron", "--lines"]);
    holds("costs-clients", &["costs", MONEY, "--by", "client", "--season", "2025"]);
    holds("costs-event", &["costs", MONEY, "--event", "pell-1"]);
    holds("costs-job", &["costs", MONEY, "--job", "j-1", "--lines"]);
    holds_in("costs-narrow", &["costs", MONEY], 60);
}

/// The line below the totals says which way they are bounded.
#[test]
fn what_is_not_known_is_said_on_its_side() {
    let home = tempfile::tempdir().unwrap();
    for (lines, wanted) in [
        ("  cost 5,00 EUR fuel\n", "At least: what 1 line costs is not known;"),
        (
            "  credit 5,00 EUR fuel\n  credit 6,00 EUR fuel\n",
            "At most: what 2 lines bring back is not known;",
        ),
        (
            "  cost 5,00 EUR fuel\n  credit 5,00 EUR fuel\n",
            "Not known: what 2 lines cost or bring back is not known;",
        ),
    ] {
        let text = format!(
            "shop \"S\"  currency EUR\ncar heron \"Heron\"\n2025-05-01 heron\n  cost 100.00 EUR fuel\n{lines}"
        );
        std::fs::write(home.path().join("a.sline"), text).unwrap();
        let said = said(&["costs", home.path().to_str().unwrap()]).out;
        assert!(said.contains(wanted), "{wanted}\n{said}");
    }
}

#[test]
fn costs_of_what_is_not_there() {
    holds("costs-none", &["costs", BOOK]);
    holds("costs-no-job", &["costs", MONEY, "--job", "j-2"]);
    holds("costs-not-a-client", &["costs", MONEY, "--client", "heron"]);
    assert_eq!(said(&["costs", MONEY, "--season", "1999"]).code, "0");
}

#[test]
fn the_demo_season_fits() {
    for words in [vec!["costs", "ledgers/2026"], vec!["costs", "ledgers/2026", "--by", "job", "--lines"]] {
        let said = super::said_in(&words, 100);
        for line in said.out.lines() {
            assert!(line.chars().count() <= 130, "{words:?}: {line}");
            assert_eq!(line, line.trim_end());
        }
    }
}
