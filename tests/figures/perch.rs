//! Perch turns. Statics of a stiff body on four springs; the closed forms agree with a solved three-freedom model.

use super::{changes, close, figure, missing, trace};

/// 650 600 560 590 lb; 225 and 200 lbf/in at the wheel through ratios of 0.75 and 0.90; twelve threads to the inch.
fn book(lines: &str, with: &str) -> String {
    format!(
        "car wren \"Wren\"  units imperial\n  motion-ratio 0.75 0.90\n  spring-rate front 400 lb/in\n  spring-rate rear 246.91358024691357 lb/in\n  \
         perch-pitch 12 12 tpi\n{lines}\n2025-03-01 wren\n  set cross-weight 50 %\n  left weight LF 650 RF 600 LR 560 RR 590 lb{with}\n"
    )
}

#[test]
fn all_four_share() {
    let book = book("", "  with bars off");
    for (corner, turns) in [("LF", -0.85), ("RF", 0.85), ("LR", 1.02), ("RR", -1.02)] {
        close(&figure(&book, &["wren", "perch-turns", corner]), "value", turns, 1e-9);
    }
}

#[test]
fn one_corner_only() {
    close(&figure(&book("", "  with bars off"), &["wren", "perch-turns-alone", "RF"]), "value", 3.4, 1e-9);
}

/// A wheel-equivalent of 0.1 in: 5.294118 lb at every corner; with bars of 80 and 30 lbf/in at the wheel 4.534884 lb.
#[test]
fn what_a_turn_does() {
    let tenth = "  perch-pitch LF 0.075 in/turn\n";
    let off = book("", "  with bars off").replace("  perch-pitch 12 12 tpi\n", tenth);
    close(&figure(&off, &["wren", "perch-effect", "LF"]), "value", 5.294_118, 5e-7);
    let bars = format!("{tenth}  bar-rate 80 30 lb/in\n  bar-motion-ratio 1 1\n");
    let on = book("", "  with bars on").replace("  perch-pitch 12 12 tpi\n", &bars);
    close(&changes(&on, &["wren", "perch-effect", "LF"]), "value", 4.534_884, 5e-7);
}

/// With the bars on, the turns worked out give the gain they are for: turns alone x effect of one = what each corner needs (20 lb).
#[test]
fn turns_and_effect_agree_with_bars_on() {
    let on = book("  bar-rate 80 30 lb/in\n  bar-motion-ratio 1 1\n", "  with bars on");
    let of = |name: &str, corner: &str| trace(&on, &["wren", name, corner]).0["value"].as_f64().unwrap();
    for corner in ["LF", "RF", "LR", "RR"] {
        assert!((of("perch-turns-alone", corner).abs() * of("perch-effect", corner) - 20.0).abs() < 1e-9);
    }
    let shared: f64 =
        ["LF", "RF", "LR", "RR"].iter().map(|at| of("perch-turns", at).abs() * of("perch-effect", at)).sum();
    assert!((shared - 20.0).abs() < 1e-9, "{shared}");
    close(&changes(&on, &["wren", "perch-turns", "RF"]), "value", of("perch-turns", "RF"), 1e-12);
}

#[test]
fn what_is_missing_is_named() {
    let of = |book: &str| missing(book, &["wren", "perch-turns", "RF"]);
    let bars = book("  bar-rate 80 30 lb/in\n", "");
    assert!(of(&bars).contains("bars off"), "{}", of(&bars));
    let whole = book("", "  with bars off");
    assert!(of(&whole.replace("  set cross-weight 50 %\n", "")).contains("cross-weight set"));
    assert!(of(&whole.replace("  perch-pitch 12 12 tpi\n", "")).contains("perch-pitch RF"));
}

/// Loads that change when a perch is raised, by the statics themselves and not by the closed form: a rigid body with heave, pitch and
/// roll on four springs, each on a tyre, with a bar between the wheels of an axle. Unknown are the body's three freedoms and the four
/// hubs; at each of them the forces balance. Solved by elimination. Lengths in inches, rates in lb/in.
struct Rigid {
    wheel: [f64; 4],
    tyre: [f64; 4],
    bar: [f64; 2],
    track: [f64; 2],
}

impl Rigid {
    /// How the loads change with corner `raised` up by `lift`.
    fn loads(&self, raised: usize, lift: f64) -> [f64; 4] {
        // Body: heave, pitch (axles one wheelbase apart: 1 ahead, -1 behind), roll. Corner heights by them.
        let side = [1.0, -1.0, 1.0, -1.0];
        let corner = |c: usize| [1.0, if c < 2 { 1.0 } else { -1.0 }, side[c] * self.track[c / 2] / 2.0];
        let mut matrix = [[0.0; 8]; 7];
        // The energy of each spring of stiffness k over a stretch a·q - b gives k·a·aᵀ q = k·a·b.
        let mut spring = |k: f64, a: [f64; 7], b: f64| {
            for (row, line) in matrix.iter_mut().enumerate() {
                for (column, cell) in a.iter().enumerate() {
                    line[column] += k * a[row] * cell;
                }
                line[7] += k * a[row] * b;
            }
        };
        let travel = |c: usize| {
            let mut a = [0.0; 7];
            a[..3].copy_from_slice(&corner(c));
            a[3 + c] = -1.0;
            a
        };
        for c in 0..4 {
            spring(self.wheel[c], travel(c), if c == raised { lift } else { 0.0 });
            let mut hub = [0.0; 7];
            hub[3 + c] = 1.0;
            spring(self.tyre[c], hub, 0.0);
        }
        for axle in 0..2 {
            let (left, right) = (travel(2 * axle), travel(2 * axle + 1));
            spring(self.bar[axle], std::array::from_fn(|at| left[at] - right[at]), 0.0);
        }
        let hubs = solve(matrix);
        std::array::from_fn(|c| -self.tyre[c] * hubs[3 + c])
    }
}

/// Gauss's elimination with the largest pivot.
fn solve(mut m: [[f64; 8]; 7]) -> [f64; 7] {
    for at in 0..7 {
        let pivot = (at..7).max_by(|a, b| m[*a][at].abs().total_cmp(&m[*b][at].abs())).unwrap();
        m.swap(at, pivot);
        for row in (0..7).filter(|row| *row != at) {
            let share = m[row][at] / m[at][at];
            let above = m[at];
            for (cell, over) in m[row].iter_mut().zip(above) {
                *cell -= share * over;
            }
        }
    }
    std::array::from_fn(|at| m[at][7] / m[at][at])
}

const CORNERS: [&str; 4] = ["LF", "RF", "LR", "RR"];

/// A car whose spring is at the wheel, and whose perch turns 0.1 in at a time.
fn on_springs(wheel: [f64; 4], tyre: Option<[f64; 4]>, bar: [f64; 2], track: [f64; 2]) -> String {
    let list = |four: [f64; 4]| four.map(|one| one.to_string()).join(" ");
    let tyres = tyre.map_or_else(String::new, |tyre| format!("  tyre-rate {} lb/in\n", list(tyre)));
    let bars = if bar.iter().all(|one| *one == 0.0) {
        String::new()
    } else {
        format!("  bar-rate {} {} lb/in\n  bar-motion-ratio 1 1\n", bar[0], bar[1])
    };
    let on = if bar.iter().all(|one| *one == 0.0) { "off" } else { "on" };
    format!(
        "car wren \"Wren\"  units imperial\n  motion-ratio 1 1\n  spring-rate {} lb/in\n  track {} {} in\n{tyres}{bars}  \
         perch-pitch 0.1 0.1 in/turn\n\n2025-03-01 wren\n  set cross-weight 50 %\n  left weight LF 650 RF 600 LR 560 RR 590 lb  with bars {on}\n",
        list(wheel),
        track[0],
        track[1]
    )
}

/// Closed form of a rigid body on four springs: raising corner j by d changes the loads by `w_i w_j d / sum(w_c^2 / k_c)`, with
/// `w = (LF 1, RF -1, LR -tf/tr, RR tf/tr)`, which leaves total, pitch and roll moment alone; k in series with the tyre.
#[test]
fn the_closed_form_is_the_rigid_body() {
    let soft = [250.0, 250.0, 200.0, 200.0];
    let rows: [([f64; 4], Option<[f64; 4]>, usize, [f64; 4]); 4] = [
        (soft, None, 0, [5.118_663, -5.118_663, -5.497_823, 5.497_823]),
        (soft, None, 2, [-5.497_823, 5.497_823, 5.905_070, -5.905_070]),
        ([250.0, 260.0, 190.0, 200.0], None, 3, [5.456_004, -5.456_004, -5.860_153, 5.860_153]),
        (soft, Some([1400.0; 4]), 0, [4.422_240, -4.422_240, -4.749_814, 4.749_814]),
    ];
    let track = [58.0, 54.0];
    for (wheel, tyre, raised, expected) in rows {
        let stiff = tyre.unwrap_or([1e12; 4]);
        let loads = Rigid { wheel, tyre: stiff, bar: [0.0; 2], track }.loads(raised, 0.1);
        let book = on_springs(wheel, tyre, [0.0; 2], track);
        let corner = CORNERS[raised];
        let own = changes(&book, &["wren", "perch-effect", corner]);
        let across = trace(&book, &["wren", "perch-effect-diagonal", corner]).0;
        for (load, wanted) in loads.iter().zip(expected) {
            assert!((load - wanted).abs() < 5e-4, "{loads:?} {expected:?}");
        }
        close(&own, "value", expected[raised], 6e-7);
        close(&across, "value", expected[3 - raised], 6e-7);
    }
}

/// Bars, tyres and rates of every wheel by themselves: against the same system, and the turns bring cross to what was set.
#[test]
fn bars_and_tyres_against_the_rigid_body() {
    let mut seed = 0x9E37_79B9_7F4A_7C15_u64;
    let mut next = |low: f64, high: f64| {
        seed ^= seed << 13;
        seed ^= seed >> 7;
        seed ^= seed << 17;
        (low + (high - low) * (seed >> 11) as f64 / (1u64 << 53) as f64).round()
    };
    for round in 0..24 {
        let wheel = std::array::from_fn(|_| next(120.0, 600.0));
        let tyre = (round % 2 == 0).then(|| std::array::from_fn(|_| next(900.0, 2000.0)));
        let bar = if round % 3 == 0 { [0.0; 2] } else { [next(10.0, 200.0), next(10.0, 200.0)] };
        let track = [next(48.0, 70.0), next(48.0, 70.0)];
        let rigid = Rigid { wheel, tyre: tyre.unwrap_or([1e12; 4]), bar, track };
        let book = on_springs(wheel, tyre, bar, track);
        let of =
            |name: &str, corner: &str| trace(&book, &["wren", name, corner]).0["value"].as_f64().unwrap();
        let mut shared = 0.0;
        for raised in 0..4 {
            let loads = rigid.loads(raised, 0.1);
            let scale = 1e-6 * loads[raised].abs() + if tyre.is_some() { 0.0 } else { 1e-2 };
            assert!((of("perch-effect", CORNERS[raised]) - loads[raised]).abs() < scale, "{book} {loads:?}");
            assert!(
                (of("perch-effect-diagonal", CORNERS[raised]) - loads[3 - raised]).abs() < scale,
                "{book}"
            );
            // Cross is 1160 of 2400 and is to be half: 40 lb more on RF and LR.
            let effect =
                |at: usize| of("perch-effect", CORNERS[at]) + of("perch-effect-diagonal", CORNERS[at]);
            let sign = [-1.0, 1.0, 1.0, -1.0][raised];
            assert!((of("perch-turns-alone", CORNERS[raised]) * effect(raised) * sign - 40.0).abs() < 1e-6);
            shared += of("perch-turns", CORNERS[raised]) * effect(raised) * sign;
        }
        assert!((shared - 40.0).abs() < 1e-6, "{shared}");
    }
}
