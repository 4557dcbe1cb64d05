//! Names and phrases that a generated book is made of; invented.
//!
//! Must not know what a book is.

pub const BIRDS: [&str; 10] =
    ["heron", "dunlin", "osprey", "wigeon", "siskin", "merlin", "linnet", "gannet", "avocet", "pipit"];
pub const CIRCUITS: [&str; 12] = [
    "pell-hill",
    "marrick",
    "low-ings",
    "tarnside",
    "holm",
    "crake",
    "sallow",
    "fenby",
    "ridge",
    "mossfield",
    "oxley",
    "strand",
];
pub const NOTES: [&str; 6] = [
    "Nothing touched since the last time out but the wheels. *Clean* underneath, one stone in the tray.",
    "The left front upright was dry; a wipe of grease and it turns as it should again.",
    "Two hours lost to the trailer. Everything below was done after dark.",
    "It came back with the book of words from the driver; the gist of it is under the sessions.",
    "Washed, dried, looked over. The rear bush on the left has a year in it, no more.",
    "He wants it softer. We agreed to try one thing at a time this month.",
];
pub const REASONS: [&str; 8] = [
    "front rolls over on the kerbs",
    "it slides on exit once the tyres are warm",
    "the outer shoulders ran hot all last weekend",
    "nervous on the straight",
    "cross was down on the left",
    "kicks over the crown",
    "it bottoms in the dip before the bridge",
    "the long right wears the left rear",
];
pub const SAID: [&str; 8] = [
    "washes wide at the gate",
    "better once it was warm, still wide at two",
    "no grip at the top, then too much of it",
    "stops straight now",
    "tyres went at lap nine",
    "like a different car, leave it alone",
    "the pedal is long after the third lap",
    "moves about under braking, settles at once",
];
pub const FELT: [&str; 6] = ["push", "neutral", "loose", "nervous", "wheelspin", "calm"];
pub const SEEN: [&str; 5] = [
    "clean, no play",
    "edges crazed, otherwise good",
    "fine hairs at two bolt holes",
    "a shine on one side, no more",
    "as new",
];
pub const DRIVERS: [&str; 2] = ["isla", "orrin"];
pub const BUYERS: [&str; 3] = ["the rubber works", "the friction people", "the bearing house"];
