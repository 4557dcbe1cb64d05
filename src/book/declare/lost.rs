//! Limits that a declaration states and nobody can read: those of a life, and those of a day.
//!
//! A property with a mistake ends its line, so that whatever stands behind it is lost with it. Must not know what is limited.

use super::names_of;
use crate::book::lost::LostLimits;
use crate::book::names::folded;
use crate::syntax::Cursor;

/// The words of a line from here on.
pub(super) fn rest_of<'a>(cur: &Cursor<'a>) -> &'a str {
    let line = cur.line();
    cur.text.get(cur.here().start as usize..line.end as usize).unwrap_or_default()
}

/// The properties of a declaration that a text names, or nearly.
pub(super) fn named<'a>(text: &'a str, of: &str) -> impl Iterator<Item = &'static str> + use<'a> {
    let known = names_of(of);
    text.split([' ', '\t', ',']).filter(|word| !word.is_empty()).flat_map(move |word| {
        let word = folded(word);
        let slip = |name: &str| {
            word.len() > 2 && !known.contains(&word.as_str()) && strsim::osa_distance(&word, name) <= 1
        };
        known.iter().copied().filter(|name| word == **name || slip(name)).collect::<Vec<_>>()
    })
}

impl LostLimits {
    /// Notes what a text may have limited, by the properties of a declaration that it names, or nearly.
    pub(super) fn lose(&mut self, text: &str, of: &str) {
        for name in named(text, of) {
            // Which spec it is of says both.
            let spec = of == "part" && name == "spec";
            self.life |= spec || name == "life";
            self.days |= spec || ["valid", "valid-until", "made", "serviced", "fitted"].contains(&name);
        }
    }
}
