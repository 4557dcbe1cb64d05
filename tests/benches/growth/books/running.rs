//! Sessions, words, and lines that answer another.

use super::Write;
use super::page::Page;

pub fn run(page: &mut Page, at: usize, words: &str) {
    page.line(at, &format!("run r{at} 20 min 10 laps best 1:10.5{words}"));
}

pub fn find(construct: &str) -> Option<Write> {
    Some(match construct {
        "verb run" => |page, at| run(page, at, "  with air 14 C, track 19 C, damp"),
        "verb laps" => |page, at| {
            run(page, at, "");
            page.add("  laps 1:14.5 out-lap 1:11.5 1:10.5 1:11.0 1:12.0 in-lap");
        },
        "verb say" => |page, at| page.line(at, "say entry push, exit neutral \"washes wide at the gate\""),
        "verb think" => |page, at| page.line(at, "think \"rear bar a hole too far\" unsure"),
        "verb |" => |page, at| page.line(at, "| Nothing touched *since* October."),
        "verb waive" => |page, at| {
            page.line(at, "found camber LF 1.2 RF -3.2 LR -2.0 RR -2.0 deg");
            page.add("  waive value-implausible because the strut is out");
        },
        "verb void" => |page, at| {
            page.line(at, "read brake-bias 58 %");
            page.add("  void because read off the wrong line");
        },
        _ => return None,
    })
}
