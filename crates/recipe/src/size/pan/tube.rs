//! Ring tins by their measures and by how wide their tube is.

use super::error::PanError;
use super::vocabulary::{Kind, kind_of};
use super::words::{DEEPEST, INCH, MEASURES, MOST_INCHES, measures, new};
use super::{Outline, Pan};
use quantity::Length;
use quantity::typed::length;

/// A ring tin whose tube is said: `ring tin 24x8 cm, tube 6 cm`. `None` of other words.
pub(super) fn by_tube(words: &str) -> Option<Result<Pan, PanError>> {
    let plain = words.to_lowercase();
    let (before, behind) = plain.rsplit_once("tube")?;
    let head = before.trim_end().strip_suffix([',', ';'])?;
    let tube = length(behind.trim(), Length::millimetres(10.0))?;
    let pan = ring(head)?;
    let Outline::Ring { across, .. } = pan.outline else {
        return None;
    };
    if tube.as_millimetres() <= 0.0 || tube >= across {
        return Some(Err(PanError::Measure {
            words: words.to_owned(),
            what: "tube",
            cm: (tube.as_millimetres()).round() / 10.0,
        }));
    }
    Some(Ok(Pan {
        key: words.to_owned(),
        outline: Outline::Ring {
            across,
            tube: Some(tube),
        },
        ..pan
    }))
}

/// A ring tin by its width and depth, which do not tell what it holds.
pub(super) fn ring(words: &str) -> Option<Pan> {
    let (numbers, rest) = measures(&words.to_lowercase());
    let text: Vec<&str> = rest.split_whitespace().collect();
    let (_, name, shape, fill) = kind_of(&text).filter(|k| k.2 == Kind::Ring)?;
    let bare = if numbers.iter().all(|n| n.0 <= MOST_INCHES) {
        INCH
    } else {
        1.0
    };
    let cm: Vec<f64> = numbers.iter().map(|n| n.0 * n.1.unwrap_or(bare)).collect();
    let inches = numbers.first()?.1.unwrap_or(bare) > 1.0;
    let fit = cm.len() == 2 && cm.iter().all(|n| MEASURES.contains(n)) && cm[1] <= DEEPEST;
    fit.then(|| new(words, name, *shape, &cm, inches, *fill))
}
