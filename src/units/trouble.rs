//! What can be wrong with a number as typed.
//!
//! Knows the cases, not the words for them: a check turns each into a message.

use super::number::Number;

/// Why a text is not one number.
#[derive(Debug, Clone, PartialEq)]
pub enum NumberTrouble {
    /// Nothing there.
    Empty,
    /// Not a number in any form.
    NotANumber,
    /// `3,2`: the decimal sign is a point.
    DecimalComma,
    /// Too many digits to be meant.
    TooLong,
    /// `41/11`, `71/78/84`: several numbers, for a quantity that declares a pair or triple.
    NotOneNumber {
        /// The numbers between the slashes.
        parts: Vec<Number>,
    },
    /// `13/8`: a fraction larger than one, perhaps `1 3/8` with the blank forgotten.
    FractionImproper {
        /// Above the line.
        numerator: u32,
        /// Below the line: a power of two, 2 to 64.
        denominator: u32,
        /// Whole units in its value: 1 of `13/8`.
        whole: u32,
        /// What is left over of its value: 5 of `13/8`.
        rest: u32,
    },
    /// `5/12`: no ruler is divided so. Perhaps a pair.
    FractionOffRuler {
        /// Above the line.
        numerator: u32,
        /// Below the line.
        denominator: u32,
    },
    /// `5d61'`: 60 minutes or more.
    MinutesRange,
    /// `1:75.0`: 60 seconds or more.
    SecondsRange,
}

impl NumberTrouble {
    /// What an improper fraction may mean, as it should be typed: `13/8` gives `1 3/8` (a blank was forgotten)
    /// and `1 5/8` (its value). Empty for other troubles.
    #[must_use]
    pub fn readings(&self) -> Vec<String> {
        let &Self::FractionImproper { numerator, denominator, whole, rest } = self else { return Vec::new() };
        let mut readings = Vec::new();
        // Only where no whole number was typed before it.
        let cuts: &[u32] = if whole == numerator / denominator { &[10, 100] } else { &[] };
        for cut in cuts {
            let (head, tail) = (numerator / cut, numerator % cut);
            // A numerator on a ruler is odd, else the fraction would be typed shorter.
            if head > 0 && tail * 10 >= *cut && tail < denominator && tail % 2 == 1 {
                readings.push(format!("{head} {tail}/{denominator}"));
            }
        }
        let value = match (whole, rest) {
            (whole, 0) => whole.to_string(),
            (whole, rest) => format!("{whole} {rest}/{denominator}"),
        };
        if !readings.contains(&value) {
            readings.push(value);
        }
        readings
    }

    /// The trouble with a word that has no number's form at all.
    pub(super) fn of_word(text: &str) -> Self {
        if text.is_empty() {
            return Self::Empty;
        }
        let plain = |part: &str| !part.is_empty() && part.bytes().all(|b| b.is_ascii_digit());
        match text.split_once(',') {
            Some((whole, part)) if plain(whole) && plain(part) => Self::DecimalComma,
            _ => Self::NotANumber,
        }
    }
}
