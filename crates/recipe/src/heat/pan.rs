//! Pans by their measures.

use super::{HeatError, wrong};
use crate::shape::{self, FitPan, Tin};
use crate::size::pan::{self, OwnPan, PanError, Said};
use quantity::typed::length;
use quantity::{Length, Spread, Volume};

/// What a pan is made of, as far as heat asks.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Make {
    /// Bright metal.
    #[default]
    Light,
    /// Dark or black metal, non-stick coats among them.
    Dark,
    /// Glass or glazed ware.
    Glass,
    /// Silicone.
    Silicone,
}

impl Make {
    /// All.
    pub const ALL: [Self; 4] = [Self::Light, Self::Dark, Self::Glass, Self::Silicone];
    /// The word typed and printed.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Light => "light",
            Self::Dark => "dark",
            Self::Glass => "glass",
            Self::Silicone => "silicone",
        }
    }
    /// The words of a sentence.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Self::Light => "light metal",
            Self::Dark => "dark metal",
            Self::Glass => "glass",
            Self::Silicone => "silicone",
        }
    }
}

/// A pan's plan, or none.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Outline {
    /// Round, m across.
    Round {
        /// Across, m.
        across: f64,
    },
    /// With four sides.
    Square {
        /// The long side, m.
        length: f64,
        /// The short side, m.
        width: f64,
    },
    /// Round a tube.
    Ring {
        /// Across, m.
        across: f64,
        /// The tube, m across.
        hole: f64,
    },
    /// No pan: a ball or roll of dough, m across.
    Free {
        /// Across, m.
        across: f64,
    },
}

/// A pan.
#[derive(Debug, Clone, PartialEq)]
pub struct Pan {
    /// Its plan, inside.
    pub outline: Outline,
    /// Inside depth, m; what is across for a ball.
    pub depth: f64,
    /// What it is made of.
    pub make: Make,
    /// A lid lies on it through the bake, as on the tin of a pain de mie.
    pub lid: bool,
    /// Its sides slope or are fluted: its width is a mean.
    pub slopes: bool,
    /// What it holds to the rim, as charted, measured with water or by its measures; of a tin of
    /// many hollows, one. Nothing without a pan.
    pub holds: Option<Spread<Volume>>,
    /// Its inside, base and rim; nothing without a pan.
    pub tin: Option<Tin>,
    /// What it is read from again, as [`pan::Pan::typed`].
    pub typed: String,
    /// How its words were read: `loaf tin, 9 × 5 × 3 in (23 × 13 × 7.5 cm)`.
    pub read: String,
    /// As typed.
    pub words: String,
}

/// What is said of a pan that is one of many in a tin.
const HOLLOW: &str = ", one hollow";
/// What tins that are sold with a lid are called.
const LIDDED: &str = "lidded";
/// Measures of a pan, cm.
const MEASURES: std::ops::RangeInclusive<f64> = 1.0..=100.0;

/// What it is made of, and the words without that.
fn make_of(words: &str) -> (String, Make) {
    let mut make = Make::Light;
    let mut rest = Vec::new();
    let lower = words.to_lowercase().replace("non-stick", "nonstick");
    for w in lower.split_whitespace() {
        match w.trim_matches([',', ';']) {
            "dark" | "black" | "nonstick" => make = Make::Dark,
            "glass" | "ceramic" | "stoneware" => make = Make::Glass,
            "silicone" => make = Make::Silicone,
            "light" | "metal" | "aluminium" | "aluminum" => {}
            _ => rest.push(w),
        }
    }
    let rest = rest.join(" ");
    (rest.trim_end_matches([',', ';']).to_owned(), make)
}

/// Words beside a lid that are of what is said of it.
const BESIDE: [&str; 9] = [
    "with", "without", "no", "its", "a", "the", "not", "on", "off",
];

/// What words say of a lid, and the words without that: 'with its lid', 'no lid on', 'uncovered'.
fn lid_of(words: &str) -> (String, Option<bool>) {
    let lower = words.to_lowercase();
    let all: Vec<&str> = lower.split_whitespace().collect();
    let bare = |i: usize| all[i].trim_matches(|c: char| !c.is_alphanumeric());
    let is = |w: &str| matches!(w, "lid" | "covered" | "uncovered");
    let unsaid = (words.to_owned(), None);
    let Some(at) = (0..all.len()).find(|i| is(bare(*i))) else {
        return unsaid;
    };
    let lies = |i: &usize| BESIDE.contains(&bare(*i));
    let from = (0..at).rev().take_while(lies).last().unwrap_or(at);
    let to = (at + 1..all.len())
        .take_while(|i| matches!(bare(*i), "on" | "off"))
        .last()
        .unwrap_or(at);
    let said: Vec<&str> = (from..=to).map(bare).collect();
    let has = |any: &[&str]| said.iter().any(|w| any.contains(w));
    let lid = if has(&["without", "no", "not", "off", "uncovered"]) {
        false
    } else if has(&["with", "on", "covered"]) {
        true
    } else {
        return unsaid;
    };
    let rest = [&all[..from], &all[to + 1..]].concat().join(" ");
    (rest.trim_matches([' ', ',', ';']).to_owned(), Some(lid))
}

fn tenth(cm: f64) -> String {
    let v = (cm * 10.0).round() / 10.0;
    v.to_string()
}

impl Pan {
    /// Reads a pan as [`crate::size::pan::find`] does, the one reader of pans: a key (`round_9x2`), `9x5x3 in`
    /// (length, width, depth), `round 23 x 5 cm` (across, depth), a known pan by its sides (`9x13 in`),
    /// with `dark`, `glass` or `silicone` beside it; `8 cm ball` for a piece without a pan.
    ///
    /// # Errors
    /// [`HeatError`] without measures, with a measure outside 1 cm to 1 m, or of a pan without a
    /// plain shape.
    ///
    /// # Example
    /// ```
    /// use recipe::heat::{Make, Outline, Pan};
    /// let tin = Pan::read("9x5x3in dark")?;
    /// assert!((tin.depth - 0.0762).abs() < 1e-9);
    /// assert_eq!(tin.make, Make::Dark);
    /// assert!(matches!(Pan::read("23 x 5 cm")?.outline, Outline::Round { .. }));
    /// assert!(matches!(Pan::read("9x13in")?.outline, Outline::Square { .. }));
    /// assert!(Pan::read("23 x 11 cm").is_err());
    /// # Ok::<(), recipe::heat::HeatError>(())
    /// ```
    pub fn read(text: &str) -> Result<Self, HeatError> {
        Self::read_in(text, &[])
    }

    /// The same with a kitchen's own pans, by their names.
    ///
    /// # Errors
    /// As [`Pan::read`].
    pub fn read_in(text: &str, own: &[OwnPan]) -> Result<Self, HeatError> {
        let words = text.trim();
        if own.iter().any(|p| p.name.eq_ignore_ascii_case(words))
            && let Ok(found) = pan::find(words, own)
        {
            return Self::of(&found, make_of(words).1, words);
        }
        let (open, lid) = lid_of(words);
        let (rest, make) = make_of(&open);
        let ball = rest
            .split_whitespace()
            .any(|w| matches!(w, "ball" | "bun" | "piece"));
        if ball {
            let plain: Vec<&str> = rest
                .split_whitespace()
                .filter(|w| !matches!(*w, "ball" | "bun" | "piece" | "of" | "a"))
                .collect();
            let across = length(&plain.join(" "), Length::millimetres(10.0))
                .map(|l| l.as_millimetres() / 10.0);
            return match across {
                Some(cm) if MEASURES.contains(&cm) => Ok(Self {
                    outline: Outline::Free { across: cm / 100.0 },
                    depth: cm / 100.0,
                    make,
                    lid: lid == Some(true),
                    slopes: false,
                    holds: None,
                    tin: None,
                    typed: format!("{} cm ball", tenth(cm)),
                    read: format!("ball of {} cm", tenth(cm)),
                    words: words.to_owned(),
                }),
                _ => wrong(format!(
                    "'{words}' is no ball: write from 1 cm to 1 m across, as in 8 cm ball"
                )),
            };
        }
        let found = pan::find(&rest, own).map_err(|e| HeatError(e.to_string()))?;
        Ok(Self::of(&found, make, words)?.with_lid(lid))
    }

    fn with_lid(self, lid: Option<bool>) -> Self {
        Self {
            lid: lid.unwrap_or(self.lid),
            ..self
        }
    }

    fn of(found: &pan::Pan, make: Make, words: &str) -> Result<Self, HeatError> {
        let m = |l: Length| l.as_millimetres() / 1000.0;
        let outline = match found.outline {
            pan::Outline::Round { across } => Outline::Round {
                across: found
                    .base
                    .map_or(m(across), |b| f64::midpoint(m(across), m(b))),
            },
            pan::Outline::Oblong { long, wide } => Outline::Square {
                length: m(long),
                width: m(wide),
            },
            pan::Outline::Ring { across, .. } => Outline::Ring {
                across: m(across),
                hole: found.tube().map_or(0.0, m),
            },
            pan::Outline::Basin if found.water.is_some() => {
                return wrong(format!(
                    "'{}' has no measures, which heat needs: write them in its line on the Kitchen page, as in '{} 23x13x7 cm'",
                    found.name, found.name
                ));
            }
            pan::Outline::Basin => {
                return wrong(format!(
                    "'{words}' has no plain shape that heat is worked out for: write the measures of a pan that is nearest to it, as in round 23x5 cm"
                ));
            }
        };
        let Some(depth) = found.depth.map(m) else {
            return wrong(format!(
                "'{words}' has no depth: write it last, as in round 23x5 cm"
            ));
        };
        let sides = match outline {
            Outline::Round { across } | Outline::Free { across } => vec![across, depth],
            Outline::Square { length, width } => vec![length, width, depth],
            Outline::Ring { across, .. } => vec![across, depth],
        };
        if let Some(bad) = sides
            .iter()
            .map(|v| v * 100.0)
            .find(|v| !MEASURES.contains(v))
        {
            return wrong(format!(
                "'{words}': a measure of {} cm is no pan's: write from 1 cm to 1 m",
                tenth(bad)
            ));
        }
        let hollow = if found.hollows > 1 { HOLLOW } else { "" };
        Ok(Self {
            outline,
            depth,
            make,
            lid: found.name.contains(LIDDED),
            slopes: found.base.is_some() || matches!(outline, Outline::Ring { .. }),
            holds: Some(found.volume().scaled(1.0 / f64::from(found.hollows))),
            tin: shape::tin_of(found),
            typed: found.typed(),
            read: format!("{}{hollow}", found.words()),
            words: words.to_owned(),
        })
    }

    /// The same as a dough is fitted into it; nothing without a pan.
    #[must_use]
    pub fn to_fit(&self) -> Option<FitPan> {
        Some(FitPan {
            tin: self.tin?,
            holds: self.holds?,
            words: self.read.clone(),
        })
    }

    /// What several of it are: pans, or the hollows of one.
    #[must_use]
    pub fn are(&self) -> &'static str {
        if self.read.ends_with(HOLLOW) {
            "hollows"
        } else {
            "pans"
        }
    }

    /// What it is called, its measures, what it is made of where that is not light metal, and its lid where
    /// its name does not say it.
    #[must_use]
    pub fn named(&self) -> String {
        self.with_looks(&self.read)
    }

    fn with_looks(&self, name: &str) -> String {
        let make = match self.make {
            Make::Light => String::new(),
            make => format!(", {}", make.word()),
        };
        format!("{name}{make}{}", self.lid_words())
    }

    /// Whether a lid lies on it, where its name does not say it: `, with a lid`.
    #[must_use]
    pub fn lid_words(&self) -> &'static str {
        match (self.lid, self.read.contains(LIDDED)) {
            (true, false) => ", with a lid",
            (false, true) => ", without a lid",
            _ => "",
        }
    }

    /// Its area from above, m².
    #[must_use]
    pub fn area(&self) -> f64 {
        match self.outline {
            Outline::Round { across } | Outline::Free { across } => {
                std::f64::consts::FRAC_PI_4 * across * across
            }
            Outline::Ring { across, hole } => {
                std::f64::consts::FRAC_PI_4 * (across * across - hole * hole)
            }
            Outline::Square { length, width } => length * width,
        }
    }
    /// Its narrowest width, m; of a ring from wall to wall.
    #[must_use]
    pub fn width(&self) -> f64 {
        match self.outline {
            Outline::Round { across } | Outline::Free { across } => across,
            Outline::Square { width, .. } => width,
            Outline::Ring { across, hole } => (across - hole) / 2.0,
        }
    }
    /// What it holds by geometry, m³: with upright sides, more than a pan that slopes.
    #[must_use]
    pub fn volume(&self) -> f64 {
        match self.outline {
            Outline::Free { across } => std::f64::consts::PI / 6.0 * across.powi(3),
            _ => self.area() * self.depth,
        }
    }
    /// Its measures in centimetres: '23 × 13 × 7.6 cm'.
    #[must_use]
    pub fn in_cm(&self) -> String {
        let cm = |m: f64| {
            let v = (m * 1000.0).round() / 10.0;
            if v.fract() == 0.0 {
                format!("{v:.0}")
            } else {
                format!("{v:.1}")
            }
        };
        match self.outline {
            Outline::Round { across } => format!("Ø {} × {} cm", cm(across), cm(self.depth)),
            Outline::Free { across } => format!("ball of {} cm", cm(across)),
            Outline::Ring { across, hole } => format!(
                "ring Ø {} × {} cm, its tube taken as {} cm",
                cm(across),
                cm(self.depth),
                cm(hole)
            ),
            Outline::Square { length, width } => {
                format!("{} × {} × {} cm", cm(length), cm(width), cm(self.depth))
            }
        }
    }
}

/// Its measures, as a recipe's pan has them.
impl Pan {
    /// A pan that a size was asked for; one that is called dark, glass or silicone is that.
    #[must_use]
    pub fn of_size(pan: &pan::Pan) -> Option<Self> {
        let found = Self::of(pan, make_of(&pan.key).1, &pan.key).ok()?;
        Some(found.with_lid(lid_of(&pan.key).1))
    }

    /// A pan that a method names, as heat takes it: its words say what it is made of.
    #[must_use]
    pub fn of_method(said: &Said) -> Option<Self> {
        let found = Self::of(&said.pan, make_of(&said.words).1, &said.words).ok()?;
        Some(found.with_lid(lid_of(&said.words).1))
    }

    /// Whether words that are no pan may be the name of one of a kitchen's own.
    #[must_use]
    pub fn may_be_named(text: &str) -> bool {
        matches!(
            pan::find(&make_of(&lid_of(text).0).0, &[]),
            Err(PanError::Unknown { .. } | PanError::Several { .. } | PanError::Word { .. })
        )
    }

    /// The words it is typed by, so that it is read again as it is.
    #[must_use]
    pub fn as_typed(&self) -> String {
        self.with_looks(&self.typed)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// H01: round 9×2 in is 2085 mL, rectangle 13×9×2 3835, loaf 9×5×3 2212 (geometry).
    #[test]
    fn h01_volumes() {
        for (text, ml) in [
            ("9x2 in", 2085.0),
            ("13x9x2in", 3835.0),
            ("9 x 5 x 3 inch", 2212.0),
        ] {
            let v = Pan::read(text).expect("a pan").volume() * 1e6;
            assert!((v - ml).abs() < 1.0, "{text}: {v}");
        }
    }

    #[test]
    fn as_bakers_write_them() {
        for text in [
            "23x13x7cm",
            "23 × 13 × 7 cm",
            "23cm x 13cm x 7cm",
            "9\" x 5\" x 3\"",
            "loaf tin 23 by 13 by 7 cm, dark",
            "9x13in",
            "9x5x3",
            "8 cm ball",
            "8½ x 4½ x 2½ in",
        ] {
            assert!(Pan::read(text).is_ok(), "{text}: {:?}", Pan::read(text));
        }
        let tin = Pan::read("loaf_9x5x3 dark").expect("a pan of the table");
        assert!((tin.volume() * 1e6 - 2212.0).abs() < 1.0 && tin.make == Make::Dark);
        assert_eq!(Pan::read("20x5 cm glass").expect("a pan").make, Make::Glass);
    }

    /// Finding 8: the same tin typed in inches by its sides, and in centimetres with its depth.
    #[test]
    fn two_sides_of_a_known_pan_are_no_round_tin() {
        for text in ["9x5in", "5x9in", "23x13 cm", "9x13 in", "13x9 in"] {
            let pan = Pan::read(text).expect("a known pan");
            assert!(matches!(pan.outline, Outline::Square { .. }), "{text}");
            assert!(pan.depth < 0.08, "{text}");
            let again = Pan::read(&pan.as_typed()).expect("its own words");
            assert_eq!(
                (again.outline, again.depth),
                (pan.outline, pan.depth),
                "{text}"
            );
        }
        assert_eq!(
            Pan::read("9x5in").expect("a pan").read,
            "loaf tin, 9 × 5 × 3 in (23 × 13 × 7.5 cm)"
        );
    }

    #[test]
    fn a_pan_of_the_kitchen_is_found_by_its_name() {
        let own = [OwnPan {
            name: "Blue loaf 9x5".to_owned(),
            water: Some(1440.0),
        }];
        for text in ["blue loaf 9x5", "Blue loaf 9x5, dark"] {
            let pan = Pan::read_in(text, &own).expect("an own pan");
            let holds = pan.holds.expect("measured").likely().as_millilitres();
            assert!((holds - 1442.6).abs() < 0.1, "{text}: {holds}");
        }
    }

    /// A bake in '2 x blue loaf tin' of the kitchen's was 'not understood'.
    #[test]
    fn several_of_a_pan_of_the_kitchen_are_found_by_its_name() {
        let own = [OwnPan {
            name: "Blue loaf tin, 23 x 13 x 7 cm".to_owned(),
            water: Some(1440.0),
        }];
        for text in [
            "2 x blue loaf tin",
            "two blue loaf tins",
            "blue loaf tin",
            "2 x blue loaf tin, 23 x 13 x 7 cm",
        ] {
            let pan = Pan::read_in(text, &own).unwrap_or_else(|e| panic!("{text}: {e}"));
            let holds = pan.holds.expect("measured").likely().as_millilitres();
            assert!((holds - 1442.6).abs() < 0.1, "{text}: {holds}");
        }
        let bare = [OwnPan {
            name: "blue loaf tin".to_owned(),
            water: Some(1440.0),
        }];
        let e = Pan::read_in("2 x blue loaf tin", &bare).expect_err("no measures");
        assert!(
            e.to_string().starts_with("'blue loaf tin' has no measures"),
            "{e}"
        );
    }

    #[test]
    fn a_lid_is_on_or_off() {
        for (said, lid) in [
            ("uncovered", false),
            ("with no lid on", false),
            ("lid off", false),
            ("without its lid", false),
            ("with the lid off", false),
            ("no lid", false),
            ("not covered", false),
            ("covered", true),
            ("lid on", true),
            ("with a lid", true),
            ("with its lid on", true),
        ] {
            for words in [
                format!("loaf 23x13x7 cm, {said}"),
                format!("{said}, loaf 23x13x7 cm dark"),
                format!("pullman 13x4x4 in {said}"),
            ] {
                let pan = Pan::read(&words).unwrap_or_else(|e| panic!("{words}: {e}"));
                assert_eq!(pan.lid, lid, "{words}");
                let again = Pan::read(&pan.as_typed()).expect("its own words");
                assert_eq!((again.lid, again.make), (lid, pan.make), "{words}");
            }
        }
        let e = Pan::read("loaf 23x13x7 cm lid only").expect_err("no such");
        assert!(e.to_string().contains("'only' is not understood"), "{e}");
    }

    #[test]
    fn what_is_no_pan_is_told() {
        for (text, say) in [
            ("9x5x0 in", "depth 0 holds nothing"),
            ("23x11 cm", "write 'round 23x11 cm'"),
            ("big tin", "no pan is called 'big tin'"),
            ("9x5x3x2 in", "no pan is called"),
            ("2 in", "depth of '2 in' is not given"),
            ("", "no pan is called"),
            ("round 900x5 cm", "is no pan's"),
            ("0 cm ball", "is no ball"),
            ("basin_1pt", "no plain shape"),
        ] {
            let e = Pan::read(text).expect_err(text).to_string();
            assert!(e.contains(say), "{text}: {e}");
        }
    }
}
