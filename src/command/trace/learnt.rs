//! `stringline trace CAR worth` and `trace CAR back-to-back`: what their numbers are made of, line by line.

use crate::Compiled;
use crate::answer::trials;
use crate::answer::trials::fitted::fitted;
use crate::answer::trials::traced::{TracedBest, TracedMeasure, TracedTogether, TrialsTrace};
use crate::answer::worth::traced::{TracedBalance, WorthTrace};
use crate::answer::worth::{self, TurnStep};
use crate::answer::{LedgerLine, json};
use crate::book::model::CarId;
use crate::book::names::Thing;
use crate::command::output::Format;
use crate::command::table::wrap;
use crate::units::number;
use crate::words;
use std::fmt::Write as _;

/// The names under which they are asked for.
pub const NAMES: [&str; 2] = ["worth", "back-to-back"];

/// What is asked for, as it is printed; `None` where there is nothing of it.
pub fn said(
    compiled: &Compiled,
    car: CarId,
    (figure, rest): (&str, &[String]),
    format: Format,
    columns: usize,
) -> Option<String> {
    let named = |rest: &[String]| (!rest.is_empty()).then(|| rest.join(" "));
    if figure.eq_ignore_ascii_case("worth") {
        let found = worth::traced::traced(compiled, car, named(rest).as_deref());
        let any = !found.turns.is_empty() || !found.hot.is_empty() || found.balance.is_some();
        return any.then(|| match format {
            Format::Text => of_worth(&found, columns),
            Format::Json => json(&found),
        });
    }
    let event = rest.first().and_then(|word| match compiled.book.names.find(word) {
        Some(Thing::Event(event)) => Some(event),
        _ => None,
    });
    let rest = rest.get(usize::from(event.is_some())..).unwrap_or_default();
    let found = trials::traced::traced(compiled, car, event, named(rest).as_deref());
    let any = !found.trials.is_empty() || !found.together.is_empty() || !found.best.is_empty();
    any.then(|| match format {
        Format::Text => of_trials(&found, columns),
        Format::Json => json(&found),
    })
}

fn place(line: &LedgerLine) -> String {
    words::place(&line.path, line.line)
}

fn unit(unit: Option<&str>) -> String {
    unit.map_or_else(String::new, |unit| format!(" {unit}"))
}

fn of_worth(found: &WorthTrace, columns: usize) -> String {
    let mut out = String::new();
    for one in &found.turns {
        let turn = &one.worth;
        out += &wrap(&turn.sentence, 0, columns);
        let closely = number::decimals_for(((turn.high - turn.low) / 10.0).max(1e-6)).min(6);
        let (moved, turned) = (unit(turn.unit.as_deref()), unit(turn.turned_unit.as_deref()));
        let per = if turned.is_empty() { String::new() } else { format!(" for 1{turned}") };
        let _ = writeln!(
            out,
            "    {}{moved}{per}, error {}, {} to {} with 0.95, {}",
            number::signed(turn.value, closely),
            number::format(turn.error, closely),
            number::signed(turn.low, closely),
            number::signed(turn.high, closely),
            words::count(turn.freedom as u64, "degree of freedom", "degrees of freedom"),
        );
        out += &wrap(&format!("by {}", one.formula), 4, columns);
        for step in &one.steps {
            let _ = writeln!(
                out,
                "    {}  {} {}{moved}  {} -> {}",
                turned_by(step, &turned),
                turn.moved,
                number::signed(step.moved, closely),
                place(&step.from),
                place(&step.to)
            );
        }
        if let Some(statics) = &turn.statics {
            out += &wrap(&format!("beside it, {}", statics.sentence), 4, columns);
        }
        out.push('\n');
    }
    for one in &found.hot {
        let hot = &one.worth;
        out += &wrap(&hot.sentence, 0, columns);
        let moved = unit(hot.unit.as_deref());
        for by in &hot.by {
            let closely = number::decimals_for(((by.high - by.low) / 10.0).max(1e-6)).min(6);
            let _ = writeln!(
                out,
                "    {}: {}{moved} for 1{}, error {}, {} to {} with 0.95",
                by.cause,
                number::signed(by.value, closely),
                unit(by.unit.as_deref()),
                number::format(by.error, closely),
                number::signed(by.low, closely),
                number::signed(by.high, closely),
            );
        }
        let _ = writeln!(
            out,
            "    {}, {} in {}",
            words::count(hot.freedom as u64, "degree of freedom", "degrees of freedom"),
            words::count(hot.runs as u64, "run", "runs"),
            words::count(hot.groups as u64, "group", "groups"),
        );
        out += &wrap(&format!("by {}", one.formula), 4, columns);
        for run in &one.runs {
            let stood = hot.by.iter().zip(&run.causes).map(|(by, value)| {
                format!("{} {}{}", by.cause, words::amount(*value, 4), unit(by.unit.as_deref()))
            });
            let _ = writeln!(
                out,
                "    group {}  {}{moved}  {}  {}",
                run.group,
                words::amount(run.value, 4),
                stood.collect::<Vec<_>>().join(", "),
                place(&run.line)
            );
        }
        out.push('\n');
    }
    if let Some(balance) = &found.balance {
        of_balance(&mut out, balance, columns);
    }
    out.truncate(out.trim_end().len());
    out + "\n"
}

fn of_balance(out: &mut String, balance: &TracedBalance, columns: usize) {
    for (index, sentence) in balance.wanted.sentences.iter().enumerate() {
        *out += &wrap(sentence, if index == 0 { 0 } else { 2 }, columns);
    }
    let Some(own) = &balance.made_of else { return };
    let _ = writeln!(out, "    {} % wanted", number::signed(own.change, 3));
    for axle in &own.axles {
        let text = format!(
            "a turn at {} is worth {} %, one at {} {} %: w {} %, {} turn up at {} and down at {}",
            axle.up,
            number::signed(axle.up_worth, 3),
            axle.down,
            number::signed(axle.down_worth, 3),
            number::signed(axle.worth, 3),
            number::signed(axle.turns, 3),
            axle.up,
            axle.down,
        );
        *out += &wrap(&text, 4, columns);
    }
    let text = format!(
        "error of the change {} %, scatter of a weighing {} %, t {}: within {} %",
        number::format(own.error, 3),
        number::format(own.scatter, 3),
        number::format(own.t, 3),
        number::format(own.within, 3),
    );
    *out += &wrap(&text, 4, columns);
    *out += &wrap(&format!("by {}", balance.formula), 4, columns);
}

/// "perch LF +0.5 turn, perch RF -0.5 turn", "read again".
fn turned_by(step: &TurnStep, unit: &str) -> String {
    if step.turned.is_empty() {
        return "read again".to_owned();
    }
    let each = step.turned.iter().map(|one| {
        let sign = if one.by < 0.0 { "-" } else { "+" };
        format!("{} {sign}{}{unit}", one.what, words::amount(one.by.abs(), 4))
    });
    each.collect::<Vec<_>>().join(", ")
}

fn of_trials(found: &TrialsTrace, columns: usize) -> String {
    let mut out = String::new();
    for trial in &found.trials {
        let at = trial.event.as_deref().unwrap_or(&trial.date);
        let _ = writeln!(out, "{at}: {}", trial.what);
        out += &wrap(&trial.sentence, 2, columns);
        let settings: Vec<String> =
            trial.settings.iter().map(|one| format!("{} {}", one.letter, one.text)).collect();
        out += &wrap(&settings.join(", "), 2, columns);
        for one in &trial.measures {
            measure(&mut out, one, columns);
        }
        if let Some(pooled) = &trial.pooled {
            let words = format!(
                "best lap, with the scatter of its other runs there ({} of the degrees of freedom): {}",
                pooled.pooled,
                fitted(pooled, Some("s"), None)
            );
            out += &wrap(&words, 2, columns);
        }
        out.push('\n');
    }
    if !found.trials.is_empty() {
        out += &wrap(&format!("by {}", found.formula), 0, columns);
    }
    for one in &found.together {
        of_several(&mut out, one, columns);
    }
    for best in &found.best {
        of_best(&mut out, best, columns);
    }
    out.trim_start_matches('\n').to_owned()
}

fn of_several(out: &mut String, one: &TracedTogether, columns: usize) {
    let _ = writeln!(out, "\n{}, several events", one.what);
    *out += &wrap(&one.sentence, 2, columns);
    *out += &wrap(&fitted(&one.fit, Some(one.unit), None), 2, columns);
    for run in &one.runs {
        let value = if one.unit == "s" {
            words::lap(run.value, 3)
        } else {
            format!("{} {}", number::format(run.value, 3), one.unit)
        };
        let line = run.line.as_ref().map_or_else(String::new, place);
        let _ = writeln!(
            out,
            "    {} {}  {}  {value}  {line}",
            named(run.event.as_deref(), &run.session),
            run.letter,
            ordinal(run.order, &run.date)
        );
    }
    *out += &wrap(&format!("by {}", one.formula), 2, columns);
}

fn of_best(out: &mut String, best: &TracedBest, columns: usize) {
    let _ = writeln!(out, "\n{}: best known setup", best.circuit);
    for known in &best.known {
        *out += &wrap(&known.sentence, 2, columns);
        for run in &known.runs {
            let line = run.line.as_ref().map_or_else(String::new, place);
            let name = named(run.event.as_deref(), &run.session);
            let _ = writeln!(out, "    {name}  {}  {}  {line}", run.date, words::lap(run.lap, 3));
        }
    }
    for run in &best.left_out {
        let line = run.line.as_ref().map_or_else(String::new, place);
        *out += &wrap(&format!("left out: {} ({})  {line}", run.session, run.why), 2, columns);
    }
    *out += &wrap(&format!("by {}", best.formula), 2, columns);
}

/// "quern-2 s6".
fn named(event: Option<&str>, session: &str) -> String {
    event.map_or_else(|| session.to_owned(), |event| format!("{event} {session}"))
}

fn measure(out: &mut String, one: &TracedMeasure, columns: usize) {
    let said = match (&one.fit, &one.refused) {
        (Some(fit), _) => fitted(fit, one.unit.as_deref(), one.decimals),
        (None, Some(why)) => format!("nothing, for {why}"),
        (None, None) => String::new(),
    };
    *out += &wrap(&format!("{}: {said}", one.name), 2, columns);
    for run in &one.runs {
        let value = run.value.map_or_else(
            || "-".to_owned(),
            |value| match one.decimals {
                Some(decimals) => number::format(value, decimals + 1) + &unit(one.unit.as_deref()),
                None => words::lap(value, 3),
            },
        );
        let line = run.line.as_ref().map_or_else(String::new, place);
        let _ = writeln!(
            out,
            "    {} {}  {}  {value}  {line}",
            run.session,
            run.letter,
            ordinal(run.order, &run.date)
        );
    }
}

/// "run 3 of 2026-09-06".
fn ordinal(order: u32, date: &str) -> String {
    format!("run {order} of {date}")
}
