//! Everything that a client is told of a book, section by section: `state`, `diff`, `rules`, `sheet`, `trace` and `costs` as data, and
//! the pages of his report as bytes.

use stringline::Compiled;
use stringline::answer::costs::{CostsBy, statement};
use stringline::answer::{self, json};
use stringline::audience::{self, Reader};
use stringline::book::model::{CarId, ClientId};
use stringline::book::names::Thing;
use stringline::book::place::Place;
use stringline::costs::Selection;
use stringline::figures::Calc;
use stringline::figures::trace::trace;
use stringline::history::moment;
use stringline::report::Options;
use stringline::report::{Alone, Own, Report, render};
use stringline::tables::{self, Shown, TABLES};

/// Sections by name.
pub type Told = Vec<(String, String)>;

/// The client of that name.
pub fn client(compiled: &Compiled, name: &str) -> Option<ClientId> {
    match compiled.book.names.find(name) {
        Some(Thing::Client(client)) => Some(client),
        _ => None,
    }
}

/// What he is told; of the pages only where asked for, of all only sections that are wanted.
pub fn told(compiled: &Compiled, reader: ClientId, pages: bool, wanted: &dyn Fn(&str) -> bool) -> Told {
    let cut = audience::cut(compiled, &Reader::Client(reader));
    let mut told = Told::new();
    for (at, car) in cut.book.cars.iter().enumerate().filter(|(_, car)| !car.withheld) {
        let id = CarId::from(at);
        let name = format!("car {}", car.named.typed);
        about_car(&cut, id, &name, wanted, &mut told);
    }
    for by in [CostsBy::Car, CostsBy::Client, CostsBy::Event, CostsBy::Job] {
        let section = format!("costs by {by:?}");
        if wanted(&section) {
            told.push((section, json(&statement(&cut, Selection::default(), by))));
        }
    }
    // Figures take long: beside the pages, which have them too.
    for table in TABLES.iter().filter(|table| pages || table.name != "figures") {
        let section = format!("table {}", table.name);
        if wanted(&section) || pages && wanted("page") {
            let mut text = Vec::new();
            tables::csv::write(table, &Shown::new(&cut, None), &mut text).unwrap();
            told.push((section, String::from_utf8(text).unwrap()));
        }
    }
    if pages && wanted("page") {
        let options = Options { client: Some(reader), ..Options::default() };
        for page in render(&cut, options).unwrap() {
            told.push((format!("page {}", page.name), page.html));
        }
    }
    told
}

fn about_car(cut: &Compiled, car: CarId, name: &str, wanted: &dyn Fn(&str) -> bool, told: &mut Told) {
    let parse = |typed: &str| moment::parse(&cut.book, &cut.files, &cut.history, car, typed).ok();
    let end = moment::end(&cut.history);
    let mut add = |section: &str, text: &dyn Fn() -> String| {
        let section = format!("{section} {name}");
        if wanted(&section) {
            told.push((section, text()));
        }
    };
    add("state", &|| json(&answer::state::build(cut, car, &end, None)));
    for at in ["2025-04-15", "2025-07-01", "2026-06-30"] {
        let Some(when) = parse(at) else { continue };
        add(&format!("state {at}"), &|| json(&answer::state::build(cut, car, &when, Some(at))));
        add(&format!("rules {at}"), &|| json(&answer::rules::build(cut, car, &when, Some(at), None)));
        add(&format!("diff {at}"), &|| json(&answer::diff::build(cut, car, [&when, &end], [at, "end"])));
    }
    for (section, which) in [
        ("now", Alone::Now(car)),
        ("sheet", Alone::Setup(car, None)),
        ("crash", Alone::Crash(car, None)),
        ("alignment", Alone::Alignment(car)),
        ("card", Alone::Card(car, None)),
        ("power", Alone::Power(car)),
        ("engine", Alone::Engine(car)),
        ("event", Alone::Event(None)),
    ] {
        let own = Own::new();
        add(section, &|| {
            Report::alone(cut, which, &own).map_or_else(|_| String::new(), |one| one.json().unwrap())
        });
    }
    add("trace", &|| {
        let mut text = String::new();
        for (id, _) in cut.book.figures.iter() {
            for place in [Place::CAR, Place::LF] {
                let mut calc = Calc::new(cut.facts(), car, &end);
                if let Ok(fig) = calc.figure(id, place) {
                    text += &json(&trace(&calc, &fig, false));
                }
            }
        }
        text
    });
}
