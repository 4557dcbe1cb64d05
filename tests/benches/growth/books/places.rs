//! Properties of the shop, people, clients, exchange rates, circuits, events and gauges.

use super::Write;
use super::page::Page;

fn event(page: &mut Page, at: usize, words: &str) {
    let day = page.coming(at);
    page.declare(&format!("event meet-{at} {day} at ring \"Meeting {at}\"  {words}"));
}

fn gauge(page: &mut Page, at: usize, words: &str) {
    page.declare(&format!("gauge tool-{at} \"Tool {at}\"  {words}"));
    page.line(at, &format!("read ride-height 45 45 50 50 mm  by tool-{at}"));
}

pub fn find(construct: &str) -> Option<Write> {
    Some(match construct {
        // One shop has one of each; the lines that use them may be many.
        "shop currency" => |page, at| page.line(at, "cost 4.00 EUR parts"),
        "shop zone" => |page, at| page.line(at, &format!("{:02}:{:02} run r{at} 5 min", 9 + at % 8, at % 60)),
        "shop rate" => |page, at| {
            page.once("client bare \"without a rate\"");
            page.line(at, "hours 1.5 h to bare");
        },
        "client rate" => |page, at| {
            page.declare(&format!("client client-{at} \"Client {at}\"  rate 61.00 EUR"));
            page.line(at, &format!("hours 1.5 h to client-{at}"));
        },
        "client unbilled" => |page, at| {
            page.declare(&format!("client client-{at} \"Client {at}\"  unbilled"));
            page.line(at, &format!("hours 1.5 h to client-{at}"));
        },
        "person role" => {
            |page, at| page.declare(&format!("person person-{at} \"Person {at}\"  role \"mechanic\""))
        }
        "circuit length" => |page, at| {
            page.declare(&format!("circuit circuit-{at} \"Circuit {at}\"  length 2.{} km", at % 10));
        },
        // A rate a day, and a sum turned by each.
        "exchange from" => |page, at| {
            if at < 6999 {
                let day = page.own_day(at);
                page.declare(&format!("exchange USD 0.9{} EUR from {day}", at % 10));
            }
            page.line(at, "cost 4.00 USD parts");
        },
        "event at" => |page, at| {
            page.declare(&format!("circuit circuit-{at} \"Circuit {at}\""));
            let day = page.coming(at);
            page.declare(&format!("event meet-{at} {day} at circuit-{at} \"Meeting {at}\""));
        },
        "event entered" => |page, at| {
            let (first, second) = (page.car(at), page.car(at + 1));
            event(page, at, &format!("entered {first}, {second}"));
        },
        "event zone" => |page, at| event(page, at, "zone Europe/Madrid"),
        "event sessions" => |page, at| event(page, at, "sessions 4"),
        "event on" => |page, at| {
            let car = page.car(at);
            event(page, at, &format!("sessions 4 on {car}"));
        },
        "gauge reads" => |page, at| gauge(page, at, "reads ride-height, camber"),
        "gauge resolution" => |page, at| gauge(page, at, "reads ride-height  resolution 1 mm"),
        "gauge repeats" => |page, at| gauge(page, at, "reads ride-height  resolution 1 mm  repeats 2 mm"),
        "gauge valid-until" => |page, at| gauge(page, at, "reads ride-height  valid-until 2010-12-31"),
        _ => return None,
    })
}
