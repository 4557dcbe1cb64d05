//! Links to other pages. Where they lead is the page table's business.

use crate::book::model::EventId;
use serde::Serialize;

/// A link to another page.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Link {
    /// File name.
    pub href: String,
    /// Words.
    pub text: String,
    /// A remark after it; may be empty.
    pub remark: String,
}

/// Links of one sort.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct LinkGroup {
    /// What stands over them; empty where the links say it all.
    pub heading: String,
    /// The links.
    pub links: Vec<Link>,
}

/// The id of an event's chapter.
pub(in crate::report) fn anchor(event: EventId) -> String {
    format!("event-{}", event.number() + 1)
}
