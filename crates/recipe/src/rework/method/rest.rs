//! The rest of a dough or batter: one answer, for the change and for the note.

use super::facts::spread;
use super::rises::NIGHT;
use super::say::minutes;
use super::{PRACTICE, YEASTS};
use crate::aside::taking;
use crate::keeping::how_it_keeps;
use crate::plan::usual_wait;
use crate::recipe::{Activity, Fact, FactKind, Recipe, Step};
use crate::rework::style::Style;
use crate::rework::timing::RestTime;
use crate::sentences::sentence;
use quantity::{Spread, Time};
use std::cmp::Ordering;

/// Soda gives off its gas as soon as it is wet.
const SODA: f64 = 10.0;
/// Powder loses some of its gas while it stands, double-acting powder least.
const POWDER: f64 = 30.0;

/// Yeast that is left to stand for so long raises what it is in, minutes (common practice, no source).
const RISES: f64 = 20.0;

/// So many minutes of rest ripen a dough.
const DAYS: f64 = 1440.0;
/// A night in the fridge in place of days, minutes (common practice, no source).
const NIGHT_FOR_DAYS: [f64; 3] = [480.0, 720.0, 1080.0];

/// What raises a reworked part at once, of its lines.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub(in crate::rework) struct Raised {
    pub soda: bool,
    pub powder: bool,
}

/// The rest a component is to have.
#[derive(Debug, Clone, PartialEq)]
pub(in crate::rework) struct Rest {
    /// The longest rest before the oven that the recipe asks for: its step, what is done, how
    /// long.
    pub stated: Option<(usize, Activity, Spread<Time>)>,
    /// Where none is stated: the last step that rests or chills it without a time, and what is done.
    pub untimed: Option<(usize, Activity)>,
    /// Low, likely, high.
    pub range: Spread<Time>,
    /// `after mixing`, `chilled` …
    pub when: &'static str,
    /// Why.
    pub why: &'static str,
    /// Where the range comes from.
    pub source: String,
    /// What is stated is within the range, a chill of no less, or the night of a yeast dough.
    pub kept: bool,
    /// Soda raises it: the range has no low end.
    pub soda: bool,
    night: bool,
    choux: bool,
}

/// The rest of a component, or `None` where its style has none or its own long ferment stays;
/// `binder` says whether one is in it, `raised` what raises it as reworked, `spoils` whether egg or milk is in it.
pub(in crate::rework) fn of(
    recipe: &Recipe,
    component: usize,
    steps: &[&Step],
    style: Style,
    binder: bool,
    raised: Raised,
    spoils: bool,
) -> Option<Rest> {
    let part = recipe.components.get(component);
    let r = style
        .range("rest_min")
        .filter(|r| r.value.high().get() > 0.0 && r.value.likely().get() > 0.0)?;
    if part.is_some_and(|c| c.beforehand().is_some()) {
        return None;
    }
    let texts: Vec<String> = part.map_or_else(Vec::new, |c| {
        c.lines.iter().map(|l| l.clean.to_lowercase()).collect()
    });
    let names = |words: &[&str]| texts.iter().any(|t| words.iter().any(|w| t.contains(w)));
    let choux = style.key() == "choux";
    let all = rests(steps, choux);
    let stated_at = stated(&all);
    let stated = stated_at.map(|s| (s.step, s.doing, s.time));
    let folds = r.unit.contains("between folds") || choux;
    let untimed = all.iter().rev().map(|w| (w.step, w.doing)).next();
    let untimed = untimed.filter(|_| stated.is_none() && !folds);
    let yeast = names(YEASTS);
    // Soda or powder that goes in behind the rest loses nothing in it.
    let later = stated_at.is_some_and(|w| raised_behind(steps, w.step, w.at));
    // 'Leave for 3 days', 'leave until the yeast bubbles' before the powder goes in: a ferment comes first.
    let is_rest = |what: Activity| what == Activity::Rest;
    let days = stated.is_some_and(|(_, what, t)| is_rest(what) && t.low().as_minutes() > DAYS);
    // Soda or powder that is in from the start would lose its gas.
    let rises = yeast
        && !style.is_yeast_dough()
        && (later || !raised.soda && !raised.powder)
        && stated.is_some_and(|(_, what, t)| is_rest(what) && t.low().as_minutes() >= RISES);
    let quick = matches!(
        style.key(),
        "muffin_quick_bread" | "butter_cake" | "pancake_crepe" | "pizza_flatbread"
    ) && !(style.is_yeast_dough() && yeast)
        && !(later || days || rises);
    let soda = quick && raised.soda;
    let powder = quick && !soda && raised.powder;
    let (low, likely, high) = (
        r.value.low().get(),
        r.value.likely().get(),
        r.value.high().get(),
    );
    let (range, source) = if soda {
        (spread(0.0, SODA, SODA), PRACTICE.to_owned())
    } else if powder && high > POWDER {
        (spread(low, likely.min(POWDER), POWDER), PRACTICE.to_owned())
    } else {
        (spread(low, likely, high), r.cited())
    };
    // What is chilled to be handled stays so: cold, powder works little.
    let chilled = !soda
        && stated.is_some_and(|(_, what, t)| {
            what == Activity::Chill && t.low().as_minutes() >= range.low().as_minutes()
        });
    // A batter of waffles rises overnight as a dough does.
    let night =
        yeast && !(soda || powder) && stated.is_some_and(|(.., t)| t.high().as_minutes() >= NIGHT);
    let within = stated.is_some_and(|(.., t)| {
        t.low().as_minutes() >= range.low().as_minutes()
            && t.high().as_minutes() <= range.high().as_minutes()
    });
    // It chills to be handled by, and as long as in the plan.
    let chill = (!soda && !style.is_yeast_dough())
        .then(|| usual_wait("chill"))
        .flatten();
    let range = match (chill, stated, untimed) {
        (Some(usual), Some((_, Activity::Chill, _)), _) => Spread::new(
            range.low(),
            range.likely(),
            longer_of(range.high(), usual.high()),
        ),
        (Some(usual), None, Some((_, Activity::Chill))) => Spread::new(
            longer_of(range.low(), usual.low()),
            longer_of(range.likely(), usual.likely()),
            longer_of(range.high(), usual.high()),
        ),
        _ => range,
    };
    // 'Rest in a cool place for 3 days': for its taste, not for its water.
    let ripens = !folds && days;
    let [least, usual, most] = NIGHT_FOR_DAYS;
    let (range, source) = match ripens && spoils {
        true => (spread(least, usual, most), PRACTICE.to_owned()),
        false => (range, source),
    };
    let cold = untimed.is_some_and(|(_, a)| a == Activity::Chill);
    let does = |what: Activity| steps.iter().any(|s| super::facts::does(s, what));
    let when = match r.unit.trim_start_matches("min").trim() {
        "chilled" => "chilled",
        _ if ripens && spoils => "chilled",
        _ if cold => "chilled",
        "wrapped" => "wrapped",
        "at 4 C between folds" => "at 4 °C between folds",
        "before shaping" if does(Activity::Shape) => "before shaping",
        "before sheeting" if does(Activity::Roll) => "before rolling out",
        _ if choux => "to cool below 60 °C before the egg goes in",
        _ => "after mixing",
    };
    let why = if ripens && spoils {
        "with egg or milk in it it ripens in the fridge, 24 hours at most (your local rules come first)"
    } else if ripens {
        "its taste ripens and the grit goes in those days"
    } else if rises {
        "the yeast raises it in that time"
    } else if night && binder {
        "the binder drinks and the grit goes in those hours"
    } else if night {
        "the flours drink and the grit goes in those hours"
    } else if soda {
        "soda gives off its gas as soon as it is wet"
    } else if choux {
        "hotter than that, the paste would set the egg"
    } else if powder && binder {
        "the binder drinks and the grit goes while it rests; this is for double-acting powder, with single-acting powder 10 minutes at most"
    } else if powder {
        "the flours drink and the grit goes while it rests; this is for double-acting powder, with single-acting powder 10 minutes at most"
    } else if binder {
        "the binder drinks and the grit goes while it rests"
    } else {
        "the flours drink and the grit goes while it rests"
    };
    Some(Rest {
        stated,
        untimed,
        range,
        when,
        why,
        source,
        kept: !choux && (night || within || chilled || rises || ripens && !spoils),
        soda,
        night,
        choux,
    })
}

/// Whether soda or powder is put in behind a byte of a step, and not before it, by name or among the dry ingredients.
fn raised_behind(steps: &[&Step], rest: usize, at: usize) -> bool {
    let raises = |text: &str| {
        let words = text.split(|c: char| !c.is_alphanumeric());
        let words: Vec<&str> = words.filter(|w| !w.is_empty()).collect();
        let next = |i: usize| words.get(i + 1).copied();
        (0..words.len()).any(|i| match words[i] {
            // 'Soda water' and 'cream soda' are drinks.
            "soda" => {
                let cream = i > 0 && words[i - 1] == "cream";
                !cream && !matches!(next(i), Some("water" | "bread"))
            }
            "baking" => next(i) == Some("powder"),
            word => word.starts_with("bicarb"),
        })
    };
    let dry = |text: &str| text.contains("dry ingredients") || text.contains("dry mix");
    let parts = steps.iter().flat_map(|s| match s.number.cmp(&rest) {
        Ordering::Less => [(true, s.text.as_str()), (false, "")],
        Ordering::Greater => [(true, ""), (false, s.text.as_str())],
        Ordering::Equal => {
            let (before, behind) = s.text.split_at_checked(at).unwrap_or((&s.text, ""));
            [(true, before), (false, behind)]
        }
    });
    let says = |text: &str| raises(&taking(text).to_lowercase());
    let before = |text: &str| {
        let lower = text.to_lowercase();
        // 'The dry ingredients except the baking powder'.
        says(text) || dry(&lower) && !raises(&lower)
    };
    let (early, late): (Vec<_>, Vec<_>) = parts.partition(|(early, _)| *early);
    late.iter().any(|(_, text)| says(text)) && !early.iter().any(|(_, text)| before(text))
}

/// Words by which a method puts the flour in.
const FLOUR: &[&str] = &["flour", "dry ingredients", "dry mix"];
/// Words beside it where it is for the bench or the tin.
const NOT_IN: &[&str] = &[
    "dust", "sprinkl", "floured", "surface", "bench", "counter", "board", "tin", "pan",
];
/// Words of what holds flour already.
const HOLDS_FLOUR: &[&str] = &["dough", "batter", "pastry", "ingredients", "everything"];

/// Whether a text has one of these words.
fn says(text: &str, words: &[&str]) -> bool {
    words.iter().any(|w| text.contains(w))
}

/// Whether a text puts the flour in.
fn goes_in(text: &str) -> bool {
    let mut clauses = text.split(['.', ';', ',']);
    clauses.any(|c| says(c, FLOUR) && !says(c, NOT_IN))
}

/// Whether there is a dough or batter at a byte of a step.
fn is_in_dough(texts: &[String], step: usize, at: usize) -> bool {
    let here = texts[step].get(..at).unwrap_or(&texts[step]);
    let mut before = texts[..step].iter().map(String::as_str).chain([here]);
    before.any(|t| goes_in(t) || says(t, HOLDS_FLOUR))
}

fn longer_of(a: Time, b: Time) -> Time {
    if a.as_minutes() < b.as_minutes() {
        b
    } else {
        a
    }
}

/// A wait of the dough.
#[derive(Clone, Copy)]
struct Waits<T> {
    step: usize,
    /// Where it stands in the step's text.
    at: usize,
    doing: Activity,
    time: T,
}

/// Whether a sentence is of yeast that foams in its liquid.
fn yeast_foams(said: &str) -> bool {
    let foams = ["foam", "froth"].iter().any(|w| said.contains(w));
    foams && said.contains("yeast")
}

/// The rests and chills of the dough before it is cooked, each with its step and its time where that is said; of a choux
/// paste its cooling as well. What stands or chills before the flour goes in, browned butter or foaming yeast, is no
/// rest of the dough.
fn rests(steps: &[&Step], choux: bool) -> Vec<Waits<Option<Spread<Time>>>> {
    let texts: Vec<String> = steps.iter().map(|s| s.text.to_lowercase()).collect();
    let flour_is_in = |step: usize, at: usize| {
        let after = || {
            let rest = texts[step].get(at..).unwrap_or("");
            std::iter::once(rest).chain(texts[step + 1..].iter().map(String::as_str))
        };
        // A method that never names its flour keeps its rest.
        is_in_dough(&texts, step, at) || !after().any(goes_in)
    };
    let facts = steps.iter().enumerate();
    let facts = facts.flat_map(|(i, s)| s.facts.iter().map(move |f| (i, *s, f)));
    // A dough that is steamed, boiled or fried is cooked as well.
    let cooked = |i: usize, f: &Fact| {
        let stove = f.does(Activity::Boil) || f.does(Activity::Fry);
        f.does(Activity::Bake) || stove && !choux && is_in_dough(&texts, i, f.span.start)
    };
    facts
        .take_while(|(i, _, f)| !cooked(*i, f))
        .filter_map(|(i, s, f)| {
            let (time, a) = match f.kind {
                FactKind::Duration {
                    value,
                    doing: Some(a),
                } => (Some(value), a),
                FactKind::Doing(a) => (None, a),
                _ => return None,
            };
            let cools = choux && a == Activity::Cool && time.is_some();
            let rests = matches!(a, Activity::Rest | Activity::Chill) || cools;
            // 'It can be chilled', 'if it is soft, chill it'.
            let at = f.span.start;
            let may = || {
                let said = sentence(&s.text, at).to_lowercase();
                how_it_keeps(&s.text, at, None) || says(&said, &["if ", "can be", "may be"])
            };
            let foams = yeast_foams(&sentence(&s.text, at).to_lowercase());
            let is = rests && flour_is_in(i, at) && !foams && !(time.is_none() && may());
            is.then_some(Waits {
                step: s.number,
                at,
                doing: a,
                time,
            })
        })
        .collect()
}

/// The longest of them.
fn stated(all: &[Waits<Option<Spread<Time>>>]) -> Option<Waits<Spread<Time>>> {
    let timed = all.iter().filter_map(|w| {
        Some(Waits {
            step: w.step,
            at: w.at,
            doing: w.doing,
            time: w.time?,
        })
    });
    timed.max_by(|a, b| {
        let high = |w: &Waits<Spread<Time>>| w.time.high().as_minutes();
        high(a).total_cmp(&high(b))
    })
}

impl Rest {
    /// The same as figures: the stated rest where that is kept.
    pub(in crate::rework) fn time(&self) -> RestTime {
        let stated = self.stated.filter(|_| self.kept);
        RestTime {
            step: self
                .stated
                .filter(|_| !self.choux)
                .map(|(n, ..)| n)
                .or(self.untimed.map(|u| u.0)),
            minutes: stated.map_or(self.range, |(.., t)| t),
            when: self.when,
            why: self.why,
            source: self.source.clone(),
            kept: self.kept,
        }
    }

    /// The change: from, to, range.
    pub(in crate::rework) fn change(&self) -> (String, String, Option<String>) {
        let stated = self.stated.map(|(.., t)| minutes(t));
        let likely = minutes(Spread::exact(self.range.likely()));
        let to = match &stated {
            Some(s) if self.kept => format!("{s}, as it was"),
            _ if self.soda => format!("{likely} at most, {}", self.when),
            _ => format!("{likely}, {}", self.when),
        };
        let range = if self.soda {
            format!("0–{likely}")
        } else {
            minutes(self.range)
        };
        (
            stated.unwrap_or_else(|| match self.untimed {
                Some(_) => "no time said".to_owned(),
                None => "none stated".to_owned(),
            }),
            to,
            (!self.night).then_some(range),
        )
    }

    /// The note; the night of a yeast dough has one of its own.
    pub(super) fn note(&self, what: &str) -> Option<String> {
        if self.night {
            return None;
        }
        let (range, likely) = (
            minutes(self.range),
            minutes(Spread::exact(self.range.likely())),
        );
        let mut why = self.why.to_owned();
        for (who, drinks) in [("the binder", "drinks"), ("the flours", "drink")] {
            why = why.replacen(
                &format!("{who} {drinks} and the grit goes while it rests"),
                &format!("it takes the grit away and lets {who} drink"),
                1,
            );
        }
        let verb = |a| match a {
            Activity::Chill => "chills",
            _ => "rests",
        };
        let timed = self.stated.map(|(n, a, t)| {
            let verb = verb(a);
            format!("Step {n} {verb} it for {}: ", minutes(t))
        });
        let untimed = self.untimed.map(|(n, a)| {
            let verb = verb(a);
            format!("Step {n} {verb} it and says no time: ")
        });
        let lead = timed.or(untimed);
        Some(match lead {
            Some(lead) if self.kept => format!("{lead}keep that; {why}."),
            _ if self.soda => format!("Rest the {what} {likely} at most: {why}."),
            _ if self.choux => {
                format!("Let the paste cool below 60 °C before the egg goes in, {range}: {why}.")
            }
            Some(lead) => format!("{lead}give it {range}, usually {likely}; {why}."),
            None => {
                let when = if self.when == "after mixing" {
                    format!("the {what} after mixing")
                } else {
                    self.when.to_owned()
                };
                format!("Rest {when}: {range}, usually {likely}; {why}.")
            }
        })
    }
}
