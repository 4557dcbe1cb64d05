//! `value-far-from-history`: a reading far outside everything this slot ever was.

use super::lines::{Hit, by_line};
use crate::check::{Check, Context, Family, Look};
use crate::book::entry::{EntryId, Item, Verb};
use crate::diagnostics::{Diagnostic, Severity};
use crate::history::slots::{Register, Track};
use crate::units::{Number, number};

/// The check.
pub const CHECK: Check = Check {
    name: "value-far-from-history",
    severity: Severity::Warning,
    family: Family::Settings,
    brief: "a reading far outside everything this car's slot ever was",
    why: "With five or more earlier values a slot has a range of its own. A reading beyond it by more than three times that \
          range, and by ten times what the gauge can tell, is a slip of a digit more often than a fact. What was found to \
          have drifted is said by `found-has-drifted` and not here.",
    wrong: "  left weight RF 254.0 kg",
    right: "  left weight RF 154.0 kg",
    look: Look::Whole(look),
};

/// Fewer values than these are no history.
const ENOUGH: usize = 5;

#[derive(Debug, Clone, Copy)]
struct Far {
    low: f64,
    high: f64,
    by: f64,
}

fn look(cx: &Context<'_>, out: &mut Vec<Diagnostic>) {
    for line in by_line(cx, |track, out| track_of(cx, track, out)) {
        let Some(hit) = line.first() else { continue };
        let item = cx.item(hit.item);
        let Some(quantity) = cx.entry(hit.entry).quantity else { continue };
        let Far { low, high, by } = hit.what;
        let range = format!(
            "{} to {}",
            cx.difference_like(low, hit.entry, item),
            cx.difference_like(high, hit.entry, item)
        );
        let side = if by > 0.0 { "above" } else { "below" };
        let also = match line.len() {
            1 => String::new(),
            2 => " One more on this line is as far off.".to_owned(),
            n => format!(" {} more on this line are as far off.", n - 1),
        };
        let guess = slip(cx, hit.entry, item, low, high);
        let ask = guess.as_ref().map_or_else(String::new, |text| format!(" {text}?"));
        let cure = match guess {
            Some(text) => format!("write {text} if a digit slipped"),
            None => "correct it, or `waive value-far-from-history because ...`".to_owned(),
        };
        let words = format!(
            "{} {} is {} {side} all it ever was, {range}.{ask}{also}",
            cx.slot(quantity, item.place),
            cx.typed(hit.entry, item),
            cx.difference_like(by.abs(), hit.entry, item),
        );
        out.push(CHECK.at(cx.item_span(hit.entry, hit.item), words).cure(cure));
    }
}

fn track_of(cx: &Context<'_>, track: &Track, out: &mut Vec<Hit<Far>>) {
    let quantity = cx.quantity(track.quantity);
    if quantity.counter || quantity.dimension.get().is_text() || quantity.dimension.get().affine() {
        return;
    }
    let drifts = !quantity.disturbed_by.is_empty() || quantity.disturbed_by_hit;
    let (mut low, mut high, mut count) = (f64::INFINITY, f64::NEG_INFINITY, 0);
    for (line, event) in track.lines() {
        if event.register() == Register::Unknown {
            continue;
        }
        let (entry, item) = (cx.entry(line), cx.item(event.item()));
        if !Context::is_number(item) || entry.verb == Verb::Bench {
            continue;
        }
        let value = event.value;
        let read = event.register() == Register::Read && !(drifts && entry.verb == Verb::Found);
        if read && count >= ENOUGH {
            let by = if value > high { value - high } else { (value - low).min(0.0) };
            if by.abs() > 3.0 * (high - low) && by.abs() > 10.0 * cx.grain(entry, item) {
                out.push(Hit { entry: line, item: event.item(), what: Far { low, high, by } });
            }
        }
        low = low.min(value);
        high = high.max(value);
        count += 1;
    }
}

/// The number with one digit changed, or the point moved, that would have been in range; the least change of digit first.
fn slip(cx: &Context<'_>, entry: EntryId, item: &Item, low: f64, high: f64) -> Option<String> {
    let typed = cx.text(item.span(cx.entry(entry).file));
    let unit = item.unit().get();
    let scale = Number::parse(typed).ok().filter(|number| number.value != 0.0)?;
    let per = item.si / unit.to_si(scale.value);
    let room = cx.grain(cx.entry(entry), item);
    let fits = |text: &str| {
        Number::parse(text).is_ok_and(|number| {
            let si = unit.to_si(number.value) * per;
            si >= low - room && si <= high + room
        })
    };
    for (at, digit) in typed.char_indices().filter(|(_, digit)| digit.is_ascii_digit()) {
        for other in '0'..='9' {
            let mut text = typed.to_owned();
            text.replace_range(at..=at, &other.to_string());
            if other != digit && fits(&text) {
                return Some(text);
            }
        }
    }
    [10.0, 0.1, 100.0, 0.01].into_iter().find_map(|by| {
        let text = number::format(scale.value * by, item.decimals + u8::from(by < 1.0));
        fits(&text).then_some(text)
    })
}
