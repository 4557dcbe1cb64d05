//! Choices made of a stream of bytes: a fuzzer's input, or a seed stretched out.
//!
//! Must not know books.

/// Reads choices off bytes. At their end every choice is the first one and no chance comes true, so that fewer bytes make a
/// smaller book.
#[derive(Debug, Clone)]
pub struct Chooser<'a> {
    bytes: &'a [u8],
    at: usize,
}

impl<'a> Chooser<'a> {
    /// A chooser at the first byte.
    pub const fn new(bytes: &'a [u8]) -> Self {
        Self { bytes, at: 0 }
    }

    /// How many bytes are left.
    pub const fn left(&self) -> usize {
        self.bytes.len() - self.at
    }

    fn byte(&mut self) -> u8 {
        let byte = self.bytes.get(self.at).copied().unwrap_or(0);
        self.at = (self.at + 1).min(self.bytes.len());
        byte
    }

    /// A number below `n`, which is 1 or more.
    pub fn below(&mut self, n: usize) -> usize {
        let wide = if n > 256 { usize::from(self.byte()) << 8 } else { 0 };
        (wide | usize::from(self.byte())) % n
    }

    /// A number from `from` up to and with `to`.
    pub fn between(&mut self, from: i32, to: i32) -> i32 {
        from + self.below((to - from + 1).unsigned_abs() as usize) as i32
    }

    /// True so many times in a hundred.
    pub fn chance(&mut self, percent: u32) -> bool {
        u32::from(self.byte()) >= 256 - percent * 256 / 100
    }

    /// One of them.
    pub fn of<T: Copy>(&mut self, all: &[T]) -> T {
        all[self.below(all.len())]
    }

    /// One of them, where there is any.
    pub fn any<T: Copy>(&mut self, all: &[T]) -> Option<T> {
        if all.is_empty() { None } else { Some(self.of(all)) }
    }
}

/// A seed as bytes: splitmix64 (Steele, Lea, Flood 2014).
pub fn stretch(seed: u64, bytes: usize) -> Vec<u8> {
    let mut state = seed;
    let mut out = Vec::with_capacity(bytes + 8);
    while out.len() < bytes {
        state = state.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = state;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        out.extend((z ^ (z >> 31)).to_le_bytes());
    }
    out.truncate(bytes);
    out
}
