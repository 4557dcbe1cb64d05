//! What a turn is worth, in words.
//!
//! Must not know how it is worked out.

use super::turn::TurnWorth;
use crate::units::number;
use crate::words;

/// What to look for where springs and tracks say otherwise.
pub(super) const LOOK_FOR: &str = "Where the car's own moves and springs and tracks differ, look for bind, a bar left on, a collar that turns otherwise than \
                                   it is written, or a rate that is not what is fitted.";

/// Decimals of a worth: as closely as its interval is worth.
pub(super) fn decimals(low: f64, high: f64) -> u8 {
    number::decimals_for(((high - low) / 10.0).max(1e-6)).min(6)
}

/// " kg", "%", nothing.
pub(super) fn unit(unit: Option<&str>) -> String {
    match unit {
        None => String::new(),
        Some("%") => " %".to_owned(),
        Some(unit) => format!(" {unit}"),
    }
}

/// "Perch LF: 1 turn more moves cross-weight by -0.43 % (-0.48 to -0.38), by 4 moves over 0.5 turn".
pub(super) fn worth(one: &TurnWorth) -> String {
    let places = decimals(one.low, one.high);
    let (moved, turned) = (unit(one.unit.as_deref()), unit(one.turned_unit.as_deref()));
    let range = format!("{} to {}", number::signed(one.low, places), number::signed(one.high, places));
    let by = format!(
        "by {} over {}{turned}",
        words::count(one.moves as u64, "move", "moves"),
        words::amount(one.furthest, 3)
    );
    if one.low <= 0.0 && one.high >= 0.0 {
        let most = one.low.abs().max(one.high.abs());
        return format!(
            "{}: 1{turned} more moves {} by no more than {}{moved} either way ({range}), {by}: it cannot be told from nothing",
            words::capital(&one.turned),
            one.moved,
            number::format(most, places)
        );
    }
    format!(
        "{}: 1{turned} more moves {} by {}{moved} ({range}), {by}",
        words::capital(&one.turned),
        one.moved,
        number::signed(one.value, places)
    )
}

/// "by springs and tracks +0.31 %"; whether the two differ.
pub(super) fn statics(one: &TurnWorth, value: f64, differs: bool) -> String {
    let said = format!(
        "by springs and tracks {}{}",
        number::signed(value, decimals(one.low, one.high)),
        unit(one.unit.as_deref())
    );
    if differs { format!("{said}, and the car's own moves do not say that") } else { said }
}
