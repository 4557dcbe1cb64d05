//! What `state` prints of one row: its unknown places, conditions that differ, a datum, and all that was typed of a corrected value.

use super::said;

/// What `state` says of wren in a book of these lines, blanks folded.
fn state(lines: &str) -> String {
    let folder = tempfile::tempdir().unwrap();
    let head = "car wren \"Wren\"\n  reference driver 76 kg, fuel 20 L\nkind damper \"damper\"  fits LF RF on wren  carries rebound  clicks 0..20 from full-hard\nkind strut \"strut\"  fits LR on wren  carries rebound  clicks 0..20 from full-soft\npart dm-1 damper\npart st-1 strut\n";
    std::fs::write(folder.path().join("book.sline"), format!("{head}\n2025-05-02 wren\n{lines}")).unwrap();
    let out = said(&["state", &folder.path().to_string_lossy(), "wren"]).out;
    out.split_whitespace().collect::<Vec<_>>().join(" ")
}

#[test]
fn a_place_that_only_a_line_with_a_mistake_names_stands_beside_the_known_ones() {
    let told = state("  set camber LF -3.0 deg\n  set camber RF -3,2 deg\n");
    assert!(told.contains("camber asked -3.0 deg"), "{told}");
    assert!(
        told.contains("camber unknown book.sline:10 not known until the line named here is mended"),
        "{told}"
    );
    // Once it is stated it is known.
    let mended = state("  set camber RF -3,2 deg\n  set camber RF -3.1 deg\n");
    assert!(!mended.contains("unknown") && mended.contains("-3.1"), "{mended}");
}

#[test]
fn conditions_and_ends_that_differ_are_told_with_their_places() {
    let told = state(
        "  read weight 150 150 170 170 kg  with driver 78 kg, fuel 20 L\n  read weight LF 151 kg  with driver 76 kg, fuel 10 L\n",
    );
    assert!(
        told.contains("LF: with driver 76 kg, fuel 10 L RF LR RR: with driver 78 kg, fuel 20 L"),
        "{told}"
    );
    let clicks = state("  fit dm-1 LF\n  fit st-1 LR\n  set rebound LF 9 click\n  set rebound LR 4 click\n");
    assert!(clicks.contains("LF: from full-hard LR: from full-soft"), "{clicks}");
    let alike = state("  read weight 150 150 170 170 kg  with driver 78 kg, fuel 20 L\n");
    assert!(alike.contains("book.sline:9 with driver 78 kg, fuel 20 L"), "{alike}");
}

#[test]
fn of_a_corrected_pair_all_that_was_typed_is_told() {
    let told = state(
        "  set final-drive 41/11\n  correct final-drive 41/11 -> 43/11\n  read tyre-temp LF 81/86/79 C\n  correct tyre-temp LF 81/86/79 -> 81/85/79 C\n",
    );
    assert!(told.contains("43/11 was typed 41/11 and corrected"), "{told}");
    assert!(told.contains("81/85/79 C was typed 81/86/79 C and corrected"), "{told}");
}
