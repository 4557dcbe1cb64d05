//! Verbs of settings and readings, and the lines under them.

use super::Write;
use super::page::Page;

fn bench(page: &mut Page, at: usize, words: &str) {
    page.once("kind coil \"coil spring\"  fits LF RF LR RR  gives spring-rate");
    let part = page.part_of(at / 8, "coil", "");
    page.shop(at, &format!("bench {part} {words}"));
}

pub fn find(construct: &str) -> Option<Write> {
    Some(match construct {
        "verb set" => |page, at| page.line(at, &format!("set bar-hole front {}", 1 + at % 5)),
        "verb adjust" => |page, at| {
            page.line(
                at,
                if at % 2 == 0 { "adjust perch RF +1/4 turn" } else { "adjust perch RF -1/4 turn" },
            );
        },
        "verb found" => |page, at| {
            let gauge = page.gauge(at);
            page.line(at, &format!("found camber -2.{} -3.1 -2.0 -2.0 deg  by {gauge}", at % 10));
        },
        "verb left" => |page, at| {
            let gauge = page.gauge(at);
            page.line(at, &format!("left camber -2.{} -3.1 -2.0 -2.0 deg  by {gauge}", at % 10));
        },
        "verb read" => |page, at| page.line(at, &format!("read ride-height 4{} 45 50 50 mm", at % 10)),
        "verb bench" => |page, at| bench(page, at, &format!("spring-rate 69.{}, 69.2, 69.5 N/mm", at % 10)),
        "verb fill" => |page, at| page.line(at, &format!("fill gearbox-oil 75W-90 1.{} L", at % 10)),
        "verb torque" => |page, at| page.line(at, "torque wheel-torque all 85 N.m"),
        "verb recheck" => |page, at| {
            page.line(at, "torque wheel-torque all 85 N.m");
            page.line(at, "recheck wheel-torque ok");
        },
        "verb compare" => |page, at| {
            let gauge = page.gauge(at);
            page.line(at, &format!("compare {gauge} -2.{} reference -3.0 deg", at % 10));
        },
        "verb points" => |page, at| {
            bench(page, at, "spring-rate");
            page.add("  points 0 mm 60 N, 30 mm 2142 N");
        },
        "verb sweep" => |page, at| {
            page.line(at, "found caster");
            page.add("  sweep LF 20 deg inner 1.4 outer -2.0");
        },
        "verb lift" => |page, at| {
            page.line(at, "read cg-height");
            page.add("  lift rear 254 mm front 310 kg radius 300 mm");
        },
        _ => return None,
    })
}
