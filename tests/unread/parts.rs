//! The same of parts: what a line with a mistake may have put on a car, taken off, or cost; and of heads, of which what stands beside the
//! mistake counts.

use super::errors;
use crate::checks::compile_text;
use stringline::Compiled;
use stringline::book::model::{Clock, PartId};
use stringline::history::order::Rank;
use stringline::lives::lives;
use stringline::money::Total;

/// 30.00 for k-1 on 1 March, an hour's run; another hour on 20 March behind whatever stands there.
fn book(line: &str) -> Compiled {
    compile_text(&format!(
        "shop \"S\"  currency EUR\ncar wren \"Wren\"\ncar tern \"Tern\"\nkind clutch \"clutch\"  fits bell\nkind rod \"rod\"  fits LF RF\n\
         part k-1 clutch  opening new  price 30.00 EUR\npart k-2 clutch  opening new  price 30.00 EUR\n\
         part k-3 clutch  opening new  price 30.00 EUR\npart rd-1 rod  opening new  price 5.00 EUR\nclient orr \"Orr\"\n\
         2026-03-01 wren\n  fit k-1 bell\n  10:00..11:00 run s1\n2026-03-20 wren\n{line}  10:00..11:00 run s1\n"
    ))
}

/// Of each part the minutes that it ran, and whether that is the least.
fn ran(book: &Compiled) -> Vec<(f64, bool)> {
    let all = lives(&book.book, &book.history, Rank::END);
    let lived = |part: PartId| all.now(part).unwrap().on(&book.book, Clock::Time);
    book.book.parts.keys().map(|part| (lived(part).value / 60.0, lived(part).at_least)).collect()
}

/// What it cost in all, and whether that is the least.
fn cost(book: &Compiled) -> (String, bool) {
    let mut total = Total::default();
    book.costs.postings.iter().for_each(|one| one.add_to(&mut total));
    (total.sums().first().map(|sum| sum.value.to_string()).unwrap_or_default(), total.at_least)
}

#[test]
fn what_a_line_with_a_mistake_may_have_fitted_ran_and_cost_nobody_knows() {
    const SURE: (f64, bool) = (0.0, false);
    const LEAST: (f64, bool) = (0.0, true);
    for (line, k1, k2, k3, rod, least) in [
        // In order: what the lines say.
        ("", (120.0, false), SURE, SURE, SURE, false),
        // Of a part that is named, that one; of several near names, any of them; and what was in the place may be off it.
        ("  fit k-2 bell nowhere\n", (60.0, true), LEAST, SURE, SURE, true),
        ("  swap cluch bell k-1 -> k-2\n", (60.0, true), LEAST, SURE, SURE, true),
        ("  fit k-22 bell\n", (60.0, true), LEAST, SURE, SURE, true),
        ("  fit k-9 bell\n", (60.0, true), LEAST, LEAST, SURE, true),
        // Of a name that is near none whatever lies about and goes there.
        ("  fit zz-44 bell\n", (60.0, true), LEAST, LEAST, SURE, true),
        ("  fit zz-44\n", (60.0, true), LEAST, LEAST, LEAST, true),
        // What only takes off costs nothing.
        ("  remove k-1 good nowhere\n", (60.0, true), SURE, SURE, SURE, false),
        // Which of the two is there is asked: what either ran is not known, and each was fitted.
        ("  fit k-2 bell\n", (60.0, true), LEAST, SURE, SURE, false),
    ] {
        let book = book(line);
        assert_eq!(ran(&book), [k1, k2, k3, rod], "{line}");
        let sum = if line == "  fit k-2 bell\n" { "60.00" } else { "30.00" };
        assert_eq!(cost(&book), (sum.to_owned(), least), "{line}");
        assert_eq!(errors(&book).len(), usize::from(!line.is_empty()), "{line}: {:?}", errors(&book));
    }
}

/// A part that is placed again is where that line says, whatever was in doubt before.
#[test]
fn the_next_line_that_places_a_part_settles_where_it_is() {
    let made = compile_text(
        "car wren \"W\"\nkind clutch \"c\"  fits bell\npart k-1 clutch  opening new\npart k-2 clutch  opening new\n\
         2026-03-01 wren\n  fit zz-44 bell\n  10:00..11:00 run s1\n  fit k-2 bell\n  12:00..13:00 run s2\n",
    );
    // An hour for sure, and the one before it perhaps.
    assert_eq!(ran(&made), [(0.0, true), (60.0, true)]);
}

#[test]
fn a_part_whose_kind_nobody_can_read_is_on_no_shelf() {
    for (from, to) in [("kind clutch", "knd clutch"), ("part k-1 clutch", "part k-1 cluch")] {
        let text = "shop \"S\"  currency EUR\ncar wren \"W\"\nkind clutch \"c\"  fits bell\npart k-1 clutch  opening new  price 30.00 EUR\n\
                    2026-03-01 wren\n  fit k-1 bell\n  10:00..11:00 run s1\n";
        let made = compile_text(&text.replace(from, to));
        assert_eq!((ran(&made), cost(&made).1), (vec![(0.0, true)], true), "{from}");
        assert_eq!(errors(&made).len(), 1, "{:?}", errors(&made));
    }
}

/// An event that nobody can read may be one more; two cars on a head are either of them; what stands beside the mistake counts.
#[test]
fn of_a_head_with_a_mistake_what_can_be_read_counts() {
    const EVENTS: &str = "car wren \"W\"\ncar tern \"T\"\nkind clutch \"c\"  fits bell\npart k-1 clutch  opening new\nperson ned \"Ned\"\n\
                          event e1 2026-03-01 \"One\"\nevent e2 2026-03-20 \"Two\"\n2026-03-01 wren at e1\n  fit k-1 bell\n  10:00..11:00 run s1\n";
    for (head, events, minutes) in [
        ("2026-03-20 wren at e2 by ned", (2.0, false), (120.0, false)),
        ("2026-03-20 wren at e3 by ned", (1.0, true), (120.0, false)),
        ("2026-03-20 wren ta e2", (1.0, true), (120.0, false)),
        ("2026-03-20 wren e2", (1.0, true), (120.0, false)),
        ("2026-03-20 wren at e2 at e1", (1.0, true), (120.0, false)),
        // A mistake in another clause leaves the event, whichever stands first.
        ("2026-03-20 wren by nde at e2", (2.0, false), (120.0, false)),
        ("2026-03-20 wren quickly at e2", (2.0, false), (120.0, false)),
        ("2026-03-20 wren tern at e2", (1.0, true), (60.0, true)),
        ("2026-03-20 wren wren at e2", (2.0, false), (120.0, false)),
        ("2026-03-20 wrn at e2", (1.0, true), (60.0, true)),
    ] {
        let made = compile_text(&format!("{EVENTS}{head}\n  10:00..11:00 run s1\n"));
        let all = lives(&made.book, &made.history, Rank::END);
        let on = |clock| all.now(PartId::new(0)).unwrap().on(&made.book, clock);
        let (of_events, of_time) = (on(Clock::Events), on(Clock::Time));
        assert_eq!((of_events.value, of_events.at_least), events, "{head}");
        assert_eq!((of_time.value / 60.0, of_time.at_least), minutes, "{head}");
        assert!(errors(&made).len() <= 1, "{head}: {:?}", errors(&made));
    }
}

/// What no other line names is missed by none: a rate, a rule.
#[test]
fn a_declaring_word_with_a_slip_declares_what_is_not_known() {
    let text = "shop \"S\"  currency EUR\nexchange GBP 1.20 EUR from 2026-01-01 \"bank\"\nexchange GBP 1.10 EUR from 2026-03-10 \"bank\"\n\
                2026-03-01\n  cost 10.00 GBP other\n2026-03-20\n  cost 10.00 GBP other\n";
    let sums = |text: &str| -> Vec<Option<String>> {
        let made = compile_text(text);
        made.costs
            .postings
            .iter()
            .map(|one| one.amount.map(|sum| format!("{} {}", sum.value, sum.currency.code())))
            .collect()
    };
    assert_eq!(sums(text), [Some("12.00 EUR".to_owned()), Some("11.00 EUR".to_owned())]);
    let slip = text.replacen("exchange GBP 1.10", "exchnge GBP 1.10", 1);
    assert_eq!(sums(&slip), [Some("12.00 EUR".to_owned()), Some("10.00 GBP".to_owned())]);
    let rules = compile_text(
        "class x \"X\"\ncar wren \"W\"  class x\nrul x-w class x  weight min 600 kg\nrule x-t class x  track front min 1400 mm\n",
    );
    assert_eq!(errors(&rules).len(), 1);
    let unread = rules.book.rules.iter().filter(|rule| rule.broken).map(|rule| rule.named.typed.to_string());
    assert_eq!(unread.collect::<Vec<_>>(), ["x-w"]);
}
