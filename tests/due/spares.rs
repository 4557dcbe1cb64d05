//! Spares: good ones that fit and have life left, shared among the cars in date order, then by the chance of losing sessions.

use super::chance::lines as fan_belts;
use super::{SHOP, list, on, ran, row};
use stringline::answer::due::DueView;
use stringline::due::row::Action;

/// Both cars' belts stand at their limit of 300 min, and both cars run 30 min an event. Plover goes to e-3 and e-4, heron to e-4 only.
fn shared(spares: &str, more: &str) -> String {
    let mut text = SHOP.replace("at pell \"three\"", "at pell \"three\"  entered plover");
    text += "kind belt \"belt\"  fits nose on heron, plover  life 300 min\nspec hard of belt \"h\"\nspec soft of belt \"s\"\n";
    text += "part b-1 belt  spec hard  opening 270 min\npart b-2 belt  spec hard  opening 270 min\n";
    text += spares;
    text + &on("2025-05-01", "heron", &["fit b-1 nose"])
        + &on("2025-05-01", "plover", &["fit b-2 nose"])
        + &ran("heron", "e-1", "30 min")
        + &ran("plover", "e-1", "30 min")
        + more
}

/// What is said of the spare of heron's belt, and of plover's.
fn said(text: &str) -> [String; 2] {
    let due = list(text, "e-4", "2025-06-01");
    ["b-1", "b-2"].map(|part| row(&due, part).spare.clone().unwrap().text)
}

const NEW: &str = "part s-1 belt  spec hard  opening new\n";
const NEXT: &str = "part s-2 belt  spec hard  opening new\n";

#[test]
fn the_car_that_goes_first_has_the_one_there_is() {
    assert_eq!(said(&shared(NEW, "")), ["none left: what fits goes to plover", "fit s-1, new, 300 min left"]);
    // The other way about where heron goes first.
    let heron = shared(NEW, "").replace("entered plover", "entered heron");
    assert_eq!(said(&heron), ["fit s-1, new, 300 min left", "none left: what fits goes to heron"]);
}

#[test]
fn one_spare_more_or_less_changes_it() {
    assert_eq!(
        said(&shared(&format!("{NEW}{NEXT}"), "")),
        ["fit s-2, new, 300 min left", "fit s-1, new, 300 min left"]
    );
    assert_eq!(said(&shared("", "")), ["none on the shelf", "none on the shelf"]);
}

/// With 250 of 300 min on it, it lasts heron's 30 min and not plover's 60.
#[test]
fn it_must_have_life_left_for_what_is_planned() {
    let used = "part s-1 belt  spec hard  opening 250 min\n";
    assert_eq!(
        said(&shared(used, "")),
        ["fit s-1, 50 of 300 min left", "s-1 fits but has too little left: 50 of 300 min left"]
    );
    let unknown = "part s-1 belt  spec hard\n";
    let words = "s-1 fits, but how much it has run is not known";
    assert_eq!(said(&shared(unknown, "")), [words, words]);
}

#[test]
fn it_must_be_good_and_fit() {
    let after =
        |line: &str| said(&shared(NEW, &on("2025-05-20", "", &[line]).replace(" \n", "\n")))[1].clone();
    assert_eq!(after("shelve s-1"), "fit s-1, new, 300 min left");
    assert_eq!(after("failed s-1 mode perished"), "none on the shelf");
    assert_eq!(after("quarantine s-1 because dropped"), "none on the shelf");
    assert_eq!(after("scrap s-1 because dropped"), "none on the shelf");
    assert_eq!(after("sell s-1"), "none on the shelf");
    // A kind that goes on heron only is none for plover.
    let own = "kind strap \"strap\"  fits nose on heron\npart s-1 strap  opening new\n";
    assert_eq!(said(&shared(own, "")), ["none on the shelf", "none on the shelf"]);
}

/// Of several, the spec that is on the car, then the one with the most left.
#[test]
fn which_of_several() {
    let soft = "part s-1 belt  spec soft  opening new\n";
    let worn = "part s-2 belt  spec hard  opening 100 min\npart s-3 belt  spec hard  opening 90 min\n";
    let [heron, plover] = said(&shared(&format!("{soft}{worn}"), ""));
    assert_eq!(
        (plover.as_str(), heron.as_str()),
        ("fit s-3, 210 of 300 min left", "fit s-2, 200 of 300 min left")
    );
    assert_eq!(said(&shared(soft, ""))[1], "fit s-1, new, 300 min left, soft");
}

/// Both go to e-4; one has run 60 by then and the other 37, and 37 more are planned for each: the one more likely to stop has the spare.
#[test]
fn on_one_day_the_greater_chance_of_losing_sessions_goes_first() {
    let text = |heron: u32, plover: u32| {
        fan_belts("fits nose", &[])
            + "part b-1 belt  opening new\npart b-2 belt  opening new\npart s-1 belt  opening new\n"
            + &ran("heron", "e-1", "37 min")
            + &ran("plover", "e-1", "37 min")
            + &on("2025-05-10", "heron", &["fit b-1 nose", &format!("09:00 run t1  {heron} min")])
            + &on("2025-05-10", "plover", &["fit b-2 nose", &format!("09:00 run t1  {plover} min")])
    };
    let told = |due: &DueView| ["b-1", "b-2"].map(|part| row(due, part).spare.clone().unwrap().part);
    let one = list(&text(60, 37), "e-3", "2025-06-01");
    assert!(row(&one, "b-1").chance.likely > row(&one, "b-2").chance.likely);
    assert_eq!((row(&one, "b-1").action, row(&one, "b-2").action), (Action::Carry, Action::Carry));
    assert_eq!(told(&one), [Some("s-1".to_owned()), None]);
    assert_eq!(row(&one, "b-1").spare.as_ref().unwrap().text, "take s-1, new");
    assert_eq!(told(&list(&text(37, 60), "e-3", "2025-06-01")), [None, Some("s-1".to_owned())]);
}

/// Into the assembly that the old one is in.
#[test]
fn a_spare_for_what_is_inside() {
    let text = format!(
        "{SHOP}kind hub \"hub\"  fits LF\nkind bearing \"bearing\"  inside hub  life 100 min\npart h-1 hub  opening new\npart w-1 bearing  opening new\n\
         part w-2 bearing  opening new\n\n2025-05-01\n  build w-1 into h-1\n{}{}",
        on("2025-05-01", "heron", &["fit h-1 LF"]),
        ran("heron", "e-1", "80 min"),
    );
    let due = list(&text, "e-3", "2025-06-01");
    assert_eq!(row(&due, "w-1").spare.as_ref().unwrap().text, "fit w-2, new, 100 min left");
}
