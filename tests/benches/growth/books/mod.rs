//! Books that hold one thing of the language many times, alone or beside many of another.
//!
//! What there is comes from the compiler's own tables, so that a new verb, clause, declaration or property without a
//! recipe is missed by name. Must not measure anything.

mod base;
mod clauses;
mod declarations;
mod figures;
mod jobs;
mod lists;
mod money;
mod of_car;
mod of_kind;
mod of_part;
mod of_rule;
mod page;
mod parts;
mod places;
mod quantities;
mod running;
mod settings;

pub use base::Side;
use page::Page;
use stringline::book::CLAUSES;
use stringline::book::declare::{DECLARATIONS, LINES_WITH_FACTS, names_of};
use stringline::book::entry::Verb;

/// Writes the `i`-th of whatever the book is to hold many of.
pub type Write = fn(&mut Page, usize);

/// Everything there is: "verb set", "clause by", "declare car", "car class" (a property of a declaration or a fact of a
/// line), and "list ..." for one line or declaration that names many.
pub fn constructs() -> Vec<String> {
    let verbs = Verb::ALL.iter().map(|verb| format!("verb {}", verb.word()));
    let clauses = CLAUSES.iter().map(|clause| format!("clause {clause}"));
    let declarations = DECLARATIONS.iter().map(|word| format!("declare {word}"));
    let properties = DECLARATIONS
        .iter()
        .chain(&LINES_WITH_FACTS)
        .flat_map(|of| names_of(of).iter().map(move |name| format!("{of} {name}")));
    let lists = lists::ALL.iter().map(|name| format!("list {name}"));
    verbs.chain(clauses).chain(declarations).chain(properties).chain(lists).collect()
}

/// How one of them is written; `None` where nobody has said how.
pub fn recipe(construct: &str) -> Option<Write> {
    recipes(construct).next()
}

/// Every way that is said; there should be one.
pub fn recipes(construct: &str) -> impl Iterator<Item = Write> {
    let families = [
        settings::find,
        parts::find,
        running::find,
        jobs::find,
        money::find,
        clauses::find,
        declarations::find,
        of_car::find,
        of_kind::find,
        of_part::find,
        of_rule::find,
        places::find,
        quantities::find,
        figures::find,
        lists::find,
    ];
    families.into_iter().filter_map(move |find| find(construct))
}

/// A book with `count` of a construct, beside `beside` of something else.
pub fn book(write: Write, count: usize, side: Option<Side>, beside: usize) -> String {
    let mut page = Page::new(count, side, beside);
    base::write(&mut page);
    for at in 0..count {
        write(&mut page, at);
    }
    page.text()
}
