//! Properties of a rule.

use super::Write;
use super::page::Page;

fn rule(page: &mut Page, at: usize, words: &str) {
    page.declare(&format!("rule own-{at} {words}"));
}

pub fn find(construct: &str) -> Option<Write> {
    Some(match construct {
        // A class each, with a car of it.
        "rule class" => |page, at| {
            rule(page, at, &format!("class own-class-{at}  ride-height min 40 mm"));
            page.declare(&format!("car made-{at} \"Made {at}\"  class own-class-{at}"));
        },
        "rule at" => |page, at| {
            let event = page.event(at);
            rule(page, at, &format!("at {event}  ride-height min 40 mm"));
        },
        "rule min" => |page, at| rule(page, at, "class S-1  ride-height min 40 mm"),
        "rule max" => {
            |page, at| rule(page, at, &format!("class S-1  weight-after-session max 9{} kg", at % 90))
        }
        // One after the other.
        "rule from" => |page, at| {
            let (from, until) = (page.coming(at), page.coming(at + 1));
            rule(
                page,
                at,
                &format!("class S-1  ride-height min 4{} mm  from {from}  until {until}", at % 10),
            );
        },
        "rule until" => |page, at| {
            let until = page.past(at);
            rule(page, at, &format!("class S-1  camber max 1 deg  until {until}"));
        },
        "rule with" => {
            |page, at| rule(page, at, &format!("class S-1  total-weight min 50{} kg  with driver", at % 10))
        }
        _ => return None,
    })
}
