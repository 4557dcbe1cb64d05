//! What a column says, where its cells can be read in more than one way: what every way that fits all of them says alike.
//!
//! `03/04/2026` is a day in April or in March, `1,500` one and a half or fifteen hundred. A way *fits* when it reads every cell that
//! any way reads. Of the ways that fit the answer is the one they all give; where they differ nobody knows, and it is asked.
//! Cells that no way reads are nobody's evidence: each is left out by itself. Must not know what the cells are about.

/// What was found out.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Agreed<T> {
    /// This way, by its index: all that fit say the same.
    Way(usize),
    /// Two ways fit and read this cell differently: the cell, by its index, and both readings with their ways.
    Open {
        /// Which cell.
        cell: usize,
        /// The two ways and what each reads.
        readings: [(usize, T); 2],
    },
    /// No way fits: each way that reads the one cell cannot read the other.
    Torn {
        /// The two cells.
        cells: [usize; 2],
    },
}

/// Finds the way to read some cells.
///
/// `read(way, cell)` is what a way makes of a cell, `None` where it cannot.
pub fn agree<T: PartialEq>(ways: usize, cells: usize, read: impl Fn(usize, usize) -> Option<T>) -> Agreed<T> {
    let legible: Vec<usize> =
        (0..cells).filter(|&cell| (0..ways).any(|way| read(way, cell).is_some())).collect();
    let refuses = |way: usize| legible.iter().copied().find(|&cell| read(way, cell).is_none());
    let fitting: Vec<usize> = (0..ways).filter(|&way| refuses(way).is_none()).collect();
    let Some((&first, others)) = fitting.split_first() else {
        return torn(ways, &legible, read);
    };
    for &cell in &legible {
        for &other in others {
            if let (Some(one), Some(two)) = (read(first, cell), read(other, cell))
                && one != two
            {
                return Agreed::Open { cell, readings: [(first, one), (other, two)] };
            }
        }
    }
    Agreed::Way(first)
}

/// The two cells to show where no way fits: the one that the most ways cannot read, and one that shuts out a way that can.
fn torn<T>(ways: usize, legible: &[usize], read: impl Fn(usize, usize) -> Option<T>) -> Agreed<T> {
    let readers = |cell: usize| (0..ways).filter(|&way| read(way, cell).is_some()).count();
    let first = legible.iter().copied().min_by_key(|&cell| (readers(cell), cell)).unwrap_or_default();
    let against = (0..ways)
        .filter(|&way| read(way, first).is_some())
        .find_map(|way| legible.iter().copied().find(|&cell| read(way, cell).is_none()));
    Agreed::Torn { cells: [first, against.unwrap_or(first)] }
}
