//! The tables as statements of a database: strict tables with their keys, indexes, and a few views.
//!
//! Must not know the database, nor any row.

use super::schema::{FactTable, Sort, SqlView};
use std::fmt::Write as _;

/// What `PRAGMA application_id` says of a database of ours: "Slne".
pub const APPLICATION: i32 = 0x536C_6E65;

/// The statement that makes a table.
#[must_use]
pub fn create(table: &FactTable, all: &[FactTable]) -> String {
    let mut lines: Vec<String> = Vec::new();
    for column in table.columns {
        let mut line = format!("  \"{}\" {}", column.name, column.sort.sql());
        if column.needed {
            line += " NOT NULL";
        }
        if column.sort == Sort::Truth {
            let _ = write!(line, " CHECK (\"{}\" IN (0, 1))", column.name);
        }
        lines.push(line);
    }
    if !table.key.is_empty() {
        lines.push(format!("  PRIMARY KEY ({})", quoted(table.key)));
    }
    for refers in table.refers {
        let key = all.iter().find(|other| other.name == refers.table).map_or(&[][..], |other| other.key);
        lines.push(format!(
            "  FOREIGN KEY ({}) REFERENCES \"{}\" ({})",
            quoted(refers.columns),
            refers.table,
            quoted(key)
        ));
    }
    format!("CREATE TABLE \"{}\" (\n{}\n) STRICT;\n", table.name, lines.join(",\n"))
}

/// The statement that puts a row into a table.
#[must_use]
pub fn insert(table: &FactTable) -> String {
    format!("INSERT INTO \"{}\" VALUES ({})", table.name, vec!["?"; table.columns.len()].join(", "))
}

/// The indexes of a table: on what joins ask, made once the rows are there.
#[must_use]
pub fn indexes(table: &FactTable) -> String {
    let joined = table
        .refers
        .iter()
        .filter(|refers| matches!(refers.table, "sessions" | "parts") && refers.columns != table.key);
    let each = joined.map(|refers| {
        let columns = refers.columns.join("_");
        format!("CREATE INDEX \"{0}_by_{columns}\" ON \"{0}\" ({1});\n", table.name, quoted(refers.columns))
    });
    each.collect()
}

fn quoted(names: &[&str]) -> String {
    names.iter().map(|name| format!("\"{name}\"")).collect::<Vec<_>>().join(", ")
}

/// The statement that makes a view.
#[must_use]
pub fn view(view: &SqlView) -> String {
    format!("CREATE VIEW \"{}\" AS\n{};\n", view.name, view.sql)
}

/// Questions that are asked often.
pub const VIEWS: [SqlView; 6] = [
    SqlView {
        name: "best_laps",
        what: "Of each session the best and the mean of its listed laps that count, and how many they are; `typed_s` is the best lap as the session has it.",
        sql: "SELECT s.session, s.car, s.event, s.label, s.date, min(l.seconds) AS best_s, avg(l.seconds) AS mean_s,
  count(l.seconds) AS laps, s.best_s AS typed_s
FROM sessions s LEFT JOIN laps l ON l.session = s.session AND l.counts = 1
GROUP BY s.session",
    },
    SqlView {
        name: "costs_by_event",
        what: "What was booked at each event, by car, kind and currency, in minor units; `unknown` counts what costs something nobody knows.",
        sql: "SELECT event, car, kind, currency, sum(amount_minor) AS amount_minor, sum(unknown) AS unknown, count(*) AS postings
FROM postings GROUP BY event, car, kind, currency",
    },
    SqlView {
        name: "costs_by_car",
        what: "The same for each car.",
        sql: "SELECT car, kind, currency, sum(amount_minor) AS amount_minor, sum(unknown) AS unknown, count(*) AS postings
FROM postings GROUP BY car, kind, currency",
    },
    SqlView {
        name: "lives_by_spec",
        what: "How many lives of each spec ended how, and how long they ran, where that is known.",
        sql: "SELECT kind, spec, \"end\", count(*) AS lives, avg(minutes) AS mean_minutes, min(minutes) AS least_minutes,
  max(minutes) AS most_minutes
FROM lives GROUP BY kind, spec, \"end\"",
    },
    SqlView {
        name: "setup_now",
        what: "What is asked for and what was read last of every slot, at the end of the book.",
        sql: "SELECT car, part, quantity, place, register, typed, unit, value_si, si_unit, from_date, file, line
FROM settings WHERE stands = 1",
    },
    SqlView {
        name: "readings_put_right",
        what: "Every reading with the number that counts: put right by comparisons of its gauge, where those lead to a reference.",
        sql: "SELECT car, event, session, part, date, quantity, place, repeat, number,
  coalesce(corrected_si, value_si) AS value_si, si_unit, corrected_si IS NOT NULL AS corrected, gauge, file, line
FROM readings WHERE value_si IS NOT NULL",
    },
];
