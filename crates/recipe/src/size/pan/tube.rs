//! Ring tins by their measures and by how wide their tube is.

use super::error::PanError;
use super::vocabulary::{Kind, kind_of};
use super::words::{DEEPEST, INCH, MEASURES, MOST_INCHES, measures, new};
use super::{Outline, Pan};
use quantity::Length;
use quantity::typed::length;

/// A tube takes no more than this share of a ring tin's width (common practice, no source).
const WIDEST: f64 = 2.0 / 3.0;

/// A ring tin whose tube is said: `ring tin 24x8 cm, tube 6 cm`, `24x8 cm ring tin with a 6 cm tube`. `None` of
/// other words.
pub(super) fn by_tube(words: &str) -> Option<Result<Pan, PanError>> {
    let plain = words.to_lowercase();
    let (head, tube) = parted(plain.trim())?;
    let tube = length(tube, Length::millimetres(10.0))?;
    let pan = ring(head)?;
    let Outline::Ring { across, .. } = pan.outline else {
        return None;
    };
    let (cm, across_cm) = (tube.as_millimetres() / 10.0, across.as_millimetres() / 10.0);
    if cm <= 0.0 || cm > across_cm * WIDEST {
        return Some(Err(PanError::Wide {
            words: words.to_owned(),
            tube: (cm * 10.0).round() / 10.0,
            across: (across_cm * 10.0).round() / 10.0,
            most: (across_cm * WIDEST).floor(),
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

/// The words of a ring tin, and how wide its tube is.
fn parted(plain: &str) -> Option<(&str, &str)> {
    let (before, behind) = plain.trim_end_matches(')').rsplit_once("tube")?;
    let bare = |w: &str| w.trim_end_matches([' ', ',', ';', '(']).len();
    if behind.contains(|c: char| c.is_ascii_digit()) {
        // 'Ring tin 24x8 cm, tube 6 cm', '… with a tube of 6 cm'.
        let head = before.trim_end();
        let head = head.strip_suffix(" a").unwrap_or(head);
        let head = head.strip_suffix(" with").unwrap_or(head);
        let cut = before.len() > before.trim_end_matches([' ', '(']).len();
        let tube = behind.trim_end_matches("across").trim();
        let tube = tube.strip_prefix("of ").unwrap_or(tube);
        return cut.then(|| (&head[..bare(head)], tube));
    }
    // 'Ring tin 24x8 cm with a 6 cm tube'.
    let cuts = [" with ", ", ", "; ", "("].iter();
    let at = cuts
        .filter_map(|c| Some(before.rfind(c)? + c.len()))
        .max()?;
    let head = before[..at].trim_end();
    let head = head.strip_suffix("with").unwrap_or(head);
    let tube = before[at..].trim().trim_end_matches('-');
    let tube = tube.strip_prefix("a ").unwrap_or(tube);
    Some((&head[..bare(head)], tube.trim()))
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
