//! The season: day after day a block of a car's or of the shop's, and in it one verb after another.

use super::{Block, Text, Thing, WORK, Writer, clock, date};
use stringline::book::entry::Verb;

/// Most blocks of a book.
const MOST: usize = 60;

impl Writer<'_> {
    pub(super) fn season(&mut self) {
        while self.pick.left() > 0 && self.block.number < MOST {
            let (before, step) = (self.day, self.pick.between(1, 9));
            self.day += step;
            // Nobody misses a meeting for want of a free day.
            let due =
                self.events.iter().map(|one| one.first).find(|first| (before + 1..=self.day).contains(first));
            self.day = due.unwrap_or(self.day);
            let event =
                self.events.iter().position(|one| (one.first..one.first + one.days).contains(&self.day));
            match event {
                // Several cars on a day of an event, one after another.
                Some(event) => {
                    let mut there = std::collections::BTreeSet::new();
                    for _ in 0..2 + self.pick.below(3) {
                        let car = self.pick.below(self.cars.len());
                        if there.insert(car) {
                            self.car_block(car, Some(event));
                        }
                    }
                }
                None if self.pick.chance(20) => self.shop_block(),
                None => {
                    let car = self.pick.below(self.cars.len());
                    let sold: Vec<usize> =
                        (0..self.cars.len()).filter(|car| !self.cars[*car].sold_by.is_empty()).collect();
                    // What comes after a sale is what few people think of.
                    let car = if self.pick.chance(30) { self.pick.any(&sold).unwrap_or(car) } else { car };
                    self.car_block(car, None);
                }
            }
        }
    }

    fn car_block(&mut self, car: usize, event: Option<usize>) {
        let number = self.block.number + 1;
        let clock = 8 * 60;
        self.block = Block { car: Some(car), event, number, clock, last: None, laps: false, sold: false };
        let owner = self.cars[car].owner;
        let mut head = Text::of(&date(self.day).to_string()).s(" ").name(Thing::Car(car));
        if let Some(event) = event {
            head = head.s(&format!(" at meet-{event}"));
        }
        if !self.cars[car].sold_by.is_empty() {
            head = head.s(" for ").name(Thing::Client(owner));
        }
        if self.pick.chance(10) {
            self.out.people[4].readers |= 1 << owner;
            head = head.s(" by ").name(Thing::Person(4));
        }
        if self.pick.chance(5) {
            head = head.s(&format!(" written {}", date(self.day + 2)));
        }
        if self.pick.chance(15) {
            let words = self.quoted(1 << owner);
            head = head.s(" ").and(words);
        }
        let file = self.cars[car].file;
        self.line(file, Text::default());
        self.line(file, head);
        if event.is_some() && self.pick.chance(50) {
            self.entry_fee();
        }
        for _ in 0..=self.pick.below(9) {
            if self.block.sold {
                break;
            }
            self.something();
        }
        // Sessions that were paid for are lost to an impact now and then.
        if event.is_some() && self.block.number.is_multiple_of(3) && !self.block.sold {
            self.hit();
        }
        if self.block.number > 6 && car < 2 && !self.block.sold && self.pick.chance(25) {
            self.sell(Some(car));
        }
    }

    fn shop_block(&mut self) {
        let number = self.block.number + 1;
        self.block = Block { number, clock: 8 * 60, ..Block::default() };
        self.line(WORK, Text::default());
        let head = Text::of(&date(self.day).to_string());
        let head = if self.pick.chance(15) { head.s(" ").s(&clock(8 * 60)) } else { head };
        self.line(WORK, head);
        for _ in 0..=self.pick.below(6) {
            self.something();
        }
    }

    /// One line of some verb, with those that belong to it; nothing where it would not be honest.
    fn something(&mut self) {
        // Of each verb's lines about as many as a shop writes.
        let verb = match self.pick.below(3) {
            0 => self.pick.of(&[
                Verb::Run,
                Verb::Set,
                Verb::Fit,
                Verb::Fit,
                Verb::Cost,
                Verb::Hours,
                Verb::Read,
                Verb::Failed,
            ]),
            _ => self.pick.of(Verb::ALL),
        };
        let car = self.block.car;
        match (verb, car) {
            (Verb::Set, Some(car)) => self.set(car),
            (Verb::Adjust, Some(car)) => self.adjust(car),
            (Verb::Found, Some(car)) => self.found(car),
            (Verb::Left, Some(car)) => self.left(car),
            (Verb::Read, Some(car)) => self.read(car),
            (Verb::Fill, Some(_)) => self.fill(),
            (Verb::Torque, Some(car)) => self.torque(car),
            (Verb::Recheck, Some(car)) => self.recheck(car),
            (Verb::Compare, _) => self.compare(),
            (Verb::Sweep, Some(_)) => self.sweep(),
            (Verb::Lift, Some(_)) => self.lift(),
            (Verb::Void, Some(car)) => self.void(car),
            (Verb::Waive, Some(_)) => self.waive(),
            (Verb::Bench, _) => self.bench(),
            (Verb::Points, _) => self.points(),
            (Verb::Fit, Some(car)) => self.fit(car),
            (Verb::Remove, Some(car)) => self.remove(car),
            (Verb::Swap, Some(car)) => self.swap(car),
            (Verb::Move, Some(car)) => self.move_part(car),
            (Verb::Build, _) => self.build(),
            (Verb::Strip, _) => self.strip(),
            (Verb::Rebuild, _) => self.rebuild(),
            (Verb::Shelve, _) => self.shelve(),
            (Verb::Quarantine, _) => self.quarantine(),
            (Verb::Release, _) => self.release(),
            (Verb::Scrap, _) => self.scrap(),
            (Verb::Buy, _) => self.buy(),
            (Verb::Sell, car) => self.sell(car),
            (Verb::Failed, Some(car)) => self.failed(car),
            (Verb::Lend, _) => self.lend(),
            (Verb::Borrow, _) => self.borrow(),
            (Verb::Return, _) => self.give_back(),
            (Verb::Count, None) => self.count(),
            (Verb::Use, None) => self.use_up(),
            (Verb::Paid, _) => self.paid(),
            (Verb::Handed, _) => self.handed(),
            (Verb::Inspect, _) => self.inspect(),
            (Verb::Service, _) => self.service(),
            (Verb::Hit, Some(_)) => self.hit(),
            (Verb::Run, Some(car)) => self.run(car),
            (Verb::Stint | Verb::Stop, Some(car)) => self.shared(car),
            (Verb::Stage, Some(car)) => self.staged(car),
            (Verb::Laps, Some(_)) => self.laps(),
            (Verb::Result, Some(_)) => self.result(),
            (Verb::Correct, Some(_)) => self.correct(),
            (Verb::Say, Some(_)) => self.say_words(1),
            (Verb::Think, Some(_)) => self.think(1),
            (Verb::Try, Some(_)) => self.planned(),
            (Verb::Job, car) => self.job(car),
            (Verb::Done, _) => self.done(),
            (Verb::Defer, _) => self.defer(),
            (Verb::Promise, _) => self.promise(),
            (Verb::Hours, _) => self.hours(),
            (Verb::Cost, _) => self.cost("cost"),
            (Verb::Credit, _) => self.cost("credit"),
            (Verb::Quote, _) => self.quote(),
            (Verb::Note, _) => self.note(),
            // The rest are about a car, and the shop's own blocks are not.
            (
                Verb::Set
                | Verb::Adjust
                | Verb::Found
                | Verb::Left
                | Verb::Read
                | Verb::Fill
                | Verb::Torque
                | Verb::Recheck
                | Verb::Sweep
                | Verb::Lift
                | Verb::Void
                | Verb::Waive
                | Verb::Fit
                | Verb::Remove
                | Verb::Swap
                | Verb::Move
                | Verb::Failed
                | Verb::Hit
                | Verb::Run
                | Verb::Stint
                | Verb::Stage
                | Verb::Stop
                | Verb::Laps
                | Verb::Result
                | Verb::Correct
                | Verb::Say
                | Verb::Think
                | Verb::Try,
                None,
            ) => {}
            // Counted in the shop alone.
            (Verb::Count | Verb::Use, Some(_)) => {}
        }
    }

    fn note(&mut self) {
        let owner = self.owner();
        let (who, readers) = match self.pick.below(6) {
            0 => ("for client: ", owner),
            1 => ("for buyer: ", owner),
            2 => ("for shop: ", 0),
            _ => ("", 0),
        };
        let words = self.words(if self.block.car.is_none() && readers != 0 { super::ALL } else { readers });
        self.say(Text::of("| ").s(who).and(words));
        if self.pick.chance(10) {
            let words = self.words(0);
            self.say(Text::of("# ").and(words));
        }
    }
}
