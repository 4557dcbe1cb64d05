//! A clock of use and the unit it is told in: minutes or hours, kilometres, counts.
//!
//! Must not know any view.

use crate::book::Book;
use crate::book::model::{CarId, Clock, KindId, PartId};
use crate::source::Files;
use crate::units::number;

/// What is told of "at least nothing".
pub const NOT_KNOWN: &str = "not known";

/// How a distance in miles is typed.
const MILES: [&str; 3] = ["mile", "miles", "mi"];

/// Whole numbers below this have an exact integer.
const WHOLE: f64 = 1e15;

/// How amounts on a clock are told.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Scale {
    /// The clock.
    pub clock: Clock,
    told: Told,
}

/// In which unit of its clock.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Told {
    /// Minutes, kilometres, counts.
    Plain,
    Hours,
    Miles,
}

impl Scale {
    /// In the unit a kind's limit is typed in; minutes for running time without one.
    #[must_use]
    pub fn of_kind(book: &Book, files: &Files, kind: KindId, clock: Clock) -> Self {
        let declared = book.kinds.get(kind).map_or(&[][..], |kind| kind.life.as_slice());
        let specs = book.specs_of(kind).flat_map(|(_, spec)| &spec.life);
        let typed = declared.iter().chain(specs).find(|limit| limit.clock == clock);
        let typed = typed.map_or("", |limit| files.text(limit.typed));
        Self::typed(clock, typed)
    }

    /// In the unit that all those cars speak: miles for a distance where each is imperial. Of none (shop work, all together) those of the book.
    #[must_use]
    pub fn of_cars(book: &Book, cars: &[CarId], clock: Clock) -> Self {
        let imperial = |car: &CarId| book.cars.get(*car).is_some_and(|car| car.imperial);
        let all: Vec<CarId> = if cars.is_empty() { book.cars.keys().collect() } else { cars.to_vec() };
        let miles = matches!(clock, Clock::Distance | Clock::StageDistance)
            && !all.is_empty()
            && all.iter().all(imperial);
        Self { clock, told: if miles { Told::Miles } else { Told::Plain } }
    }

    /// In which a part's use is told: a distance as its limit or what it ran before the book is typed, else as the cars speak that its kind
    /// fits; minutes for running time.
    #[must_use]
    pub fn of_part(book: &Book, files: &Files, part: PartId, clock: Clock) -> Self {
        if !matches!(clock, Clock::Distance | Clock::StageDistance) {
            return Self::plain(clock);
        }
        let declared = book.parts.get(part);
        let opening = declared.map_or(&[][..], |part| part.opening.as_slice());
        let (limits, _) = book.limits(part);
        let typed = limits.iter().chain(opening).find(|amount| amount.clock == clock);
        if let Some(amount) = typed {
            return Self::typed(clock, files.text(amount.typed));
        }
        let kind = declared.and_then(|part| part.kind).and_then(|kind| book.kinds.get(kind));
        let fits = kind.map_or(&[][..], |kind| kind.fits.as_slice());
        let cars: Vec<CarId> = fits.iter().flat_map(|fit| &fit.cars).copied().collect();
        Self::of_cars(book, &cars, clock)
    }

    /// The length of a lap as a car speaks: "1.2 km", "0.5 mile".
    #[must_use]
    pub fn lap_length(book: &Book, car: CarId, metres: f64) -> String {
        let scale = Self::of_cars(book, &[car], Clock::Distance);
        format!("{} {}", super::amount(metres / scale.factor(), 3), scale.unit(true))
    }

    /// In the unit of an amount as typed: hours for `5 h`, miles for `300 mile`, else as [`Scale::plain`].
    #[must_use]
    pub fn typed(clock: Clock, typed: &str) -> Self {
        let typed = typed.to_ascii_lowercase();
        let told = match clock {
            Clock::Time if typed.ends_with('h') => Told::Hours,
            Clock::Distance | Clock::StageDistance if MILES.iter().any(|word| typed.ends_with(word)) => {
                Told::Miles
            }
            _ => Told::Plain,
        };
        Self { clock, told }
    }

    /// Minutes for running time.
    #[must_use]
    pub const fn plain(clock: Clock) -> Self {
        Self { clock, told: Told::Plain }
    }

    /// Whether it tells miles.
    #[must_use]
    pub const fn is_in_miles(self) -> bool {
        matches!(self.told, Told::Miles)
    }

    /// One unit in SI: seconds, metres, a count, a month.
    #[must_use]
    pub const fn factor(self) -> f64 {
        match (self.clock, self.told) {
            (Clock::Time, Told::Hours) => 3600.0,
            (Clock::Time, _) => 60.0,
            (Clock::Distance | Clock::StageDistance, Told::Miles) => 1609.344,
            (Clock::Distance | Clock::StageDistance, _) => 1000.0,
            _ => 1.0,
        }
    }

    /// The unit's word for one, or for many.
    #[must_use]
    pub const fn unit(self, one: bool) -> &'static str {
        match (self.clock, one) {
            (Clock::Time, _) if matches!(self.told, Told::Hours) => "h",
            (Clock::Time, _) => "min",
            (Clock::Distance, _) if matches!(self.told, Told::Miles) => "mile",
            (Clock::Distance, _) => "km",
            (Clock::StageDistance, _) if matches!(self.told, Told::Miles) => "stage mile",
            (Clock::StageDistance, _) => "stage km",
            (Clock::Laps, true) => "lap",
            (Clock::Laps, false) => "laps",
            (Clock::Days, true) => "day",
            (Clock::Days, false) => "days",
            (Clock::Events, true) => "event",
            (Clock::Events, false) => "events",
            (Clock::Sessions, true) => "session",
            (Clock::Sessions, false) => "sessions",
            (Clock::Launches, true) => "launch",
            (Clock::Launches, false) => "launches",
            (Clock::HeatCycles, true) => "heat cycle",
            (Clock::HeatCycles, false) => "heat cycles",
            (Clock::Months, true) => "month",
            (Clock::Months, false) => "months",
        }
    }

    /// What the clock is called: "running time", "days".
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self.clock {
            Clock::Time => "running time",
            Clock::Distance => "distance",
            Clock::StageDistance => "stage distance",
            _ => self.unit(false),
        }
    }

    /// Whether the clock counts whole things.
    #[must_use]
    pub const fn whole(self) -> bool {
        !matches!(self.clock, Clock::Time | Clock::Distance | Clock::StageDistance | Clock::Months)
    }

    /// The digits of an SI value in this unit: as few decimals as it needs, at most one, of kilometres two; what is there
    /// never shows as nothing.
    #[must_use]
    pub fn digits(self, value: f64) -> String {
        let value = value / self.factor();
        if value > 0.0 && value < 0.05 {
            return "under 0.1".to_owned();
        }
        if (0.0..WHOLE).contains(&value) && libm::floor(value).to_bits() == value.to_bits() {
            return (value as u64).to_string();
        }
        super::amount(value, if matches!(self.clock, Clock::Distance | Clock::StageDistance) { 2 } else { 1 })
    }

    /// "292 min", "1 day".
    #[must_use]
    pub fn words(self, value: f64) -> String {
        let digits = self.digits(value);
        let unit = self.unit(digits == "1");
        format!("{digits} {unit}")
    }

    /// The same in a list of clocks, where "not known" must say what is not: "running time not known".
    #[must_use]
    pub fn told_of(self, value: f64, at_least: bool) -> String {
        if at_least && value <= 0.0 {
            format!("{} {NOT_KNOWN}", self.name())
        } else {
            self.told(value, at_least)
        }
    }

    /// "292 min", "at least 12 laps"; "not known" for at least nothing.
    #[must_use]
    pub fn told(self, value: f64, at_least: bool) -> String {
        if at_least && value <= 0.0 {
            return NOT_KNOWN.to_owned();
        }
        let words = self.words(value);
        if at_least { format!("at least {words}") } else { words }
    }
}

/// A law of life from fewer failures than this tells no chance.
pub const FEWEST: usize = 3;

/// "cannot tell: 1 failed", where that is too few for a chance; else nothing.
#[must_use]
pub fn too_few(failures: usize) -> Option<String> {
    (failures < FEWEST).then(|| format!("cannot tell: {failures} failed"))
}

/// "the limit of 300 min is more than half of them last (276 min): shorten it."
#[must_use]
pub fn limit_too_long(limit: &str, median: &str) -> String {
    format!("the limit of {limit} is more than half of them last ({median}): shorten it.")
}

/// How often something is seen: "6 times in 100", "once in 100", "less than once in 1000".
#[must_use]
pub fn how_often(share: f64) -> String {
    if share < 0.001 {
        return "less than once in 1000".to_owned();
    }
    match number::format(share * 100.0, u8::from(share < 0.01)).as_str() {
        "1" | "1.0" => "once in 100".to_owned(),
        times => format!("{times} times in 100"),
    }
}

/// "31 %", "4.2 %", "under 0.1 %". No chance is certain: what rounds to all is "over 99.9 %".
#[must_use]
pub fn percent(share: f64) -> String {
    let value = share * 100.0;
    if value <= 0.0 {
        "0 %".to_owned()
    } else if value < 0.1 {
        "under 0.1 %".to_owned()
    } else if value > 99.9 {
        "over 99.9 %".to_owned()
    } else {
        format!("{} %", number::format(value, u8::from(!(9.95..=90.05).contains(&value))))
    }
}
