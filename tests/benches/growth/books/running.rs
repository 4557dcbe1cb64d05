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
        "verb stint" => |page, at| {
            run(page, at, "");
            page.add("  stint ned 20 min 10 laps");
        },
        "verb stage" => |page, at| {
            page.line(at, &format!("run r{at}"));
            page.add("  stage ss1 3.1 km 2:10.4  road 9 km");
        },
        "verb stop" => |page, at| {
            run(page, at, "");
            page.add("  stop 2 min \"tyres\"");
        },
        "verb result" => |page, at| {
            run(page, at, "");
            page.line(at, &format!("result r{at} grid 5 finish 3"));
        },
        "verb correct" => |page, at| {
            page.line(at, "read brake-bias 58 %");
            page.line(at, "correct brake-bias 58 -> 57 %  because read in bad light");
        },
        "verb say" => |page, at| page.line(at, "say entry push, exit neutral \"washes wide at the gate\""),
        "verb think" => |page, at| page.line(at, "think \"rear bar a hole too far\" unsure"),
        "verb try" => |page, at| page.line(at, "try bar-hole front A 1, B 3 order A B A B A"),
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
