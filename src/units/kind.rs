//! The kinds of quantity a vocabulary line may name (`angle`, `stiffness`, `hardness`...): their dimension
//! vector, whose units they accept, and whether a bare number is allowed.
//!
//! Data only. It must not know unit factors or cars. To add a kind, add a row here and, if it has units of
//! its own, a `[section]` in `table.txt`.

use super::dim::Dim;

/// A kind of quantity, by its place in [`DIMENSIONS`].
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct DimensionId(u8);

/// What is to be known about one kind of quantity.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Dimension {
    /// Its name in vocabulary lines.
    pub name: &'static str,
    /// The dimension vector of its SI value.
    pub dim: Dim,
    /// The kinds whose units it accepts, in order of preference; the first kind in which a spelling is found
    /// wins. Empty for plain text.
    pub accepts: &'static [DimensionId],
    /// Whether a number without a unit is complete (a ratio, a bar hole, a number of clicks).
    pub bare: bool,
    /// The usual unit spellings, best first, for messages.
    pub usual: &'static [&'static str],
}

impl Dimension {
    /// Whether readings carry an offset (temperatures): their differences belong to another kind.
    #[must_use]
    pub fn affine(&self) -> bool {
        self.name == "temperature"
    }

    /// Whether the value is words, not a number.
    #[must_use]
    pub fn is_text(&self) -> bool {
        self.accepts.is_empty()
    }

    /// The dimension vectors a unit of this kind may have. Usually one; a toe has two.
    #[must_use]
    pub fn dims(&self) -> Vec<Dim> {
        let mut dims: Vec<Dim> = Vec::new();
        for kind in self.accepts {
            let dim = kind.get().dim;
            if !dims.contains(&dim) {
                dims.push(dim);
            }
        }
        dims
    }
}

impl DimensionId {
    /// The kind of that name.
    #[must_use]
    pub fn by_name(name: &str) -> Option<Self> {
        DIMENSIONS.iter().position(|kind| kind.name == name).map(|index| Self(index as u8))
    }

    /// All kinds, in the order of the list.
    pub fn all() -> impl Iterator<Item = Self> {
        (0..DIMENSIONS.len()).map(|index| Self(index as u8))
    }

    /// What is known about it.
    #[must_use]
    pub fn get(self) -> &'static Dimension {
        #[expect(clippy::indexing_slicing, reason = "an id is only made from the list itself")]
        &DIMENSIONS[self.0 as usize]
    }

    /// Its name in vocabulary lines.
    #[must_use]
    pub fn name(self) -> &'static str {
        self.get().name
    }
}

macro_rules! kinds {
    ($($id:ident $name:literal $dim:expr, $accepts:expr, $bare:expr, $usual:expr;)*) => {
        #[allow(non_camel_case_types, clippy::upper_case_acronyms)]
        #[repr(u8)]
        enum Place { $($id),* }
        impl DimensionId {
            $(#[doc = concat!("The kind `", $name, "`.")] pub const $id: Self = Self(Place::$id as u8);)*
        }
        /// Every kind of quantity.
        pub static DIMENSIONS: &[Dimension] = &[
            $(Dimension { name: $name, dim: Dim($dim), accepts: &$accepts, bare: $bare, usual: &$usual }),*
        ];
    };
}

use DimensionId as K;

/// A number with no unit is complete.
const BARE: bool = true;
/// The unit must be written.
const UNIT: bool = false;

// Vectors: length, mass, time, temperature, current, angle, count, money.
kinds! {
    ANGLE "angle" [0, 0, 0, 0, 0, 1, 0, 0], [K::ANGLE], UNIT, ["deg", "arcmin", "rad"];
    LENGTH "length" [1, 0, 0, 0, 0, 0, 0, 0], [K::LENGTH], UNIT, ["mm", "in", "thou"];
    DISTANCE "distance" [1, 0, 0, 0, 0, 0, 0, 0], [K::LENGTH], UNIT, ["km", "mile"];
    PITCH "pitch" [1, 0, 0, 0, 0, 0, -1, 0], [K::PITCH], UNIT, ["mm/turn", "in/turn", "tpi"];
    AREA "area" [2, 0, 0, 0, 0, 0, 0, 0], [K::AREA], UNIT, ["cm2", "in2", "m2"];
    VOLUME "volume" [3, 0, 0, 0, 0, 0, 0, 0], [K::VOLUME], UNIT, ["L", "mL", "US-gal", "UK-gal"];
    FLUID "fluid" [3, 0, 0, 0, 0, 0, 0, 0], [K::VOLUME], UNIT, ["L", "mL", "US-qt", "UK-qt"];
    MASS "mass" [0, 1, 0, 0, 0, 0, 0, 0], [K::MASS], UNIT, ["kg", "lb", "g"];
    FORCE "force" [1, 1, -2, 0, 0, 0, 0, 0], [K::FORCE], UNIT, ["N", "lbf", "kgf"];
    WEIGHT "weight" [1, 1, -2, 0, 0, 0, 0, 0], [K::FORCE], UNIT, ["kg", "lb", "N"];
    PRESSURE "pressure" [-1, 1, -2, 0, 0, 0, 0, 0], [K::PRESSURE], UNIT, ["bar", "psi", "kPa"];
    TEMPERATURE "temperature" [0, 0, 0, 1, 0, 0, 0, 0], [K::TEMPERATURE], UNIT, ["C", "F", "K"];
    TEMPERATURE_DIFFERENCE "temperature-difference"
        [0, 0, 0, 1, 0, 0, 0, 0], [K::TEMPERATURE_DIFFERENCE], UNIT, ["C", "F", "K"];
    TORQUE "torque" [2, 1, -2, 0, 0, 0, 0, 0], [K::TORQUE], UNIT, ["N.m", "lbf.ft", "lbf.in"];
    STIFFNESS "stiffness" [0, 1, -2, 0, 0, 0, 0, 0], [K::STIFFNESS], UNIT, ["N/mm", "lb/in", "kgf/mm"];
    ROLL_STIFFNESS "roll-stiffness"
        [2, 1, -2, 0, 0, -1, 0, 0], [K::ROLL_STIFFNESS], UNIT, ["N.m/deg", "lbf.ft/deg", "N.m/rad"];
    RATIO "ratio" [0, 0, 0, 0, 0, 0, 0, 0], [K::RATIO], BARE, ["%", "a bare number"];
    COUNT "count" [0, 0, 0, 0, 0, 0, 1, 0],
        [K::COUNT, K::CLICK, K::POSITION], BARE, ["a bare number", "clicks", "plates"];
    CLICK "click" [0, 0, 0, 0, 0, 0, 1, 0], [K::CLICK], BARE, ["clicks", "a bare number"];
    POSITION "position" [0, 0, 0, 0, 0, 0, 1, 0], [K::POSITION], BARE, ["a bare number", "hole"];
    TURN "turn" [0, 0, 0, 0, 0, 0, 1, 0], [K::TURN], UNIT, ["turn", "flat"];
    HARDNESS "hardness" [0, 0, 0, 0, 0, 0, 1, 0], [K::HARDNESS], BARE, ["points"];
    LAPS "laps" [0, 0, 0, 0, 0, 0, 1, 0], [K::LAPS], UNIT, ["laps"];
    DAYS "days" [0, 0, 0, 0, 0, 0, 1, 0], [K::DAYS], UNIT, ["days"];
    EVENTS "events" [0, 0, 0, 0, 0, 0, 1, 0], [K::EVENTS], UNIT, ["events"];
    SESSIONS "sessions" [0, 0, 0, 0, 0, 0, 1, 0], [K::SESSIONS], UNIT, ["sessions"];
    LAUNCHES "launches" [0, 0, 0, 0, 0, 0, 1, 0], [K::LAUNCHES], UNIT, ["launches"];
    HEAT_CYCLES "heat-cycles" [0, 0, 0, 0, 0, 0, 1, 0], [K::HEAT_CYCLES], UNIT, ["heat-cycles"];
    USE "use" [0, 0, 0, 0, 0, 0, 0, 0],
        [K::DAYS, K::TIME, K::LAPS, K::LENGTH, K::EVENTS, K::SESSIONS, K::LAUNCHES, K::HEAT_CYCLES], UNIT,
        ["min", "h", "km", "laps", "sessions", "events", "launches", "heat-cycles", "days"];
    TIME "time" [0, 0, 1, 0, 0, 0, 0, 0], [K::TIME], UNIT, ["min", "s", "h"];
    SPEED "speed" [1, 0, -1, 0, 0, 0, 0, 0], [K::SPEED], UNIT, ["km/h", "mph", "m/s"];
    ACCELERATION "acceleration" [1, 0, -2, 0, 0, 0, 0, 0], [K::ACCELERATION], UNIT, ["g", "m/s2"];
    ROTATION "rotation" [0, 0, -1, 0, 0, 1, 0, 0], [K::ROTATION], UNIT, ["rpm"];
    FREQUENCY "frequency" [0, 0, -1, 0, 0, 0, 0, 0], [K::FREQUENCY], UNIT, ["Hz", "cpm"];
    POWER "power" [2, 1, -3, 0, 0, 0, 0, 0], [K::POWER], UNIT, ["kW", "hp", "PS"];
    ENERGY "energy" [2, 1, -2, 0, 0, 0, 0, 0], [K::ENERGY], UNIT, ["J", "kJ", "kWh"];
    VOLUME_FLOW "volume-flow" [3, 0, -1, 0, 0, 0, 0, 0], [K::VOLUME_FLOW], UNIT, ["cc/min", "L/h"];
    MASS_FLOW "mass-flow" [0, 1, -1, 0, 0, 0, 0, 0], [K::MASS_FLOW], UNIT, ["kg/h", "g/s", "lb/h"];
    SPECIFIC_CONSUMPTION "specific-consumption"
        [-2, 0, 2, 0, 0, 0, 0, 0], [K::SPECIFIC_CONSUMPTION], UNIT, ["g/kWh", "lb/hp.h"];
    SPECIFIC_POWER "specific-power"
        [2, 0, -3, 0, 0, 0, 0, 0], [K::SPECIFIC_POWER], UNIT, ["kW/t", "hp/t", "W/kg"];
    CONSUMPTION "consumption" [2, 0, 0, 0, 0, 0, 0, 0], [K::CONSUMPTION], UNIT, ["L/100km", "US-mpg", "UK-mpg"];
    DENSITY "density" [-3, 1, 0, 0, 0, 0, 0, 0], [K::DENSITY], UNIT, ["kg/L", "g/cm3"];
    VOLTAGE "voltage" [2, 1, -3, 0, -1, 0, 0, 0], [K::VOLTAGE], UNIT, ["V", "mV"];
    CURRENT "current" [0, 0, 0, 0, 1, 0, 0, 0], [K::CURRENT], UNIT, ["A", "mA"];
    CHARGE "charge" [0, 0, 1, 0, 1, 0, 0, 0], [K::CHARGE], UNIT, ["Ah"];
    RESISTANCE "resistance" [2, 1, -3, 0, -2, 0, 0, 0], [K::RESISTANCE], UNIT, ["ohm"];
    LENGTH_PER_LENGTH "length-per-length"
        [0, 0, 0, 0, 0, 0, 0, 0], [K::LENGTH_PER_LENGTH], UNIT, ["mm/25mm", "mm/mm", "thou/in"];
    ANGLE_PER_LENGTH "angle-per-length"
        [-1, 0, 0, 0, 0, 1, 0, 0], [K::ANGLE_PER_LENGTH], UNIT, ["deg/mm", "deg/in"];
    LENGTH_PER_TIME "length-per-time"
        [1, 0, -1, 0, 0, 0, 0, 0], [K::LENGTH_PER_TIME], UNIT, ["mm/h", "thou/h"];
    RATIO_PER_TIME "ratio-per-time" [0, 0, -1, 0, 0, 0, 0, 0], [K::RATIO_PER_TIME], UNIT, ["%/h"];
    PRESSURE_PER_TIME "pressure-per-time"
        [-1, 1, -3, 0, 0, 0, 0, 0], [K::PRESSURE_PER_TIME], UNIT, ["bar/h", "psi/h"];
    WEIGHT_PER_TURN "weight-per-turn"
        [1, 1, -2, 0, 0, 0, -1, 0], [K::WEIGHT_PER_TURN], UNIT, ["kg/turn", "lb/turn"];
    ANGLE_PER_ACCELERATION "angle-per-acceleration"
        [-1, 0, 2, 0, 0, 1, 0, 0], [K::ANGLE_PER_ACCELERATION], UNIT, ["deg/g"];
    LENGTH_PER_MASS "length-per-mass" [1, -1, 0, 0, 0, 0, 0, 0], [K::LENGTH_PER_MASS], UNIT, ["mm/kg", "in/lb"];
    VOLUME_PER_LAP "volume-per-lap" [3, 0, 0, 0, 0, 0, -1, 0], [K::VOLUME_PER_LAP], UNIT, ["L/lap"];
    TURNS_PER_LENGTH "turns-per-length"
        [-1, 0, 0, 0, 0, 0, 1, 0], [K::TURNS_PER_LENGTH], UNIT, ["turn/km", "turn/mile"];
    TOE "toe" [0, 0, 0, 0, 0, 1, 0, 0], [K::ANGLE, K::LENGTH], UNIT, ["deg", "arcmin", "mm", "in"];
    TEXT "text" [0, 0, 0, 0, 0, 0, 0, 0], [], BARE, [];
}
