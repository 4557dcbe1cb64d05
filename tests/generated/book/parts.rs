//! Lines about parts: bought, fitted, taken off, built, looked at, sold; each only where it is true.

use super::stock::KINDS;
use super::{Part, Spot, Text, Thing, Writer, date};

const BOLTS: usize = 9;
const EXTINGUISHER: usize = 6;

pub(super) fn loose(part: &Part) -> bool {
    matches!(part.spot, Spot::Stock | Spot::Shelf) && !part.failed
}

impl Writer<'_> {
    /// A part that this is true of, that is at hand in the block, and that no other block of the day has touched.
    pub(super) fn some_part(&mut self, good: impl Fn(&Part) -> bool) -> Option<usize> {
        let (day, block) = (self.day, self.block);
        let owner = block.car.map(|car| self.cars[car].owner);
        let free = |part: &Part| part.touched.0 < day || part.touched.1 == block.number;
        let at_hand = |part: &Part| match self.root(part) {
            Spot::On(car, _) => block.car == Some(car),
            Spot::Away => part.spot == Spot::Away && part.owner.is_none(),
            _ => part.owner.is_none() || part.owner == owner,
        };
        let all: Vec<usize> = (0..self.parts.len())
            .filter(|at| {
                let part = &self.parts[*at];
                free(part) && at_hand(part) && good(part)
            })
            .collect();
        let part = self.pick.any(&all)?;
        self.touch(part);
        Some(part)
    }

    /// Where a part is, or what it is in.
    fn root(&self, part: &Part) -> Spot {
        match part.spot {
            Spot::In(other) => self.root(&self.parts[other]),
            spot => spot,
        }
    }

    fn touch(&mut self, part: usize) {
        let touched = (self.day, self.block.number);
        self.parts[part].touched = touched;
        for inner in 0..self.parts.len() {
            if self.parts[inner].spot == Spot::In(part) {
                self.parts[inner].touched = touched;
            }
        }
    }

    /// An empty place for a part on a car.
    fn empty_place(&mut self, part: usize, car: usize) -> Option<&'static str> {
        let kind = self.parts[part].kind;
        let taken = |place: &str| {
            self.parts.iter().any(|one| {
                one.kind == kind && matches!(one.spot, Spot::On(at, on) if at == car && on == place)
            })
        };
        let empty: Vec<&'static str> =
            KINDS[kind].places.iter().copied().filter(|place| !taken(place)).collect();
        self.pick.any(&empty)
    }

    /// On a car from now; its owner then pays for it, if it was not paid for.
    fn goes_on(&mut self, part: usize, car: usize, place: &'static str) {
        let owner = self.cars[car].owner;
        for one in 0..self.parts.len() {
            if self.out.payers[one] == 0 && (one == part || self.parts[one].spot == Spot::In(part)) {
                self.out.payers[one] = 1 << owner;
            }
        }
        self.parts[part].spot = Spot::On(car, place);
        self.know(part, 1 << owner);
        if !self.cars[car].sold_by.is_empty() {
            self.parts[part].owner = Some(owner);
        }
    }

    fn comes_off(&mut self, part: usize) {
        self.parts[part].spot = Spot::Shelf;
        self.parts[part].failed |= self.parts[part].kind == BOLTS;
    }

    pub(super) fn fit(&mut self, car: usize) {
        let Some(part) = self.some_part(|part| loose(part) && !KINDS[part.kind].places.is_empty()) else {
            return;
        };
        let Some(place) = self.empty_place(part, car) else { return };
        self.goes_on(part, car, place);
        let name = self.part(part);
        let shown =
            if KINDS[self.parts[part].kind].places.len() > 1 { format!(" {place}") } else { String::new() };
        let (audience, readers) = self.audience(self.owner());
        let line = Text::of("fit ").name(name).s(&shown).and(self.on_job(20)).and(audience);
        let line = if self.pick.chance(15) { line.and(self.because(readers)) } else { line };
        self.say(line);
    }

    pub(super) fn remove(&mut self, car: usize) {
        let Some(part) = self.some_part(|part| matches!(part.spot, Spot::On(..))) else { return };
        self.take_off(part, car);
    }

    fn take_off(&mut self, part: usize, _: usize) {
        let name = self.part(part);
        let failed = self.parts[part].failed;
        let word = if failed { " failed" } else { self.pick.of(&["", " good"]) };
        self.comes_off(part);
        self.say(Text::of("remove ").name(name).s(word));
    }

    pub(super) fn swap(&mut self, car: usize) {
        let Some(old) = self.some_part(|part| matches!(part.spot, Spot::On(..))) else { return };
        let Spot::On(_, place) = self.parts[old].spot else { return };
        let kind = self.parts[old].kind;
        let Some(new) = self.some_part(|part| loose(part) && part.kind == kind) else { return };
        self.comes_off(old);
        self.goes_on(new, car, place);
        let (old, new) = (self.part(old), self.part(new));
        let line = Text::of(&format!("swap {} {place} ", KINDS[kind].name)).name(old).s(" -> ").name(new);
        let job = self.on_job(20);
        let reason = self.because(self.owner());
        self.say(line.and(job).and(reason));
    }

    pub(super) fn move_part(&mut self, car: usize) {
        // What went along with a car stays with it.
        let kept: Vec<usize> = (0..self.cars.len()).filter(|other| *other != car).collect();
        let to = self.pick.of(&kept);
        if !self.cars[car].sold_by.is_empty() || !self.cars[to].sold_by.is_empty() {
            return;
        }
        let Some(part) =
            self.some_part(|part| matches!(part.spot, Spot::On(..)) && !part.failed && part.kind != BOLTS)
        else {
            return;
        };
        // A client's own part stays on his cars.
        let his = self.parts[part].owner;
        if his.is_some_and(|his| his != self.cars[to].owner) {
            return;
        }
        let Some(place) = self.empty_place(part, to) else { return };
        let payers = self.owner() | 1 << self.cars[to].owner;
        let name = self.part(part);
        self.goes_on(part, to, place);
        let line = Text::of("move ").name(name).s(" -> ").name(Thing::Car(to)).s(&format!(" {place}"));
        let line = if self.pick.chance(40) { line.s(" ").and(self.sum(payers)) } else { line };
        let reason = self.because(self.owner());
        self.say(line.and(reason));
    }

    pub(super) fn build(&mut self) {
        let loose = |part: &Part| matches!(part.spot, Spot::Stock | Spot::Shelf) && !part.failed;
        let Some(inner) = self.some_part(|part| loose(part) && KINDS[part.kind].inside.is_some()) else {
            return;
        };
        let Some(outer) = self.some_part(|part| loose(part) && Some(part.kind) == KINDS[4].inside) else {
            return;
        };
        if self.parts[inner].owner != self.parts[outer].owner {
            return;
        }
        self.parts[inner].spot = Spot::In(outer);
        let both = self.out.parts[inner].2 | self.out.parts[outer].2;
        self.know(outer, both);
        let (inner, outer) = (self.part(inner), self.part(outer));
        self.say(Text::of("build ").name(inner).s(" into ").name(outer));
    }

    pub(super) fn strip(&mut self) {
        let Some(inner) = self.some_part(|part| matches!(part.spot, Spot::In(_))) else { return };
        let Spot::In(outer) = self.parts[inner].spot else { return };
        self.touch(outer);
        self.parts[inner].spot = Spot::Shelf;
        let (inner, outer) = (self.part(inner), self.part(outer));
        let word = self.pick.of(&["", " good"]);
        self.say(Text::of("strip ").name(inner).s(" from ").name(outer).s(word));
    }

    pub(super) fn rebuild(&mut self) {
        let Some(part) = self.some_part(|part| matches!(part.spot, Spot::Shelf) && part.kind != BOLTS) else {
            return;
        };
        self.parts[part].failed = false;
        let name = self.part(part);
        let with = self.pick.of(&["", " with seals", " with all"]);
        let job = self.on_job(30);
        self.say(Text::of("rebuild ").name(name).s(with).and(job));
    }

    pub(super) fn shelve(&mut self) {
        let Some(part) = self.some_part(|part| part.spot == Spot::Stock) else { return };
        self.parts[part].spot = Spot::Shelf;
        let name = self.part(part);
        self.say(Text::of("shelve ").name(name));
    }

    pub(super) fn quarantine(&mut self) {
        self.off_the_shelf("quarantine", Spot::Quarantine, &[Spot::Shelf, Spot::Stock]);
    }

    pub(super) fn release(&mut self) {
        self.off_the_shelf("release", Spot::Shelf, &[Spot::Quarantine]);
    }

    pub(super) fn scrap(&mut self) {
        self.off_the_shelf("scrap", Spot::Gone, &[Spot::Shelf, Spot::Quarantine]);
    }

    fn off_the_shelf(&mut self, verb: &str, to: Spot, from: &[Spot]) {
        let one_use = |part: &Part| part.kind == BOLTS && to == Spot::Shelf;
        let Some(part) = self.some_part(|part| from.contains(&part.spot) && !one_use(part)) else { return };
        self.parts[part].spot = to;
        let name = self.part(part);
        let readers = self.owner();
        let reason = self.because(if readers == 0 { super::ALL } else { readers });
        self.say(Text::of(verb).s(" ").name(name).and(reason));
    }

    pub(super) fn buy(&mut self) {
        let Some(part) = self.some_part(|part| part.spot == Spot::Stock && !part.used) else { return };
        self.parts[part].spot = Spot::Shelf;
        let name = self.part(part);
        let (text, other) = self.amount();
        let price = super::Piece::OfPart { text, other, part, paid: true };
        let line = Text::of("buy ").name(name).s(" ").and(Text(vec![price])).s(" EUR");
        // Of a shop's block whoever pays for the part may read the price alone.
        let from = self.quoted(self.owner());
        let line = line.s("  from ").and(from);
        let line = if self.pick.chance(50) { line.and(self.invoice()) } else { line };
        self.say(line);
    }

    pub(super) fn invoice(&mut self) -> Text {
        self.invoices += 1;
        let readers = self.owner();
        Text::of("  invoice \"")
            .slot(&format!("R {}", self.invoices), &format!("S {}", self.invoices), readers)
            .s("\"")
    }

    /// The head's car, or a part off the shelf.
    pub(super) fn sell(&mut self, car: Option<usize>) {
        let may = |car: &usize| *car < 2 && (self.knobs.resale || self.cars[*car].sold_by.is_empty());
        if let Some(car) = car.filter(may) {
            self.sell_car(car);
            return;
        }
        let Some(part) =
            self.some_part(|part| part.spot == Spot::Shelf && part.owner.is_none() && !part.failed)
        else {
            return;
        };
        self.parts[part].spot = Spot::Gone;
        let name = self.part(part);
        let sum = self.sum(super::ALL);
        let line = Text::of("sell ").name(name).s(" ").and(sum);
        let line = if self.pick.chance(50) {
            let to = self.present_client();
            self.know(part, 1 << to);
            line.s(" to ").name(Thing::Client(to))
        } else {
            line
        };
        self.say(line);
    }

    fn sell_car(&mut self, car: usize) {
        let seller = self.cars[car].owner;
        // Whoever sells his only car gets none back, so that his now ends.
        let buyers: Vec<usize> = (0..self.out.clients.len())
            .filter(|one| !self.sellers().contains(one) && *one != seller)
            .collect();
        let Some(buyer) = self.pick.any(&buyers) else { return };
        let both = 1 << seller | 1 << buyer;
        let mut line = Text::of("sell ").name(Thing::Car(car)).s(" ").and(self.sum(both));
        line = line.s(" to ").name(Thing::Client(buyer));
        let mut along: Vec<usize> = Vec::new();
        for _ in 0..self.pick.below(3) {
            let spare = |part: &Part| part.spot == Spot::Shelf && part.owner.is_none() && !part.failed;
            if let Some(part) = self.some_part(spare).filter(|part| !along.contains(part)) {
                along.push(part);
            }
        }
        for (n, part) in along.iter().enumerate() {
            line = line.s(if n == 0 { "  with " } else { ", " }).name(Thing::Part(*part));
        }
        let fitted: Vec<usize> = (0..self.parts.len())
            .filter(|at| matches!(self.root(&self.parts[*at]), Spot::On(on, _) if on == car))
            .collect();
        for part in along.into_iter().chain(fitted) {
            self.know(part, both);
            self.parts[part].owner = Some(buyer);
            for inner in 0..self.parts.len() {
                if self.parts[inner].spot == Spot::In(part) {
                    self.parts[inner].owner = Some(buyer);
                }
            }
        }
        self.say(line);
        self.cars[car].owner = buyer;
        self.cars[car].sold_by.push(seller);
        self.out.cars[car].readers |= 1 << buyer;
        self.block.sold = true;
    }

    /// Those who sold a car.
    pub(super) fn sellers(&self) -> Vec<usize> {
        self.cars.iter().flat_map(|car| car.sold_by.iter().copied()).collect()
    }

    /// A client who still comes: no seller, whose account is closed.
    pub(super) fn present_client(&mut self) -> usize {
        let sellers = self.sellers();
        let present: Vec<usize> = (0..self.out.clients.len()).filter(|one| !sellers.contains(one)).collect();
        self.pick.any(&present).unwrap_or(0)
    }

    pub(super) fn inspect(&mut self) {
        let Some(part) = self.some_part(|part| !part.failed && part.spot != Spot::Gone) else { return };
        let name = self.part(part);
        let word = self.pick.of(&[" good", " good", ""]);
        let readers = self.owner();
        let words = self.quoted(if readers == 0 { super::ALL } else { readers });
        self.say(Text::of("inspect ").name(name).s(word).s(" ").and(words));
    }

    pub(super) fn service(&mut self) {
        let Some(part) = self.some_part(|part| part.kind == EXTINGUISHER && part.spot != Spot::Gone) else {
            return;
        };
        let name = self.part(part);
        let until =
            if self.pick.chance(50) { format!(" until {}", date(self.day + 700)) } else { String::new() };
        let readers = self.owner();
        let words = self.quoted(if readers == 0 { super::ALL } else { readers });
        self.say(Text::of("service ").name(name).s(&until).s(" ").and(words));
    }

    /// A part on the car breaks in the session run last, and comes off.
    pub(super) fn failed(&mut self, car: usize) {
        let Some(session) = self.session() else { return };
        let Some(part) = self.some_part(|part| matches!(part.spot, Spot::On(..)) && !part.failed) else {
            return;
        };
        let name = self.part(part);
        self.parts[part].failed = true;
        let lap = self.pick.of(&["", " lap 2"]);
        let [mode, mechanism, cause, found] = self.pick.of(&super::words::FAILURES);
        let line = Text::of("failed ").name(name).s(&format!(
            " during {session}{lap} mode {mode} mechanism {mechanism} cause {cause} found-by {found}"
        ));
        let job = self.on_job(40);
        self.say(line.and(job));
        self.lost_sessions();
        self.take_off(part, car);
    }
}
