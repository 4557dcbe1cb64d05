//! Cars, circuits, events, and who is entered where.

use super::cell::Cell;
use super::schema::{Column, FILE, FactTable, Give, LINE, refers};
use super::shown::Shown;

/// Where events are.
pub const CIRCUITS: FactTable = FactTable {
    name: "circuits",
    what: "A circuit.",
    key: &["circuit"],
    columns: &[
        Column::text("circuit", "The name").needed(),
        Column::text("title", "The words after it"),
        Column::real("lap_m", "m", "The length of a lap"),
        FILE,
        LINE,
    ],
    refers: &[],
    rows: circuits,
};

fn circuits(shown: &Shown<'_>, give: &mut Give<'_>) {
    for (id, circuit) in shown.compiled.book.circuits.iter_enumerated() {
        let [file, line] = shown.stands(circuit.named.declared);
        give(&[shown.circuit(id), shown.title(&circuit.named), Cell::from(circuit.length), file, line]);
    }
}

/// Events.
pub const EVENTS: FactTable = FactTable {
    name: "events",
    what: "An event.",
    key: &["event"],
    columns: &[
        Column::text("event", "The name").needed(),
        Column::text("title", "The words after it"),
        Column::date("first_day", "Its first day").needed(),
        Column::date("last_day", "Its last day").needed(),
        Column::text("circuit", "Where it is"),
        Column::text("zone", "A time zone of its own"),
        FILE,
        LINE,
    ],
    refers: &[refers(&["circuit"], "circuits")],
    rows: events,
};

fn events(shown: &Shown<'_>, give: &mut Give<'_>) {
    for (id, event) in shown.compiled.book.events.iter_enumerated() {
        let [file, line] = shown.stands(event.named.declared);
        give(&[
            shown.event(id),
            shown.title(&event.named),
            Cell::from(event.first),
            Cell::from(event.last),
            shown.circuit(event.circuit),
            Cell::from(event.zone.as_deref()),
            file,
            line,
        ]);
    }
}

/// Cars.
pub const CARS: FactTable = FactTable {
    name: "cars",
    what: "A car.",
    key: &["car"],
    columns: &[
        Column::text("car", "The name").needed(),
        Column::text("title", "The words after it"),
        Column::text("client", "Whose it was when the book began"),
        Column::text("class", "The class it runs in"),
        Column::text("units", "`metric` or `imperial`: what it is shown in").needed(),
        Column::whole("cylinders", "How many cylinders"),
        Column::whole("gears", "How many gears"),
        Column::text("drive", "What is driven"),
        Column::real("toe_over_m", "m", "Over which length toe is read"),
        FILE,
        LINE,
    ],
    refers: &[refers(&["client"], "clients")],
    rows: cars,
};

fn cars(shown: &Shown<'_>, give: &mut Give<'_>) {
    for (id, car) in shown.compiled.book.cars.iter_enumerated() {
        let name = shown.car(id);
        if name.is_nothing() {
            continue;
        }
        let [file, line] = shown.stands(car.named.declared);
        give(&[
            name,
            shown.title(&car.named),
            shown.client(car.client),
            Cell::from(&car.class),
            Cell::from(if car.imperial { "imperial" } else { "metric" }),
            Cell::from(car.cylinders.map(u32::from)),
            Cell::from(car.gears.map(u32::from)),
            Cell::from(&car.drive),
            Cell::from(car.toe_over),
            file,
            line,
        ]);
    }
}

/// Who is entered.
pub const ENTERED: FactTable = FactTable {
    name: "entered",
    what: "A car that an event names after `entered`. An event that names nobody is open to every car and has no row.",
    key: &[],
    columns: &[
        Column::text("event", "The event").needed(),
        Column::text("car", "The car").needed(),
        FILE,
        LINE,
    ],
    refers: &[refers(&["event"], "events"), refers(&["car"], "cars")],
    rows: entered,
};

fn entered(shown: &Shown<'_>, give: &mut Give<'_>) {
    for (id, event) in shown.compiled.book.events.iter_enumerated() {
        for car in event.entered.iter().flatten() {
            let name = shown.car(*car);
            if !name.is_nothing() {
                let [file, line] = shown.stands(event.named.declared);
                give(&[shown.event(id), name, file, line]);
            }
        }
    }
}
