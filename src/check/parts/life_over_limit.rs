//! `life-over-limit`: a part ran past the limit of its life.

use crate::book::model::{LifeAmount, Clock, PartId};
use crate::check::{Check, Context, Family, Look, told};
use crate::diagnostics::{Diagnostic, Severity};
use crate::history::order::Rank;
use crate::history::sessions::Session;
use crate::history::tally::{Tally, months};
use crate::history::{partly, usage};
use jiff::civil::Date;

/// The check.
pub const CHECK: Check = Check {
    name: "life-over-limit",
    severity: Severity::Warning,
    family: Family::Parts,
    brief: "a part ran past the limit of its life",
    why: "The kind, or the spec, says how long a part may run; this session took it past that. Use is counted from \
          the sessions of the car it was on, in assemblies too, from its last rebuild and with what it had before \
          the book. Where some of that is not known, the true figure is higher: the message says \"at least\".",
    wrong: "kind coupling fits LR on heron  life 30 min\n...\n  09:00..09:40 run s1",
    right: "kind coupling fits LR on heron  life 60 min\n...\n  09:00..09:40 run s1",
    look: Look::Whole(look),
};

fn look(cx: &Context<'_>, out: &mut Vec<Diagnostic>) {
    for part in cx.book.parts.keys() {
        let (limits, whose) = cx.book.limits(part);
        if !limits.is_empty() {
            walk(cx, part, limits, whose, out);
        }
    }
}

/// One life of a part, from new or from a rebuild.
struct Life {
    run: Tally,
    rebuilt: bool,
    first: Option<Date>,
}

impl Life {
    fn begin(rebuilt: bool) -> Self {
        Self { run: Tally::default(), rebuilt, first: None }
    }
}

fn walk(cx: &Context<'_>, id: PartId, limits: &[LifeAmount], whose: &str, out: &mut Vec<Diagnostic>) {
    let history = cx.history.parts.get(id);
    let mut rebuilds = history.rebuilds.iter().peekable();
    let mut life = Life::begin(false);
    let mut said = vec![false; limits.len()];
    let mut begun = None;
    for stay in &history.stays {
        if stay.car.is_none() {
            for loan in history.lent_between(stay.from, stay.until).filter(|loan| loan.out.0 >= stay.from) {
                let back = loan.back.map_or(Rank::END, |(back, _)| back);
                while let Some(rebuild) = rebuilds.next_if(|rebuild| rebuild.rank < back) {
                    life = Life::begin(true);
                    said.fill(false);
                    begun = cx.date(rebuild.entry);
                }
                life.run.add_away(loan.ran(cx.book, Rank::END));
            }
            continue;
        }
        // What it ran up to a rebuild and what it ran behind it are counted apart.
        let rebuilt = history.rebuilds.iter().map(|rebuild| rebuild.rank);
        let within = rebuilt.filter(|rank| (stay.from..stay.until).contains(rank));
        let mut bounds: Vec<_> = within.chain([stay.from, stay.until]).collect();
        bounds.sort_unstable();
        for [from, to] in bounds.array_windows() {
            let (ran, sure) = usage::ran(cx.history, id, stay, *from, *to);
            let first = ran.first().map_or(*from, |session| session.rank);
            while let Some(rebuild) = rebuilds.next_if(|rebuild| rebuild.rank <= first) {
                life = Life::begin(true);
                said.fill(false);
                begun = cx.date(rebuild.entry);
            }
            for session in ran {
                if life.first.is_none() {
                    let fitted = cx.date(stay.entry).unwrap_or(session.date);
                    life.first = Some(begun.map_or(fitted, |rebuilt| rebuilt.max(fitted)));
                }
                life.run.add(&partly::up_to(cx.book, cx.history, &history.failures, session));
                for (limit, said) in limits.iter().zip(&mut said) {
                    if !*said
                        && !told::is_ahead(cx, session.date)
                        && let Some(words) = over(cx, id, limit, &life, session)
                    {
                        *said = true;
                        out.push(message(cx, id, limit, whose, &words, session));
                    }
                }
            }
            if !sure {
                life.run.unsure();
            }
        }
    }
}

/// What the part has reached, in words, if that is past the limit.
fn over(cx: &Context<'_>, id: PartId, limit: &LifeAmount, life: &Life, session: &Session) -> Option<String> {
    let part = &cx.book.parts[id];
    let opening = part.opening.iter().find(|opening| opening.clock == limit.clock).map(|opening| opening.value);
    let known = life.rebuilt || part.opening_new || opening.is_some();
    let opening = if life.rebuilt { 0.0 } else { opening.unwrap_or(0.0) };
    let (mut used, mut at_least) = life.run.on(limit.clock);
    if limit.clock == Clock::Months {
        (used, at_least) = (months(life.first?, session.last), false);
    }
    let total = used + opening;
    if total <= limit.value * 1.000_001 {
        return None;
    }
    let at_least = if at_least || !known { "at least " } else { "" };
    Some(format!("{at_least}{}", told::amount(limit.clock, total, cx.text(limit.typed))))
}

fn message(
    cx: &Context<'_>,
    part: PartId,
    limit: &LifeAmount,
    whose: &str,
    reached: &str,
    session: &Session,
) -> Diagnostic {
    let name = cx.part(part);
    CHECK
        .at(
            session.label,
            format!(
                "{name} reaches {reached} in {} on {}; the limit of {whose} is {}.",
                told::session(cx, session),
                cx.car(session.car),
                cx.text(limit.typed)
            ),
        )
        .and(limit.typed, "the limit")
        .cure(format!("change or rebuild {name}; correct its opening use or the limit if one of them is wrong"))
}
