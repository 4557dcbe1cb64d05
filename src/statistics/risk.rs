//! Who was being watched when: the counts that the survival curve and the log-rank test are made of.

use super::observation::Observation;

/// Entries, exits and failures, each sorted.
#[derive(Debug, Clone)]
pub(super) struct Watched {
    /// Ages at which watching began.
    pub entries: Vec<f64>,
    /// Ages at which it ended.
    pub exits: Vec<f64>,
    /// Ages at which lives failed, each once, and how many did.
    pub failures: Vec<(f64, usize)>,
}

impl Watched {
    /// Of lives in any order.
    pub fn of(lives: &[Observation]) -> Self {
        let mut entries: Vec<f64> = lives.iter().map(|life| life.entry).collect();
        let mut exits: Vec<f64> = lives.iter().map(|life| life.exit).collect();
        let mut failed: Vec<f64> = lives.iter().filter(|life| life.failed()).map(|life| life.exit).collect();
        for list in [&mut entries, &mut exits, &mut failed] {
            list.sort_by(f64::total_cmp);
        }
        let same = failed.chunk_by(|one, other| one >= other);
        let failures = same.filter_map(|same| Some((*same.first()?, same.len()))).collect();
        Self { entries, exits, failures }
    }

    /// How many were at risk at that age: in before it, and not out before it. What leaves at the very age was still there,
    /// what enters at it was not yet.
    pub fn at_risk(&self, age: f64) -> usize {
        self.entries.partition_point(|entry| *entry < age) - self.exits.partition_point(|exit| *exit < age)
    }

    /// How many failed at that very age.
    pub fn failed_at(&self, age: f64) -> usize {
        let place = self.failures.partition_point(|(at, _)| *at < age);
        self.failures.get(place).map_or(0, |(at, count)| if *at <= age { *count } else { 0 })
    }
}
