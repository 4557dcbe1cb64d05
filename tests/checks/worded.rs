//! Every mistake that the reading of a book can find is put into words by exactly one check, whatever was typed.

use super::{compile_text, fixture, now};
use std::collections::BTreeSet;
use stringline::book::figure::Clash;
use stringline::book::meaning::MeaningTrouble;
use stringline::book::model::{GaugeId, KindId};
use stringline::book::place::Place;
use stringline::book::range::{Limits, Says};
use stringline::book::tried::TryTrouble;
use stringline::book::trouble::{FigureTrouble, RangeTrouble};
use stringline::book::{Trouble, What};
use stringline::check::{CHECKS, Check, Context, Look, worded};
use stringline::source::{FileId, LoadTrouble, Memory, Span};
use stringline::syntax::Mistake;
use stringline::syntax::formula::FormulaMistake;
use stringline::units::{DimensionId, table};
use stringline::vocabulary::QuantityId;
use stringline::{Compiled, compile};

const BOOK: &str = include_str!("../fixtures/verbs.sline");

/// Every fact of a book that the check it belongs to has no words for, or that another check has words for too.
pub fn badly_worded(compiled: &Compiled) -> Vec<String> {
    let cx = compiled.context();
    let mut wrong = Vec::new();
    for trouble in compiled.book.missing.iter().chain(&compiled.book.troubles) {
        let by = by(|look| matches!(look, Look::Trouble(words) if words(&cx, trouble).is_some()));
        hold(&mut wrong, worded::of_what(&trouble.what), &by, trouble);
    }
    for problem in &compiled.history.problems {
        let by = by(|look| matches!(look, Look::Problem(words) if words(&cx, problem).is_some()));
        hold(&mut wrong, worded::of_problem(problem), &by, problem);
    }
    for problem in &compiled.costs.problems {
        let by = by(|look| matches!(look, Look::Cost(words) if words(&cx, problem).is_some()));
        hold(&mut wrong, worded::of_cost(problem), &by, problem);
    }
    wrong
}

fn by(words: impl Fn(Look) -> bool) -> Vec<&'static str> {
    CHECKS.iter().filter(|check| words(check.look)).map(|check| check.name).collect()
}

fn hold(wrong: &mut Vec<String>, check: &Check, by: &[&str], fact: &impl std::fmt::Debug) {
    if by != [check.name] {
        wrong.push(format!("{fact:?} is {}'s, and worded by {by:?}", check.name));
    }
}

/// How often the facts of a book are a check's.
fn facts_of(cx: &Context<'_>, check: &Check) -> usize {
    let is = |other: &Check| other.name == check.name;
    cx.book
        .missing
        .iter()
        .chain(&cx.book.troubles)
        .filter(|trouble| is(worded::of_what(&trouble.what)))
        .count()
        + cx.history.problems.iter().filter(|problem| is(worded::of_problem(problem))).count()
        + cx.costs.problems.iter().filter(|problem| is(worded::of_cost(problem))).count()
}

/// No check that words facts is one that no fact is given to.
#[test]
fn each_check_that_words_facts_is_given_some() {
    let mut tried = 0;
    for check in CHECKS.iter() {
        if matches!(check.look, Look::Trouble(_) | Look::Problem(_) | Look::Cost(_))
            && let Some(text) = fixture(check.name, "fires")
        {
            tried += 1;
            assert_ne!(facts_of(&compile_text(&text).context(), check), 0, "{}", check.name);
        }
    }
    assert!(tried > 90, "{tried}");
}

/// One of each. The match makes a new variant a compile error here until it is listed.
fn all_of(quantity: QuantityId, first: Span) -> Vec<What> {
    let bar = table().find_one("bar", DimensionId::PRESSURE).unwrap();
    let euro = stringline::money::Currency::find("EUR");
    let limits = Limits { low: 0.0, high: 1.0, says: Says::Vocabulary };
    let mut all = vec![
        What::Load(LoadTrouble::Unreadable { path: "a".to_owned(), reason: "b".to_owned() }),
        What::Load(LoadTrouble::Loop { path: "a".to_owned() }),
        What::Load(LoadTrouble::NotUtf8 { span: first, count: 2 }),
        What::EmptyBook,
        What::Orphan,
        What::DeclarationUnknown { near: None, verb: false },
        What::DeclarationUnknown { near: None, verb: true },
        What::NameMissing("car"),
        What::NameReserved,
        What::NameTwice(Some(first)),
        What::PropertyTwice { property: "client".to_owned(), first },
        What::NameUnknown { wanted: "car", near: None },
        What::NameUnknown { wanted: "part", near: None },
        What::NameUnknown { wanted: "part", near: Some("cp-1".to_owned()) },
        What::NameUnknown { wanted: "session", near: None },
        What::NameWrongSort { wanted: "car", is: "part", declared: first },
        What::PropertyUnknown { of: "car", near: None },
        What::PropertyValue { property: "life", wants: "a number" },
        What::Full("1,000 names in this figure"),
        What::DateImpossible { days: None },
        What::DateImpossible { days: Some(30) },
        What::YearFar,
        What::DatesBackward,
        What::HeadRange,
        What::ValueImpossible { quantity, place: Place::LF, car: None, limits, unit: bar },
        What::Range(RangeTrouble::Backward),
        What::Range(RangeTrouble::NotANumber(quantity)),
        What::Range(RangeTrouble::Twice(first)),
        What::Range(RangeTrouble::Beyond(first)),
        What::QuantityBuiltIn(quantity, Vec::new()),
        What::QuantityBuiltIn(quantity, vec![first]),
        What::NoTeeth(quantity),
        What::ZoneUnknown,
        What::ClockImpossible,
        What::VerbUnknown { near: None },
        What::PageUnknown { near: None },
        What::PrintUnreadable,
        What::OutOfPlace { line: "void", under: "a reading" },
        What::HeadIndented,
        What::Incomplete { verb: "set", wants: "a quantity" },
        What::QuantityUnknown { near: None },
        What::WordUnexpected { near: None },
        What::ClauseNotTaken { clause: "from", verb: "paid", cure: None },
        What::UnitMissing(quantity),
        What::ComparedInOtherUnit(GaugeId::new(0)),
        What::ComparedWithItself(GaugeId::new(0)),
        What::UnitWrongKind { quantity: None, wanted: DimensionId::LENGTH, is: bar },
        What::UnitAmbiguous(vec![bar, bar]),
        What::UnitUnknown { wanted: DimensionId::USE, near: None },
        What::UnitTwice { number: first },
        What::FractionImproper(Vec::new()),
        What::FractionImproper(vec!["1 3/8".to_owned(), "1 5/8".to_owned()]),
        What::FractionOffRuler,
        What::AngleMinutes,
        What::LapSeconds,
        What::NumberBad,
        What::NotOneNumber(quantity),
        What::NotAPair(quantity, 3),
        What::PlaceMissing(quantity),
        What::PlaceWrong(quantity),
        What::PlaceBeyond(4),
        What::PlaceTwice(first),
        What::ClauseTwice("by", first),
        What::FactTwice("minutes", first),
        What::ValueCount { quantity, got: 3, wanted: vec!["4 (LF RF LR RR)".to_owned(), "1".to_owned()] },
        What::ValueMissing(quantity),
        What::ChangeUnsigned(quantity),
        What::ChangeOfPair(quantity),
        What::ArrowBad,
        What::ToeUnderspecified { direction: true, share: true, over: true },
        What::BecauseEmpty,
        What::CurrencyBad,
        What::CurrencyMissing(None),
        What::CurrencyMissing(euro),
        What::SumNegative,
        What::SumTooFine(euro.unwrap()),
        What::NoCar("set"),
    ];
    let clashes = [
        Clash::Unknown { span: first, name: "a-b".to_owned(), near: None },
        Clash::Unknown { span: first, name: "c_l".to_owned(), near: Some("c_r".to_owned()) },
        Clash::NoFunction(first, "slop".to_owned()),
        Clash::Apart {
            does: "adds",
            first: (first, "a weight".to_owned()),
            second: (first, "a length".to_owned()),
        },
        Clash::Wants { span: first, wants: "an angle", is: "a length".to_owned() },
        Clash::NoUnit(first),
        Clash::Ambiguous(first, vec![bar, bar]),
        Clash::List(first),
        Clash::Gives(first, "a weight".to_owned(), DimensionId::LENGTH),
        Clash::Scale(first, DimensionId::TEMPERATURE),
        Clash::Scale(first, DimensionId::TEMPERATURE_DIFFERENCE),
    ];
    all.extend(clashes.map(|clash| What::Figure(FigureTrouble::Clash(clash))));
    let mistakes = [
        FormulaMistake::Empty,
        FormulaMistake::Unexpected,
        FormulaMistake::Parenthesis,
        FormulaMistake::MinusGlued,
        FormulaMistake::Deep,
        FormulaMistake::Comparison,
    ];
    all.extend(mistakes.map(|mistake| What::Figure(FigureTrouble::Unreadable(mistake))));
    let figures = [
        FigureTrouble::NameUnknown { near: None },
        FigureTrouble::NotANumber,
        FigureTrouble::SeveralNumbers(quantity),
        FigureTrouble::PlaceWrong { wants: "an axle" },
        FigureTrouble::LocalReserved,
        FigureTrouble::Circle(vec!["a".to_owned(), "b".to_owned(), "a".to_owned()]),
        FigureTrouble::NoFormula,
        FigureTrouble::Deep,
        FigureTrouble::OtherSort { declared: Some(first), dimension: DimensionId::LENGTH, wants: "a corner" },
    ];
    all.extend(figures.map(What::Figure));
    all.push(What::Meaning(MeaningTrouble::TwoThings(first)));
    all.push(What::Meaning(MeaningTrouble::Circle(vec!["wash".to_owned(), "wash".to_owned()])));
    all.extend(
        [
            TryTrouble::OneLevel,
            TryTrouble::LetterTwice(first),
            TryTrouble::LetterUnknown(vec!['A', 'B']),
            TryTrouble::LetterUnused('B'),
            TryTrouble::SameTwice('A'),
            TryTrouble::OtherPlaces('A'),
            TryTrouble::OtherKind(KindId::from(0)),
        ]
        .map(What::Tried),
    );
    let mistakes = [
        Mistake::LineTooLong,
        Mistake::QuoteOpen,
        Mistake::DecimalComma,
        Mistake::CommaGlued,
        Mistake::DateOrder,
        Mistake::HeadUnreadable,
        Mistake::QuoteGlued,
        Mistake::Unreadable,
    ];
    all.extend(mistakes.map(What::Syntax));
    for what in &all {
        listed(what);
    }
    all
}

fn listed(what: &What) {
    match what {
        What::Load(
            LoadTrouble::Unreadable { .. } | LoadTrouble::Loop { .. } | LoadTrouble::NotUtf8 { .. },
        )
        | What::Syntax(
            Mistake::LineTooLong
            | Mistake::QuoteOpen
            | Mistake::DecimalComma
            | Mistake::CommaGlued
            | Mistake::DateOrder
            | Mistake::HeadUnreadable
            | Mistake::QuoteGlued
            | Mistake::Unreadable,
        )
        | What::Figure(
            FigureTrouble::Unreadable(
                FormulaMistake::Empty
                | FormulaMistake::Unexpected
                | FormulaMistake::Parenthesis
                | FormulaMistake::MinusGlued
                | FormulaMistake::Deep
                | FormulaMistake::Comparison,
            )
            | FigureTrouble::NameUnknown { .. }
            | FigureTrouble::NotANumber
            | FigureTrouble::SeveralNumbers(_)
            | FigureTrouble::PlaceWrong { .. }
            | FigureTrouble::Clash(
                Clash::Unknown { .. }
                | Clash::NoFunction(..)
                | Clash::Apart { .. }
                | Clash::Wants { .. }
                | Clash::NoUnit(_)
                | Clash::Ambiguous(..)
                | Clash::List(_)
                | Clash::Gives(..)
                | Clash::Scale(..),
            )
            | FigureTrouble::LocalReserved
            | FigureTrouble::Circle(_)
            | FigureTrouble::NoFormula
            | FigureTrouble::Deep
            | FigureTrouble::OtherSort { .. },
        )
        | What::Meaning(MeaningTrouble::TwoThings(_) | MeaningTrouble::Circle(_))
        | What::Tried(
            TryTrouble::OneLevel
            | TryTrouble::LetterTwice(_)
            | TryTrouble::LetterUnknown(_)
            | TryTrouble::LetterUnused(_)
            | TryTrouble::SameTwice(_)
            | TryTrouble::OtherPlaces(_)
            | TryTrouble::OtherKind(_),
        )
        | What::EmptyBook
        | What::Orphan
        | What::DeclarationUnknown { .. }
        | What::NameMissing(_)
        | What::NameReserved
        | What::NameTwice(_)
        | What::PropertyTwice { .. }
        | What::NameUnknown { .. }
        | What::NameWrongSort { .. }
        | What::PropertyUnknown { .. }
        | What::PropertyValue { .. }
        | What::Full(_)
        | What::DateImpossible { .. }
        | What::YearFar
        | What::DatesBackward
        | What::HeadRange
        | What::ValueImpossible { .. }
        | What::Range(
            RangeTrouble::Backward
            | RangeTrouble::NotANumber(_)
            | RangeTrouble::Twice(_)
            | RangeTrouble::Beyond(_),
        )
        | What::QuantityBuiltIn(..)
        | What::NoTeeth(_)
        | What::ZoneUnknown
        | What::ClockImpossible
        | What::VerbUnknown { .. }
        | What::OutOfPlace { .. }
        | What::HeadIndented
        | What::Incomplete { .. }
        | What::QuantityUnknown { .. }
        | What::WordUnexpected { .. }
        | What::ClauseNotTaken { .. }
        | What::UnitMissing(_)
        | What::ComparedInOtherUnit(_)
        | What::ComparedWithItself(_)
        | What::UnitWrongKind { .. }
        | What::UnitAmbiguous(_)
        | What::UnitUnknown { .. }
        | What::UnitTwice { .. }
        | What::FractionImproper(_)
        | What::FractionOffRuler
        | What::AngleMinutes
        | What::LapSeconds
        | What::NumberBad
        | What::NotOneNumber(_)
        | What::NotAPair(..)
        | What::PlaceMissing(_)
        | What::PlaceWrong(_)
        | What::PlaceBeyond(_)
        | What::PlaceTwice(_)
        | What::ClauseTwice(..)
        | What::FactTwice(..)
        | What::ValueCount { .. }
        | What::ValueMissing(_)
        | What::ChangeUnsigned(_)
        | What::ChangeOfPair(_)
        | What::ArrowBad
        | What::ToeUnderspecified { .. }
        | What::BecauseEmpty
        | What::CurrencyBad
        | What::CurrencyMissing(_)
        | What::SumNegative
        | What::SumTooFine(_)
        | What::PageUnknown { .. }
        | What::PrintUnreadable
        | What::NoCar(_) => {}
    }
}

/// Wherever the mistake points: at a word, a number, a whole line, nothing, and outside every file.
#[test]
fn each_mistake_has_exactly_one_check_and_plain_words() {
    let compiled = compile_text(BOOK);
    let cx = compiled.context();
    let rake = compiled.book.vocabulary.find("rake").unwrap();
    let file = FileId(0);
    let spans = [
        Span::new(file, 0, 4),
        Span::new(file, 0, 60),
        Span::new(file, 10, 10),
        Span::new(FileId(u32::MAX), 0, 0),
    ];
    for span in spans {
        for what in all_of(rake, span) {
            let trouble = Trouble { span, what };
            let mut found: Vec<_> = CHECKS
                .iter()
                .filter_map(|check| match check.look {
                    Look::Trouble(look) => look(&cx, &trouble).map(|one| (check.name, one)),
                    _ => None,
                })
                .collect();
            assert_eq!(found.len(), 1, "{trouble:?}: {found:#?}");
            let (name, one) = found.pop().unwrap();
            assert_eq!(one.check, name);
            assert_eq!(worded::of_what(&trouble.what).name, name, "{trouble:?}");
            assert_eq!(worded::trouble(&cx, &trouble).message, one.message);
            assert!(one.cure.is_some(), "{name} has no cure");
            let said = format!("{} {}", one.message, one.cure.unwrap()).to_lowercase();
            for word in ["token", "pars", "syntax", "expected", "eoi", "identifier", "invalid"] {
                assert!(!said.contains(word), "{name} says `{word}`: {said}");
            }
            assert!(
                !one.message.contains("  ") && one.message.ends_with(['.', '?']),
                "{name}: {}",
                one.message
            );
        }
    }
}

/// A book with one word left out, doubled, or with a slip on it: nothing is left without words, and on a line under a
/// date one slip makes one message.
#[test]
fn no_slip_of_one_word_is_left_without_words() {
    let lines: Vec<&str> = BOOK.lines().collect();
    let mut tried = 0;
    let mut dated = false;
    for (at, line) in lines.iter().enumerate() {
        let indent = line.len() - line.trim_start().len();
        if indent == 0 && !line.is_empty() {
            dated = line.starts_with(|first: char| first.is_ascii_digit());
        }
        let words: Vec<&str> = line.split_whitespace().collect();
        for (index, word) in words.iter().enumerate() {
            // Each word has one slip, each slip its turn.
            let slip = match tried % 5 {
                0 => String::new(),
                1 => format!("{word} {word}"),
                2 => format!("{word}q"),
                3 => format!("{word},"),
                _ => format!("\"{word}"),
            };
            tried += 1;
            let mut typed = words.clone();
            typed[index] = &slip;
            let changed = format!("{}{}", &line[..indent], typed.join(" "));
            let mut text = lines.clone();
            text[at] = &changed;
            let compiled = compile(&Memory::new(&[("book.sline", &text.join("\n"))], now())).unwrap();
            let wrong = badly_worded(&compiled);
            assert!(wrong.is_empty(), "{changed}: {wrong:#?}");
            let most = if dated && indent > 0 { 1 } else { usize::MAX };
            // A name that no line declares any more is told once, with how many lines name it.
            let unknown = |one: &&Trouble| matches!(one.what, What::NameUnknown { .. });
            let troubles = &compiled.book.troubles;
            let names: BTreeSet<String> =
                troubles.iter().filter(unknown).map(|one| format!("{:?}", one.what)).collect();
            let told = names.len() + troubles.iter().filter(|one| !unknown(one)).count();
            assert!(told <= most, "{changed}: {:#?}", compiled.book.troubles);
        }
    }
    assert!(tried > 200, "{tried}");
}
