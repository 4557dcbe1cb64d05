//! Dated items and class rules: civil dates against another library, the fold of what is good until when, judging.

mod corners;
mod dated;
mod days;
mod driven;
mod limits;
mod lost;
mod sets;
mod since;
mod stale;
mod told;
