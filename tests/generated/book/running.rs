//! Sessions, and what the driver and the shop had to say of them.

use super::{Text, Writer, clock};

impl Writer<'_> {
    pub(super) fn run(&mut self, car: usize) {
        if self.block.clock > 17 * 60 {
            return;
        }
        let session = self.next_session(car);
        let from = self.block.clock + self.pick.between(5, 40);
        let minutes = self.pick.between(8, 20);
        self.block.clock = from + minutes;
        let laps = minutes - 2;
        let mut line = format!("{}..{} run {session}  {laps} laps", clock(from), clock(from + minutes));
        if self.pick.chance(20) {
            line += "  1 launch";
        }
        let text = Text::of(&line).and(self.by_driver(car));
        let text = if self.pick.chance(40) { text.s("  with air 14 C, track 19 C, damp") } else { text };
        let (audience, _) =
            if self.pick.chance(10) { self.audience(self.owner()) } else { (Text::default(), 0) };
        self.say(text.and(audience));
        self.block.laps = self.pick.chance(30);
        if self.block.laps {
            self.say_at(2, Text::of("laps 1:01.2 out-lap 0:59.4 0:58.8 1:03.0 in-lap"));
        }
        if self.pick.chance(40) {
            self.say_words(2);
        }
        if self.pick.chance(20) {
            self.think(2);
        }
        if self.pick.chance(30) {
            self.say_at(2, Text::of("read tyre-hot 1.71 1.74 1.66 1.68 bar  by pg-1"));
        }
    }

    /// The label of the next session: those of an event are numbered through its days; at a test they begin anew.
    fn next_session(&mut self, car: usize) -> String {
        let session = match self.block.event {
            Some(event) => {
                self.sessions.insert((car, event));
                let ran = self.cars[car].ran.entry(event).or_insert(0);
                *ran += 1;
                format!("s{ran}")
            }
            None => format!("t{}", self.block.last.map_or(1, |last| last + 1)),
        };
        self.block.last = Some(self.block.last.map_or(1, |last| last + 1));
        self.block.laps = true;
        session
    }

    /// A session that two drivers share, with a stop between.
    pub(super) fn shared(&mut self, car: usize) {
        if self.block.clock > 17 * 60 {
            return;
        }
        let session = self.next_session(car);
        let from = self.block.clock + self.pick.between(5, 40);
        let first = from + self.pick.between(5, 20);
        let stop = self.pick.between(1, 6);
        let until = first + stop + self.pick.between(5, 20);
        self.block.clock = until;
        self.say(Text::of(&format!("{}..{} run {session}", clock(from), clock(until))));
        let laps = first - from;
        let line =
            Text::of(&format!("{}..{} stint", clock(from), clock(first))).and(self.by_driver_named(car));
        self.say_at(2, line.s(&format!("  {laps} laps")));
        let words = self.quoted(self.owner());
        self.say_at(2, Text::of(&format!("{}..{} stop ", clock(first), clock(first + stop))).and(words));
        if self.pick.chance(60) {
            self.say_at(3, Text::of("fill fuel +10 L"));
        }
        let line = Text::of(&format!("{}..{} stint", clock(first + stop), clock(until)))
            .and(self.by_driver_named(car));
        self.say_at(2, line.s(&format!("  {} laps", until - first - stop)));
    }

    /// A session of stages, and the road between them.
    pub(super) fn staged(&mut self, car: usize) {
        if self.block.clock > 17 * 60 {
            return;
        }
        let session = self.next_session(car);
        let from = self.block.clock + 10;
        self.block.clock = from + 40;
        let line = Text::of(&format!("{}..{} run {session}  road 21 km", clock(from), clock(from + 40)));
        let driver = self.by_driver(car);
        self.say(line.and(driver));
        for (stage, time) in [("ss1", "5:10.4"), ("ss2", "4:41.0")] {
            self.say_at(2, Text::of(&format!("stage {stage} 7.5 km {time}")));
        }
    }

    /// What came of the session run last.
    pub(super) fn result(&mut self) {
        let Some(session) = self.session() else { return };
        let (audience, readers) = self.audience(self.owner());
        let payers = if readers == 0 { 0 } else { self.owner() };
        let words = self.quoted(readers);
        let line = Text::of(&format!("result {session} grid 4 finish 3 points 8 ")).and(words);
        let prize = self.pick.chance(40).then(|| self.sum(payers));
        self.say(prize.map_or(line.clone(), |prize| line.s("  prize ").and(prize)).and(audience));
    }

    /// A slip of memory, and what it was all along.
    pub(super) fn correct(&mut self) {
        self.say(Text::of("read brake-bias 57.3 %"));
        let reason = self.because(self.owner());
        self.say(Text::of("correct brake-bias 57.3 -> 59.1 %").and(reason));
    }

    /// Lap times of the session run last, by its label.
    pub(super) fn laps(&mut self) {
        if !self.block.laps
            && let Some(session) = self.session()
        {
            self.block.laps = true;
            self.say(Text::of(&format!("laps {session} 1:01.2 out-lap 0:59.4 0:58.8")));
        }
    }

    /// The label of the session run last in the block.
    pub(super) fn session(&self) -> Option<String> {
        let (car, last) = (self.block.car?, self.block.last?);
        Some(match self.block.event {
            Some(event) => format!("s{}", self.cars[car].ran[&event]),
            None => format!("t{last}"),
        })
    }

    pub(super) fn say_words(&mut self, depth: usize) {
        let (audience, readers) = self.audience(self.owner());
        let phase = self.pick.of(&["entry push, exit neutral ", "mid nervous ", ""]);
        let words = self.quoted(readers);
        self.say_at(depth, Text::of("say ").s(phase).and(words).and(audience));
    }

    pub(super) fn think(&mut self, depth: usize) {
        let (audience, readers) = self.audience(self.owner());
        let words = self.quoted(readers);
        let unsure = self.pick.of(&["", " unsure"]);
        self.say_at(depth, Text::of("think ").and(words).s(unsure).and(audience));
    }

    /// A trial is declared; it sets nothing.
    pub(super) fn planned(&mut self) {
        let line = self.pick.of(&[
            "try bar-hole front A 1, B 3 order A B A B A",
            "try brake-bias A 57, B 59, C 61 % order A B C C B A",
            "try tyre-cold front A 1.50, B 1.60 bar order A B B A",
        ]);
        self.say(Text::of(line));
    }

    pub(super) fn hit(&mut self) {
        let Some(session) = self.session() else { return };
        let place = self.pick.of(&["LF", "RF", "rear"]);
        let words = self.quoted(self.owner());
        let job = self.on_job(30);
        self.say(Text::of(&format!("hit {place} ")).and(words).s(&format!(" during {session}")).and(job));
        self.lost_sessions();
    }

    /// What was paid for the sessions that it may have cost.
    pub(super) fn lost_sessions(&mut self) {
        if self.block.event.is_some() {
            self.entry_fee();
        }
    }
}
