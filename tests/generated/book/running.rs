//! Sessions, and what the driver and the shop had to say of them.

use super::{Text, Writer, clock};

impl Writer<'_> {
    pub(super) fn run(&mut self, car: usize) {
        if self.block.clock > 17 * 60 {
            return;
        }
        // Sessions of an event are numbered through its days; at a test they begin anew.
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
