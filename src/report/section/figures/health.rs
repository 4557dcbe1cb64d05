//! What was read of an engine's cylinders over its hours, drawn. Readings that were not taken alike, or not of the same engine, are never joined.
//!
//! Must not know how a loss is worked out.

use crate::answer::due::unit;
use crate::book::model::CarId;
use crate::due::ends::{of_engine, renewals};
use crate::due::trend::{End, HOUR, READ, ReadOverHours};
use crate::figures::calc::Calc;
use crate::figures::taken;
use crate::history::Moment;
use crate::history::order::Rank;
use crate::report::chart::strip::{Strip, StripReading, StripSeries, strip_from};
use crate::report::chart::{Table, Words, id};
use crate::report::teller::Teller;
use crate::report::words::amount;
use crate::words::normal::whose;

/// The strip of a car's leak-down up to a rank; `None` without a reading at known hours.
pub(in crate::report) fn leakdown(tell: &Teller<'_>, car: CarId, until: Rank) -> Option<Strip> {
    let kept = READ.iter().find(|kept| kept.name == "leakdown")?;
    drawn(tell, car, until, kept, ("Leak-down", "lost"))
}

/// The strip of something read of each cylinder up to a rank, called so and with such a head in its table.
pub(in crate::report) fn drawn(
    tell: &Teller<'_>,
    car: CarId,
    until: Rank,
    kept: &ReadOverHours,
    (called, head): (&str, &str),
) -> Option<Strip> {
    let cx = &tell.cx;
    let trends = of_engine(cx.facts, car, until, kept);
    let unit = unit(tell.compiled, trends.first()?);
    let quantity = trends.first()?.quantity;
    let renewed = renewals(cx.facts, car);
    let mut calc = Calc::new(cx.facts, car, &Moment::of_rank(until));
    let symbol = unit.shown();
    let heads = ["cylinder".to_owned(), "engine hours".to_owned(), format!("{head}, {symbol}")];
    let head = heads.into_iter().chain(["taken".to_owned(), "line".to_owned()]).collect();
    let mut table = Table { head, rows: Vec::new() };
    let (mut lanes, mut limits) = (Vec::new(), Vec::<String>::new());
    let [mut floor, mut ceiling] = [None; 2];
    for place in crate::due::ends::cylinders(cx.book, car) {
        let mut readings = Vec::new();
        // The ends of what is usual, as the list of what is due has them.
        let usual = cx.book.normal(Some(car), quantity, place).usual;
        let ends = usual.map(|usual| [unit.from_si(usual.low), unit.from_si(usual.high)]);
        if let Some(([low, high], usual)) = ends.zip(usual) {
            let whose = whose(cx.book, usual.says);
            let told = |end: f64| format!("{} {symbol}", amount(end, if end.abs() >= 5.0 { 1 } else { 2 }));
            let words = match kept.bad {
                End::High => format!("{}{whose}", told(high)),
                End::Low => format!("{}{whose}", told(low)),
                End::Either => format!("{}, the most {}{whose}", told(low), told(high)),
            };
            if !limits.contains(&words) {
                limits.push(words);
            }
        }
        if let Some([low, _]) = ends.filter(|_| kept.bad != End::High) {
            floor = Some(floor.map_or(low, |floor: f64| floor.min(low)));
        }
        if let Some([_, high]) = ends.filter(|_| kept.bad == End::Either) {
            ceiling = Some(ceiling.map_or(high, |ceiling: f64| ceiling.max(high)));
        }
        for one in taken(&mut calc, kept.name, place) {
            let Some(hours) = one.hours else { continue };
            calc.rank = one.rank.next();
            let got = match kept.figure {
                Some(figure) => calc.named(figure, place),
                None => calc.reading(kept.name, place),
            };
            calc.rank = until;
            let Ok(fig) = got else { continue };
            let (kind, taken) = match one.hot {
                Some(true) => (0, "hot"),
                Some(false) => (1, "cold"),
                None => (2, "not said"),
            };
            let (hours, value) = (hours / HOUR, unit.from_si(fig.value));
            table.rows.push(vec![
                cx.place(place),
                amount(hours, 2),
                amount(value, 2),
                taken.to_owned(),
                tell.src_of(one.entry),
            ]);
            // What is another engine's, or another's since it was rebuilt, is no line with it.
            let engine = renewed.iter().filter(|(rank, _)| *rank <= one.rank).count();
            readings.push(StripReading { x: hours, y: value, kind, alike: (engine, one.alike) });
        }
        let name = format!("cyl {}", place.cylinder_number().unwrap_or(0));
        let limit = ends.map(|[low, high]| if kept.bad == End::High { high } else { low });
        lanes.push(StripSeries { name, limit, readings });
    }
    if table.rows.is_empty() {
        return None;
    }
    let bad = match kept.bad {
        End::High => "the most that is usual",
        End::Low | End::Either => "the least that is usual",
    };
    let words = Words {
        id: id(&[kept.name, cx.car(car)]),
        title: format!("{called} of each cylinder over the engine's hours"),
        desc: format!(
            "One lane for each cylinder by one scale. Filled dots were taken hot, hollow ones cold, squares do not say; \
             what was not taken alike is not joined. The heavy line is {bad}."
        ),
    };
    let limits = if limits.is_empty() { String::new() } else { format!("{bad}: {}", limits.join("; ")) };
    Some(strip_from(words, ("engine hours", symbol), &lanes, ([floor, ceiling], &limits), table))
}
