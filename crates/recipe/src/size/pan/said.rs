//! Pans that a method names: by its words and measures, which often lack the depth.

use super::count::how_many;
use super::error::PanError;
use super::typed;
use super::vocabulary::{is_shaped, kind_word};
use super::words::{MOST_INCHES, find, measures};
use super::{Outline, Pan, by_key};
use crate::own_method::Steps;
use crate::recipe::{Fact, FactKind, Step};
use quantity::Length;
use quantity::typed::length;

/// A pan as a method names it.
#[derive(Debug, Clone, PartialEq)]
pub struct Said {
    /// The pan.
    pub pan: Pan,
    /// The method's words.
    pub words: String,
    /// Whose its depth is.
    pub depth: Depth,
    /// How many of it.
    pub count: u32,
}

impl Said {
    /// The pan that a fact of a step names.
    ///
    /// # Returns
    /// `None` where it has no measures, or they are no pan's, and of other facts.
    #[must_use]
    pub fn of_fact(step: &Step, fact: &Fact) -> Option<Self> {
        let FactKind::Pan { words, sizes } = &fact.kind else {
            return None;
        };
        let count = how_many(&step.text, fact.span.clone()).unwrap_or(1);
        let said = match deep_behind(&step.text, fact.span.end) {
            Some((deep, length)) => {
                let sizes: Vec<Length> = sizes.iter().copied().chain([length]).collect();
                of_words(&format!("{words}, {deep}"), &sizes)
            }
            None => of_words(words, sizes),
        };
        Some(Self { count, ..said? })
    }

    /// The pans with measures that a baker's own method names, in its order.
    #[must_use]
    pub fn of_steps(own: &[Steps]) -> Vec<Self> {
        let texts = own.iter().flat_map(|s| &s.steps);
        let steps = texts.map(|text| crate::read::step(1, text, None));
        let of_step = |s: Step| -> Vec<Self> {
            s.facts
                .iter()
                .filter_map(|f| Self::of_fact(&s, f))
                .collect()
        };
        steps.flat_map(of_step).collect()
    }
}

/// The depth right behind a pan: '20 x 30 cm tin, 2.5 cm deep', '… (5 cm deep)'.
fn deep_behind(text: &str, end: usize) -> Option<(String, Length)> {
    let behind = text.get(end..)?.to_lowercase();
    let behind = behind.trim_start_matches([' ', ',', '(']);
    let behind = ["about ", "at least ", "that is "]
        .iter()
        .find_map(|w| behind.strip_prefix(w))
        .unwrap_or(behind);
    let at = typed::depth(behind).filter(|at| at.start == 0)?;
    let deep = &behind[at];
    let figure = deep.trim_end_matches("deep").replace('-', " ");
    Some((
        deep.to_owned(),
        length(figure.trim(), Length::millimetres(10.0))?,
    ))
}

/// Whose the depth of a named pan is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Depth {
    /// The method's.
    Said,
    /// That of the one standard pan so called and so wide, or that holds so much.
    Standard,
    /// Ours, where several are as wide or none is: that of one of them, else 5 cm (common practice, no
    /// source).
    Usual,
    /// Ours as all its measures are: those of the first such tin of the table of pans.
    Unsaid,
}

impl Depth {
    /// Whether it follows from what the method says.
    #[must_use]
    pub fn is_known(self) -> bool {
        matches!(self, Self::Said | Self::Standard)
    }
}

impl Said {
    /// The same tin where a sponge is baked in it to be rolled up: a shallow one, as far as its depth is not
    /// said.
    #[must_use]
    pub(crate) fn for_rolling_up(self) -> Self {
        let Outline::Oblong { long, wide } = self.pan.outline else {
            return self;
        };
        if self.depth == Depth::Said {
            return self;
        }
        let (sides, unit) = in_own_unit(&[long, wide]);
        let tin = of_words(&format!("roll {sides} {unit}"), &[long, wide]);
        match tin {
            Some(tin) => Self {
                depth: Depth::Usual,
                pan: tin.pan,
                ..self
            },
            None => self,
        }
    }

    /// A sheet, a tray or a sponge-roll tin by its sides alone: as deep as such are.
    ///
    /// # Returns
    /// `None` of other pans, and where its words say its depth or mean none.
    pub(in crate::size) fn shallow(words: &str) -> Option<Self> {
        let kind = kind_word(words).filter(|k| SHALLOW.contains(k))?;
        if !matches!(find(words, &[]), Err(PanError::Depth { .. })) {
            return None;
        }
        let (numbers, _) = measures(&words.to_lowercase());
        let most = numbers.iter().map(|n| n.0).fold(0.0, f64::max);
        let inches = numbers.iter().find_map(|n| n.1);
        let inches = inches.map_or(most <= MOST_INCHES, |cm| cm > 2.5);
        let mm = depths_of(kind, is_deep(words)).1;
        let deep = if inches {
            format!("{} in", mm / 25.4)
        } else {
            format!("{} cm", mm.round() / 10.0)
        };
        let pan = find(&format!("{words}, {deep} deep"), &[]).ok()?;
        Some(Self {
            pan: Pan {
                key: words.to_owned(),
                ..pan
            },
            words: words.to_owned(),
            depth: Depth::Usual,
            count: 1,
        })
    }

    /// Between what depths such a tin is, where that is not said and several are as wide or none is; `None`
    /// of other pans.
    #[must_use]
    pub fn depths(&self) -> Option<(Length, Length)> {
        let kind = kind_word(&self.pan.name).unwrap_or_default();
        let (low, _, high) = depths_of(kind, is_deep(&self.words));
        (self.depth == Depth::Usual).then(|| (Length::millimetres(low), Length::millimetres(high)))
    }

    /// What of the pan is assumed, in words.
    #[must_use]
    pub fn assumed(&self) -> Option<String> {
        let words = match (self.depth, self.depths()) {
            (Depth::Said, _) => return None,
            (Depth::Unsaid, _) => "its measures are assumed".to_owned(),
            (_, None) => "its depth is assumed".to_owned(),
            (_, Some((low, high))) => {
                let (unit, mm) = if self.pan.inches {
                    ("in", 25.4)
                } else {
                    ("cm", 10.0)
                };
                let halves = |l: Length| (l.as_millimetres() / mm * 2.0).round() / 2.0;
                format!(
                    "its depth is assumed (such tins are {} to {} {unit} deep)",
                    halves(low),
                    halves(high)
                )
            }
        };
        Some(words)
    }
}

/// A tin's depth where no one says it, mm: two inches (common practice, no source).
const USUAL_DEPTH: f64 = 50.8;
/// Kinds whose depth few measure, for little changes with it.
const SHALLOW: [&str; 4] = ["sheet", "tray", "jelly", "roll"];
/// How deep tins of a kind are where no one says it, mm: the least, what is taken, the most. The least and
/// the most hold those of the table of pans (common practice, no source).
const DEPTHS: [(&str, (f64, f64, f64)); 17] = [
    ("sheet", (12.7, 25.4, 38.1)),
    ("tray", (12.7, 25.4, 38.1)),
    ("jelly", (12.7, 25.4, 38.1)),
    ("roll", (12.7, 25.4, 38.1)),
    // The tart tins of the table are 2.5 cm deep.
    ("tart", (20.0, 25.4, 50.0)),
    ("flan", (20.0, 25.4, 50.0)),
    ("quiche", (25.4, 40.0, 55.0)),
    ("pizza", (10.0, 15.0, 38.1)),
    ("tartlet", (15.0, 20.0, 40.0)),
    ("pie", (25.4, USUAL_DEPTH, USUAL_DEPTH)),
    ("sandwich", (35.0, USUAL_DEPTH, USUAL_DEPTH)),
    ("spring", (50.0, USUAL_DEPTH, 80.0)),
    ("springform", (50.0, USUAL_DEPTH, 80.0)),
    ("loaf", (USUAL_DEPTH, USUAL_DEPTH, 102.0)),
    ("pullman", (75.0, 101.6, 105.0)),
    ("lidded", (75.0, 101.6, 105.0)),
    // What is none of these.
    ("", (25.4, USUAL_DEPTH, 77.0)),
];

/// The depths of a kind of tin; one that is called deep is as deep as a usual tin at least, and may be as
/// deep as any.
fn depths_of(kind: &str, deep: bool) -> (f64, f64, f64) {
    let any = &DEPTHS[DEPTHS.len() - 1];
    let (low, usual, high) = DEPTHS.iter().find(|d| d.0 == kind).unwrap_or(any).1;
    if deep {
        let least = USUAL_DEPTH;
        (low.max(least), usual.max(least), high.max(any.1.2))
    } else {
        (low, usual, high)
    }
}

fn is_deep(words: &str) -> bool {
    let mut words = words.split(|c: char| !c.is_alphanumeric());
    words.any(|w| w.eq_ignore_ascii_case("deep"))
}

/// Measures of a pan that stands in an oven, mm.
const MEASURES: std::ops::RangeInclusive<f64> = 10.0..=1000.0;

/// The pan that a method's words and measures name.
///
/// # Returns
/// `None` where there are no measures, but for a muffin tin and where one standard pan of its kind holds what
/// is said, or they are no pan's. A dish that is called deep is 5 cm deep at least.
fn of_words(words: &str, measures: &[Length]) -> Option<Said> {
    let said = |pan: Pan, depth| {
        Some(Said {
            pan: Pan {
                key: pan.typed(),
                ..pan
            },
            words: words.to_owned(),
            depth,
            count: 1,
        })
    };
    if is_shaped(words) {
        return None;
    }
    if measures.is_empty() {
        if let Some(Ok(pan)) = super::holds::find(words, false)
            && is_plain(&pan)
        {
            return said(pan, Depth::Standard);
        }
        // Muffin tins are much alike; what one standard pan is called is that; of others nothing is made up.
        let keys = match find(words, &[]) {
            Ok(found) if is_plain(&found) => return said(found, Depth::Unsaid),
            Err(PanError::Several { keys, .. }) => keys,
            _ => Vec::new(),
        };
        kind_word(words).filter(|k| *k == "muffin")?;
        let first = keys.first().map_or("muffin_std", String::as_str);
        return said(by_key(first)?.clone(), Depth::Unsaid);
    }
    let named = by_measures(words, measures);
    if let Some(pan) = &named {
        let oblong = matches!(pan.outline, Outline::Oblong { .. });
        if measures.len() >= if oblong { 3 } else { 2 } {
            return said(pan.clone(), Depth::Said);
        }
    }
    let deep = is_deep(words);
    let shallow = |p: &Pan| {
        let depth = p.depth.map_or(0.0, Length::as_millimetres);
        depth < USUAL_DEPTH - 1e-6
    };
    if let Some(pan) = named.filter(|p| !deep || !shallow(p)) {
        return said(pan, Depth::Standard);
    }
    let kind = kind_word(words).unwrap_or(if are_sides(measures) {
        "oblong"
    } else {
        "round"
    });
    let (sides, unit) = in_own_unit(measures);
    let deep_by_usual = || {
        let mm = depths_of(kind, deep).1;
        let depth = if unit == "in" {
            mm / 25.4
        } else {
            mm.round() / 10.0
        };
        find(&format!("{kind} {sides}x{depth} {unit}"), &[])
    };
    let pan = match find(&format!("{kind} {sides} {unit}"), &[]) {
        Ok(found) if !deep => found,
        Err(PanError::Several { keys, .. }) if !deep => {
            let mut all = keys.iter().filter_map(|k| by_key(k));
            let first = all.clone().next()?;
            all.find(|p| !shallow(p)).unwrap_or(first).clone()
        }
        _ => deep_by_usual().ok()?,
    };
    is_plain(&pan).then(|| said(pan, Depth::Usual)).flatten()
}

/// Whether two measures are the sides of an oblong: no tin is deeper than it is a third as wide, and 12 cm
/// (common practice, no source).
fn are_sides(measures: &[Length]) -> bool {
    let mm: Vec<f64> = measures.iter().map(|l| l.as_millimetres()).collect();
    matches!(mm[..], [a, b] if a.min(b) >= 120.0)
}

/// Measures as the method has them: in cm where all are whole halves of one, else in inches.
fn in_own_unit(measures: &[Length]) -> (String, &'static str) {
    let halves = |l: &Length| (l.as_millimetres() / 5.0, (l.as_millimetres() / 5.0).round());
    let metric = measures
        .iter()
        .map(halves)
        .all(|(n, whole)| (n - whole).abs() < 0.01);
    let (mm, unit) = if metric { (10.0, "cm") } else { (25.4, "in") };
    let tenth = |l: &Length| ((l.as_millimetres() / mm * 10.0).round() / 10.0).to_string();
    let sides: Vec<String> = measures.iter().map(tenth).collect();
    (sides.join("x"), unit)
}

/// The one pan of words and measures.
fn by_measures(words: &str, measures: &[Length]) -> Option<Pan> {
    let found = match find(words, &[]) {
        // Words of other things beside it; a depth is never made up for them.
        Err(PanError::Unknown { .. } | PanError::Word { .. }) if measures.len() > 1 => {
            let cm: Vec<String> = measures
                .iter()
                .map(|l| format!("{:.2}", l.as_millimetres() / 10.0))
                .collect();
            let kind = kind_word(words).unwrap_or_default();
            find(format!("{kind} {} cm", cm.join("x")).trim(), &[])
        }
        found => found,
    };
    found.ok().filter(is_plain)
}

/// Whether a pan has a shape, a depth, and measures that a pan in an oven has.
fn is_plain(pan: &Pan) -> bool {
    let sides = match pan.outline {
        Outline::Round { across } | Outline::Ring { across, .. } => [across, across],
        Outline::Oblong { long, wide } => [long, wide],
        Outline::Basin => return false,
    };
    let mut all = sides.into_iter().chain(pan.depth);
    pan.depth.is_some() && all.all(|l| MEASURES.contains(&l.as_millimetres()))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// What is taken for a tin whose depth nobody says lies in the range that is said of it, and so do the
    /// tins of the table.
    #[test]
    fn a_depth_that_is_taken_is_in_its_range() {
        for (kind, (low, usual, high)) in DEPTHS {
            assert!(low <= usual && usual <= high, "{kind}");
        }
        for pan in super::super::all() {
            let (Some(deep), 1) = (pan.depth, pan.hollows) else {
                continue;
            };
            if matches!(pan.outline, Outline::Ring { .. }) {
                continue;
            }
            let (low, _, high) = depths_of(kind_word(&pan.name).unwrap_or_default(), false);
            let deep = deep.as_millimetres();
            assert!(
                low <= deep && deep <= high,
                "{}: {low} {deep} {high}",
                pan.key
            );
        }
        for (words, range) in [
            ("9-inch springform", "2 to 3"),
            ("9-inch deep pie dish", "2 to 3"),
            ("9-inch deep tart tin", "2 to 3"),
            ("7-inch tart tin", "1 to 2"),
        ] {
            let inches: f64 = words
                .split('-')
                .next()
                .and_then(|n| n.parse().ok())
                .expect("a number");
            let tin = of_words(words, &[Length::inches(inches)]).expect("a tin");
            let assumed = format!("its depth is assumed (such tins are {range} in deep)");
            assert_eq!(tin.assumed().expect("words"), assumed, "{words}");
            let (low, high) = tin.depths().expect("a range");
            let deep = tin.pan.depth.expect("a depth").as_millimetres() + 0.1;
            assert!(
                low.as_millimetres() <= deep && deep <= high.as_millimetres() + 0.2,
                "{words}"
            );
        }
    }

    /// A method that says how wide a tin is and not how deep: the depth is ours, and said to be.
    #[test]
    fn a_depth_that_no_one_says_is_assumed() {
        use Depth::{Said, Standard, Unsaid, Usual};
        let inch =
            |all: &[f64]| -> Vec<Length> { all.iter().map(|n| Length::inches(*n)).collect() };
        for (words, measures, depth, whose) in [
            ("two 8-inch round cake pans", inch(&[8.0]), 2.0, Usual),
            ("9-inch deep pie dish", inch(&[9.0]), 2.0, Usual),
            ("9-inch pie dish", inch(&[9.0]), 1.25, Standard),
            ("9x13-inch pan", inch(&[13.0, 9.0]), 2.0, Standard),
            ("9-inch springform", inch(&[9.0]), 2.5, Usual),
            ("9x2 inch round pan", inch(&[9.0, 2.0]), 2.0, Said),
            ("9x5x3 inch loaf pan", inch(&[9.0, 5.0, 3.0]), 3.0, Said),
        ] {
            let said = of_words(words, &measures).expect(words);
            let deep = said.pan.depth.expect("a depth").as_millimetres() / 25.4;
            assert!((deep - depth).abs() < 0.02, "{words}: {said:?}");
            assert_eq!(said.depth, whose, "{words}");
            let again = find(&said.pan.called(), &[]).expect(words);
            assert_eq!(again.outline, said.pan.outline, "{words}");
        }
        assert!(of_words("a loaf pan", &[]).is_none());
        for (words, key) in [
            ("quarter sheet pan", "quarter_sheet"),
            ("lamington tin", "lamington_30x20x3cm"),
        ] {
            let named = of_words(words, &[]).expect(words);
            assert_eq!(
                (named.pan.key.as_str(), named.depth),
                (key, Unsaid),
                "{words}"
            );
        }
        // What it holds tells which it is, where one holds so much.
        let dish = of_words("1 litre pie dish", &[]).expect("a pie dish");
        assert_eq!(
            (dish.pan.key.as_str(), dish.depth),
            ("pie_9x1.25", Standard)
        );
        let tin = of_words("large greased 2 lb loaf tin", &[]).expect("a loaf tin");
        assert_eq!(tin.pan.key, "loaf_23x13x7cm");
        for words in ["2 litre pie dish", "2-quart baking dish"] {
            assert!(of_words(words, &[]).is_none(), "{words}");
        }
        for (words, hollows) in [
            ("12-hole muffin tin", 12),
            ("a muffin tin", 12),
            ("6-cup muffin pan", 6),
        ] {
            let tin = of_words(words, &[]).expect(words);
            assert_eq!((tin.pan.hollows, tin.depth), (hollows, Unsaid), "{words}");
        }
        // Two sides are no round tin of one of them; a tray is an inch deep.
        let cm = |all: &[f64]| -> Vec<Length> {
            all.iter().map(|n| Length::millimetres(10.0 * n)).collect()
        };
        for (words, measures, called) in [
            (
                "30 x 20 cm tin",
                cm(&[30.0, 20.0]),
                "oblong tin, 30 × 20 × 5",
            ),
            (
                "a 35 x 25 cm tray",
                cm(&[35.0, 25.0]),
                "tray, 35 × 25 × 2.5",
            ),
            ("23 x 11 cm dish", cm(&[23.0, 11.0]), "round tin, 23 × 11"),
            ("9 x 2 inch pan", inch(&[9.0, 2.0]), "round tin, 9 × 2"),
        ] {
            let said = of_words(words, &measures).expect(words);
            assert!(
                said.pan.called().starts_with(called),
                "{words}: {}",
                said.pan.called()
            );
        }
    }
}
