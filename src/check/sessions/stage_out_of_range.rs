//! `stage-out-of-range`: a stage at a speed that this car does not run stages at.

use crate::book::model::CarId;
use crate::check::{Check, Context, Family, Look, told};
use crate::diagnostics::{Diagnostic, Severity};
use crate::history::sessions::Session;
use crate::history::stretches::Part;
use crate::words;

/// The check.
pub const CHECK: Check = Check {
    name: "stage-out-of-range",
    severity: Severity::Warning,
    family: Family::Sessions,
    brief: "a stage at a speed that this car does not run stages at",
    why: "Stages differ in length and in pace, so that their times are never held to each other; their speeds are, loosely. This one is \
          more than twice as quick or less than half as quick as the middle one of the car's stages, of which there are five or more, or \
          quicker than 250 km/h: mostly a minute or a kilometre mistyped.",
    wrong: "    stage ss2 12.4 km 0:31.2",
    right: "    stage ss2 12.4 km 8:31.2",
    look: Look::Car(look),
};

/// Stages there must be before they are held to each other.
const STAGES: usize = 5;
/// Metres a second that no stage is run at: 250 km/h.
const MOST: f64 = 250.0 / 3.6;

fn look(cx: &Context<'_>, car: CarId, out: &mut Vec<Diagnostic>) {
    let sessions = &cx.history.sessions;
    let mut stages: Vec<(f64, &Session, &Part)> = Vec::new();
    for (id, session) in sessions.of(car) {
        for part in sessions.parts(id).iter().filter(|part| part.label.is_some()) {
            let (Some(metres), Some(minutes)) = (part.distance, part.minutes.filter(|minutes| *minutes > 0.0)) else {
                continue;
            };
            stages.push((metres / (minutes * 60.0), session, part));
        }
    }
    let mut speeds: Vec<f64> = stages.iter().map(|(speed, ..)| *speed).collect();
    speeds.sort_by(f64::total_cmp);
    let middle = speeds.get(speeds.len() / 2).copied().filter(|_| speeds.len() >= STAGES);
    for (speed, session, part) in stages {
        let far = middle.is_some_and(|middle| speed > 2.0 * middle || 2.0 * speed < middle);
        let Some(label) = part.label.filter(|_| far || speed > MOST) else { continue };
        let others = middle.map_or_else(String::new, |middle| {
            format!("; the middle one of its stages is at {} km/h", words::amount(middle * 3.6, 0))
        });
        out.push(
            CHECK
                .at(
                    label,
                    format!(
                        "{} of {} at {} km/h on {}{others}.",
                        cx.text(label),
                        told::session(cx, session),
                        words::amount(speed * 3.6, 0),
                        cx.car(session.car)
                    ),
                )
                .cure("correct its length or its time"),
        );
    }
}
