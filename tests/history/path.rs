//! Use summed along the path of a part equals use summed session by session, whatever was fitted, built and moved.
//!
//! The second sum comes from a model kept here while the book is written: who is in what, and a session's minutes
//! given to everything whose path ends on the car that ran.

// Whole minutes add up exactly.
#![allow(clippy::float_cmp)]

use super::{book, part};
use proptest::prelude::*;
use std::collections::BTreeMap;
use std::fmt::Write as _;
use stringline::history::order::Rank;
use stringline::history::usage::of_part;

const CARS: [&str; 2] = ["heron", "plover"];
const PLACES: [&str; 2] = ["LF", "RF"];
const UPRIGHTS: [&str; 2] = ["up-1", "up-2"];
const HUBS: [&str; 2] = ["hub-1", "hub-2"];
const BEARINGS: [&str; 2] = ["wb-1", "wb-2"];

#[derive(Debug, Clone)]
enum Step {
    /// An upright onto a car's place, off it, or from car to car.
    Upright(usize, usize, usize),
    /// A hub into an upright, or out.
    Hub(usize, usize),
    /// A bearing into a hub, or out.
    Bearing(usize, usize),
    /// A new life.
    Rebuild(usize),
    /// A session of a car.
    Run(usize, u32),
}

fn step() -> impl Strategy<Value = Step> {
    prop_oneof![
        (0..2usize, 0..2usize, 0..2usize).prop_map(|(part, car, place)| Step::Upright(part, car, place)),
        (0..2usize, 0..2usize).prop_map(|(part, into)| Step::Hub(part, into)),
        (0..2usize, 0..2usize).prop_map(|(part, into)| Step::Bearing(part, into)),
        (0..2usize).prop_map(Step::Rebuild),
        (0..2usize, 1..90u32).prop_map(|(car, minutes)| Step::Run(car, minutes)),
    ]
}

#[derive(Default)]
struct Model {
    on: [Option<(usize, usize)>; 2],
    hub_in: [Option<usize>; 2],
    bearing_in: [Option<usize>; 2],
    minutes: BTreeMap<&'static str, f64>,
    life: BTreeMap<&'static str, f64>,
}

impl Model {
    fn car_of(&self, name: &str) -> Option<usize> {
        let upright = |at: usize| self.on[at].map(|(car, _)| car);
        let hub = |at: usize| self.hub_in[at].and_then(upright);
        if let Some(at) = UPRIGHTS.iter().position(|each| *each == name) {
            return upright(at);
        }
        if let Some(at) = HUBS.iter().position(|each| *each == name) {
            return hub(at);
        }
        BEARINGS.iter().position(|each| *each == name).and_then(|at| self.bearing_in[at]).and_then(hub)
    }

    /// The lines of a step on its day, with their head; the model follows.
    fn take(&mut self, step: &Step, day: &str, label: usize, text: &mut String) {
        match *step {
            Step::Upright(part, car, place) => {
                let name = UPRIGHTS[part];
                let taken = self.on.contains(&Some((car, place)));
                match self.on[part] {
                    Some((was, _)) if taken || was == car => {
                        writeln!(text, "{day} {}\n  remove {name}\n", CARS[was]).unwrap();
                        self.on[part] = None;
                    }
                    Some((was, _)) => {
                        writeln!(
                            text,
                            "{day} {}\n  move {name} -> {} {}\n",
                            CARS[was], CARS[car], PLACES[place]
                        )
                        .unwrap();
                        self.on[part] = Some((car, place));
                    }
                    None if !taken => {
                        writeln!(text, "{day} {}\n  fit {name} {}\n", CARS[car], PLACES[place]).unwrap();
                        self.on[part] = Some((car, place));
                    }
                    None => {}
                }
            }
            Step::Hub(part, into) => {
                let (line, now) = match self.hub_in[part] {
                    Some(from) => (format!("strip {} from {}", HUBS[part], UPRIGHTS[from]), None),
                    None => (format!("build {} into {}", HUBS[part], UPRIGHTS[into]), Some(into)),
                };
                writeln!(text, "{day}\n  {line}\n").unwrap();
                self.hub_in[part] = now;
            }
            Step::Bearing(part, into) => {
                let (line, now) = match self.bearing_in[part] {
                    Some(from) => (format!("strip {} from {}", BEARINGS[part], HUBS[from]), None),
                    None => (format!("build {} into {}", BEARINGS[part], HUBS[into]), Some(into)),
                };
                writeln!(text, "{day}\n  {line}\n").unwrap();
                self.bearing_in[part] = now;
            }
            Step::Rebuild(part) => {
                writeln!(text, "{day}\n  rebuild {}\n", BEARINGS[part]).unwrap();
                self.life.insert(BEARINGS[part], 0.0);
            }
            Step::Run(car, minutes) => {
                writeln!(text, "{day} {}\n  run t{label}  {minutes} min\n", CARS[car]).unwrap();
                for name in UPRIGHTS.iter().chain(&HUBS).chain(&BEARINGS) {
                    if self.car_of(name) == Some(car) {
                        *self.minutes.entry(name).or_default() += f64::from(minutes);
                        *self.life.entry(name).or_default() += f64::from(minutes);
                    }
                }
            }
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 200, failure_persistence: None, ..ProptestConfig::default() })]
    #[test]
    fn use_along_the_path_is_use_by_session(steps in proptest::collection::vec(step(), 1..60)) {
        let (mut model, mut text) = (Model::default(), String::new());
        let mut day = jiff::civil::date(2024, 1, 1);
        for (label, step) in steps.iter().enumerate() {
            model.take(step, &day.to_string(), label, &mut text);
            day = day.tomorrow().unwrap();
        }
        let compiled = book(&text);
        let errors: Vec<_> = compiled.diagnostics.iter().filter(|one| one.check != "inner-part-forgotten").collect();
        prop_assert!(errors.is_empty(), "{errors:?}\n{text}");
        for name in UPRIGHTS.iter().chain(&HUBS).chain(&BEARINGS) {
            let id = part(&compiled, name);
            let all = of_part(&compiled.book, &compiled.history, id, Rank::START, Rank::END).minutes;
            let from = stringline::history::usage::since_rebuild(&compiled.history, id, Rank::END);
            let life = of_part(&compiled.book, &compiled.history, id, from, Rank::END).minutes;
            prop_assert_eq!(all, model.minutes.get(name).copied().unwrap_or(0.0), "{}\n{}", name, text);
            prop_assert_eq!(life, model.life.get(name).copied().unwrap_or(0.0), "{} since rebuilt\n{}", name, text);
        }
    }
}
