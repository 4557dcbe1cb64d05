//! Kinds of part, their specs, and parts.

use super::cell::Cell;
use super::schema::{Column, FILE, FactTable, Give, LINE, Sort, refers};
use super::shown::Shown;
use crate::book::due_dates::Stated;
use crate::book::entry::CostKind;
use crate::history::parts::{Stay, Where};
use crate::money::Amount;

/// Kinds.
pub const KINDS: FactTable = FactTable {
    name: "kinds",
    what: "A kind of part.",
    key: &["kind"],
    columns: &[
        Column::text("kind", "The name").needed(),
        Column::text("title", "The words after it"),
        Column::truth("safety", "Its failure can hurt"),
        Column::truth("consumable", "It is used up, as tyres are"),
        Column::truth("one_use", "It is used once"),
        Column::whole("keep", "How many are to be on hand"),
        FILE,
        LINE,
    ],
    refers: &[],
    rows: kinds,
};

fn kinds(shown: &Shown<'_>, give: &mut Give<'_>) {
    for (id, kind) in shown.compiled.book.kinds.iter_enumerated() {
        let [file, line] = shown.stands(kind.named.declared);
        give(&[
            shown.kind(id),
            shown.title(&kind.named),
            Cell::from(kind.safety),
            Cell::from(kind.books == CostKind::Consumables),
            Cell::from(kind.one_use),
            Cell::from(kind.keep),
            file,
            line,
        ]);
    }
}

/// An amount: its digits, the same in minor units, and the currency.
pub(super) fn money<'a>(amount: Option<Amount>) -> [Cell<'a>; 3] {
    let minor = amount.and_then(Amount::minor).and_then(|minor| i64::try_from(minor).ok());
    [
        // A rate or a price of one may be finer than the currency is: as it was typed.
        amount.map_or(Cell::Nothing, |amount| {
            Cell::exact(if minor.is_some() { amount.digits() } else { amount.value.normalize().to_string() })
        }),
        Cell::from(minor),
        Cell::from(amount.map(|amount| amount.currency.code())),
    ]
}

/// What a sum's minor units are.
pub(super) const MINOR: &str =
    "The same in the currency's minor units (cents, pence, whole yen); empty for what is finer than those";
/// What a sum's currency is.
pub(super) const CURRENCY: &str = "Its currency, ISO 4217";

/// Specs.
pub const SPECS: FactTable = FactTable {
    name: "specs",
    what: "A spec of a kind.",
    key: &["kind", "spec"],
    columns: &[
        Column::text("kind", "The kind").needed(),
        Column::text("spec", "The name; specs of two kinds may be called alike").needed(),
        Column::text("title", "The words after it"),
        Column::new("price", Sort::Exact, "What one costs"),
        Column::whole("price_minor", MINOR),
        Column::text("currency", CURRENCY),
        FILE,
        LINE,
    ],
    refers: &[refers(&["kind"], "kinds")],
    rows: specs,
};

fn specs(shown: &Shown<'_>, give: &mut Give<'_>) {
    for (id, spec) in shown.compiled.book.specs.iter_enumerated() {
        let [file, line] = shown.stands(spec.named.declared);
        let [price, minor, currency] = money(spec.price);
        give(&[
            shown.kind(spec.kind),
            shown.spec(id),
            shown.title(&spec.named),
            price,
            minor,
            currency,
            file,
            line,
        ]);
    }
}

/// Where a part is, in a word.
pub(super) const fn state(at: Where) -> &'static str {
    match at {
        Where::New => "new",
        Where::Shelf => "shelf",
        Where::Car(..) => "car",
        Where::Inside(_) => "inside",
        Where::Failed => "failed",
        Where::Quarantine => "quarantine",
        Where::Scrapped => "scrapped",
        Where::Sold => "sold",
        Where::Lent => "lent",
        Where::Returned => "returned",
    }
}

/// What that word may be.
pub(super) const STATES: &str = "`new`, `shelf`, `carried` (a spare that rides along), `car`, `inside`, `failed`, `quarantine`, `scrapped`, `sold`, `lent` or `returned`";

/// Where a stay is: the word, the car, the place on it, the part it is inside of.
pub(super) fn place<'s>(shown: &'s Shown<'_>, stay: &Stay) -> [Cell<'s>; 4] {
    if let Some((on, place)) = stay.carried {
        let car = shown.car(Some(on));
        let place = if car.is_nothing() { Cell::Nothing } else { shown.place(place) };
        return [Cell::from("carried"), car, place, Cell::Nothing];
    }
    let car = shown.car(stay.car);
    let place = match stay.at {
        Where::Car(_, place) if !car.is_nothing() => shown.place(place),
        _ => Cell::Nothing,
    };
    let inside = if let Where::Inside(part) = stay.at { shown.part(part) } else { Cell::Nothing };
    [Cell::from(state(stay.at)), car, place, inside]
}

/// Parts.
pub const PARTS: FactTable = FactTable {
    name: "parts",
    what: "A part, and where it is at the end of the book.",
    key: &["part"],
    columns: &[
        Column::text("part", "The mark on it: its name").needed(),
        Column::text("title", "The words after it"),
        Column::text("kind", "What it is"),
        Column::text("spec", "Its spec"),
        Column::text("serial", "Its serial"),
        Column::text("owner", "The client whose own it is"),
        Column::text("made", "When it was made: a day, a month (`2021-07`) or a year, as stated"),
        Column::text("serviced", "When it was last serviced before the book, likewise"),
        Column::text("fitted", "When it first went on a car before the book, likewise"),
        Column::text("valid_until", "The last good day on its label, likewise"),
        Column::new("price", Sort::Exact, "What it was bought for, where its own line says so"),
        Column::whole("price_minor", MINOR),
        Column::text("currency", CURRENCY),
        Column::text(
            "state",
            "Where it is: `new`, `shelf`, `carried` (a spare that rides along), `car`, `inside`, `failed`, `quarantine`, `scrapped`, `sold`, `lent` or `returned`; empty where no line has placed it",
        ),
        Column::text("car", "The car it is on, in whatever it is inside of"),
        Column::text("place", "The place on that car"),
        Column::text("inside", "The part it is inside of"),
        FILE,
        LINE,
    ],
    refers: &[
        refers(&["kind"], "kinds"),
        refers(&["kind", "spec"], "specs"),
        refers(&["owner"], "clients"),
        refers(&["car"], "cars"),
        refers(&["inside"], "parts"),
    ],
    rows: parts,
};

fn stated<'a>(day: Option<Stated>) -> Cell<'a> {
    Cell::from(day.map(|day| match day {
        Stated::Day(day) => day.to_string(),
        Stated::Month(year, month) => format!("{year:04}-{month:02}"),
        Stated::Year(year) => format!("{year:04}"),
    }))
}

fn parts(shown: &Shown<'_>, give: &mut Give<'_>) {
    for (id, part) in shown.compiled.book.parts.iter_enumerated() {
        let name = shown.part(id);
        if name.is_nothing() {
            continue;
        }
        let [file, line] = shown.stands(part.named.declared);
        let last = shown.compiled.history.parts.get(id).stays.last();
        let [state, car, place, inside] =
            last.map_or([const { Cell::Nothing }; 4], |stay| place(shown, stay));
        let [price, minor, currency] = money(part.price);
        let day = |day: Option<(Stated, crate::source::Span)>| stated(day.map(|(day, _)| day));
        give(&[
            name,
            shown.title(&part.named),
            shown.kind(part.kind),
            if part.kind.is_some() { shown.spec(part.spec) } else { Cell::Nothing },
            Cell::from(&part.serial),
            shown.client(part.owner),
            day(part.made),
            day(part.serviced),
            day(part.fitted),
            day(part.valid_until),
            price,
            minor,
            currency,
            state,
            car,
            place,
            inside,
            file,
            line,
        ]);
    }
}
