//! Which canaries each reader finds: none that is not for him, and every one for him that the shop finds by the same questions.

use super::{ALL, Who, asked, book, found, letter, planted, put, told};
use stringline::book::entry::Verb;

/// What the shop finds by a client's questions and the client does not, though it is no secret of another's: of the time when
/// the car was not his, the whole of a sum of which he pays a share, and an account of which a line is not his to read.
const LEFT_OUT: [(Who, &str); 12] = [
    (Who::Seller, "4011.27"),
    (Who::Seller, "Qa033"),
    (Who::Other, "1000.57"),
    (Who::Seller, "1000.57"),
    (Who::Seller, "Qa021"),
    (Who::Owner, "Qa018"),
    (Who::Owner, "Qa022"),
    (Who::Owner, "Qa023"),
    (Who::Owner, "Qa032"),
    (Who::Owner, "Qy016"),
    // What would go on his car if something broke is the shop's own page: it tells of other cars.
    (Who::Seller, "Qb040"),
    (Who::Seller, "Qm042"),
];

#[test]
fn no_reader_finds_what_is_not_for_him() {
    let folder = put("canaries", &book());
    let mut wrong = Vec::new();
    for who in ALL {
        let found = found(&told(&folder, who));
        wrong.extend(
            found.iter().filter(|canary| !who.may(canary)).map(|canary| format!("{who:?} finds {canary}")),
        );
    }
    assert!(wrong.is_empty(), "{wrong:#?}");
}

/// Nothing is withheld beyond that.
#[test]
fn a_client_finds_what_the_shop_finds_but_for_that() {
    let folder = put("withheld", &book());
    let mut wrong = Vec::new();
    for who in [Who::Seller, Who::Other, Who::Owner] {
        let (his, ours) = (found(&asked(&folder, who, true)), found(&asked(&folder, who, false)));
        for canary in ours.iter().filter(|canary| who.may(canary) && !his.contains(*canary)) {
            if !LEFT_OUT.contains(&(who, canary.as_str())) {
                wrong.push(format!("{who:?} lacks {canary}"));
            }
        }
        assert!(!ours.is_subset(&his), "{who:?}: nothing is withheld");
    }
    assert!(wrong.is_empty(), "{wrong:#?}");
}

/// The hand-over book holds every word for a buyer that the season's page holds, and the names and serials of the parts.
#[test]
fn a_buyer_finds_every_word_for_him() {
    let folder = put("bought", &book());
    let season = found(&asked(&folder, Who::Seller, false));
    let plain = found(&told(&folder, Who::Buyer));
    let missing: Vec<&String> =
        season.iter().filter(|canary| "bgy".contains(letter(canary)) && !plain.contains(*canary)).collect();
    assert!(missing.is_empty(), "{missing:#?}");
    let only = |who: Who| found(&told(&folder, who)).difference(&plain).cloned().collect::<Vec<_>>();
    assert_eq!(only(Who::BuyerWithBench), ["Qk068"]);
    assert_eq!(only(Who::BuyerWithPrices), ["2006.87", "2009.97", "5001.97"]);
}

/// The book has a line of every verb there is, so that a new one needs a canary too.
#[test]
fn every_verb_has_a_line() {
    let files = book();
    let texts: Vec<(&str, &str)> = files.iter().map(|(name, text)| (name.as_str(), text.as_str())).collect();
    let world = stringline::source::Memory::new(&texts, crate::checks::now());
    let compiled = stringline::compile(&world).unwrap();
    let seen: Vec<Verb> = compiled.book.entries.iter().map(|entry| entry.verb).collect();
    for verb in Verb::ALL {
        assert!(seen.contains(verb), "no line of {verb:?}");
    }
    assert!(planted().iter().any(|canary| letter(canary) == 's'));
    assert!(Who::Shop.may("Qs001") && !Who::Buyer.may("Qs001"));
}
