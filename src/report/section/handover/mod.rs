//! The book that goes with a car to its buyer: how it stands first, then the work, its setup at each circuit, the parts that go
//! along and those that do not.
//!
//! Made from a book that is cut for the buyer already ([`crate::audience`]): what he may not read is not there to be shown. The
//! order follows what an aircraft's records hand on (14 CFR 91.417: total time, life-limited parts, time since overhaul,
//! inspections; then the work). Must not know audiences.

mod going_on;
mod parts;
mod setups;
mod status;

use super::entry::TimelineLine;
use super::failures::{self, ShownFailure};
use super::frame::{self, Frame};
use super::problems::Problems;
use super::timeline::{self, Chapter};
use crate::audience::Purchase;
use crate::history::order::Rank;
use crate::report::section::fact::Fact;
use crate::report::section::whose;
use crate::report::teller::Teller;
use crate::report::words;
use jiff::civil::Date;
use parts::{Away, Present};
use serde::Serialize;
use setups::CircuitSetup;
use status::CarStatus;

/// The book that goes with a car to its buyer.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Handover {
    /// Title and footer.
    pub frame: Frame,
    /// The car's name in the book.
    pub car: String,
    /// Who buys it; empty where nobody does yet.
    pub buyer: String,
    /// "14 November 2026"; empty where it is not sold.
    pub sold: String,
    /// "As it was sold on 14 November 2026", "As it stands on 1 December 2026; it is not sold in this book".
    pub when: String,
    /// What it is: class, wheelbase, chassis.
    pub identity: Vec<Fact>,
    /// How it stands.
    pub status: CarStatus,
    /// What failed while it was with the shop.
    pub failures: Vec<ShownFailure>,
    /// The work, in order.
    pub chapters: Vec<Chapter>,
    /// How it was set when it left each circuit last.
    pub setups: Vec<CircuitSetup>,
    /// Parts that go along, by place.
    pub present: Vec<Present>,
    /// Parts that do not.
    pub away: Vec<Away>,
    /// What was measured on the bench of the parts that go along; only where asked for.
    pub bench: Vec<TimelineLine>,
    /// Whether prices of parts are in it.
    pub prices: bool,
    /// Lines for a book of the buyer's own, so that the same hours go on.
    pub going_on: Vec<String>,
    /// How many lines about the car cannot be read.
    pub errors: usize,
    /// What a reader must know of the whole.
    pub cautions: Vec<String>,
    /// What he must know of harness, seat, extinguisher and fuel cell.
    pub safety: String,
}

const CAUTIONS: [&str; 4] = [
    "This book says what was written down. It certifies nothing: a person checks the car before it goes out.",
    "Rules, years and limits are as the shop's book has them. The rulebook in force, local rulebooks and makers' limits outrank \
     every one of them.",
    "\"At least\" stands where part of a use was not written down. A part whose use or age is not known is treated as one that is \
     used up.",
    "Settings hold for the tyres, the driver and the fuel they were read with; what was worked out from them is a starting point.",
];

const SAFETY: &str = "After an impact, or after standing long, harness, seat, extinguisher and fuel cell are looked at whatever their date.";

/// Makes the view from the buyer's book.
pub(in crate::report) fn view(tell: &Teller<'_>, purchase: &Purchase) -> Handover {
    let cx = &tell.cx;
    let purchase = &purchase.of(tell.compiled);
    let car = purchase.car;
    let declared = cx.book.cars.get(car);
    let title = declared.map_or("?", |car| car.named.title.as_str());
    let sold = purchase.sale.and_then(|entry| cx.date(entry));
    let last = cx.book.heads_of(car).map(|head| head.date).max();
    let day = sold.unwrap_or(cx.today);
    let buyer = purchase.to.and_then(|to| cx.book.clients.get(to));
    let mut frame =
        frame::frame(tell, format!("{title}: hand-over book"), whose::subtitle(tell, car), Some(car));
    let mut whole = frame::whole(tell);
    whole.until = sold.or(last).map_or_else(|| words::DASH.to_owned(), words::date);
    frame.whole = Some(whole);
    let until = purchase.until;
    Handover {
        frame,
        car: cx.car(car).to_owned(),
        buyer: buyer.map_or_else(String::new, |buyer| buyer.named.title.clone()),
        sold: sold.map_or_else(String::new, words::date),
        when: when(sold, last, cx.today),
        identity: identity(tell, purchase),
        status: status::view(tell, purchase, day),
        failures: failures::failures(tell, car, Rank::START, until),
        chapters: timeline::chapters(tell, car, Rank::START, until.next(), &Problems::default()),
        setups: setups::view(tell, car, until),
        present: parts::present(tell, purchase),
        away: parts::away(tell, purchase),
        bench: if purchase.bench { parts::bench(tell, purchase) } else { Vec::new() },
        prices: purchase.prices,
        going_on: going_on::lines(tell, purchase),
        errors: tell.compiled.unread.values().sum(),
        cautions: CAUTIONS.map(str::to_owned).to_vec(),
        safety: SAFETY.to_owned(),
    }
}

fn when(sold: Option<Date>, last: Option<Date>, today: Date) -> String {
    match (sold, last) {
        (Some(day), _) => format!("As it was sold on {}.", words::date(day)),
        (None, Some(last)) => format!(
            "As it stands on {}, after its last line of {}. It is not sold in this book.",
            words::date(today),
            words::date(last)
        ),
        (None, None) => "The book has no line about it.".to_owned(),
    }
}

/// What the car's declaration says of it.
fn identity(tell: &Teller<'_>, purchase: &Purchase) -> Vec<Fact> {
    let Some(car) = tell.cx.book.cars.get(purchase.car) else { return Vec::new() };
    let src = tell.src(car.named.declared);
    let fact = |word: &str, text: String| Fact { word: word.to_owned(), text, src: src.clone() };
    let mut facts = vec![fact("name", car.named.typed.to_string()), fact("car", car.named.title.clone())];
    if !car.class.is_empty() {
        facts.push(fact("class", car.class.clone()));
    }
    if !car.drive.is_empty() {
        facts.push(fact("driven", car.drive.clone()));
    }
    for (word, count) in [("cylinders", car.cylinders), ("gears", car.gears)] {
        facts.extend(count.map(|count| fact(word, count.to_string())));
    }
    facts.extend(car.about.iter().map(|(word, text, span)| Fact {
        word: word.replace('-', " "),
        text: text.clone(),
        src: tell.src(*span),
    }));
    facts
}
