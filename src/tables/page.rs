//! The page about the tables, `grammar/tables.md`, from what they are.
//!
//! Must not know any row.

use super::csv;
use super::schema::{Column, FactTable, SqlView};
use super::sql::VIEWS;
use std::fmt::Write as _;

const HEAD: &str = include_str!("page.md");

/// The page.
#[must_use]
pub fn page(tables: &[FactTable]) -> String {
    let mut page = HEAD.to_owned();
    let _ = write!(page, "\n## The tables\n\n| table | a row is |\n|---|---|\n");
    for table in tables {
        let _ = writeln!(page, "| [`{0}`](#{0}) | {1} |", table.name, table.what);
    }
    for table in tables {
        section(&mut page, table);
    }
    page += "\n## Views of the database\n\n| view | says |\n|---|---|\n";
    for SqlView { name, what, .. } in VIEWS {
        let _ = writeln!(page, "| `{name}` | {what} |");
    }
    page
}

fn section(page: &mut String, table: &FactTable) {
    let _ = write!(page, "\n### {}\n\n{}", table.name, table.what);
    if !table.key.is_empty() {
        let key: Vec<String> = table.key.iter().map(|name| format!("`{name}`")).collect();
        let _ = write!(page, " Told apart by {}.", key.join(", "));
    }
    page.push_str("\n\n| column | is | unit | says |\n|---|---|---|---|\n");
    for column in table.columns {
        let _ = writeln!(page, "{}", row(table, column));
    }
}

fn row(table: &FactTable, column: &Column) -> String {
    let alone = table.refers.iter().find(|refers| refers.columns == [column.name]);
    let with = table.refers.iter().find(|refers| refers.columns.last() == Some(&column.name));
    let of = alone.or(with).filter(|refers| refers.table != table.name || table.key != [column.name]);
    let names = of.map_or_else(String::new, |refers| format!(" (names a row of `{}`)", refers.table));
    let always = if column.needed { ", always there" } else { "" };
    let what = csv::text(column.what).replace('|', "\\|");
    format!("| `{}` | {}{always} | {} | {what}{names} |", column.name, column.sort.word(), column.unit)
}
