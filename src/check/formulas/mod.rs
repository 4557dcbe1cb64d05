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
