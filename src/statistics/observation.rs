//! One life as it was watched, and what makes a life unusable.

/// The least and the greatest life taken: past these the numbers are slips, and powers of them overflow.
const REACH: (f64, f64) = (1e-12, 1e15);

/// How a life ended.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum End {
    /// It failed at the exit.
    Failed,
    /// It was taken out of use at the exit without having failed; it will not run on.
    Pulled,
    /// It had run to the exit without failing and runs on.
    Running,
}

/// One life, in any one unit of time since new.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Observation {
    /// The life it already had when watching began; 0 (or less than 1e-12) for one watched from new.
    pub entry: f64,
    /// The life it had when watching ended.
    pub exit: f64,
    /// What ended the watching.
    pub end: End,
}

/// Why a life cannot be used.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Reason {
    /// There are no lives at all.
    NoLives,
    /// A number is not finite.
    NotFinite,
    /// A number is below zero.
    Negative,
    /// It ended before it had run at all: exit and entry are both 0.
    ZeroLife,
    /// It was watched from an age and no further: exit is entry.
    NothingWatched,
    /// The exit lies before the entry.
    EndsBeforeItBegins,
    /// The exit is above nothing, yet below 1e-12 or above 1e15.
    OutOfReach,
}

/// The first life, in the order given, that cannot be used, and why.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct Why {
    /// Its index in the list given; 0 where there are no lives.
    pub index: usize,
    /// What is wrong with it.
    pub reason: Reason,
}

impl Observation {
    /// A life watched from `entry` to `exit`.
    #[must_use]
    pub fn new(entry: f64, exit: f64, end: End) -> Self {
        Self { entry, exit, end }
    }

    /// Whether it ended by failing.
    #[must_use]
    pub fn failed(&self) -> bool {
        self.end == End::Failed
    }

    /// What is wrong with it.
    #[must_use]
    pub fn trouble(&self) -> Option<Reason> {
        if !(self.entry.is_finite() && self.exit.is_finite()) {
            Some(Reason::NotFinite)
        } else if self.entry < 0.0 || self.exit < 0.0 {
            Some(Reason::Negative)
        } else if self.exit < self.entry {
            Some(Reason::EndsBeforeItBegins)
        } else if self.exit <= 0.0 {
            Some(Reason::ZeroLife)
        } else if self.exit <= self.entry {
            Some(Reason::NothingWatched)
        } else if self.exit < REACH.0 || self.exit > REACH.1 {
            Some(Reason::OutOfReach)
        } else {
            None
        }
    }
}

/// Parts the usable lives from the others; each of those with its index and its reason. The functions of this module refuse
/// a whole list for one unusable life, so that none is dropped in silence; this is for the caller who will say which were.
#[must_use]
pub fn sift(lives: &[Observation]) -> (Vec<Observation>, Vec<Why>) {
    let mut usable = Vec::with_capacity(lives.len());
    let mut others = Vec::new();
    for (index, life) in lives.iter().enumerate() {
        match life.trouble() {
            None => usable.push(*life),
            Some(reason) => others.push(Why { index, reason }),
        }
    }
    (usable, others)
}

/// The lives in one order whatever order they came in.
pub(super) fn sorted(lives: &[Observation]) -> Result<Vec<Observation>, Why> {
    if lives.is_empty() {
        return Err(Why { index: 0, reason: Reason::NoLives });
    }
    let (mut usable, others) = sift(lives);
    if let Some(first) = others.first() {
        return Err(*first);
    }
    for life in &mut usable {
        // -0 is 0, and so is what is below any life.
        if life.entry < REACH.0 {
            life.entry = 0.0;
        }
    }
    usable.sort_by(|one, other| {
        one.exit.total_cmp(&other.exit).then(one.entry.total_cmp(&other.entry)).then(one.end.cmp(&other.end))
    });
    Ok(usable)
}
