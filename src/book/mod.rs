//! The resolved model: what a book declares and what its dated blocks say, with typed ids.
//!
//! Must not know rendering, nor what was true before an entry (that is `history`). Nothing here stops at a mistake:
//! it becomes a [`Trouble`] and the rest is read.

pub mod alike;
pub mod by_clock;
pub mod calendar;
pub mod clause;
pub mod clauses;
pub mod clock;
mod condition;
mod context;
pub mod correction;
pub mod dates;
pub mod declare;
pub mod due_dates;
mod ends;
pub mod entry;
pub mod figure;
mod folded;
pub mod handed;
mod ids;
mod item;
pub mod loan;
mod lost;
pub mod meaning;
mod meant;
pub mod model;
pub mod names;
pub mod normal;

pub mod phrases;
pub mod place;
pub mod range;
mod read;
pub mod registers;
pub mod side;
mod single;
mod skip;
pub mod spoken_for;
mod spread;
pub mod sums;
pub mod taken;
pub mod telling;
pub mod told;
mod touched;
pub mod tried;
pub mod trouble;
pub mod until;
mod values;
pub mod verbs;
mod whole;

pub use crate::book::whole::Book;
use crate::source::{Files, LoadTrouble, Span};
use crate::syntax::{Chunk, Tree};
pub use clause::{CLAUSES, HEAD_CLAUSES};
pub use declare::BuiltIn;
use model::{Named, SpecId};
use rayon::prelude::*;
pub use read::verb_of;
pub use spread::place_meant;
pub use trouble::{Trouble, What};
pub use values::ends_values;

/// Chunks read between two joins: enough to keep all cores busy.
const WAVE: usize = 96;

/// Compiles a tree into a book. Takes the tree, so that its words are freed as they are read.
#[must_use]
pub fn compile(files: &Files, tree: Tree, load: Vec<LoadTrouble>) -> Book {
    let BuiltIn { vocabulary, figures, .. } = built_in();
    let mut book = Book { vocabulary: vocabulary.clone(), figures: figures.clone(), ..Book::default() };
    for trouble in load {
        match &trouble {
            LoadTrouble::NotUtf8 { span, .. } => book.trouble(*span, What::Load(trouble)),
            LoadTrouble::Unreadable { .. } | LoadTrouble::Loop { .. } => {
                book.missing.push(Trouble { span: Span::BOOK, what: What::Load(trouble) });
            }
        }
    }
    for chunk in &tree.chunks {
        for trouble in &chunk.troubles {
            book.trouble(trouble.span, What::Syntax(trouble.mistake));
        }
    }
    declare::declare(&mut book, files, &tree.chunks);
    for outfit in book.outfits.keys().collect::<Vec<_>>() {
        let (lines, mistakes) = read::read_outfit(&book, files, outfit);
        book.outfits[outfit].read = std::sync::Arc::new(lines);
        book.troubles.extend(mistakes);
    }
    // A wave at a time: what a wave took is free again for the next, so the peak is the book and one wave.
    let mut chunks = tree.chunks.into_iter();
    loop {
        let wave: Vec<Chunk> = chunks.by_ref().take(WAVE).collect();
        if wave.is_empty() {
            break;
        }
        let parts: Vec<read::Part> = {
            let book = &book;
            wave.into_par_iter().map(|chunk: Chunk| read::read_chunk(book, files, &chunk)).collect()
        };
        read::append(&mut book, parts);
    }
    // A line that begins with a name has lost the verb that would have made it.
    let nameless = book.troubles.iter().filter(|one| matches!(one.what, What::VerbUnknown { near: None }));
    let nameless: Vec<_> = nameless.map(|one| names::folded(files.text(one.span)).as_str().into()).collect();
    book.names.refused.extend(nameless);
    if !book.names.refused.is_empty() {
        let refused = std::mem::take(&mut book.names.refused);
        book.troubles.retain(|trouble| {
            // No line declares a dimension.
            let of_name = match &trouble.what {
                What::NameUnknown { wanted, .. } => *wanted != "dimension",
                What::Incomplete { verb: "fit", .. } => true,
                _ => false,
            };
            !(of_name && refused.contains(names::folded(files.text(trouble.span)).as_str()))
        });
    }
    let lost = &book.names.refused_quantities;
    book.troubles.retain(|trouble| {
        let of_name = matches!(
            trouble.what,
            What::QuantityUnknown { .. } | What::Figure(trouble::FigureTrouble::NameUnknown { .. })
        );
        !(of_name && lost.contains(names::folded(files.text(trouble.span)).as_str()))
    });
    book.index_heads();
    book.meant = meant::of_heads(&book.heads, &book.names, files);
    book.specs_of = vec![Vec::new(); book.kinds.len()].into();
    for (id, spec) in (0..).map(SpecId::new).zip(&book.specs) {
        if let Some(list) = book.specs_of.get_mut(spec.kind) {
            list.push(id);
        }
    }
    if book.heads.is_empty() && book.cars.is_empty() && book.troubles.is_empty() && book.missing.is_empty() {
        book.missing.push(Trouble { span: Span::BOOK, what: What::EmptyBook });
    }
    book
}

/// The built-in vocabulary and figures, read once; its troubles are empty, as a test asserts.
pub fn built_in() -> &'static BuiltIn {
    static BUILT_IN: std::sync::OnceLock<BuiltIn> = std::sync::OnceLock::new();
    BUILT_IN.get_or_init(declare::read_built_in)
}

/// Whether a word opens a clause of an entry, a fact of a head or a session, or a property of a declaration.
#[must_use]
pub fn opens(word: &str) -> bool {
    clauses::is_clause(word)
        || declare::is_property(word)
        || declare::LINES_WITH_FACTS.iter().any(|of| declare::is_name_of(of, word))
        || ["best", "laps", "written"].iter().any(|fact| word.eq_ignore_ascii_case(fact))
}
