//! What stands in every book, and the many cars, events, sessions, parts, rules, gauges or jobs beside a construct.
//!
//! Must not know any recipe.

use super::page::Page;

/// What a construct is crossed with.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Side {
    Cars,
    Events,
    Sessions,
    Parts,
    Rules,
    Gauges,
    Jobs,
}

impl Side {
    pub const ALL: [Self; 7] =
        [Self::Cars, Self::Events, Self::Sessions, Self::Parts, Self::Rules, Self::Gauges, Self::Jobs];

    pub const fn word(self) -> &'static str {
        match self {
            Self::Cars => "cars",
            Self::Events => "events",
            Self::Sessions => "sessions",
            Self::Parts => "parts",
            Self::Rules => "rules",
            Self::Gauges => "gauges",
            Self::Jobs => "jobs",
        }
    }
}

/// What rules beside a construct limit.
const LIMITS: [&str; 8] = [
    "ride-height min 40 mm",
    "camber max 1 deg",
    "weight min 100 kg",
    "total-weight min 500 kg  with driver",
    "tyre-cold min 1 bar",
    "track min 1200 mm",
    "ballast max 60 kg",
    "brake-bias max 90 %",
];

/// Writes the shop and everything beside the construct.
pub fn write(page: &mut Page) {
    page.declare(
        "shop \"Growth\"  currency EUR  zone Europe/Dublin  rate 58.00 EUR\n\
         exchange GBP 1.17 EUR from 1999-01-01 \"the bank's\"\n\
         person ned \"Ned\"\nclient orr \"The Orrs\"\nclient kay \"The Kays\"\n\
         circuit ring \"The ring\"  length 1.20 km",
    );
    let cars = page.many(Side::Cars, 2);
    for at in 0..cars {
        page.declare(&format!(
            "car car-{at} \"Car {at}\"  client orr  class S-1  cylinders 4  gears 5\n  \
             wheelbase 2350 mm\n  reference driver 76 kg, fuel 20 L, bars off"
        ));
    }
    events(page, cars);
    for at in 0..page.many(Side::Gauges, 1) {
        page.declare(&format!("gauge gauge-{at} \"Gauge {at}\"  reads camber  resolution 0.1 deg"));
    }
    for at in 0..page.many(Side::Rules, 0) {
        page.declare(&format!("rule rule-{at} class S-1  {}", LIMITS[at % LIMITS.len()]));
    }
    page.block(0, "car-0");
    page.add("found camber -2.9 -3.1 -2.0 -2.0 deg");
    page.add("found weight 149.0 151.0 171.0 171.0 kg  with driver 78 kg, fuel 20 L, bars off");
    for at in 0..page.many(Side::Jobs, 1) {
        let car = page.car(at);
        page.block(0, &car);
        page.add(&format!("job job-{at} \"job {at}\""));
    }
    parts(page, cars);
    let sessions = page.many(Side::Sessions, 0);
    for at in 0..sessions {
        let (slot, event) = page.when(at, sessions);
        let car = page.car(at);
        page.block(slot, &format!("{car}{event}"));
        page.add(&format!("run s{at} 20 min 10 laps best 1:10.5"));
    }
}

/// Every other event is to come; each car is entered for one of those, and each of those has a car.
fn events(page: &mut Page, cars: usize) {
    let events = page.many(Side::Events, 1);
    let coming = events / 2;
    for at in 0..events {
        let mut entered: Vec<String> = Vec::new();
        if at % 2 == 1 {
            let first = at / 2;
            entered.extend((first..cars).step_by(coming).map(|car| format!("car-{car}")));
            if entered.is_empty() {
                entered.push(format!("car-{}", first % cars));
            }
        }
        let entered =
            if entered.is_empty() { String::new() } else { format!("  entered {}", entered.join(", ")) };
        page.declare(&format!("event event-{at} {} at ring \"Event {at}\"{entered}", page.event_day(at)));
    }
    let all: Vec<String> = (0..cars).map(|car| format!("car-{car}")).collect();
    page.declare(&format!("event event-next 2039-12-01 at ring \"The next\"  entered {}", all.join(", ")));
}

/// Parts beside the construct follow one another on the cars.
fn parts(page: &mut Page, cars: usize) {
    let parts = page.many(Side::Parts, 0);
    if parts > 0 {
        page.declare("kind side \"side part\"  fits LR  life 900 min");
    }
    for at in 0..parts {
        page.declare(&format!("part side-{at} side  opening new  price 10.00 EUR"));
        let (slot, event) = page.when(at, parts);
        page.block(slot, &format!("car-{}{event}", at % cars));
        match at.checked_sub(cars) {
            None => page.add(&format!("fit side-{at} LR")),
            Some(before) => page.add(&format!("swap side LR side-{before} -> side-{at}")),
        }
    }
}
