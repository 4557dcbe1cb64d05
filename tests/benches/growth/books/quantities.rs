//! Properties of a quantity, each with a reading.

use super::Write;
use super::page::Page;

fn quantity(page: &mut Page, at: usize, words: &str) {
    quantity_read(page, at, &format!("length car  {words}"), "4.0 mm");
}

fn quantity_read(page: &mut Page, at: usize, words: &str, value: &str) {
    page.declare(&format!("quantity own-{at} {words} \"own {at}\""));
    page.line(at, &format!("read own-{at} {value}"));
}

pub fn find(construct: &str) -> Option<Write> {
    Some(match construct {
        "quantity of" => {
            |page, at| quantity_read(page, at, "length corner of part  area own", "4.0 4.0 4.0 4.0 mm")
        }
        "quantity also" => |page, at| {
            page.declare(&format!("quantity own-{at} length car  area own  also other-{at} \"own {at}\""));
            page.line(at, &format!("read other-{at} 4.0 mm"));
        },
        "quantity area" => |page, at| quantity(page, at, &format!("area own-{}", at % 20)),
        "quantity show" => |page, at| quantity(page, at, "area own  show mm, in"),
        "quantity usual" => |page, at| quantity(page, at, "area own  usual 5..30 mm"),
        "quantity possible" => |page, at| quantity(page, at, "area own  possible 0..60 mm"),
        "quantity disturbed-by" => |page, at| quantity(page, at, "area own  disturbed-by ride-height, hit"),
        "quantity needs" => |page, at| quantity(page, at, "area own  needs driver"),
        "quantity pair" => |page, at| quantity_read(page, at, "ratio car  area own  pair", "41/11"),
        "quantity triple" => |page, at| quantity_read(page, at, "length car  area own  triple", "4/5/6 mm"),
        "quantity counter" => |page, at| quantity(page, at, "area own  counter"),
        "quantity relative" => |page, at| quantity(page, at, "area own  relative"),
        "quantity rear-axle" => {
            |page, at| quantity_read(page, at, "length corner  area own  rear-axle", "9 10 in")
        }
        "quantity supply" => |page, at| quantity_read(page, at, "ratio car  area own  supply", "72/80 psi"),
        _ => return None,
    })
}
