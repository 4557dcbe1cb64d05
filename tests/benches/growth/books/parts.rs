//! Verbs about parts.

use super::Write;
use super::page::Page;

/// Positions that are full at once.
const FULL: usize = 1000;

fn fitted(page: &mut Page, at: usize) -> String {
    let part = page.part(at);
    page.line(at, &format!("fit {part} LF"));
    part
}

fn assembly(page: &mut Page, at: usize) {
    page.once("kind hub \"hub\"  fits RF");
    page.once("kind inner \"inner part\"  inside hub");
    page.declare(&format!("part hub-{at} hub  opening new\npart inner-{at} inner  opening new"));
    page.shop(at, &format!("build inner-{at} into hub-{at}"));
}

pub fn find(construct: &str) -> Option<Write> {
    Some(match construct {
        "verb fit" => |page, at| {
            if at == 0 {
                let places: Vec<String> = (0..FULL).map(|place| format!("pos-{place}")).collect();
                page.declare(&format!("kind many \"one of many\"  fits {}", places.join(" ")));
            }
            let part = page.part_of(at, "many", "  opening new");
            // The car is the first one: what is fitted there stays there until its position is wanted again.
            page.block(1 + at / (page.count() / 7000 + 1), "car-0");
            if let Some(before) = at.checked_sub(FULL) {
                page.add(&format!("remove x-{before}"));
            }
            page.add(&format!("fit {part} pos-{}", at % FULL));
        },
        "verb remove" => |page, at| {
            let part = page.part(at);
            page.stay(at, &part);
        },
        "verb swap" => |page, at| {
            let part = page.part(at);
            page.block(1 + at * 6999 / page.count(), "car-0");
            match at.checked_sub(1) {
                None => page.add(&format!("fit {part} LF")),
                Some(before) => page.add(&format!("swap thing LF x-{before} -> {part}")),
            }
        },
        "verb move" => |page, at| {
            let part = page.part(0);
            page.block(1 + at * 6999 / page.count(), &format!("car-{}", (at + 1) % 2));
            if at == 0 {
                page.add(&format!("fit {part} LF"));
            }
            page.add(&format!("move {part} -> car-{} LF  20.00 EUR", at % 2));
        },
        "verb build" => assembly,
        "verb strip" => |page, at| {
            assembly(page, at);
            page.shop(at, &format!("strip inner-{at} from hub-{at}"));
        },
        "verb rebuild" => |page, at| {
            let part = page.part(at / 100);
            page.shop(at, &format!("rebuild {part} with seals, oil"));
        },
        "verb shelve" => |page, at| {
            let part = fitted(page, at);
            page.line(at, &format!("remove {part} failed"));
            page.line(at, &format!("shelve {part}"));
        },
        "verb quarantine" => |page, at| {
            let part = page.part(at);
            page.shop(at, &format!("quarantine {part} because no papers"));
        },
        "verb release" => |page, at| {
            let part = page.part(at);
            page.shop(at, &format!("quarantine {part} because no papers"));
            page.shop(at, &format!("release {part} because they came"));
        },
        "verb scrap" => |page, at| {
            let part = page.part(at);
            page.shop(at, &format!("scrap {part} because perished"));
        },
        "verb buy" => |page, at| {
            let part = page.part(at);
            page.shop(at, &format!("buy {part} 38.00 EUR from \"the works\"  invoice \"R {at}\""));
        },
        "verb sell" => |page, at| {
            let part = page.part(at);
            page.shop(at, &format!("sell {part} 20.00 EUR to orr"));
        },
        "verb failed" => |page, at| {
            let part = fitted(page, at);
            page.line(
                at,
                &format!("failed {part} mode split mechanism tear cause unknown found-by inspection"),
            );
            page.line(at, &format!("remove {part} failed"));
        },
        "verb hit" => |page, at| page.line(at, "hit RF \"gate post\""),
        "verb inspect" => |page, at| {
            let part = page.part(at / 100);
            page.shop(at, &format!("inspect {part} good \"no play\""));
        },
        "verb service" => |page, at| {
            page.once("kind bottle \"bottle\"  fits bulkhead  valid 2 years from serviced");
            let part = page.part_of(at / 100, "bottle", "  made 1999-01");
            page.shop(at, &format!("service {part} \"weighed\""));
        },
        "verb lend" => |page, at| {
            let part = page.part(at);
            page.shop(at, &format!("lend {part} to \"the next shop\" until 2030-05-01"));
            page.shop(at, &format!("return {part} ran 20 min"));
        },
        "verb borrow" => |page, at| {
            let part = page.part(at);
            page.shop(at, &format!("borrow {part} from \"the next shop\" on approval 45.00 EUR"));
        },
        "verb return" => |page, at| {
            let part = page.part(at / 100);
            page.shop(at, &format!("lend {part} to ned"));
            page.shop(at, &format!("return {part} unused"));
        },
        "verb count" => |page, at| {
            page.once("kind nut \"nut\"  keep 10");
            page.shop(at, &format!("count nut {}", at % 40));
        },
        "verb use" => |page, at| {
            page.once("kind nut \"nut\"  keep 10");
            page.shop(at, "buy nut 5 6.00 EUR");
            page.shop(at, "use nut 4");
        },
        _ => return None,
    })
}
