//! Weights, volumes and lengths as people type them into one field.

use crate::{Hold, Length, Locale, Mass, UnitKind, Volume, figure, fraction, unit_words};

/// Words for lengths, with the millimetres of one.
const LENGTHS: &[(&str, f64)] = &[
    ("mm", 1.0),
    ("millimetre", 1.0),
    ("millimetres", 1.0),
    ("millimeter", 1.0),
    ("millimeters", 1.0),
    ("cm", 10.0),
    ("centimetre", 10.0),
    ("centimetres", 10.0),
    ("centimeter", 10.0),
    ("centimeters", 10.0),
    ("m", 1000.0),
    ("metre", 1000.0),
    ("metres", 1000.0),
    ("meter", 1000.0),
    ("meters", 1000.0),
    ("in", 25.4),
    ("ins", 25.4),
    ("inch", 25.4),
    ("inches", 25.4),
    ("\"", 25.4),
    ("″", 25.4),
    ("”", 25.4),
];

/// The figure at the front of a text with its sign, and what stands behind it.
///
/// # Returns
/// No figure where none stands there that [`figure()`] reads.
///
/// # Example
/// ```
/// use quantity::typed::front;
/// assert_eq!(front("1 1/2 h 10"), (Some(1.5), "h 10"));
/// assert_eq!(front("−18 C"), (Some(-18.0), "C"));
/// assert_eq!(front("1,200 g").0, None);
/// ```
#[must_use]
pub fn front(text: &str) -> (Option<f64>, &str) {
    let text = text.trim();
    let (minus, plain) = match text.strip_prefix(['-', '−']) {
        Some(plain) => (true, plain),
        None => (false, text),
    };
    let (number, rest) = plain.split_at(plain.find(|c| !numeral(c)).unwrap_or(plain.len()));
    let read = figure(number.trim());
    (read.map(|n| if minus { -n } else { n }), rest.trim())
}

fn numeral(c: char) -> bool {
    c.is_ascii_digit() || matches!(c, '.' | ',' | '/' | ' ') || fraction(c).is_some()
}

/// Figures with units, added: `1 lb 2 oz`. `one` knows what one of a unit is; of no unit, '', too.
fn sum(text: &str, one: impl Fn(&str) -> Option<f64>) -> Option<f64> {
    let (mut rest, mut total) = (text.trim(), None);
    while !rest.is_empty() {
        let (number, behind) = front(rest);
        let (unit, next) = behind.split_at(behind.find(numeral_start).unwrap_or(behind.len()));
        let unit = unit.trim().trim_end_matches('.').to_lowercase();
        // A figure without a unit stands alone, and only the first may be below nothing.
        let alone = unit.is_empty() && total.is_some();
        let number = number.filter(|n| !alone && (total.is_none() || *n >= 0.0))?;
        total = Some(total.unwrap_or(0.0) + number * one(&unit)?);
        rest = next.trim();
    }
    total.filter(|t: &f64| t.is_finite())
}

fn numeral_start(c: char) -> bool {
    numeral(c) && !matches!(c, ' ' | '.')
}

/// What one of a unit of weight or volume holds where no country is asked: grams or millilitres.
fn holds(word: &str, kind: UnitKind) -> Option<f64> {
    let of = |unit: crate::Unit| match unit.hold(Locale::Metric) {
        Hold::Mass(m) => Some(m.as_grams()),
        // A cup or pint is another in each country.
        Hold::Volume(v) if matches!(unit, crate::Unit::Ml | crate::Unit::L | crate::Unit::Dl) => {
            Some(v.likely().as_millilitres())
        }
        _ => None,
    };
    let known =
        unit_words().find(|u| u.word == word && u.unit.is_some_and(|u| u.kind() == kind))?;
    Some(known.times * of(known.unit?)?)
}

/// A weight: `600 g`, `1,5 kg`, `1 lb 2 oz`; grams where no unit stands.
///
/// # Returns
/// The weight, below nothing too where it is typed so; `None` where it is no one weight.
///
/// # Example
/// ```
/// use quantity::typed::mass;
/// assert!((mass("1 lb 2 oz").unwrap().as_grams() - 510.29).abs() < 0.01);
/// assert_eq!(mass("1,5 kg").unwrap().as_grams(), 1500.0);
/// assert_eq!(mass("2 cups"), None);
/// ```
#[must_use]
pub fn mass(text: &str) -> Option<Mass> {
    let one = |word: &str| match word {
        "" => Some(1.0),
        word => holds(word, UnitKind::Mass),
    };
    sum(text, one).map(Mass::grams)
}

/// A volume in units that are the same in each country: `250 ml`, `1,5 l`.
///
/// # Returns
/// `None` without a unit, and for cups and pints.
#[must_use]
pub fn volume(text: &str) -> Option<Volume> {
    sum(text, |word| holds(word, UnitKind::Volume)).map(Volume::millilitres)
}

/// A length: `40 cm`, `12"`, `½ in`; of `bare` where no unit stands.
///
/// # Returns
/// The length, zero and below too where it is typed so; `None` where it is no one length.
///
/// # Example
/// ```
/// use quantity::{Length, typed::length};
/// let cm = Length::millimetres(10.0);
/// assert_eq!(length("½ in", cm).unwrap().as_millimetres(), 12.7);
/// assert_eq!(length("30", cm).unwrap().as_millimetres(), 300.0);
/// ```
#[must_use]
pub fn length(text: &str, bare: Length) -> Option<Length> {
    let one = |word: &str| match word {
        "" => Some(bare.as_millimetres()),
        word => millimetres(word),
    };
    sum(text, one).map(Length::millimetres)
}

/// Millimetres in a word for a unit of length.
#[must_use]
pub fn millimetres(word: &str) -> Option<f64> {
    LENGTHS.iter().find(|(w, _)| *w == word).map(|u| u.1)
}

/// Sides: `40x30cm`, `23 × 13 × 7 cm`, `9" by 5"`. A unit counts for the sides before it that have
/// none, the last one for those behind it; else they are of `bare`.
///
/// # Returns
/// `None` where a side is no length.
#[must_use]
pub fn lengths(text: &str, bare: Length) -> Option<Vec<Length>> {
    let plain = text.trim().to_lowercase().replace(['×', '*'], "x");
    let sides: Vec<&str> = plain.split('x').flat_map(|s| s.split(" by ")).collect();
    let unit = |side: &&str| millimetres(front(side).1.trim_end_matches('.'));
    let mut behind = sides.iter().rev().find_map(unit);
    let mut out = Vec::new();
    for side in sides.iter().rev() {
        behind = unit(side).or(behind);
        out.push(length(side, behind.map_or(bare, Length::millimetres))?);
    }
    out.reverse();
    Some(out)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn close(got: Option<f64>, want: f64, text: &str) {
        assert!(
            got.is_some_and(|g| (g - want).abs() < 1e-9 * want.abs().max(1.0)),
            "{text}: {got:?}, not {want}"
        );
    }

    /// NIST Handbook 44 Appendix C: 453.59237 g to the pound, 16 oz to it.
    #[test]
    fn weights() {
        for (text, grams) in [
            ("60", 60.0),
            ("60 g", 60.0),
            ("60g", 60.0),
            ("1.5kg", 1500.0),
            ("1,5 kg", 1500.0),
            ("0,125 kg", 125.0),
            ("½ kg", 500.0),
            ("1 1/2 lb", 680.388_555),
            ("1lb", 453.592_37),
            ("2 lbs", 907.184_74),
            ("2 Pounds", 907.184_74),
            ("12 oz.", 340.194_277_5),
            ("1 lb 2 oz", 510.291_416_25),
            ("1lb2oz", 510.291_416_25),
            ("1 lb. 2½ oz.", 524.466_177_812_5),
            ("1 kg 200 g", 1200.0),
            ("1.2 kilos", 1200.0),
            ("3 kilograms", 3000.0),
            ("500 mg", 0.5),
            ("-5 g", -5.0),
        ] {
            close(mass(text).map(Mass::as_grams), grams, text);
        }
        for text in [
            "",
            "g",
            "five g",
            "5 cups",
            "1 lb 2",
            "1 lb -2 oz",
            "1,200 g",
            "1.2.3 g",
            "1/0 g",
            "nan",
            "inf g",
            "3 g butter",
            "1e9",
        ] {
            assert_eq!(mass(text), None, "{text}");
        }
    }

    #[test]
    fn volumes_need_a_unit_of_one_size() {
        for (text, ml) in [
            ("250 ml", 250.0),
            ("250mL", 250.0),
            ("1,5 l", 1500.0),
            ("2 litres", 2000.0),
            ("1 liter 50 ml", 1050.0),
            ("25 cl", 250.0),
            ("2½ dl", 250.0),
        ] {
            close(volume(text).map(Volume::as_millilitres), ml, text);
        }
        for text in ["250", "1 cup", "1 pint", "ml", "5 g", "1 tsp"] {
            assert_eq!(volume(text), None, "{text}");
        }
    }

    /// NIST SP 811: 25.4 mm to the inch.
    #[test]
    fn lengths_with_and_without_units() {
        for (text, mm) in [
            ("40cm", 400.0),
            ("40 cm", 400.0),
            ("30cm", 300.0),
            ("5mm", 5.0),
            ("12in", 304.8),
            ("12\"", 304.8),
            ("12″", 304.8),
            ("½ in", 12.7),
            ("½\"", 12.7),
            ("1/4 in", 6.35),
            ("8 1/2 inches", 215.9),
            ("8½ in.", 215.9),
            ("0.4 m", 400.0),
            ("2,5 cm", 25.0),
            ("1 m 20 cm", 1200.0),
            ("7", 70.0),
            ("0 cm", 0.0),
            ("-3 cm", -30.0),
        ] {
            let cm = Length::millimetres(10.0);
            close(length(text, cm).map(Length::as_millimetres), mm, text);
        }
        let cm = Length::millimetres(10.0);
        for text in ["", "cm", "40 kg", "40 30 cm", "nan", "inf cm", "12 'in"] {
            assert_eq!(length(text, cm), None, "{text}");
        }
    }

    #[test]
    fn sides_share_a_unit() {
        let mm = |text: &str| -> Vec<f64> {
            let all = lengths(text, Length::millimetres(10.0)).expect(text);
            all.iter()
                .map(|l| (l.as_millimetres() * 1e6).round() / 1e6)
                .collect()
        };
        assert_eq!(mm("40x30cm"), [400.0, 300.0]);
        assert_eq!(mm("40 x 30"), [400.0, 300.0]);
        assert_eq!(mm("9 x 5 x 3 in"), [228.6, 127.0, 76.2]);
        assert_eq!(mm("9\" by 5\""), [228.6, 127.0]);
        assert_eq!(mm("8 1/2 x 4 1/2 x 2 1/2 in"), [215.9, 114.3, 63.5]);
        assert_eq!(mm("30 × 200mm"), [30.0, 200.0]);
        assert_eq!(mm("16in x 12"), [406.4, 304.8]);
        assert_eq!(mm("40cm*300mm"), [400.0, 300.0]);
        assert_eq!(mm("23"), [230.0]);
        for text in ["40x", "x", "", "40 x wide", "40 30 cm"] {
            assert_eq!(lengths(text, Length::millimetres(10.0)), None, "{text}");
        }
    }
}
