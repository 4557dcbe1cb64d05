//! Clauses after a line's values.

use super::Write;
use super::page::Page;
use super::running::run;

fn broke(page: &mut Page, at: usize, words: &str) {
    let part = page.part(at);
    page.line(at, &format!("fit {part} LF"));
    page.line(at, &format!("failed {part} {words}"));
    page.line(at, &format!("remove {part} failed"));
}

pub fn find(construct: &str) -> Option<Write> {
    Some(match construct {
        "clause by" => |page, at| {
            let gauge = page.gauge(at);
            page.line(at, &format!("read camber -2.{} -3.1 -2.0 -2.0 deg  by {gauge}", at % 10));
        },
        "clause with" => |page, at| {
            let words = "read weight 149.0 151.0 171.0 171.0 kg  with driver 78 kg, fuel 20 L, bars off";
            page.line(at, words);
        },
        "clause over" => |page, at| page.line(at, "found toe-in front 1.0 mm total  over 400 mm"),
        "clause at" => |page, at| page.line(at, "read leakdown 6 6 5 6 %  at 7.0 bar"),
        "clause during" => |page, at| {
            run(page, at, "");
            page.line(at, &format!("hit RF \"gate post\"  during r{at}"));
        },
        "clause after" => |page, at| {
            run(page, at, "");
            page.line(at, &format!("read tyre-hot 1.71 1.74 1.66 1.68 bar  after r{at}"));
        },
        "clause lap" => |page, at| {
            run(page, at, "");
            broke(page, at, &format!("during r{at} lap 5 mode split"));
        },
        "clause from" => |page, at| page.line(at, "cost 4.00 EUR parts from \"the bolt shop\""),
        "clause to" => |page, at| page.line(at, "hours 1.5 h to kay"),
        "clause into" => |page, at| {
            page.once("kind hub \"hub\"  fits RF");
            page.once("kind inner \"inner part\"  inside hub");
            page.once("part hub-0 hub  opening new");
            page.declare(&format!("part inner-{at} inner  opening new"));
            page.shop(at, &format!("build inner-{at} into hub-0"));
        },
        "clause on" => |page, at| {
            let job = page.job(at);
            page.line(at, &format!("set bar-hole rear {}  on {job}", 1 + at % 5));
        },
        "clause for" => |page, at| page.line(at, "think \"it wants a stiffer bar\"  for buyer"),
        "clause because" => |page, at| {
            page.line(at, &format!("set bar-hole rear {}  because it slides on exit", 1 + at % 5));
        },
        "clause found-by" => |page, at| broke(page, at, "found-by inspection"),
        "clause mode" => |page, at| broke(page, at, "mode split"),
        "clause mechanism" => |page, at| broke(page, at, "mechanism tear"),
        "clause cause" => |page, at| broke(page, at, "cause unknown"),
        _ => return None,
    })
}
