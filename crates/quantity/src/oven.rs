//! Oven settings: gas marks, dials, fan ovens.

use crate::Temperature;

/// A gas mark: ¼, ½ or 1–10.
///
/// # Source
/// °F = 25 × mark + 250 from mark 1 up; ¼ is 225 °F, ½ is 250 °F (tables of oven marks, seen).
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct GasMark(f64);

impl GasMark {
    /// The mark, or `None` outside ¼, ½, 1–10.
    #[must_use]
    pub fn new(mark: f64) -> Option<Self> {
        let whole = (1.0..=10.0).contains(&mark) && mark.fract() == 0.0;
        (whole || mark == 0.25 || mark == 0.5).then_some(Self(mark))
    }
    /// The mark's number.
    #[must_use]
    pub fn number(self) -> f64 {
        self.0
    }
    /// The oven temperature the mark stands for.
    #[must_use]
    pub fn temperature(self) -> Temperature {
        let fahrenheit = match self.0 {
            m if m >= 1.0 => 25.0 * m + 250.0,
            m if m >= 0.5 => 250.0,
            _ => 225.0,
        };
        Temperature::fahrenheit(fahrenheit)
    }
    /// The nearest mark, or `None` outside 100–275 °C.
    #[must_use]
    pub fn nearest(t: Temperature) -> Option<Self> {
        let c = t.as_celsius();
        if !(100.0..=275.0).contains(&c) {
            return None;
        }
        let marks = [0.25, 0.5, 1.0, 2.0, 3.0, 4.0, 5.0, 6.0, 7.0, 8.0, 9.0, 10.0];
        marks.into_iter().map(Self).min_by(|a, b| {
            let d = |m: &Self| (m.temperature().as_celsius() - c).abs();
            d(a).total_cmp(&d(b))
        })
    }
}

/// An oven temperature as it is set: exact, and rounded to a dial.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct OvenSetting(pub Temperature);

impl OvenSetting {
    /// Degrees Celsius to the nearest 5, as dials show.
    #[must_use]
    pub fn dial_celsius(self) -> i32 {
        (self.0.as_celsius() / 5.0).round() as i32 * 5
    }
    /// Degrees Fahrenheit to the nearest 25, as dials show.
    #[must_use]
    pub fn dial_fahrenheit(self) -> i32 {
        (self.0.as_fahrenheit() / 25.0).round() as i32 * 25
    }
}

/// The fan-oven setting for a still oven's temperature: 20 °C lower (NSW Health, seen).
#[must_use]
pub fn fan_equivalent(still: Temperature) -> Temperature {
    still - Temperature::celsius(20.0)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The table of marks in common use: mark, °F, exact °C rounded.
    #[test]
    fn gas_marks_match_the_table() {
        for (mark, f, c) in [
            (0.25, 225.0, 107.0),
            (0.5, 250.0, 121.0),
            (1.0, 275.0, 135.0),
            (4.0, 350.0, 177.0),
            (7.0, 425.0, 218.0),
            (10.0, 500.0, 260.0),
        ] {
            let t = GasMark::new(mark)
                .expect("a mark of the table")
                .temperature();
            assert!((t.as_fahrenheit() - f).abs() < 1e-9);
            assert_eq!(t.as_celsius().round(), c);
            assert_eq!(GasMark::nearest(t).map(GasMark::number), Some(mark));
        }
        assert!(GasMark::new(11.0).is_none() && GasMark::new(1.5).is_none());
    }

    /// Dials: 350 °F is sold as 180 °C; the exact value is 176.7 and the nearest 5 is 175.
    #[test]
    fn dials_round() {
        let oven = OvenSetting(Temperature::fahrenheit(350.0));
        assert_eq!((oven.dial_celsius(), oven.dial_fahrenheit()), (175, 350));
        assert_eq!(
            fan_equivalent(Temperature::celsius(180.0)).as_celsius(),
            160.0
        );
    }
}
