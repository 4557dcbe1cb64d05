//! Properties of a kind of part, each with a part that is on a car.

use super::Write;
use super::page::Page;

/// A kind of its own for every part, which stays on a car for the eight lines of a head.
fn kind(page: &mut Page, at: usize, words: &str) {
    kind_at(page, at, "fits LF", words);
}

fn kind_at(page: &mut Page, at: usize, fits: &str, words: &str) {
    page.declare(&format!("kind kind-{at} \"Kind {at}\"  {fits}  {words}"));
    let part = page.part_of(at, &format!("kind-{at}"), "  opening new  made 1999-01");
    page.stay(at, &part);
}

pub fn find(construct: &str) -> Option<Write> {
    Some(match construct {
        "kind fits" => |page, at| kind_at(page, at, "fits LF RF LR RR", ""),
        "kind on" => |page, at| {
            let cars: Vec<String> = (0..8).map(|more| page.car(at / 8 + more)).collect();
            kind_at(page, at, &format!("fits LF on {}", cars.join(", ")), "");
        },
        "kind inside" => |page, at| {
            page.once("kind hub \"hub\"  fits RF");
            page.declare(&format!(
                "kind kind-{at} \"Kind {at}\"  inside hub\npart hub-{at} hub  opening new\npart x-{at} kind-{at}  opening new"
            ));
            page.shop(at, &format!("build x-{at} into hub-{at}"));
        },
        "kind life" => |page, at| kind(page, at, "life 300 min, 8 days"),
        "kind valid" => |page, at| kind(page, at, "valid 5 years from made"),
        "kind safety" => |page, at| kind(page, at, "life 300 min  safety"),
        "kind gives" => |page, at| kind(page, at, "gives spring-rate"),
        "kind carries" => |page, at| kind(page, at, "carries rebound, bump"),
        "kind clicks" => |page, at| kind(page, at, "carries rebound, bump  clicks 0..20 from full-hard"),
        "kind from" => |page, at| kind(page, at, "carries rebound  clicks 0..20 from full-soft"),
        "kind one-use" => |page, at| kind(page, at, "one-use"),
        "kind carried" => |page, at| kind(page, at, "carried boot"),
        "kind must" => |page, at| kind(page, at, "must"),
        "kind keep" => |page, at| kind(page, at, "keep 4"),
        "kind consumable" => |page, at| kind(page, at, "consumable"),
        "kind every" => |page, at| kind(page, at, "every 300 min inspect"),
        "kind failure-costs" => |page, at| {
            kind(page, at, "failure-costs 70.00 EUR");
            page.line(at, &format!("fit x-{at} LF"));
            page.line(at, &format!("failed x-{at} mode split"));
            page.line(at, &format!("remove x-{at} failed"));
        },
        _ => return None,
    })
}
