//! A client's tables: what a part ran on another's car after it left his is not his to know, and what others typed is counted nowhere.

use super::{book, column};
use stringline::audience::{Reader, cut};
use stringline::book::model::ClientId;
use stringline::tables::Shown;

const SHOP: &str = "shop \"S\"
client orr \"Orr\"
client lee \"Lee\"
car wren \"Wren\"  client orr
car tern \"Tern\"  client lee
kind clutch \"clutch\"  fits bell
kind disc \"disc\"  inside clutch
part k-1 clutch  opening new
part k-2 clutch  opening new
part d-1 disc  opening new
2026-03-01 wren
  build d-1 into k-1
  fit k-1 bell
  10:00..11:00 run s1  20 laps
2026-03-20 wren
  swap clutch bell k-1 -> k-2
2026-04-01 tern
  fit k-1 bell
  10:00..11:30 run s1  30 laps
";

/// Minutes of each life, those of each stay, and whether it lasts, by part.
fn told(text: &str) -> (Vec<[String; 2]>, Vec<[String; 3]>) {
    let whole = book(text);
    let own = cut(&whole, &Reader::Client(ClientId::new(0)));
    let shown = Shown::new(&own, Some("orr"));
    let of = |table: &str, name: &str| column(table, name, &shown);
    let lives = std::iter::zip(of("lives", "part"), of("lives", "minutes")).map(|(part, min)| [part, min]);
    let stays = std::iter::zip(of("stays", "part"), of("stays", "minutes"));
    let stays = std::iter::zip(stays, of("stays", "lasts")).map(|((part, min), lasts)| [part, min, lasts]);
    (lives.collect(), stays.collect())
}

#[test]
fn what_a_part_ran_on_anothers_car_after_it_left_his_is_in_no_row() {
    let words = |rows: &[[&str; 2]]| rows.iter().map(|row| row.map(str::to_owned)).collect::<Vec<_>>();
    let (lives, stays) = told(SHOP);
    // An hour on his; the hour and a half on the other's is not in it, and nor is it in the disc's inside.
    assert_eq!(lives, words(&[["k-1", "60.0"], ["k-2", "0.0"], ["d-1", "60.0"]]));
    let of_k1: Vec<_> = stays.iter().filter(|row| row[0] == "k-1").collect();
    // On no shelf before it first went on: two rows, of which none lasts, since he does not know where it is.
    assert_eq!(of_k1.iter().map(|row| (&*row[1], &*row[2])).collect::<Vec<_>>(), [("60.0", "0"), ("", "0")]);
    // A part that comes back brings its hours.
    let (lives, _) = told(&format!(
        "{SHOP}2026-04-20 tern\n  remove k-1\n2026-05-01 wren\n  remove k-2\n  fit k-1 bell\n"
    ));
    assert_eq!(lives, words(&[["k-1", "150.0"], ["k-2", "0.0"], ["d-1", "150.0"]]));
}

#[test]
fn what_others_typed_wrong_is_not_counted_in_his() {
    let errors = |lines: &str| {
        let whole = book(&format!("{SHOP}{lines}"));
        let own = cut(&whole, &Reader::Client(ClientId::new(0)));
        let shown = Shown::new(&own, Some("orr"));
        ["errors", "warnings", "notes"].map(|name| column("book", name, &shown).concat())
    };
    assert_eq!(errors(""), ["0", "", ""]);
    assert_eq!(errors("2026-05-01 tern\n  set camber LF -3,2 deg\n  fit k-9\n"), ["0", "", ""]);
    assert_eq!(errors("2026-05-01 wren\n  set camber LF -3,2 deg\n  fit k-9\n"), ["2", "", ""]);
}
