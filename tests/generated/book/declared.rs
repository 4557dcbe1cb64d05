//! Declarations: the shop and its people, clients, cars, places, gauges, parts; and at the end what came of the season.

use super::stock::{FIGURES, KINDS, QUANTITIES};
use super::words::{CARS, CLIENTS, PEOPLE};
use super::{ALL, Car, Event, Form, Known, Part, Piece, SHOP, Spot, Text, Thing, WORK, Writer, date};
use std::collections::BTreeMap;

impl Writer<'_> {
    /// Everything that stands before the season.
    pub(super) fn declare(&mut self) {
        self.out.paths = vec![Text::of("shop.sline"), Text::of("work.sline")];
        let known = |(name, other): (&'static str, &'static str), readers| Known { name, other, readers };
        let clients = 3 + self.pick.below(CLIENTS.len() - 2);
        self.out.clients =
            CLIENTS[..clients].iter().enumerate().map(|(at, pair)| known(*pair, 1 << at)).collect();
        self.out.people = PEOPLE.iter().map(|(name, other, ..)| known((name, other), 0)).collect();
        self.drivers = vec![0, 1, 3, 5];
        let cars = 2 + self.pick.below(CARS.len() - 1);
        self.out.cars = CARS[..cars].iter().map(|pair| known(*pair, 0)).collect();
        self.shop();
        self.places();
        self.gauges();
        for at in 0..cars {
            self.car(at);
        }
        self.kinds();
        self.quantities();
    }

    fn shop(&mut self) {
        self.line(SHOP, Text::of("shop \"Hollin Lane\"  currency EUR  zone Europe/Dublin  rate 58.00 EUR"));
        self.line(SHOP, Text::of("word washes means push"));
        self.line(SHOP, Text::of("exchange GBP 1.1725 EUR from 2025-01-01 \"the bank's, that morning\""));
        for at in 0..self.out.clients.len() {
            let client = Thing::Client(at);
            let line = Text::of("client ").name(client);
            let line = match at {
                0 => line.s(" \"The shop's own\"  unbilled"),
                _ => match self.pick.below(3) {
                    0 => line.s(" \"").titled(client, Form::Title).s("\""),
                    1 => line.s(" \"The ").titled(client, Form::Title).s(" family\""),
                    _ => line.s(" \"").titled(client, Form::Title).s(" & Sons\""),
                },
            };
            let line = if at > 0 && self.pick.chance(30) {
                let (rate, other) = self.amount();
                line.s("  rate ").slot(&rate, &other, 1 << at).s(" EUR")
            } else {
                line
            };
            self.line(SHOP, line);
        }
        for (at, (.., role, other)) in PEOPLE.iter().enumerate() {
            let person = Thing::Person(at);
            let role = Piece::OfPerson { text: (*role).to_owned(), other: (*other).to_owned(), person: at };
            let line = Text::of("person ").name(person).s(" \"").titled(person, Form::Title).s("\"");
            self.line(SHOP, line.s("  role \"").and(Text(vec![role])).s("\""));
        }
    }

    fn places(&mut self) {
        self.line(SHOP, Text::of("circuit pell-hill \"Pell Hill\"  length 1.20 km"));
        self.line(SHOP, Text::of("circuit quern \"Quern\"  length 2.34 km"));
        let mut from = 10 + self.pick.between(0, 10);
        for at in 0..=self.pick.below(5) {
            let event = Event { first: from, days: self.pick.between(1, 2) };
            self.events.push(event);
            from += event.days + self.pick.between(12, 40);
            self.event_line(at, event);
        }
    }

    fn event_line(&mut self, at: usize, event: Event) {
        let (first, last) = (date(event.first), date(event.first + event.days - 1));
        let dates = if event.days == 1 { first.to_string() } else { format!("{first}..{last}") };
        let circuit = if at.is_multiple_of(2) { "pell-hill" } else { "quern" };
        let line = Text::of(&format!("event meet-{at} {dates} at {circuit} \"Meeting {}", at + 1));
        let line = if self.knobs.loud_titles && self.pick.chance(30) {
            line.s(", the ").s(CLIENTS[1].0).s(" cup\"")
        } else {
            line.s("\"")
        };
        let line = match self.pick.below(4) {
            0 => line.s("  sessions 4"),
            1 => line.s("  sessions 5 on ").name(Thing::Car(0)).s(", ").name(Thing::Car(1)),
            2 => line.s("  zone Europe/Dublin"),
            _ => line,
        };
        self.line(SHOP, line);
    }

    fn gauges(&mut self) {
        for text in [
            "gauge cg-1 \"camber gauge\"  reads camber, caster  resolution 0.1 deg  repeats 0.1 deg  valid-until 2027-12-31",
            "gauge pg-1 \"dial gauge\"  reads tyre-cold, tyre-hot  resolution 0.01 bar",
            "gauge tw-1 \"torque wrench\"  reads wheel-torque  resolution 2 N.m  valid-until 2027-12-31",
            "gauge bg-1 \"bevel gauge\"  reads toe  resolution 0d05'",
        ] {
            self.line(SHOP, Text::of(text));
        }
        for text in
            ["class S-1 \"Sprint one\"", "  usual tyre-cold 1.0..2.7 bar", "  possible tread 0..20 mm"]
        {
            self.line(SHOP, Text::of(text));
        }
        for text in ["min 40 mm  from 2025-03-01 \"lowest point\"", "max 190 mm  until 2027-12-31"] {
            let name = if text.starts_with("min") { "low" } else { "high" };
            self.line(SHOP, Text::of(&format!("rule s1-{name} class S-1  ride-height {text}")));
        }
        self.line(SHOP, Text::of("rule s1-weight class S-1  weight-after-session min 405 kg  with driver"));
        self.line(SHOP, Text::of("rule gate at pell-hill  ride-height min 35 mm \"the gate\""));
    }

    fn car(&mut self, at: usize) {
        // The first has one car and no more: whoever sells has no other.
        let owner = match at {
            0 => 1,
            1 => 2,
            _ => self.pick.below(self.out.clients.len()),
        };
        self.out.cars[at].readers |= 1 << owner;
        let file = self.out.paths.len();
        let path = match self.pick.below(3) {
            0 => Text::default().name(Thing::Client(owner)).s("/").name(Thing::Car(at)),
            1 => Text::of("cars/").name(Thing::Car(at)),
            _ => Text::default().name(Thing::Client(owner)).s(&format!("-{at}")),
        };
        self.out.paths.push(path.s(".sline"));
        self.cars.push(Car {
            file,
            owner,
            sold_by: Vec::new(),
            meter: 100,
            values: BTreeMap::new(),
            ran: BTreeMap::new(),
            tight: false,
        });
        let car = Thing::Car(at);
        let line = Text::of("car ").name(car).s(" \"").titled(car, Form::Title).s(", ");
        let line = match self.pick.below(3) {
            0 => line.titled(Thing::Client(owner), Form::Possessive).s(" two-seater\""),
            1 => line.s("a sprint saloon\""),
            _ => line.s("once ").titled(Thing::Client(self.other_client(owner)), Form::Possessive).s("\""),
        };
        let class = if self.pick.chance(50) { "  class S-1" } else { "" };
        let line = line.s("  client ").name(Thing::Client(owner)).s(class).s("  units metric");
        self.line(SHOP, line);
        for text in [
            "cylinders 4",
            "gears 5",
            "drive rear",
            "body sports",
            "toe-over 400 mm",
            "reference driver 76 kg, fuel 20 L, bars off",
            "wheelbase 2350 mm",
            "every 60 events torque wheel-torque",
            "usual camber -5..1 deg",
            "possible ride-height 10..420 mm",
        ] {
            self.line(SHOP, Text::of("  ").s(text));
        }
        if self.pick.chance(50) {
            let (text, other) = self.pick.of(&super::words::PHRASES);
            let words = Piece::OfCar { text: text.to_owned(), other: other.to_owned(), car: at };
            let line = Text::of("  about chassis \"").and(Text(vec![words]));
            let line = if self.pick.chance(40) {
                line.s(", of the ").titled(Thing::Client(self.other_client(owner)), Form::Plural)
            } else {
                line
            };
            self.line(SHOP, line.s("\""));
        }
    }

    /// A client with a name, another than this one where there is one.
    pub(super) fn other_client(&mut self, owner: usize) -> usize {
        let named: Vec<usize> = (1..self.out.clients.len()).filter(|at| *at != owner).collect();
        self.pick.of(&named)
    }

    fn kinds(&mut self) {
        self.line(SHOP, Text::of("kind nut \"hub nut\"  keep 10"));
        for (at, kind) in KINDS.iter().enumerate() {
            let line = Text::of(&format!("kind {} \"{}\"  ", kind.name, kind.name.replace('-', " ")));
            let line = match kind.says.split_once("CARS") {
                Some((before, after)) => self.every_car(line.s(before)).s(after),
                None => line.s(kind.says),
            };
            let must = if kind.name == "hub" && self.pick.chance(20) { "  must" } else { "" };
            self.line(SHOP, line.s(must));
            for (name, says) in kind.specs {
                let line = Text::of(&format!("spec {name} of {} \"the {name} one\"  ", kind.name));
                let line = match says.split_once("PRICE") {
                    Some((before, after)) => {
                        let (price, _) = self.amount();
                        line.s(before).s(&price).s(" EUR").s(after)
                    }
                    None => line.s(says),
                };
                self.line(SHOP, line);
            }
            for n in 0..=self.pick.below(kind.most) {
                self.part_line(at, n);
            }
        }
    }

    fn every_car(&self, line: Text) -> Text {
        (0..self.cars.len()).fold(line, |line, car| {
            let line = if car > 0 { line.s(", ") } else { line };
            line.name(Thing::Car(car))
        })
    }

    fn part_line(&mut self, kind: usize, n: usize) {
        let part = self.parts.len();
        let name = KINDS[kind].name;
        // `z` sorts as `x` does among the others: after its own kind and number.
        self.out.parts.push((format!("{name}-{n}x"), format!("{name}-{n}z"), 0));
        self.out.payers.push(0);
        let mut line = Text::of("part ").name(Thing::Part(part)).s(" ").s(name);
        if let Some((spec, _)) = self.pick.any(KINDS[kind].specs) {
            line = line.s("  spec ").s(spec);
        }
        if self.pick.chance(40) {
            let (text, other) = (format!("{n:04}/B"), format!("{:04}/C", n + 500));
            line = line
                .s("  serial \"")
                .and(Text(vec![Piece::OfPart { text, other, part, paid: false }]))
                .s("\"");
        }
        let says = self.pick.any(KINDS[kind].part).unwrap_or("");
        let used = says.contains("opening") && !says.contains("new") || says.contains("paid");
        line = line.s("  ").s(says);
        if !used && !says.contains("price") && self.pick.chance(20) {
            let (text, other) = self.amount();
            line =
                line.s("  price ").and(Text(vec![Piece::OfPart { text, other, part, paid: true }])).s(" EUR");
        }
        let owner = if says.is_empty() && self.pick.chance(8) {
            let owner = self.pick.below(self.out.clients.len());
            self.out.parts[part].2 |= 1 << owner;
            line = line.s("  client ").name(Thing::Client(owner));
            Some(owner)
        } else {
            None
        };
        self.line(SHOP, line);
        let touched = (-1, 0);
        self.parts.push(Part {
            kind,
            spot: Spot::Stock,
            owner,
            failed: false,
            used: owner.is_some() || !says.is_empty(),
            touched,
        });
    }

    fn quantities(&mut self) {
        for text in QUANTITIES {
            if self.pick.chance(60) {
                self.line(SHOP, Text::of(text));
            }
        }
        for text in FIGURES {
            if self.pick.chance(60) {
                for line in text.lines() {
                    self.line(SHOP, Text::of(line));
                }
            }
        }
    }

    /// Named setups of sessions that were run, and an event still to come with who is entered.
    pub(super) fn declare_what_came_of_it(&mut self) {
        let sessions: Vec<(usize, usize)> = self.sessions.iter().copied().collect();
        for (n, (car, event)) in sessions.into_iter().enumerate().take(3) {
            let (text, other) = self.pick.of(&super::words::PHRASES);
            let moment = self.pick.of(&["/s1", "/start", "/end"]);
            // Whose the car was then is not kept here: both owners are taken to read it.
            let words = Piece::OfCar { text: text.to_owned(), other: other.to_owned(), car };
            let line = Text::of(&format!("baseline base-{n} ")).name(Thing::Car(car));
            self.line(SHOP, line.s(&format!(" meet-{event}{moment} \"")).and(Text(vec![words])).s("\""));
        }
        let at = self.events.len();
        let event = Event { first: self.day + self.pick.between(20, 60), days: 2 };
        let (first, last) = (date(event.first), date(event.first + 1));
        let line = Text::of(&format!("event meet-{at} {first}..{last} at quern \"The last one\""));
        let line = if self.pick.chance(50) { self.every_car(line.s("  entered ")) } else { line };
        self.events.push(event);
        self.line(SHOP, line);
        if self.pick.chance(50) {
            self.line(WORK, Text::of("# nothing more this year").slot(", he said", ", she said", 0));
        }
        let _ = ALL;
    }
}
