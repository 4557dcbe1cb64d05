//! Currencies by the codes of ISO 4217, with the decimals of their minor units.
//!
//! The list is data (`iso4217.txt`, with its source and date). Must not know amounts.

use std::sync::LazyLock;

const LIST: &str = include_str!("iso4217.txt");

/// A currency: its place in the list.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Currency(u8);

/// A line of the list.
#[derive(Debug, Clone, Copy)]
struct Row {
    code: &'static str,
    /// `None` where the code is no money to pay with.
    decimals: Option<u8>,
    name: &'static str,
}

static ROWS: LazyLock<Vec<Row>> = LazyLock::new(|| {
    let lines = LIST.lines().filter(|line| !line.starts_with('#'));
    let mut rows: Vec<Row> = lines
        .filter_map(|line| {
            let (code, rest) = line.split_once(' ')?;
            let (decimals, name) = rest.split_once(' ')?;
            Some(Row { code, decimals: decimals.parse().ok(), name })
        })
        .collect();
    rows.sort_unstable_by_key(|row| row.code);
    rows
});

impl Currency {
    /// The currency of that code, in any capitals; `None` also for codes that are no money to pay with (gold, test codes).
    #[must_use]
    pub fn find(word: &str) -> Option<Self> {
        if word.len() != 3 {
            return None;
        }
        let code = word.to_ascii_uppercase();
        let at = ROWS.binary_search_by_key(&code.as_str(), |row| row.code).ok()?;
        ROWS.get(at)?.decimals?;
        u8::try_from(at).ok().map(Self)
    }

    /// Its code, in capitals.
    #[must_use]
    pub fn code(self) -> &'static str {
        ROWS.get(usize::from(self.0)).map_or("?", |row| row.code)
    }

    /// Its name in the list.
    #[must_use]
    pub fn name(self) -> &'static str {
        ROWS.get(usize::from(self.0)).map_or("?", |row| row.name)
    }

    /// Decimals of its minor unit: 2 for the euro, 0 for the yen, 3 for the Kuwaiti dinar.
    #[must_use]
    pub fn decimals(self) -> u32 {
        ROWS.get(usize::from(self.0)).and_then(|row| row.decimals).map_or(0, u32::from)
    }

    /// Every currency that money can be in.
    pub fn all() -> impl Iterator<Item = Self> {
        let payable = ROWS.iter().enumerate().filter(|(_, row)| row.decimals.is_some());
        payable.filter_map(|(at, _)| u8::try_from(at).ok().map(Self))
    }
}

impl std::fmt::Display for Currency {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(self.code())
    }
}

impl serde::Serialize for Currency {
    fn serialize<S: serde::Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.serialize_str(self.code())
    }
}
