//! Pans by what they are said to hold: `2 litre pie dish`, `900 ml loaf tin`, `2-quart baking dish`, `2 lb
//! loaf tin`.

use super::error::PanError;
use super::vocabulary::{kind_of, known_word, says_nothing};
use super::words::{called, made, measures, sized};
use super::{Outline, Pan, all};
use quantity::{Hold, Locale, Spread, Unit, UnitKind, Volume, figure, number_word, unit_words};

/// A standard pan is the one meant where it holds so much more or less than is said: charts of one pan
/// differ by as much (common practice, no source).
const NEAR: f64 = 0.1;
/// Two sizes within this share are the same: 570 ml is a pint.
const ALIKE: f64 = 0.01;
/// The source of a volume that only the recipe says.
pub(super) const STATED: &str = "what it is said to hold";
/// Where no kind is said, pans within this share are offered: a 13 × 9 in dish is charted to hold 3.3 L and
/// sold as one of 3 quarts.
const OFFERED: f64 = 0.17;

/// What words say that a pan holds.
struct Stated {
    /// Millilitres; several where the unit is another in each country.
    ml: Vec<f64>,
    /// Its trade name by weight: pounds of bread.
    pounds: Option<f64>,
    /// The words without it.
    rest: String,
}

/// The pan of words that say what it holds.
///
/// # Inputs
/// - `strict`: every word has to be of pans.
///
/// # Returns
/// `None` where nothing is said of that. Else the standard pan of that kind and volume; where measures
/// are given, the pan of those, if it holds about as much; where no standard pan holds so much, one
/// without measures that does.
///
/// # Errors
/// [`PanError::Several`] where several pans hold as much, or no kind is said; [`PanError::Holds`] where the
/// measures are of a pan that holds much more or less.
pub(super) fn find(words: &str, strict: bool) -> Option<Result<Pan, PanError>> {
    let stated = stated(&words.to_lowercase())?;
    let (numbers, rest) = measures(&stated.rest);
    if let Some(pounds) = stated.pounds {
        return of_weight(words, pounds).filter(|_| numbers.is_empty());
    }
    let text: Vec<&str> = split(&rest);
    if text.is_empty() {
        return None;
    }
    if !numbers.is_empty() {
        return Some(of_measures(words, &stated, strict));
    }
    if let Some(word) = text.iter().find(|w| strict && !known_word(w)) {
        return Some(Err(PanError::Word {
            words: words.to_owned(),
            word: (*word).to_owned(),
        }));
    }
    let kind = kind_of(&text);
    let fill = kind.map(|k| k.3).or_else(|| fill_of(&text));
    let named = |p: &&Pan| {
        let mut said = text.iter().filter(|w| !says_nothing(w));
        said.all(|w| {
            let one = w.strip_suffix('s').unwrap_or(w);
            p.name.contains(one)
                || p.key.contains(one)
                || kind.is_some_and(|k| p.name.contains(k.1))
        })
    };
    let unsaid = text.iter().all(|w| says_nothing(w));
    let within = if unsaid { OFFERED } else { NEAR };
    // Of no kind: a tin of many hollows, a ring, a sheet would be called so; a dish is no tin for a loaf.
    let dish = text.iter().any(|w| w.starts_with("dish"));
    let plain = |p: &&Pan| {
        let ring = matches!(p.outline, Outline::Ring { .. } | Outline::Basin);
        let is = |list: &[&str]| list.iter().any(|w| p.name.contains(w));
        let sheet = is(&["sheet", "tray", "roll"]);
        let tin = dish && is(&["springform", "loaf", "box", "sandwich"]);
        p.hollows == 1 && !(ring || sheet || tin)
    };
    let found = all().iter().filter(named);
    let found = found.filter(|p| !unsaid || plain(p));
    let found: Vec<&Pan> = found.filter(|p| stated.near(p, within)).collect();
    Some(match found.as_slice() {
        // A basin is what it holds: one of 1.2 litres is none of 2 pints.
        [one] if one.outline == Outline::Basin && !stated.near(one, ALIKE) => {
            Ok(stated.unmeasured(words, fill))
        }
        [one] if !unsaid => Ok((*one).clone()),
        [] => Ok(stated.unmeasured(words, fill)),
        several => Err(PanError::Several {
            words: words.to_owned(),
            names: called(&several[..several.len().min(8)]),
            keys: several.iter().map(|p| p.key.clone()).collect(),
        }),
    })
}

/// The pan of measures beside which stands what it holds.
fn of_measures(words: &str, stated: &Stated, strict: bool) -> Result<Pan, PanError> {
    let holds = |pan: &Pan| PanError::Holds {
        words: words.to_owned(),
        said: stated.ml[0],
        ml: hollow(pan).likely().as_millilitres(),
    };
    match sized(stated.rest.trim(), strict) {
        Ok(pan) if stated.may_be(&pan) => Ok(pan),
        Ok(pan) => Err(holds(&pan)),
        Err(PanError::Several { names, keys, .. }) => {
            let of_keys = all().iter().filter(|p| keys.contains(&p.key));
            let mut fits = of_keys.filter(|p| stated.may_be(p));
            match (fits.next(), fits.next()) {
                (Some(one), None) => Ok(one.clone()),
                _ => Err(PanError::Several {
                    words: words.to_owned(),
                    names,
                    keys,
                }),
            }
        }
        Err(other) => Err(other),
    }
}

/// The loaf tin that is sold by the weight of bread: '2 lb', 900 g.
fn of_weight(words: &str, pounds: f64) -> Option<Result<Pan, PanError>> {
    let sold = |p: &&Pan| {
        let name = p.name.split('\'').nth(1);
        let said = name.and_then(|n| n.strip_suffix(" lb")?.parse::<f64>().ok());
        said.is_some_and(|lb| (lb / pounds - 1.0).abs() < 0.03)
    };
    let loaf = kind_of(&split(&words.to_lowercase())).is_some_and(|k| k.1 == "loaf tin");
    all()
        .iter()
        .find(|p| loaf && sold(p))
        .map(|p| Ok(p.clone()))
}

impl Stated {
    /// Whether a pan holds about what is said.
    fn near(&self, pan: &Pan, within: f64) -> bool {
        let ml = hollow(pan).likely().as_millilitres();
        self.ml.iter().any(|s| (ml / s - 1.0).abs() <= within)
    }

    /// Whether a pan may hold what is said, with all that is not sure of its volume.
    fn may_be(&self, pan: &Pan) -> bool {
        let v = hollow(pan);
        let (low, high) = (v.low().as_millilitres(), v.high().as_millilitres());
        let mut said = self.ml.iter();
        said.any(|s| (low * (1.0 - OFFERED)..=high * (1.0 + OFFERED)).contains(s))
    }

    /// A pan of which nothing is known but what it holds.
    fn unmeasured(&self, words: &str, fill: Option<(f64, f64)>) -> Pan {
        let low = self.ml.iter().copied().fold(f64::INFINITY, f64::min);
        let high = self.ml.iter().copied().fold(0.0, f64::max);
        let ml = Volume::millilitres;
        Pan {
            key: words.to_owned(),
            charted: Some(Spread::new(ml(low), ml(f64::midpoint(low, high)), ml(high))),
            source: STATED,
            ..made(words, false, fill.unwrap_or((0.5, 0.6)))
        }
    }
}

/// How far pans of the table that are sold by what they hold are filled, where they are called so: a pudding
/// basin.
fn fill_of(text: &[&str]) -> Option<(f64, f64)> {
    let basin = |p: &&Pan| p.outline == Outline::Basin;
    let called = |p: &&Pan| {
        let mut words = text.iter().filter(|w| !says_nothing(w));
        // Of 'pudding basin, 2 pints' its name, not how large it is.
        let name = split(p.name.split(',').next().unwrap_or_default());
        words.any(|w| name.contains(&w.strip_suffix('s').unwrap_or(w)))
    };
    let pan = all().iter().find(|p| basin(p) && called(p))?;
    Some((pan.fill.low().get(), pan.fill.high().get()))
}

/// What one hollow holds.
fn hollow(pan: &Pan) -> Spread<Volume> {
    pan.volume().scaled(1.0 / f64::from(pan.hollows))
}

fn split(text: &str) -> Vec<&str> {
    let words = text.split(|c: char| !c.is_alphanumeric());
    words.filter(|w| !w.is_empty()).collect()
}

/// What small letters say that a pan holds: the first figure with a unit of volume, or of weight.
fn stated(plain: &str) -> Option<Stated> {
    let mut pieces: Vec<String> = Vec::new();
    // '900 g/2 lb'.
    let parted = |at: usize| plain[..at].ends_with(|c: char| c.is_alphabetic());
    let parts = plain.char_indices().map(|(at, c)| match c {
        '-' | '‑' | '(' | ')' => ' ',
        '/' if parted(at) => ' ',
        c => c,
    });
    let plain: String = parts.collect();
    for word in plain.split_whitespace() {
        // '900ml'.
        let cut = word.find(|c: char| c.is_alphabetic()).unwrap_or(word.len());
        let (figure, unit) = word.split_at(cut);
        let pieces_of = [figure, unit].into_iter().filter(|p| !p.is_empty());
        pieces.extend(pieces_of.map(str::to_owned));
    }
    let number = |text: &str| figure(text).or_else(|| number_word(text).map(f64::from));
    for at in 0..pieces.len() {
        for long in [2, 1] {
            let Some(unit) = pieces.get(at + long) else {
                continue;
            };
            let said = pieces[at..at + long].join(" ");
            let Some(n) = number(&said).filter(|n| *n > 0.0) else {
                continue;
            };
            let Some((ml, pounds)) = one(unit.trim_end_matches(['.', ','])) else {
                continue;
            };
            let rest = pieces[..at].iter().chain(&pieces[at + long + 1..]);
            let rest: Vec<&str> = rest
                .map(String::as_str)
                .filter(|w| *w != "capacity")
                .collect();
            return Some(Stated {
                ml: ml.iter().map(|v| v * n).collect(),
                pounds: pounds.map(|v| v * n),
                rest: rest.join(" "),
            });
        }
    }
    None
}

/// What one of a unit is: millilitres, in each country's, or pounds.
fn one(word: &str) -> Option<(Vec<f64>, Option<f64>)> {
    let known = unit_words().find(|u| u.word == word && u.millilitres.is_none())?;
    let unit = known.unit?;
    if unit.kind() == UnitKind::Mass {
        let Hold::Mass(m) = unit.hold(Locale::Metric) else {
            return None;
        };
        return Some((Vec::new(), Some(m.as_grams() * known.times / 453.592_37)));
    }
    let holds = matches!(
        unit,
        Unit::Cup | Unit::Ml | Unit::L | Unit::Dl | Unit::Pint | Unit::Quart
    );
    // 'c' is no cup of a pan.
    if !holds || word == "c" {
        return None;
    }
    let mut out: Vec<f64> = Vec::new();
    // A basin is sold by pints in both; by quarts and cups only what is sold in the US.
    let countries = [Locale::Us, Locale::Uk];
    for locale in &countries[..if unit == Unit::Pint { 2 } else { 1 }] {
        if let Hold::Volume(v) = unit.hold(*locale) {
            let ml = v.likely().as_millilitres() * known.times;
            if out.iter().all(|had| (had / ml - 1.0).abs() > 0.01) {
                out.push(ml);
            }
        }
    }
    (!out.is_empty()).then_some((out, None))
}

#[cfg(test)]
mod tests {
    use super::super::{Basis, Outline, Pan, PanError, find};

    #[track_caller]
    fn pan(words: &str) -> Pan {
        find(words, &[]).unwrap_or_else(|e| panic!("{words}: {e}"))
    }

    /// Charted volumes: rows of `pans.tsv` with their charts; 1 US cup 236.588 mL, 1 quart 946.353 mL, 1
    /// pint 473.176 mL in the US and 568.261 mL in the UK (NIST Handbook 44, App. C).
    #[test]
    fn a_pan_is_found_by_what_it_holds() {
        for (words, key) in [
            ("1 litre pie dish", "pie_9x1.25"),
            ("950ml pie dish", "pie_9x1.25"),
            ("12-cup bundt pan", "bundt_10x3.5"),
            ("12 cup capacity bundt tin", "bundt_10x3.5"),
            ("1 pint pudding basin", "basin_1pt"),
            ("two pint pudding basin", "basin_2pt"),
            ("2 lb loaf tin", "loaf_23x13x7cm"),
            ("900 g loaf tin", "loaf_23x13x7cm"),
            ("450g/1lb loaf tin", "loaf_15x9x7cm"),
            // Beside its measures.
            ("13 x 9 inch, 3-quart baking dish", "rect_13x9x2"),
            ("loaf tin 23x13 cm, 900 g", "loaf_23x13x7cm"),
        ] {
            assert_eq!(pan(words).key, key, "{words}");
        }
    }

    /// No standard pie dish holds 2 L: it is no 23 cm dish of half that.
    #[test]
    fn a_pan_of_no_table_holds_what_is_said() {
        for (words, ml) in [
            ("2 litre pie dish", 2000.0),
            ("2-litre pie dish", 2000.0),
            ("1½ quart pie dish", 1.5 * 946.353),
            ("200 ml pudding moulds", 200.0),
        ] {
            let pan = pan(words);
            let v = pan.volume();
            assert!(
                (v.likely().as_millilitres() - ml).abs() < 0.1,
                "{words}: {v:?}"
            );
            assert_eq!(
                (pan.outline, pan.basis()),
                (Outline::Basin, Basis::Stated),
                "{words}"
            );
            assert_eq!(super::super::find(&pan.typed(), &[]), Ok(pan), "{words}");
        }
        assert!(pan("2 litre pie dish").fill.likely().get() > 0.85);
    }

    #[test]
    fn what_may_be_several_or_cannot_be_is_asked_about() {
        for (words, names) in [
            ("900 ml loaf tin", "loaf tin, 8 × 4 × 2.5 in"),
            ("2-quart baking dish", "square tin, 8 × 8 × 2 in"),
            ("3-quart baking dish", "oblong tin, 13 × 9 × 2 in"),
        ] {
            let error = find(words, &[]).expect_err(words);
            assert!(
                matches!(error, PanError::Several { .. }),
                "{words}: {error}"
            );
            assert!(error.to_string().contains(names), "{words}: {error}");
        }
        let error = find("23x13x7 cm 900 ml loaf tin", &[]).expect_err("holds twice that");
        assert!(
            error.to_string().contains("about 1842 mL, not 900"),
            "{error}"
        );
        let error = find("2 litre wibble dish", &[]).expect_err("no word of pans");
        assert!(error.to_string().contains("'wibble'"), "{error}");
    }
}
