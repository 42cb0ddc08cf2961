//! Pans by their measures.

use super::{HeatError, wrong};
use quantity::Length;

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
    /// As typed.
    pub words: String,
}

/// Least and greatest measure of a pan, m.
const LEAST: f64 = 0.01;
const MOST: f64 = 1.0;

impl Pan {
    /// Reads a pan: a key of the table of pans (`round_9x2`), or `9x5x3 in` (length, width, depth), `23 x 5 cm` (round: across, depth), with
    /// `dark`, `glass` or `silicone` beside it; `8 cm ball` for a piece without a pan.
    ///
    /// # Errors
    /// [`HeatError`] without measures or unit, or with a measure outside 1 cm to 1 m.
    ///
    /// # Example
    /// ```
    /// use recipe::heat::{Make, Outline, Pan};
    /// let tin = Pan::read("9x5x3in dark")?;
    /// assert!((tin.depth - 0.0762).abs() < 1e-9);
    /// assert_eq!(tin.make, Make::Dark);
    /// assert!(matches!(Pan::read("23 x 5 cm")?.outline, Outline::Round { .. }));
    /// assert!(Pan::read("loaf tin").is_err());
    /// # Ok::<(), recipe::heat::HeatError>(())
    /// ```
    pub fn read(text: &str) -> Result<Self, HeatError> {
        Self::typed(text).or_else(|e| Self::of_the_table(text).ok_or(e))
    }

    /// A pan of the table of pans by its key: `round_9x2 dark`. Rings and basins have no plain shape.
    fn of_the_table(text: &str) -> Option<Self> {
        let words = text.trim().to_lowercase();
        let make = Make::ALL
            .into_iter()
            .find(|m| words.split([' ', ',']).any(|w| w == m.word()));
        let key = words.split([' ', ',']).next()?;
        let pan = crate::size::pan::all().iter().find(|p| p.key == key)?;
        let m = |l: Length| l.as_millimetres() / 1000.0;
        let outline = match pan.outline {
            crate::size::pan::Outline::Round { across } => Outline::Round { across: m(across) },
            crate::size::pan::Outline::Oblong { long, wide } => Outline::Square {
                length: m(long),
                width: m(wide),
            },
            _ => return None,
        };
        Some(Self {
            outline,
            depth: m(pan.depth?),
            make: make.unwrap_or_default(),
            words: text.trim().to_owned(),
        })
    }

    fn typed(text: &str) -> Result<Self, HeatError> {
        const EXAMPLE: &str = "write its measures with their unit, as in 9x5x3 in (length, width, depth) or 23x5 cm (round: across, depth)";
        let words = text.trim();
        let lower = words
            .to_lowercase()
            .replace(['×', '*'], "x")
            .replace('ø', " ")
            .replace(" by ", "x");
        let mut numbers: Vec<f64> = Vec::new();
        let mut units: Vec<f64> = Vec::new();
        let mut make = Make::Light;
        let mut ball = false;
        let mut token = String::new();
        let mut tokens: Vec<String> = Vec::new();
        for c in lower.chars().chain([' ']) {
            let digit = |c: char| c.is_ascii_digit() || c == '.' || "½¼¾⅓⅔⅛⅜⅝⅞".contains(c);
            let same = token
                .chars()
                .last()
                .is_none_or(|l| digit(l) == digit(c) && l.is_alphabetic() == c.is_alphabetic());
            if (!same || c.is_whitespace()) && !token.is_empty() {
                tokens.push(std::mem::take(&mut token));
            }
            if !c.is_whitespace() {
                token.push(c);
            }
        }
        for t in tokens {
            if let Some(n) = quantity::figure(&t) {
                numbers.push(n);
                continue;
            }
            match t.trim_matches(|c: char| c != '"' && !c.is_alphabetic()) {
                "in" | "inch" | "inches" | "\"" | "ins" => units.push(0.0254),
                "cm" => units.push(0.01),
                "mm" => units.push(0.001),
                "inx" => units.push(0.0254),
                "cmx" => units.push(0.01),
                "dark" | "black" | "nonstick" => make = Make::Dark,
                "glass" | "ceramic" | "stoneware" => make = Make::Glass,
                "silicone" => make = Make::Silicone,
                "ball" | "bun" | "roll" => ball = true,
                "x" | "" | "muffin" | "cup" | "light" | "metal" | "tin" | "pan" | "round"
                | "square" | "loaf" | "cake" | "deep" | "bread" | "baking" | "tray" | "of"
                | "a" | "wide" | "long" | "across" | "springform" | "sandwich" | "aluminium"
                | "aluminum" | "non" | "stick" => {}
                other => {
                    return wrong(format!("'{words}': '{other}' is not understood; {EXAMPLE}"));
                }
            }
        }
        let Some(unit) = units.first().copied() else {
            return wrong(format!("'{words}' has no unit; {EXAMPLE}"));
        };
        if units.iter().any(|u| *u != unit) {
            return wrong(format!("'{words}' has two units; {EXAMPLE}"));
        }
        let m: Vec<f64> = numbers.iter().map(|n| n * unit).collect();
        if let Some(bad) = m.iter().position(|v| !(LEAST..=MOST).contains(v)) {
            let what = if bad + 1 == m.len() && m.len() > 1 {
                "depth"
            } else {
                "measure"
            };
            return wrong(format!(
                "'{words}': a {what} of {} {} is no pan's: write from 1 cm to 1 m",
                numbers[bad],
                unit_word(unit)
            ));
        }
        let (outline, depth) = match (m.as_slice(), ball) {
            ([a], true) => (Outline::Free { across: *a }, *a),
            ([a, d], false) => (Outline::Round { across: *a }, *d),
            ([a, b, d], false) => (
                Outline::Square {
                    length: a.max(*b),
                    width: a.min(*b),
                },
                *d,
            ),
            _ => {
                return wrong(format!("'{words}' has {} measures; {EXAMPLE}", m.len()));
            }
        };
        Ok(Self {
            outline,
            depth,
            make,
            words: words.to_owned(),
        })
    }

    /// Its area from above, m².
    #[must_use]
    pub fn area(&self) -> f64 {
        match self.outline {
            Outline::Round { across } | Outline::Free { across } => {
                std::f64::consts::FRAC_PI_4 * across * across
            }
            Outline::Square { length, width } => length * width,
        }
    }
    /// Its narrowest width, m.
    #[must_use]
    pub fn width(&self) -> f64 {
        match self.outline {
            Outline::Round { across } | Outline::Free { across } => across,
            Outline::Square { width, .. } => width,
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
            Outline::Square { length, width } => {
                format!("{} × {} × {} cm", cm(length), cm(width), cm(self.depth))
            }
        }
    }
}

fn unit_word(unit: f64) -> &'static str {
    if unit == 0.0254 {
        "in"
    } else if unit == 0.01 {
        "cm"
    } else {
        "mm"
    }
}

/// Its measures, as a recipe's pan has them.
impl Pan {
    /// A pan of a recipe by its words and measures, or `None` where these are no two or three.
    #[must_use]
    pub fn of_recipe(words: &str, measures: &[Length]) -> Option<Self> {
        let m: Vec<String> = measures
            .iter()
            .map(|l| format!("{:.2}", l.as_millimetres() / 10.0))
            .collect();
        let lower = words.to_lowercase();
        let make = Make::ALL
            .into_iter()
            .find(|m| *m != Make::Light && lower.contains(m.word()));
        let make = make.map_or("", Make::word);
        Self::read(&format!("{} cm {make}", m.join("x"))).ok()
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
            "8½ x 4½ x 2½ in",
        ] {
            assert!(Pan::read(text).is_ok(), "{text}: {:?}", Pan::read(text));
        }
        let tin = Pan::read("loaf_9x5x3 dark").expect("a pan of the table");
        assert!((tin.volume() * 1e6 - 2212.0).abs() < 1.0 && tin.make == Make::Dark);
        assert!(Pan::read("bundt_9x3").is_err(), "a ring is no cylinder");
        assert_eq!(Pan::read("20x5 cm glass").expect("a pan").make, Make::Glass);
    }

    #[test]
    fn what_is_no_pan_is_told() {
        for (text, say) in [
            ("9x5x0 in", "depth of 0 in"),
            ("9x5x3", "no unit"),
            ("big tin", "'big' is not understood"),
            ("9x5x3x2 in", "4 measures"),
            ("", "no unit"),
            ("900x5 cm", "1 m"),
            ("9in x 5cm", "two units"),
        ] {
            let e = Pan::read(text).expect_err(text).to_string();
            assert!(e.contains(say), "{text}: {e}");
        }
    }
}
