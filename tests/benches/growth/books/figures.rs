//! Figures of the shop's own, each with a line of every sort that a figure has.

use super::Write;
use super::page::Page;

fn figure(page: &mut Page, at: usize, head: &str, under: &str) {
    page.declare(&format!(
        "figure share-{at} ratio car  {head}\"share {at}\"\n  is front_q * {}\n{under}  front_q = front-weight",
        at + 1
    ));
}

pub fn find(construct: &str) -> Option<Write> {
    Some(match construct {
        "declare figure" | "figure is" => |page, at| figure(page, at, "", ""),
        "figure area" => |page, at| figure(page, at, "area own  ", ""),
        "figure show" => |page, at| figure(page, at, "show %, %  ", ""),
        "figure called" => |page, at| figure(page, at, "called \"a share\"  ", ""),
        "figure step" => |page, at| figure(page, at, "step  ", ""),
        "figure in-code" => |page, at| {
            page.declare(&format!("figure share-{at} ratio car  in-code \"no formula\"  \"share {at}\""));
        },
        "figure when" => |page, at| figure(page, at, "", "    when front_q > 10 %\n"),
        "figure must" => |page, at| figure(page, at, "", "    must front_q > 0 \"some weight\"\n"),
        "figure careful" => |page, at| figure(page, at, "", "    careful result > 60 % \"nose-heavy\"\n"),
        "figure source" => |page, at| figure(page, at, "", "  source \"common practice\"\n"),
        "figure convention" => |page, at| figure(page, at, "", "  convention \"share of the total\"\n"),
        "figure plain" => |page, at| figure(page, at, "", "    plain\n"),
        "figure inferred" => |page, at| figure(page, at, "", "    inferred\n"),
        "figure estimated" => |page, at| figure(page, at, "", "    estimated\n"),
        "figure at" => |page, at| {
            page.declare(&format!(
                "figure load-{at} weight axle  \"load {at}\"\n  is left_q * {}\n    at front\n  left_q = weight left",
                at + 1
            ));
        },
        _ => return None,
    })
}
