//! Every clock of every part and every life, and the totals of cars, positions, events and the season, against the plain walk.

use super::script::{CARS, Spread, compiled, draws, files, play};
use super::walk::{Lived, PARTS, Session, Shop};
use crate::history::{car, part};
use proptest::prelude::*;
use stringline::Compiled;
use stringline::book::model::{CarId, Clock, EventId};
use stringline::book::names::Thing;
use stringline::history::order::Rank;
use stringline::history::usage::{self, Use};
use stringline::lives::{End, Life, Lives, lives};

/// What the walk says of some sessions on every clock: amount, and whether it is only "at least".
fn counted(shop: &Shop, ran: &[(usize, f64)], clock: Clock) -> (f64, bool) {
    let all = || ran.iter().map(|(at, share)| (&shop.sessions[*at], *share));
    let sum = |value: &dyn Fn(&Session, f64) -> Option<f64>| {
        let all: Vec<Option<f64>> = all().map(|(session, share)| value(session, share)).collect();
        (all.iter().flatten().sum(), all.iter().any(Option::is_none))
    };
    let distinct = |mut all: Vec<String>| {
        all.sort();
        all.dedup();
        (all.len() as f64, false)
    };
    match clock {
        Clock::Time => sum(&|one, share| one.minutes.map(|minutes| 60.0 * f64::from(minutes) * share)),
        Clock::Laps => sum(&|one, share| one.laps.map(|laps| (f64::from(laps) * share).round())),
        // 1.20 km a lap, at an event; elsewhere nobody knows.
        Clock::Distance => {
            sum(&|one, share| one.event().and(one.laps).map(|laps| 1200.0 * f64::from(laps) * share))
        }
        // Laps are no stage.
        Clock::StageDistance => sum(&|one, _| match one.laps {
            Some(laps) if laps > 0 => Some(0.0),
            laps => one.event().and(laps).map(|_| 0.0),
        }),
        Clock::Days => distinct(all().map(|(one, _)| one.day.to_string()).collect()),
        Clock::Events => distinct(all().filter_map(|(one, _)| one.event()).map(str::to_owned).collect()),
        Clock::Sessions => (ran.len() as f64, false),
        Clock::Launches => sum(&|one, _| Some(f64::from(one.launches.unwrap_or(0)))),
        Clock::HeatCycles => sum(&|one, _| Some(f64::from(one.heat.unwrap_or(1)))),
        Clock::Months => (0.0, true),
    }
}

/// What a part had run before the book on a clock; nothing is only known where it is said.
fn before(at: usize, life: &Lived, clock: Clock) -> Option<f64> {
    if life.renewed {
        return Some(0.0);
    }
    match clock {
        Clock::Time => PARTS[at].before[0].map(|minutes| 60.0 * minutes),
        Clock::Days => PARTS[at].before[1],
        _ => (PARTS[at].opening == "new").then_some(0.0),
    }
}

fn word(end: End) -> &'static str {
    match end {
        End::Running => "running",
        End::RunningSold => "sold running",
        End::Good(_) => "good",
        End::Rebuilt(_) => "rebuilt",
        End::Failed(_) => "failed",
        End::Unused => "unused",
        End::Unmended(_) => "unmended",
    }
}

fn alike((got, least): (f64, bool), (wanted, unknown): (f64, bool)) -> bool {
    (got - wanted).abs() < 1e-6 && least == unknown
}

fn one_life(shop: &Shop, book: &Compiled, at: usize, got: &Life, want: &Lived) -> Result<(), String> {
    if word(got.end) != want.end {
        return Err(format!("ended {:?}, walked {}", got.end, want.end));
    }
    for clock in Clock::ALL {
        let (value, unknown) = counted(shop, &want.ran, clock);
        let before = before(at, want, clock);
        let lived = got.on(&book.book, clock);
        let want_all = (value + before.unwrap_or(0.0), unknown || before.is_none());
        if !alike((lived.value, lived.at_least), want_all) || lived.before != before {
            return Err(format!("{clock:?}: {lived:?}, walked {want_all:?} with {before:?} before"));
        }
        let (old, unknown) = counted(shop, &want.ran[..want.old], clock);
        let began =
            if want.old == 0 { Some(0.0) } else { before.filter(|_| !unknown).map(|before| before + old) };
        let got_began = got.began_at(&book.book, clock);
        let same = match (got_began, began) {
            (Some(got), Some(want)) => (got - want).abs() < 1e-6,
            (None, None) => true,
            _ => false,
        };
        if !same && clock != Clock::Months {
            return Err(format!("{clock:?}: began at {got_began:?}, walked {began:?}"));
        }
    }
    Ok(())
}

fn of_use(book: &Use, shop: &Shop, ran: &[(usize, f64)]) -> Result<(), String> {
    for clock in Clock::ALL.into_iter().filter(|clock| *clock != Clock::Months) {
        let want = counted(shop, ran, clock);
        if !alike(book.on(clock), want) {
            return Err(format!("{clock:?}: {:?}, walked {want:?}", book.on(clock)));
        }
    }
    Ok(())
}

/// All that a part ran, whatever its lives: the last life that goes on holds what those before it ran.
fn all_ran(lives: &[Lived]) -> Vec<(usize, f64)> {
    lives.iter().flat_map(|life| life.ran[life.old..].iter().copied()).collect()
}

fn whole(shop: &Shop, of: impl Fn(&Session) -> bool) -> Vec<(usize, f64)> {
    let all = shop.sessions.iter().enumerate();
    all.filter(|(_, session)| of(session)).map(|(at, _)| (at, 1.0)).collect()
}

fn event(book: &Compiled, name: &str) -> EventId {
    match book.book.names.find(name) {
        Some(Thing::Event(id)) => id,
        other => panic!("{name}: {other:?}"),
    }
}

fn parts_agree(shop: &Shop, book: &Compiled, all: &Lives) -> Result<(), String> {
    for (at, declared) in PARTS.iter().enumerate() {
        let id = part(book, declared.name);
        let say = |why: String| format!("{}: {why}", declared.name);
        let total = usage::of_part(&book.book, &book.history, id, Rank::START, Rank::END);
        of_use(&total, shop, &all_ran(shop.lives(at))).map_err(say)?;
        let (got, want) = (all.of_part(id), shop.lives(at));
        if got.len() != want.len() {
            let ends: Vec<_> = want.iter().map(|life| life.end).collect();
            return Err(say(format!("{} lives, walked {ends:?}", got.len())));
        }
        for (number, (got, want)) in got.iter().zip(want).enumerate() {
            one_life(shop, book, at, got, want).map_err(|why| say(format!("life {}: {why}", number + 1)))?;
        }
    }
    Ok(())
}

/// Minutes of a car's place while it was held, by the parts' own stays and by the place's own list.
fn place_agrees(shop: &Shop, book: &Compiled, on: CarId, index: usize, place: &str) -> Result<(), String> {
    let history = &book.history;
    let mut by_part = Vec::new();
    for id in book.book.parts.keys() {
        for stay in &history.parts.get(id).stays {
            let here = matches!(stay.at, stringline::history::parts::Where::Car(car, at)
                if car == on && book.book.place_word(at) == place);
            if here {
                by_part.extend(history.sessions.between(on, stay.from, stay.until).iter().copied());
            }
        }
    }
    let lists = history.parts.occupants.iter();
    let mut by_place: Vec<_> = lists
        .filter(|((car, _, at), _)| *car == on && book.book.place_word(*at) == place)
        .flat_map(|(_, list)| list)
        .flat_map(|(from, until, _)| history.sessions.between(on, *from, *until).iter().copied())
        .collect();
    by_place.sort();
    by_part.sort();
    let held = whole(shop, |one| one.car == index && one.there.iter().any(|(at, _)| *at == place));
    for list in [by_part, by_place] {
        let total = usage::total(list.iter().map(|id| history.sessions.get(*id)));
        of_use(&total, shop, &held).map_err(|why| format!("{} {place}: {why}", CARS[index]))?;
    }
    Ok(())
}

/// The season by cars, by events and days outside them, and by places with the time that a place stood empty.
fn totals_agree(shop: &Shop, book: &Compiled) -> Result<(), String> {
    let history = &book.history;
    let mut season = 0.0;
    for (index, name) in CARS.iter().enumerate() {
        let id = car(book, name);
        let own = usage::total(history.sessions.of(id).map(|(_, session)| session));
        of_use(&own, shop, &whole(shop, |one| one.car == index)).map_err(|why| format!("{name}: {why}"))?;
        season += own.minutes;
        let mut by_event = 0.0;
        for at in ["pell-1", "pell-2"] {
            let there = usage::total(history.sessions.at(id, event(book, at)).map(|(_, session)| session));
            let walked = whole(shop, |one| one.car == index && one.event() == Some(at));
            of_use(&there, shop, &walked).map_err(|why| format!("{name} at {at}: {why}"))?;
            by_event += there.minutes;
        }
        let apart = history.sessions.of(id).filter(|(_, session)| session.event.is_none());
        by_event += usage::total(apart.map(|(_, session)| session)).minutes;
        if (own.minutes - by_event).abs() > 1e-9 {
            return Err(format!("{name}: {} min, by event {by_event}", own.minutes));
        }
        for place in if index == 0 { &["LR", "RR", "LF", "RF"][..] } else { &["prop", "LF", "RF"] } {
            place_agrees(shop, book, id, index, place)?;
        }
    }
    let all = usage::total(history.sessions.all.iter());
    if (all.minutes - season).abs() > 1e-9 {
        return Err(format!("the season {} min, by car {season}", all.minutes));
    }
    // Along the path: what all parts ran is, session by session, its minutes for each part aboard.
    let mut by_part = 0.0;
    let mut by_session = 0.0;
    for id in book.book.parts.keys() {
        by_part += usage::of_part(&book.book, history, id, Rank::START, Rank::END).minutes;
    }
    for (at, session) in shop.sessions.iter().enumerate() {
        for part in &session.aboard {
            let share =
                all_ran(shop.lives(*part)).iter().find(|(ran, _)| *ran == at).map(|(_, share)| *share);
            by_session += f64::from(session.minutes.unwrap_or(0)) * share.unwrap_or(f64::NAN);
        }
    }
    if (by_part - by_session).abs() > 1e-6 {
        return Err(format!("parts {by_part} min, sessions {by_session}"));
    }
    Ok(())
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 256, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn every_clock_of_every_life_is_what_a_plain_walk_counts(draws in draws(140), spread in 0..3_usize) {
        let spread = [Spread::One, Spread::Apart, Spread::Backwards][spread];
        let (shop, lines) = play(&draws);
        let files = files(&lines, spread);
        let book = compiled(&files);
        let said = || files.iter().map(|(path, text)| format!("# {path}\n{text}")).collect::<String>();
        let errors = book.count(stringline::diagnostics::Severity::Error);
        prop_assert_eq!(errors, 0, "{}\n{:#?}", said(), book.diagnostics);
        let all = lives(&book.book, &book.history, Rank::END);
        let done = parts_agree(&shop, &book, &all).and_then(|()| totals_agree(&shop, &book));
        if let Err(why) = done {
            prop_assert!(false, "{why}\n{}", said());
        }
    }
}
