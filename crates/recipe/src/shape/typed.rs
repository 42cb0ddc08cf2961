//! Lengths, weights and densities as people type them: `40 cm`, `12in`, `40x30cm`, `1.2 kg`,
//! `280 g in 250 ml`.

use super::ShapeError;
use quantity::typed::{front, lengths, mass};
use quantity::{Length, Mass, Ratio, Spread, Volume, figure};

/// The longest side anything here has: 3 m.
pub const LONGEST: f64 = 3000.0;

/// One length.
///
/// # Inputs
/// - `bare`: millimetres of one, where no unit stands behind the figure: 10 for centimetres.
///
/// # Errors
/// [`ShapeError`] where it is no length, is nothing or less, or is over 3 m.
///
/// # Example
/// ```
/// use recipe::shape::typed::length;
/// assert!((length("12in", 10.0)?.as_millimetres() - 304.8).abs() < 1e-9);
/// assert!((length("40", 10.0)?.as_millimetres() - 400.0).abs() < 1e-9);
/// assert!(length("0 cm", 10.0).is_err());
/// # Ok::<(), recipe::shape::ShapeError>(())
/// ```
pub fn length(text: &str, bare: f64) -> Result<Length, ShapeError> {
    let length = quantity::typed::length(text, Length::millimetres(bare)).ok_or_else(|| {
        ShapeError::new(
            format!("'{}' is no length", text.trim()),
            "write it like 40 cm, 5 mm or 12 in",
        )
    })?;
    sound(length, text)
}

/// A length that may be nothing: a margin, a gap.
///
/// # Errors
/// As [`length`], but 0 is one.
pub fn length_or_none(text: &str, bare: f64) -> Result<Length, ShapeError> {
    match quantity::typed::length(text, Length::millimetres(bare)) {
        Some(none) if none == Length::default() => Ok(none),
        Some(below) if below < Length::default() => Err(ShapeError::new(
            format!("'{}' is below nothing", text.trim()),
            "give 0 for none, or a length above it",
        )),
        _ => length(text, bare),
    }
}

fn sound(length: Length, text: &str) -> Result<Length, ShapeError> {
    let mm = length.as_millimetres();
    if mm <= 0.0 {
        return Err(ShapeError::new(
            format!("'{}' is not above nothing", text.trim()),
            "give a length above 0",
        ));
    }
    if mm > LONGEST {
        return Err(ShapeError::new(
            format!("'{}' is over 3 m", text.trim()),
            "look at the unit: give at most 3 m",
        ));
    }
    Ok(length)
}

/// One to three sides: `40x30cm`, `23 cm`, `30 × 20 × 5 cm`. A unit counts for the sides before
/// it that have none.
///
/// # Errors
/// [`ShapeError`] where a side is no length.
///
/// # Example
/// ```
/// use recipe::shape::typed::sides;
/// let mm: Vec<f64> = sides("40x30cm", 10.0)?.iter().map(|s| s.as_millimetres()).collect();
/// assert_eq!(mm, [400.0, 300.0]);
/// # Ok::<(), recipe::shape::ShapeError>(())
/// ```
pub fn sides(text: &str, bare: f64) -> Result<Vec<Length>, ShapeError> {
    let all = lengths(text, Length::millimetres(bare)).ok_or_else(|| {
        ShapeError::new(
            format!("'{}' is no length", text.trim()),
            "write one to three, like 23 cm, 40x30cm or 30x20x5cm",
        )
    })?;
    if all.len() > 3 {
        return Err(ShapeError::new(
            format!("'{}' has {} sides", text.trim(), all.len()),
            "write one to three, like 23 cm, 40x30cm or 30x20x5cm",
        ));
    }
    all.into_iter().map(|side| sound(side, text)).collect()
}

/// A weight; a bare figure is grams.
///
/// # Errors
/// [`ShapeError`] where it is no weight, is nothing or less, or is over 1 t.
pub fn grams(text: &str) -> Result<Mass, ShapeError> {
    let mass = mass(text).ok_or_else(|| {
        ShapeError::new(
            format!("'{}' is no weight", text.trim()),
            "write it like 600 g, 1.2 kg or 21 oz",
        )
    })?;
    if mass.as_grams() > 0.0 && mass.as_grams() <= 1e6 {
        return Ok(mass);
    }
    Err(ShapeError::new(
        format!("'{}' cannot be weighed out", text.trim()),
        "give a weight above 0 g and at most 1,000 kg",
    ))
}

/// Whether words end in a unit of weight.
#[must_use]
pub fn is_weight(text: &str) -> bool {
    let (_, unit) = front(text);
    !unit.is_empty() && mass(text).is_some()
}

/// A density in g/mL: a figure, grams in a measured volume, or a name of
/// [`crate::density::named`].
///
/// # Errors
/// [`ShapeError`] where it is none of the three, or is outside 0.05–3 g/mL.
///
/// # Example
/// ```
/// use recipe::shape::typed::density;
/// assert_eq!(density("280 g in 250 ml")?.likely().get(), 1.12);
/// assert!(density("42").is_err());
/// # Ok::<(), recipe::shape::ShapeError>(())
/// ```
pub fn density(text: &str) -> Result<Spread<Ratio>, ShapeError> {
    let plain = text.trim().to_lowercase();
    let plain = plain.strip_suffix("g/ml").unwrap_or(&plain).trim();
    let measured = plain.split_once(" in ").or_else(|| plain.split_once('/'));
    let value = match (figure(plain), measured) {
        (Some(n), _) => Spread::exact(Ratio::new(n)),
        (None, Some((weight, volume))) => {
            let g = grams(weight)?.as_grams();
            let ml = quantity::typed::volume(volume).map(Volume::as_millilitres).filter(|v| *v > 0.0).ok_or_else(|| {
                ShapeError::new(
                    format!("'{}' is no volume", volume.trim()),
                    "write it like 280 g in 250 ml",
                )
            })?;
            Spread::exact(Ratio::new(g / ml))
        }
        (None, None) => crate::density::named(plain)
            .map(|d| d.value)
            .ok_or_else(|| {
                ShapeError::new(
                    format!("'{}' is no density", text.trim()),
                    format!(
                        "write g/mL like 1.1, a weight in a volume like 280 g in 250 ml, or one of: {}",
                        crate::density::names()
                    ),
                )
            })?,
    };
    if value.low().get() >= 0.05 && value.high().get() <= 3.0 {
        return Ok(value);
    }
    Err(ShapeError::new(
        format!(
            "{} g/mL is no dough, batter or filling",
            value.likely().get()
        ),
        "give 0.05 to 3 g/mL; water is 1",
    ))
}

/// How many times its volume: `1.5`, or a range `1.3-1.8`.
///
/// # Errors
/// [`ShapeError`] where it is no figure or outside 1–6.
pub fn growth(text: &str) -> Result<Spread<Ratio>, ShapeError> {
    let plain = text.trim().trim_end_matches(['x', '×']).trim();
    let (low, high) = plain
        .split_once(['-', '–'])
        .or_else(|| plain.split_once(" to "))
        .unwrap_or((plain, plain));
    let (Some(low), Some(high)) = (figure(low), figure(high)) else {
        return Err(ShapeError::new(
            format!("'{}' is no growth", text.trim()),
            "write how many times its volume, like 1.5 or 1.3-1.8",
        ));
    };
    if !(1.0..=6.0).contains(&low) || !(1.0..=6.0).contains(&high) {
        return Err(ShapeError::new(
            format!("'{}' is no growth of a dough", text.trim()),
            "give 1 (no rise) to 6 times its volume",
        ));
    }
    Ok(Spread::new(
        Ratio::new(low),
        Ratio::new(f64::midpoint(low, high)),
        Ratio::new(high),
    ))
}

/// A whole number in a range.
///
/// # Errors
/// [`ShapeError`] where it is none or outside.
pub fn count(text: &str, least: u32, most: u32) -> Result<u32, ShapeError> {
    match text.trim().parse::<u32>() {
        Ok(n) if (least..=most).contains(&n) => Ok(n),
        _ => Err(ShapeError::new(
            format!("'{}' is no count", text.trim()),
            format!("give a whole number from {least} to {most}"),
        )),
    }
}

/// A figure in a range; a unit of its own, `%` or `°`, may stand behind it.
///
/// # Errors
/// [`ShapeError`] where it is none or outside.
pub fn number(text: &str, least: f64, most: f64) -> Result<f64, ShapeError> {
    let plain = text.trim().trim_end_matches(['%', '°']).trim();
    match figure(plain) {
        Some(n) if (least..=most).contains(&n) => Ok(n),
        _ => Err(ShapeError::new(
            format!("'{}' is not from {least} to {most}", text.trim()),
            format!("give a figure from {least} to {most}"),
        )),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Where 0 is none, a length below it is not told to be above nothing.
    #[test]
    fn none_is_a_length_and_less_is_not() {
        let of = |text: &str| length_or_none(text, 10.0);
        assert_eq!(of("0").map(Length::as_millimetres), Ok(0.0));
        let e = of("-1").expect_err("less than none").to_string();
        assert!(
            e.contains("below nothing") && e.contains("give 0 for none"),
            "{e}"
        );
        assert!(length("-1", 10.0).is_err());
    }

    #[test]
    fn lengths_as_people_type_them() {
        for (text, mm) in [
            ("40cm", 400.0),
            ("40 cm", 400.0),
            ("5mm", 5.0),
            ("12in", 304.8),
            ("12\"", 304.8),
            ("1/4 in", 6.35),
            ("¼ in", 6.35),
            ("8½ in", 215.9),
            ("8 1/2 inches", 215.9),
            ("0.4 m", 400.0),
            ("2,5 cm", 25.0),
            ("7", 70.0),
        ] {
            let got = length(text, 10.0).expect(text).as_millimetres();
            assert!((got - mm).abs() < 1e-9, "{text}: {got}");
        }
        for text in [
            "", "cm", "40 kg", "-3 cm", "0", "nan", "inf cm", "4 m", "1e9",
        ] {
            assert!(length(text, 10.0).is_err(), "{text}");
        }
    }

    #[test]
    fn sides_share_a_unit() {
        let mm = |t: &str| -> Vec<f64> {
            sides(t, 10.0)
                .expect(t)
                .iter()
                .map(|s| s.as_millimetres())
                .collect()
        };
        assert_eq!(mm("40x30cm"), [400.0, 300.0]);
        assert_eq!(mm("9 x 5 x 3 in"), [228.6, 127.0, 76.199_999_999_999_99]);
        assert_eq!(mm("30 × 200mm"), [30.0, 200.0]);
        assert_eq!(mm("23"), [230.0]);
        for text in ["40x", "x", "1x2x3x4 cm", "40x0cm"] {
            assert!(sides(text, 10.0).is_err(), "{text}");
        }
    }

    #[test]
    fn densities_are_figures_measured_or_named() {
        let d = |t: &str| density(t).expect(t).likely().get();
        assert!((d("1,1 g/mL") - 1.1).abs() < 1e-12);
        // B19: 14 oz of batter where water weighs 16 oz.
        assert!((d("80 g in 100 ml") - 0.80).abs() < 1e-12);
        assert!((d("honey") - 1.43).abs() < 1e-9);
        for text in ["gold", "19.3", "0", "3 g in 0 ml", "3 g in 5", ""] {
            assert!(density(text).is_err(), "{text}");
        }
    }

    #[test]
    fn growth_is_one_figure_or_two() {
        let g = growth("1.3–1.8").expect("range");
        assert_eq!((g.low().get(), g.high().get()), (1.3, 1.8));
        assert_eq!(growth("1.5×").expect("one").likely().get(), 1.5);
        for text in ["0.5", "9", "double", "1.3-"] {
            assert!(growth(text).is_err(), "{text}");
        }
    }
}
