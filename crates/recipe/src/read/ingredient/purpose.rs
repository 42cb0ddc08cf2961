//! What an ingredient is for.

use crate::line::Purpose;

pub(super) fn purpose_of(lower: &str) -> Purpose {
    let after = |words: &[&str]| words.iter().any(|w| lower.contains(w));
    if after(&[
        "for dusting",
        "for rolling",
        "for kneading",
        "for flouring",
        "for the work",
        "for the bench",
        "for the board",
        "to dust",
        "for sprinkling the",
        "for coating",
        "for dredging",
    ]) {
        Purpose::Dusting
    } else if after(&[
        "for greasing",
        "for the pan",
        "for the tin",
        "for the dish",
        "for brushing the tin",
        "to grease",
        "for frying",
        "for deep",
        "for oiling",
        "for the griddle",
        "for the bowl",
        "for brushing",
        "egg wash",
        "eggwash",
        "for glazing",
        "to glaze",
        "for the wash",
    ]) {
        Purpose::Pan
    } else if after(&[
        "to serve",
        "for serving",
        "to decorate",
        "for decoration",
        "to garnish",
        "for garnish",
        "to finish",
        "for sprinkling",
        "for decorating",
    ]) {
        Purpose::Serving
    } else {
        Purpose::Formula
    }
}
