//! Declarations without any property of their own, each used once.

use super::Write;

pub fn find(construct: &str) -> Option<Write> {
    Some(match construct {
        // A book has one shop; what may be many is the lines under it, and a second line says so again.
        "declare shop" => |page, at| page.declare(&format!("# shop {at}")),
        "declare person" => |page, at| {
            page.declare(&format!("person person-{at} \"Person {at}\""));
            page.line(at, &format!("read ride-height 45 45 50 50 mm  by person-{at}"));
        },
        "declare client" => |page, at| {
            page.declare(&format!("client client-{at} \"Client {at}\""));
            page.line(at, &format!("cost 4.00 EUR parts to client-{at}"));
        },
        "declare circuit" => |page, at| page.declare(&format!("circuit circuit-{at} \"Circuit {at}\"")),
        "declare event" => |page, at| {
            let day = page.past(at);
            page.declare(&format!("event meet-{at} {day} at ring \"Meeting {at}\""));
        },
        "declare gauge" => |page, at| {
            page.declare(&format!("gauge tool-{at} \"Tool {at}\"  reads ride-height"));
            page.line(at, &format!("read ride-height 45 45 50 50 mm  by tool-{at}"));
        },
        "declare car" => |page, at| {
            page.declare(&format!("car made-{at} \"Made {at}\"  client orr"));
            let (slot, event) = page.when(at, page.count());
            page.block(slot, &format!("made-{at}{event}"));
            page.add("read ride-height 45 45 50 50 mm");
        },
        "declare kind" => |page, at| {
            page.declare(&format!("kind kind-{at} \"Kind {at}\"  fits LF"));
            let part = page.part_of(at, &format!("kind-{at}"), "  opening new");
            page.stay(at, &part);
        },
        "declare spec" => |page, at| {
            page.once("kind thing \"a thing\"  fits LF RF LR RR");
            page.declare(&format!("spec spec-{at} of thing \"Spec {at}\""));
            let part = page.part_of(at, "thing", &format!("  spec spec-{at}"));
            page.stay(at, &part);
        },
        "declare part" => |page, at| {
            page.part(at);
        },
        "declare quantity" => |page, at| {
            page.declare(&format!("quantity own-{at} length car  area own \"own {at}\""));
            page.line(at, &format!("read own-{at} 4.0 mm"));
        },
        "declare baseline" => |page, at| {
            let day = page.past(at);
            page.declare(&format!("baseline base-{at} car-0 {day} \"Base {at}\""));
        },
        "declare outfit" => |page, at| {
            let part = page.part(at);
            page.declare(&format!(
                "outfit set-{at} car-0 \"Set {at}\"\n  fit {part} LF\n  set camber LF -2.9 deg"
            ));
            page.block(1 + at * 6999 / page.count(), "car-0");
            page.add(&format!("fit set-{at}"));
        },
        "declare exchange" => |page, at| {
            let day = page.own_day(at);
            // A rate a day of each of several currencies.
            let code = ["USD", "SEK", "NOK", "DKK", "CHF", "PLN", "CZK", "HUF"][at % 8];
            if at < 8 * 6999 {
                page.declare(&format!("exchange {code} 0.9{} EUR from {day}", at % 10));
            }
            page.line(at, &format!("cost 4.00 {code} parts"));
        },
        "declare rule" => |page, at| {
            page.declare(&format!("rule own-{at} class S-1  ride-height min 4{} mm", at % 10));
        },
        "declare word" => |page, at| page.declare(&format!("word own-{at} means push")),
        // Each means the next: a long way from one word to another.
        "word means" => |page, at| page.declare(&format!("word odd-{at} means odd-{}", at + 1)),
        // A class each, with a car of it.
        "declare class" => |page, at| {
            page.declare(&format!("class own-class-{at} \"Class {at}\""));
            page.declare(&format!("car made-{at} \"Made {at}\"  class own-class-{at}"));
            let (slot, event) = page.when(at, page.count());
            page.block(slot, &format!("made-{at}{event}"));
            page.add("read ride-height 45 45 50 50 mm");
        },
        _ => return None,
    })
}
