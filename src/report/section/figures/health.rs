//! The engine's leak-down over its hours, cylinder by cylinder. Hot and cold readings are never joined.
//!
//! Must not know how a loss is worked out.

use crate::book::model::CarId;
use crate::book::place::Place;
use crate::figures::calc::Calc;
use crate::figures::over_hours;
use crate::history::Moment;
use crate::history::order::Rank;
use crate::report::chart::strip::{Strip, StripReading, StripSeries, strip};
use crate::report::chart::{Table, Words, id};
use crate::report::teller::Teller;
use crate::report::words::amount;
use crate::words::normal::whose;

/// The strip of a car's engine up to a rank; `None` without a reading at known hours.
pub(in crate::report) fn leakdown(tell: &Teller<'_>, car: CarId, until: Rank) -> Option<Strip> {
    let cx = &tell.cx;
    let count = cx.book.cars.get(car)?.cylinders?;
    let mut calc = Calc::new(cx.facts, car, &Moment::of_rank(until));
    let heads = ["cylinder", "engine hours", "lost, %", "taken", "line"];
    let mut table = Table { head: heads.map(str::to_owned).to_vec(), rows: Vec::new() };
    let mut lanes = Vec::new();
    let quantity = cx.book.vocabulary.find("leakdown");
    let mut limits: Vec<String> = Vec::new();
    for place in (1..=count).map(Place::cylinder) {
        let mut readings = Vec::new();
        // The bad end of what is usual, as the list of what is due has it.
        let usual = quantity.and_then(|quantity| cx.book.normal(Some(car), quantity, place).usual);
        let limit = usual.map(|usual| usual.high * 100.0);
        if let Some((high, usual)) = limit.zip(usual) {
            let words = format!("{} %{}", amount(high, 2), whose(cx.book, usual.says));
            if !limits.contains(&words) {
                limits.push(words);
            }
        }
        for one in over_hours(&mut calc, "leakdown", place) {
            calc.rank = one.rank.next();
            let got = calc.named("leakdown-lost", place);
            calc.rank = until;
            let Ok(fig) = got else { continue };
            let (kind, taken) = match one.hot {
                Some(true) => (0, "hot"),
                Some(false) => (1, "cold"),
                None => (2, "not said"),
            };
            let (hours, percent) = (one.hours / 3600.0, fig.value * 100.0);
            table.rows.push(vec![
                cx.place(place),
                amount(hours, 2),
                amount(percent, 2),
                taken.to_owned(),
                tell.src_of(one.entry),
            ]);
            readings.push(StripReading { x: hours, y: percent, kind });
        }
        let name = format!("cyl {}", place.cylinder_number().unwrap_or(0));
        lanes.push(StripSeries { name, limit, readings });
    }
    if table.rows.is_empty() {
        return None;
    }
    let words = Words {
        id: id(&["leakdown", cx.car(car)]),
        title: "Leak-down of each cylinder over the engine's hours".to_owned(),
        desc: "One lane for each cylinder by one scale. Filled dots were taken hot, hollow ones cold, squares do not say; \
               they are not joined with one another. The heavy line is the most that is usual."
            .to_owned(),
    };
    let limits = if limits.is_empty() {
        String::new()
    } else {
        format!("the most that is usual: {}", limits.join("; "))
    };
    Some(strip(words, ("engine hours", "%"), &lanes, &limits, table))
}
