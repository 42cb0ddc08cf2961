//! Altitude: pressure, boiling point, and the corrections of published tables.

use std::fmt;

/// Below this, m, nothing is changed (project rule, section 14, common practice); the published
/// table begins at 1,067.
pub const LEAST: f64 = 900.0;
/// The highest altitude answered, m: above every bakery there is.
pub const HIGHEST: f64 = 6000.0;
/// Sea-level pressure, kPa.
const SEA_LEVEL: f64 = 101.325;
/// mm of mercury in a kPa.
const TORR_PER_KPA: f64 = 760.0 / SEA_LEVEL;

/// Pressure at a height, kPa: the standard atmosphere, 101.325 (1 − 2.25577e-5 h)^5.25588.
///
/// # Inputs
/// - `metres`: −500 to 11,000.
///
/// # Source
/// International standard atmosphere; constants from project rules, section 14 (derived there).
///
/// # Example
/// ```
/// assert!((recipe::leaven::pressure_kpa(1524.0) - 84.31).abs() < 0.01);
/// ```
#[must_use]
pub fn pressure_kpa(metres: f64) -> f64 {
    SEA_LEVEL * (1.0 - 2.255_77e-5 * metres).powf(5.255_88)
}

/// Boiling point of water at a pressure, °C: the Antoine equation with 8.07131, 1730.63, 233.426
/// (mm of mercury, from memory); good to 0.2 °C between 70 and 102 kPa.
#[must_use]
pub fn boiling_celsius(kpa: f64) -> f64 {
    1730.63 / (8.071_31 - (kpa * TORR_PER_KPA).log10()) - 233.426
}

/// How much more room the same gas takes at a height than at the sea.
#[must_use]
pub fn expansion(metres: f64) -> f64 {
    SEA_LEVEL / pressure_kpa(metres)
}

/// A height out of range.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct AltitudeError {
    /// What was given, m.
    pub metres: f64,
}

impl fmt::Display for AltitudeError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(
            f,
            "an altitude of {} m: give metres above the sea, from 0 to {HIGHEST} (a place at 5,000 feet is at 1524)",
            self.metres
        )
    }
}

impl std::error::Error for AltitudeError {}

/// What a published table changes.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Correction {
    /// Leavening (powder or soda) is multiplied by this.
    pub leavening: f64,
    /// Sugar is multiplied by these, most taken off first.
    pub sugar: (f64, f64),
    /// Liquid is multiplied by these.
    pub liquid: (f64, f64),
    /// Yeast is multiplied by this (common practice, no source).
    pub yeast: f64,
    /// The oven is set hotter by these, °C.
    pub oven: (f64, f64),
    /// Above the table: its last row is used.
    pub beyond: bool,
}

/// A height, with what follows from it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Altitude {
    /// m above the sea.
    pub metres: f64,
    /// kPa.
    pub pressure: f64,
    /// Boiling point of water, °C.
    pub boiling: f64,
    /// Room that gas takes, over that at the sea.
    pub expansion: f64,
    /// `None` below 900 m, and between there and the table's first row.
    pub correction: Option<Correction>,
}

/// Where the corrections come from.
const SOURCE: &str = "extension service answer 869253 (2024); oven: Colorado State release (2002)";

/// A row of the table: from (m), leavening off per unit, tablespoons of sugar off a cup, tablespoons
/// of liquid more to a cup. A cup has 16 tablespoons.
struct Row {
    from: f64,
    leavening: f64,
    sugar: (f64, f64),
    liquid: (f64, f64),
}

const ROWS: [Row; 3] = [
    Row {
        from: 1067.0,
        leavening: 1.0 / 8.0,
        sugar: (1.0, 1.0),
        liquid: (1.0, 2.0),
    },
    Row {
        from: 1981.0,
        leavening: 1.0 / 4.0,
        sugar: (2.0, 2.0),
        liquid: (2.0, 4.0),
    },
    Row {
        from: 2591.0,
        leavening: 1.0 / 4.0,
        sugar: (3.0, 1.0),
        liquid: (3.0, 4.0),
    },
];
/// Where the table ends, m.
const TABLE_END: f64 = 3048.0;

/// Metres of what is typed: '1600', '1,600 m', '5,000 feet'. A comma, a point or a space before three figures
/// parts thousands: no kitchen is 1.6 m above the sea.
fn metres(text: &str) -> Option<f64> {
    let plain = text.trim().to_lowercase();
    let end = plain.trim_end_matches(|c: char| c.is_alphabetic() || c == '\'' || c == '.');
    let per = match plain[end.len()..].trim_matches('.') {
        "" | "m" | "metre" | "metres" | "meter" | "meters" => 1.0,
        "ft" | "feet" | "foot" | "'" => 0.3048,
        _ => return None,
    };
    let figure: String = end.trim().replace('−', "-");
    let groups: Vec<&str> = figure.split([',', '.', ' ', '\u{a0}']).collect();
    let (first, rest) = groups.split_first()?;
    let digits = |t: &str| t.bytes().all(|b| b.is_ascii_digit());
    let thousands = !rest.is_empty() && rest.iter().all(|g| g.len() == 3 && digits(g));
    let number = if thousands && (1..=3).contains(&first.len()) && digits(first) {
        groups.concat().parse().ok()?
    } else {
        figure.replace(',', ".").parse().ok()?
    };
    Some(number).map(|n: f64| n * per).filter(|n| n.is_finite())
}

impl Altitude {
    /// The height that words say, in metres or feet.
    ///
    /// # Errors
    /// In words: what is no height, or is out of range.
    ///
    /// # Example
    /// ```
    /// use recipe::leaven::Altitude;
    /// assert_eq!(Altitude::read("1,600 m")?.metres, 1600.0);
    /// assert!((Altitude::read("5,000 feet")?.metres - 1524.0).abs() < 0.01);
    /// assert!(Altitude::read("high").is_err());
    /// # Ok::<(), String>(())
    /// ```
    pub fn read(text: &str) -> Result<Self, String> {
        let metres = metres(text).ok_or_else(|| {
            format!(
                "'{text}' is no altitude: write metres above the sea, as in 1524, or 5,000 feet"
            )
        })?;
        Self::of(metres).map_err(|e| e.to_string())
    }

    /// What a height means for baking.
    ///
    /// # Errors
    /// [`AltitudeError`] for what is not a number from 0 to 6,000.
    ///
    /// # Source
    /// Extension service answer 869253 (2024), project rules section 14.
    ///
    /// # Example
    /// ```
    /// use recipe::leaven::Altitude;
    /// let at = Altitude::of(1524.0)?;
    /// assert!((at.boiling - 94.9).abs() < 0.2);
    /// assert_eq!(2.0 * at.correction.expect("5,000 feet is in the table").leavening, 1.75);
    /// assert!(Altitude::of(-20.0).is_err());
    /// # Ok::<(), recipe::leaven::AltitudeError>(())
    /// ```
    pub fn of(metres: f64) -> Result<Self, AltitudeError> {
        if !(0.0..=HIGHEST).contains(&metres) {
            return Err(AltitudeError { metres });
        }
        let pressure = pressure_kpa(metres);
        let row = ROWS.iter().rev().find(|r| metres >= r.from);
        let correction = row.map(|r| Correction {
            leavening: 1.0 - r.leavening,
            sugar: (1.0 - r.sugar.0 / 16.0, 1.0 - r.sugar.1 / 16.0),
            liquid: (1.0 + r.liquid.0 / 16.0, 1.0 + r.liquid.1 / 16.0),
            yeast: 0.8,
            oven: (8.0, 11.0),
            beyond: metres > TABLE_END,
        });
        Ok(Self {
            metres,
            pressure,
            boiling: boiling_celsius(pressure),
            expansion: expansion(metres),
            correction,
        })
    }

    /// Where the corrections come from.
    #[must_use]
    pub fn source() -> &'static str {
        SOURCE
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Check F08: altitude in feet, pressure, boiling point (derived; Antoine from memory).
    #[test]
    fn f08_pressure_and_boiling_point() {
        for (feet, kpa, boils) in [
            (3500.0, 89.15, 96.5),
            (5000.0, 84.31, 94.9),
            (5280.0, 83.43, 94.7),
            (7000.0, 78.19, 92.9),
            (10_000.0, 69.68, 89.9),
        ] {
            let p = pressure_kpa(feet * 0.3048);
            assert!((p - kpa).abs() < 0.01, "{feet} {p}");
            assert!((boiling_celsius(p) - boils).abs() < 0.2, "{feet}");
        }
    }

    /// A pastry site's table of boiling points (seen): 2,000 ft 98.4, 5,000 ft 95.0, 7,500 ft
    /// 92.4, 10,000 ft 90.0 °C. An independent list, whole degrees Fahrenheit behind it.
    #[test]
    fn boiling_points_agree_with_a_published_list() {
        for (feet, boils) in [
            (0.0, 100.0),
            (2000.0, 98.4),
            (5000.0, 95.0),
            (7500.0, 92.4),
            (10_000.0, 90.0),
        ] {
            let t = boiling_celsius(pressure_kpa(feet * 0.3048));
            assert!((t - boils).abs() < 0.5, "{feet} {t}");
        }
    }

    /// Project rules, section 14: expansion 1.14 at 3500 ft, 1.20 at 5000, 1.27 (1.29 here) …
    #[test]
    fn gas_takes_more_room_up_high() {
        for (feet, ratio) in [
            (3500.0, 1.14),
            (5000.0, 1.20),
            (6500.0, 1.27),
            (8500.0, 1.37),
        ] {
            assert!((expansion(feet * 0.3048) - ratio).abs() < 0.01, "{feet}");
        }
    }

    /// Check F09: 5,000 ft, 2 tsp of powder, 1 cup of sugar, 1 cup of liquid give 1.75 tsp,
    /// 1 cup less 1 tbsp, 1 to 2 tbsp more (extension service answer 869253, 2024).
    #[test]
    fn f09_the_table_at_5000_feet() {
        let c = Altitude::of(1524.0)
            .expect("in range")
            .correction
            .expect("in the table");
        assert_eq!(2.0 * c.leavening, 1.75);
        assert_eq!(16.0 * c.sugar.0, 15.0);
        assert_eq!(16.0 * c.sugar.1, 15.0);
        assert_eq!((16.0 * c.liquid.0, 16.0 * c.liquid.1), (17.0, 18.0));
        assert!(!c.beyond);
    }

    #[test]
    fn bounds() {
        assert!(Altitude::of(500.0).expect("low").correction.is_none());
        assert!(
            Altitude::of(3600.0)
                .expect("high")
                .correction
                .is_some_and(|c| c.beyond)
        );
        for bad in [-1.0, 6001.0, f64::NAN, f64::INFINITY] {
            assert!(Altitude::of(bad).is_err());
        }
    }
}
