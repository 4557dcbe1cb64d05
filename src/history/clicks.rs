//! Clicks: from which end a damper's are counted, and how a line's count becomes the slot's.
//!
//! Must not know tracks, cars or messages.

use crate::book::model::Kind;

/// How many clicks from the slot's own end a number on a line stands for: `start + sign * typed`.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Counting {
    sign: f64,
    start: f64,
}

/// Why a number of clicks stands for nothing.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ClickTrouble {
    /// Neither the line nor the kind says from which end.
    NoDatum,
    /// The line counts from the other end, and how many clicks there are is not known.
    OtherDatum,
}

impl Counting {
    /// As typed.
    pub const PLAIN: Self = Self { sign: 1.0, start: 0.0 };

    /// The count from the slot's own end.
    #[must_use]
    pub fn of(self, typed: f64) -> f64 {
        self.start + self.sign * typed
    }

    /// A value said outright. `line` is what the line says it counts from (true for full hard), `kind` the kind of the part
    /// that carries the setting, `slot` the end of the slot's first value. Also gives the end that the slot counts from.
    ///
    /// # Errors
    /// When it stands for nothing.
    pub fn absolute(
        line: Option<bool>,
        kind: Option<&Kind>,
        slot: Option<bool>,
    ) -> Result<(Self, bool), ClickTrouble> {
        let own = kind.and_then(|kind| kind.from_hard);
        let said = line.or(own).ok_or(ClickTrouble::NoDatum)?;
        let keeps = own.or(slot).unwrap_or(said);
        if keeps == said {
            return Ok((Self::PLAIN, keeps));
        }
        let (low, high) = kind.and_then(|kind| kind.clicks).ok_or(ClickTrouble::OtherDatum)?;
        Ok((Self { sign: -1.0, start: low + high }, keeps))
    }

    /// A change: counted from the other end it has the other sign.
    #[must_use]
    pub fn change(line: Option<bool>, kind: Option<&Kind>, slot: Option<bool>) -> Self {
        let keeps = kind.and_then(|kind| kind.from_hard).or(slot);
        match (line, keeps) {
            (Some(line), Some(keeps)) if line != keeps => Self { sign: -1.0, start: 0.0 },
            _ => Self::PLAIN,
        }
    }
}

/// Whether that many clicks are more (or fewer) than the kind has.
#[must_use]
pub fn beyond(kind: Option<&Kind>, clicks: f64) -> bool {
    kind.and_then(|kind| kind.clicks).is_some_and(|(low, high)| clicks < low - 1e-9 || clicks > high + 1e-9)
}
