//! Properties of a part and of a spec.

use super::Write;
use super::page::Page;

/// A part, and a stay of it on a car.
fn part(page: &mut Page, at: usize, words: &str) {
    page.once("kind thing \"a thing\"  fits LF RF LR RR");
    let part = page.part_of(at, "thing", &format!("  {words}"));
    page.stay(at, &part);
}

/// The same of a kind that is good for some years.
fn dated(page: &mut Page, at: usize, words: &str) {
    page.once(
        "kind label \"label\"  fits LF  valid 2 years from serviced, 10 years from made, 9 years from fitted",
    );
    let part = page.part_of(at, "label", &format!("  {words}"));
    page.stay(at, &part);
}

fn spec(page: &mut Page, at: usize, words: &str) {
    page.once("kind thing \"a thing\"  fits LF RF LR RR  gives spring-rate");
    page.declare(&format!("spec spec-{at} of thing \"Spec {at}\"  {words}"));
    let part = page.part_of(at, "thing", &format!("  spec spec-{at}  opening new  made 1999-01"));
    page.stay(at, &part);
}

pub fn find(construct: &str) -> Option<Write> {
    Some(match construct {
        "part spec" => |page, at| {
            page.once("kind thing \"a thing\"  fits LF RF LR RR");
            page.once("spec std of thing \"usual\"");
            part(page, at, "spec std");
        },
        "part serial" => |page, at| part(page, at, &format!("serial \"S {at}\"")),
        "part opening" => |page, at| part(page, at, "opening 55 min, 2 days"),
        "part made" => |page, at| dated(page, at, "made 1999-07"),
        "part serviced" => |page, at| dated(page, at, "made 1999-01  serviced 1999-04-30"),
        "part fitted" => |page, at| dated(page, at, "made 1998-01  fitted 1999-06"),
        "part valid-until" => |page, at| part(page, at, "valid-until 2045-12-31"),
        "part tag" => |page, at| {
            page.once("kind thing \"a thing\"  fits LF RF LR RR  gives spring-rate");
            let name = page.part_of(at, "thing", "  tag spring-rate 70 N/mm");
            page.stay(at, &name);
        },
        "part price" => |page, at| part(page, at, "opening new  price 38.00 EUR"),
        "part paid" => |page, at| part(page, at, "opening new  paid"),
        "part client" => |page, at| part(page, at, "opening new  client orr"),
        "spec of" => |page, at| spec(page, at, ""),
        "spec price" => |page, at| spec(page, at, "price 38.00 EUR"),
        "spec life" => |page, at| spec(page, at, "life 300 min"),
        "spec valid" => |page, at| spec(page, at, "valid 2 years from made"),
        "spec tag" => |page, at| spec(page, at, "tag spring-rate 70 N/mm"),
        _ => return None,
    })
}
