//! What the card says a recipe makes.

use crate::CardOptions;
use crate::measure::about;
use crate::view::tidy;
use recipe::pieces;
use recipe::rework::Rework;
use recipe::size::Batch;
use std::sync::LazyLock;

/// Pieces that a yield may count: several, or one that is named as the whole of it.
static PIECES: LazyLock<Vec<&str>> = LazyLock::new(|| {
    let whole = ["loaf", "cake", "tart", "pie"];
    [&pieces::PIECES[..], &pieces::SHAPES, &whole].concat()
});

/// What a bake is cut into.
const CUT_INTO: [&str; 8] = [
    "slices",
    "squares",
    "bars",
    "pieces",
    "fingers",
    "triangles",
    "diamonds",
    "wedges",
];

/// Words of a yield that counts people.
const PEOPLE: [&str; 8] = [
    "serves", "serve", "servings", "serving", "portions", "people", "feeds", "guests",
];

/// The first of some words in a text.
fn named_piece<'t>(text: &'t str, of: &[&str]) -> Option<&'t str> {
    text.split(|c: char| !c.is_alphanumeric())
        .find(|w| of.contains(w))
}

/// A count with its piece, one or several: `1 loaf`, `about 2 loaves`.
fn of_pieces(count: &str, piece: &str) -> String {
    let one = count.trim_start_matches("about ") == "1";
    let loaf = ["loaf", "loaves"].contains(&piece);
    let word = match (one, piece) {
        (true, _) if loaf => "loaf".to_owned(),
        (false, _) if loaf => "loaves".to_owned(),
        (true, "pasties") => "pasty".to_owned(),
        (true, many) => many.strip_suffix('s').unwrap_or(many).to_owned(),
        (false, one) if !one.ends_with('s') => format!("{one}s"),
        (false, many) => many.to_owned(),
    };
    format!("{count} {word}")
}

/// The number or range that a part of a yield begins with: `12 to 15`.
fn counted(text: &str) -> Option<(f64, f64)> {
    let mut words = text
        .split(|c: char| !c.is_alphanumeric())
        .filter(|w| !w.is_empty() && !matches!(*w, "about" | "or" | "makes" | "cut" | "into"));
    let digits = |w: &str| w.len() <= 3 && w.bytes().all(|b| b.is_ascii_digit());
    let number = |w: &str| -> Option<f64> { w.parse().ok().filter(|_| digits(w)) };
    let low = words.next().and_then(number)?;
    let high = words
        .next()
        .and_then(|w| if w == "to" { words.next() } else { Some(w) })
        .and_then(number);
    Some((low, high.unwrap_or(low)))
}

/// A count of pieces or people at a size: whole ones, and 'about' where that is not exact.
fn scaled((low, high): (f64, f64), times: f64) -> String {
    let whole = |n: f64| (n * times).round().max(1.0);
    let off = |n: f64| (whole(n) - n * times).abs() > 0.01;
    let about = if off(low) || off(high) { "about " } else { "" };
    if whole(low) == whole(high) {
        format!("{about}{}", whole(low))
    } else {
        format!("{about}{}–{}", whole(low), whole(high))
    }
}

/// What it makes: the developer's words, or no more of the source's than its count.
pub(crate) fn makes(rework: &Rework, options: &CardOptions, batch: Option<&Batch>) -> String {
    let times = batch.map_or(1.0, |b| b.factor);
    let read = rework.formula.recipe.makes.as_ref();
    // Words of the recipe once are of no use at another size; a count can be scaled.
    let counts = read.is_some_and(|m| m.count.is_some()) && batch.is_none_or(|b| b.count.is_some());
    if let Some(batch) = batch
        && (batch.components.iter().any(|c| c.factor <= 0.0) || !counts)
    {
        return weight_of(rework);
    }
    if batch.is_none()
        && let Some(own) = options.makes.as_deref().map(tidy).filter(|m| !m.is_empty())
    {
        return own;
    }
    if let Some((low, high, text)) = read.and_then(|m| Some((m.count?.0, m.count?.1, &m.text))) {
        let text = text.to_lowercase();
        let mut segments = text.split([',', ';', '(']);
        let first = segments.next().unwrap_or_default();
        let one = (low, high) == (1.0, 1.0);
        // '1 cake, 12 to 15 squares', '2 plaits, 16 slices': what they are cut into says more.
        let cut = segments
            .filter_map(|s| Some((scaled(counted(s)?, times), named_piece(s, &PIECES)?)))
            .find(|(_, pieces)| one || CUT_INTO.contains(pieces));
        let piece = named_piece(first, &PIECES);
        // A loaf and a third is a larger loaf, or one and a small one: its weight says what it is.
        let odd = |n: f64| n * times < 4.0 && (n * times - (n * times).round()).abs() > 0.01;
        if one && odd(1.0) {
            let weight = weight_of(rework);
            return cut.map_or(weight.clone(), |(n, pieces)| {
                format!("Makes {}, {weight}", of_pieces(&n, pieces))
            });
        }
        let count = match batch.and_then(|b| b.count) {
            Some(counted) => scaled(counted, 1.0),
            None => scaled((low, high), times),
        };
        return match (cut, piece) {
            // The squares of the one cake are what was counted.
            (Some((n, pieces)), _) if n == count => format!("Makes {}", of_pieces(&n, pieces)),
            (Some((n, pieces)), Some(piece)) => format!(
                "Makes {}, {}",
                of_pieces(&count, piece),
                of_pieces(&n, pieces)
            ),
            (Some((n, pieces)), None) if one => format!("Makes {}", of_pieces(&n, pieces)),
            // '12 rolls, serves 4': what comes first is what was counted.
            (_, _) => match named_piece(first, &[&PEOPLE[..], &PIECES[..]].concat()) {
                Some(word) if PEOPLE.contains(&word) => format!("Serves {count}"),
                Some(piece) => format!("Makes {}", of_pieces(&count, piece)),
                None => format!("Makes {count}"),
            },
        };
    }
    weight_of(rework)
}

/// What it makes by weight: baked, where what the oven takes is known.
fn weight_of(rework: &Rework) -> String {
    let weighs = rework.baked(|_| 1.0);
    match weighs.baked {
        Some(baked) if about(baked.low()) != about(baked.high()) => {
            let (low, high) = (about(baked.low()), about(baked.high()));
            format!("about {low}–{high} g, baked")
        }
        _ => format!("about {} g, raw", about(weighs.raw.likely())),
    }
}
