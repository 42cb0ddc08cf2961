//! Lengths that a method gives of things it names: strands, cutters, strips.

use crate::rework::sheet_sides;
use crate::sentences::each;
use quantity::Length;
use quantity::typed::lengths;

/// A word of a text, or a length in it.
#[derive(Debug, Clone, PartialEq)]
enum Part {
    Word(String),
    /// One side, or several, as they are typed: '6 cm', '5 x 8 cm'.
    Sides(String, usize),
}

impl Part {
    fn is(&self, any: &[&str]) -> bool {
        matches!(self, Self::Word(w) if any.contains(&w.as_str()))
    }
}

/// The words and lengths of a text in small letters: '16-inch', '2 1/2 in', '6cm/2½in', '5 x 8 cm'.
fn parts(text: &str) -> Vec<Part> {
    const UNITS: [&str; 5] = ["cm", "mm", "in", "inch", "inches"];
    /// The most words of one size: '2 1/2 x 3 1/2 in'.
    const MOST: usize = 6;
    let text = text
        .to_lowercase()
        .replace(['-', '–'], " ")
        .replace('×', " x ")
        .replace(" by ", " x ");
    let text = text
        .replace("cm/", "cm ")
        .replace("mm/", "mm ")
        .replace("in/", "in ");
    let words = text.split(|c: char| c.is_whitespace() || ",;:()".contains(c));
    let words: Vec<&str> = words
        .map(|w| w.trim_end_matches('.'))
        .filter(|w| !w.is_empty())
        .collect();
    let size = |run: &[&str]| {
        let said = run.join(" ");
        let unit = said
            .trim_start_matches(|c: char| !c.is_alphabetic() || c == 'x')
            .to_owned();
        let figures = said[..said.len() - unit.len()].trim_end();
        let begins = figures.starts_with(|c: char| c.is_numeric());
        let sides = lengths(&said, Length::millimetres(10.0))
            .filter(|_| begins && UNITS.contains(&unit.as_str()))?;
        Some(Part::Sides(format!("{figures} {unit}"), sides.len()))
    };
    let mut out = Vec::new();
    let mut at = 0;
    while at < words.len() {
        let most = MOST.min(words.len() - at);
        let found = (1..=most)
            .rev()
            .find_map(|n| Some((size(&words[at..at + n])?, n)));
        let (part, n) = found.unwrap_or_else(|| (Part::Word(words[at].to_owned()), 1));
        out.push(part);
        at += n;
    }
    out
}

/// How long a step rolls its strands: 'roll each to a 45 cm strand', 'into ropes 16 inches long'. Of a step
/// that says two such lengths nothing.
pub(super) fn strand(text: &str) -> Option<String> {
    const STRANDS: [&str; 6] = ["strand", "strands", "rope", "ropes", "string", "strings"];
    /// So many words lie between a length and what is so long at most.
    const NEAR: usize = 4;
    let all = parts(text);
    let mut found = all.iter().enumerate().filter_map(|(at, part)| {
        let near = &all[at.saturating_sub(NEAR)..all.len().min(at + NEAR + 1)];
        match part {
            Part::Sides(long, 1) if near.iter().any(|p| p.is(&STRANDS)) => Some(long.clone()),
            _ => None,
        }
    });
    match found.next() {
        Some(long) => found.next().is_none().then_some(long),
        None => plaited_strip(&text.to_lowercase()),
    }
}

/// The longer side of strips that are rolled up to be plaited: 'roll each piece to a 40 x 12 cm strip'.
fn plaited_strip(text: &str) -> Option<String> {
    let plaited = text.contains("plait") || text.contains("braid");
    let (_, a, b, unit, _) = sheet_sides(text).filter(|_| plaited && text.contains("strip"))?;
    Some(format!("{} {unit}", a.max(b)))
}

/// How large the cutter is that a step cuts with: 'a 6 cm round cutter', 'stamp out 3-inch rounds'; one of
/// another shape than round, square or oblong has no size here.
pub(super) fn cutter(text: &str) -> Option<String> {
    let (said, sides) = size_of(text, &["cutter", "cutters"])
        .or_else(|| size_of(text, &["rounds", "circles"]).filter(|(_, sides)| *sides == 1))?;
    (sides <= 2).then_some(said)
}

/// How wide a step cuts its strips: 'into 2 cm strips', 'strips about ¾ in wide'.
pub(super) fn strip_width(text: &str) -> Option<String> {
    let found = size_of(text, &["strip", "strips"]).filter(|(_, sides)| *sides == 1);
    found.map(|(wide, _)| wide)
}

/// How large a step says a thing is, and how many sides it tells. Of several sizes nothing.
fn size_of(text: &str, named: &[&str]) -> Option<(String, usize)> {
    let mut found = Vec::new();
    for sentence in each(text) {
        let all = parts(sentence);
        let things = (0..all.len()).filter(|i| all[*i].is(named));
        found.extend(things.filter_map(|i| before(&all[..i]).or_else(|| behind(&all[i + 1..]))));
    }
    found.dedup();
    (found.len() == 1).then(|| found.swap_remove(0))
}

/// The size that stands in front of a thing, with nothing between that gives it another shape: '6 cm (2½ in)
/// plain'. In two units it is the one written first.
fn before(all: &[Part]) -> Option<(String, usize)> {
    const PLAIN: [&str; 14] = [
        "round", "plain", "fluted", "crinkled", "biscuit", "cookie", "scone", "pastry", "metal",
        "floured", "straight", "sided", "wide", "diameter",
    ];
    let mut said = None;
    let mut square = false;
    for part in all.iter().rev() {
        match part {
            Part::Sides(size, sides) => said = Some((size.clone(), *sides)),
            Part::Word(_) if said.is_some() => break,
            part if part.is(&["square"]) => square = true,
            part if part.is(&PLAIN) => {}
            Part::Word(_) => return None,
        }
    }
    said.map(|(size, sides)| match sides {
        1 if square => (format!("{size} x {size}"), 2),
        _ => (size, sides),
    })
}

/// The size behind a thing: 'a cutter of 6 cm', 'strips about 2 cm wide'; one that says how long or thick is none.
fn behind(all: &[Part]) -> Option<(String, usize)> {
    let at = all
        .iter()
        .position(|p| !p.is(&["of", "about", "each", "that", "is", "are"]))?;
    let said = match &all[at] {
        Part::Sides(size, sides) => (size.clone(), *sides),
        Part::Word(_) => return None,
    };
    let other = all
        .get(at + 1)
        .is_some_and(|p| p.is(&["long", "thick", "apart", "from"]));
    (!other).then_some(said)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_strand_is_as_long_as_its_step_says() {
        for (text, want) in [
            (
                "Divide into 4, roll each to a 45 cm strand and plait.",
                Some("45 cm"),
            ),
            ("Roll into ropes 16 inches long.", Some("16 inches")),
            (
                "Roll each into a 40cm rope and shape into a ring.",
                Some("40 cm"),
            ),
            ("Make 3 strands, each 35-cm long.", Some("35 cm")),
            ("Roll out to 40 x 30 cm.", None),
            ("Roll into strands, 30 cm or 40 cm long.", None),
            ("Roll into strands and plait.", None),
            (
                "Roll each piece to a 40 x 12cm strip, fill and roll up. Plait the three ropes.",
                Some("40 cm"),
            ),
            ("Roll to 40 x 12 cm and cut into strips.", None),
            ("Roll into 15 1/2 inch ropes.", Some("15 1/2 inch")),
        ] {
            assert_eq!(strand(text).as_deref(), want, "{text}");
        }
    }

    /// Read by hand.
    #[test]
    fn a_cutter_is_as_large_as_its_step_says() {
        for (text, want) in [
            (
                "Roll out to 3 mm. Cut out 12 rounds with a 7.5 cm cutter.",
                Some("7.5 cm"),
            ),
            (
                "Stamp out with a 3-inch round fluted cutter.",
                Some("3 inch"),
            ),
            ("Use a 6cm/2½in plain cutter.", Some("6 cm")),
            (
                "Cut with a cutter of 2 1/2 in, then chill.",
                Some("2 1/2 in"),
            ),
            ("Roll to 5 mm and stamp out 8 cm rounds.", Some("8 cm")),
            ("Cut with a 5 cm square cutter.", Some("5 cm x 5 cm")),
            ("Cut with a 5 x 8 cm cutter.", Some("5 x 8 cm")),
            ("Cut with a 2 by 3 in cutter.", Some("2 x 3 in")),
            // Twelve of 7.5 cm, not an oblong.
            ("Cut out 12 x 7.5 cm rounds.", None),
            ("Roll 3 mm thick, cut rounds and chill.", None),
            ("Cut with a 6 cm heart cutter.", None),
            (
                "Cut the bases with a 7 cm cutter and the tops with a 5 cm cutter.",
                None,
            ),
            ("Roll out to 30 cm and cut out shapes with a cutter.", None),
        ] {
            assert_eq!(cutter(text).as_deref(), want, "{text}");
        }
    }

    /// Read by hand.
    #[test]
    fn a_strip_is_as_wide_as_its_step_says() {
        for (text, want) in [
            ("Cut 3/4 inch strips and weave a lattice.", Some("3/4 inch")),
            ("Cut into strips about 2 cm wide.", Some("2 cm")),
            ("Cut into 1½-inch-wide strips.", Some("1½ inch")),
            ("Cut into strips 30 cm long.", None),
            ("Cut into strips and lay them 2 cm apart.", None),
            ("Cut ten 30 x 2 cm strips.", None),
        ] {
            assert_eq!(strip_width(text).as_deref(), want, "{text}");
        }
    }
}
