//! Finding a pan by words: a key, a name of the kitchen's own, `loaf 9x5`, `round 24 x 6 cm`.

use super::count::{counted, narrow};
use super::error::PanError;
use super::holds;
use super::hollows::by_hollows;
use super::tube::{by_tube, ring};
use super::typed::{bracketed, deep_last, without_twin};
use super::vocabulary::{
    ANY, BROWNIE, Kind, KindRow, is_shaped, kind_of, known_word, says_nothing,
};
use super::water::{by_water, ring_holds, with_water};
use super::{ML_PER_GRAM_OF_WATER, Outline, OwnPan, Pan, all, share};
use larder::Status;
use quantity::typed::millimetres;
use quantity::{Length, figure, fraction, number_word};
use std::sync::LazyLock;

/// A number above this, without a unit, is of centimetres: no pan at home is wider in inches.
pub(super) const MOST_INCHES: f64 = 18.0;
/// Centimetres in an inch, exact.
pub(super) const INCH: f64 = 2.54;
/// Shorter than this a second measure may be a depth, cm (common practice, no source).
const LEAST_SIDE: f64 = 12.0;
/// Two sizes within this share are the same pan: 23 cm is 9 in.
const SAME: f64 = 0.03;
/// A share filled from which on it is that of a filling, not of a batter.
const FILLING: f64 = 0.85;
/// A square tin is deep at most by this share of its side (common practice, no source).
const SQUARE_DEPTH: f64 = 0.6;
/// Tins that are no deeper, cm, are to roll a sponge up from or for biscuits (common practice, no source).
const SHALLOW: f64 = 2.6;
/// Deeper no pan goes into a household's oven, cm (common practice, no source).
pub(super) const DEEPEST: f64 = 40.0;
/// Water that a pan or a mould of a kitchen holds, g: a hollow for a small sweet to two baker's trays (common
/// practice, no source).
const WATER: std::ops::RangeInclusive<f64> = 5.0..=50_000.0;
/// What a pan's measures can be, cm.
pub(super) const MEASURES: std::ops::RangeInclusive<f64> = 0.5..=200.0;

/// The pan that words mean: the one reader of pans.
///
/// # Inputs
/// - `words`: a key (`round_9x2`), what a pan is called, a name of `own`, or a kind and measures: `loaf 9x5`,
///   `round 24 x 6 cm`, `23 cm springform`. Numbers without a unit are inches up to 18, else
///   centimetres; the depth stands last, two sides in either order. Two measures without a kind
///   are the sides of a known oblong pan (`9x13 in`), or across and depth of a known round tin
///   (`9x2 in`); what is neither is asked about. What it is said to hold is held against the table:
///   `1 litre pie dish` is the one that holds about as much, `2 litre pie dish` one without measures. A
///   count of them is left out, see [`counted`].
/// - `own`: the kitchen's own pans.
///
/// # Errors
/// [`PanError`]: what is not known, means several, or holds nothing.
///
/// # Example
/// ```
/// use recipe::size::pan::find;
/// assert_eq!(find("9x13 in", &[])?.key, "rect_13x9x2");
/// assert_eq!(find("23x13 cm", &[])?.key, "loaf_23x13x7cm");
/// assert!(find("23x11 cm", &[]).is_err());
/// assert_eq!(find("round 23x11 cm", &[])?.name, "round tin");
/// # Ok::<(), recipe::size::pan::PanError>(())
/// ```
pub fn find(words: &str, own: &[OwnPan]) -> Result<Pan, PanError> {
    let (count, words) = counted(words, own)?;
    let below = words.match_indices(['-', '−']).find(|(at, sign)| {
        let figure = words[at + sign.len()..].starts_with(|c: char| c.is_ascii_digit());
        figure && (*at == 0 || words[..*at].ends_with([' ', 'x', 'X', '×']))
    });
    if below.is_some() {
        return Err(PanError::Below {
            words: words.trim().to_owned(),
        });
    }
    if let Some((head, water)) = by_water(words) {
        if !WATER.contains(&water) {
            return Err(PanError::Water {
                words: words.trim().to_owned(),
                water,
            });
        }
        // Its size stands before the water: 'loaf 9x5, 1500 g water'.
        let sized = find(head, &[]).ok().or_else(|| ring(head));
        if let Some(most) = sized.as_ref().and_then(ring_holds)
            && water * ML_PER_GRAM_OF_WATER > most
        {
            return Err(PanError::Tube {
                words: words.trim().to_owned(),
                water,
                most: most / ML_PER_GRAM_OF_WATER,
            });
        }
        return Ok(with_water(words.trim(), sized, Some(water)));
    }
    let words = words.trim();
    let plain = words.to_lowercase();
    let one = plain.strip_suffix('s').filter(|_| count > 1);
    let called = |name: &str| name == plain || Some(name) == one;
    let names = || own.iter().map(|p| (p, p.name.to_lowercase()));
    // 'Blue loaf tin, 23 x 13 cm' is 'blue loaf tin' too.
    let short = |name: &str| name.split(',').next().is_some_and(called);
    let mine = names().find(|(_, name)| called(name));
    if let Some((pan, _)) = mine.or_else(|| names().find(|(_, name)| short(name))) {
        return of_own(pan);
    }
    let mut known = all().iter().zip(NAMES.iter());
    if let Some((pan, _)) = known.find(|(p, names)| p.key == plain || names.contains(&plain)) {
        return Ok(pan.clone());
    }
    if is_shaped(&plain) {
        return Err(PanError::Shaped {
            words: words.to_owned(),
        });
    }
    by_tube(words)
        .or_else(|| by_hollows(words))
        .or_else(|| holds::find(words, true))
        .unwrap_or_else(|| sized(words, true))
}

/// What the pans of the table are called, in small letters, in their order.
pub(super) static NAMES: LazyLock<Vec<[String; 2]>> = LazyLock::new(|| {
    let small = |p: &Pan| [p.called(), p.words()].map(|n| n.to_lowercase());
    all().iter().map(small).collect()
});

/// The pan of a kind and measures; `strict` where every word has to be of pans.
pub(super) fn sized(words: &str, strict: bool) -> Result<Pan, PanError> {
    let plain = deep_last(&without_twin(&bracketed(&words.to_lowercase())));
    let (numbers, rest) = measures(&plain);
    let text: Vec<&str> = rest
        .split(|c: char| !c.is_alphanumeric())
        .filter(|w| !w.is_empty())
        .collect();
    let kind = kind_of(&text);
    if numbers.is_empty() {
        return named(words, &text, kind);
    }
    if let Some(word) = text.iter().find(|w| strict && !known_word(w)) {
        return Err(PanError::Word {
            words: words.to_owned(),
            word: (*word).to_owned(),
        });
    }
    let most = numbers.iter().map(|n| n.0).fold(0.0, f64::max);
    let usual = if most <= MOST_INCHES { INCH } else { 1.0 };
    let in_unit = |bare: f64| -> (Vec<f64>, bool) {
        let sizes: Vec<f64> = numbers.iter().map(|n| n.0 * n.1.unwrap_or(bare)).collect();
        let inches = (numbers[0].1.unwrap_or(bare) - INCH).abs() < 1e-9;
        (in_order(sizes, kind.map(|k| k.2)), inches)
    };
    let (mut sizes, mut inches) = in_unit(usual);
    let mut known = standard(&sizes, inches, kind, &text);
    if known.is_empty() && numbers.iter().all(|n| n.1.is_none()) {
        // Without a unit, the one in which there is such a pan.
        let other = in_unit(if inches { 1.0 } else { INCH });
        let found = standard(&other.0, other.1, kind, &text);
        if !found.is_empty() {
            ((sizes, inches), known) = (other, found);
        }
    }
    for (i, cm) in sizes.iter().enumerate() {
        let what = match (i, sizes.len()) {
            (0, _) => "length",
            (i, n) if i + 1 == n => "depth",
            _ => "width",
        };
        if !MEASURES.contains(cm) {
            return Err(PanError::Measure {
                words: words.to_owned(),
                what,
                cm: *cm,
            });
        }
    }
    let round = kind.is_some_and(|k| k.2 != Kind::Oblong);
    let depth = sizes.get(if round { 1 } else { 2 });
    if let Some(&cm) = depth.filter(|cm| **cm > DEEPEST) {
        return Err(PanError::Deep {
            words: words.to_owned(),
            cm: (cm * 10.0).round() / 10.0,
        });
    }
    let new = |name, shape, sizes: &[f64], fill| {
        let pan = new(words, name, shape, sizes, inches, fill);
        let odd = |(wide, deep): (f64, f64)| PanError::Odd {
            words: words.to_owned(),
            wide: (wide * 10.0).round() / 10.0,
            deep: (deep * 10.0).round() / 10.0,
        };
        narrow(&pan).map_or(Ok(pan), |sizes| Err(odd(sizes)))
    };
    match (known.as_slice(), kind) {
        // Tartlet tins come singly: measures are those of one.
        ([six], _) if is_set(six) => return Ok(single(words, six)),
        ([one], _) => return Ok(as_written(words, one, &sizes, inches)),
        ([], Some(&(_, _, Kind::Ring, _))) => {
            return Err(PanError::Ring {
                words: words.to_owned(),
            });
        }
        ([], Some(&(word, name, shape, fill))) => {
            let oblong = word == BROWNIE && sizes.len() == 3 && sizes[0] > sizes[1];
            let name = if oblong { "oblong tin" } else { name };
            let whole = |n| sizes.len() == n;
            if shape == Kind::Round && whole(2) || shape == Kind::Oblong && whole(3) {
                return new(name, shape, &sizes, fill);
            }
            let square = name == "square tin" && whole(2) && sizes[1] <= sizes[0] * SQUARE_DEPTH;
            if shape == Kind::Oblong && square {
                return new(name, shape, &[sizes[0], sizes[0], sizes[1]], fill);
            }
            if whole(1) || shape == Kind::Oblong && whole(2) {
                return Err(PanError::Depth {
                    words: words.to_owned(),
                });
            }
        }
        ([], None) if sizes.len() == 3 => {
            return new("oblong tin", Kind::Oblong, &sizes, (0.5, 0.6));
        }
        // No tin is deeper than it is a third as wide.
        ([], None) if sizes.len() == 2 && sizes[0].min(sizes[1]) >= LEAST_SIDE => {
            return Err(PanError::Depth {
                words: words.to_owned(),
            });
        }
        ([], None) if sizes.len() == 2 => {
            return Err(PanError::Two {
                words: words.to_owned(),
            });
        }
        (several, _) if several.len() > 1 => {
            return Err(PanError::Several {
                words: words.to_owned(),
                names: called(several),
                keys: several.iter().map(|p| p.key.clone()).collect(),
            });
        }
        ([], _) if sizes.len() == 1 => {
            return Err(PanError::Depth {
                words: words.to_owned(),
            });
        }
        _ => {}
    }
    Err(PanError::Unknown {
        words: words.to_owned(),
        near: near(&text, kind.map(|k| k.1)),
    })
}

/// A pan of the table with the measures it is written with, where they are of the other unit: two tins of 23 and
/// 20 cm are to one another as these, not as 9 and 8 inches.
fn as_written(words: &str, pan: &Pan, cm: &[f64], inches: bool) -> Pan {
    let mm = |i: usize| Length::millimetres(cm[i] * 10.0);
    let depth = match (pan.outline, cm.len()) {
        _ if pan.inches == inches || pan.base.is_some() || pan.hollows > 1 => return pan.clone(),
        (Outline::Round { .. }, 2) => 1,
        (Outline::Oblong { .. }, 3) => 2,
        _ => return pan.clone(),
    };
    let outline = match pan.outline {
        Outline::Oblong { .. } => Outline::Oblong {
            long: mm(0),
            wide: mm(1),
        },
        _ => Outline::Round { across: mm(0) },
    };
    Pan {
        key: words.to_owned(),
        outline,
        depth: Some(mm(depth)),
        inches,
        ..pan.clone()
    }
}

/// The longer of two sides first: both orders are written.
fn in_order(mut sizes: Vec<f64>, kind: Option<Kind>) -> Vec<f64> {
    let three = sizes.len() == 3;
    let two = sizes.len() == 2 && kind != Some(Kind::Round) && kind != Some(Kind::Ring);
    if (three || two) && sizes[0] < sizes[1] {
        sizes.swap(0, 1);
    }
    sizes
}

/// A pan of the kitchen's own: what it holds as measured, its size from its name.
fn of_own(pan: &OwnPan) -> Result<Pan, PanError> {
    let of_tube = by_tube(&pan.name).and_then(Result::ok);
    let sized = of_tube.or_else(|| sized(&pan.name, false).ok());
    let water = pan.water.filter(|w| w.is_finite() && *w > 0.0);
    if water.is_none() && sized.is_none() {
        return Err(PanError::Unmeasured {
            name: pan.name.clone(),
        });
    }
    Ok(with_water(&pan.name, sized, water))
}

/// A pan of these measures, cm, the depth last.
pub(super) fn new(
    words: &str,
    name: &str,
    kind: Kind,
    cm: &[f64],
    inches: bool,
    fill: (f64, f64),
) -> Pan {
    let mm = |i: usize| Length::millimetres(cm[i] * 10.0);
    let last = cm.len() - 1;
    let outline = match kind {
        Kind::Round => Outline::Round { across: mm(0) },
        Kind::Ring => Outline::Ring {
            across: mm(0),
            tube: None,
        },
        Kind::Oblong => Outline::Oblong {
            long: mm(0),
            wide: mm(last - 1),
        },
    };
    Pan {
        key: words.to_owned(),
        outline,
        depth: Some(mm(last)),
        ..made(name, inches, fill)
    }
}

pub(super) fn made(name: &str, inches: bool, fill: (f64, f64)) -> Pan {
    Pan {
        key: String::new(),
        name: name.to_owned(),
        outline: Outline::Basin,
        base: None,
        depth: None,
        hollows: 1,
        charted: None,
        doubtful: false,
        water: None,
        fill: share(fill.0, fill.1),
        inches,
        usual_in: "",
        source: "the measures given; volume by arithmetic",
        status: Status::CommonPractice,
        note: "",
    }
}

/// The numbers in words with the cm of their unit, and the words without them. A unit counts for
/// the numbers before it that have none, the last one for those behind it too.
pub(super) fn measures(plain: &str) -> (Vec<(f64, Option<f64>)>, String) {
    let spaced: String = plain
        .chars()
        .map(|c| match c {
            '×' | '*' => 'x',
            '-' | '_' => ' ',
            '″' | '”' => '"',
            c => c,
        })
        .collect();
    let mut pieces: Vec<String> = Vec::new();
    let mut last = ' ';
    for c in spaced.chars() {
        let digit =
            |c: char| c.is_ascii_digit() || matches!(c, '.' | ',' | '/') || fraction(c).is_some();
        let class = |c: char| (digit(c), c.is_whitespace(), c == '"');
        match pieces.last_mut() {
            Some(piece) if class(c) == class(last) && !piece.is_empty() => piece.push(c),
            _ => pieces.push(c.to_string()),
        }
        last = c;
    }
    let mut numbers: Vec<(f64, Option<f64>)> = Vec::new();
    let (mut unit, mut rest) = (None, String::new());
    let mut whole = false;
    let mut pieces = pieces
        .iter()
        .map(|p| p.trim())
        .filter(|p| !p.is_empty())
        .peekable();
    while let Some(piece) = pieces.next() {
        // 'Nine-inch' is '9-inch'.
        let next = pieces
            .peek()
            .is_some_and(|next| millimetres(next).is_some());
        if let Some(n) = number_word(piece).filter(|_| next) {
            numbers.push((f64::from(n), None));
            continue;
        }
        let piece = match piece.strip_suffix('x') {
            Some(before @ ("cm" | "mm" | "in")) => before,
            _ => piece.trim_end_matches(['.', ',']),
        };
        if let Some(mm) = millimetres(piece) {
            unit = Some(mm / 10.0);
            for n in numbers.iter_mut().filter(|n| n.1.is_none()) {
                n.1 = unit;
            }
            continue;
        }
        // '8 1/2' is one number.
        let part = std::mem::take(&mut whole)
            && (piece.contains('/') || piece.chars().all(|c| fraction(c).is_some()));
        match (figure(piece), piece) {
            (Some(n), _) if part => {
                if let Some(last) = numbers.last_mut() {
                    last.0 += n;
                }
            }
            (Some(n), _) if piece.starts_with(|c: char| !c.is_alphabetic()) => {
                whole = n.fract() == 0.0;
                numbers.push((n, None));
            }
            (_, "x" | "by" | "") => {}
            // 'loaf tin 900 g': a weight is no measure of it.
            (_, "g" | "kg" | "lb" | "oz" | "ml" | "l" | "litre" | "litres") => {
                numbers.pop();
            }
            (_, word) => {
                rest.push_str(word);
                rest.push(' ');
            }
        }
    }
    for n in numbers.iter_mut().filter(|n| n.1.is_none()) {
        n.1 = unit;
    }
    (numbers, rest)
}

/// Measures of a pan of the table, cm, the depth last.
fn of_table(pan: &Pan) -> Vec<f64> {
    let mut mm = match pan.outline {
        Outline::Round { across } | Outline::Ring { across, .. } => vec![across],
        Outline::Oblong { long, wide } => vec![long, wide],
        Outline::Basin => Vec::new(),
    };
    mm.extend(pan.depth);
    mm.iter().map(|l| l.as_millimetres() / 10.0).collect()
}

/// Pans of the table of these measures and this kind.
fn standard(
    sizes: &[f64],
    inches: bool,
    said: Option<&KindRow>,
    text: &[&str],
) -> Vec<&'static Pan> {
    let kind = said.map(|k| k.2);
    let same = |a: f64, b: f64| (a / b - 1.0).abs() <= SAME;
    let fits = |pan: &&Pan| {
        let own = of_table(pan);
        let full = own.len() == sizes.len() && own.iter().zip(sizes).all(|(a, b)| same(*a, *b));
        let short =
            own.len() == sizes.len() + 1 && own.iter().zip(sizes).all(|(a, b)| same(*a, *b));
        let square = own.len() == 3
            && same(own[0], own[1])
            && sizes.len() <= 2
            && same(own[0], sizes[0])
            && sizes.get(1).is_none_or(|d| same(own[2], *d));
        let is = match pan.outline {
            Outline::Round { .. } => Some(Kind::Round),
            Outline::Oblong { .. } => Some(Kind::Oblong),
            Outline::Ring { .. } => Some(Kind::Ring),
            Outline::Basin => None,
        };
        // Of measures alone: no tin of many hollows. What is filled with a filling, a tart's or a
        // pie's, is meant only where it is called so: a round tin of its size takes half as much.
        let plain = said.is_some() || pan.hollows == 1 && is != Some(Kind::Ring);
        let lined = pan.fill.low().get() >= FILLING;
        let called = text
            .iter()
            .any(|w| !says_nothing(w) && (pan.name.contains(w) || pan.key.contains(w)));
        plain
            && (full || short || square && text.contains(&"square"))
            && kind.is_none_or(|k| Some(k) == is)
            && (!lined || called)
    };
    let mut all: Vec<&Pan> = all().iter().filter(fits).collect();
    // Batter goes into a deep tin of these sides where there is one.
    let deep = |p: &&Pan| p.depth.is_some_and(|d| d.as_millimetres() > SHALLOW * 10.0);
    if sizes.len() == 2 && said.is_none_or(|k| k.0 == BROWNIE) && all.iter().any(deep) {
        all.retain(deep);
    }
    // What is called so comes before what is only as large.
    let called: Vec<&Pan> = all
        .iter()
        .copied()
        .filter(|p| {
            let own = |w: &str| p.name.contains(w) || p.key.contains(w);
            let plain = |w: &&str| !says_nothing(w);
            text.iter().filter(|w| plain(w)).any(|w| own(w))
                || said.is_some_and(|k| own(k.0) || own(k.1))
        })
        .collect();
    // A kind that was said is not another that is as large.
    let mut found = if called.is_empty() && said.is_none_or(|k| k.0 == BROWNIE) {
        all
    } else {
        called
    };
    let full: Vec<&Pan> = found
        .iter()
        .copied()
        .filter(|p| {
            let own = of_table(p);
            own.len() == sizes.len() && own.iter().zip(sizes).all(|(a, b)| same(*a, *b))
        })
        .collect();
    if !full.is_empty() {
        found = full;
    }
    // Written in the unit that was asked in.
    if found.iter().any(|p| p.inches == inches) {
        found.retain(|p| p.inches == inches);
    }
    // The same pan under two keys, in inches and in centimetres.
    found.truncate(if found.len() > 1 && alike(&found) {
        1
    } else {
        6
    });
    found
}

fn alike(pans: &[&Pan]) -> bool {
    let first = of_table(pans[0]);
    pans.iter().all(|p| {
        let own = of_table(p);
        p.name == pans[0].name
            && own.len() == first.len()
            && own
                .iter()
                .zip(&first)
                .all(|(a, b)| (a / b - 1.0).abs() <= SAME)
    })
}

pub(super) fn called(pans: &[&Pan]) -> Vec<String> {
    pans.iter().map(|p| p.called()).collect()
}

/// Whether a pan of the table is a set of tartlet tins, each a tin of its own.
fn is_set(pan: &Pan) -> bool {
    pan.hollows > 1 && pan.name.starts_with("tartlet")
}

/// One of a set of tins.
fn single(words: &str, set: &Pan) -> Pan {
    Pan {
        key: words.to_owned(),
        name: "tartlet tin".to_owned(),
        hollows: 1,
        ..set.clone()
    }
}

/// Words without a measure: the one pan that is called so.
fn named(words: &str, text: &[&str], kind: Option<&KindRow>) -> Result<Pan, PanError> {
    let set = text.contains(&"tins");
    let more: Vec<&str> = text.iter().copied().filter(|w| !ANY.contains(w)).collect();
    let text = if more.is_empty() { text } else { &more[..] };
    let one = |w: &str| w.strip_suffix('s').unwrap_or(w).to_owned();
    let all_in = |p: &&Pan| {
        let name = format!("{} {}", p.name, p.key);
        let name: Vec<String> = name.split([' ', '_', ',']).map(one).collect();
        !text.is_empty() && text.iter().all(|w| name.contains(&one(w)))
    };
    let found: Vec<&Pan> = all().iter().filter(all_in).collect();
    match found.as_slice() {
        [six] if is_set(six) && !set => Ok(single(words, six)),
        [one] => Ok((*one).clone()),
        [] => Err(PanError::Unknown {
            words: words.to_owned(),
            near: near(text, kind.map(|k| k.1)),
        }),
        several => Err(PanError::Several {
            words: words.to_owned(),
            names: called(&several[..several.len().min(8)]),
            keys: several.iter().map(|p| p.key.clone()).collect(),
        }),
    }
}

/// Pans that share a word, or the beginning of one, by name and size.
fn near(text: &[&str], name: Option<&str>) -> Vec<String> {
    let close = |p: &&Pan| {
        name.is_some_and(|n| p.name == n)
            || text
                .iter()
                .any(|w| w.get(..3).is_some_and(|begin| p.key.starts_with(begin)))
    };
    called(&all().iter().filter(close).take(4).collect::<Vec<_>>())
}
