//! Every mistake that the reading of a book can find is put into words by exactly one check, whatever was typed.

use super::{compile_text, now};
use stringline::book::figure::Clash;
use stringline::book::trouble::FigureTrouble;
use stringline::book::{Trouble, What};
use stringline::check::{CHECKS, Look};
use stringline::compile;
use stringline::source::{FileId, LoadTrouble, Memory, Span};
use stringline::syntax::Mistake;
use stringline::syntax::formula::FormulaMistake;
use stringline::units::{DimensionId, table};
use stringline::vocabulary::QuantityId;

const BOOK: &str = include_str!("../fixtures/verbs.sline");

/// One of each. The match makes a new variant a compile error here until it is listed.
fn all_of(quantity: QuantityId, first: Span) -> Vec<What> {
    let bar = table().find_one("bar", DimensionId::PRESSURE).unwrap();
    let euro = stringline::money::Currency::find("EUR");
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
        What::DatesBackward,
        What::HeadRange,
        What::ValueImpossible(quantity),
        What::ZoneUnknown,
        What::ClockImpossible,
        What::VerbUnknown { near: None },
        What::OutOfPlace { line: "void", under: "a reading" },
        What::Incomplete { verb: "set", wants: "a quantity" },
        What::QuantityUnknown { near: None },
        What::WordUnexpected { near: None },
        What::UnitMissing(quantity),
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
        What::PlaceTwice(first),
        What::ValueCount { quantity, got: 3, wanted: "4 (LF RF LR RR)".to_owned() },
        What::ValueMissing(quantity),
        What::ChangeUnsigned(quantity),
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
        FigureTrouble::LocalUnknown { name: "a-b".to_owned(), near: None },
        FigureTrouble::NotANumber,
        FigureTrouble::PlaceWrong { wants: "an axle" },
        FigureTrouble::LocalReserved,
        FigureTrouble::Circle(vec!["a".to_owned(), "b".to_owned(), "a".to_owned()]),
        FigureTrouble::NoFormula,
        FigureTrouble::Deep,
        FigureTrouble::OtherSort { declared: Some(first), dimension: DimensionId::LENGTH, wants: "a corner" },
    ];
    all.extend(figures.map(What::Figure));
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
            FigureTrouble::Unreadable(_)
            | FigureTrouble::NameUnknown { .. }
            | FigureTrouble::LocalUnknown { .. }
            | FigureTrouble::NotANumber
            | FigureTrouble::PlaceWrong { .. }
            | FigureTrouble::Clash(_)
            | FigureTrouble::LocalReserved
            | FigureTrouble::Circle(_)
            | FigureTrouble::NoFormula
            | FigureTrouble::Deep
            | FigureTrouble::OtherSort { .. },
        )
        | What::EmptyBook
        | What::Orphan
        | What::DeclarationUnknown { .. }
        | What::NameMissing(_)
        | What::NameReserved
        | What::NameTwice(_)
        | What::NameUnknown { .. }
        | What::NameWrongSort { .. }
        | What::PropertyUnknown { .. }
        | What::PropertyValue { .. }
        | What::Full(_)
        | What::DateImpossible { .. }
        | What::DatesBackward
        | What::HeadRange
        | What::ValueImpossible(_)
        | What::ZoneUnknown
        | What::ClockImpossible
        | What::VerbUnknown { .. }
        | What::OutOfPlace { .. }
        | What::Incomplete { .. }
        | What::QuantityUnknown { .. }
        | What::WordUnexpected { .. }
        | What::UnitMissing(_)
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
        | What::PlaceTwice(_)
        | What::ValueCount { .. }
        | What::ValueMissing(_)
        | What::ChangeUnsigned(_)
        | What::ArrowBad
        | What::ToeUnderspecified { .. }
        | What::BecauseEmpty
        | What::CurrencyBad
        | What::CurrencyMissing(_)
        | What::SumNegative
        | What::SumTooFine(_)
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
            let mut worded: Vec<_> = CHECKS
                .iter()
                .filter_map(|check| match check.look {
                    Look::Trouble(look) => look(&cx, &trouble).map(|one| (check.name, one)),
                    _ => None,
                })
                .collect();
            assert_eq!(worded.len(), 1, "{trouble:?}: {worded:#?}");
            let (name, one) = worded.pop().unwrap();
            assert_eq!(one.check, name);
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
            let cx = compiled.context();
            for trouble in &compiled.book.troubles {
                let worded = |look: Look| matches!(look, Look::Trouble(look) if look(&cx, trouble).is_some());
                assert!(CHECKS.iter().any(|check| worded(check.look)), "{changed}: {trouble:?}");
            }
            let most = if dated && indent > 0 { 1 } else { usize::MAX };
            assert!(compiled.book.troubles.len() <= most, "{changed}: {:#?}", compiled.book.troubles);
        }
    }
    assert!(tried > 200, "{tried}");
}
