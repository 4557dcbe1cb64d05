//! What is worked out of a weighing neither passes nor fails once something disturbed it: on the card as in a trace, whoever reads.

use crate::checks::compile_text;
use stringline::Compiled;
use stringline::answer::rules::build;
use stringline::audience::{Reader, cut};
use stringline::book::model::{CarId, ClientId};
use stringline::book::place::Place;
use stringline::figures::Calc;
use stringline::history::moment;

const BOOK: &str = "\
client kell \"Kell\"
car otter \"Otter\"  client kell  class S
rule rw class S  cross-weight max 51 %
rule rt class S  total-weight min 600 kg

2025-05-04 otter
  set perch RF 0 turn
  found weight 149 151 171 171 kg  with driver 78 kg, fuel 20 L, bars off
";

fn verdicts(book: &Compiled) -> Vec<(String, &'static str)> {
    let card = build(book, CarId::new(0), &moment::end(&book.history), None, None);
    card.rules.into_iter().map(|one| (one.rule, one.verdict)).collect()
}

/// 322 of 642 kg are 50.16 %, which passes by 0.84 with scales that may be off by 0.31. A turn of a perch moves weight between the corners and
/// takes none off the car.
#[test]
fn a_figure_of_a_disturbed_weighing_is_not_known() {
    let known = |book: &Compiled| {
        let mut calc = Calc::new(book.facts(), CarId::new(0), &moment::end(&book.history));
        let cross = calc.named("cross-weight", Place::CAR).unwrap();
        assert!((cross.value - 322.0 / 642.0).abs() < 1e-9, "{}", cross.value);
        cross.stale.is_none()
    };
    let card = |cross: &'static str| [("rw".to_owned(), cross), ("rt".to_owned(), "passes")];
    let own = |book: &Compiled| cut(book, &Reader::Client(ClientId::new(0)));
    let clean = compile_text(BOOK);
    assert!(known(&clean));
    assert_eq!(verdicts(&clean), card("passes"));
    for line in [
        "  adjust perch RF +1 turn\n",
        "  adjust perch RF +1 turn  for shop\n",
        "  adjust perch RF +1,0 turn\n",
        "  hit RF \"kerb\"\n",
    ] {
        for day in ["", "2025-05-05 otter\n"] {
            let book = compile_text(&format!("{BOOK}{day}{line}"));
            for book in [own(&book), book] {
                assert!(!known(&book), "{line}");
                assert_eq!(verdicts(&book)[0], ("rw".to_owned(), "not-known"), "{day}{line}");
            }
        }
        // What is weighed after it is known again.
        let again = format!(
            "{BOOK}{line}2025-05-06 otter\n  found weight 149 151 171 171 kg  with driver 78 kg, fuel 20 L, bars off\n"
        );
        assert_eq!(verdicts(&compile_text(&again)), card("passes"), "{line}");
    }
}
