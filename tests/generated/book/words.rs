//! Names and phrases that a book is made of. Each has another that takes its place where a reader may not have it; the two sort
//! alike, so that a change of words is no change of order.

/// Clients: a name, and the other.
pub const CLIENTS: [(&str, &str); 7] = [
    ("house", "house"),
    ("ashby", "arden"),
    ("brock", "baxter"),
    ("corrie", "cowan"),
    ("dorrit", "deacon"),
    ("heath", "hurst"),
    ("vale", "voss"),
];

/// Cars.
pub const CARS: [(&str, &str); 7] = [
    ("avocet", "auk"),
    ("bunting", "brambling"),
    ("curlew", "cormorant"),
    ("heron", "harrier"),
    ("plover", "pipit"),
    ("swift", "siskin"),
    ("wren", "whimbrel"),
];

/// People, and what they do.
pub const PEOPLE: [(&str, &str, &str, &str); 6] = [
    ("fenna", "freya", "driver", "steward"),
    ("ivo", "ira", "driver", "steward"),
    ("lena", "lois", "mechanic", "storeman"),
    ("maud", "meg", "driver", "steward"),
    ("ned", "nat", "mechanic", "storeman"),
    ("otto", "orrin", "driver", "steward"),
];

/// Phrases.
pub const PHRASES: [(&str, &str); 20] = [
    ("washes wide at the gate", "turns in well by the wall"),
    ("edges crazed", "faces scored"),
    ("pulls left under braking", "runs straight off the throttle"),
    ("as it was last year", "never seen before"),
    ("nothing found", "three webs torn"),
    ("second gear", "fourth gear after lunch"),
    ("seal weeps", "bush knocks"),
    ("says he paid in June", "owes for March"),
    ("bring the long bar", "leave the short one"),
    ("a & b <i>both</i> done", "x & y <u>none</u> left"),
    ("caf\u{e9}, 5 o'clock", "t\u{f4}le, half past six"),
    ("half a turn too far", "a whole turn short"),
    ("50 % worn", "12 % worn"),
    ("see page 7 | bottom", "see page 9 | top"),
    ("sooty plugs", "clean plugs"),
    ("he said \u{2018}never\u{2019}", "she said \u{2018}often\u{2019}"),
    ("wet", "dry"),
    ("no", "yes"),
    (
        "rear bar a hole too soft in the wet, as at the spring meeting",
        "front bar a hole too hard in the dry, as at the autumn one",
    ),
    ("*Clutch* is good for `one` more", "*Gearbox* is good for `two` more"),
];

/// Reasons after `because`.
pub const REASONS: [(&str, &str); 6] = [
    ("it washes wide", "he asked for it"),
    ("the driver wants it so", "the bill was not paid"),
    ("crazed at the edges", "someone dropped it"),
    ("no papers came", "the label is gone"),
    ("the link was bound", "the gauge slipped"),
    ("of the rain", "of the heat"),
];

/// Words of a failure: mode, mechanism, cause, how it was found.
pub const FAILURES: [[&str; 4]; 3] = [
    ["split", "tear", "unknown", "inspection"],
    ["cracked", "fatigue", "overload", "driver"],
    ["leaks", "wear", "age", "bench"],
];
