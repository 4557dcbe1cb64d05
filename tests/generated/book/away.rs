//! Lines about parts that are lent, numbers of a kind, and payments; each only where it is true.

use super::parts::loose;
use super::{Part, Spot, Text, Thing, Writer, date};

impl Writer<'_> {
    /// To whom and until when is the shop's own.
    pub(super) fn lend(&mut self) {
        let Some(part) = self.some_part(|part| loose(part) && part.owner.is_none()) else { return };
        self.parts[part].spot = Spot::Away;
        let (name, whom) = (self.part(part), self.quoted(0));
        let line = Text::of("lend ").name(name).s(" to ").and(whom);
        let line = if self.pick.chance(40) {
            let (day, other) = (date(self.day + 20), date(self.day + 31));
            line.s(" until ").slot(&day.to_string(), &other.to_string(), 0)
        } else {
            line
        };
        self.say(line);
    }

    /// A part that nobody has bought is somebody else's; what is agreed with him is the shop's own. It stays on the shelf.
    pub(super) fn borrow(&mut self) {
        let not_ours = |part: &Part| part.spot == Spot::Stock && !part.used && part.owner.is_none();
        let Some(part) = self.some_part(not_ours) else { return };
        self.parts[part].spot = Spot::Borrowed;
        let (name, whom) = (self.part(part), self.quoted(0));
        let line = Text::of("borrow ").name(name).s(" from ").and(whom);
        let line = if self.pick.chance(30) { line.s(" on approval") } else { line };
        let line = if self.pick.chance(50) { line.s(" ").and(self.sum(0)) } else { line };
        self.say(line);
    }

    pub(super) fn give_back(&mut self) {
        let away = |part: &Part| matches!(part.spot, Spot::Away | Spot::Borrowed);
        let Some(part) = self.some_part(away) else { return };
        let name = self.part(part);
        if self.parts[part].spot == Spot::Borrowed {
            self.parts[part].spot = Spot::Gone;
            self.say(Text::of("return ").name(name));
            return;
        }
        self.parts[part].spot = Spot::Shelf;
        let ran = self.pick.of(&["", " unused", " ran 95 min", " ran 2 h, 12 laps, 1 day"]);
        self.say(Text::of("return ").name(name).s(ran));
    }

    pub(super) fn paid(&mut self) {
        let client = self.present_client();
        let (sum, words) = (self.sum(1 << client), self.quoted(1 << client));
        let line = Text::of("paid ").name(Thing::Client(client)).s(" ").and(sum);
        let line = if self.pick.chance(10) { line.s(" back") } else { line };
        let line = if self.owner() == 1 << client { line.and(self.on_job(50)) } else { line };
        self.say(line.s(" ").and(words));
    }

    /// A letter to somebody who has a car; one a day.
    pub(super) fn handed(&mut self) {
        if self.cars.is_empty() || self.handed_on == Some(self.day) {
            return;
        }
        self.handed_on = Some(self.day);
        let car = self.pick.below(self.cars.len());
        let client = self.cars[car].owner;
        let print = format!("{:04x}-91c2-07b1", self.pick.below(1 << 16));
        let line = Text::of("handed letter to ").name(Thing::Client(client)).s(" ");
        self.say(line.slot(&print, "0123-4567-89ab", 0));
    }

    /// Of a kind whose parts have no names; in the shop's own blocks, so that the order of its lines is known.
    pub(super) fn count(&mut self) {
        let there = self.nuts.unwrap_or_else(|| 10 + self.pick.below(30) as u32);
        self.nuts = Some(there);
        self.say(Text::of(&format!("count nut {there}")));
    }

    pub(super) fn use_up(&mut self) {
        let Some(there) = self.nuts.filter(|there| *there > 0) else { return };
        let used = 1 + self.pick.below(there.min(6) as usize) as u32;
        self.nuts = Some(there - used);
        self.say(Text::of(&format!("use nut {used}")));
    }
}
