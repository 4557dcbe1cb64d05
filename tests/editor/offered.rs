//! Completion over the demo: what is offered, put in, is no mistake of that word.

use super::Client;
use serde_json::{Value, json};
use std::path::Path;
use stringline::editor::text::Text;

/// Every so many places of the demo, and so many of the offers at each.
const EVERY: usize = 131;
const OFFERS: usize = 5;

/// What only says that more is to come behind the word.
const UNFINISHED: [&str; 4] = ["line-incomplete", "value-missing", "unit-missing", "because-empty"];

/// Where a word begins on an indented line: the line's first byte, and the word's.
fn places(text: &str) -> Vec<(usize, usize)> {
    let mut found = Vec::new();
    let mut start = 0;
    for line in text.split_inclusive('\n') {
        let plain = line.starts_with(' ') && !line.contains(['#', '|', '"']);
        let before = |at: usize| line[..at].ends_with(' ') && !line[at..].starts_with(' ');
        let words =
            (1..line.trim_end().len()).filter(|at| plain && line.is_char_boundary(*at) && before(*at));
        found.extend(words.map(|at| (start, start + at)));
        start += line.len();
    }
    found
}

#[test]
fn what_is_offered_is_taken() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("ledgers/2026");
    let mut client = Client::new(&[&format!("file://{}", root.display())]);
    let (mut wrong, mut tried) = (Vec::new(), 0);
    for name in ["plover.sline", "curlew.sline", "shop-work.sline"] {
        let text = std::fs::read_to_string(root.join(name)).unwrap();
        let address = format!("file://{}", root.join(name).display());
        client.open(&address, &text);
        for (line, at) in places(&text).into_iter().step_by(EVERY) {
            let end = line + text[line..].find('\n').unwrap_or(text.len() - line);
            let cut = |word: &str| format!("{}{word}{}", &text[..at], &text[end..]);
            client.change(&address, None, &cut(""));
            let place = Text::new(&text).position(at);
            let asked = json!({ "textDocument": { "uri": address }, "position": place });
            let list = client.ask("textDocument/completion", asked).unwrap();
            let items = list["items"].as_array().unwrap();
            for item in items.iter().step_by(items.len().div_ceil(OFFERS).max(1)) {
                let word = item["label"].as_str().unwrap();
                client.change(&address, None, &cut(word));
                tried += 1;
                let own = |one: &&Value| {
                    let at_line = |end: &str| one["range"][end]["line"] == json!(place.line);
                    let [from, to] =
                        ["start", "end"].map(|end| one["range"][end]["character"].as_u64().unwrap());
                    let begins = u64::from(place.character);
                    let in_word = from < begins + word.trim_end().len() as u64 && to > begins;
                    let unfinished = UNFINISHED.iter().any(|check| one["code"] == json!(check))
                        // The new value is to come.
                        || word.ends_with("-> ") && one["code"] == json!("arrow-misplaced");
                    one["severity"] == 1 && at_line("start") && at_line("end") && in_word && !unfinished
                };
                let list = client.wrong(&address);
                if let Some(one) = list.iter().find(own) {
                    wrong.push(format!("{}[{word}]: {}: {}", &text[line..at], one["code"], one["message"]));
                }
            }
        }
        client.change(&address, None, &text);
    }
    assert!(tried > 80, "{tried}");
    assert!(wrong.is_empty(), "{} of {tried}\n{}", wrong.len(), wrong.join("\n"));
}
