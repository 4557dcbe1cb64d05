//! Values, limits and margins of rules in words: what was typed as typed, differences in the limit's unit.
//!
//! Must not know who shows them.

use crate::book::entry::By;
use crate::book::model::{Limit, Local, Rule};
use crate::rules::judge::{Judged, Margin, Side, Verdict};
use crate::rules::known::{Bound, Value};
use crate::rules::{Scrutiny, force};
use crate::units::{Unit, number};
use jiff::civil::Date;

fn with_unit(digits: &str, unit: &Unit) -> String {
    match unit.shown() {
        "" => digits.to_owned(),
        "%" => format!("{digits}%"),
        shown => format!("{digits} {shown}"),
    }
}

/// How many decimals a difference is shown with: as the finer of the two is typed, two places for a figure.
fn decimals(margin: &Margin) -> u8 {
    let same = margin.value.unit == Some(margin.unit);
    let own = if same { margin.value.decimals } else { 0 };
    let most = if same { own } else { 2 };
    let size = margin.in_unit(margin.limit + margin.margin) - margin.in_unit(margin.limit);
    let exact = |decimals: &u8| {
        let shown = number::format(size, *decimals).parse::<f64>().unwrap_or(f64::NAN);
        (shown - size).abs() <= 1e-6 * size.abs().max(1e-6)
    };
    if let Some(coarse) = margin.value.estimated {
        // As coarse as it is known, but never so that a margin goes.
        let seen = |decimals: &u8| number::format(size, *decimals).contains(|c| matches!(c, '1'..='9'));
        return (coarse..=most.max(coarse).max(2)).find(seen).unwrap_or(coarse);
    }
    (own..=most.max(own).max(2)).find(exact).unwrap_or(most.max(own).max(1))
}

impl Scrutiny<'_> {
    /// "48 mm", as typed.
    #[must_use]
    pub fn limit_text(&self, limit: &Limit) -> String {
        let digits = self.files.text(limit.typed);
        match limit.unit.map(|unit| self.files.text(unit)) {
            Some("%") => format!("{digits}%"),
            Some(unit) => format!("{digits} {unit}"),
            None => digits.to_owned(),
        }
    }

    /// "at least 48 mm", "from 40 mm to 60 mm".
    #[must_use]
    pub fn limits_text(&self, rule: &Rule) -> String {
        match (rule.min, rule.max) {
            (Some(min), Some(max)) => {
                format!("from {} to {}", self.limit_text(&min), self.limit_text(&max))
            }
            (Some(min), None) => format!("at least {}", self.limit_text(&min)),
            (None, Some(max)) => format!("at most {}", self.limit_text(&max)),
            (None, None) => String::new(),
        }
    }

    /// A value: as typed where it was typed in a unit, else in the limit's.
    #[must_use]
    pub fn value_text(&self, value: &Value, margin: &Margin) -> String {
        let text = self.one_value_text(value, margin);
        let which = match value.number {
            (_, 0 | 1) => return text,
            (1, _) => "first",
            (2, _) => "second",
            _ => "third",
        };
        format!("{text} ({which} of {})", if value.number.1 == 2 { "two" } else { "three" })
    }

    fn one_value_text(&self, value: &Value, margin: &Margin) -> String {
        let digits = value.typed.map(|typed| self.files.text(typed)).zip(value.unit);
        // What an `adjust` or a mean of repeats came to was not typed.
        let typed = digits.filter(|(digits, unit)| {
            let parsed = number::Number::parse(digits).map(|number| unit.get().to_si(number.value));
            parsed.is_ok_and(|si| (si - value.si).abs() <= 1e-9 * value.si.abs().max(1e-9))
        });
        if let Some((digits, unit)) = typed {
            return with_unit(digits, unit.get());
        }
        let unit = margin.unit.get();
        let shown = with_unit(&number::format(margin.in_unit(value.si), decimals(margin)), unit);
        let shown = if value.estimated.is_some() { format!("{shown} (derived)") } else { shown };
        let shown = match value.bound {
            Bound::Just => shown,
            Bound::AtLeast => format!("at least {shown}"),
            Bound::AtMost => format!("at most {shown}"),
        };
        match self.as_typed_text(value, margin) {
            Some(typed) => format!("{shown} (as typed {typed})"),
            None => shown,
        }
    }

    /// What the readings come to as they were typed, where comparisons of their gauges put them right.
    #[must_use]
    pub fn as_typed_text(&self, value: &Value, margin: &Margin) -> Option<String> {
        if (value.as_typed - value.si).abs() <= 1e-9 * value.si.abs() {
            return None;
        }
        let unit = margin.unit.get();
        let digits = value.typed.map(|typed| self.files.text(typed)).zip(value.unit);
        Some(match digits {
            Some((digits, unit)) => with_unit(digits, unit.get()),
            None => with_unit(&number::format(margin.in_unit(value.as_typed), decimals(margin)), unit),
        })
    }

    /// The same in the limit's unit, where it was typed in another: "1308 mm" for 51.5 in.
    #[must_use]
    pub fn value_in_limits_unit(&self, value: &Value, margin: &Margin) -> Option<String> {
        let unit = margin.unit.get();
        let other = value.typed.and(value.unit).is_some_and(|typed| typed.get().shown() != unit.shown());
        let text = with_unit(&number::format(margin.in_unit(value.si), decimals(margin)), unit);
        (other && text != self.one_value_text(value, margin)).then_some(text)
    }

    /// "3 mm": the size of the margin, without its sign.
    #[must_use]
    pub fn margin_text(&self, margin: &Margin) -> String {
        let unit = margin.unit.get();
        let size = (margin.in_unit(margin.value.si) - margin.in_unit(margin.limit)).abs();
        with_unit(&number::format(size, decimals(margin)), unit)
    }

    /// "1 mm": how far off the reading may be; `None` for what was set.
    #[must_use]
    pub fn error_text(&self, margin: &Margin) -> Option<String> {
        let unit = margin.unit.get();
        let size = margin.value.difference_in_unit(margin.value.error, margin.unit).abs();
        (size > 0.0).then(|| with_unit(&super::amount(size, 3), unit))
    }

    /// What is to be told beside the verdict: that a length of toe says nothing without a diameter; which places were only set, where others
    /// were read.
    #[must_use]
    pub fn beside(&self, judged: &Judged) -> Vec<String> {
        let mut all = Vec::new();
        if judged.verdict == Verdict::NotOver {
            all.push(
                "not known over which diameter the toe is measured: `toe-over` of the car, or `over` on its line"
                    .to_owned(),
            );
        }
        if let Some(line) = judged.lost.and_then(|line| self.book.entries.get(line)) {
            let at = super::place(self.files.path(line.file), self.files.line(line.span()));
            all.push(format!("not known since {at}, until a value is stated after it"));
        }
        let unsaid = self.unsaid(judged);
        if !unsaid.is_empty() {
            let places: Vec<String> = unsaid.into_iter().map(|place| self.book.place_word(place)).collect();
            all.push(format!("nothing read at {}", places.join(" ")));
        }
        let Some(reading) = judged.reading.as_ref().filter(|reading| !reading.driven) else { return all };
        let read = |value: &Value| {
            let line = value.line.and_then(|line| self.book.entries.get(line));
            line.is_some_and(|line| line.verb.is_reading())
        };
        let mut set: Vec<String> = Vec::new();
        for value in reading.values.iter().filter(|value| value.line.is_some() && !read(value)) {
            let place = self.book.place_word(value.place);
            if !set.contains(&place) {
                set.push(place);
            }
        }
        if !set.is_empty() && reading.values.iter().any(read) {
            all.push(format!("as set, not read: {}", set.join(" ")));
        }
        all
    }

    /// "from 2026-08-01 until 2026-12-31"; empty for a rule without days.
    #[must_use]
    pub fn days_text(&self, rule: &Rule) -> String {
        match (rule.from, rule.until) {
            (Some((from, _)), Some((until, _))) => format!("from {from} until {until}"),
            (Some((from, _)), None) => format!("from {from}"),
            (None, Some((until, _))) => format!("until {until}"),
            (None, None) => String::new(),
        }
    }

    /// "begins during the event, on 2026-08-01"; empty where it is in force on all of some days.
    #[must_use]
    pub fn within_text(&self, rule: &Rule, days: [Date; 2]) -> String {
        let Some([from, until]) = force::within(rule, days) else { return String::new() };
        let begins = (from > days[0]).then(|| format!("begins during the event, on {from}"));
        let ends = (until < days[1]).then(|| format!("ends during the event, on {until}"));
        let all: Vec<String> = begins.into_iter().chain(ends).collect();
        all.join(", and ")
    }

    /// "class SR-2", "the local rulebook of slatehead".
    #[must_use]
    pub fn whose_text(&self, rule: &Rule) -> String {
        match rule.local {
            Some(Local::Event(id)) => {
                let event = self.book.events.get(id);
                format!("the local rulebook of {}", event.map_or("?", |event| &*event.named.typed))
            }
            Some(Local::Circuit(id)) => {
                let circuit = self.book.circuits.get(id);
                format!("the local rulebook of {}", circuit.map_or("?", |circuit| &*circuit.named.typed))
            }
            None => format!("class {}", rule.class),
        }
    }

    /// "RF 44 mm, short by 4 mm; LR 45 mm, short by 3 mm": the other places of which the same came; empty for none.
    #[must_use]
    pub fn also_text(&self, judged: &Judged) -> String {
        let place = |margin: &Margin| {
            let value = self.value_text(&margin.value, margin);
            format!("{} {value}, {}", self.book.place_word(margin.value.place), self.short_text(margin))
        };
        judged.also.iter().map(place).collect::<Vec<_>>().join("; ")
    }

    /// "short by 4 mm", "over by 0.2 deg", "1 mm inside".
    #[must_use]
    pub fn short_text(&self, margin: &Margin) -> String {
        let size = self.margin_text(margin);
        match margin.side {
            _ if margin.margin >= 0.0 => format!("{size} inside"),
            Side::Min => format!("short by {size}"),
            Side::Max => format!("over by {size}"),
        }
    }

    /// "ride-height LF".
    #[must_use]
    pub fn subject_text(&self, rule: &Rule, judged: &Judged) -> String {
        let place = judged.margin.map_or_else(String::new, |margin| self.book.place_word(margin.value.place));
        let driver =
            judged.reading.as_ref().filter(|reading| reading.driven).and_then(|reading| reading.entry);
        let driver = driver.and_then(|entry| match self.book.entries.get(entry)?.by {
            By::Person(person) => self.book.people.get(person),
            _ => None,
        });
        let of = driver.map_or_else(String::new, |driver| format!(" of {}", driver.named.title));
        format!("{}{of} {place}", self.name(rule)).trim_end().to_owned()
    }
}

impl Side {
    /// "at least", "at most".
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            Self::Min => "at least",
            Self::Max => "at most",
        }
    }
}
