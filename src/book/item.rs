//! One value of a line.
//!
//! Must not know lines.

use super::place::Place;
use crate::source::{FileId, Span};
use crate::units::UnitId;

/// One value of a line, with what was typed. 24 bytes: a book has millions.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Item {
    /// SI value; a change for `adjust`; of teeth (`41/11`) their ratio, and then of the second what was typed. 0 where [`Item::has_value`] is false.
    pub si: f64,
    /// Half of the last digit typed, or the stated ±, in SI.
    pub half: f32,
    /// First byte of what was typed.
    pub start: u32,
    /// Its length.
    pub len: u16,
    /// Where; never an axle or a side for a quantity that has corners.
    pub place: Place,
    /// Unit typed; none for text and plain numbers.
    pub unit: Option<UnitId>,
    /// Bits of [`Flags`].
    pub flags: u8,
    /// Decimals typed.
    pub decimals: u8,
}

/// Bits of [`Item::flags`].
#[derive(Debug, Clone, Copy)]
pub struct Flags;

impl Flags {
    /// `-`: not read.
    pub const NOT_READ: u8 = 1;
    /// `?`: not known (an old value).
    pub const UNKNOWN: u8 = 2;
    /// The value before `->`.
    pub const OLD: u8 = 4;
    /// A repeat of the reading before it.
    pub const REPEAT: u8 = 8;
    /// Words, not a number.
    pub const TEXT: u8 = 16;
    /// `off`.
    pub const OFF: u8 = 32;
    /// The second or third number of a pair or triple.
    pub const PART: u8 = 64;
    /// `half` is a stated ±.
    pub const STATED: u8 = 128;
}

impl Item {
    /// Whether it is a further number of a pair or triple, and not of a repeat.
    #[must_use]
    pub const fn is_further(&self) -> bool {
        self.is(Flags::PART) && !self.is(Flags::REPEAT)
    }

    /// A line's items value by value: each with its repeats and the further numbers of a pair.
    pub fn by_value(items: &[Self]) -> impl Iterator<Item = &[Self]> {
        items.chunk_by(|_, next| next.is(Flags::PART | Flags::REPEAT))
    }

    /// The teeth of the driven wheel, where this is the ratio of a pair that was typed as teeth and `driving` its second number.
    #[must_use]
    pub fn driven_teeth(&self, driving: &Self) -> f64 {
        let teeth = self.si * driving.si;
        // Typed as a decimal or whole: what the division leaves is no tooth.
        libm::round(teeth * 1e6) / 1e6
    }

    /// Whether the bit is set.
    #[must_use]
    pub const fn is(&self, flag: u8) -> bool {
        self.flags & flag != 0
    }

    /// Whether there is a number.
    #[must_use]
    pub const fn has_value(&self) -> bool {
        self.flags & (Flags::NOT_READ | Flags::UNKNOWN | Flags::TEXT | Flags::OFF) == 0
    }

    /// The unit typed.
    #[must_use]
    pub fn unit(&self) -> UnitId {
        self.unit.unwrap_or_else(|| crate::units::table().plain())
    }

    /// What was typed (digits only, without the unit).
    #[must_use]
    pub const fn span(&self, file: FileId) -> Span {
        Span::new(file, self.start, self.start + self.len as u32).for_one(self.place.0)
    }
}
