//! The plain walk: a shop whose parts lie where the last line put them, and whose sessions are written into each part that is on the
//! car when they begin. No ranks, no stays, no marks: nothing here is how the program does it.

use super::script::{CARS, DAYS, Draw};
use std::collections::BTreeSet;

/// A part as declared.
pub struct Declared {
    pub name: &'static str,
    pub kind: &'static str,
    pub opening: &'static str,
    /// Minutes and days of `opening`, where said.
    pub before: [Option<f64>; 2],
}

const fn part(name: &'static str, kind: &'static str) -> Declared {
    Declared { name, kind, opening: "new", before: [Some(0.0), Some(0.0)] }
}

const fn used(
    name: &'static str,
    kind: &'static str,
    opening: &'static str,
    minutes: Option<f64>,
    days: Option<f64>,
) -> Declared {
    Declared { name, kind, opening, before: [minutes, days] }
}

pub static PARTS: [Declared; 13] = [
    part("cp-1", "coupling"),
    used("cp-2", "coupling", "55 min, 2 days", Some(55.0), Some(2.0)),
    used("cp-3", "coupling", "", None, None),
    used("cp-4", "coupling", "40 min", Some(40.0), None),
    part("up-1", "upright"),
    part("up-2", "upright"),
    used("up-3", "upright", "3 days", None, Some(3.0)),
    part("hub-1", "hub"),
    used("hub-2", "hub", "", None, None),
    part("hub-3", "hub"),
    part("wb-1", "bearing"),
    used("wb-2", "bearing", "12 min", Some(12.0), None),
    part("wb-3", "bearing"),
];

/// Where a kind goes on each car.
fn places(kind: &str, car: usize) -> &'static [&'static str] {
    match (kind, car) {
        ("coupling", 0) => &["LR", "RR"],
        ("coupling", _) => &["prop"],
        ("upright", _) => &["LF", "RF"],
        _ => &[],
    }
}

fn holder(kind: &str) -> &'static str {
    match kind {
        "hub" => "upright",
        "bearing" => "hub",
        _ => "",
    }
}
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum At {
    New,
    Shelf,
    Failed,
    Quarantine,
    Scrapped,
    Sold,
    Car(usize, &'static str),
    Inside(usize),
}
#[derive(Debug, Clone)]
pub struct Session {
    pub car: usize,
    pub day: usize,
    pub minutes: Option<u32>,
    pub laps: Option<u32>,
    pub launches: Option<u32>,
    pub heat: Option<u32>,
    /// Who was in each place of the car, and who was on it at all.
    pub there: Vec<(&'static str, usize)>,
    pub aboard: Vec<usize>,
}

impl Session {
    pub fn event(&self) -> Option<&'static str> {
        DAYS[self.day].1[self.car]
    }
}

/// One life: the sessions since new or rebuilt, each with the share of it that was run, and how many of them were run before this life.
#[derive(Debug, Clone, Default)]
pub struct Lived {
    pub ran: Vec<(usize, f64)>,
    pub old: usize,
    pub renewed: bool,
    pub was_on: bool,
    pub end: &'static str,
}
#[derive(Debug, Clone)]
struct Part {
    at: At,
    broken: bool,
    /// The assembly it came out of as failed since that broke, until it is anywhere else.
    out_of: Option<usize>,
    sold_on_car: bool,
    lives: Vec<Lived>,
}

#[derive(Debug, Clone)]
pub enum Step {
    Run {
        car: usize,
        minutes: Option<u32>,
        laps: Option<u32>,
        launches: Option<u32>,
        heat: Option<u32>,
        way: u8,
    },
    Fit {
        part: usize,
        car: usize,
        place: &'static str,
    },
    Remove {
        part: usize,
        failed: bool,
    },
    Move {
        part: usize,
        car: usize,
        place: &'static str,
    },
    Swap {
        old: usize,
        new: usize,
    },
    Build {
        part: usize,
        into: usize,
    },
    Strip {
        part: usize,
        from: usize,
        failed: bool,
    },
    Rebuild {
        part: usize,
        all: bool,
    },
    Failed {
        part: usize,
        during: Option<usize>,
        lap: Option<u32>,
        last: bool,
    },
    Quarantine {
        part: usize,
    },
    Release {
        part: usize,
    },
    Scrap {
        part: usize,
    },
    Shelve {
        part: usize,
    },
    SellPart {
        part: usize,
    },
    SellCar {
        car: usize,
    },
}

impl Step {
    /// Whether it may stand under the session above it: a failure only if that is the session it names.
    pub fn may_nest(&self) -> bool {
        match self {
            Self::Run { .. } | Self::SellCar { .. } => false,
            Self::Failed { during, last, .. } => during.is_some() && *last,
            _ => true,
        }
    }
}

pub struct Shop {
    parts: Vec<Part>,
    pub sessions: Vec<Session>,
    /// Sessions of which a failure says the lap.
    pub lapped: BTreeSet<usize>,
    /// Sessions that a failure names.
    pub named: BTreeSet<usize>,
    sold: [bool; 2],
}

impl Shop {
    pub fn new() -> Self {
        let new = || Part {
            at: At::New,
            broken: false,
            out_of: None,
            sold_on_car: false,
            lives: vec![Lived::default()],
        };
        Self {
            parts: PARTS.iter().map(|_| new()).collect(),
            sessions: Vec::new(),
            lapped: BTreeSet::new(),
            named: BTreeSet::new(),
            sold: [false; 2],
        }
    }
    pub fn lives(&self, part: usize) -> &[Lived] {
        &self.parts[part].lives
    }
    fn car(&self, part: usize) -> Option<usize> {
        match self.parts[part].at {
            At::Car(car, _) => Some(car),
            At::Inside(outer) => self.car(outer),
            _ => None,
        }
    }
    fn free(&self, kind: &str, car: usize, place: &'static str) -> bool {
        !self.sold[car]
            && (0..PARTS.len())
                .all(|one| PARTS[one].kind != kind || self.parts[one].at != At::Car(car, place))
    }
    fn idle(&self, part: usize) -> bool {
        matches!(self.parts[part].at, At::New | At::Shelf) && !self.parts[part].broken
    }
    fn gone(&self, part: usize) -> bool {
        matches!(self.parts[part].at, At::Scrapped | At::Sold) || self.parts[part].sold_on_car
    }

    /// A place where a part could go on a car, if any is free.
    fn spot(&self, part: usize, car: usize) -> Option<&'static str> {
        let kind = PARTS[part].kind;
        places(kind, car).iter().copied().find(|place| self.free(kind, car, place))
    }

    /// The step that a draw stands for, if it is lawful now.
    pub fn lawful(&self, draw: Draw, day: usize) -> Option<Step> {
        let part = usize::from(draw.who) % PARTS.len();
        let second = usize::from(draw.who) / PARTS.len();
        let car = second % 2;
        let at = self.parts[part].at;
        let some = |one: u8, of: u8| one.is_multiple_of(of);
        match draw.what % 18 {
            0..=3 => (!self.sold[car]).then(|| Step::Run {
                car,
                minutes: (!some(draw.minutes, 9)).then_some(2 * (1 + u32::from(draw.minutes) % 20)),
                laps: (!some(draw.laps, 5)).then_some(2 * (1 + u32::from(draw.laps) % 12)),
                launches: some(draw.laps, 4).then_some(u32::from(draw.laps) % 3),
                heat: some(draw.minutes, 7).then_some(u32::from(draw.minutes) % 4),
                way: draw.gap % 2,
            }),
            4..=6 => {
                let place = self.spot(part, car).filter(|_| self.idle(part));
                match at {
                    // What broke and was looked at goes back to work, too.
                    At::Failed if some(draw.laps, 3) => Some(Step::Quarantine { part }),
                    At::Quarantine => Some(Step::Release { part }),
                    _ => place.map(|place| Step::Fit { part, car, place }),
                }
            }
            7 => matches!(at, At::Car(..)).then(|| Step::Remove { part, failed: some(draw.laps, 4) }),
            8 => match at {
                At::Car(on, _) if on != car && !self.parts[part].broken => {
                    self.spot(part, car).map(|place| Step::Move { part, car, place })
                }
                _ => None,
            },
            9 => {
                let fresh = |new: &usize| PARTS[*new].kind == PARTS[part].kind && self.idle(*new);
                let new =
                    (0..PARTS.len()).cycle().skip(second % PARTS.len()).take(PARTS.len()).find(fresh)?;
                matches!(at, At::Car(..)).then_some(Step::Swap { old: part, new })
            }
            10 | 11 => {
                let outer = |one: &usize| PARTS[*one].kind == holder(PARTS[part].kind) && !self.gone(*one);
                let into =
                    (0..PARTS.len()).cycle().skip(second % PARTS.len()).take(PARTS.len()).find(outer)?;
                self.idle(part).then_some(Step::Build { part, into })
            }
            12 => match at {
                At::Inside(from) if !self.gone(part) && !self.gone(from) => {
                    Some(Step::Strip { part, from, failed: some(draw.laps, 3) || self.parts[from].broken })
                }
                _ => None,
            },
            13 => {
                let rare =
                    self.parts[part].lives.iter().all(|life| life.ran.is_empty()) && !some(draw.gap, 4);
                (!self.gone(part) && !rare).then(|| Step::Rebuild { part, all: some(draw.laps, 2) })
            }
            14 | 15 => {
                let life = self.parts[part].lives.last()?;
                // Seldom on the shelf, as a fault from new.
                let rare = life.ran.is_empty() && !some(draw.gap, 8);
                if self.gone(part) || rare {
                    return None;
                }
                let own = life.ran[life.old..].iter().map(|(at, _)| *at);
                // It may be found out later that it broke in an earlier session of that day.
                let mut today = own.filter(|at| {
                    self.sessions[*at].day == day
                        && !self.named.contains(at)
                        && !self.sold[self.sessions[*at].car]
                });
                let during = today
                    .nth(usize::from(draw.minutes) % 3)
                    .filter(|_| !some(draw.laps, 5) && life.end.is_empty());
                let laps = during.and_then(|at| self.sessions[at].laps);
                let lap = laps.filter(|_| some(draw.gap, 2)).map(|laps| 1 + u32::from(draw.minutes) % laps);
                let last = during == self.sessions.len().checked_sub(1);
                Some(Step::Failed { part, during, lap, last })
            }
            16 => match (draw.minutes % 6, at) {
                (0, _) if !self.gone(part) && at != At::Quarantine => Some(Step::Quarantine { part }),
                (_, At::Failed) if some(draw.gap, 2) => Some(Step::Quarantine { part }),
                (1 | 2, At::Quarantine) => Some(Step::Release { part }),
                (3, _) if !self.gone(part) && some(draw.laps, 2) => Some(Step::Scrap { part }),
                (4, At::New | At::Shelf) => Some(Step::Shelve { part }),
                (5, At::New | At::Shelf | At::Failed) if some(draw.laps, 3) => Some(Step::SellPart { part }),
                _ => None,
            },
            _ => match at {
                At::Quarantine => Some(Step::Release { part }),
                _ if day + 1 == DAYS.len() && some(draw.gap, 4) && !self.sold[car] => {
                    Some(Step::SellCar { car })
                }
                _ => None,
            },
        }
    }

    /// The car whose head the line stands under: none for shop work.
    pub fn car_of(&self, step: &Step) -> Option<usize> {
        match step {
            Step::Run { car, .. } | Step::Fit { car, .. } | Step::SellCar { car } => Some(*car),
            Step::Remove { part, .. } | Step::Move { part, .. } | Step::Swap { old: part, .. } => {
                self.car(*part)
            }
            Step::Failed { during: Some(at), .. } => Some(self.sessions[*at].car),
            Step::Failed { part, .. } | Step::Rebuild { part, .. } | Step::Strip { part, .. } => {
                self.car(*part)
            }
            _ => None,
        }
    }

    /// The cars that must stand still for it.
    pub fn touched(&self, step: &Step) -> Vec<usize> {
        match step {
            Step::Run { car, .. } | Step::Fit { car, .. } | Step::SellCar { car } => vec![*car],
            Step::Move { part, car, .. } => self.car(*part).into_iter().chain([*car]).collect(),
            Step::Build { into, .. } => self.car(*into).into_iter().collect(),
            Step::Remove { part, .. }
            | Step::Swap { old: part, .. }
            | Step::Strip { part, .. }
            | Step::Rebuild { part, .. }
            | Step::Quarantine { part }
            | Step::Release { part }
            | Step::Scrap { part }
            | Step::Shelve { part }
            | Step::SellPart { part } => self.car(*part).into_iter().collect(),
            Step::Failed { part, during, .. } => {
                let ran = during.map(|at| self.sessions[at].car);
                self.car(*part).into_iter().chain(ran).collect()
            }
        }
    }
    pub fn words(&self, step: &Step) -> String {
        let name = |part: &usize| PARTS[*part].name;
        let failed = |failed: &bool| if *failed { " failed" } else { "" };
        match step {
            Step::Run { .. } => String::new(),
            Step::Fit { part, place, .. } => format!("fit {} {place}", name(part)),
            Step::Remove { part, failed: bad } => format!("remove {}{}", name(part), failed(bad)),
            Step::Move { part, car, place } => format!("move {} -> {} {place}", name(part), CARS[*car]),
            Step::Swap { old, new } => {
                let At::Car(_, place) = self.parts[*old].at else { unreachable!("lawful") };
                format!("swap {} {place} {} -> {}", PARTS[*old].kind, name(old), name(new))
            }
            Step::Build { part, into } => format!("build {} into {}", name(part), name(into)),
            Step::Strip { part, from, failed: bad } => {
                format!("strip {} from {}{}", name(part), name(from), failed(bad))
            }
            Step::Rebuild { part, all } => {
                format!("rebuild {}{}", name(part), if *all { " with all" } else { " with seals" })
            }
            Step::Failed { part, during, lap, .. } => {
                let during = during.map_or(String::new(), |at| format!(" during s{}", at + 1));
                let lap = lap.map_or(String::new(), |lap| format!(" lap {lap}"));
                format!("failed {}{during}{lap} mode split", name(part))
            }
            Step::Quarantine { part } => format!("quarantine {} because it was hit", name(part)),
            Step::Release { part } => format!("release {} because it is sound", name(part)),
            Step::Scrap { part } => format!("scrap {} because worn", name(part)),
            Step::Shelve { part } => format!("shelve {}", name(part)),
            Step::SellPart { part } => format!("sell {}", name(part)),
            Step::SellCar { car } => format!("sell {}", CARS[*car]),
        }
    }
    fn put(&mut self, part: usize, at: At) {
        self.parts[part].out_of = None;
        self.parts[part].at = at;
        self.note_on();
    }

    /// Every life whose part is on a car has been on one.
    fn note_on(&mut self) {
        for part in 0..PARTS.len() {
            let on = self.car(part).is_some();
            let life = self.parts[part].lives.last_mut().expect("a life");
            life.was_on |= on;
        }
    }
    fn fail(&mut self, part: usize) {
        self.parts[part].broken = true;
        // What came out of it before does not speak for this break.
        self.parts.iter_mut().filter(|one| one.out_of == Some(part)).for_each(|one| one.out_of = None);
        let life = self.parts[part].lives.last_mut().expect("a life");
        if life.end.is_empty() {
            life.end = "failed";
        }
    }

    /// The life that goes on after a failure, as old as the part is.
    fn go_on(&mut self, part: usize, end: &'static str) {
        let life = self.parts[part].lives.last().expect("a life");
        let next =
            Lived { ran: life.ran.clone(), old: life.ran.len(), renewed: life.renewed, was_on: false, end };
        self.parts[part].lives.push(next);
        self.note_on();
    }
    fn mend(&mut self, part: usize) {
        if std::mem::take(&mut self.parts[part].broken)
            && matches!(self.parts[part].lives.last().expect("a life").end, "failed" | "unmended")
        {
            self.go_on(part, "");
        }
    }
    fn off(&mut self, part: usize, failed: bool) -> At {
        if failed && !self.parts[part].broken {
            self.fail(part);
        }
        if self.parts[part].broken { At::Failed } else { At::Shelf }
    }
    fn rebuild(&mut self, part: usize) {
        self.parts[part].broken = false;
        if self.parts[part].at == At::Failed {
            self.put(part, At::Shelf);
        }
        let life = self.parts[part].lives.last_mut().expect("a life");
        if life.end.is_empty() {
            life.end = "rebuilt";
        }
        self.parts[part].lives.push(Lived { renewed: true, ..Lived::default() });
        self.note_on();
    }
    fn inside(&self, outer: usize) -> Vec<usize> {
        let mut all = vec![outer];
        let mut next = 0;
        while next < all.len() {
            let at = At::Inside(all[next]);
            all.extend((0..PARTS.len()).filter(|part| self.parts[*part].at == at));
            next += 1;
        }
        all
    }

    /// Does the step.
    pub fn take(&mut self, step: &Step, day: usize) {
        match step.clone() {
            Step::Run { car, minutes, laps, launches, heat, .. } => {
                let aboard: Vec<usize> =
                    (0..PARTS.len()).filter(|part| self.car(*part) == Some(car)).collect();
                let there = aboard.iter().filter_map(|part| match self.parts[*part].at {
                    At::Car(_, place) => Some((place, *part)),
                    _ => None,
                });
                let there = there.collect();
                let session = self.sessions.len();
                for part in &aboard {
                    if self.parts[*part].lives.last().expect("a life").end == "failed" {
                        self.go_on(*part, "unmended");
                    }
                    self.parts[*part].lives.last_mut().expect("a life").ran.push((session, 1.0));
                }
                self.sessions.push(Session { car, day, minutes, laps, launches, heat, there, aboard });
            }
            Step::Fit { part, car, place } | Step::Move { part, car, place } => {
                self.put(part, At::Car(car, place));
            }
            Step::Remove { part, failed } | Step::Strip { part, failed, .. } => {
                let from = self.parts[part].at;
                let to = self.off(part, failed);
                self.put(part, to);
                if let (At::Inside(outer), At::Failed) = (from, to) {
                    // It put the assembly right only if that was broken by then.
                    self.parts[part].out_of = Some(outer).filter(|outer| self.parts[*outer].broken);
                }
            }
            Step::Swap { old, new } => {
                let at = self.parts[old].at;
                let to = self.off(old, false);
                self.put(old, to);
                self.put(new, at);
            }
            Step::Build { part, into } => {
                self.put(part, At::Inside(into));
                let kind = PARTS[part].kind;
                let out = (0..PARTS.len()).any(|one| {
                    PARTS[one].kind == kind
                        && self.parts[one].at == At::Failed
                        && self.parts[one].out_of == Some(into)
                });
                if out {
                    self.mend(into);
                }
            }
            Step::Rebuild { part, all } => {
                let parts = if all { self.inside(part) } else { vec![part] };
                parts.into_iter().for_each(|part| self.rebuild(part));
            }
            Step::Failed { part, during, lap, .. } => {
                if let Some(session) = during {
                    self.named.insert(session);
                    // What ran after that session ran on it broken.
                    let life = self.parts[part].lives.last_mut().expect("a life");
                    let at = life.ran.iter().position(|(at, _)| *at == session).expect("it ran then");
                    let rest = life.ran.split_off(at + 1);
                    if let Some((lap, laps)) = lap.zip(self.sessions[session].laps) {
                        life.ran[at].1 = (f64::from(lap) / f64::from(laps)).min(1.0);
                        self.lapped.insert(session);
                    }
                    self.fail(part);
                    if !rest.is_empty() {
                        self.go_on(part, "unmended");
                        self.parts[part].lives.last_mut().expect("a life").ran.extend(rest);
                    }
                } else {
                    self.fail(part);
                }
                if matches!(self.parts[part].at, At::New | At::Shelf | At::Failed | At::Quarantine) {
                    self.put(part, At::Failed);
                }
            }
            Step::Quarantine { part } => self.put(part, At::Quarantine),
            Step::Release { part } => {
                self.mend(part);
                self.put(part, At::Shelf);
            }
            Step::Scrap { part } => self.put(part, At::Scrapped),
            Step::Shelve { part } => self.put(part, At::Shelf),
            Step::SellPart { part } => self.put(part, At::Sold),
            Step::SellCar { car } => {
                self.sold[car] = true;
                let on: Vec<usize> = (0..PARTS.len()).filter(|part| self.car(*part) == Some(car)).collect();
                for part in on {
                    self.parts[part].sold_on_car = true;
                    if matches!(self.parts[part].at, At::Car(..)) {
                        self.put(part, At::Sold);
                    }
                }
            }
        }
    }

    /// The end of the book: how each last life stands.
    pub fn close(&mut self) {
        for part in 0..PARTS.len() {
            let on = self.car(part).is_some();
            let sold = self.parts[part].sold_on_car;
            let opened = PARTS[part].before.iter().flatten().any(|before| *before > 0.0);
            for life in &mut self.parts[part].lives {
                let used = life.was_on || life.old > 0 || opened && !life.renewed;
                if !used && matches!(life.end, "" | "rebuilt") {
                    life.end = "unused";
                }
                if life.end.is_empty() {
                    life.end = if on {
                        "running"
                    } else if sold {
                        "sold running"
                    } else {
                        "good"
                    };
                }
            }
        }
    }
}
