//! One mistake makes one message at most: a clean book, one slip of the hand in it, and the errors that come of it.

use super::book::{Chooser, Knobs, seeded, stretch};
use super::holds::{Files, compiled};
use super::hunt::books;
use std::collections::BTreeMap;
use std::fmt::Write as _;
use stringline::diagnostics::Severity;

/// Slips tried in each book.
const SLIPS: usize = 22;

/// Verbs whose line, left out, is a mistake that other lines quarrel with; or is none at all.
const LEFT_OUT: [&str; 21] = [
    "sell",
    "fit",
    "remove",
    "swap",
    "move",
    "build",
    "strip",
    "rebuild",
    "shelve",
    "quarantine",
    "release",
    "scrap",
    "buy",
    "set",
    "adjust",
    "found",
    "left",
    "read",
    "job",
    "done",
    "failed",
];

/// A line of a book: which file, which line of it.
type At = (usize, usize);

fn lines(files: &Files) -> Vec<(At, &str)> {
    files
        .iter()
        .enumerate()
        .flat_map(|(file, (_, text))| text.lines().enumerate().map(move |(line, text)| ((file, line), text)))
        .collect()
}

fn verb(line: &str) -> &str {
    if !line.starts_with(' ') {
        return "";
    }
    let first = line.split_whitespace().next().unwrap_or_default();
    let timed = first.starts_with(|c: char| c.is_ascii_digit());
    line.split_whitespace().nth(usize::from(timed)).unwrap_or_default()
}

/// The files with a line put in another's place; `None` takes it out.
fn with(files: &Files, at: At, line: Option<&str>) -> Files {
    let mut files = files.clone();
    let mut texts: Vec<String> = files[at.0].1.lines().map(str::to_owned).collect();
    match line {
        Some(line) => line.clone_into(&mut texts[at.1]),
        None => {
            texts.remove(at.1);
        }
    }
    files[at.0].1 = texts.join("\n") + "\n";
    files
}

/// The sorts of slips.
const SORTS: [&str; 11] = [
    "left out",
    "old value",
    "in each other's place",
    "another place",
    "not declared",
    "written twice",
    "decimal commas",
    "quote left open",
    "part misspelt",
    "date the other way round",
    "month 13",
];

/// One slip of a sort on a line, where it can be: what it is, and the book with it.
fn slip(files: &Files, all: &[(At, &str)], sort: &str, (at, line): (At, &str)) -> Option<(String, Files)> {
    let verb = verb(line);
    let below =
        |by: usize| all.iter().find(|(other, _)| *other == (at.0, at.1 + by)).map_or("", |(_, line)| *line);
    match sort {
        "left out" if LEFT_OUT.contains(&verb) => Some((line.to_owned(), with(files, at, None))),
        "old value" if verb == "set" && line.contains(" -> ") => {
            let old = line.split(" -> ").next()?.split_whitespace().next_back()?;
            let other = old.parse::<f64>().ok()? + 3.0;
            let edited = line.replacen(&format!(" {old} -> "), &format!(" {other} -> "), 1);
            (edited != line).then(|| (format!("{line} | {edited}"), with(files, at, Some(&edited))))
        }
        "in each other's place" => {
            let plain = |line: &str| line.starts_with("  ") && !line.starts_with("   ");
            // A line with lines of its own goes nowhere without them.
            let free = plain(line) && plain(below(1)) && !below(2).starts_with("   ");
            let differ =
                line != below(1) && !verb.is_empty() && !below(1).trim_start().starts_with(['|', '#']);
            (free && differ).then(|| {
                let swapped = with(&with(files, at, Some(below(1))), (at.0, at.1 + 1), Some(line));
                (format!("{line} | {}", below(1)), swapped)
            })
        }
        "another place" if matches!(verb, "fit" | "remove" | "swap" | "move") => {
            let places = ["LF", "RF", "LR", "RR"];
            let mut words: Vec<&str> = line.split(' ').collect();
            let place = words.iter().position(|word| places.contains(word))?;
            words[place] = places[(places.iter().position(|one| *one == words[place])? + 1) % 4];
            let edited = words.join(" ");
            Some((format!("{line} | {edited}"), with(files, at, Some(&edited))))
        }
        "not declared" => {
            let first = line.split(' ').next().unwrap_or_default();
            let alone = !below(1).starts_with(' ');
            let named =
                matches!(first, "part" | "person" | "gauge" | "event" | "circuit" | "baseline" | "spec");
            (alone && named).then(|| (line.to_owned(), with(files, at, None)))
        }
        "written twice"
            if matches!(
                verb,
                "fit" | "remove" | "swap" | "move" | "build" | "strip" | "scrap" | "buy" | "run"
            ) =>
        {
            let edited = format!("{line}\n{line}");
            (!below(1).starts_with("   ")).then(|| (line.to_owned(), with(files, at, Some(&edited))))
        }
        "decimal commas" if !verb.is_empty() && line.contains('.') && !line.contains(['"', '#']) => {
            let commas: String = line
                .char_indices()
                .map(|(place, each)| {
                    let bytes = line.as_bytes();
                    let digit = |place: usize| bytes.get(place).is_some_and(u8::is_ascii_digit);
                    if each == '.' && place > 0 && digit(place - 1) && digit(place + 1) { ',' } else { each }
                })
                .collect();
            (commas != line).then(|| (format!("{line} | {commas}"), with(files, at, Some(&commas))))
        }
        "quote left open" if !verb.is_empty() && line.ends_with('"') => {
            let open = line.strip_suffix('"')?;
            Some((open.to_owned(), with(files, at, Some(open))))
        }
        "part misspelt" if matches!(verb, "fit" | "remove" | "swap") => {
            let timed = usize::from(line.trim_start().starts_with(|c: char| c.is_ascii_digit()));
            let part = line.split_whitespace().nth(timed + 1)?;
            let edited = line.replacen(part, &format!("{part}zq"), 1);
            Some((format!("{line} | {edited}"), with(files, at, Some(&edited))))
        }
        "date the other way round" | "month 13" if line.starts_with("20") => {
            let (date, rest) = line.split_at_checked(10)?;
            let [year, month, day] = date.split('-').collect::<Vec<_>>()[..] else { return None };
            let date =
                if sort == "month 13" { format!("{year}-13-{day}") } else { format!("{day}.{month}.{year}") };
            let edited = format!("{date}{rest}");
            Some((edited.clone(), with(files, at, Some(&edited))))
        }
        _ => None,
    }
}

#[test]
fn one_mistake_makes_one_message() {
    let mut found: BTreeMap<String, String> = BTreeMap::new();
    let (mut clean, mut tried, mut said, mut wrong) = (0, BTreeMap::new(), 0, 0);
    for seed in 0..books(40, 1000) {
        let files = seeded(seed, 1200, Knobs::default()).files();
        if compiled(&files).count(Severity::Error) > 0 {
            continue;
        }
        clean += 1;
        let bytes = stretch(seed ^ 0x51_1b5, 4000);
        let mut pick = Chooser::new(&bytes);
        let all = lines(&files);
        for n in 0..SLIPS {
            let sort = SORTS[n % SORTS.len()];
            let can = all.iter().filter(|(_, line)| !line.is_empty());
            let can: Vec<_> = can.filter_map(|one| slip(&files, &all, sort, *one)).collect();
            if can.is_empty() {
                continue;
            }
            let (what, edited) = &can[pick.below(can.len())];
            let what = format!("{sort}: {what}");
            *tried.entry(sort).or_insert(0) += 1;
            let book = compiled(edited);
            let errors: Vec<_> =
                book.diagnostics.iter().filter(|one| one.severity == Severity::Error).collect();
            said += usize::from(!errors.is_empty());
            if errors.len() < 2 {
                continue;
            }
            wrong += 1;
            let checks: Vec<&str> = errors.iter().map(|one| one.check).collect();
            let sort = format!("{sort} {}", checks.join(" "));
            let mut text = format!("seed {seed}, {what}\n");
            for error in errors {
                let place = error.at.as_ref().map_or_else(String::new, |mark| {
                    format!("{}:{}", book.files.path(mark.span.file), book.files.line(mark.span))
                });
                let _ = writeln!(text, "  {place} {}: {}", error.check, error.message);
            }
            if let Some(folder) = std::env::var_os("STRINGLINE_FINDINGS") {
                let folder = std::path::Path::new(&folder).join(format!("{}-{seed}", sort.replace(' ', "-")));
                std::fs::create_dir_all(&folder).unwrap();
                for (path, lines) in edited {
                    std::fs::write(folder.join(path.replace('/', "-")), lines).unwrap();
                }
            }
            found.entry(sort).or_insert(text);
        }
    }
    let texts: Vec<&str> = found.values().map(String::as_str).collect();
    assert!(wrong == 0, "{wrong} of {tried:?} ({said} said) in {clean} books:\n\n{}", texts.join("\n"));
    // A law that never meets its case holds of anything.
    assert!(clean > 5 && tried.len() == SORTS.len() && said > 10, "{clean} {tried:?} {said}");
}
