//! Checks on names, declarations and verbs.

crate::check::family! {
    audience_in_reason,
    because_empty,
    car_missing,
    client_name_is_a_word,
    declaration_unknown,
    line_incomplete,
    line_out_of_place,
    name_missing,
    name_of_other_sort,
    name_reserved,
    name_twice,
    name_unknown,
    names_look_alike,
    property_unknown,
    property_value,
    quantity_unknown,
    serial_unknown,
    title_names_client,
    verb_unknown,
    word_unexpected,
}
