//! `client-name-is-a-word`: a client is called by a word that is not masked in what others read, because everybody uses it.

use crate::book::model::Client;
use crate::book::phrases::words;
use crate::book::telling::{Ordinary, is_listed, telling};
use crate::check::phrase;
use crate::check::{Check, Context, Family, Look};
use crate::diagnostics::{Diagnostic, Severity};

/// The check.
pub const CHECK: Check = Check {
    name: "client-name-is-a-word",
    severity: Severity::Warning,
    family: Family::Words,
    brief: "a client is called by an ordinary word, which is not masked in what others read",
    why: "What one client reads has the names of the others covered, wherever they are typed: the name of each, and the words of \
          the title that tell who it is. A word that anybody uses cannot be covered without taking half the sentences with it: a \
          common word, a word of this language, a kind or a position of the book, the shop's own name. It stays as it is, \
          and whoever reads `house` on a line can guess.",
    wrong: "client house \"The Larkin family\"",
    right: "client larkin \"The Larkin family\"",
    look: Look::Whole(look),
};

fn look(cx: &Context<'_>, out: &mut Vec<Diagnostic>) {
    let ordinary = Ordinary::of(cx.book);
    let shop = telling(&cx.book.shop.title);
    out.extend(cx.book.clients.iter().filter_map(|client| one(cx, client, &ordinary, &shop)));
}

fn one(cx: &Context<'_>, client: &Client, ordinary: &Ordinary, shop: &[String]) -> Option<Diagnostic> {
    let named = &client.named;
    let at = phrase::word_of(cx.text(named.declared), named.declared, 1);
    if ordinary.is_all_of(&named.name) {
        let message = format!("`{}` is an ordinary word: it is not masked in what others read.", named.typed);
        return Some(CHECK.at(at, message).cure("give the client a name that stands for nobody and nothing else"));
    }
    let of_title = words(&named.title);
    // The words of the list surprise nobody in a title, unless there is no other.
    let alone = of_title.len() == 1;
    let told = telling(&named.title);
    let word = told.iter().find(|word| ordinary.has(word) && (alone || !is_listed(word)));
    // The shop's own cars may be called by the shop's name.
    let of_name = words(&named.name);
    let shops = || {
        told.iter().chain(&of_name).find(|word| !client.unbilled && shop.contains(word) && !ordinary.has(word))
    };
    let (word, why) = match word {
        Some(word) => (word, "is an ordinary word"),
        None => (shops()?, "is the shop's own name"),
    };
    let message = format!("`{word}`, of the client `{}`, {why}: it is not masked in what others read.", named.typed);
    let cure = "have it in mind where others read, or give the client a title that does not hang on it";
    Some(CHECK.at(at, message).cure(cure))
}
