//! `stringline trace`: a derived number, its formula with source, its inputs and their lines.

mod learnt;

use super::ask;
use super::output::{Format, Output};
use super::{CLEAN, ERRORS, TROUBLE};
use crate::book::figure::{FigureId, Sites};
use crate::book::names::{Thing, folded, nearest};
use crate::book::place::Place;
use crate::book::place_meant;
use crate::diagnostics::Severity;
use crate::figures::trace::{Step, trace};
use crate::figures::{BESIDE, Calc, Fig, Got, Supposed};
use crate::history::moment;
use crate::units::{DimensionId, Number, number, table, toe};
use crate::vocabulary::Places;
use crate::words;
use std::fmt::Write as _;
use std::path::Path;

/// Show how a derived number came about
#[derive(Debug, clap::Args)]
#[command(
    override_usage = "stringline trace [OPTIONS] [BOOK] <CAR|PART> <FIGURE> [PLACE] [MOMENT]",
    after_help = "Example:\n  stringline trace ledgers/2026 bittern cross-weight\n  stringline trace ledgers/2026 bittern \
                  wheel-rate LF quern-2/s5\n  stringline trace ledgers/2026 bittern worth perch LF\n  stringline trace \
                  ledgers/2026 bittern back-to-back quern-2 bar-hole"
)]
pub struct Arguments {
    /// [BOOK] CAR FIGURE [PLACE] [MOMENT]; for a part on the bench its name stands for the car, and a quantity's for a figure. `CAR worth [SETTING]` and `CAR back-to-back [EVENT] [WHAT]` show what those are made of
    #[arg(required = true, num_args = 1..=6)]
    words: Vec<std::ffi::OsString>,
    /// Put a value in place of the book's to see what it would do, such as `--with "bar-hole rear 3"`; may be repeated
    #[arg(long, value_name = "QUANTITY PLACE VALUE")]
    with: Vec<String>,
    /// The part to hold a part against
    #[arg(long, value_name = "PART")]
    against: Option<String>,
    /// Only what this client may read
    #[arg(long = "for", value_name = "CLIENT")]
    reader: Option<String>,
    /// How to say it
    #[arg(long, value_enum, default_value_t = Format::Text)]
    format: Format,
    #[command(flatten)]
    revision: super::revision::OfRevision,
}

/// A figure that cannot be had.
#[derive(serde::Serialize)]
struct Absent<'a> {
    figure: &'a str,
    missing: Vec<String>,
}

pub(super) fn run(arguments: &Arguments, output: &mut Output<'_>) -> anyhow::Result<u8> {
    // The first word is the book where it is a folder or a file.
    let (root, words) = match arguments.words.as_slice() {
        [book, words @ ..] if words.len() > 1 && Path::new(book).exists() => (Some(Path::new(book)), words),
        words => (None, words),
    };
    let words = ask::texts(words)?;
    let compiled = ask::read_by(arguments.revision.compile(root, output)?, arguments.reader.as_deref())?;
    let [subject, figure, rest @ ..] = words.as_slice() else {
        anyhow::bail!("trace needs a car and a figure, such as `bittern cross-weight`")
    };
    // A reading can be asked for too: what it says, how sure it is, and where it was typed.
    let figures = &compiled.book.figures;
    let vocabulary = &compiled.book.vocabulary;
    let quantity = vocabulary.find(&folded(figure));
    // Another word for a quantity is one for the figure of its name.
    let same = || quantity.and_then(|id| figures.find(&vocabulary.get(id).name));
    let definition = figures.find(&folded(figure)).or_else(same);
    let quantity = quantity.filter(|_| definition.is_none());
    let learnt = learnt::NAMES.iter().any(|name| figure.eq_ignore_ascii_case(name));
    if definition.is_none() && quantity.is_none() && learnt {
        return of_learnt(arguments, &compiled, &words, output);
    }
    if definition.is_none() && quantity.is_none() {
        let near = nearest(figure, figures.listed().map(|(_, figure)| &*figure.name));
        let names = || figures.listed().map(|(_, figure)| &*figure.name).collect::<Vec<_>>();
        let cure = near
            .or_else(|| starting(figures, figure))
            .map_or_else(|| format!("there are {}", words::and(&names())), words::did_you_mean);
        anyhow::bail!("no figure is called `{figure}`; {cure}");
    }
    let (car, part) = match compiled.book.names.find(subject) {
        Some(Thing::Car(car)) => (Some(car), None),
        Some(Thing::Part(part)) => (None, Some(part)),
        _ => anyhow::bail!("`{subject}` is no car and no part of this book"),
    };
    let (place, at) = match rest {
        [] => (None, None),
        [one] => compiled.book.names.place(one).map_or((None, Some(one)), |place| (Some(place), None)),
        [place, at, ..] => {
            let place =
                compiled.book.names.place(place).ok_or_else(|| anyhow::anyhow!("`{place}` is no place"))?;
            (Some(place), Some(at))
        }
    };
    let when = match at.map(|at| (at, car)) {
        None => moment::end(&compiled.history),
        Some((_, None)) => anyhow::bail!("`{subject}` is a part: a figure of the bench has no moment"),
        Some((at, Some(car))) => moment::parse(&compiled.book, &compiled.files, &compiled.history, car, at)
            .map_err(|trouble| anyhow::anyhow!(words::moment::trouble(&trouble)))?,
    };
    let imperial = car.and_then(|car| compiled.book.cars.get(car)).is_some_and(|car| car.imperial);
    let mut calc = Calc::new(compiled.facts(), car, &when);
    calc.part = part;
    let mut supposed: Vec<(&str, std::ops::Range<usize>)> = Vec::new();
    for words in &arguments.with {
        let from = calc.what_if.len();
        suppose(&mut calc, words)?;
        supposed.push((words, from..calc.what_if.len()));
    }
    if let Some(name) = &arguments.against {
        let Some(Thing::Part(other)) = compiled.book.names.find(name) else {
            anyhow::bail!("`{name}` is no part of this book")
        };
        calc.against = Some(other);
    }
    if part.is_some() && definition.is_none_or(|figure| figures.get(figure).sites != Sites::Part) {
        anyhow::bail!("`{figure}` is a figure of a car; name the car");
    }
    let at = place.unwrap_or(Place::CAR);
    let got = match definition {
        Some(figure) => calc.figure(figure, at),
        None => calc.value(&folded(figure), at),
    };
    match got {
        Ok(fig) => {
            for (words, which) in supposed.iter().filter(|_| part.is_none()) {
                if said_in_vain(&mut calc, &fig, which, |calc| match definition {
                    Some(figure) => calc.figure(figure, at),
                    None => calc.value(&folded(figure), at),
                }) {
                    anyhow::bail!(
                        "`{words}` reaches no input of {figure}: what it is worked out from here is something else, so what the \
                         change is worth is not known"
                    );
                }
            }
            let imperial = if part.is_some() { typed_in_inches(&calc) } else { imperial };
            let chain = trace(&calc, &fig, imperial);
            output.result(&match arguments.format {
                Format::Text => {
                    let supposed =
                        definition.map(|figure| as_it_is(&mut calc, figure, place, &fig, imperial));
                    text(&chain) + &supposed.unwrap_or_default()
                }
                Format::Json => crate::answer::json(&chain),
            });
            Ok(if compiled.count(Severity::Error) > 0 { ERRORS } else { CLEAN })
        }
        Err(missing) => {
            match arguments.format {
                Format::Text => output.message(&format!("{}: {}\n", figure, words::missing(&missing))),
                Format::Json => {
                    output.result(&crate::answer::json(&Absent { figure, missing: missing.needs }));
                }
            }
            Ok(TROUBLE)
        }
    }
}

/// What `worth` or `back-to-back` tells of a car, with what it is made of.
fn of_learnt(
    arguments: &Arguments,
    compiled: &crate::Compiled,
    words: &[String],
    output: &mut Output<'_>,
) -> anyhow::Result<u8> {
    let [subject, figure, rest @ ..] = words else { return Ok(TROUBLE) };
    let Some(Thing::Car(car)) = compiled.book.names.find(subject) else {
        anyhow::bail!("`{subject}` is no car of this book")
    };
    if !arguments.with.is_empty() || arguments.against.is_some() {
        anyhow::bail!("`--with` and `--against` are for figures: {figure} is what the car's own lines say")
    }
    let Some(said) = learnt::said(compiled, car, (figure, rest), arguments.format, output.width) else {
        let of = if rest.is_empty() { String::new() } else { format!(" of `{}`", rest.join(" ")) };
        output.message(&format!(
            "{figure}: nothing is told{of}; `stringline {figure} {subject}` says what is.\n"
        ));
        return Ok(TROUBLE);
    };
    output.result(&said);
    Ok(if compiled.count(Severity::Error) > 0 { ERRORS } else { CLEAN })
}

/// Decimals that show two figures of an uncertainty.
fn two_figures(u: f64) -> u8 {
    (0..9).find(|decimals| u * libm::pow(10.0, f64::from(*decimals)) >= 9.5).unwrap_or(9)
}

/// Whether a figure takes nothing of what was supposed: no step of it is one of these values, it is the same without them, and they are not
/// what the book says anyway.
fn said_in_vain(
    calc: &mut Calc<'_>,
    fig: &Fig,
    which: &std::ops::Range<usize>,
    figure: impl Fn(&mut Calc<'_>) -> Got,
) -> bool {
    let missed = calc.unreached(fig);
    if !which.clone().all(|one| missed.contains(&one)) {
        return false;
    }
    let held =
        |one: &Supposed| calc.car.and_then(|car| calc.on(car, calc.rank).number(one.quantity, one.place));
    let news = |one: &Supposed| held(one).is_none_or(|held| (held - one.value).abs() > 1e-9 * held.abs());
    let tells = calc.what_if.get(which.clone()).is_some_and(|all| all.iter().any(news));
    let all = calc.leave_out(which);
    let without = figure(calc);
    calc.what_if = all;
    tells && without.is_ok_and(|is| (is.value - fig.value).abs() <= 1e-12 * fig.value.abs())
}

/// Reads `QUANTITY [PLACE] VALUE [UNIT]` and puts it in place of the book's.
fn suppose(calc: &mut Calc<'_>, words: &str) -> anyhow::Result<()> {
    let trouble =
        || anyhow::anyhow!("`--with` takes a quantity, its place and a value, such as `bar-hole rear 3`");
    let mut rest = words.split_whitespace().peekable();
    let name = rest.next().ok_or_else(trouble)?;
    let Some(id) = calc.book.vocabulary.find(&folded(name)) else {
        anyhow::bail!("no quantity is called `{name}`")
    };
    let place = rest.peek().and_then(|word| calc.book.names.place(word));
    if place.is_some() {
        rest.next();
    }
    let quantity = calc.book.vocabulary.get(id);
    let place = place.map_or(Place::CAR, |place| place_meant(quantity, place));
    let value = rest.next().ok_or_else(trouble)?;
    if value.eq_ignore_ascii_case("off") && rest.peek().is_none() {
        // What is counted in holes can be disconnected; of anything else `off` is no number that a figure could take.
        if quantity.dimension != DimensionId::POSITION || !place.is_axle() && place != Place::ALL {
            anyhow::bail!("`{name}` cannot be off in a figure: it takes a number of it");
        }
        let both = [Place::FRONT, Place::REAR];
        for axle in both.into_iter().filter(|axle| place == *axle || place == Place::ALL) {
            calc.suppose_off(name, axle).map_err(|missing| anyhow::anyhow!(words::missing(&missing)))?;
        }
        return Ok(());
    }
    let number = Number::parse(value).map_err(|_| trouble())?;
    let unit_word = rest.next();
    let unit = unit_word.and_then(|word| table().find_one(word, quantity.dimension));
    let value = match unit_word {
        Some(word) => match unit {
            Some(unit)
                if quantity.dimension == DimensionId::TOE
                    && unit.get().dim == DimensionId::LENGTH.get().dim =>
            {
                let over =
                    calc.car.and_then(|car| calc.book.cars.get(car)?.toe_over).filter(|over| *over > 0.0);
                let Some(over) = over else {
                    anyhow::bail!("a length of toe needs the car's toe-over: not known over which diameter")
                };
                // Of an axle the total of both wheels.
                let wheels = if place.is_axle() { 2.0 } else { 1.0 };
                wheels * toe::angle(unit.get().to_si(number.value) / wheels, over)
            }
            Some(unit) => unit.get().to_si(number.value),
            None => anyhow::bail!("`{word}` is no unit of {name}"),
        },
        None if quantity.dimension.get().bare => number.value,
        None => anyhow::bail!(
            "the value of {name} needs a unit, such as {}",
            words::or(quantity.dimension.get().usual)
        ),
    };
    let corners =
        if quantity.places.has(Places::CORNER) && !(place.is_axle() && quantity.places.has(Places::AXLE)) {
            place.corners()
        } else {
            &[]
        };
    let whole = [place];
    for place in if corners.is_empty() { &whole[..] } else { corners } {
        let unit = unit.unwrap_or_else(|| table().plain());
        // A share is told in the unit that it was typed in, as the book's own is; anything else in that of the car.
        let supposed = if quantity.dimension == DimensionId::RATIO && !unit.get().shown().is_empty() {
            calc.suppose_typed(name, *place, value, (unit, number.decimals))
        } else {
            calc.suppose(name, *place, value)
        };
        supposed.map_err(|missing| anyhow::anyhow!(words::missing(&missing)))?;
    }
    Ok(())
}

/// Whether a part was measured in inches or pounds: its figures are then shown so.
fn typed_in_inches(calc: &Calc<'_>) -> bool {
    let inches = ["in", "thou", "lb", "lbf", "lbf/in", "lb/in"];
    calc.nodes.iter().filter_map(|node| node.unit).any(|unit| inches.contains(&unit.get().symbol))
}

/// With `--with`: the figure as the book has it, and what the change is worth.
fn as_it_is(
    calc: &mut Calc<'_>,
    definition: FigureId,
    place: Option<Place>,
    fig: &Fig,
    imperial: bool,
) -> String {
    if calc.what_if.is_empty() || calc.part.is_some() {
        return String::new();
    }
    calc.what_if.clear();
    let Ok(is) = calc.figure(definition, place.unwrap_or(Place::CAR)) else { return String::new() };
    let shown = trace(calc, &is, imperial);
    let would = trace(calc, fig, imperial);
    if shown.unit != would.unit {
        return format!("as the book has it {}\n", shown.shown);
    }
    // What was read is another method than the formula: what the change is worth is told of the formula alone.
    let worked_out = shown.inputs.iter().find(|input| input.input == BESIDE).map(|input| &input.step);
    let base = worked_out.filter(|step| step.unit == would.unit).unwrap_or(&shown);
    let change = number::format(would.value - base.value, 4);
    let read = if worked_out.is_some() { format!(" read, {} worked out", base.shown) } else { String::new() };
    format!("as the book has it {}{read}; the change is worth {change} {}\n", shown.shown, shown.unit)
}

/// The chain for people, inputs indented under what they make.
fn text(chain: &Step) -> String {
    let mut out = String::new();
    step(&mut out, "", chain, 0);
    out
}

fn step(out: &mut String, name: &str, step_: &Step, depth: usize) {
    let pad = "  ".repeat(depth);
    let place = if step_.place.is_empty() { String::new() } else { format!(" {}", step_.place) };
    let label = if name.is_empty() { String::new() } else { format!("{name} = ") };
    let sure = step_.u.map_or_else(String::new, |u| format!(" (u {})", number::format(u, two_figures(u))));
    let named = if step_.formula.is_some() { format!("{}{place}", step_.name) } else { step_.name.clone() };
    let status = format!("{:?}", step_.status).to_lowercase();
    let _ = writeln!(out, "{pad}{label}{}{sure}  {named}, {status}", step_.shown);
    if !step_.caution.is_empty() {
        let _ = writeln!(out, "{pad}    careful: {}", step_.caution);
    }
    if let Some(formula) = &step_.formula {
        let said: Vec<&str> =
            [&*formula.source, &*formula.convention].into_iter().filter(|text| !text.is_empty()).collect();
        let said = if said.is_empty() { String::new() } else { format!("  [{}]", said.join("; ")) };
        let _ = writeln!(out, "{pad}    by {}{said}", formula.expression);
    }
    if let Some(typed) = &step_.typed {
        let date = typed.date.as_ref().map_or_else(String::new, |date| format!(" on {date}"));
        let _ = writeln!(out, "{pad}    typed{date}, {}", words::place(&typed.path, typed.line));
    }
    if !step_.sure.is_empty() {
        let _ = writeln!(out, "{pad}    {}", step_.sure);
    }
    if let Some(corrected) = &step_.corrected {
        let lines = corrected.lines.iter().map(|line| words::place(&line.path, line.line));
        let lines: Vec<String> = lines.collect();
        let _ = writeln!(out, "{pad}    by {}", words::and(&lines));
    }
    if !step_.source.is_empty() {
        let _ = writeln!(out, "{pad}    source: {}", step_.source);
    }
    if let Some(stale) = &step_.stale {
        let line = words::place(&stale.path, stale.line);
        let _ = writeln!(out, "{pad}    stale, {}", words::stale::since(&line));
    }
    if step_.above {
        let _ = writeln!(out, "{pad}    worked out above");
    }
    for input in &step_.inputs {
        step(out, &input.input, &input.step, depth + 1);
    }
}

/// The first figure whose name begins with the word, or has it as a part: `cross` for `cross-weight`.
fn starting(figures: &crate::book::figure::Figures, word: &str) -> Option<String> {
    let word = folded(word);
    let names = || figures.listed().map(|(_, figure)| &*figure.name);
    let begins = names().find(|name| name.starts_with(&word));
    begins.or_else(|| names().find(|name| name.split('-').any(|part| part == word))).map(str::to_owned)
}
