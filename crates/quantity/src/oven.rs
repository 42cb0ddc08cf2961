//! Oven settings: gas marks, dials, fan ovens.

use crate::Temperature;
use std::fmt;

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
    /// The nearest mark, or `None` outside 100–275 °C. 170 °C is gas 3, as UK tables have it, though 350 °F
    /// is as near.
    #[must_use]
    pub fn nearest(t: Temperature) -> Option<Self> {
        let c = t.as_celsius();
        if !(100.0..=275.0).contains(&c) {
            return None;
        }
        let marks = [0.25, 0.5, 1.0, 2.0, 3.0, 4.0, 5.0, 6.0, 7.0, 8.0, 9.0, 10.0];
        let exact = marks.map(|m| (Self(m), Self(m).temperature().as_celsius()));
        let all = exact.into_iter().chain(SECOND.map(|(m, c)| (Self(m), c)));
        all.min_by(|a, b| (a.1 - c).abs().total_cmp(&(b.1 - c).abs()))
            .map(|(mark, _)| mark)
    }
}

impl GasMark {
    /// The marks of an oven from one temperature to another: `4–5`, `4` where both are one mark.
    #[must_use]
    pub fn range(low: Temperature, high: Temperature) -> Option<String> {
        let (a, b) = (Self::nearest(low)?, Self::nearest(high)?);
        Some(if a == b {
            a.to_string()
        } else {
            format!("{a}–{b}")
        })
    }
}

/// `4`, `½`.
impl fmt::Display for GasMark {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self.0 {
            0.25 => f.write_str("¼"),
            0.5 => f.write_str("½"),
            n => write!(f, "{n:.0}"),
        }
    }
}

/// What °C dials show for the °F of the gas marks, ¼ to 10.
///
/// # Source
/// Tables of oven marks (seen). Where they print two figures (120 or 130, 160 or 170, 240 or
/// 250), the one nearer the exact temperature.
const DIALS: [(f64, i32); 12] = [
    (225.0, 110),
    (250.0, 120),
    (275.0, 140),
    (300.0, 150),
    (325.0, 160),
    (350.0, 180),
    (375.0, 190),
    (400.0, 200),
    (425.0, 220),
    (450.0, 230),
    (475.0, 250),
    (500.0, 260),
];
/// The second figures of those tables, °C: ½ is 120 or 130, 3 is 160 or 170, 9 is 240 or 250.
const SECOND: [(f64, f64); 3] = [(0.5, 130.0), (3.0, 170.0), (9.0, 250.0)];
/// A temperature this near a mark, in °C, is the mark: 205 °C as written stays 205.
const SAME_MARK: f64 = 0.3;

/// An oven temperature as it is set: exact, and as a dial shows it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct OvenSetting(pub Temperature);

impl OvenSetting {
    /// Degrees Celsius as dials show them: the figure tables print for a gas mark or its °F (gas
    /// 6 and 400 °F are 200 °C), else to the nearest 5.
    #[must_use]
    pub fn dial_celsius(self) -> i32 {
        let c = self.0.as_celsius();
        DIALS
            .iter()
            .find(|(f, _)| (Temperature::fahrenheit(*f).as_celsius() - c).abs() < SAME_MARK)
            .map_or_else(|| (c / 5.0).round() as i32 * 5, |(_, dial)| *dial)
    }
    /// The temperature a °C dial is set to.
    #[must_use]
    pub fn dialled(self) -> Temperature {
        Temperature::celsius(f64::from(self.dial_celsius()))
    }
    /// Degrees Fahrenheit to the nearest 25, as dials show.
    #[must_use]
    pub fn dial_fahrenheit(self) -> i32 {
        (self.0.as_fahrenheit() / 25.0).round() as i32 * 25
    }
    /// Degrees Fahrenheit to say beside what a °C dial shows: the dial's where the two go
    /// together (350 °F with 180 °C), else to the nearest 5. What was written in °F by fives stays, but for
    /// 320 °F and 230 °F, which are 160 °C and 110 °C.
    #[must_use]
    pub fn beside_celsius(self) -> i32 {
        let dial = self.dial_fahrenheit();
        let exact = self.0.as_fahrenheit() / 5.0;
        let by_fives = (exact - exact.round()).abs() < 1e-6;
        let celsius = self.0.as_celsius();
        let in_celsius = (celsius - celsius.round()).abs() < 1e-6;
        if by_fives && !in_celsius {
            return exact.round() as i32 * 5;
        }
        if Self(Temperature::fahrenheit(f64::from(dial))).dial_celsius() == self.dial_celsius() {
            dial
        } else {
            (self.0.as_fahrenheit() / 5.0).round() as i32 * 5
        }
    }
}

/// The fan-oven setting for a still oven's temperature: its dial 20 °C lower (NSW Health, seen).
#[must_use]
pub fn fan_equivalent(still: Temperature) -> Temperature {
    OvenSetting(still).dialled() - Temperature::celsius(20.0)
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

    /// Tables of oven marks (seen): gas 3 is 325 °F, 160 or 170 °C; gas ½ 120 or 130 °C. 170 °C was gas 4.
    #[test]
    fn a_dial_has_the_mark_that_uk_tables_print() {
        for (c, mark) in [
            (120.0, "½"),
            (130.0, "½"),
            (140.0, "1"),
            (150.0, "2"),
            (160.0, "3"),
            (170.0, "3"),
            (175.0, "4"),
            (180.0, "4"),
            (190.0, "5"),
            (200.0, "6"),
            (220.0, "7"),
            (230.0, "8"),
            (240.0, "9"),
            (250.0, "9"),
        ] {
            let found = GasMark::nearest(Temperature::celsius(c)).expect("a mark");
            assert_eq!(found.to_string(), mark, "{c} °C");
        }
    }

    /// Gas 4 and 350 °F are set as 180 °C, gas 6 and 400 °F as 200 °C; what is written in °C stays.
    #[test]
    fn dials_show_what_tables_print() {
        for (mark, dial) in [(1.0, 140), (4.0, 180), (5.0, 190), (6.0, 200), (7.0, 220)] {
            let t = GasMark::new(mark).expect("a mark").temperature();
            assert_eq!(OvenSetting(t).dial_celsius(), dial, "gas {mark}");
            let back = OvenSetting(OvenSetting(t).dialled()).dial_fahrenheit();
            assert_eq!(f64::from(back), 25.0 * mark + 250.0, "gas {mark}");
        }
        for written in [175.0, 205.0, 200.0, 180.0, 165.0] {
            let oven = OvenSetting(Temperature::celsius(written));
            assert_eq!(f64::from(oven.dial_celsius()), written);
        }
        // 200 °C was 390 °F on one page, 400 °F on another. What is written in °F stays.
        for (c, f) in [
            (160.0, 325),
            (175.0, 345),
            (180.0, 350),
            (200.0, 400),
            (220.0, 425),
        ] {
            let oven = OvenSetting(Temperature::celsius(c));
            assert_eq!(oven.beside_celsius(), f, "{c} °C");
        }
        for f in [300, 340, 350, 355, 390, 400, 410] {
            let oven = OvenSetting(Temperature::fahrenheit(f64::from(f)));
            assert_eq!(oven.beside_celsius(), f);
        }
        let oven = OvenSetting(Temperature::fahrenheit(350.0));
        assert_eq!((oven.dial_celsius(), oven.dial_fahrenheit()), (180, 350));
        assert_eq!(fan_equivalent(oven.0).as_celsius(), 160.0);
        assert_eq!(
            fan_equivalent(Temperature::celsius(180.0)).as_celsius(),
            160.0
        );
    }
}
