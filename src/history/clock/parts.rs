//! When a session began and was over by its stints, stages and stops, where its own line does not say.
//!
//! Must not know blocks.

use super::{Clock, LONGEST_PAST_MIDNIGHT, whole};
use crate::book::entry::{Entry, EntryId, RunId, Stretch, Verb};
use crate::history::time::Face;
use crate::history::within::Within;

impl Clock<'_> {
    /// A session without a time of its own began with its first part: when the first with a time did, less the minutes of those above it. Where
    /// one of them does not say how long it was, or is a stage, nobody knows when.
    pub(super) fn with_its_parts(&mut self, index: EntryId) -> Entry {
        let mut entry = self.book.entries[index];
        let Some(run) = entry.run().filter(|_| entry.verb == Verb::Run && entry.clock.0 < 0) else {
            return entry;
        };
        let parts = self.book.runs.get(run).map_or(&[][..], |run| run.stretches.as_slice());
        let timed = |part: &Stretch| self.book.entries[part.entry].clock.0 >= 0;
        let Some(first) = parts.iter().position(timed) else { return entry };
        let before = parts.iter().take(first).map(|part| {
            let staged = self.book.entries[part.entry].verb == Verb::Stage;
            part.minutes.filter(|_| !staged).map(whole)
        });
        let Some((before, pin)) = before.sum::<Option<i32>>().zip(parts.get(first)) else { return entry };
        let (typed, (offset, _)) = (self.book.entries[pin.entry].clock.0, self.offsets(pin.entry));
        let today = self.head.date;
        let next = today.tomorrow().unwrap_or(today);
        for date in [today, next] {
            // A face that the clock shows twice, or never, tells nothing.
            let Face::Once(at) = self.zone.face(date, typed, offset) else { break };
            let (began, face) = self.zone.civil(at.saturating_sub(before));
            if began >= today {
                if matches!(self.zone.face(began, face as i16, None), Face::Once(_)) {
                    entry.clock.0 = face as i16;
                }
                break;
            }
        }
        entry
    }

    /// When a session that began at a moment was over by its parts, where they tell, and when at the earliest. Where a step from one time to
    /// the next is too long to believe, the third says so.
    pub(super) fn over_by_parts(
        &mut self,
        index: EntryId,
        run: RunId,
        start: i32,
    ) -> (Option<i32>, i32, bool) {
        let parts = self.book.runs.get(run).map_or(&[][..], |run| run.stretches.as_slice());
        let date = self.zone.date_near(self.head.date, start);
        let mut within = Within::of(index, start, start, true);
        let (mut open, mut slip, mut stage) = (parts.is_empty(), false, false);
        for part in parts {
            let line = &self.book.entries[part.entry];
            let (offsets, before) = (self.offsets(part.entry), within.now);
            let (spell, wrong) =
                within.place(self.zone, date, (line.clock, offsets), part.minutes.map(whole));
            if wrong.is_some() {
                return (None, before, false);
            }
            let mut once = |clock: i16, offset: Option<i16>, at: i32| {
                let date = self.zone.date_near(self.head.date, at);
                clock < 0 || matches!(self.zone.face(date, clock, offset), Face::Once(_))
            };
            let sure = once(line.clock.0, offsets.0, spell.start) && once(line.clock.1, offsets.1, spell.end);
            let timed = line.clock.0 >= 0;
            // Between two stages it drove on the road.
            stage |= line.verb == Verb::Stage;
            open = open && !timed || !sure || stage && !timed || part.minutes.is_none() && line.clock.1 < 0;
            slip |= spell.start - before > LONGEST_PAST_MIDNIGHT
                || spell.end - spell.start > LONGEST_PAST_MIDNIGHT && part.minutes.is_none();
        }
        let over = within.now;
        (Some(over).filter(|over| !open && *over > start), over, slip)
    }
}
