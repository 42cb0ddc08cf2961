//! Dividing and rolling out: what a dough too soft to roll does instead, how far it rolls.

use super::{Notes, PRACTICE};
use crate::recipe::Step;
use crate::sentences::each;

/// What hands make of a dough, that one too soft to roll does not give.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(in crate::rework) enum Rolled {
    /// 'Divide in 8 balls'.
    Balls,
    /// 'Roll into ropes', 'plait three strands', 'shape into rings'.
    Strands,
}

impl Rolled {
    /// What a step makes by hand.
    pub(in crate::rework) fn of(text: &str) -> Option<Self> {
        let text = text.to_lowercase();
        let makes = |things: &[&str]| {
            each(&text).any(|sentence| {
                let has = |list: &[&str]| {
                    let mut words = sentence.split(|c: char| !c.is_alphanumeric());
                    words.any(|w| list.contains(&w))
                };
                has(&[
                    "divide", "split", "portion", "shape", "roll", "form", "cut", "make", "join",
                    "twist", "plait", "braid",
                ]) && has(things)
            })
        };
        if makes(&[
            "rope", "ropes", "strand", "strands", "plait", "plaits", "braid", "braids", "knot",
            "knots", "ring", "rings",
        ]) {
            Some(Self::Strands)
        } else {
            makes(&["ball", "balls"]).then_some(Self::Balls)
        }
    }

    /// Its name.
    pub(in crate::rework) fn word(self) -> &'static str {
        match self {
            Self::Balls => "balls",
            Self::Strands => "strands",
        }
    }

    /// What to do instead with a dough that is too soft.
    pub(in crate::rework) fn instead(self) -> &'static str {
        match self {
            Self::Balls => {
                "weigh out the pieces, scoop them with oiled hands and smooth them with wet ones"
            }
            Self::Strands => {
                "pipe the strands onto oiled paper through a wide nozzle, or roll them on it with oiled hands, and lay them where they will bake"
            }
        }
    }
}

/// Above this hydration, %, a dough is too soft to roll into balls or strands (common practice, no source).
pub(in crate::rework) const WET: f64 = 90.0;
/// Grams of raw dough in a millilitre: common practice, no source.
const DENSITY: f64 = 1.1;
/// Sides so near the page's are the page's.
const NEAR: f64 = 0.04;
/// Words after which a dough is in several pieces.
const PIECES: &[&str] = &[
    "half", "halves", "each", "divide", "divided", "pieces", "portions", "quarters", "thirds",
    "split", "balls",
];

fn divides(text: &str) -> bool {
    let text = text.to_lowercase();
    text.split(|c: char| !c.is_alphabetic())
        .any(|w| PIECES.contains(&w))
}

/// How far a dough reaches at the thickness asked for, where the page gives two sides.
///
/// # Inputs
/// - `text`: the step; `earlier`: the steps before it.
/// - `instead`: the note, with the thickness in it: `roll to 5–7 mm`.
/// - `grams`: the dough's weight, in one piece.
///
/// # Source
/// Area = weight ÷ (1.1 g/mL × thickness); the page's proportions are kept.
pub(super) fn rolled(text: &str, earlier: &[&str], instead: &str, grams: f64) -> Option<String> {
    let (low, high) = thickness(instead)?;
    let (at, a, b, unit, cm) = sides(text)?;
    let page = format!("{a} × {b} {unit}");
    let before = text.get(..at).unwrap_or_default();
    if divides(before) || earlier.iter().any(|t| divides(t)) || grams <= 0.0 {
        return Some(format!(
            "The page’s {page} is for wheat dough: go by the thickness."
        ));
    }
    let area = |mm: f64| grams / (DENSITY * mm / 10.0);
    let middle = (low + high) / 2.0;
    let scale = (area(middle) / (a * b * cm * cm)).sqrt();
    let is = format!(
        "This dough, {:.0} g, covers about {:.0} cm² at {middle:.0} mm ({:.0}–{:.0} cm²)",
        grams,
        tens(area(middle)),
        tens(area(high)),
        tens(area(low)),
    );
    Some(if (scale - 1.0).abs() < NEAR {
        format!("{is}: about the page’s {page}.")
    } else {
        format!(
            "{is}: {:.0} × {:.0} {unit}, not the page’s {page}.",
            a * scale,
            b * scale
        )
    })
}

fn tens(x: f64) -> f64 {
    (x / 10.0).round() * 10.0
}

/// `5–7 mm` in a text, in mm.
fn thickness(text: &str) -> Option<(f64, f64)> {
    let before = text.split(" mm").next().filter(|b| b.len() < text.len())?;
    let (low, high) = before.rsplit(' ').next()?.split_once('–')?;
    Some((low.parse().ok()?, high.parse().ok()?))
}

/// Two sides of a sheet: where they stand, the figures, `cm` or `in`, and centimetres in one.
/// `40 × 30 cm`, `40cm x 30cm`, `16-by-12-inch`.
pub(crate) fn sides(text: &str) -> Option<(usize, f64, f64, &'static str, f64)> {
    let is_part = |c: char| c.is_ascii_digit() || c == '.';
    let number = |t: &str| -> Option<(f64, usize)> {
        let end = t.find(|c| !is_part(c)).unwrap_or(t.len());
        Some((t.get(..end)?.trim_end_matches('.').parse().ok()?, end))
    };
    let unit = |t: &str| -> Option<(&'static str, f64, usize)> {
        let gap = t.len() - t.trim_start_matches([' ', '-', '\u{a0}']).len();
        let t = t.get(gap..)?;
        [
            ("centimetre", "cm", 1.0),
            ("centimeter", "cm", 1.0),
            ("cm", "cm", 1.0),
            ("inch", "in", 2.54),
            ("in", "in", 2.54),
            ("\"", "in", 2.54),
            ("″", "in", 2.54),
        ]
        .into_iter()
        .find(|(w, ..)| t.starts_with(w))
        .map(|(w, short, cm)| (short, cm, gap + w.len()))
    };
    let lower = text.to_ascii_lowercase();
    let starts = lower
        .char_indices()
        .filter(|(at, c)| c.is_ascii_digit() && !lower[..*at].ends_with(is_part));
    for (at, _) in starts {
        let Some((a, end)) = number(&lower[at..]) else {
            continue;
        };
        let rest = &lower[at + end..];
        let rest = unit(rest).map_or(rest, |(.., n)| rest[n..].trim_start_matches("es"));
        let rest = rest.trim_start_matches([' ', '-', '\u{a0}', 's']);
        let Some(rest) = ["by", "×", "x"].iter().find_map(|w| rest.strip_prefix(w)) else {
            continue;
        };
        let rest = rest.trim_start_matches([' ', '-', '\u{a0}']);
        let Some((b, end)) = number(rest) else {
            continue;
        };
        if let Some((short, cm, _)) = unit(&rest[end..])
            && a > 0.0
            && b > 0.0
        {
            return Some((at, a, b, short, cm));
        }
    }
    None
}

impl Notes<'_> {
    /// Balls of a yeast dough.
    pub(super) fn balls(&mut self, step: &Step) {
        let style = self.about.style;
        let Some(rolled) = Rolled::of(&step.text) else {
            return;
        };
        if !style.is_yeast_dough() || style.key() == "laminated" {
            return;
        }
        let (n, what, instead) = (step.number, rolled.word(), rolled.instead());
        let text = match (self.about.hydration, rolled) {
            (Some(wet), _) if wet > WET => {
                format!(
                    "Step {n} makes {what}, but at {wet:.0} % hydration this dough is too soft to roll: {instead}."
                )
            }
            (Some(wet), Rolled::Strands) => format!(
                "Step {n} makes strands: at {wet:.0} % hydration this dough can be rolled, but not stretched. Roll them short and thick with oiled hands on the paper they bake on, and lay them over one another there; smooth cracks with a wet finger."
            ),
            // Balls of a firm dough are rolled as ever.
            (Some(_), Rolled::Balls) => return,
            (None, _) => format!(
                "Step {n} makes {what}: where the dough is too soft to roll, as it is above about {WET:.0} % hydration, {instead}."
            ),
        };
        self.say(Some(n), "scoop wet dough", PRACTICE, text);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_sheet_is_as_large_as_its_dough_and_its_thickness() {
        let note = "roll to 5–7 mm between oiled sheets, chill the flat sheet 15–30 minutes.";
        let said = |text: &str, earlier: &[&str], grams| rolled(text, earlier, note, grams);
        // 1176 g ÷ 1.1 g/mL ÷ 0.6 cm = 1782 cm²; √(1782 ÷ 1200) = 1.219.
        assert_eq!(
            said(
                "Roll it to 40 × 30 cm, fill and cut into 12 pieces.",
                &[],
                1176.0
            )
            .as_deref(),
            Some(
                "This dough, 1176 g, covers about 1780 cm² at 6 mm (1530–2140 cm²): 49 × 37 cm, not the page’s 40 × 30 cm."
            )
        );
        let inches = said("Roll to a 16-by-12-inch rectangle", &[], 817.5).expect("inches");
        assert!(inches.ends_with("about the page’s 16 × 12 in."), "{inches}");
        // In pieces no weight is known.
        let half = said("Roll each half to 40cm x 30cm.", &[], 1176.0);
        assert_eq!(
            half.as_deref(),
            Some("The page’s 40 × 30 cm is for wheat dough: go by the thickness.")
        );
        assert_eq!(half, said("Roll to 40 x 30 cm.", &["Divide it."], 1176.0));
        assert_eq!(
            said("Roll it out thinly for 10 minutes.", &[], 1176.0),
            None
        );
        assert_eq!(
            rolled("Roll to 40 × 30 cm.", &[], "roll it out.", 900.0),
            None
        );
    }
}
