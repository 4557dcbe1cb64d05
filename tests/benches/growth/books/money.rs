//! Money and hours, and the facts of their lines.

use super::Write;

pub fn find(construct: &str) -> Option<Write> {
    Some(match construct {
        "verb hours" => |page, at| {
            let job = page.job(at);
            page.line(at, &format!("hours 2.25 h \"seal in again\"  on {job}  by ned"));
        },
        "verb cost" => |page, at| page.line(at, "cost 46.00 EUR parts \"bolts\"  from \"the bolt shop\""),
        "verb credit" => |page, at| page.line(at, "credit 6.00 EUR parts \"one bolt too many\""),
        "verb quote" => |page, at| {
            let job = page.job(at);
            page.line(at, &format!("quote 220.00 EUR on {job} \"if the shaft is good\""));
        },
        "verb paid" => |page, at| {
            let job = page.job(at);
            page.line(at, &format!("cost 46.00 EUR parts \"bolts\"  on {job}"));
            page.line(at, &format!("paid orr 40.00 EUR on {job}"));
        },
        "verb handed" => |page, at| {
            page.declare(&format!("client his-{at} \"His {at}\""));
            page.declare(&format!("car his-car-{at} \"Of {at}\"  client his-{at}"));
            page.line(at, &format!("handed letter to his-{at} 4f3a-91c2-07b1"));
        },
        "cost back" => |page, at| page.line(at, "paid orr 4.00 EUR back"),
        "cost invoice" => |page, at| {
            page.line(at, &format!("cost 4.00 EUR parts from \"the bolt shop\"  invoice \"B {at}\""));
        },
        "cost split" => {
            |page, at| page.line(at, "cost 46.00 EUR entry \"fees\"  split equal among car-0, car-1")
        }
        // Shared among the cars that ran in the line's year.
        "cost among" => |page, at| {
            page.line(at, &format!("run r{at} 20 min"));
            let car = page.car(at / 8);
            page.line(at, &format!("cost 46.00 EUR fuel  split minutes among {car}"));
        },
        "cost rate" => |page, at| page.line(at, "hours 1.5 h rate 62.00 EUR"),
        "cost unbilled" => |page, at| page.line(at, "hours 1.5 h unbilled"),
        _ => return None,
    })
}
