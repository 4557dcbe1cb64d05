//! One line or declaration that names many: what the tables alone do not say.

use super::Write;

/// Every one of them.
pub const ALL: [&str; 22] = [
    "cars-sold",
    "coming-cars",
    "entered",
    "fits-on",
    "among",
    "sold-with",
    "under-run",
    "laps-of-one",
    "points-of-one",
    "repeats",
    "one-head",
    "one-car-a-day",
    "parts-on-cars",
    "nested",
    "readings-by-rules",
    "places",
    "disturbed",
    "every-of-one",
    "rules-of-quantities",
    "promises-of-one",
    "quotes-of-one",
    "one-kind-fails",
];

/// Values on one line.
const LINE: usize = 1000;

pub fn find(construct: &str) -> Option<Write> {
    Some(match construct.strip_prefix("list ")? {
        "cars-sold" => |page, at| {
            page.declare(&format!("car made-{at} \"Made {at}\"  client orr"));
            let (slot, _) = page.when(at, page.count());
            page.block(slot, &format!("made-{at}"));
            page.add(&format!("sell made-{at} 4200.00 EUR to kay"));
        },
        // Cars, each entered for one of a quarter as many events to come.
        "coming-cars" => |page, at| {
            page.declare(&format!("car made-{at} \"Made {at}\"  client orr  class S-1"));
            let events = (page.count() / 4).max(1);
            if at < events {
                let cars: Vec<String> =
                    (at..page.count()).step_by(events).map(|car| format!("made-{car}")).collect();
                let day = page.coming(at * 4);
                page.declare(&format!(
                    "event meet-{at} {day} at ring \"Meeting {at}\"  entered {}",
                    cars.join(", ")
                ));
            }
        },
        "entered" => |page, at| {
            page.declare(&format!("car made-{at} \"Made {at}\""));
            if at + 1 == page.count() {
                let cars: Vec<String> = (0..page.count()).map(|car| format!("made-{car}")).collect();
                page.declare(&format!(
                    "event meet 2039-11-01 at ring \"Meeting\"  entered {}",
                    cars.join(", ")
                ));
            }
        },
        "fits-on" => |page, at| {
            page.declare(&format!("car made-{at} \"Made {at}\""));
            if at + 1 == page.count() {
                let cars: Vec<String> = (0..page.count()).map(|car| format!("made-{car}")).collect();
                page.declare(&format!("kind wide \"wide\"  fits LF on {}  must", cars.join(", ")));
            }
        },
        // More than 64 cars share by name.
        "among" => |page, at| {
            page.declare(&format!("car made-{at} \"Made {at}\"  client orr"));
            if at + 1 == page.count() {
                let cars: Vec<String> = (0..page.count()).map(|car| format!("made-{car}")).collect();
                page.block(1, "car-0");
                page.add(&format!("cost 9000.00 EUR entry  split equal among {}", cars.join(", ")));
            }
        },
        "sold-with" => |page, at| {
            let part = page.part(at);
            if at + 1 == page.count() {
                let parts: Vec<String> = (0..at).map(|part| format!("x-{part}")).chain([part]).collect();
                page.block(6999, "car-1");
                page.add(&format!("sell car-1 4200.00 EUR to kay with {}", parts.join(", ")));
            }
        },
        "under-run" => |page, at| {
            if at == 0 {
                page.block(1, "car-0");
                page.add("run r1 20 min");
            }
            page.add(&format!("  read tyre-hot 1.7{} 1.74 1.66 1.68 bar", at % 5));
        },
        // A line holds so many at most.
        "laps-of-one" => |page, at| {
            if at % LINE == 0 {
                page.block(1 + at / LINE, "car-0");
                page.add("run r1");
                let laps = LINE.min(page.count() - at);
                page.add(&format!("  laps {}", vec!["1:11.5"; laps].join(" ")));
            }
        },
        "points-of-one" => |page, at| {
            if at == 0 {
                page.once("kind coil \"coil spring\"  fits LF RF LR RR  gives spring-rate");
                let part = page.part_of(0, "coil", "");
                page.block(1, "");
                page.add(&format!("bench {part} spring-rate"));
            }
            page.add(&format!("  points 0 mm 60 N, 30 mm 21{:02} N", at % 50));
        },
        "repeats" => |page, at| {
            if at % LINE == 0 {
                page.block(1 + at / LINE, "car-0");
                let times = LINE.min(page.count() - at);
                page.add(&format!("read camber LF {} deg", vec!["-2.5"; times].join(", ")));
            }
        },
        "one-head" => |page, at| {
            if at == 0 {
                page.block(1, "car-0");
            }
            page.add(&format!("set bar-hole rear {}", 1 + at % 5));
        },
        "one-car-a-day" => |page, at| {
            page.block(1, "car-0");
            page.add(&format!("set bar-hole rear {}", 1 + at % 5));
        },
        // Four parts on each car, and they run.
        "parts-on-cars" => |page, at| {
            page.once("kind thing \"a thing\"  fits LF RF LR RR  life 300 min");
            page.declare(&format!("car made-{at} \"Made {at}\"  client orr"));
            page.block(1 + at % 6000, &format!("made-{at}"));
            for (more, place) in ["LF", "RF", "LR", "RR"].iter().enumerate() {
                let part = page.part_of(4 * at + more, "thing", "  opening new");
                page.add(&format!("fit {part} {place}"));
            }
            page.add(&format!("run r{at} 20 min"));
        },
        // Assemblies in assemblies, a few deep.
        "nested" => |page, at| {
            page.once("kind outer \"outer\"  fits RF");
            page.once("kind middle \"middle\"  inside outer");
            page.once("kind inner \"inner\"  inside middle");
            page.declare(&format!("part outer-{at} outer\npart middle-{at} middle\npart inner-{at} inner"));
            page.shop(at, &format!("build inner-{at} into middle-{at}"));
            page.shop(at, &format!("build middle-{at} into outer-{at}"));
        },
        // A reading is held to every rule, so only the one side grows.
        "readings-by-rules" => |page, at| {
            if at < 20 {
                page.declare(&format!("rule own-{at} class S-1  ride-height min 4{} mm", at % 5));
            }
            page.line(at, "read ride-height 45 45 50 50 mm");
        },
        "places" => |page, at| {
            // A quantity has as many places as a car has cylinders.
            if at % 40 == 0 {
                page.declare(&format!("car many-{at} \"Many {at}\"  cylinders 40"));
                page.block(1 + at % 6000, &format!("many-{at}"));
                page.add(&format!("read leakdown {} %  at 7.0 bar", vec!["6"; 40].join(" ")));
            }
        },
        // A reading, then what makes it stale.
        "disturbed" => |page, at| {
            page.line(at, "read weight 149.0 151.0 171.0 171.0 kg  with driver 78 kg, fuel 20 L, bars off");
            page.line(at, "adjust perch RF +0 turn");
        },
        "every-of-one" => |page, at| {
            if at == 0 {
                page.declare("car busy \"Busy\"");
            }
            page.declare(&format!("quantity own-{at} length car  area own \"own {at}\""));
            if at + 1 == page.count() {
                let every: Vec<String> =
                    (0..page.count()).map(|own| format!("\n  every 300 min read own-{own}")).collect();
                let every = every.concat();
                page.declare(&format!("car busier \"Busier\"{every}"));
            }
        },
        "rules-of-quantities" => |page, at| {
            page.declare(&format!("quantity own-{at} length car  area own \"own {at}\""));
            page.declare(&format!("rule rule-of-{at} class S-1  own-{at} min 4 mm"));
            page.line(at, &format!("read own-{at} 4.5 mm"));
        },
        "promises-of-one" => {
            |page, at| page.line(at, &format!("promise job-0 to orr until {}", page.coming(at)))
        }
        "quotes-of-one" => |page, at| page.line(at, &format!("quote {}.00 EUR on job-0", 100 + at % 100)),
        "one-kind-fails" => |page, at| {
            let part = page.part(at);
            page.line(at, &format!("fit {part} LF"));
            page.line(at, &format!("run r{at} {} min", 10 + at % 30));
            if at % 3 == 0 {
                page.line(at, &format!("failed {part} mode split"));
            }
            page.line(at, &format!("remove {part}"));
        },
        _ => return None,
    })
}
