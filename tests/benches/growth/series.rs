//! One thing that grows, and how the time of a command grows with it.
//!
//! Must not know how a command is run.

use super::books::{Side, Write, book};
use super::process::{Command, Folder, Ran};
use std::fmt;

/// The ratio that is aimed at: ten times as many, and what sorting and a larger memory add.
pub const LIMIT: f64 = 13.0;
/// How many there are of the side that does not grow.
const BESIDE: usize = 200;
/// Where growing starts, and where it gives up: what is still that quick is quick.
const FIRST: usize = 50;
const MOST: usize = 100_000;

/// How carefully it is measured.
#[derive(Debug, Clone, Copy)]
pub struct Care {
    /// Seconds that the shorter book has to take, the empty one's time taken off; less than that is noise.
    least: f64,
    /// The best of so many runs counts.
    runs: usize,
    /// Processor seconds after which a run is ended.
    seconds: u32,
}

impl Care {
    pub const FULL: Self = Self { least: 0.05, runs: 3, seconds: 20 };
    pub const QUICK: Self = Self { least: 0.02, runs: 1, seconds: 4 };
}

/// Which of the two sides is made ten times as long.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Grows {
    Construct,
    Side,
}

/// A construct, alone or crossed.
pub struct Series {
    pub construct: String,
    pub write: Write,
    pub side: Option<Side>,
    pub grows: Grows,
}

/// What came of one command.
pub struct Row {
    words: String,
    command: &'static str,
    count: usize,
    short: Ran,
    long: Ran,
    care: Care,
}

impl Care {
    fn end(self) -> f64 {
        f64::from(self.seconds)
    }
}

impl Row {
    /// Whether it grows by more than the limit, or could not be measured to its end.
    pub fn is_over(&self) -> bool {
        match (self.short, self.long) {
            (Ran::Took(short), Ran::Took(long)) => short >= self.care.least && long / short > LIMIT,
            // The longer one was ended: it may have grown by less only if the shorter one took long already.
            (Ran::Took(short), Ran::TooLong) => self.care.end() / short > LIMIT,
            _ => true,
        }
    }
}

impl fmt::Display for Row {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let Self { words, command, count, short, long, care } = self;
        let seconds = care.seconds;
        write!(f, "{words:<44} {command:<7} ")?;
        match (short, long) {
            (Ran::Took(short), _) if *short < care.least => {
                write!(f, "   -   {count} take {:.0} ms", short * 1000.0)
            }
            (Ran::Took(short), Ran::Took(long)) => {
                let mark = if self.is_over() { "  OVER" } else { "" };
                write!(f, "{:>6.1} {count}: {short:.3} s, {}: {long:.3} s{mark}", long / short, count * 10)
            }
            (Ran::Took(short), Ran::TooLong) => {
                write!(
                    f,
                    "> {:>4.0} {count}: {short:.3} s, {}: ended at {seconds} s",
                    self.care.end() / short,
                    count * 10
                )
            }
            (_, Ran::Refused) | (Ran::Refused, _) => write!(f, "refused"),
            (Ran::TooLong, _) => write!(f, "{count}: ended at {seconds} s"),
        }
    }
}

impl Series {
    /// "clause by beside 200 cars", "200 of clause by, cars grow".
    pub fn words(&self) -> String {
        match (self.side, self.grows) {
            (None, _) => self.construct.clone(),
            (Some(side), Grows::Construct) => format!("{} beside {BESIDE} {}", self.construct, side.word()),
            (Some(side), Grows::Side) => format!("{BESIDE} {}, growing {}", self.construct, side.word()),
        }
    }

    fn text(&self, count: usize) -> String {
        match self.grows {
            Grows::Construct => book(self.write, count, self.side, BESIDE),
            Grows::Side => book(self.write, BESIDE, self.side, count),
        }
    }

    fn run(&self, folder: &Folder, command: &Command, count: usize, care: Care) -> Ran {
        folder.hold(&self.text(count));
        let mut best = Ran::TooLong;
        for _ in 0..care.runs {
            match (folder.run(command, care.seconds), best) {
                (Ran::Took(took), Ran::Took(before)) => best = Ran::Took(took.min(before)),
                (Ran::Took(took), _) => best = Ran::Took(took),
                // Once is enough to know it.
                (other, _) => return other,
            }
            // A second is longer than any disturbance.
            if matches!(best, Ran::Took(took) if took > 1.0) {
                break;
            }
        }
        best
    }

    /// Grows the book until the command takes long enough, then makes it ten times as long.
    pub fn measure(&self, folder: &Folder, command: &Command, care: Care) -> Row {
        let empty = match self.run(folder, command, 0, care) {
            Ran::Took(took) => took,
            _ => 0.0,
        };
        let less = |ran: Ran| match ran {
            Ran::Took(took) => Ran::Took((took - empty).max(0.0)),
            other => other,
        };
        let once = Care { runs: 1, ..care };
        let mut count = FIRST;
        let mut short = less(self.run(folder, command, count, once));
        while let Ran::Took(took) = short
            && took < care.least
            && count < MOST
        {
            // Straight to where it should be long enough, in steps that a square would not overshoot by much.
            let factor = (1.2 * care.least / took.max(0.002)).clamp(1.5, 8.0);
            count = ((count as f64 * factor) as usize).min(MOST);
            short = less(self.run(folder, command, count, once));
        }
        let enough = matches!(short, Ran::Took(took) if took >= care.least);
        if enough {
            short = less(self.run(folder, command, count, care));
        }
        let long = if enough { less(self.run(folder, command, count * 10, care)) } else { Ran::TooLong };
        Row { words: self.words(), command: command.word, count, short, long, care }
    }
}
