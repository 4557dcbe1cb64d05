//! Jobs and promises, hours and bills.

use super::{Job, Readers, Text, Thing, Writer, date};

impl Writer<'_> {
    /// A job that lines of this block may belong to.
    fn open_job(&mut self) -> Option<usize> {
        let car = self.block.car;
        let owner = car.map(|car| self.cars[car].owner);
        let day = self.day;
        let open: Vec<usize> = (0..self.jobs.len())
            .filter(|at| {
                let job = &self.jobs[*at];
                job.open && job.car == car && job.owner == owner && job.opened <= day
            })
            .collect();
        self.pick.any(&open)
    }

    /// `on JOB`, so many times in a hundred.
    pub(super) fn on_job(&mut self, percent: u32) -> Text {
        if !self.pick.chance(percent) {
            return Text::default();
        }
        self.open_job().map_or_else(Text::default, |job| Text::of(&format!("  on j-{job}")))
    }

    pub(super) fn job(&mut self, car: Option<usize>) {
        let at = self.jobs.len();
        let planned = self.pick.chance(70);
        let owner = car.map(|car| self.cars[car].owner);
        self.jobs.push(Job { car, open: true, opened: self.day, owner });
        let (audience, readers) = self.audience(self.owner());
        let words = self.quoted(readers);
        let mut line = Text::of(&format!("job j-{at} ")).and(words);
        if planned {
            line = line.s("  planned");
        }
        if self.pick.chance(20)
            && let Some(part) = self.some_part(|part| part.spot != super::Spot::Gone)
        {
            let name = self.part(part);
            line = line.s("  on-part ").name(name);
        }
        if car.is_some() && self.pick.chance(30) {
            line = line.s(&format!("  promised {}", date(self.day + self.pick.between(10, 90))));
        }
        if self.pick.chance(20) {
            let (rate, other) = self.amount();
            line = line.s("  rate ").slot(&rate, &other, readers).s(" EUR");
        }
        self.say(line.and(audience));
        if !planned && self.pick.chance(70) {
            self.close(at);
        }
    }

    fn close(&mut self, job: usize) {
        self.jobs[job].open = false;
        let words = self.quoted(self.owner());
        self.say(Text::of(&format!("done j-{job} ")).and(words));
    }

    pub(super) fn done(&mut self) {
        if let Some(job) = self.open_job() {
            self.close(job);
        }
    }

    pub(super) fn defer(&mut self) {
        let Some(job) = self.open_job() else { return };
        let line = Text::of(&format!("defer j-{job} to "));
        let line = match self.pick.below(3) {
            0 => line.s("winter"),
            1 => line.s(&date(self.day + 30).to_string()),
            _ => {
                let words = self.quoted(self.owner());
                line.and(words)
            }
        };
        let reason = self.because(self.owner());
        self.say(line.and(reason));
    }

    pub(super) fn promise(&mut self) {
        let Some(job) = self.open_job() else { return };
        let mut readers = self.owner();
        let mut line = Text::of(&format!("promise j-{job}"));
        if self.block.car.is_none() || self.pick.chance(40) {
            let to = match self.block.car {
                Some(car) if self.pick.chance(70) => self.cars[car].owner,
                _ => self.present_client(),
            };
            readers |= 1 << to;
            line = line.s(" to ").name(Thing::Client(to));
        }
        let words = self.quoted(if self.block.car.is_none() { super::ALL } else { readers });
        let until = date(self.day + self.pick.between(5, 60));
        self.say(line.s(&format!(" until {until} ")).and(words));
    }

    /// Who pays a line: the head's car's owner, or somebody it is `to`. The clause, who reads the words, who the sum.
    fn payer(&mut self) -> (Text, Readers, Readers) {
        let owner = self.owner();
        if owner != 0 && !self.pick.chance(25) {
            return (Text::default(), owner, owner);
        }
        let to = self.present_client();
        (Text::of("  to ").name(Thing::Client(to)), owner | 1 << to, 1 << to)
    }

    pub(super) fn hours(&mut self) {
        let (to, readers, payers) = self.payer();
        let (audience, readers) = self.audience(readers);
        let payers = if readers == 0 { 0 } else { payers | readers & !self.owner() };
        let words = self.quoted(readers);
        let time = self.pick.of(&["2.25 h", "50 min", "0.5 h", "3 h"]);
        let mut line = Text::of("hours ").s(time).s(" ").and(words).and(self.on_job(50));
        line = line.and(self.by_person());
        if self.pick.chance(25) {
            let (rate, other) = self.amount();
            line = line.s("  rate ").slot(&rate, &other, payers).s(" EUR");
        } else if self.pick.chance(15) {
            line = line.s("  unbilled");
        }
        if let Some(event) = self.block.event.filter(|_| self.pick.chance(20)) {
            line = line.s(&format!("  at meet-{event}"));
        }
        self.say(line.and(to).and(audience));
    }

    pub(super) fn cost(&mut self, verb: &str) {
        let kind = self.pick.of(&["entry", "parts", "fuel", "consumables", "outside", "other", ""]);
        let split = verb == "cost" && self.pick.chance(30);
        let cars: Vec<usize> =
            (0..self.cars.len()).filter(|car| self.cars[*car].sold_by.is_empty()).collect();
        let (clause, readers, payers) = if split && cars.len() > 1 {
            let (one, two) = (cars[0], cars[1]);
            let ran = |car: usize| self.sessions.iter().any(|(one, _)| *one == car);
            // By what they ran only where one of them has run.
            let keys: &[&str] =
                if ran(one) || ran(two) { &["2:1", "equal", "minutes", "events"] } else { &["2:1", "equal"] };
            let key = self.pick.of(keys);
            let both = 1 << self.cars[one].owner | 1 << self.cars[two].owner;
            let clause = Text::of(&format!("  split {key} among "));
            // What it is shared by is what others ran: whoever pays a share reads it.
            (clause.name(Thing::Car(one)).s(", ").name(Thing::Car(two)), self.owner() | both, both)
        } else {
            self.payer()
        };
        let (audience, readers) = self.audience(readers);
        let payers = if readers == 0 { 0 } else { payers };
        let sum = self.sum(payers);
        let words = self.quoted(readers);
        let kind = if kind.is_empty() { String::new() } else { format!(" {kind}") };
        let mut line = Text::of(verb).s(" ").and(sum).s(&kind).s(" ").and(words);
        line = line.and(self.on_job(30));
        if self.pick.chance(30) {
            let from = self.quoted(readers);
            line = line.s("  from ").and(from);
            line = line.and(self.invoice_for(readers));
        }
        self.say(line.and(clause).and(audience));
    }

    /// What it costs to take part, paid by whom it may be.
    pub(super) fn entry_fee(&mut self) {
        let (to, readers, payers) = self.payer();
        let (for_whom, readers, payers) = if self.pick.chance(25) {
            (Text::of("  for shop"), 0, 0)
        } else {
            (Text::default(), readers, payers)
        };
        let sum = self.sum(payers);
        let words = self.quoted(readers);
        self.say(Text::of("cost ").and(sum).s(" entry ").and(words).and(to).and(for_whom));
    }

    fn invoice_for(&mut self, readers: Readers) -> Text {
        self.invoices += 1;
        let n = self.invoices;
        Text::of("  invoice \"").slot(&format!("R {n}"), &format!("S {n}"), readers).s("\"")
    }

    pub(super) fn quote(&mut self) {
        let Some(job) = self.open_job().filter(|job| self.jobs[*job].car.is_some()) else { return };
        let sum = self.sum(self.owner());
        let words = self.quoted(self.owner());
        self.say(Text::of("quote ").and(sum).s(&format!(" on j-{job} ")).and(words));
    }
}
