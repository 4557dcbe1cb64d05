//! Mixture, injectors, pump, fuel for a stint.

use super::{close, figure, trace};

fn book(lines: &str) -> String {
    format!("car wren \"Wren\"\n  cylinders 4\n\n2025-05-03 wren\n{lines}")
}

/// Heywood, Internal Combustion Engine Fundamentals (1988), ch. 3: 14.6 for CH1.87, 15.1 for isooctane, 9.00 for ethanol.
#[test]
fn air_by_make_up() {
    for (hydrogen, oxygen, printed, room, exact) in [
        ("1.87", "0", 14.6, 0.05, 34.56 * 5.87 / (12.011 + 1.008 * 1.87)),
        ("2.25", "0", 15.1, 0.05, 34.56 * 6.25 / (12.011 + 1.008 * 2.25)),
        ("3", "0.5", 9.00, 0.005, 34.56 * 6.0 / (12.011 + 1.008 * 3.0 + 15.999 * 0.5)),
    ] {
        let text = book(&format!("  set fuel-hydrogen {hydrogen}\n  set fuel-oxygen {oxygen}\n"));
        let value = figure(&text, &["wren", "stoichiometric-afr"]);
        close(&value, "value", printed, room);
        close(&value, "value", exact, 1e-9);
    }
    // No oxygen said is not no oxygen.
    let (value, _) = trace(&book("  set fuel-hydrogen 1.87\n"), &["wren", "stoichiometric-afr"]);
    assert_eq!(value["missing"][0], "a value of fuel-oxygen");
}

/// What a session read of its fuel is what there was as it came in: 22 L, not 30 less ten minutes at 36 L/h; and what is filled then comes after.
#[test]
fn a_session_that_read_its_fuel_came_in_with_that() {
    let text = |read: &str| {
        format!(
            "circuit pell \"Pell\"\nevent pell-1 2026-05-02 at pell\ncar wren \"Wren\"\n\n2026-05-01 wren\n  set fuel-rate 36 L/h\n  read total-weight 640 kg  with fuel 20 L\n2026-05-02 wren at pell-1\n  set fuel 30 L\n  10:00..10:10 run s1\n{read}  fill fuel +10 L\n  12:00..12:10 run s2\n"
        )
    };
    let at = |read: &str, name: &str, moment: &str| trace(&text(read), &["wren", name, moment]).0;
    let read = "    read fuel 22 L\n";
    close(&at(read, "fuel-aboard", "pell-1/s1"), "value", 22.0, 1e-9);
    close(&at("", "fuel-aboard", "pell-1/s1"), "value", 24.0, 1e-9);
    // 22 + 10 less 6.
    close(&at(read, "fuel-aboard", "pell-1/s2"), "value", 26.0, 1e-9);
    // 2 L of 0.745 kg/L more than on the scale.
    close(&at(read, "weight-now", "pell-1/s1"), "value", 641.49, 1e-9);
}

fn blend(ethanol: &str) -> String {
    book(&format!(
        "  read ethanol {ethanol}\n  set petrol-density 0.745 kg/L\n  set petrol-afr 14.7\n  set ethanol-density 0.789 kg/L\n  set ethanol-afr 9.0\n"
    ))
}

/// Closed form by volume and density; the trade says 14.1 for E10 and 9.8 for E85.
#[test]
fn blends() {
    for (ethanol, afr, factor) in [
        ("10 %", 14.0999, 1.036_44),
        ("30 %", 12.9205, 1.117_92),
        ("50 %", 11.7683, 1.213_29),
        ("85 %", 9.8141, 1.426_24),
        ("100 %", 9.0, 1.542_25),
    ] {
        close(&figure(&blend(ethanol), &["wren", "blend-afr"]), "value", afr, 6e-5);
        close(&figure(&blend(ethanol), &["wren", "blend-flow-factor"]), "value", factor, 6e-6);
    }
}

#[test]
fn ethanol_is_measured_and_at_most_all() {
    let (value, _) = trace(&blend("120 %"), &["wren", "blend-afr"]);
    assert!(value["missing"][0].as_str().unwrap().contains("ethanol"), "{value}");
    let (value, _) = trace(&blend("50 %").replace("read ethanol", "set ethanol"), &["wren", "blend-afr"]);
    assert_eq!(value["missing"][0], "a reading of ethanol");
}

/// Four-stroke, one shot a cycle: duty is ms x rpm / 1200, window 120000 / rpm ms.
#[test]
fn duty() {
    let text = book("  read injector-pulse 15 ms\n  read engine-speed 7000 rpm\n");
    let value = figure(&text, &["wren", "injector-duty"]);
    close(&value, "value", 87.5, 1e-9);
    assert!(value["caution"].is_null());
    close(&figure(&text, &["wren", "injector-window"]), "value", 17.142_857, 1e-6);
    let (value, _) = trace(&text.replace("15 ms", "18 ms"), &["wren", "injector-duty"]);
    assert_eq!(value["caution"], "100 % or more: the injectors cannot close");
    for name in ["injector-duty", "injector-window"] {
        let (value, _) = trace(&text.replace("7000 rpm", "0 rpm"), &["wren", name]);
        assert_eq!(value["missing"][0], "engine-speed above zero");
    }
}

const POWER: &str = "  set peak-power 200 hp\n  set specific-consumption 0.50 lb/hp.h\n  set injectors 4\n  set duty-limit 80 %\n  set fuel-density 0.72 kg/L\n";

/// 200 hp, 0.50 lb/(hp h), four at 80 %: 31.25 lb/h each, 328.119 cc/min at 0.72 kg/L.
#[test]
fn injector_size() {
    let text = book(POWER).replace("Wren\"", "Wren\"  units imperial");
    close(&figure(&text, &["wren", "injector-size"]), "value", 31.25, 1e-9);
    close(&figure(&text, &["wren", "injector-size-volume"]), "value", 328.119, 5e-4);
    let (value, _) =
        trace(&text.replace("set injectors 4\n", "set injectors 0\n"), &["wren", "injector-size"]);
    assert_eq!(value["missing"][0], "a value of injectors");
}

/// The trade's 10.5 cc/min for a pound an hour is petrol of 0.72 kg/L; 1.586 lb to the litre gives 10.509.
#[test]
fn a_pound_an_hour() {
    for (density, flow) in [("0.72", 10.4998), ("0.74", 10.2160), ("0.75", 10.0798)] {
        let text = book(&format!("  set fuel-density {density} kg/L\n"));
        close(&figure(&text, &["wren", "pound-hour-volume"]), "value", flow, 6e-5);
    }
    let text = book("  set fuel-density 0.71939750 kg/L\n");
    close(&figure(&text, &["wren", "pound-hour-volume"]), "value", 10.509, 1e-3);
}

/// Orifice law: 440 cc/min at 3.0 bar is 508.0682 at 4.0 bar.
#[test]
fn flow_at_another_pressure() {
    let text = book("  read injector-flow 440 441 438 442 cc/min  at 3.0 bar\n  set fuel-pressure 4.0 bar\n");
    close(&figure(&text, &["wren", "injector-flow-here", "c1"]), "value", 508.0682, 6e-5);
    let (value, _) = trace(&text.replace("  at 3.0 bar", ""), &["wren", "injector-flow-here", "c1"]);
    assert!(value["missing"][0].as_str().unwrap().contains("at 3.0 bar"), "{value}");
    let (value, _) = trace(&text.replace("at 3.0 bar", "at 0 bar"), &["wren", "injector-flow-here", "c1"]);
    assert_eq!(value["missing"][0], "test pressure of injector-flow c1 above zero");
}

/// 200 hp x 0.50 lb/(hp h) is 100 lb/h: 45.359237 kg/h over 0.72 kg/L, and a fifth on top; 3 bar over 1.2 bar of boost.
#[test]
fn the_pump() {
    let text =
        book(&format!("{POWER}  set pump-margin 20 %\n  set fuel-pressure 3.0 bar\n  set boost 1.2 bar\n"));
    close(&figure(&text, &["wren", "pump-flow"]), "value", 45.359_237 / 0.72 * 1.2, 1e-6);
    close(&figure(&text, &["wren", "pump-pressure"]), "value", 4.2, 1e-9);
}

const STINT: &str = "  set stint-time 25 min\n  set stint-lap 98.5 s\n  set stint-extra-laps 1\n  set fuel-reserve 5 %\n  09:00..09:20 run s1  12 laps\n    read fuel-used 24.6 L\n";

/// 24.6 L over 12 laps is 2.05 a lap; 25 min at 1:38.5 is 16 laps; 17 laps and 5 % are 36.5925 L.
#[test]
fn fuel_for_a_stint() {
    let text = book(STINT);
    close(&figure(&text, &["wren", "fuel-per-lap"]), "value", 2.05, 1e-9);
    let laps = figure(&text, &["wren", "stint-laps"]);
    close(&laps, "value", 16.0, 0.0);
    assert_eq!(laps["shown"], "16 lap");
    close(&figure(&text, &["wren", "stint-fuel"]), "value", 36.5925, 1e-9);
    // A time that is a whole number of laps has no lap more.
    close(&figure(&text.replace("98.5 s", "100 s"), &["wren", "stint-laps"]), "value", 15.0, 0.0);
}

#[test]
fn no_laps_no_fuel_a_lap() {
    let (value, _) = trace(&book(&STINT.replace("12 laps", "0 laps")), &["wren", "fuel-per-lap"]);
    assert_eq!(value["missing"][0], "laps of the session s1, above zero");
    let (value, _) = trace(&book(&STINT.replace("  12 laps", "")), &["wren", "stint-fuel"]);
    assert_eq!(value["missing"][0], "laps of the session s1, above zero");
    let (value, _) = trace(&book(&STINT.replace("98.5 s", "0 s")), &["wren", "stint-laps"]);
    assert_eq!(value["missing"][0], "a value of stint-lap");
    let (value, _) = trace(&book("  set stint-time 25 min\n"), &["wren", "fuel-per-lap"]);
    assert_eq!(value["missing"][0], "a session (`run`)");
}
