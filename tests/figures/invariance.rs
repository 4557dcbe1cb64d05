//! The same book in metric units and in inches, pounds, psi and gallons, converted exactly, gives the same figures.
//!
//! Exact factors: NIST SP 811 (2008), appendix B. Every figure there is runs over every place and part of both books.

use proptest::prelude::*;
use std::fmt::Write as _;
use stringline::Compiled;
use stringline::book::figure::Sites;
use stringline::book::model::{CarId, PartId};
use stringline::book::place::Place;
use stringline::figures::Calc;
use stringline::history::moment;

/// Metric unit, imperial unit, metric units in one imperial unit.
const UNITS: [(&str, &str, f64); 8] = [
    ("mm", "in", 25.4),
    ("kg", "lb", 0.453_592_37),
    ("N", "lbf", 4.448_221_615_260_5),
    ("N/mm", "lb/in", 4.448_221_615_260_5 / 25.4),
    ("mm/turn", "in/turn", 25.4),
    ("bar", "psi", 4.448_221_615_260_5 / 0.0254 / 0.0254 / 100_000.0),
    ("GPa", "Mpsi", 4.448_221_615_260_5 / 0.0254 / 0.0254 / 1000.0),
    ("L", "US-gal", 3.785_411_784),
];

/// Figures that are a difference of numbers which nearly agree, and how large those are (SI).
const DIFFERENCES: [(&str, f64); 5] = [
    ("tag-error", 1.0),
    ("hole-rate-error", 1.0),
    ("perch-turns", 1.0),
    ("rate-scatter", 70_000.0),
    ("rate-half-width", 70_000.0),
];

/// `<149.5 kg>` becomes `149.5 kg`, or `329.59... lb`.
fn typed(text: &str, imperial: bool) -> String {
    let mut out = String::new();
    for piece in text.split('<') {
        let Some((value, rest)) = piece.split_once('>') else {
            out.push_str(piece);
            continue;
        };
        let (number, unit) = value.split_once(' ').unwrap();
        let (_, other, factor) = UNITS.iter().find(|(metric, ..)| *metric == unit).unwrap();
        if imperial {
            let _ = write!(out, "{} {other}", number.parse::<f64>().unwrap() / factor);
        } else {
            out.push_str(value);
        }
        out.push_str(rest);
    }
    out
}

/// A book with everything the figures ask for, scaled a little by each of `by` (about 1).
fn book(by: &[f64]) -> String {
    let mut at = 0;
    let mut next = |value: f64| {
        at += 1;
        value * by[at % by.len()]
    };
    let mut n = |value: f64, unit: &str| format!("<{} {unit}>", next(value));
    let mut text = String::from("car wren \"Wren\"\n");
    for line in [
        format!("  wheelbase {}\n", n(2400.0, "mm")),
        format!("  track front {}\n  track rear {}\n", n(1450.0, "mm"), n(1430.0, "mm")),
        "  motion-ratio 0.92 0.88\n  bar-motion-ratio 0.6 0.55\n".to_owned(),
        format!("  toe-over {}\n", n(400.0, "mm")),
        format!("  spring-rate rear {}\n", n(52.0, "N/mm")),
        format!("  bar-rate rear {}\n", n(18.0, "N/mm")),
        format!("  tyre-rate front {}\n  tyre-rate rear {}\n", n(210.0, "N/mm"), n(220.0, "N/mm")),
        format!("  unsprung-mass front {}\n  unsprung-mass rear {}\n", n(31.0, "kg"), n(34.0, "kg")),
        format!("  perch-pitch front {}\n  perch-pitch rear {}\n", n(2.0, "mm/turn"), n(1.5, "mm/turn")),
        format!("  roll-centre-height front {}\n  roll-centre-height rear {}\n", n(40.0, "mm"), n(85.0, "mm")),
        "gauge rig \"rig\"  reads weight  resolution <2 N>\n".to_owned(),
        "kind spring \"spring\"  fits LF RF on wren  gives spring-rate\n".to_owned(),
        "kind bar \"bar\"  fits front on wren  gives bar-rate\n".to_owned(),
        format!("part sp-1 spring  tag spring-rate {}\n", n(70.0, "N/mm")),
        format!(
            "part sp-2 spring  tag wire-diameter {}  tag coil-diameter {}  tag active-coils 6.5  tag spring-rate {}\n",
            n(11.0, "mm"),
            n(70.0, "mm"),
            n(70.0, "N/mm")
        ),
        "part br-1 bar\n".to_owned(),
        format!(
            "part br-2 bar  tag bar-diameter {}  tag bar-wall {}  tag bar-arm {}  tag bar-length {}  tag bar-arm-length {}  tag shear-modulus \
             {}\n",
            n(22.0, "mm"),
            n(3.0, "mm"),
            n(180.0, "mm"),
            n(900.0, "mm"),
            n(210.0, "mm"),
            n(79.0, "GPa")
        ),
        "\n2025-02-01\n  bench sp-1 spring-rate  by rig\n".to_owned(),
        format!("    points <0 mm> {}, <30 mm> {}\n", n(60.0, "N"), n(2142.0, "N")),
        format!("    points <0 mm> {}, <30 mm> {}\n", n(60.0, "N"), n(2136.0, "N")),
        format!("  bench sp-2 spring-rate\n    points <40 mm> {}, <30 mm> {}, <10 mm> {}\n", n(50.0, "N"), n(760.0, "N"), n(2190.0, "N")),
        format!("  bench br-1 bar-rate {}  with bar-hole 1\n", n(24.0, "N/mm")),
        format!("  bench br-1 bar-rate {}  with bar-hole 2\n", n(31.0, "N/mm")),
        format!("  bench br-1 bar-arm {}  with bar-hole 1\n", n(220.0, "mm")),
        format!("  bench br-1 bar-arm {}  with bar-hole 2\n", n(195.0, "mm")),
        "\n2025-03-01 wren\n  fit sp-1 LF\n  fit sp-2 RF\n  fit br-1 front\n  set bar-hole front 2\n  set cross-weight 50 %\n".to_owned(),
        format!("  set toe-in front {} total\n", n(1.5, "mm")),
        format!("  set toe-out LR {}\n  set toe-in RR {}\n", n(0.5, "mm"), n(0.7, "mm")),
        format!(
            "  left weight LF {} RF {} LR {} RR {}  with fuel <20 L>, bars on\n",
            n(156.0, "kg"),
            n(144.0, "kg"),
            n(164.0, "kg"),
            n(177.0, "kg")
        ),
        format!("  fill fuel {}\n", n(12.0, "L")),
        "  found caster\n    sweep LF 20 deg inner 1.4 outer -2.0\n  found sai\n    sweep LF 20 deg pitch-in 3.9 pitch-out -4.4\n".to_owned(),
        format!("  read cg-height\n    lift rear {} front {} radius {}\n", n(254.0, "mm"), n(311.0, "kg"), n(300.0, "mm")),
    ] {
        text.push_str(&line);
    }
    text
}

/// Every figure of a book by name and site; an error where it is missing.
fn figures(compiled: &Compiled) -> Vec<(String, Option<f64>, Option<f64>)> {
    let end = moment::end(&compiled.history);
    let mut all = Vec::new();
    for (id, figure) in compiled.book.figures.listed() {
        let places: &[Place] = match figure.sites {
            Sites::Axles => &[Place::FRONT, Place::REAR],
            Sites::Corners | Sites::FrontCorners => &Place::CORNERS,
            _ => &[Place::CAR],
        };
        let parts: Vec<Option<PartId>> = match figure.sites {
            Sites::Part => (0..compiled.book.parts.len()).map(|at| Some(PartId::from(at))).collect(),
            _ => vec![None],
        };
        for (place, part) in places.iter().flat_map(|place| parts.iter().map(move |part| (*place, *part))) {
            let mut calc = Calc::new(compiled.facts(), CarId::new(0), &end);
            calc.part = part;
            calc.against = Some(PartId::new(3));
            if part.is_some_and(|part| part.number() == 2) {
                calc.suppose("bar-hole", Place::CAR, 2.0).unwrap();
            }
            let got = calc.figure(id, place);
            let name = format!("{} {place:?} {part:?} {:?}", figure.name, got.as_ref().err());
            let u = got.as_ref().ok().and_then(|fig| calc.u(fig));
            all.push((name, got.ok().map(|fig| fig.value), u));
        }
    }
    all
}

fn same(by: &[f64]) -> usize {
    let text = book(by);
    let both = [false, true].map(|imperial| {
        let compiled = crate::checks::compile_text(&typed(&text, imperial));
        let errors = &compiled.book.troubles;
        if let Some(first) = errors.first() {
            panic!("{:?} at {}", first.what, compiled.files.text(first.span));
        }
        figures(&compiled)
    });
    let mut known = 0;
    for ((name, metric, u_metric), (_, imperial, u_imperial)) in both[0].iter().zip(&both[1]) {
        match (metric, imperial) {
            (Some(a), Some(b)) => {
                known += 1;
                assert!(a.is_finite() && b.is_finite(), "{name}");
                // A small difference is held to the numbers it is of.
                let least =
                    DIFFERENCES.iter().find(|(one, _)| name.starts_with(one)).map_or(0.0, |one| one.1);
                assert!((a - b).abs() <= 1e-12 * a.abs().max(b.abs()).max(least), "{name}: {a} {b}");
            }
            (None, None) => {}
            _ => panic!("{name}: {metric:?} {imperial:?}"),
        }
        if let (Some(a), Some(b)) = (u_metric, u_imperial) {
            assert!((a - b).abs() <= 1e-9 * a.abs().max(b.abs()), "{name}: u {a} {b}");
        }
    }
    known
}

#[test]
fn nearly_every_figure_is_in_it() {
    let known = same(&[1.0]);
    assert!(known > 65, "{known}");
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 32, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn units_make_no_difference(by in prop::collection::vec(0.97..1.03f64, 7)) {
        same(&by);
    }
}

/// Values that cannot be, or hardly: whatever a figure makes of them, it is a number or it is missing by name.
#[test]
fn never_nan() {
    for by in [0.0, -1.0, 1e-6, 1e-3, 0.3, 3.0, 1e3, 1e6] {
        for (name, value, u) in figures(&crate::checks::compile_text(&typed(&book(&[by, 1.0, by]), false))) {
            assert!(
                value.is_none_or(f64::is_finite) && u.is_none_or(f64::is_finite),
                "{by} {name}: {value:?} {u:?}"
            );
        }
        for (name, value, _) in figures(&crate::checks::compile_text(&typed(&book(&[by]), false))) {
            assert!(value.is_none_or(f64::is_finite), "{by} {name}: {value:?}");
        }
    }
}
