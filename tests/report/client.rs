//! The letter to a client: what it says of the demo book, and that nothing of anybody else is in it.

use super::figures::section;
use super::{demo, page, render, text};
use stringline::Compiled;
use stringline::audience::{Reader, cut};
use stringline::book::names::Thing;
use stringline::report::Options;
use stringline::report::Page;

/// The pages cut for a client.
fn letters(compiled: &Compiled, name: &str) -> Vec<Page> {
    let Some(Thing::Client(client)) = compiled.book.names.find(name) else { panic!("{name}") };
    let own = cut(compiled, &Reader::Client(client));
    render(&own, Options { client: Some(client), parts: true, ..Options::default() }).unwrap()
}

#[test]
fn the_letter_says_what_is_open_done_next_and_what_it_cost() {
    let pages = letters(&demo(), "varga");
    let letter = &page(&pages, "letter-varga.html").html;
    for said in [
        "For The Varga syndicate",
        "spring sp-02",
        "not looked at since the impact of 28 June 2026 at RF; off the car since 22 August 2026",
        "rebuild the right front after the wall",
        "2 days late",
        "coupling LR ar-01",
        "2700.00",
        ">83.00<",
        "9810.85",
        "905.62",
    ] {
        assert!(letter.contains(said), "{said}");
    }
    assert!(page(&pages, "index.html").html.contains("letter-varga.html"));
}

/// How far the book goes for him: to the last block of his own cars or of the shop's that he reads a line of, whatever days others
/// have.
#[test]
fn another_clients_day_is_not_in_it() {
    let book = "client orr \"Orr\"\nclient lisk \"Lisk\"\ncar heron \"Heron\"  client orr\ncar wren \"Wren\"  client lisk\n\
                2026-05-01 heron\n  set wing-angle 5 deg\n2026-06-14 wren\n  set wing-angle 6 deg\n2026-06-15 wren\n";
    let until = |more: &str| {
        let letters = letters(&text(&format!("{book}{more}")), "orr");
        let letter = &page(&letters, "letter-orr.html").html;
        let (_, rest) = letter.split_once("As the book stands on ").unwrap();
        rest.split('.').next().unwrap().to_owned()
    };
    for more in ["", "2026-06-20\n  hours 1 h \"for lisk\"  to lisk\n", "2026-06-21\n"] {
        assert_eq!(until(more), "1 May 2026", "{more}");
    }
    assert_eq!(until("2026-06-20\n  hours 1 h \"for orr\"  to orr\n"), "20 June 2026");
}

/// His car's money by event, as the shop's page of it has it; the work on a job that is his counts against its quote.
#[test]
fn his_season_has_his_money() {
    let (his, ours) = (letters(&demo(), "varga"), super::pages(&demo()));
    let money = |pages: &[Page]| section(&page(pages, "bittern-2026.html").html, "money");
    let sums = |text: String| -> Vec<String> {
        text.split(' ')
            .filter(|word| word.contains('.') && !word.contains("sline"))
            .map(str::to_owned)
            .collect()
    };
    assert!(money(&his).contains("9810.85") && money(&his).contains("2617.00 83.00"), "{}", money(&his));
    assert_eq!(sums(money(&his)), sums(money(&ours)));
}

/// No other car, client, driver or job, and nothing of the shop's own is on any page that goes to him.
#[test]
fn nothing_of_anybody_else_is_in_it() {
    for page in letters(&demo(), "varga") {
        for other in ["teal", "curlew", "Aldous", "Okafor", "Brannoch", "j-02", "j-04", "j-05", "j-06"] {
            assert!(!page.html.contains(other), "{other} on {}", page.name);
        }
    }
}

#[test]
fn a_client_without_a_car_or_a_line_gets_a_whole_letter() {
    let compiled = text("client orr \"Orr\"\nclient lee \"Lee\"\ncar a \"A\"  client orr\n");
    for name in ["orr", "lee"] {
        let pages = letters(&compiled, name);
        let letter = page(&pages, &format!("letter-{name}.html"));
        assert!(
            letter.html.contains("Nothing is open.") && letter.html.contains("No job has been closed yet.")
        );
    }
}

/// The demo book as its files, to be changed.
fn demo_with(change: impl Fn(&str, &str) -> String) -> Compiled {
    let files: Vec<(String, String)> =
        demo().files.iter().map(|(_, file)| (file.path.clone(), change(&file.path, &file.text))).collect();
    let texts: Vec<(&str, &str)> = files.iter().map(|(path, text)| (path.as_str(), text.as_str())).collect();
    stringline::compile(&stringline::source::Memory::new(&texts, crate::checks::now())).unwrap()
}

/// What curlew's bearing did says nothing to bittern's client, though his own car has bearings of that kind: no page of
/// lives, no part, no list of what is due, no chance, no order.
#[test]
fn what_parts_did_on_another_car_changes_nothing() {
    let lived = demo();
    let whole = demo_with(|path, text| {
        // The bearing does not fail.
        let lines = text
            .split_inclusive('\n')
            .filter(|line| path != "curlew.sline" || !line.contains("failed wb-05"));
        lines.collect()
    });
    let chance = |compiled: &Compiled| {
        let pages = render(compiled, Options::default()).unwrap();
        page(&pages, "due.html").html.contains("wb-01")
    };
    assert!(chance(&lived) && !chance(&whole), "the shop's own list does rest on it");
    let told = |compiled: &Compiled| {
        let pages = letters(compiled, "varga");
        let names: Vec<&str> = pages.iter().map(|page| page.name.as_str()).collect();
        for name in ["due.html", "lives-bearing.html", "part-wb-01.html", "costs-2026.html", "bench.html"] {
            assert!(!names.contains(&name), "{name}");
        }
        let own = pages.into_iter().filter(|page| page.name != "index.html");
        own.map(|page| (page.name, page.html)).collect::<Vec<_>>()
    };
    assert_eq!(told(&lived), told(&whole));
}

/// An event for which only another's car is entered is not the next of his, though that car's name is hidden from him.
#[test]
fn an_event_of_another_car_is_not_his_next() {
    let book = |entered: &str| {
        text(&format!(
            "client orr \"Orr\"\nclient lee \"Lee\"\ncar a \"A\"  client orr\ncar b \"B\"  client lee\ncircuit c \"C\"  length 2 km\n\
             event e-1 2026-05-02 at c \"One\"\nevent e-2 2027-05-02 at c \"Two\"{entered}\n2026-05-02 a at e-1\n  10:00..10:20 run s1\n"
        ))
    };
    let next = |entered: &str| {
        let pages = letters(&book(entered), "orr");
        page(&pages, "letter-orr.html").html.contains("Next: Two")
    };
    assert!(next("") && next("  entered a, b"));
    assert!(!next("  entered b"));
}

/// What a job cost so far stands against its quote, as in the shop's own costs; of that only what is his to pay: not the shop's
/// own part, nor a line that is kept from him.
#[test]
fn a_quote_has_what_is_his_to_pay_against_it() {
    let job = |more: &str| {
        let compiled = text(&format!(
            "shop \"S\"  currency EUR  rate 50.00 EUR\nclient orr \"Orr\"\ncar a \"A\"  client orr\n\
             2026-05-02 a\n  job j-1 \"new floor\"\n  quote 500.00 EUR on j-1\n  cost 120.50 EUR parts \"sheet\" on j-1\n{more}"
        ));
        let words = |html: &str| super::html::words(&super::html::read(html));
        words(&page(&letters(&compiled, "orr"), "letter-orr.html").html)
    };
    let told = |more: &str, row: &str| assert!(job(more).contains(row), "{row}: {}", job(more));
    told("", "500.00 120.50 379.50");
    told("  cost 40.00 EUR parts \"rivets\" on j-1\n", "500.00 160.50 339.50");
    told("  cost 40.00 EUR parts \"spoilt\" on j-1 for shop\n", "500.00 120.50 379.50");
}

/// What waits on his own car stands under what is open: a part at the corner that was hit until somebody has looked at it, and a dated
/// item that ends before the next event.
#[test]
fn what_waits_on_his_car_is_open() {
    let letter = |more: &str| {
        let compiled = text(&format!(
            "client orr \"Orr\"\nclient lee \"Lee\"\ncar a \"A\"  client orr\ncar b \"B\"  client lee\ncircuit c \"C\"  length 2 km\n\
             kind spring \"spring\"  fits LF RF\nkind bottle \"extinguisher\"  fits bulkhead  valid 2 years from serviced\npart sp-1 spring\npart sp-2 spring\n\
             part ex-1 bottle  serviced 2025-03\nevent e-1 2027-05-02 at c \"Next\"\n2026-05-01 a\n  fit sp-1 RF\n  fit ex-1\n\
             2026-05-01 b\n  fit sp-2 RF\n2026-05-02 a\n  hit RF \"a post\"\n2026-05-02 b\n  hit RF \"a post\"\n{more}"
        ));
        super::html::words(&super::html::read(&page(&letters(&compiled, "orr"), "letter-orr.html").html))
    };
    let open = letter("");
    let fitted = "spring sp-1 not looked at since the impact of 2 May 2026 at RF; it is still fitted: look at it before it runs";
    assert!(open.contains(fitted), "{open}");
    // The bottle was on it too, and is dated whatever becomes of that.
    let bottle = "look at it before it runs; good only until 31 March 2027";
    assert!(open.contains("bottle ex-1 not looked at") && open.contains(bottle), "{open}");
    let late = letter("2026-05-03 a\n  inspect ex-1 good\n");
    assert!(late.contains("bottle ex-1 good until 31 March 2027: ends before the event"), "{late}");
    assert!(!open.contains("Nothing is open.") && !open.contains("sp-2"), "{open}");
    let off = letter("2026-05-03 a\n  remove sp-1\n");
    assert!(off.contains("off the car since 3 May 2026; it is not refitted before it is looked at"), "{off}");
    let seen = letter("2026-05-03 a\n  inspect sp-1 good\n  inspect ex-1 good\n  remove ex-1\n");
    assert!(seen.contains("Nothing is open."), "{seen}");
}

/// A buyer of whose car no line is his yet: the letter says so, and no day.
#[test]
fn a_letter_without_a_line_says_so() {
    let book = text(
        "shop \"S\"\nclient orr \"Orr\"\nclient fen \"Fen\"\ncar heron \"H\"  client orr\n2025-03-01 heron\n  run s1  10 min\n2025-04-01 heron\n  sell heron to fen\n",
    );
    let pages = letters(&book, "fen");
    let letter = &page(&pages, "letter-fen.html").html;
    assert!(letter.contains("The book has no line yet that is about a car of yours while it is yours."));
    assert!(!letter.contains("As the book stands on"));
}

/// A car that changes hands: what is open, done and next on it is told to who has it.
const SOLD: &str = "shop \"S\"  currency EUR  rate 50.00 EUR
client orr \"The Orrs\"
client lee \"The Lees\"
car wren \"Wren\"  client orr
car tern \"Tern\"  client lee
kind clutch \"clutch\"  fits bell  life 70 min
part k-1 clutch  opening new
event one 2026-03-01 at loop \"One\"
event two 2026-04-01 at loop \"Two\"
event three 2026-05-01 at loop \"Three\"  entered wren
circuit loop \"Loop\"
2026-03-01 wren at one
  fit k-1 bell
  10:00..11:00 run s1
  job a-1 \"seal\"
  done a-1 \"lip worn\"
  job a-2 \"wiring\"
2026-03-20 wren
  sell wren 9000.00 EUR to lee
2026-04-01 wren at two for lee
  10:00..11:00 run s1
  job b-1 \"pads\"
  done b-1 \"new ones\"
  job b-2 \"mirror\"
  promise b-2 until 2026-05-01
";

#[test]
fn who_bought_a_car_has_it_in_his_letter_and_who_sold_his_last_still_has_what_was_done() {
    let book = text(SOLD);
    let letter = |name: &str| {
        let pages = letters(&book, name);
        page(&pages, &format!("letter-{name}.html")).html.clone()
    };
    let lee = letter("lee");
    for told in ["last at Two", "mirror", "promised to The Lees", "pads", "Next: Three", "clutch k-1"] {
        assert!(lee.contains(told), "{told}\n{lee}");
    }
    assert!(!lee.contains("seal") && !lee.contains("Orrs"), "{lee}");
    // Where it ran while it was another's no page of his tells.
    for page in letters(&book, "lee") {
        assert!(!page.html.contains("2026-03-01") && !page.name.contains("one"), "{}", page.name);
    }
    let orr = letter("orr");
    for told in ["last at One", "seal", "wiring", "No event of your cars lies ahead"] {
        assert!(orr.contains(told), "{told}\n{orr}");
    }
    assert!(!orr.contains("pads") && !orr.contains("Lees"), "{orr}");
}
