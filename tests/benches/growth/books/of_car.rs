//! Properties of a car.

use super::Write;
use super::page::Page;

fn car(page: &mut Page, at: usize, words: &str) {
    page.declare(&format!("car made-{at} \"Made {at}\"  {words}"));
    let (slot, event) = page.when(at, page.count());
    page.block(slot, &format!("made-{at}{event}"));
}

pub fn find(construct: &str) -> Option<Write> {
    Some(match construct {
        "car client" => |page, at| {
            car(page, at, "client kay");
            page.add("hours 1.5 h");
        },
        "car class" => |page, at| {
            car(page, at, "class S-1");
            page.add(&format!("run r{at} 20 min"));
        },
        "car units" => |page, at| {
            car(page, at, "units imperial");
            page.add("read ride-height 2 2 2 2 in");
        },
        "car cylinders" => |page, at| {
            car(page, at, "cylinders 4");
            page.add("read leakdown 6 6 5 6 %  at 7.0 bar");
        },
        "car gears" => |page, at| {
            car(page, at, "gears 5");
            page.add("set final-drive 41/11");
        },
        "car drive" => |page, at| {
            car(page, at, "drive rear");
            page.add("set final-drive 41/11");
        },
        "car body" => |page, at| {
            car(page, at, "body saloon");
            page.add("read ride-height 51 51 57 57 mm");
        },
        "car toe-over" => |page, at| {
            car(page, at, "toe-over 400 mm");
            page.add("found toe-in front 1.0 mm total");
        },
        "car reference" => |page, at| {
            car(page, at, "reference driver 76 kg, fuel 20 L, bars off");
            page.add("read weight 149.0 151.0 171.0 171.0 kg");
        },
        "car about" => |page, at| {
            car(page, at, "about chassis \"HL-003\"");
            page.add("say entry push");
        },
        "car every" => |page, at| {
            car(page, at, "every 2 events torque wheel-torque");
            page.add(&format!("run r{at} 20 min"));
        },
        // A range each of one car; what is read is held to it.
        "car usual" => |page, at| {
            car(page, at, "usual camber LF 2..7 deg");
            page.add("read camber LF 4.5 deg");
        },
        "car possible" => |page, at| {
            car(page, at, "possible ride-height 20..900 mm");
            page.add("read ride-height 45 45 50 50 mm");
        },
        "class usual" => |page, at| {
            page.declare(&format!("class own-class-{at}  usual camber LF 2..7 deg"));
            car(page, at, &format!("class own-class-{at}"));
            page.add("read camber LF 4.5 deg");
        },
        "class possible" => |page, at| {
            page.declare(&format!("class own-class-{at}  possible ride-height 20..900 mm"));
            car(page, at, &format!("class own-class-{at}"));
            page.add("read ride-height 45 45 50 50 mm");
        },
        _ => return None,
    })
}
