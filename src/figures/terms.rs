//! What a formula asks for.

use crate::book::figure::Term;

/// The names of a formula, in order, each once.
pub(super) fn names(term: &Term, list: &mut Vec<u16>) {
    match term {
        Term::Number(_) | Term::Result => {}
        Term::Name(at) => {
            if !list.contains(at) {
                list.push(*at);
            }
        }
        Term::Call(_, all) => all.iter().for_each(|one| names(one, list)),
        Term::Sum(all) | Term::Product(all) => all.iter().for_each(|(_, one)| names(one, list)),
        Term::Power(base, exponent) => {
            names(base, list);
            names(exponent, list);
        }
    }
}
