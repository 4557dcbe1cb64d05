//! Until when it is known that a part stayed where it was.
//!
//! After a line with a mistake that may have taken it off, or what it is inside of, nobody knows what it ran: it ran at least what it had run until
//! then. Must not know what is counted.

use super::{Parts, Where};
use crate::book::model::PartId;
use crate::history::order::Rank;
use crate::history::parts::Stay;

impl Parts {
    /// One past the last rank of a stay at which the part is known to be there still; the end of the stay where no line leaves it in doubt.
    #[must_use]
    pub fn sure(&self, part: PartId, stay: &Stay) -> Rank {
        let (mut sure, mut at) = (stay.until, stay.at);
        let mut doubts = Some(&self.get(part).doubts);
        // A part is inside of a few others at most, and of none twice.
        for _ in 0..=self.all.len() {
            if let Some(doubts) = doubts {
                let first = doubts.partition_point(|rank| *rank < stay.from);
                sure = doubts.get(first).map_or(sure, |rank| sure.min(*rank));
            }
            let Where::Inside(assembly) = at else { break };
            let told = self.get(assembly);
            doubts = Some(&told.doubts);
            at = told.at(stay.until.min(sure)).map_or(Where::New, |stay| stay.at);
        }
        sure
    }
}
