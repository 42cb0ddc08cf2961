//! A pan's measures as they are written: the same again in another unit, a depth before or behind.

use super::words::measures;
use quantity::Length;
use quantity::typed::length;

/// Words without the same size in the other unit behind each stroke: '23cm/9in springform', '33x23cm/13x9in
/// tin'. Before the stroke a figure has a unit: 'tin/9in' has none.
pub(super) fn without_twin(plain: &str) -> String {
    let twin = plain.match_indices('/').find_map(|(at, _)| {
        let before = plain[..at].trim_end();
        let mut bare = UNITS.iter().filter_map(|u| before.strip_suffix(u));
        if !bare.any(|b| b.trim_end_matches(between).ends_with(of_figure)) {
            return None;
        }
        let behind = plain[at + 1..].trim_start();
        let rest = behind.trim_start_matches(|c| of_figure(c) || between(c) || "x×".contains(c));
        let unit = UNITS.iter().find_map(|u| rest.strip_prefix(u));
        let measured = behind.starts_with(of_figure);
        unit.filter(|_| measured)
            .map(|rest| format!("{before} {rest}"))
    });
    twin.map_or_else(|| plain.to_owned(), |words| without_twin(&words))
}

/// Words without the same size in other units in brackets: '9 x 5 x 3 in (23 x 13 x 8 cm) loaf tin'.
pub(super) fn bracketed(plain: &str) -> String {
    match plain.split_once('(') {
        Some((before, behind)) if before.contains(|c: char| c.is_ascii_digit()) => {
            let (inside, rest) = behind.split_once(')').unwrap_or((behind, ""));
            // '(7 cm deep)' says more of it.
            let inside = Some(inside).filter(|i| i.contains(DEEP));
            format!("{before}{}{rest}", inside.unwrap_or_default())
        }
        _ => plain.to_owned(),
    }
}

/// Words with a depth that is called so behind the other measures: '2.5 cm deep 20 x 30 cm tin' is '20 x 30
/// cm tin x 2.5 cm'.
pub(super) fn deep_last(plain: &str) -> String {
    let Some(depth) = depth(plain) else {
        return plain.to_owned();
    };
    let rest = format!("{}{}", &plain[..depth.start], &plain[depth.end..]);
    if !rest.contains(|c: char| c.is_ascii_digit()) {
        return plain.to_owned();
    }
    let rest = rest.trim_matches([' ', ',', ';']);
    let rest = rest.strip_prefix("x ").unwrap_or(rest);
    let depth = plain[depth]
        .trim_end_matches(DEEP)
        .trim_end_matches(between);
    format!("{rest} x {depth}")
}

const UNITS: [&str; 6] = ["inches", "inch", "in", "cm", "mm", "\""];
const DEEP: &str = "deep";

fn between(c: char) -> bool {
    [' ', '-'].contains(&c)
}

fn of_figure(c: char) -> bool {
    c.is_ascii_digit() || "./½¼¾".contains(c)
}

/// Deeper is no tin that is called so many centimetres deep, and no more of its measures: '20 cm deep square tin'
/// is a deep one, 20 cm wide (common practice, no source).
const DEEP_ALONE: f64 = 11.0;
/// Narrower than this share of its depth is no tin: '20 cm deep square tin, 7 cm' is 20 cm wide (common practice,
/// no source).
const NARROWEST: f64 = 0.5;

/// Where small letters say how deep a tin is, '5 cm deep': its figure, unit and that word.
pub(super) fn depth(plain: &str) -> Option<std::ops::Range<usize>> {
    plain.match_indices(DEEP).find_map(|(at, _)| {
        let before = plain[..at].trim_end_matches(between);
        let figure = UNITS.iter().find_map(|u| before.strip_suffix(u))?;
        let start = figure.trim_end_matches(between).trim_end_matches(of_figure);
        let start = start.len();
        let deep = length(
            &before[start..].replace('-', " "),
            Length::millimetres(10.0),
        )?;
        let cm = deep.as_millimetres() / 10.0;
        let rest = format!("{} {}", &plain[..start], &plain[at + DEEP.len()..]);
        let (others, _) = measures(&rest);
        let mut wide = others.iter().filter_map(|(n, unit)| Some(n * (*unit)?));
        let is = cm <= DEEP_ALONE || wide.any(|w| w >= cm * NARROWEST);
        is.then_some(start..at + DEEP.len())
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_depth_goes_last() {
        for (words, last) in [
            ("2.5cm deep 20 x 30 cm tin", "20 x 30 cm tin x 2.5cm"),
            ("round 23cm, 5 cm deep", "round 23cm x 5 cm"),
            ("2-inch-deep 9-inch round tin", "9-inch round tin x 2-inch"),
            ("deep 20 cm square tin", "deep 20 cm square tin"),
            ("20 cm deep square tin, 7 cm", "20 cm deep square tin, 7 cm"),
            ("12 cm deep 20 cm round tin", "20 cm round tin x 12 cm"),
            (
                "4.5 inch deep 9 inch round tin",
                "9 inch round tin x 4.5 inch",
            ),
            ("15 cm deep 14 cm round tin", "14 cm round tin x 15 cm"),
            ("5 cm deep tin", "5 cm deep tin"),
        ] {
            assert_eq!(deep_last(words), last, "{words}");
        }
        assert_eq!(bracketed("23 cm (9 in) round tin"), "23 cm  round tin");
    }
}
