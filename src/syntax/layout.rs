//! The usual layout of a ledger: indents, blanks, quotes and line ends, and nothing that changes what is said.
//!
//! Every changed line is read again and must have the same words; if not, it stays as typed. Must not know what any
//! word means; which words open a clause or a property it is told.

use super::parse::parse_lines_only;
use super::tree::{Chunk, Line, LineKind, Shape, Word};
use super::unquote;

/// Blanks a level of indent is worth.
const STEP: usize = 2;

/// The text in the usual layout. `keep` says which lines (from 1) are left as typed, besides those that cannot be read:
/// the lines with errors. `opens` says which words open a clause or a property: two blanks may stand before those.
#[must_use]
pub fn layout(text: &str, keep: &dyn Fn(u32) -> bool, opens: &dyn Fn(&str) -> bool) -> String {
    let chunk = parse_lines_only(text);
    let plan = plan(&chunk, text, keep);
    let mut out = String::with_capacity(text.len() + 64);
    let mut next = 0;
    let mut open: Vec<u16> = Vec::new();
    let mut gap = false;
    for (number, raw) in text.split('\n').enumerate() {
        let line = chunk.lines.get(next).filter(|line| line.number as usize == number);
        let stripped = raw.strip_suffix('\r').unwrap_or(raw);
        let Some((line, plan)) = line.zip(plan.get(next)) else {
            let said = stripped.trim_start_matches([' ', '\t']);
            if said.trim_end_matches([' ', '\t', '\r']).is_empty() {
                gap = !out.is_empty();
                continue;
            }
            blank_before(&mut out, &mut gap);
            comment(
                &mut out,
                stripped,
                said,
                &open,
                plan.get(next.wrapping_sub(1)).is_some_and(|plan| plan.block_kept),
            );
            continue;
        };
        blank_before(&mut out, &mut gap);
        while open.last().is_some_and(|above| *above >= line.indent) {
            open.pop();
        }
        open.push(line.indent);
        next += 1;
        if plan.kept {
            out.push_str(if stripped.ends_with('\r') { raw } else { stripped });
            out.push('\n');
            continue;
        }
        let lead = stripped.len() - stripped.trim_start_matches([' ', '\t']).len();
        let indent = if plan.block_kept {
            stripped.get(..lead).unwrap_or_default().to_owned()
        } else {
            " ".repeat(plan.depth * STEP)
        };
        out.push_str(&indent);
        let body = stripped.get(lead..).unwrap_or_default();
        let laid = if line.kind == LineKind::Note { None } else { relaid(text, &chunk, line, opens) };
        out.push_str(laid.as_deref().unwrap_or(body));
        out.push('\n');
    }
    if chunk_same(&chunk, text, &out) { out } else { text.to_owned() }
}

/// What is to be done with a line.
struct Plan {
    /// Left as typed.
    kept: bool,
    /// Its block's indents are left as typed, since a line of it is.
    block_kept: bool,
    /// How deep it stands.
    depth: usize,
}

fn plan(chunk: &Chunk, text: &str, keep: &dyn Fn(u32) -> bool) -> Vec<Plan> {
    let mut plans: Vec<Plan> = Vec::with_capacity(chunk.lines.len());
    for (index, line) in chunk.lines.iter().enumerate() {
        let own = line.parent as usize == index;
        let depth = if own { 0 } else { plans.get(line.parent as usize).map_or(0, |above| above.depth + 1) };
        let orphan = own && line.indent > 0;
        // A stray carriage return before the line end would be taken for one if it were written alone.
        let stray = text.as_bytes().get((line.end as usize).wrapping_sub(1)) == Some(&b'\r');
        let kept = line.kind == LineKind::Bad || orphan || stray || keep(chunk.line_number(line));
        plans.push(Plan { kept, block_kept: false, depth });
    }
    for block in &chunk.blocks {
        let (from, to) = (block.head as usize, block.end as usize);
        let Some(lines) = chunk.lines.get(from..to) else { continue };
        let Some(plans) = plans.get_mut(from..to) else { continue };
        let off = |(line, plan): (&Line, &Plan)| plan.kept && usize::from(line.indent) != plan.depth * STEP;
        if lines.iter().zip(plans.iter()).any(off) {
            for plan in plans {
                plan.block_kept = true;
            }
        }
    }
    plans
}

fn blank_before(out: &mut String, gap: &mut bool) {
    if std::mem::take(gap) {
        out.push('\n');
    }
}

/// A comment stands as deep as a line typed there would; its words are its own.
fn comment(out: &mut String, typed: &str, said: &str, open: &[u16], block_kept: bool) {
    let lead = typed.get(..typed.len() - said.len()).unwrap_or_default();
    let width = lead.chars().fold(0_usize, |at, each| if each == '\t' { (at / 8 + 1) * 8 } else { at + 1 });
    if block_kept && width > 0 {
        out.push_str(lead);
    } else {
        let depth = open.iter().filter(|above| usize::from(**above) < width).count();
        out.push_str(&" ".repeat(depth * STEP));
    }
    out.push_str(said.trim_end_matches([' ', '\t', '\r']));
    out.push('\n');
}

/// A line's words with the usual blanks between; `None` where that would make other words of them.
fn relaid(text: &str, chunk: &Chunk, line: &Line, opens: &dyn Fn(&str) -> bool) -> Option<String> {
    let words = chunk.words_of(line);
    let first = words.first()?;
    let mut out = String::with_capacity((line.end - line.start) as usize);
    let mut at = first.start;
    // The keyword before the reason is no word of its own.
    if first.shape == Shape::Because {
        return None;
    }
    let of_session = ["run", "stint", "stage", "stop", "result"];
    let run = words
        .iter()
        .take(2)
        .any(|word| of_session.iter().any(|verb| word.text(text).eq_ignore_ascii_case(verb)));
    for (index, word) in words.iter().enumerate() {
        let gap = text.get(at as usize..word.start as usize)?;
        if word.shape == Shape::Because {
            let keyword = gap.trim_matches([' ', '\t', '\u{A0}']);
            if !keyword.eq_ignore_ascii_case("because") || word.len == 0 {
                return None;
            }
            let before = gap.get(..gap.find(keyword)?)?;
            out.push_str(blanks(before, true));
            out.push_str(keyword);
            out.push(' ');
        } else if !gap.is_empty() {
            if !gap.chars().all(|each| matches!(each, ' ' | '\t' | '\u{A0}')) {
                return None;
            }
            out.push_str(blanks(gap, two_allowed(text, line, words, index, run, opens)));
        }
        let typed = word.text(text);
        if word.shape == Shape::Text {
            out.push_str(&straight(typed));
        } else {
            out.push_str(typed);
        }
        at = word.end();
    }
    let rest = text.get(at as usize..line.end as usize)?;
    let comment = rest.trim_matches([' ', '\t', '\u{A0}', '\r']);
    if !comment.is_empty() {
        let before = rest.get(..rest.find(comment)?)?;
        out.push_str(blanks(before, true));
        out.push_str(comment);
    }
    let indent = usize::from(line.indent);
    same_words(&format!("{}{out}", " ".repeat(indent)), text, words).then_some(out)
}

/// Whether two blanks may stand before this word: before a clause or a property, before the words of a declaration,
/// between the facts of a session.
fn two_allowed(
    text: &str,
    line: &Line,
    words: &[Word],
    index: usize,
    run: bool,
    opens: &dyn Fn(&str) -> bool,
) -> bool {
    if index < 2 && line.kind == LineKind::Entry && !run {
        return false;
    }
    let Some(word) = words.get(index) else { return false };
    let typed = word.text(text);
    match word.shape {
        Shape::Word => run && index > 1 || opens(typed),
        // The title of a declaration stands close to its name, a sentence at the end apart.
        Shape::Text => line.kind != LineKind::Entry && index > 2,
        Shape::Number => run && index > 1,
        _ => false,
    }
}

fn blanks(gap: &str, two: bool) -> &'static str {
    match gap.chars().count() {
        0 => "",
        n if n > 1 && two => "  ",
        _ => " ",
    }
}

/// The text in straight quotes.
fn straight(typed: &str) -> String {
    format!("\"{}\"", unquote(typed))
}

/// Whether a line reads as the same words (quotes aside).
fn same_words(line: &str, text: &str, words: &[Word]) -> bool {
    let again = parse_lines_only(line);
    let [one] = again.lines.as_slice() else { return false };
    let new = again.words_of(one);
    new.len() == words.len() && new.iter().zip(words).all(|(new, old)| alike(line, *new, text, *old))
}

fn alike(text_a: &str, a: Word, text_b: &str, b: Word) -> bool {
    a.shape == b.shape
        && if a.shape == Shape::Text {
            unquote(a.text(text_a)) == unquote(b.text(text_b))
        } else {
            a.text(text_a) == b.text(text_b)
        }
}

/// Whether the whole text still says the same: the same lines of the same kind under the same lines.
fn chunk_same(before: &Chunk, text: &str, out: &str) -> bool {
    let after = parse_lines_only(out);
    before.lines.len() == after.lines.len()
        && before.lines.iter().zip(&after.lines).all(|(a, b)| {
            let (old, new) = (before.words_of(a), after.words_of(b));
            a.kind == b.kind
                && a.parent == b.parent
                && old.len() == new.len()
                && old.iter().zip(new).all(|(a, b)| alike(out, *b, text, *a))
        })
}
