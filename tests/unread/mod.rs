//! A property of a declaration that cannot be read, or that is told twice with two values, is not known: it is neither left out nor what would
//! hold if it were. One mistake, one message.

mod lines;
mod parts;

use crate::checks::compile_text;
use stringline::Compiled;
use stringline::answer::lives::CountedFailures;
use stringline::answer::{due, rules};
use stringline::book::model::{CarId, PartId};
use stringline::book::names::Thing;
use stringline::diagnostics::Severity;
use stringline::due::Ask;
use stringline::history::moment;
use stringline::history::slots::{Owner, Register};
use stringline::money::Total;
use stringline::report::{Options, render};

fn errors(made: &Compiled) -> Vec<String> {
    let all = made.diagnostics.iter().filter(|one| one.severity == Severity::Error);
    all.map(|one| format!("{}: {}", one.check, one.message)).collect()
}

/// The declaration, its line with a hole, the property and what cannot be read of it.
const BROKEN: [(&str, &str, &[&str]); 16] = [
    ("shop", "rate", &["rate sixty EUR", "rate 6O EUR", "rat 60.00 EUR", "rate"]),
    ("cee", "rate", &["rate sixty EUR", "rate 60.00 EU", "unbilled x rate 60.00 EUR"]),
    ("cee", "unbilled", &["unbiled", "rate 6O EUR unbilled"]),
    ("aa", "class", &["class", "clas K-1", "cylinders four class K-1"]),
    ("aa", "toe-over", &["toe-over 4OO mm", "toe-over 400 kg", "toe-ovr 400 mm"]),
    ("aa", "every", &["every 2O h torque wheel-torque", "evry 20 h torque wheel-torque"]),
    ("aa", "gears", &["gears fiv", "gear 5"]),
    ("aa", "cylinders", &["cylinders 4O", "cylinders four"]),
    ("belt", "keep", &["keep 1O", "keep l0"]),
    ("ven", "length", &["length 2.O km", "lenght 2 km", "length 2 kg"]),
    ("e-1", "at", &["at vem"]),
    ("belt", "life", &["life 1O h", "lief 10 h"]),
    ("belt", "valid", &["valid 5 yeers from made"]),
    ("b-1", "opening", &["opening nwe", "opening 2O h"]),
    ("b-1", "price", &["price 4O EUR"]),
    ("r-1", "max", &["max 4O mm"]),
];

fn book(of: &str, text: &str) -> String {
    let hole = |name: &str| if name == of { format!("  {text}") } else { String::new() };
    format!(
        "shop \"S\"  currency EUR{}\nclient cee \"Cee\"{}\ncircuit ven \"Ven\"{}\nevent e-1 2026-05-02 \"One\"{}\ncar aa \"A\"  client cee{}\n\
         kind belt  fits cockpit{}\npart b-1 belt{}\nrule r-1 class K-1  ride-height min 40 mm{}\n",
        hole("shop"),
        hole("cee"),
        hole("ven"),
        hole("e-1"),
        hole("aa"),
        hole("belt"),
        hole("b-1"),
        hole("r-1")
    )
}

#[test]
fn what_cannot_be_read_is_noted_and_said_once() {
    for (of, property, texts) in BROKEN {
        for text in texts {
            let made = compile_text(&book(of, text));
            assert_eq!(errors(&made).len(), 1, "{of} {text}: {:?}", errors(&made));
            let thing = made.book.names.find(of);
            assert!(made.book.unread.has(thing, property), "{of} {text}");
        }
        // What is left out is not.
        let made = compile_text(&book("", ""));
        assert!(!made.book.unread.has(made.book.names.find(of), property));
    }
}

/// A name that there is not takes nothing with it that stands behind it on its line.
#[test]
fn what_stands_behind_an_unknown_name_is_read() {
    let made = compile_text(
        "client cee \"Cee\"\ncar aa \"A\"  client cex  class K-1  cylinders 4\nkind belt  fits LF\nspec s-1 of belt\npart b-1 belt  spec s-9  opening new  price 4.00 EUR\n",
    );
    assert_eq!(errors(&made).len(), 2, "{:?}", errors(&made));
    let car = &made.book.cars[CarId::new(0)];
    assert_eq!((car.class.as_str(), car.cylinders, car.client), ("K-1", Some(4), None));
    let part = &made.book.parts[PartId::new(0)];
    assert!(part.opening_new && part.price.is_some() && part.spec.is_none());
    let unread = |property: &str| made.book.unread.has(made.book.names.find("aa"), property);
    assert!(unread("client") && !unread("class"));
}

/// A number with a letter for a nought behind it is no number.
#[test]
fn a_number_ends_with_its_last_digit() {
    let made = compile_text(&book("belt", "keep 1O"));
    assert!(made.book.kinds.iter().all(|kind| kind.keep.is_none()));
    let made = compile_text(&book("aa", "cylinders 4O"));
    assert!(made.book.cars.iter().all(|car| car.cylinders.is_none()));
    let made = compile_text(&book("aa", "cylinders 4"));
    assert!(made.book.cars.iter().all(|car| car.cylinders == Some(4)));
}

/// Of a property told twice with two values neither stands; alike, it does.
#[test]
fn what_is_told_twice_is_not_known() {
    for (of, property, [first, second]) in [
        ("shop", "rate", ["rate 50.00 EUR", "rate 60.00 EUR"]),
        ("cee", "rate", ["rate 50.00 EUR", "rate 60.00 EUR"]),
        ("ven", "length", ["length 2 km", "length 3 km"]),
        ("aa", "class", ["class K-1", "class K-2"]),
        ("aa", "cylinders", ["cylinders 4", "cylinders 6"]),
        ("aa", "toe-over", ["toe-over 400 mm", "toe-over 15 in"]),
    ] {
        let made = compile_text(&book(of, &format!("{first}  {second}")));
        assert_eq!(errors(&made).len(), 1, "{first} {second}: {:?}", errors(&made));
        let thing = made.book.names.find(of);
        assert!(made.book.unread.has(thing, property), "{first} {second}");
        let none = match thing {
            Some(Thing::Circuit(id)) => made.book.circuits[id].length.is_none(),
            Some(Thing::Car(id)) => {
                let car = &made.book.cars[id];
                car.class.is_empty() && car.cylinders.is_none() && car.toe_over.is_none()
            }
            _ => true,
        };
        assert!(none, "{first} {second}");
        let made = compile_text(&book(of, &format!("{first}  {first}")));
        assert!(errors(&made).is_empty() && !made.book.unread.has(made.book.names.find(of), property));
    }
    let made = compile_text(&book("aa", "wheelbase 2350 mm  wheelbase 2400 mm"));
    assert!(made.book.cars[CarId::new(0)].opening.is_empty());
}

/// Two hours of a car: what stands in front of a rate that is lost counts, what stands behind it does not.
#[test]
fn hours_are_not_charged_by_the_next_rate() {
    for (shop, client, job, line, wanted) in [
        ("rate 50.00 EUR", "", "", "", Some("100")),
        ("rate 50.00 EUR", "rate 60.00 EUR", "", "", Some("120")),
        ("rate 50.00 EUR", "rate sixty EUR", "", "", None),
        ("rate 50.00 EUR", "rate 60.00 EUR rate 70.00 EUR", "", "", None),
        ("rate 50.00 EUR", "unbiled", "", "", None),
        ("rate 50.00 EUR", "rate sixty EUR", "rate 70.00 EUR", "", Some("140")),
        ("rate 50.00 EUR", "rate sixty EUR", "rate 7O EUR", "rate 80.00 EUR", Some("160")),
        ("rate 50.00 EUR", "rate 60.00 EUR", "rate 7O EUR", "", None),
        ("rate fifty EUR", "rate 60.00 EUR", "", "", Some("120")),
        ("rate fifty EUR", "", "", "", None),
        ("rate 50.00 EUR rate 55.00 EUR", "", "", "", None),
    ] {
        let text = format!(
            "shop \"S\"  currency EUR  {shop}\nclient cee \"Cee\"  {client}\ncar aa \"A\"  client cee\n2026-05-02 aa\n  job j-1 \"box\"  {job}\n  hours 2 h  {line} on j-1\n"
        );
        let made = compile_text(&text);
        let mut total = Total::default();
        made.costs.postings.iter().for_each(|posting| posting.add_to(&mut total));
        let said = made.costs.postings.first().and_then(|posting| posting.amount);
        let wanted = wanted.map(|value| crate::money::amount(&format!("{value} EUR")));
        assert_eq!(said.map(|sum| sum.value), wanted.map(|sum| sum.value), "{text}");
        assert_eq!(total.at_least, wanted.is_none(), "{text}");
    }
    // Nor by the shop's rate where nobody knows whose car it is.
    let made = compile_text(
        "shop \"S\"  currency EUR  rate 50.00 EUR\nclient cee \"Cee\"  rate 60.00 EUR\ncar aa \"A\"  client\n2026-05-02 aa\n  hours 2 h\n",
    );
    assert!(made.costs.postings.iter().all(|posting| posting.amount.is_none()));
    assert_eq!(errors(&made).len(), 1, "{:?}", errors(&made));
}

const RULES: &str = "circuit ven \"Ven\"\nevent e-1 2026-05-02 at ven \"One\"\nevent e-2 2026-06-02 at ven \"Two\"\nclass K-1\nclass K-2  usual camber LF 2..7 deg\nrule r-1 class K-1  ride-height min 40 mm\ncar aa \"A\"  CLASS\n\
                     2026-05-02 aa at e-1\n  read ride-height 45 45 45 45 mm\n  run s1 20 min\n2026-05-30 aa\n  read camber LF -3 deg\n";

/// That no rule is in force is said of nothing whose class, or whose rule, could not be read: by the command and on each page.
#[test]
fn no_page_says_that_there_is_no_rule() {
    let none = ["The book has no rule", "no rule for it", "0 rules in force</li>", "each kept by more"];
    for (text, says) in [
        (RULES.replace("CLASS", "clas K-1"), "the class it runs in could not be read"),
        (RULES.replace("CLASS", "class"), "the class it runs in could not be read"),
        (RULES.replace("CLASS", "class K-1  class K-2"), "the class it runs in could not be read"),
        (RULES.replace("CLASS", "class K-1").replace("40 mm", "4O mm"), "the rule could not be read"),
    ] {
        let made = compile_text(&text);
        assert_eq!(errors(&made).len(), 1, "{:?}", errors(&made));
        let card = rules::build(&made, CarId::new(0), &moment::end(&made.history), None, None);
        assert!(card.class_unread.is_some() || !card.unread.is_empty());
        assert!(card.rules.is_empty());
        let pages = render(&made, Options::default()).unwrap();
        let mut said = 0;
        for page in &pages {
            let told = none.iter().find(|words| page.html.contains(*words));
            assert!(told.is_none(), "{}: {told:?}", page.name);
            said += usize::from(page.html.contains(says));
        }
        assert!(said >= 3, "{says}: {said}");
    }
    // Of a class that is asked about it can be said.
    let made = compile_text(&RULES.replace("CLASS", "clas K-1"));
    let card = rules::build(&made, CarId::new(0), &moment::end(&made.history), None, Some("K-1"));
    assert!(card.class_unread.is_none() && card.rules.len() == 1);
    // A car of no class has none.
    let made = compile_text(&RULES.replace("CLASS", ""));
    let card = rules::build(&made, CarId::new(0), &moment::end(&made.history), None, None);
    assert!(card.class_unread.is_none() && card.rules.is_empty() && card.unread.is_empty());
}

/// What a class of the book says is usual is not asked about on a car whose class cannot be read; what none does, is.
#[test]
fn what_may_be_usual_on_it_is_not_asked_about() {
    for class in ["clas K-2", "class"] {
        let made = compile_text(&RULES.replace("CLASS", class).replace("-3 deg", "6 deg"));
        assert_eq!(errors(&made).len(), 1, "{class}: {:?}", errors(&made));
        let made = compile_text(&RULES.replace("CLASS", class).replace("-3 deg", "9 deg"));
        assert_eq!(errors(&made).len(), 2, "{class}: {:?}", errors(&made));
    }
    // A range with a mistake takes no other range with it.
    let lines = ["usual camber LF 2,,7 deg", "possible camber LF x deg", "usual cambr 2..7 deg"];
    for line in lines {
        let made =
            compile_text(&format!("car aa \"A\"  {line}\n2026-05-02 aa\n  set tyre-cold LF 9.5 bar\n"));
        assert_eq!(errors(&made).len(), 2, "{line}: {:?}", errors(&made));
    }
}

#[test]
fn work_that_cannot_be_read_is_on_the_list() {
    for (car, kind, wanted) in [
        ("", "", None),
        ("every 2O h torque wheel-torque", "", Some("")),
        ("", "every 2O h inspect", Some("of a belt")),
    ] {
        let text = format!(
            "event e-2 2026-06-02 \"Two\"\ncar aa \"A\"  {car}\nkind belt  fits cockpit  {kind}\npart b-1 belt  opening new\n2026-05-02 aa\n  fit b-1\n  run s1 20 min\n"
        );
        let made = compile_text(&text);
        let Some(Thing::Event(event)) = made.book.names.find("e-2") else { panic!() };
        let ask = Ask { event: Some(event), today: jiff::civil::date(2026, 5, 3), confidence: 0.9 };
        let list = due::view(&made, ask, false);
        let found = list.work.iter().find(|work| work.what == "what comes round again");
        assert_eq!(found.map(|work| work.part.as_str()), wanted, "{text}");
    }
}

/// A length of toe that lacks only what the car says and nobody can read has no message of its own, and no value.
#[test]
fn a_line_that_lacks_what_cannot_be_read_has_no_message() {
    let text = |over: &str, line: &str| format!("car aa \"A\"  {over}\n2026-05-02 aa\n  {line}\n");
    for (over, line, count) in [
        ("toe-over 4OO mm", "set toe-in front 2 mm total", 1),
        ("toe-over 4OO mm", "set toe-in front 2 mm", 2),
        ("toe-over 4OO mm", "set toe-in front 2 mm total over 400 mm", 1),
        ("", "set toe-in front 2 mm total", 1),
    ] {
        let made = compile_text(&text(over, line));
        assert_eq!(errors(&made).len(), count, "{over} {line}: {:?}", errors(&made));
        let read = line.ends_with("400 mm");
        assert_eq!(!made.book.entries.last().unwrap().broken, read, "{over} {line}");
    }
}

/// Clicks of a kind whose end, or whose number, cannot be read are counted from the end that the line names, and without one are not known.
#[test]
fn clicks_of_an_end_that_cannot_be_read() {
    for (kind, line, wanted) in [
        ("clicks 0..20 from full-hard", "7 click", Some(7.0)),
        ("clicks 0..20 from full-hrd", "7 click", None),
        ("clicks 0..20 from full-hrd", "7 click from full-soft", Some(7.0)),
        ("clicks 0..20 from full-hard from full-soft", "7 click", None),
        ("from full-hard clicks 0.20", "7 click", Some(7.0)),
        ("from full-hard clicks 0.20", "7 click from full-soft", None),
        ("from full-hard clicks 0..20", "7 click from full-soft", Some(13.0)),
        ("from full-hard clicks 0..20 clicks 0..30", "7 click from full-soft", None),
    ] {
        let made = compile_text(&format!(
            "car aa \"A\"\nkind damper  fits LF  carries rebound  {kind}\npart d-1 damper\n2026-05-02 aa\n  fit d-1 LF\n  set rebound LF {line}\n"
        ));
        assert!(errors(&made).len() <= 1, "{kind}: {:?}", errors(&made));
        let quantity = made.book.vocabulary.find("rebound").unwrap();
        let tracks = made.history.slots.of_quantity(Owner::Part(PartId::new(0)), quantity);
        let last = tracks.first().and_then(|track| track.events.last());
        let value = last.filter(|event| event.register() != Register::Unknown).map(|event| event.value);
        assert_eq!(value, wanted, "{kind} {line}");
    }
}

/// What a failure costs besides the part is not nothing where it cannot be read, or is of another currency.
#[test]
fn what_a_failure_costs_is_not_nothing() {
    for (costs, told) in [
        ("", true),
        ("failure-costs 70.00 EUR", true),
        ("failure-costs 7O EUR", false),
        ("failure-costs 70.00 EUR  failure-costs 80.00 EUR", false),
        ("failure-costs 70.00 GBP", false),
    ] {
        let lives = (1..=6)
            .map(|at| {
                format!(
                    "2026-05-0{at} aa\n  fit b-{at} LF\n  run s1 {} min\n  failed b-{at}\n  remove b-{at}\n",
                    40 + 10 * at
                )
            })
            .collect::<Vec<_>>()
            .concat();
        let parts =
            (1..=6).map(|at| format!("part b-{at} belt  spec a  opening new\n")).collect::<Vec<_>>().concat();
        let made = compile_text(&format!(
            "shop \"S\"  currency EUR\ncar aa \"A\"\nkind belt  fits LF  {costs}\nspec a of belt  price 38.00 EUR\n{parts}{lives}"
        ));
        let list = crate::lives::view_of(&made, "belt", None, &CountedFailures::default());
        assert_eq!(list.specs[0].money.is_some(), told, "{costs}: {:?}", errors(&made));
    }
}

/// How many are to be kept, and until when a gauge is good, is asked where it cannot be read.
#[test]
fn what_is_to_be_kept_and_what_is_good_until_when() {
    for (kind, gauge, wanted) in [
        ("keep 5", "valid-until 2027-01-01", ["5 to be kept", ""]),
        ("keep 5O", "valid-until 2027-O1-01", ["could not be read", "could not be read"]),
        (
            "keep five",
            "valid-until 2027-01-01  valid-until 2028-01-01",
            ["could not be read", "could not be read"],
        ),
        ("keep 5  keep 6", "valid-until 2026-05-20", ["could not be read", "out of date"]),
        ("", "", ["", ""]),
    ] {
        let made = compile_text(&format!(
            "event e-1 2026-05-02 \"One\"\nevent e-2 2026-06-02 \"Two\"\ncar aa \"A\"\nkind belt  fits cockpit  {kind}\ngauge cg-1 \"g\"  reads camber  {gauge}\n2026-05-02 aa at e-1\n  read camber LF -2 deg by cg-1\n  run s1 20 min\n"
        ));
        let Some(Thing::Event(event)) = made.book.names.find("e-2") else { panic!() };
        let ask = Ask { event: Some(event), today: jiff::civil::date(2026, 5, 3), confidence: 0.9 };
        let list = due::view(&made, ask, false);
        let kept: String = list.beside.iter().map(|one| one.text.as_str()).collect();
        let good: String = list.gauges.iter().map(|one| one.text.as_str()).collect();
        for (said, wanted) in [kept, good].iter().zip(wanted) {
            assert!(said.contains(wanted) && said.is_empty() == wanted.is_empty(), "{kind} {gauge}: {said}");
        }
    }
}
