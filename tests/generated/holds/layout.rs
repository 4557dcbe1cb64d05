//! What `format` may not do: change a meaning, or have something left to do.

use super::told::Told;
use super::{Broken, Files, compiled, difference};
use std::collections::BTreeSet;
use stringline::Compiled;
use stringline::answer::costs::{CostsBy, statement};
use stringline::answer::state;
use stringline::book::model::CarId;
use stringline::costs::Selection;
use stringline::history::moment;
use stringline::syntax::layout;

/// The book as `format` lays it out: lines with troubles stay as they are.
pub fn laid(book: &Compiled, files: &Files) -> Files {
    let lay = |path: &str, text: &str| {
        let id = book.files.iter().find(|(_, file)| file.path == path).map(|(id, _)| id);
        let troubles = book.book.troubles.iter().filter(|trouble| Some(trouble.span.file) == id);
        let kept: BTreeSet<u32> = troubles.map(|trouble| book.files.line(trouble.span)).collect();
        layout(text, &|line| kept.contains(&line), &stringline::book::opens)
    };
    files.iter().map(|(path, text)| (path.clone(), lay(path, text))).collect()
}

/// The words of each file, line by line, without blanks around them and without lines that have none. `format` writes quotes upright.
fn words(files: &Files) -> Told {
    let line = |line: &str| line.replace(['“', '”'], "\"").split_whitespace().collect::<Vec<_>>().join(" ");
    let text = |text: &str| {
        let lines = text.lines().map(line).filter(|line| !line.is_empty());
        lines.collect::<Vec<_>>().join("\n")
    };
    files.iter().map(|(path, of)| (path.clone(), text(of))).collect()
}

/// What a book says, without the places where it says it.
fn meaning(book: &Compiled) -> Told {
    let unplaced = |mut json: serde_json::Value| {
        without_lines(&mut json);
        json.to_string()
    };
    let said = book.diagnostics.iter().map(|one| {
        // A message may name the other line by its number.
        let words: String = one.message.chars().filter(|each| !each.is_ascii_digit()).collect();
        format!("{} {:?} {words}\n", one.check, one.severity)
    });
    let mut said: Vec<String> = said.collect();
    said.sort();
    let mut told = vec![("messages".to_owned(), said.concat())];
    let money = serde_json::to_value(statement(book, Selection::default(), CostsBy::Car)).unwrap();
    told.push(("costs".to_owned(), unplaced(money)));
    let end = moment::end(&book.history);
    for (at, car) in book.book.cars.iter().enumerate() {
        let view = serde_json::to_value(state::build(book, CarId::from(at), &end, None)).unwrap();
        told.push((format!("state {}", car.named.typed), unplaced(view)));
    }
    told
}

fn without_lines(json: &mut serde_json::Value) {
    match json {
        serde_json::Value::Object(map) => {
            if map.contains_key("path") && map.contains_key("line") {
                map.remove("line");
                map.remove("column");
            }
            map.values_mut().for_each(without_lines);
        }
        serde_json::Value::Array(list) => list.iter_mut().for_each(without_lines),
        _ => {}
    }
}

/// The book typed by somebody in a hurry: other blanks, tabs and line ends, the same words.
pub fn untidy(files: &Files, how: u64) -> Files {
    let change = |text: &str| match how % 4 {
        0 => text.to_owned(),
        1 => text.replace("\n  ", "\n\t").replace("  by ", "    by ").replace('\n', "  \r\n"),
        2 => text.replace("\n    ", "\n       ").replace("  because", " because"),
        _ => text.replace(" deg", "\t deg").replace("\n\n", "\n\n\n \n"),
    };
    files.iter().map(|(path, text)| (path.clone(), change(text))).collect()
}

/// Laid out, the book says the same; laid out again, nothing changes.
pub fn keeps_the_meaning(files: &Files) -> Option<Broken> {
    let before = compiled(files);
    let once = laid(&before, files);
    let after = compiled(&once);
    let property = "format changes no meaning";
    difference("format changes no word", &words(files), &words(&once))
        .or_else(|| difference(property, &meaning(&before), &meaning(&after)))
        .or_else(|| {
            let told = |files: &Files| -> Told { files.clone() };
            difference("format leaves nothing to do", &told(&once), &told(&laid(&after, &once)))
        })
}
