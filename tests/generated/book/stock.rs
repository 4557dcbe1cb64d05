//! The kinds of part a shop has, and the lines that declare them.
//!
//! Must not know clients.

/// A kind of part.
#[derive(Debug, Clone, Copy)]
pub struct Kind {
    pub name: &'static str,
    /// Where it goes on a car; none for what lives inside another.
    pub places: &'static [&'static str],
    /// The kind it lives in.
    pub inside: Option<usize>,
    /// What stands on its line; `CARS` for every car.
    pub says: &'static str,
    /// Specs: a name, and what stands on its line; `PRICE` for a price.
    pub specs: &'static [(&'static str, &'static str)],
    /// How many parts at most.
    pub most: usize,
    /// What may stand on a part's line.
    pub part: &'static [&'static str],
}

/// Every kind.
pub const KINDS: [Kind; 11] = [
    Kind {
        name: "coupling",
        places: &["LR", "RR"],
        inside: None,
        says: "fits LR RR on CARS  life 3000 min, 20 events  safety  failure-costs 70.00 EUR  carried boot",
        specs: &[("std", "price PRICE"), ("thick", "price PRICE  life 6000 min")],
        most: 7,
        part: &["opening 55 min, 2 days", "opening new", "opening 0 min  paid"],
    },
    Kind {
        name: "spring",
        places: &["LF", "RF", "LR", "RR"],
        inside: None,
        says: "fits LF RF LR RR  gives spring-rate",
        specs: &[("s70", "price PRICE  tag spring-rate 70 N/mm"), ("s80", "tag spring-rate 80 N/mm")],
        most: 6,
        part: &["tag spring-rate 71 N/mm", "opening new", "paid"],
    },
    Kind {
        name: "damper",
        places: &["LF", "RF", "LR", "RR"],
        inside: None,
        says: "fits LF RF LR RR  carries rebound, bump  clicks 0..20 from full-hard  every 30 events rebuild",
        specs: &[],
        most: 6,
        part: &["opening new", "paid", "price 180.00 EUR"],
    },
    Kind {
        name: "hub",
        places: &["LF", "RF"],
        inside: None,
        says: "fits LF RF",
        specs: &[],
        most: 4,
        part: &["opening 10 h", "paid"],
    },
    Kind {
        name: "bearing",
        places: &[],
        inside: Some(3),
        says: "inside hub  life 80 days",
        specs: &[("steel", "price PRICE")],
        most: 4,
        part: &["opening new"],
    },
    Kind {
        name: "tyre-set",
        places: &["all"],
        inside: None,
        says: "fits all  consumable  life 400 heat-cycles",
        specs: &[("wet", "price PRICE")],
        most: 4,
        part: &["opening 2 heat-cycles", "opening new"],
    },
    Kind {
        name: "extinguisher",
        places: &["bulkhead"],
        inside: None,
        says: "fits bulkhead  valid 24 months from serviced, 10 years from made",
        specs: &[],
        most: 3,
        part: &["made 2023-04  serviced 2025-01-30"],
    },
    Kind {
        name: "belts",
        places: &["cockpit"],
        inside: None,
        says: "fits cockpit  valid 5 years from made  safety",
        specs: &[("two-year", "valid 2 years from made")],
        most: 3,
        part: &["made 2024-07", "made 2024-02-29  valid-until 2027"],
    },
    Kind {
        name: "net",
        places: &["window"],
        inside: None,
        says: "fits window  valid 24 months from fitted",
        specs: &[],
        most: 2,
        part: &["fitted 2024-06", "opening new  paid"],
    },
    Kind {
        name: "bolts",
        places: &["diff"],
        inside: None,
        says: "fits diff  one-use",
        specs: &[("ten", "price PRICE")],
        most: 3,
        part: &[],
    },
    Kind {
        name: "pad",
        places: &["front"],
        inside: None,
        says: "fits front  consumable  every 4000 min, 40 events read pad-thickness",
        specs: &[],
        most: 3,
        part: &["opening new"],
    },
];

/// Quantities of the shop's own.
pub const QUANTITIES: [&str; 5] = [
    "quantity shift-travel length car  area driveline  usual 5..30 mm  possible 0..60 mm  show mm, in  also lever-throw  \"lever travel to the next gear\"",
    "quantity seat-height length car  area chassis  relative  possible -100..400 mm  \"seat over the floor\"",
    "quantity stack-load ratio corner of part  area dampers  disturbed-by camber, hit  needs driver  triple  \"shims\"",
    "quantity lamp-hours time car  rear-axle  area electrics  counter  \"the lamp's own meter\"",
    "quantity pump-leak ratio car  area fuel  pair  supply  \"share lost\"",
];

/// Figures of the shop's own, a line of every sort among them.
pub const FIGURES: [&str; 4] = [
    "figure girth-split length axle  area tyres  show mm, in  called \"stagger of the axle\"  \"right circumference less left\"
  is c_r - c_l
    careful result > 60 mm \"more than most axles take\"
  c_r = tyre-circumference right  above zero
  c_l = tyre-circumference left
  source \"common practice\"
  convention \"positive: the right tyre is the bigger one\"",
    "figure nose-load weight axle  area weights  \"what the nose carries\"
  is left_q + right_q
    at front
    must left_q > 0 \"some weight\"
    when left_q > 1 N
    inferred
    estimated
  left_q = weight left
  right_q = weight right",
    "figure half-nose ratio car  step  \"half of the nose\"
  is front_q
    plain
  front_q = front-weight",
    "figure drawn-load ratio car  in-code \"read off a drawing\"  \"what the drawing says\"",
];
