//! Lines with a mistake under a reader's own car: what the shop does not know of it he does not know either, and no more; and a car that was
//! sold is told as it was sold, by whichever command.

use crate::checks::compile_text;
use stringline::Compiled;
use stringline::answer::{rules, state};
use stringline::audience::{Reader, cut};
use stringline::book::model::{CarId, ClientId};
use stringline::history::moment;
use stringline::history::order::Rank;
use stringline::lives::End;

const SHOP: &str = "shop \"S\"
client orr \"Orr\"
client fen \"Fen\"
car heron \"Heron\"  client orr
kind seat \"seat\"  fits cockpit  must  valid 5 years from made
part st-1 seat  made 2024-01  opening new
part st-2 seat  made 2025-01  opening new
2025-03-01 heron
  fit st-1 cockpit
  read camber LF -3.0 RF -3.1 LR -2.0 RR -2.1 deg
  run s1  60 min
";

fn of(book: &Compiled, client: u32) -> Compiled {
    cut(book, &Reader::Client(ClientId::new(client)))
}

fn at_end(book: &Compiled) -> state::State {
    let moment = moment::end(&book.history);
    state::build(book, CarId::new(0), &moment, None)
}

/// The places of camber that a book does not know.
fn unknown(book: &Compiled) -> Vec<String> {
    let slots =
        at_end(book).slots.into_iter().filter(|slot| slot.quantity == "camber" && slot.value().is_none());
    slots.filter_map(|slot| slot.place).collect()
}

#[test]
fn a_broken_line_of_his_takes_the_places_that_it_names() {
    for (line, lost) in [
        ("set camber LF -3,2 deg", &["LF"][..]),
        ("set camber LF -3,2 RR -2,0 deg", &["LF", "RR"]),
        // A word that may be a place typed wrong: it may be any of them.
        ("set camber FX -3.2 deg", &["LF", "RF", "LR", "RR"]),
        // One that is the shop's is no word of his, and nor is its place.
        ("set camber LF -3,2 deg  for shop", &["LF", "RF", "LR", "RR"]),
        ("set camber LF -3.2 deg  fro shop", &["LF", "RF", "LR", "RR"]),
    ] {
        let book = compile_text(&format!("{SHOP}2025-03-02 heron\n  {line}\n"));
        assert_eq!(unknown(&of(&book, 0)), lost, "{line}");
    }
    // What else stands on the line reaches nobody, and its number no page.
    let book = compile_text(&format!("{SHOP}2025-03-02 heron\n  set camber LF -3,2 deg  by nobody-known\n"));
    let own = of(&book, 0);
    assert!(
        own.files
            .iter()
            .all(|(_, file)| { !file.text.contains("-3,2") && !file.text.contains("nobody-known") })
    );
}

#[test]
fn a_part_that_a_broken_line_may_have_taken_off_is_doubtful_to_its_owner_too() {
    let sale = "2025-04-01 heron\n  sell heron to fen with st-2\n";
    let book =
        compile_text(&format!("{SHOP}{sale}2025-05-01 heron for fen\n  swap seat cockpit st-1 -> st-9\n"));
    for book in [&book, &of(&book, 1)] {
        let parts = at_end(book).parts;
        assert_eq!(
            parts.iter().map(|part| (part.part.as_deref(), part.doubtful)).collect::<Vec<_>>(),
            [(Some("st-1"), true)]
        );
        let moment = moment::end(&book.history);
        let card = rules::build(book, CarId::new(0), &moment, None, None);
        assert_eq!(
            card.dated.iter().map(|one| (one.part.as_str(), one.doubtful)).collect::<Vec<_>>(),
            [("st-1", true)]
        );
    }
}

#[test]
fn a_car_that_is_gone_is_told_as_it_was_sold() {
    let book = compile_text(&format!("{SHOP}2025-04-01 heron\n  sell heron to fen with st-2\n"));
    for book in [&book, &of(&book, 0)] {
        let told = at_end(book);
        assert_eq!(told.at.words, "as it was sold on 2025-04-01");
        assert_eq!(told.parts.iter().map(|part| part.part.as_deref()).collect::<Vec<_>>(), [Some("st-1")]);
        let moment = moment::end(&book.history);
        let card = rules::build(book, CarId::new(0), &moment, None, None);
        assert_eq!(card.dated.iter().map(|one| one.part.as_str()).collect::<Vec<_>>(), ["st-1"]);
    }
}

#[test]
fn a_line_about_a_job_that_cannot_be_read_leaves_the_job_as_unknown_to_him() {
    for (line, told) in [
        ("done j-1 \"lip worn\" of it", &[("j-1", "unknown"), ("j-2", "open")][..]),
        ("defer j-1 to whn", &[("j-1", "unknown"), ("j-2", "open")]),
        ("job j-3 \"secret words\" palnned", &[("j-1", "open"), ("j-2", "open"), ("j-3", "unknown")]),
        // What is the shop's alone, or may be, is none to him.
        ("job j-3 \"secret words\" palnned  for shop", &[("j-1", "open"), ("j-2", "open")]),
        ("job j-3 \"secret words\" palnned  fro shop", &[("j-1", "open"), ("j-2", "open")]),
    ] {
        let text = format!("{SHOP}  job j-1 \"seal\"\n  job j-2 \"lip\"\n2025-03-02 heron\n  {line}\n");
        let own = of(&compile_text(&text), 0);
        let jobs: Vec<(String, String)> = at_end(&own)
            .jobs
            .iter()
            .map(|job| {
                (job.name.clone(), serde_json::to_value(job.status).unwrap().as_str().unwrap().to_owned())
            })
            .collect();
        let jobs: Vec<_> = jobs.iter().map(|(name, status)| (name.as_str(), status.as_str())).collect();
        assert_eq!(jobs, told, "{line}");
        assert!(own.files.iter().all(|(_, file)| !file.text.contains("secret")), "{line}");
    }
}

#[test]
fn a_failure_and_an_impact_on_a_line_with_a_mistake_are_his_to_know() {
    let fails = |book: &Compiled| {
        let all = stringline::lives::lives(&book.book, &book.history, Rank::END);
        all.all.iter().map(|life| matches!(life.end, End::Failed(_))).collect::<Vec<_>>()
    };
    for line in ["failed st-1 durng s1", "failed st-1 during s1 lap", "failed st-1 during \"secret words\""] {
        let book = compile_text(&format!("{SHOP}2025-03-02 heron\n  {line}\n"));
        let own = of(&book, 0);
        assert_eq!((fails(&book), fails(&own)), (vec![true, false], vec![true, false]), "{line}");
        assert!(own.files.iter().all(|(_, file)| !file.text.contains("secret")), "{line}");
    }
    let hit = compile_text(&format!("{SHOP}2025-03-02 heron\n  hit RF \"wall\" durng s1\n"));
    for book in [&hit, &of(&hit, 0)] {
        let card = rules::build(book, CarId::new(0), &moment::end(&book.history), None, None);
        assert!(card.dated.iter().all(|one| one.impact.is_some()), "{:?}", card.dated);
    }
}
