//! The diagnostics: one file for each code, with its doc (what, why, an example, how to mend it) and the
//! function that words it. To add one: write its file, name it below, use it where the fault is found, give it
//! a bad deck under `tests/decks/`, and add its line to the table of `decks/FORMAT.md` (a test says what to write).

use crate::deck::problem::Check;

pub(crate) mod accept_and_reject;
pub(crate) mod always_met;
pub(crate) mod answer_unit;
pub(crate) mod bad_asks;
pub(crate) mod bad_demand;
pub(crate) mod bad_drawing;
pub(crate) mod bad_edition;
pub(crate) mod bad_formula;
pub(crate) mod bad_id;
pub(crate) mod bad_language;
pub(crate) mod bad_name;
pub(crate) mod bad_picture;
pub(crate) mod bad_place;
pub(crate) mod bad_probe;
pub(crate) mod bad_range;
pub(crate) mod bad_seconds;
pub(crate) mod bad_value;
pub(crate) mod bad_ways;
pub(crate) mod bad_weight;
pub(crate) mod bad_within;
pub(crate) mod because_alone;
pub(crate) mod changing_sign;
pub(crate) mod cold_answer;
pub(crate) mod control_character;
pub(crate) mod curly_quotes;
pub(crate) mod dead_end;
pub(crate) mod difference_in_degc;
pub(crate) mod divides_by_zero;
pub(crate) mod drawing_type;
pub(crate) mod duplicate_id;
pub(crate) mod duplicate_name;
pub(crate) mod duplicate_node;
pub(crate) mod duplicate_step;
pub(crate) mod empty_deck;
pub(crate) mod empty_text;
pub(crate) mod equal_links;
pub(crate) mod false_link_is_true;
pub(crate) mod formula_units;
pub(crate) mod goal_at_start;
pub(crate) mod hidden_character;
pub(crate) mod hiding_name;
pub(crate) mod idle_valve;
pub(crate) mod like_ask;
pub(crate) mod like_slips;
pub(crate) mod line_below;
pub(crate) mod lone_node;
pub(crate) mod lone_part;
pub(crate) mod long_sentence;
pub(crate) mod lost_slip;
pub(crate) mod missing_detail;
pub(crate) mod missing_key;
pub(crate) mod missing_place;
pub(crate) mod missing_tell;
pub(crate) mod names_overlap;
pub(crate) mod needed_trap;
pub(crate) mod needless_step;
pub(crate) mod no_accept;
pub(crate) mod no_because;
pub(crate) mod no_full_order;
pub(crate) mod no_seconds;
pub(crate) mod no_setting;
pub(crate) mod no_source;
pub(crate) mod no_value;
pub(crate) mod no_within;
pub(crate) mod not_strict;
pub(crate) mod not_toml;
pub(crate) mod not_utf8;
pub(crate) mod nothing_gives;
pub(crate) mod nothing_takes;
pub(crate) mod one_sided;
pub(crate) mod picture_missing;
pub(crate) mod picture_outside;
pub(crate) mod picture_type;
pub(crate) mod pipe_over_symbol;
pub(crate) mod pipe_to_itself;
pub(crate) mod point_count;
pub(crate) mod repeated_source;
pub(crate) mod restless_reflexes;
pub(crate) mod same_ask;
pub(crate) mod same_place;
pub(crate) mod shared_part_name;
pub(crate) mod shared_phrase;
pub(crate) mod single_order;
pub(crate) mod slip_is_right;
pub(crate) mod stop_twice;
pub(crate) mod stray_fault;
pub(crate) mod symbolic_link;
pub(crate) mod too_complex;
pub(crate) mod too_deep;
pub(crate) mod too_few_links;
pub(crate) mod too_large;
pub(crate) mod too_long;
pub(crate) mod too_many;
pub(crate) mod too_many_problems;
pub(crate) mod undescribed_part;
pub(crate) mod uneven_step;
pub(crate) mod unknown_competence;
pub(crate) mod unknown_fact;
pub(crate) mod unknown_key;
pub(crate) mod unknown_kind;
pub(crate) mod unknown_medium;
pub(crate) mod unknown_name;
pub(crate) mod unknown_node;
pub(crate) mod unknown_node_kind;
pub(crate) mod unknown_part;
pub(crate) mod unknown_severity;
pub(crate) mod unknown_sign;
pub(crate) mod unknown_source;
pub(crate) mod unknown_source_kind;
pub(crate) mod unknown_unit;
pub(crate) mod unmatchable_phrase;
pub(crate) mod unmatchable_point;
pub(crate) mod unnamed_part;
pub(crate) mod unreachable_goal;
pub(crate) mod unreadable_deck;
pub(crate) mod unreadable_file;
pub(crate) mod unseen_part;
pub(crate) mod unused_fact;
pub(crate) mod unused_given;
pub(crate) mod unused_line;
pub(crate) mod unused_source;
pub(crate) mod wrong_type;

/// Every diagnostic, in the order of the codes.
pub fn all() -> &'static [&'static Check] {
    ALL
}

const ALL: &[&Check] = &[
    &accept_and_reject::CHECK,
    &always_met::CHECK,
    &answer_unit::CHECK,
    &bad_asks::CHECK,
    &bad_demand::CHECK,
    &bad_drawing::CHECK,
    &bad_edition::CHECK,
    &bad_formula::CHECK,
    &bad_id::CHECK,
    &bad_language::CHECK,
    &bad_name::CHECK,
    &bad_picture::CHECK,
    &bad_place::CHECK,
    &bad_probe::CHECK,
    &bad_range::CHECK,
    &bad_seconds::CHECK,
    &bad_value::CHECK,
    &bad_ways::CHECK,
    &bad_weight::CHECK,
    &bad_within::CHECK,
    &because_alone::CHECK,
    &changing_sign::CHECK,
    &cold_answer::CHECK,
    &control_character::CHECK,
    &curly_quotes::CHECK,
    &dead_end::CHECK,
    &difference_in_degc::CHECK,
    &divides_by_zero::CHECK,
    &drawing_type::CHECK,
    &duplicate_id::CHECK,
    &duplicate_name::CHECK,
    &duplicate_node::CHECK,
    &duplicate_step::CHECK,
    &empty_deck::CHECK,
    &empty_text::CHECK,
    &equal_links::CHECK,
    &false_link_is_true::CHECK,
    &formula_units::CHECK,
    &goal_at_start::CHECK,
    &hidden_character::CHECK,
    &hiding_name::CHECK,
    &idle_valve::CHECK,
    &like_ask::CHECK,
    &like_slips::CHECK,
    &line_below::CHECK,
    &lone_node::CHECK,
    &lone_part::CHECK,
    &long_sentence::CHECK,
    &lost_slip::CHECK,
    &missing_detail::CHECK,
    &missing_key::CHECK,
    &missing_place::CHECK,
    &missing_tell::CHECK,
    &names_overlap::CHECK,
    &needed_trap::CHECK,
    &needless_step::CHECK,
    &no_accept::CHECK,
    &no_because::CHECK,
    &no_full_order::CHECK,
    &no_seconds::CHECK,
    &no_setting::CHECK,
    &no_source::CHECK,
    &no_value::CHECK,
    &no_within::CHECK,
    &not_strict::CHECK,
    &not_toml::CHECK,
    &not_utf8::CHECK,
    &nothing_gives::CHECK,
    &nothing_takes::CHECK,
    &one_sided::CHECK,
    &picture_missing::CHECK,
    &picture_outside::CHECK,
    &picture_type::CHECK,
    &pipe_over_symbol::CHECK,
    &pipe_to_itself::CHECK,
    &point_count::CHECK,
    &repeated_source::CHECK,
    &restless_reflexes::CHECK,
    &same_ask::CHECK,
    &same_place::CHECK,
    &shared_part_name::CHECK,
    &shared_phrase::CHECK,
    &single_order::CHECK,
    &slip_is_right::CHECK,
    &stop_twice::CHECK,
    &stray_fault::CHECK,
    &symbolic_link::CHECK,
    &too_complex::CHECK,
    &too_deep::CHECK,
    &too_few_links::CHECK,
    &too_large::CHECK,
    &too_long::CHECK,
    &too_many::CHECK,
    &too_many_problems::CHECK,
    &undescribed_part::CHECK,
    &uneven_step::CHECK,
    &unknown_competence::CHECK,
    &unknown_fact::CHECK,
    &unknown_key::CHECK,
    &unknown_kind::CHECK,
    &unknown_medium::CHECK,
    &unknown_name::CHECK,
    &unknown_node::CHECK,
    &unknown_node_kind::CHECK,
    &unknown_part::CHECK,
    &unknown_severity::CHECK,
    &unknown_sign::CHECK,
    &unknown_source::CHECK,
    &unknown_source_kind::CHECK,
    &unknown_unit::CHECK,
    &unmatchable_phrase::CHECK,
    &unmatchable_point::CHECK,
    &unnamed_part::CHECK,
    &unreachable_goal::CHECK,
    &unreadable_deck::CHECK,
    &unreadable_file::CHECK,
    &unseen_part::CHECK,
    &unused_fact::CHECK,
    &unused_given::CHECK,
    &unused_line::CHECK,
    &unused_source::CHECK,
    &wrong_type::CHECK,
];
