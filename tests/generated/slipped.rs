//! A line that a slip stopped: what it was about is not known any more, and nothing of it reaches a reader who may not have it.

use super::book::{Chooser, Knobs, seeded, stretch};
use super::holds::{Files, compiled};
use super::hunt::books;
use stringline::audience::{Reader, cut};
use stringline::book::entry::Verb;
use stringline::diagnostics::Severity;
use stringline::history::order::Rank;
use stringline::history::slots::Owner;

/// A line with a comma for its point, or with a quote that nobody closes.
fn slips(line: &str) -> Vec<String> {
    let mut all = vec![format!("{line} \"zqopen")];
    let bytes = line.as_bytes();
    let digit = |at: usize| bytes.get(at).is_some_and(u8::is_ascii_digit);
    let point = (1..bytes.len()).find(|at| bytes[*at] == b'.' && digit(at - 1) && digit(at + 1));
    all.extend(point.map(|at| format!("{},{}", &line[..at], &line[at + 1..])));
    all
}

/// The files with a line put in another's place, or behind it.
fn edited(files: &Files, (file, line): (usize, usize), text: &str, behind: bool) -> Files {
    let mut files = files.clone();
    let mut lines: Vec<String> = files[file].1.lines().map(str::to_owned).collect();
    if behind {
        lines.insert(line + 1, text.to_owned());
    } else {
        text.clone_into(&mut lines[line]);
    }
    files[file].1 = lines.join("\n") + "\n";
    files
}

/// What a line last set or read, with a slip in it, is told no more: neither as it was before nor as the line says.
#[test]
fn what_a_line_with_a_slip_was_about_is_not_known() {
    let mut tried = 0;
    for seed in 0..books(25, 400) {
        let files = seeded(seed, 900, Knobs::default()).files();
        let book = compiled(&files);
        if book.count(Severity::Error) > 0 {
            continue;
        }
        let bytes = stretch(seed ^ 0x5_11b, 2000);
        let mut pick = Chooser::new(&bytes);
        // The last line of each of a car's own slots, where it is a line by itself.
        let mut last: Vec<_> = book
            .history
            .slots
            .tracks
            .iter()
            .filter_map(|track| {
                let line = track.events.last()?.entry?;
                let entry = &book.book.entries[line];
                let typed =
                    matches!(entry.verb, Verb::Set | Verb::Found | Verb::Left | Verb::Read | Verb::Fill);
                let alone = book.book.entries.iter().all(|other| other.parent != Some(line));
                (matches!(track.owner, Owner::Car(_)) && typed && alone).then_some((track, entry))
            })
            .collect();
        for _ in 0..6 {
            if last.is_empty() {
                break;
            }
            let (track, entry) = last.swap_remove(pick.below(last.len()));
            let path = book.files.path(entry.file).to_owned();
            let Some(file) = files.iter().position(|(name, _)| *name == path) else { continue };
            let line = files[file].1[..entry.start as usize].matches('\n').count();
            let typed = files[file].1.lines().nth(line).unwrap_or_default().to_owned();
            if typed.contains(['"', '#']) || typed.contains("because") {
                continue;
            }
            for slip in slips(&typed) {
                let broken = compiled(&edited(&files, (file, line), &slip, false));
                let Owner::Car(car) = track.owner else { continue };
                let slot = broken.facts().on(car, Rank::END).slot(track.quantity, track.place);
                let stands = slot.and_then(|slot| slot.held.is(&broken.history));
                assert!(stands.is_none(), "seed {seed}: {slip}: {stands:?}");
                tried += 1;
            }
        }
    }
    assert!(tried > 40, "{tried}");
}

/// Lines that cannot be read, in the block of another's car, under a head that cannot be read, and in his own with another's name in them.
#[test]
fn nothing_of_a_line_with_a_slip_reaches_another() {
    let mut tried = 0;
    for seed in 0..books(15, 200) {
        let files = seeded(seed, 700, Knobs::default()).files();
        let book = compiled(&files);
        let clients: Vec<_> = book.book.clients.iter_enumerated().collect();
        for (file, (_, text)) in files.iter().enumerate() {
            let heads = text.lines().enumerate().filter(|(_, line)| line.starts_with("20"));
            for (line, head) in heads.take(3) {
                let Some(car) = head.split_whitespace().nth(1) else { continue };
                let owner =
                    book.book.cars.iter().find(|one| &*one.named.typed == car).and_then(|one| one.client);
                for bad in [
                    "  set camber front -1,5 deg because zqsecret",
                    "  cost 98,76 EUR \"zqsecret\"",
                    "  fit zqsecret LF \"zqsecret",
                    "  say \"zqsecret",
                    "  lend zqsecret to \"zqsecret",
                    "18.04.2026 zqsecret\n  say \"zqsecret\"\n  cost 5 EUR \"zqsecret\"",
                ] {
                    let broken = compiled(&edited(&files, (file, line), bad, true));
                    for (client, _) in clients.iter().filter(|(client, _)| Some(*client) != owner) {
                        let his = cut(&broken, &Reader::Client(*client));
                        for (_, shown) in his.files.iter() {
                            assert!(!shown.text.contains("zqsecret"), "seed {seed}: {bad}: {}", shown.text);
                            assert!(!shown.text.contains("98,76"), "seed {seed}: {bad}: {}", shown.text);
                        }

                        tried += 1;
                    }
                }
                // His own block, and a line in it that names the others.
                for (client, named) in &clients {
                    let bad = format!("  cost 98,76 EUR to {} \"zqsecret", named.named.typed);
                    let broken = compiled(&edited(&files, (file, line), &bad, true));
                    for (reader, _) in clients.iter().filter(|(reader, _)| reader != client) {
                        let his = cut(&broken, &Reader::Client(*reader));
                        assert!(
                            his.files.iter().all(|(_, shown)| !shown.text.contains("98,76")),
                            "seed {seed}"
                        );
                    }
                }
            }
        }
    }
    assert!(tried > 100, "{tried}");
}
