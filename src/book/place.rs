//! Places on a car: corners, axles, sides, cylinders, gears, and positions that kinds declare.
//!
//! Must not know a particular quantity, nor parts.

use crate::vocabulary::Places;

/// A place on a car, in two bytes.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Place(pub u16);

/// First code of cylinders, gears and declared positions.
const CYLINDER: u16 = 16;
const GEAR: u16 = 64;
const POSITION: u16 = 256;

impl Place {
    /// The car as a whole.
    pub const CAR: Self = Self(0);
    /// Left front, as the driver sits.
    pub const LF: Self = Self(1);
    /// Right front.
    pub const RF: Self = Self(2);
    /// Left rear.
    pub const LR: Self = Self(3);
    /// Right rear.
    pub const RR: Self = Self(4);
    /// The front axle.
    pub const FRONT: Self = Self(5);
    /// The rear axle.
    pub const REAR: Self = Self(6);
    /// The left side.
    pub const LEFT: Self = Self(7);
    /// The right side.
    pub const RIGHT: Self = Self(8);
    /// All of them.
    pub const ALL: Self = Self(9);
    /// The four corners in the book's order.
    pub const CORNERS: [Self; 4] = [Self::LF, Self::RF, Self::LR, Self::RR];

    /// Cylinder `n`, from 1 to 40.
    #[must_use]
    pub const fn cylinder(n: u16) -> Self {
        Self(CYLINDER + n)
    }

    /// Gear `n`, from 1 to 20.
    #[must_use]
    pub const fn gear(n: u16) -> Self {
        Self(GEAR + n)
    }

    /// The `index`-th declared position.
    #[must_use]
    pub const fn position(index: u16) -> Self {
        Self(POSITION + index)
    }

    /// Whether it is one corner.
    #[must_use]
    pub const fn is_corner(self) -> bool {
        self.0 >= 1 && self.0 <= 4
    }

    /// Whether it is the front or the rear axle.
    #[must_use]
    pub const fn is_axle(self) -> bool {
        self.0 == 5 || self.0 == 6
    }

    /// Cylinder number, if it is one.
    #[must_use]
    pub const fn cylinder_number(self) -> Option<u16> {
        if self.0 > CYLINDER && self.0 <= CYLINDER + 40 { Some(self.0 - CYLINDER) } else { None }
    }

    /// Gear number, if it is one.
    #[must_use]
    pub const fn gear_number(self) -> Option<u16> {
        if self.0 > GEAR && self.0 <= GEAR + 20 { Some(self.0 - GEAR) } else { None }
    }

    /// Index of a declared position, if it is one.
    #[must_use]
    pub const fn position_index(self) -> Option<u16> {
        if self.0 >= POSITION { Some(self.0 - POSITION) } else { None }
    }

    /// The corners an axle, a side or `all` stands for; a corner is itself.
    #[must_use]
    pub const fn corners(self) -> &'static [Self] {
        match self {
            Self::LF => &[Self::LF],
            Self::RF => &[Self::RF],
            Self::LR => &[Self::LR],
            Self::RR => &[Self::RR],
            Self::FRONT => &[Self::LF, Self::RF],
            Self::REAR => &[Self::LR, Self::RR],
            Self::LEFT => &[Self::LF, Self::LR],
            Self::RIGHT => &[Self::RF, Self::RR],
            Self::ALL => &Self::CORNERS,
            _ => &[],
        }
    }

    /// The axle of a corner; an axle is itself.
    #[must_use]
    pub const fn axle(self) -> Option<Self> {
        match self {
            Self::LF | Self::RF | Self::FRONT => Some(Self::FRONT),
            Self::LR | Self::RR | Self::REAR => Some(Self::REAR),
            _ => None,
        }
    }

    /// The class of place that it is; none for a side, all corners and a declared position.
    #[must_use]
    pub fn class(self) -> Places {
        if self.is_corner() {
            Places::CORNER
        } else if self.is_axle() {
            Places::AXLE
        } else if self.cylinder_number().is_some() {
            Places::CYLINDER
        } else if self.gear_number().is_some() {
            Places::GEAR
        } else if self == Self::CAR {
            Places::CAR
        } else {
            Places::default()
        }
    }

    /// The corner across the car.
    #[must_use]
    pub const fn other_side(self) -> Option<Self> {
        match self {
            Self::LF => Some(Self::RF),
            Self::RF => Some(Self::LF),
            Self::LR => Some(Self::RR),
            Self::RR => Some(Self::LR),
            _ => None,
        }
    }

    /// Whether a place is that one, or one of the corners it stands for.
    #[must_use]
    pub fn covers(self, other: Self) -> bool {
        self == other || self.corners().contains(&other)
    }

    /// Whether two places touch: the same, or one holds the other (`front` and `LF`), or one is the whole car.
    #[must_use]
    pub fn touches(self, other: Self) -> bool {
        self == other
            || self == Self::CAR
            || other == Self::CAR
            || self.corners().iter().any(|corner| other.corners().contains(corner))
    }

    /// Reads a standard place word; declared positions are names and are looked up elsewhere.
    #[must_use]
    pub fn parse(text: &str) -> Option<Self> {
        let bytes = text.as_bytes();
        let upper = |at: usize| bytes.get(at).map_or(0, u8::to_ascii_uppercase);
        match bytes.len() {
            2 | 3 => {
                if bytes.len() == 2 {
                    match (upper(0), upper(1)) {
                        (b'L', b'F') | (b'F', b'L') => return Some(Self::LF),
                        (b'R', b'F') | (b'F', b'R') => return Some(Self::RF),
                        (b'L', b'R') | (b'R', b'L') => return Some(Self::LR),
                        (b'R', b'R') => return Some(Self::RR),
                        _ => {}
                    }
                }
                if bytes.len() == 3 && text.eq_ignore_ascii_case("all") {
                    return Some(Self::ALL);
                }
                let number = text.get(1..)?.parse::<u16>().ok().filter(|n| *n >= 1)?;
                match upper(0) {
                    b'C' if number <= 40 => Some(Self::cylinder(number)),
                    b'G' if number <= 20 => Some(Self::gear(number)),
                    _ => None,
                }
            }
            4 if text.eq_ignore_ascii_case("rear") => Some(Self::REAR),
            4 if text.eq_ignore_ascii_case("left") => Some(Self::LEFT),
            5 if text.eq_ignore_ascii_case("front") => Some(Self::FRONT),
            5 if text.eq_ignore_ascii_case("right") => Some(Self::RIGHT),
            _ => None,
        }
    }

    /// The place as typed in a ledger; declared positions need their names.
    #[must_use]
    pub fn word(self, positions: &[Box<str>]) -> String {
        match self {
            Self::CAR => String::new(),
            Self::LF => "LF".to_owned(),
            Self::RF => "RF".to_owned(),
            Self::LR => "LR".to_owned(),
            Self::RR => "RR".to_owned(),
            Self::FRONT => "front".to_owned(),
            Self::REAR => "rear".to_owned(),
            Self::LEFT => "left".to_owned(),
            Self::RIGHT => "right".to_owned(),
            Self::ALL => "all".to_owned(),
            other => {
                if let Some(n) = other.cylinder_number() {
                    format!("c{n}")
                } else if let Some(n) = other.gear_number() {
                    format!("g{n}")
                } else {
                    other
                        .position_index()
                        .and_then(|index| positions.get(index as usize))
                        .map_or_else(|| "?".to_owned(), std::string::ToString::to_string)
                }
            }
        }
    }
}
