//! `zone-unknown`: a time zone that does not exist.

use crate::book::{Trouble, What};
use crate::check::{Check, Context, Family, Look};
use crate::diagnostics::{Diagnostic, Severity};
use crate::book::names::nearest;
use crate::words::did_you_mean;

/// The check.
pub const CHECK: Check = Check {
    name: "zone-unknown",
    severity: Severity::Error,
    family: Family::Typing,
    brief: "a time zone that does not exist",
    why: "Clock times belong to the zone of the event or the shop, and on the night the clocks change it decides \
          how long a session was. Zones are written as the IANA time zone database spells them: a region, a slash \
          and a city, such as Europe/Dublin.",
    wrong: "shop \"Hollin Lane Garage\"  zone Europe/Dubln",
    right: "shop \"Hollin Lane Garage\"  zone Europe/Dublin",
    look: Look::Trouble(words),
};

fn words(cx: &Context<'_>, trouble: &Trouble) -> Option<Diagnostic> {
    let What::ZoneUnknown = trouble.what else { return None };
    let typed = cx.text(trouble.span);
    let message = CHECK.at(trouble.span, format!("There is no time zone `{typed}`."));
    let zones: Vec<String> = jiff::tz::db().available().map(|zone| zone.as_str().to_owned()).collect();
    let lower: Vec<String> = zones.iter().map(|zone| zone.to_lowercase()).collect();
    let near = nearest(typed, lower.iter().map(String::as_str));
    let city = || lower.iter().position(|zone| zone.rsplit('/').next() == Some(typed.to_lowercase().as_str()));
    let at = near.and_then(|near| lower.iter().position(|zone| *zone == near)).or_else(city);
    Some(match at.and_then(|at| zones.get(at)) {
        Some(zone) => message.cure(did_you_mean(zone)),
        None => message.cure("write region/city, such as Europe/Dublin or America/New_York"),
    })
}
