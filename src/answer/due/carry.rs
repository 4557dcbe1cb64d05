//! Spares to take along, in words.

use super::confidence_words;
use crate::Compiled;
use crate::book::model::PartId;
use crate::due::carry::Carry;
use crate::words;
use serde::Serialize;

/// Spares of a kind to take along.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct CarryView {
    /// The kind.
    pub kind: String,
    /// How many are enough; null where more than can be counted, or where none has failed to count by.
    pub wanted: Option<usize>,
    /// How many to take: as many as are enough, or as the list asks for; null where neither is known.
    pub take: Option<usize>,
    /// How many lie ready beyond those fitted before the event, with life enough for it.
    pub ready: usize,
    /// Those, the ones that the list names in front.
    pub parts: Vec<String>,
    /// How many of those to take are not there.
    pub short: usize,
    /// In words.
    pub text: String,
    /// What is wanting: "short 1", "no spare left"; empty where nothing is.
    pub lack: String,
}

/// Parts named of one kind.
const MOST: usize = 6;

pub(super) fn view(compiled: &Compiled, carry: &Carry, confidence: f64) -> CarryView {
    let names = |parts: &[PartId]| -> Vec<String> {
        parts.iter().map(|part| compiled.book.parts[*part].named.typed.to_string()).collect()
    };
    let count = carry.places + carry.unknown;
    let all = words::count(count, "place", "places");
    let places = words::count(carry.places, "place", "places");
    let parts = names(&carry.ready);
    let named = match parts.len() {
        0 => "none lies ready".to_owned(),
        n @ 1..=MOST => format!("{n} ready: {}", parts.join(", ")),
        n => format!("{n} ready"),
    };
    let ready = if carry.fitted.is_empty() {
        named
    } else {
        format!("{named}, once {} is fitted", names(&carry.fitted).join(", "))
    };
    let mut text = match (carry.take(), carry.wanted) {
        (Some(take), _) if carry.places == 0 => format!("take {take} for {all}; {ready}"),
        (None, _) if carry.places == 0 => {
            format!("{ready}, for {all}; too little has failed to count how many are wanted")
        }
        (Some(take), Some(wanted)) if take > wanted => {
            let enough = confidence_words(confidence);
            format!("take {take}, as listed, for {places}; {ready}; {wanted} would be enough at {enough}")
        }
        (Some(take), _) => format!("take {take} for {places}; {ready}"),
        (None, _) => format!("more than can be counted for {places}; {ready}"),
    };
    // Another spec of the kind may have a distribution of its own: it is said of how many places this holds.
    match carry.constant {
        0 => {}
        all if all == carry.places => text += "; counted at a constant rate, for want of lives to fit",
        some => {
            let some = words::count(some, "of these is", "of these are");
            text += &format!("; {some} counted at a constant rate, for want of lives of that spec to fit");
        }
    }
    if carry.places > 0 && carry.unknown > 0 {
        text += &format!("; nothing to count by for {} more", carry.unknown);
    }
    let short = carry.short();
    let lack = match (carry.take(), short) {
        (Some(_), 1..) => format!("short {short}"),
        (None, _) if parts.is_empty() => "no spare left".to_owned(),
        _ => String::new(),
    };
    let kind = compiled.book.kinds[carry.kind].named.typed.to_string();
    let (wanted, take) = (carry.wanted, carry.take());
    CarryView { kind, wanted, take, ready: parts.len(), parts, short, text, lack }
}
