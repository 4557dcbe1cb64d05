//! Settings and readings: what was asked of a car, and what was read on it or on the bench.

use super::{Spot, Text, Writer};

/// A setting with a number: its name, its places, where it starts, the digits after the point, its unit, the gauge that reads it.
type Setting = (&'static str, &'static [&'static str], i32, usize, &'static str, &'static str);

const CORNERS: &[&str] = &["LF", "RF", "LR", "RR"];

const SETTINGS: [Setting; 6] = [
    ("camber", CORNERS, -24, 1, "deg", "cg-1"),
    ("ride-height", CORNERS, 60, 0, "mm", "ned"),
    ("tyre-cold", CORNERS, 150, 2, "bar", "pg-1"),
    ("bar-hole", &["front", "rear"], 3, 0, "", ""),
    ("wing-angle", &[""], 8, 0, "deg", ""),
    ("ignition", &[""], 30, 0, "deg", ""),
];

fn decimal(value: i32, digits: usize) -> String {
    let scale = 10_i32.pow(digits as u32);
    let sign = if value < 0 { "-" } else { "" };
    let value = value.abs();
    if digits == 0 {
        format!("{sign}{value}")
    } else {
        format!("{sign}{}.{:0digits$}", value / scale, value % scale)
    }
}

/// With a blank before it, where there is one.
fn spaced(word: &str) -> String {
    if word.is_empty() { String::new() } else { format!(" {word}") }
}

impl Writer<'_> {
    fn setting(&mut self) -> (Setting, &'static str) {
        let setting = self.pick.of(&SETTINGS);
        (setting, self.pick.of(setting.1))
    }

    fn value(&self, car: usize, setting: Setting, place: &'static str) -> Option<i32> {
        self.cars[car].values.get(&(setting.0, place)).copied()
    }

    pub(super) fn set(&mut self, car: usize) {
        let (setting, place) = self.setting();
        let (name, _, start, digits, unit, _) = setting;
        let old = self.value(car, setting, place);
        let new = start + self.pick.between(-2, 2);
        let arrow = match old {
            Some(old) if old != new && self.pick.chance(60) => format!("{} -> ", decimal(old, digits)),
            None if self.pick.chance(10) && !unit.is_empty() => "? -> ".to_owned(),
            _ => String::new(),
        };
        self.cars[car].values.insert((name, place), new);
        let line = format!("set {name}{} {arrow}{}{}", spaced(place), decimal(new, digits), spaced(unit));
        self.setting_line(&line);
    }

    /// A line with whom it is for, its job and its reason.
    fn setting_line(&mut self, line: &str) {
        let (audience, readers) = self.audience(self.owner());
        let job = self.on_job(20);
        let mut text = Text::of(line).and(job).and(audience);
        if self.pick.chance(40) {
            text = text.and(self.because(readers));
        }
        self.say(text);
    }

    pub(super) fn adjust(&mut self, car: usize) {
        if self.pick.chance(50) {
            let (place, turns) = (self.pick.of(CORNERS), self.pick.of(&["+1/4", "-0.5", "+1"]));
            self.setting_line(&format!("adjust perch {place} {turns} turn"));
            return;
        }
        let setting = SETTINGS[3];
        let place = self.pick.of(setting.1);
        if let Some(old) = self.value(car, setting, place) {
            let by = if old > 2 { -1 } else { 1 };
            self.cars[car].values.insert((setting.0, place), old + by);
            self.setting_line(&format!("adjust bar-hole {place} {by:+}"));
        }
    }

    /// What was read of a setting that is known, or is new.
    fn reading(&mut self, car: usize, verb: &str) {
        let setting = self.pick.of(&SETTINGS[..3]);
        let (name, _, start, digits, unit, gauge) = setting;
        let values: Vec<i32> = CORNERS
            .iter()
            .map(|place| self.value(car, setting, place).unwrap_or(start) + i32::from(self.pick.chance(10)))
            .collect();
        let mut line = format!("{verb} {name}");
        let places = self.pick.chance(50);
        for (place, value) in CORNERS.iter().zip(values) {
            self.cars[car].values.insert((name, place), value);
            if places {
                line += &format!(" {place}");
            }
            line += &format!(" {}", decimal(value, digits));
        }
        line += &spaced(unit);
        if gauge == "ned" {
            line += if self.pick.chance(50) { "  at 1.5 bar" } else { "" };
        } else {
            line += &format!("  by {gauge}");
        }
        if let Some(session) = self.session() {
            let word = self.pick.of(&["during", "after", ""]);
            if !word.is_empty() {
                line += &format!("  {word} {session}");
            }
        }
        let (audience, _) = self.audience(self.owner());
        self.say(Text::of(&line).and(audience));
    }

    pub(super) fn found(&mut self, car: usize) {
        match self.pick.below(3) {
            0 => self.say(Text::of(
                "found weight 149.0 151.0 171.0 171.0 kg  with driver 78 kg, fuel 20 L, bars off",
            )),
            _ => self.reading(car, "found"),
        }
    }

    pub(super) fn left(&mut self, car: usize) {
        match self.pick.below(3) {
            0 => self.say(Text::of("left toe-in front 1.0 mm total  over 400 mm  by bg-1")),
            _ => self.reading(car, "left"),
        }
    }

    pub(super) fn read(&mut self, car: usize) {
        match self.pick.below(6) {
            0 => {
                self.cars[car].meter += self.pick.between(0, 20);
                let line = format!("read engine-hours {} h", decimal(self.cars[car].meter, 1));
                self.say(Text::of(&line));
            }
            1 => self.say(Text::of("read leakdown 6 6 5 6 %  at 7.0 bar  with hot")),
            2 => {
                let fitted = self.parts.iter().any(|part| part.spot == Spot::On(car, "front"));
                if fitted {
                    self.say(Text::of("read pad-thickness front 11.5 11.4 mm"));
                }
            }
            3 => self.say(Text::of("read tyre-temp LF 81/86/79 RF 80/85/80 C")),
            4 => self.say(Text::of("read tyre-cold LF 1.50, 1.51 RF - bar  by pg-1")),
            _ => self.reading(car, "read"),
        }
    }

    pub(super) fn fill(&mut self) {
        let line =
            self.pick.of(&["fill gearbox-oil 75W-90 1.6 L", "fill fuel 20 L", "fill engine-oil 10W-40 4 L"]);
        self.setting_line(line);
    }

    pub(super) fn torque(&mut self, car: usize) {
        self.cars[car].tight = true;
        self.say(Text::of("torque wheel-torque all 85 N.m  by tw-1"));
    }

    pub(super) fn recheck(&mut self, car: usize) {
        if std::mem::take(&mut self.cars[car].tight) {
            self.say(Text::of("recheck wheel-torque ok"));
        }
    }

    /// Gauges are compared in anybody's block.
    pub(super) fn compare(&mut self) {
        let line = self.pick.of(&[
            "compare pg-1 1.51 reference 1.50 bar",
            "compare tw-1 86 reference 85 N.m",
            "compare cg-1 -2.9 reference -3.0 deg",
        ]);
        self.say(Text::of(line));
    }

    pub(super) fn sweep(&mut self) {
        self.say(Text::of("found caster  by cg-1"));
        for corner in ["LF", "RF"] {
            self.say_at(2, Text::of(&format!("sweep {corner} 20 deg inner 1.4 outer -2.0")));
        }
    }

    pub(super) fn lift(&mut self) {
        self.say(Text::of("read cg-height"));
        self.say_at(2, Text::of("lift rear 254 mm front 310 kg radius 300 mm"));
    }

    /// A reading that is kept and not used.
    pub(super) fn void(&mut self, _: usize) {
        self.say(Text::of("read brake-bias 58 %"));
        self.say(Text::of("read brake-bias 64 %"));
        let reason = self.because(0);
        self.say_at(2, Text::of("void").and(reason));
    }

    /// A warning answered in place.
    pub(super) fn waive(&mut self) {
        self.say(Text::of("read brake-bias 80 %"));
        let reason = self.because(0);
        self.say_at(2, Text::of("waive value-implausible").and(reason));
    }

    pub(super) fn bench(&mut self) {
        let Some(part) = self.some_part(|part| part.kind == 1 && part.spot != Spot::Gone) else { return };
        let name = self.part(part);
        let text = Text::of("bench ").name(name);
        let (audience, _) = self.audience(0);
        let line = match self.pick.below(2) {
            0 => text.s(" spring-rate 69.4, 69.2, 69.5 N/mm").and(self.by_person()),
            _ => text.s(" spring-rate 70.2 \u{b1} 0.4 N/mm"),
        };
        self.say(line.and(audience));
    }

    pub(super) fn points(&mut self) {
        let Some(part) = self.some_part(|part| part.kind == 1 && part.spot != Spot::Gone) else { return };
        let name = self.part(part);
        self.say(Text::of("bench ").name(name).s(" spring-rate"));
        for load in [2151, 2148] {
            self.say_at(2, Text::of(&format!("points 0 mm 60 N, 30 mm {load} N")));
        }
    }
}
