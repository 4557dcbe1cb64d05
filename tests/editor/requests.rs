//! Each request, of a small book in two files with a mistake or two.

use super::{Client, FOLDER, file};
use lsp_types::{Position, Range};
use serde_json::{Value, json};
use stringline::editor::text::Text;

const CARS: &str = "\
shop \"Inkwell Preparation\"  currency EUR
person mb \"Marta Brook\"
circuit quern \"Quern\"  length 3.1 km
event quern-1 2025-05-03..04 at quern \"First round\"
gauge camber-1 \"Camber gauge\"  reads camber
gauge camber-9 \"Old camber gauge\"  reads camber  valid-until 2025-01-31
car heron \"Heron\"
kind pad \"brake pad\"  fits LF RF
part cp-07 pad  opening new
part cp-08 pad  opening new
";

const DAY: &str = "\
2025-05-03 heron at quern-1
  set camber LF -3.2 deg by camber-1
  fit cp-07 LF
  say \"emoji \u{1F600} here\" by mb
  run s1 20 min
  job squeak \"front squeaks\"
  set camber LF -3.2 -> -3.0 deg
";

fn client() -> Client {
    let mut client = Client::new(&[FOLDER]);
    client.open(&file("cars.sline"), CARS);
    client.open(&file("day.sline"), DAY);
    assert_eq!(client.checks(&file("day.sline")), Vec::<String>::new());
    client
}

/// A text with edits in it, as a client makes them: from the last to the first.
fn edited(text: &str, edits: &Value) -> String {
    let mut edits: Vec<(Range, String)> = edits
        .as_array()
        .unwrap()
        .iter()
        .map(|one| {
            let range = serde_json::from_value(one["range"].clone()).unwrap();
            (range, one["newText"].as_str().unwrap().to_owned())
        })
        .collect();
    edits.sort_by_key(|(range, _)| (range.start.line, range.start.character));
    edits.iter().rev().fold(text.to_owned(), |text, (range, new)| Text::new(&text).replaced(*range, new))
}

#[test]
fn messages_name_their_check_and_the_lines_they_quarrel_with() {
    let mut client = client();
    let address = file("day.sline");
    let text = format!("{DAY}  set camber LF -2.5 -> -2.0 deg\n");
    client.change(&address, None, &text);
    let wrong = client.wrong(&address);
    let [one] = wrong.as_slice() else { panic!("{wrong:#?}") };
    assert_eq!((&one["code"], &one["source"]), (&json!("old-value-differs"), &json!("stringline")));
    let related = &one["relatedInformation"][0]["location"];
    assert_eq!(related["uri"], address);
    assert_eq!(related["range"]["start"]["line"], 6, "{one:#}");
}

#[test]
fn a_cure_that_is_an_edit_is_offered_and_cures() {
    for (line, fixed) in [
        ("  set cambr RF -3.0 deg\n", "  set camber RF -3.0 deg\n"),
        ("  remove cp-o7\n", "  remove cp-07\n"),
        ("  reed camber RF -3.0 deg\n", "  read camber RF -3.0 deg\n"),
        ("  set camber RF -3,0 deg\n", "  set camber RF -3.0 deg\n"),
    ] {
        let mut client = client();
        let address = file("day.sline");
        let text = format!("{DAY}{line}");
        client.change(&address, None, &text);
        let wrong = client.wrong(&address);
        assert_eq!(wrong.len(), 1, "{line}");
        let range = Text::new(&text).range(DAY.len() as u32, text.len() as u32);
        let asked =
            json!({ "textDocument": { "uri": address }, "range": range, "context": { "diagnostics": [] } });
        let fixes = client.ask("textDocument/codeAction", asked).unwrap();
        let texts: Vec<String> = fixes
            .as_array()
            .unwrap()
            .iter()
            .map(|fix| edited(&text, &fix["edit"]["changes"][&address]))
            .collect();
        assert!(texts.contains(&format!("{DAY}{fixed}")), "{line}: {fixes:#}");
        // A client finds the fix by the message as it was published.
        assert_eq!(fixes[0]["diagnostics"], json!([wrong[0]]), "{line}");
        for text in texts {
            client.change(&address, None, &text);
            let left = client.wrong(&address);
            assert!(left.iter().all(|one| one["severity"] != 1), "{text}: {left:#?}");
        }
    }
}

#[test]
fn a_cure_that_is_a_pattern_is_no_edit() {
    let mut client = client();
    let address = file("day.sline");
    let text = format!("{DAY}  fit nobody-knows LF\n");
    client.change(&address, None, &text);
    assert_eq!(client.checks(&address), ["serial-unknown"]);
    let range = Text::new(&text).whole();
    let asked =
        json!({ "textDocument": { "uri": address }, "range": range, "context": { "diagnostics": [] } });
    assert_eq!(client.ask("textDocument/codeAction", asked).unwrap(), json!([]));
}

#[test]
fn the_outline_has_blocks_with_their_lines_and_they_fold() {
    let mut client = client();
    let symbols = client.of("textDocument/documentSymbol", &file("day.sline"));
    assert_eq!(symbols[0]["name"], "2025-05-03 heron at quern-1");
    assert_eq!(symbols[0]["children"].as_array().unwrap().len(), 6);
    assert_eq!(symbols[0]["children"][1]["name"], "fit cp-07 LF");
    let folds = client.of("textDocument/foldingRange", &file("day.sline"));
    assert_eq!(folds, json!([{ "startLine": 0, "endLine": 6, "kind": "region" }]));
    // A client counts a lone carriage return as the end of a line.
    client.change(&file("day.sline"), None, "# one\rtwo\n# three\n\n# four\n");
    let folds = client.of("textDocument/foldingRange", &file("day.sline"));
    assert_eq!(folds, json!([{ "startLine": 0, "endLine": 2, "kind": "comment" }]));
}

/// The same as `format` makes of the file, by the function that `format` calls, and as one edit.
#[test]
fn formatting_is_that_of_the_command() {
    let mut client = client();
    let address = file("day.sline");
    let text = DAY.replace("  fit cp-07 LF\n", "  fit   cp-07 \t LF\r\n");
    client.change(&address, None, &text);
    let edits = client.of("textDocument/formatting", &address);
    assert_eq!(edits.as_array().unwrap().len(), 1);
    assert_eq!(edited(&text, &edits), DAY);
    client.change(&address, None, DAY);
    assert_eq!(client.of("textDocument/formatting", &address), json!([]));
}

#[test]
fn a_name_leads_to_its_declaration_and_to_all_its_lines() {
    let mut client = client();
    let day = file("day.sline");
    let at = client.at("textDocument/definition", (&day, DAY), "fit cp-^07", &json!({})).unwrap();
    assert_eq!(
        (&at["uri"], &at["range"]["start"]),
        (&json!(file("cars.sline")), &super::place(CARS, "^part cp-07"))
    );
    let more = |all: bool| json!({ "context": { "includeDeclaration": all } });
    for (all, count) in [(true, 2), (false, 1)] {
        let found = client.at("textDocument/references", (&day, DAY), "fit cp-^07", &more(all)).unwrap();
        assert_eq!(found.as_array().unwrap().len(), count, "{found:#}");
    }
    // A job is declared by the line that opens it; what is built in has no line; in quotes there are no names.
    let job = client.at("textDocument/definition", (&day, DAY), "job sq^ueak", &json!({})).unwrap();
    assert_eq!(job["uri"], json!(day));
    assert_eq!(
        client.at("textDocument/definition", (&day, DAY), "set cam^ber", &json!({})).unwrap(),
        Value::Null
    );
    assert_eq!(client.at("textDocument/definition", (&day, DAY), "emoj^i", &json!({})).unwrap(), Value::Null);
}

#[test]
fn a_new_name_goes_through_all_files_and_a_clash_is_refused_in_a_sentence() {
    let mut client = client();
    let (cars, day) = (file("cars.sline"), file("day.sline"));
    let done =
        client.at("textDocument/rename", (&day, DAY), "fit cp-^07", &json!({ "newName": "Pad-9" })).unwrap();
    let texts = [(&cars, CARS), (&day, DAY)].map(|(address, text)| edited(text, &done["changes"][address]));
    assert_eq!(texts, [CARS, DAY].map(|text| text.replace("cp-07", "Pad-9")));
    for (new, words) in [
        ("cp-08", "`cp-08` is a part already."),
        ("camber", "`camber` is a quantity already."),
        ("two words", "`two words` cannot be a name: a name has letters and digits, with `-` and `.`."),
        ("LF", "`LF` cannot be the name: the line that declares `cp-07` cannot be read with it."),
    ] {
        let refused = client.at("textDocument/rename", (&day, DAY), "fit cp-^07", &json!({ "newName": new }));
        assert_eq!(refused.unwrap_err(), (-32803, words.to_owned()));
    }
    let quantity = client.at("textDocument/prepareRename", (&day, DAY), "set cam^ber", &json!({}));
    assert!(quantity.unwrap_err().1.starts_with("`camber` is a quantity"));
    let place = client.at("textDocument/prepareRename", (&day, DAY), "fit cp-^07", &json!({})).unwrap();
    assert_eq!(place["placeholder"], "cp-07");
}

fn hover(client: &mut Client, text: (&str, &str), words: &str) -> String {
    let said = client.at("textDocument/hover", text, words, &json!({})).unwrap();
    said["contents"]["value"].as_str().unwrap_or_default().to_owned()
}

#[test]
fn hover_tells_of_parts_of_last_values_and_of_figures() {
    let mut client = client();
    let address = file("day.sline");
    let text = format!(
        "{DAY}  remove cp-07\n  found weight LF 300 kg RF 310 kg LR 290 kg RR 280 kg\n  | cross-weight\n"
    );
    client.change(&address, None, &text);
    let day = (address.as_str(), text.as_str());
    assert!(hover(&mut client, day, "fit cp-^07").contains("has run 0 min before this line"));
    assert!(hover(&mut client, day, "remove cp-^07").contains("has run 20 min before this line"));
    let last = "last LF -3.2 deg, set on 2025-05-03, day.sline:2";
    assert!(hover(&mut client, day, "cam^ber LF -3.2 ->").contains(last));
    assert_eq!(hover(&mut client, day, "-3.2 -> -3^.0"), last);
    assert!(hover(&mut client, day, "2025-05-03 her^on").starts_with("car heron\n"));
    // In a note there is no name.
    assert_eq!(hover(&mut client, day, "| cross-w^eight"), "");
    // Half of the weight is on RF and LR: 600 of 1180 kg.
    let text = text.replace("  | cross-weight\n", "  found cross-weight 49.0 %\n");
    client.change(&address, None, &text);
    let said = hover(&mut client, (&address, &text), "found cross-w^eight");
    assert!(said.contains("50.8") && said.contains("310") && said.contains("day.sline:9"), "{said}");
}

fn labels(client: &mut Client, line: &str) -> Vec<String> {
    let address = file("day.sline");
    let text = format!("{DAY}{line}");
    client.change(&address, None, &text);
    let place = Text::new(&text).position(text.len());
    assert_eq!(place, Position::new(7, line.encode_utf16().count() as u32));
    let asked = json!({ "textDocument": { "uri": address }, "position": place });
    let list = client.ask("textDocument/completion", asked).unwrap();
    assert_eq!(list["isIncomplete"], false);
    list["items"].as_array().unwrap().iter().map(|one| one["label"].as_str().unwrap().to_owned()).collect()
}

#[test]
fn completion_offers_what_fits_the_slot() {
    let mut client = client();
    for (line, wanted) in [
        ("2025-05-04 ", vec!["heron"]),
        ("2025-05-04 heron at ", vec!["quern-1"]),
        ("  fit ", vec!["cp-08"]),
        ("  remove ", vec!["cp-07"]),
        ("  done ", vec!["squeak"]),
        ("  read camber LF -3 deg by ", vec!["camber-1", "mb"]),
        ("  read camber LF -3 deg during ", vec!["s1"]),
        ("  set camber ", vec!["LF", "RF", "LR", "RR", "front", "rear", "all"]),
        ("  set camber LF ", vec!["-3.0 deg -> ", "-3.0 deg"]),
        ("  set camber LF -3.2 -> ", vec![]),
        ("  09:35 fit ", vec!["cp-08"]),
        ("  09:35..09:55 done ", vec!["squeak"]),
        ("  say \"why \" by ", vec!["mb"]),
        ("  say \u{201C}fit ", vec![]),
        ("  fit # ", vec![]),
        ("  # fit ", vec![]),
        ("  say \"fit ", vec![]),
        ("  | set ", vec![]),
        ("  set camber LF -3 deg because it ", vec![]),
    ] {
        assert_eq!(labels(&mut client, line), wanted, "{line}");
    }
    for (line, first) in
        [("", "2025-06-20"), ("  ", "set"), ("  set ", "camber"), ("  set camber LF -3 ", "deg")]
    {
        assert_eq!(labels(&mut client, line).first().map(String::as_str), Some(first), "{line}");
    }
}

#[test]
fn names_are_offered_as_they_are_typed() {
    let mut client = client();
    client.change(&file("cars.sline"), None, &CARS.replace("person mb", "person Mb"));
    let text = "2025-05-03 heron by ";
    client.change(&file("day.sline"), None, text);
    let list = client.at("textDocument/completion", (&file("day.sline"), text), "by ^", &json!({})).unwrap();
    assert_eq!(list["items"][0]["label"], "Mb");
}

/// Of more than a client can show, those that fit what is typed are left, and it is told to ask again.
#[test]
fn of_many_names_those_that_fit_what_is_typed_are_offered() {
    let mut client = client();
    let parts: Vec<String> =
        (0..1500).map(|number| format!("part Bp-{number:04} pad  opening new\n")).collect();
    client.change(&file("cars.sline"), None, &format!("{CARS}{}", parts.concat()));
    let text = format!("{DAY}  fit bp-149");
    client.change(&file("day.sline"), None, &text);
    let place = Text::new(&text).position(text.len());
    let asked = json!({ "textDocument": { "uri": file("day.sline") }, "position": place });
    let list = client.ask("textDocument/completion", asked).unwrap();
    let items = list["items"].as_array().unwrap();
    assert_eq!((&list["isIncomplete"], items.len()), (&json!(true), 10));
    assert_eq!(items[0]["label"], "Bp-1490");
}

/// The old value as it is offered makes a line without a mistake.
#[test]
fn the_old_value_is_ready_to_be_changed() {
    let mut client = client();
    client.change(&file("day.sline"), None, &format!("{DAY}  set camber LF -3.0 deg -> -2.8 deg\n"));
    assert_eq!(client.checks(&file("day.sline")), Vec::<String>::new());
}

#[test]
fn words_are_coloured_by_what_they_are() {
    let mut client = client();
    let colours = client.of("textDocument/semanticTokens/full", &file("day.sline"));
    let data: Vec<u64> =
        colours["data"].as_array().unwrap().iter().map(|one| one.as_u64().unwrap()).collect();
    let (mut line, mut column, mut found) = (0, 0, Vec::new());
    for token in data.chunks(5) {
        column = if token[0] > 0 { token[1] } else { column + token[1] };
        line += token[0];
        found.push((line, column, token[2], token[3]));
    }
    // `set camber LF -3.2 deg by camber-1`: verb, quantity, place, number, unit, clause, name.
    let second: Vec<_> = found.iter().filter(|one| one.0 == 1).copied().collect();
    let wanted = [(2, 3, 0), (6, 6, 1), (13, 2, 3), (16, 4, 4), (21, 3, 7), (25, 2, 0), (28, 8, 2)];
    assert_eq!(second, wanted.map(|(column, length, sort)| (1, column, length, sort)));
    // The emoji is two units of its text.
    assert!(found.contains(&(3, 6, 15, 5)), "{found:?}");
}

#[test]
fn beside_a_session_stands_what_has_run_and_above_a_head_what_is_open() {
    let mut client = client();
    let address = file("day.sline");
    let text = format!("{DAY}  run s2 15 min\n");
    client.change(&address, None, &text);
    let asked = json!({ "textDocument": { "uri": address }, "range": Text::new(&text).whole() });
    let hints = client.ask("textDocument/inlayHint", asked).unwrap();
    let said: Vec<&str> =
        hints.as_array().unwrap().iter().map(|one| one["label"].as_str().unwrap()).collect();
    assert_eq!(said, ["20 min so far", "35 min so far"]);
    let lenses = client.of("textDocument/codeLens", &address);
    assert_eq!(lenses[0]["command"]["title"], "1 job open");
    client.change(&address, None, &format!("{text}  done squeak \"greased\"\n"));
    assert_eq!(client.of("textDocument/codeLens", &address), json!([]));
}
