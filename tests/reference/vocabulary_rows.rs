//! The trade's list of what a setup sheet holds (common practice) has 75 rows; each has its quantities in the vocabulary.

use super::grammar;

/// Row by row, the quantities that answer it.
#[rustfmt::skip]
const ROWS: [(usize, &[&str]); 75] = [
    (1, &["camber"]),
    (2, &["toe"]),
    (3, &["caster"]),
    (4, &["sai"]),
    (5, &["ride-height"]),
    (6, &["rake"]),
    (7, &["weight"]),
    (8, &["cross-weight"]),
    (9, &["front-weight"]),
    (10, &["left-weight"]),
    (11, &["ballast"]),
    (12, &["spring-rate"]),
    (13, &["helper-rate"]),
    (14, &["spring-free-length"]),
    (15, &["perch", "preload"]),
    (16, &["bar-diameter", "bar-wall"]),
    (17, &["bar-rate"]),
    (18, &["bar-hole"]),
    (19, &["motion-ratio"]),
    (20, &["bump"]),
    (21, &["rebound"]),
    (22, &["high-bump"]),
    (23, &["damper-gas"]),
    (24, &["bump-stop-gap"]),
    (25, &["droop"]),
    (26, &["tyre-cold"]),
    (27, &["tyre-hot"]),
    (28, &["tyre-temp"]),
    (29, &["tread"]),
    (30, &["tyre-hardness"]),
    (31, &["wheel-offset"]),
    (32, &["wheel-width", "wheel-diameter"]),
    (33, &["spacer"]),
    (34, &["stud-engagement"]),
    (35, &["wheel-torque", "hub-torque"]),
    (36, &["bearing-play"]),
    (37, &["brake-bias"]),
    (38, &["balance-bar"]),
    (39, &["master-bore"]),
    (40, &["pad-thickness"]),
    (41, &["pad-mu", "pad-compound"]),
    (42, &["disc-thickness"]),
    (43, &["disc-runout"]),
    (44, &["brake-fluid", "brake-fluid-age", "brake-fluid-boil"]),
    (45, &["lash-inlet", "lash-exhaust"]),
    (46, &["leakdown"]),
    (47, &["compression"]),
    (48, &["plug-gap"]),
    (49, &["plug"]),
    (50, &["ignition"]),
    (51, &["rev-limit"]),
    (52, &["lambda"]),
    (53, &["fuel-pressure"]),
    (54, &["injector-duty"]),
    (55, &["ethanol"]),
    (56, &["boost"]),
    (57, &["oil-pressure"]),
    (58, &["oil-temp"]),
    (59, &["coolant-temp", "cap-pressure"]),
    (60, &["engine-oil"]),
    (61, &["gearbox-oil", "diff-oil"]),
    (62, &["final-drive"]),
    (63, &["gear-ratio"]),
    (64, &["diff-preload"]),
    (65, &["diff-ramp"]),
    (66, &["diff-plates"]),
    (67, &["wing-angle"]),
    (68, &["gurney"]),
    (69, &["splitter-height"]),
    (70, &["fuel"]),
    (71, &["driver-mass"]),
    (72, &["track"]),
    (73, &["wheelbase"]),
    (74, &["battery-rest", "battery-charging"]),
    (75, &["bump-steer"]),
];

#[test]
fn every_row_of_the_list_has_its_quantities() {
    let text = grammar("vocabulary.sline");
    let mut found: Vec<(usize, Vec<&str>)> = Vec::new();
    let mut open = false;
    for line in text.lines() {
        if let Some(rest) = line.strip_prefix("# row ") {
            let number = rest.split(':').next().and_then(|digits| digits.trim().parse().ok());
            found.push((number.unwrap_or_else(|| panic!("no row number: {line}")), Vec::new()));
            open = true;
        } else if line.starts_with("# extra") {
            open = false;
        } else if let Some(rest) = line.strip_prefix("quantity ")
            && open
            && let Some(row) = found.last_mut()
        {
            row.1.extend(rest.split_whitespace().next());
        }
    }
    let expected: Vec<(usize, Vec<&str>)> = ROWS.iter().map(|(row, names)| (*row, names.to_vec())).collect();
    assert_eq!(found, expected);
    assert!(ROWS.iter().enumerate().all(|(index, row)| row.0 == index + 1 && !row.1.is_empty()));
}
