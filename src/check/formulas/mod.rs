//! Checks on figures that a book declares, and their formulas.

crate::check::family! {
    dimensions_clash,
    figure_circle,
    figure_of_other_sort,
    figure_without_formula,
    formula_name_unknown,
    formula_place_wrong,
    formula_unit_unknown,
    formula_unreadable,
    local_name_reserved,
}

/// With a capital, unless it starts with a quoted word.
fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}
