//! Works a figure out again from its own trace: a small evaluator for the expressions that formulas are published with.

#![allow(clippy::disallowed_methods)] // a second opinion should not use the same functions

use serde_json::Value;
use std::collections::BTreeMap;

/// Evaluates every step that has a formula and holds it to the value the trace gives, relative 1e-9.
pub fn again(step: &Value) {
    // What stands above was worked out there.
    let formula = step.get("formula").filter(|_| step["above"] != true);
    if let Some(expression) = formula.and_then(|formula| formula["expression"].as_str()) {
        let inputs = step["inputs"].as_array().expect("a formula has inputs");
        let mut names = BTreeMap::new();
        for input in inputs {
            names.insert(input["input"].as_str().unwrap().to_owned(), input["value_si"].as_f64().unwrap());
        }
        let got = evaluate(expression, &names);
        let said = step["value_si"].as_f64().unwrap();
        let room = 1e-9 * said.abs().max(1e-12);
        assert!((got - said).abs() <= room, "{expression} over {names:?} gives {got}, the trace says {said}");
    }
    for input in step["inputs"].as_array().into_iter().flatten() {
        again(input);
    }
}

/// Numbers of the lines under a step, each once.
pub fn lines(step: &Value) -> Vec<u64> {
    let mut all: Vec<u64> = step["typed"]["line"].as_u64().into_iter().collect();
    for input in step["inputs"].as_array().into_iter().flatten() {
        all.extend(lines(input));
    }
    all.sort_unstable();
    all.dedup();
    all
}

/// Evaluates an expression: `+ - * / ^`, parentheses, functions of numbers, and `sum mean stdev count slope` of lists (`x` stands for
/// x1, x2 ... in order of number).
pub fn evaluate(expression: &str, names: &BTreeMap<String, f64>) -> f64 {
    let mut reader = Reader { text: expression.as_bytes(), at: 0, names };
    let value = reader.sum();
    reader.blank();
    assert_eq!(reader.at, reader.text.len(), "unread: {}", &expression[reader.at..]);
    value
}

/// Units of literals, in SI: NIST SP 811 (2008), appendix B.
const UNITS: [(&str, f64); 20] = [
    ("L", 0.001),
    ("m/s2", 1.0),
    ("m", 1.0),
    ("mm", 0.001),
    ("km", 1000.0),
    ("in", 0.0254),
    ("ft", 0.3048),
    ("kg", 1.0),
    ("kg/m3", 1.0),
    ("K", 1.0),
    ("J", 1.0),
    ("hPa", 100.0),
    ("lb/h", 0.453_592_37 / 3600.0),
    ("lbf/in", 0.453_592_37 * 9.806_65 / 0.0254),
    ("rpm", std::f64::consts::TAU / 60.0),
    ("deg", std::f64::consts::PI / 180.0),
    ("rad", 1.0),
    ("turn", 1.0),
    ("lap", 1.0),
    ("%", 0.01),
];

struct Reader<'a> {
    text: &'a [u8],
    at: usize,
    names: &'a BTreeMap<String, f64>,
}

impl Reader<'_> {
    fn blank(&mut self) {
        while self.text.get(self.at) == Some(&b' ') {
            self.at += 1;
        }
    }

    fn take(&mut self, byte: u8) -> bool {
        self.blank();
        let found = self.text.get(self.at) == Some(&byte);
        self.at += usize::from(found);
        found
    }

    fn sum(&mut self) -> f64 {
        let mut value = self.product();
        loop {
            if self.take(b'+') {
                value += self.product();
            } else if self.take(b'-') {
                value -= self.product();
            } else {
                return value;
            }
        }
    }

    fn product(&mut self) -> f64 {
        let mut value = self.signed();
        loop {
            if self.take(b'*') {
                value *= self.signed();
            } else if self.take(b'/') {
                value /= self.signed();
            } else {
                return value;
            }
        }
    }

    fn signed(&mut self) -> f64 {
        if self.take(b'-') { -self.signed() } else { self.power() }
    }

    fn power(&mut self) -> f64 {
        let base = self.atom();
        if self.take(b'^') { libm::pow(base, self.signed()) } else { base }
    }

    fn word(&mut self) -> String {
        self.blank();
        let start = self.at;
        while self
            .text
            .get(self.at)
            .is_some_and(|byte| byte.is_ascii_alphanumeric() || matches!(byte, b'_' | b'.'))
        {
            self.at += 1;
        }
        String::from_utf8(self.text[start..self.at].to_vec()).unwrap()
    }

    /// A number with its unit, to SI.
    fn literal(&mut self, word: &str) -> f64 {
        let mut number = word.to_owned();
        if number.ends_with('e') {
            self.at += 1;
            number.push('-');
            number += &self.word();
        }
        let value: f64 = number.parse().unwrap_or_else(|_| panic!("no number {number}"));
        let value = self.fraction(value).unwrap_or(value);
        let before = self.at;
        self.blank();
        let start = self.at;
        while self
            .text
            .get(self.at)
            .is_some_and(|byte| byte.is_ascii_alphanumeric() || matches!(byte, b'/' | b'%'))
        {
            self.at += 1;
        }
        let unit = std::str::from_utf8(&self.text[start..self.at]).unwrap();
        if !unit.starts_with(|each: char| each.is_ascii_alphabetic() || each == '%') {
            self.at = before;
            return value;
        }
        value * UNITS.iter().find(|(name, _)| *name == unit).unwrap_or_else(|| panic!("no unit {unit}")).1
    }

    /// `1/8 in` and `1 1/2` behind their first number.
    fn fraction(&mut self, first: f64) -> Option<f64> {
        let rest = std::str::from_utf8(&self.text[self.at..]).unwrap();
        let digits =
            |text: &str| text.len() - text.trim_start_matches(|one: char| one.is_ascii_digit()).len();
        let (whole, above, behind) = match rest.strip_prefix(' ') {
            Some(more) => {
                let (above, more) = more.split_at(digits(more));
                (Some(first), above.parse().ok()?, more)
            }
            None => (None, first, rest),
        };
        let behind = behind.strip_prefix('/')?;
        let (below, behind) = behind.split_at(digits(behind));
        let below: f64 = below.parse().ok()?;
        let unit = behind.trim_start().starts_with(|one: char| one.is_ascii_alphabetic());
        if whole.is_none() && !unit {
            return None;
        }
        self.at = self.text.len() - behind.len();
        Some(whole.unwrap_or(0.0) + above / below)
    }

    fn list(&self, stem: &str) -> Vec<f64> {
        let mut all: Vec<(u32, f64)> = self
            .names
            .iter()
            .filter_map(|(name, value)| Some((name.strip_prefix(stem)?.parse().ok()?, *value)))
            .collect();
        all.sort_by_key(|(number, _)| *number);
        assert!(!all.is_empty(), "no list {stem}");
        all.into_iter().map(|(_, value)| value).collect()
    }

    fn atom(&mut self) -> f64 {
        if self.take(b'(') {
            let value = self.sum();
            assert!(self.take(b')'));
            return value;
        }
        let word = self.word();
        if word.starts_with(|each: char| each.is_ascii_digit()) {
            return self.literal(&word);
        }
        if word == "pi" {
            return std::f64::consts::PI;
        }
        if !self.take(b'(') {
            return *self.names.get(&word).unwrap_or_else(|| panic!("no input {word}"));
        }
        let value = match word.as_str() {
            "sum" => {
                let stem = self.word();
                self.list(&stem).iter().sum()
            }
            "mean" => {
                let stem = self.word();
                let list = self.list(&stem);
                list.iter().sum::<f64>() / list.len() as f64
            }
            "count" => {
                let stem = self.word();
                self.list(&stem).len() as f64
            }
            "stdev" => {
                let stem = self.word();
                let list = self.list(&stem);
                let mean = list.iter().sum::<f64>() / list.len() as f64;
                let squares: f64 = list.iter().map(|x| (x - mean) * (x - mean)).sum();
                (squares / (list.len() as f64 - 1.0)).sqrt()
            }
            "slope" => {
                let x = self.word();
                assert!(self.take(b','));
                let y = self.word();
                slope(&self.list(&x), &self.list(&y))
            }
            _ => {
                let first = self.sum();
                let second = if self.take(b',') { Some(self.sum()) } else { None };
                function(&word, first, second)
            }
        };
        assert!(self.take(b')'));
        value
    }
}

fn function(name: &str, x: f64, y: Option<f64>) -> f64 {
    match (name, y) {
        ("sqrt", None) => x.sqrt(),
        ("sin", None) => libm::sin(x),
        ("cos", None) => libm::cos(x),
        ("tan", None) => libm::tan(x),
        ("asin", None) => libm::asin(x),
        ("acos", None) => libm::acos(x),
        ("atan", None) => libm::atan(x),
        ("exp", None) => libm::exp(x),
        ("ln", None) => libm::log(x),
        ("abs", None) => x.abs(),
        ("floor", None) => x.floor(),
        ("ceil", None) => x.ceil(),
        ("max", Some(y)) => x.max(y),
        ("min", Some(y)) => x.min(y),
        ("pow", Some(y)) => libm::pow(x, y),
        _ => panic!("no function {name}"),
    }
}

/// Least squares, straight from its definition.
fn slope(x: &[f64], y: &[f64]) -> f64 {
    let n = x.len() as f64;
    let (mx, my) = (x.iter().sum::<f64>() / n, y.iter().sum::<f64>() / n);
    let sxy: f64 = x.iter().zip(y).map(|(x, y)| (x - mx) * (y - my)).sum();
    let sxx: f64 = x.iter().map(|x| (x - mx) * (x - mx)).sum();
    sxy / sxx
}
