//! A mapping to fill in, for a sheet that has none yet.
//!
//! What a head surely says is filled in; the rest stands behind a `#` with what is in the column. Must not know the rows' meaning.

use super::meaning::{Word, meaning};
use super::sheet::Sheet;
use crate::book::Book;
use crate::visible;

/// More columns than these are no table of a shop's.
const MOST: usize = 400;

/// The mapping's text.
///
/// # Errors
/// The sheet has too many columns to be one.
pub fn draft(sheet: &Sheet, name: &str, book: &Book) -> Result<String, String> {
    if sheet.heads.len() > MOST {
        return Err(format!("it has {} columns; is it a table?", sheet.heads.len()));
    }
    let mut out = format!(
        "# What the columns of {} are. Mend what is not so, take the # off what you use, and hand it in with --by.\n",
        visible::text(&name.replace('\n', " "))
    );
    let has =
        |word: &str| sheet.heads.iter().any(|head| guess(head, book).is_some_and(|guess| guess == word));
    // Of a book with one car every row is about it; what else a mapping may say of every row is shown.
    let mut cars = book.cars.iter().map(|car| car.named.typed.to_string());
    let (car, others) = (cars.next(), cars.next());
    let sure = if others.is_none() && car.is_some() { "" } else { "# " };
    let lines =
        [("car", sure, car.unwrap_or_else(|| "wren".to_owned())), ("date", "# ", "2026-05-10".to_owned())];
    for (key, behind, example) in lines {
        if !has(key) {
            out += &format!("{behind}{key} = {}  # of every row\n", quoted(&example));
        }
    }
    out += "\n[columns]\n";
    for (at, head) in sheet.heads.iter().enumerate() {
        let twice = sheet.heads.iter().filter(|other| crate::book::names::same(other, head)).count() > 1;
        let key = if head.is_empty() || twice { format!("#{}", at + 1) } else { head.clone() };
        let seen = seen(sheet, at);
        if seen.is_empty() {
            continue;
        }
        let line = match guess(head, book) {
            Some(guess) => format!("{} = {}", quoted(&key), quoted(&guess)),
            None => format!("# {} = \"\"", quoted(&key)),
        };
        out += &format!("{line}  # {seen}\n");
    }
    let words: Vec<String> =
        Word::ALL.iter().map(|(word, _, what)| format!("#   {word:<10}{what}")).collect();
    out += &format!(
        "\n# A column is one of\n{}\n\
         # or the beginning of a ledger line: \"read tyre-cold LF psi\", \"set camber LF deg\", \"with air C\".\n\
         \n[words]\n# What the sheet calls something, and its name in the book: \"Larkin N.\" = \"ned\"\n",
        words.join("\n")
    );
    Ok(out)
}

/// Some of what is in a column.
fn seen(sheet: &Sheet, at: usize) -> String {
    let mut seen: Vec<String> = Vec::new();
    for row in sheet.rows.iter().take(200) {
        let Some(cell) = row.cells.get(at).filter(|cell| !super::cell::is_empty(cell)) else { continue };
        let cell: String = cell.chars().map(|c| if c.is_control() { ' ' } else { c }).take(24).collect();
        if seen.len() < 3 && !seen.contains(&cell) {
            seen.push(visible::text(&cell).into_owned());
        }
    }
    seen.join("  ")
}

/// What a head surely says.
fn guess(head: &str, book: &Book) -> Option<String> {
    let plain = head.to_lowercase().replace(['_', '(', ')', '[', ']', ','], " ");
    let words: Vec<&str> = plain.split_whitespace().collect();
    let joined = words.join("-");
    let usual = [
        ("day", "date"),
        ("lap-no", "lap"),
        ("lap-number", "lap"),
        ("laptime", "lap-time"),
        ("best-lap", "best"),
        ("best-time", "best"),
        ("name", "driver"),
        ("remarks", "note"),
        ("notes", "note"),
        ("comment", "note"),
        ("comments", "note"),
        ("remark", "note"),
        ("number-of-laps", "laps"),
        ("run", "session"),
    ];
    if let Some((_, word)) = usual.iter().find(|(head, _)| *head == joined) {
        return Some((*word).to_owned());
    }
    if let Some((word, ..)) = Word::ALL.iter().find(|(word, ..)| *word == joined) {
        return Some((*word).to_owned());
    }
    // `tyre cold LF psi`: a quantity of one word or of several, then a place, then the unit.
    for end in (1..=words.len()).rev() {
        let (quantity, rest) = words.split_at(end);
        let quantity = quantity.join("-");
        if book.vocabulary.find_spelt(&quantity).is_some() {
            let rest: Vec<String> =
                rest.iter()
                    .map(|word| {
                        if book.names.place(word).is_some() { word.to_uppercase() } else { unit(head, word) }
                    })
                    .collect();
            let text = [vec!["read".to_owned(), quantity], rest].concat().join(" ");
            return meaning(&text, book).is_ok().then_some(text);
        }
    }
    None
}

/// A unit as the head has it: `kPa` is not `kpa`.
fn unit(head: &str, word: &str) -> String {
    let found = head.split(|c: char| c.is_whitespace() || matches!(c, '(' | ')' | '[' | ']' | ',' | '_'));
    found.into_iter().find(|one| one.to_lowercase() == word).unwrap_or(word).to_owned()
}

fn quoted(text: &str) -> String {
    toml::Value::String(text.to_owned()).to_string()
}
