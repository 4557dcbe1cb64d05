//! Parts that are away or not the shop's own: what a line with a mistake leaves known, what comes out of something lent, what may be sold.

use stringline::Compiled;
use stringline::book::model::Clock;
use stringline::book::names::Thing;
use stringline::costs::Kind;
use stringline::diagnostics::Severity;
use stringline::history::order::Rank;
use stringline::history::parts::Where;
use stringline::history::usage::of_part;

use crate::checks::compile_text;

const HEAD: &str = "shop \"Hollin Lane\"  currency EUR
client orr \"Orr\"
client imre \"Imre\"
car heron \"Heron\"  client orr
car wren \"Wren\"  client imre
kind coupling \"coupling\"  fits LR RR
kind hub \"hub\"  fits LF
kind bearing \"bearing\"  inside hub
part cp-1 coupling  opening new
part cp-9 coupling
part hub-1 hub  opening new
part hub-2 hub  opening new
part wb-1 bearing  opening new
part own-1 coupling  opening new  client orr
part ob-1 bearing  opening new  client orr
";

fn book(lines: &str) -> Compiled {
    compile_text(&format!("{HEAD}{lines}"))
}

/// The errors, each with the number of the line of the book below its head.
fn errors(compiled: &Compiled) -> Vec<(u32, &'static str)> {
    let errors = compiled.diagnostics.iter().filter(|one| one.severity == Severity::Error);
    let first = HEAD.lines().count() as u32;
    let line = |span| compiled.files.line_column(span).0 - first;
    errors.map(|one| (one.at.as_ref().map_or(0, |mark| line(mark.span)), one.check)).collect()
}

fn part(compiled: &Compiled, name: &str) -> stringline::book::model::PartId {
    let Some(Thing::Part(part)) = compiled.book.names.find(name) else { panic!("{name}") };
    part
}

/// Minutes it ran, and whether that is "at least".
fn minutes(compiled: &Compiled, name: &str) -> (f64, bool) {
    let part = part(compiled, name);
    let (seconds, least) =
        of_part(&compiled.book, &compiled.history, part, Rank::START, Rank::END).on(Clock::Time);
    (seconds / 60.0, least)
}

fn is(one: f64, other: f64) -> bool {
    (one - other).abs() < 1e-6
}

/// One mistake in a line about a loan: the part is where that line and the next ones say, and nothing that follows is another mistake.
#[test]
fn a_slip_in_a_loan_has_one_message() {
    let run = "2025-05-06 heron\n  fit cp-1 LR\n  10:00..11:00 run r1 10 laps\n";
    for (lines, check) in [
        ("2025-05-03\n  lend cp-1 to imre\n2025-05-05\n  return cp-1 ran 95 mni\n", "property-value"),
        ("2025-05-03\n  lend cp-1 to imrw\n2025-05-05\n  return cp-1 ran 95 min\n", "name-unknown"),
        ("2025-05-03\n  lend cp-1 to imre until soon\n2025-05-05\n  return cp-1\n", ""),
        (
            "2025-05-03\n  lend cp-1 to imre until 2025-05-09 until 2025-05-10\n2025-05-05\n  return cp-1\n",
            "clause-twice",
        ),
        ("2025-05-03\n  lend cp-1 to imre to orr\n2025-05-05\n  return cp-1\n", "clause-twice"),
        ("2025-05-03\n  lend cp-1 to imre\n2025-05-05\n  return cp-1 ran 95 min unused\n", ""),
        (
            "2025-05-03\n  lend cp-1 to imre\n2025-05-05\n  return cp-1 ran 95 min ran 10 laps\n",
            "clause-twice",
        ),
        ("2025-05-03\n  lend cp-1 to imre\n2025-05-05\n  return cp-1 ran 95 min, 20 laps, 1 h\n", ""),
    ] {
        let compiled = book(&format!("{lines}{run}"));
        let all = errors(&compiled);
        assert_eq!(all.len(), 1, "{lines}{:?}", compiled.diagnostics);
        assert!(check.is_empty() || all[0].1 == check, "{lines}{all:?}");
        // It ran an hour here; of what it ran away nothing, or not all, is known, but where the line that lends has the slip.
        let (here, least) = minutes(&compiled, "cp-1");
        assert!(least && is(here, 60.0) || is(here, 155.0), "{lines}{here} {least}");
    }
}

/// It came, was on the car for an hour, and went back; what was agreed is not known, and it costs nobody anything.
#[test]
fn a_slip_in_a_line_that_borrows_has_one_message() {
    for borrow in [
        "borrow cp-9 from imrw 45.00 EUR",
        "borrow cp-9 from imre 45.00 EURO",
        "borrow cp-9 from imre from orr 45.00 EUR",
        "borrow cp-9 from imre 45.00 EUR 46.00 EUR",
        "borrow cp-9 from imre 45.00 EUR until 2025-05-10 until 2025-05-11",
    ] {
        let rest = "2025-05-04 heron\n  fit cp-9 LR\n  10:00..11:00 run r1 10 laps\n";
        let back = "  remove cp-9\n2025-05-05\n  return cp-9\n";
        let compiled = book(&format!("2025-05-03\n  {borrow}\n{rest}{back}"));
        assert_eq!(errors(&compiled).len(), 1, "{borrow} {:?}", compiled.diagnostics);
        assert!(compiled.costs.postings.is_empty() && compiled.costs.to_lenders.is_empty(), "{borrow}");
        let broken = book(&format!("2025-05-03\n  {borrow}\n{rest}  failed cp-9 mode split\n{back}"));
        assert_eq!(errors(&broken).len(), 1, "{borrow} {:?}", broken.diagnostics);
        let owed: Vec<_> = broken.costs.to_lenders.iter().map(|one| (one.sum, one.sum_lost)).collect();
        assert_eq!(owed, [(None, true)], "{borrow}");
    }
}

/// The bearing is here from the line on that strips it, and nobody said what it ran away.
#[test]
fn what_is_stripped_out_of_something_lent_is_here_again() {
    let lines = "2025-05-03
  build wb-1 into hub-1
  lend hub-1 to imre
2025-05-05
  strip wb-1 from hub-1
2025-05-06
  return hub-1 unused
2025-05-07 heron
  build wb-1 into hub-2
  fit hub-2 LF
  10:00..11:00 run r1 10 laps
";
    let compiled = book(lines);
    assert_eq!(errors(&compiled), [(5, "part-away")]);
    assert_eq!((minutes(&compiled, "wb-1"), minutes(&compiled, "hub-1")), ((60.0, true), (0.0, false)));
    assert!(
        !compiled.history.parts.get(part(&compiled, "wb-1")).loans.iter().any(|loan| loan.back.is_none())
    );
    // After it came back there is nothing to say.
    let later = lines
        .replace("  strip wb-1 from hub-1\n", "  | nothing\n")
        .replace("  build wb-1 into hub-2", "  strip wb-1 from hub-1\n  build wb-1 into hub-2");
    let later = book(&later);
    assert_eq!((errors(&later), minutes(&later, "wb-1")), (vec![], (60.0, false)));
}

#[test]
fn nothing_is_built_into_what_is_lent() {
    let compiled = book("2025-05-03\n  lend hub-1 to imre\n2025-05-05\n  build wb-1 into hub-1\n");
    assert_eq!(errors(&compiled), [(4, "part-away")]);
}

/// It ran an hour here; that is in the book.
#[test]
fn what_a_part_that_goes_back_ran_is_not_said() {
    for ran in ["ran 95 min", "unused"] {
        for (part, comes) in [("cp-9", "2025-05-03\n  borrow cp-9 from imre\n"), ("own-1", "")] {
            let go = format!("2025-05-04 heron\n  fit {part} LR\n  10:00..11:00 run r1\n  remove {part}\n");
            let compiled = book(&format!("{comes}{go}  return {part} {ran}\n"));
            assert_eq!(errors(&compiled).len(), 1, "{part} {ran} {:?}", compiled.diagnostics);
            assert_eq!(errors(&compiled)[0].1, "not-away", "{part} {ran}");
            assert_eq!(minutes(&compiled, part), (60.0, false), "{part} {ran}");
        }
    }
}

/// Nothing of the sum is booked, to whomever.
#[test]
fn what_is_not_the_shops_is_not_sold_lent_or_moved_for_a_sum() {
    let borrow = "2025-05-03\n  borrow cp-9 from \"the next shop\" 45.00 EUR\n";
    let inside = "2025-05-03\n  build ob-1 into hub-1\n";
    for (before, line) in [
        (borrow, "2025-05-04\n  sell cp-9 50.00 EUR to imre\n"),
        (borrow, "2025-05-04\n  lend cp-9 to imre\n"),
        (borrow, "2025-05-04 heron\n  fit cp-9 LR\n  move cp-9 -> wren LR 20.00 EUR\n"),
        ("", "2025-05-04\n  sell own-1 50.00 EUR to imre\n"),
        ("", "2025-05-04 wren\n  sell own-1 50.00 EUR to imre\n"),
        ("", "2025-05-04\n  lend own-1 to imre\n"),
        ("", "2025-05-04 heron\n  fit own-1 LR\n  move own-1 -> wren LR 20.00 EUR\n"),
        (inside, "2025-05-04\n  sell hub-1 50.00 EUR to imre\n"),
        (inside, "2025-05-04\n  lend hub-1 to imre\n"),
    ] {
        let compiled = book(&format!("{before}{line}"));
        let all: Vec<&str> = errors(&compiled).into_iter().map(|(_, check)| check).collect();
        assert_eq!(all, ["not-ours"], "{before}{line}{:?}", compiled.diagnostics);
        let sums = compiled.costs.postings.iter();
        let sums = sums.filter(|one| matches!(one.kind, Kind::Sold | Kind::Transfer)).count();
        assert_eq!(sums, 0, "{before}{line}");
        for name in ["cp-9", "own-1", "hub-1"] {
            let told = compiled.history.parts.get(part(&compiled, name));
            assert!(!matches!(told.now(), Where::Sold | Where::Lent), "{before}{line} {name}");
        }
    }
    // What is the shop's own may.
    let free = book("2025-05-04\n  sell cp-1 50.00 EUR to imre\n  lend hub-1 to orr\n");
    assert_eq!(errors(&free), []);
    assert_eq!(free.costs.postings.iter().filter(|one| one.kind == Kind::Sold).count(), 1);
}
