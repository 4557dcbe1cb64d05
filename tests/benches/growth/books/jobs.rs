//! Jobs, their lines and their facts.

use super::Write;
use super::page::Page;

fn open(page: &mut Page, at: usize, facts: &str) {
    page.line(at, &format!("job mend-{at} \"mend {at}\"{facts}"));
}

pub fn find(construct: &str) -> Option<Write> {
    Some(match construct {
        "verb job" => |page, at| open(page, at, ""),
        "verb done" => |page, at| {
            open(page, at, "");
            page.line(at, &format!("done mend-{at} \"mended\""));
        },
        "verb defer" => |page, at| {
            open(page, at, "");
            page.line(at, &format!("defer mend-{at} to winter  because the part is late"));
        },
        "verb promise" => |page, at| {
            open(page, at, "");
            page.line(at, &format!("promise mend-{at} to orr until 2021-06-14 \"dry\""));
        },
        "job planned" => |page, at| open(page, at, "  planned"),
        "job on-part" => |page, at| {
            let part = page.part(at);
            open(page, at, &format!("  on-part {part}"));
        },
        "job promised" => |page, at| open(page, at, "  promised event-next"),
        "job until" => |page, at| {
            open(page, at, "");
            page.line(at, &format!("promise mend-{at} until event-next"));
        },
        "job rate" => |page, at| {
            open(page, at, "  rate 61.00 EUR");
            page.line(at, &format!("hours 1.5 h on mend-{at}"));
        },
        _ => return None,
    })
}
