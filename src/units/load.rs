//! Reads `table.txt` (its head describes the format) into units and their spellings.
//!
//! Knows the file's format. It must not know how look-ups are done. A line it cannot read is kept as a fault
//! and skipped; a test asserts that there is none.

use super::exact::Exact;
use super::kind::DimensionId;
use super::unit::Unit;

/// The table as read: units in file order, each with its spellings as written in the file.
#[derive(Debug, Default)]
pub(super) struct Loaded {
    /// The units, the symbol first among the spellings.
    pub units: Vec<(Unit, Vec<&'static str>)>,
    /// Wrong spelling, kind, right spelling.
    pub hints: Vec<(&'static str, DimensionId, &'static str)>,
    /// Lines that could not be read.
    pub faults: Vec<String>,
}

/// Reads the whole table, then adds every unit of mass as a unit of force.
pub(super) fn load(text: &'static str) -> Loaded {
    let mut loaded = Loaded::default();
    let mut constants: Vec<(&'static str, Exact)> = Vec::new();
    let mut kind: Option<DimensionId> = None;
    let mut weights = Vec::new();
    for line in text.lines() {
        let line = line.trim();
        if line.is_empty() || line.starts_with('#') {
            continue;
        }
        let constant =
            |name: &str| constants.iter().find(|(known, _)| *known == name).map(|(_, value)| *value);
        let read = if let Some(name) = line.strip_prefix('[').and_then(|rest| rest.strip_suffix(']')) {
            kind = DimensionId::by_name(name);
            kind.map(|_| ())
        } else if let Some(rest) = line.strip_prefix("let ") {
            let value =
                rest.split_once(' ').and_then(|(name, text)| Some((name, Exact::parse(text, &constant)?)));
            value.map(|value| constants.push(value))
        } else if let Some(rest) = line.strip_prefix("hint ") {
            hint(rest).map(|hint| loaded.hints.push(hint))
        } else {
            kind.and_then(|kind| unit(line, kind, &constant)).map(|(unit, factor, spellings)| {
                if kind == Some(DimensionId::MASS) {
                    weights
                        .extend(weight(&unit, factor, &constant).map(|weight| (weight, spellings.clone())));
                }
                loaded.units.push((unit, spellings));
            })
        };
        if read.is_none() {
            loaded.faults.push(line.to_owned());
        }
    }
    loaded.units.extend(weights);
    loaded
}

fn hint(rest: &'static str) -> Option<(&'static str, DimensionId, &'static str)> {
    let mut words = rest.split_whitespace();
    Some((words.next()?, DimensionId::by_name(words.next()?)?, words.next()?))
}

fn unit(
    line: &'static str,
    kind: DimensionId,
    constant: &dyn Fn(&str) -> Option<Exact>,
) -> Option<(Unit, Exact, Vec<&'static str>)> {
    let mut fields = line.split('|').map(str::trim);
    let symbol = fields.next().filter(|symbol| !symbol.is_empty())?;
    let mut spellings = vec![symbol];
    spellings.extend(fields.next()?.split_whitespace());
    let factor = Exact::parse(fields.next()?, constant)?;
    let (mut offset, mut reciprocal) = (0.0, false);
    match fields.next() {
        None => {}
        Some("reciprocal") => reciprocal = true,
        Some(other) => offset = Exact::parse(other.strip_prefix("offset ")?, constant)?.to_f64(),
    }
    let unit = Unit {
        symbol,
        kind,
        dim: kind.get().dim,
        factor: factor.to_f64(),
        offset,
        reciprocal,
        stands_for_weight: false,
    };
    Some((unit, factor, spellings))
}

/// The unit of force that a unit of mass stands for.
fn weight(mass: &Unit, factor: Exact, constant: &dyn Fn(&str) -> Option<Exact>) -> Option<Unit> {
    let kind = DimensionId::FORCE;
    let factor = factor.times(constant("gn")?)?.to_f64();
    Some(Unit { kind, dim: kind.get().dim, factor, stands_for_weight: true, ..mass.clone() })
}
