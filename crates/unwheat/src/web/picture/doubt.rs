//! Doubt as bars.

use maud::{Markup, html};

use super::svg::{Frame, Hang, WIDTH, clean, figure, grams, known, line, name, rect, text};

/// A line with what it weighs at least, most likely and at most, in grams.
#[derive(Debug, Clone, PartialEq)]
pub struct Doubted {
    /// What the line is.
    pub name: String,
    /// At least.
    pub low: f64,
    /// Most likely.
    pub likely: f64,
    /// At most.
    pub high: f64,
}

/// Lowest, likely and highest in that order, whatever order they come in; `None` if unknown.
fn ordered(low: f64, likely: f64, high: f64) -> Option<(f64, f64, f64)> {
    let (low, likely, high) = (known(low)?, known(likely)?, known(high)?);
    let (low, high) = (low.min(high), low.max(high));
    Some((low, likely.clamp(low, high), high))
}

/// A small bar for a row of a table: the range as a line, the likely figure as a tick, on a
/// scale from nothing to `scale` (where that is no use, to the highest figure).
pub fn doubt(id: &str, low: f64, likely: f64, high: f64, scale: f64, unit: &str) -> Markup {
    const LONG: f64 = 120.0;
    let Some((low, likely, high)) = ordered(low, likely, high) else {
        return html! {};
    };
    let scale = known(scale).filter(|s| *s > 0.0).unwrap_or(high).max(1e-9);
    let x = |value: f64| 3.0 + (LONG - 6.0) * (value / scale).clamp(0.0, 1.0);
    let id = clean(id);
    let desc = if figure(low) == figure(high) {
        format!("{}\u{a0}{unit}, no doubt to speak of.", figure(likely))
    } else {
        let [low, likely, high] = [low, likely, high].map(figure);
        format!("From {low} to {high}\u{a0}{unit}, most likely {likely}\u{a0}{unit}.")
    };
    html! {
        svg class="picture picture-doubt" role="img" aria-labelledby={ (id) "-t " (id) "-d" }
            viewBox="0 0 120 16" width="120" height="16" preserveAspectRatio="xMinYMid meet" {
            title id={ (id) "-t" } { "Doubt" }
            desc id={ (id) "-d" } { (desc) }
            (line("pic-axis", (3.0, 8.0), (LONG - 3.0, 8.0)))
            @if x(high) - x(low) >= 1.0 {
                (line("pic-span", (x(low), 8.0), (x(high), 8.0)))
                (line("pic-end", (x(low), 4.5), (x(low), 11.5)))
                (line("pic-end", (x(high), 4.5), (x(high), 11.5)))
            }
            (line("pic-tick", (x(likely), 1.5), (x(likely), 14.5)))
        }
    }
}

/// Lines drawn one by one; what is beyond is put in a word.
const SHOWN: usize = 10;

/// From where to where bars are drawn.
const TRACK: (f64, f64) = (134.0, 264.0);
const ROW: f64 = 26.0;
const HEAD: f64 = 26.0;

/// Which lines carry how much of a component's doubt: how far each may be below and above its
/// likely grams, the widest first.
pub fn doubts(id: &str, rows: &[Doubted]) -> Markup {
    let mut some: Vec<(&str, f64, f64, f64)> = rows
        .iter()
        .filter_map(|r| {
            let (low, likely, high) = ordered(r.low, r.likely, r.high)?;
            Some((r.name.as_str(), likely - low, high - likely, likely))
        })
        .filter(|(_, less, more, _)| less + more >= 0.005)
        .collect();
    some.sort_by(|a, b| (b.1 + b.2).total_cmp(&(a.1 + a.2)));
    if some.is_empty() {
        return html! {};
    }
    // One line too many is drawn rather than told.
    let shown = if some.len() == SHOWN + 1 {
        SHOWN + 1
    } else {
        some.len().min(SHOWN)
    };
    let rest = &some[shown..];
    let less_most = some.iter().map(|s| s.1).fold(0.0, f64::max);
    let more_most = some.iter().map(|s| s.2).fold(0.0, f64::max);
    let unit = (TRACK.1 - TRACK.0) / (less_most + more_most).max(1e-9);
    let zero = TRACK.0 + less_most * unit;

    let said: Vec<String> = some[..shown]
        .iter()
        .map(|(name, less, more, likely)| {
            let [less, more] = [less, more].map(|v| figure(*v));
            format!(
                "{name} {}, up to {less} less or {more}\u{a0}g more",
                grams(*likely)
            )
        })
        .collect();
    let beyond = match rest {
        [] => None,
        _ => {
            let most = rest.iter().map(|r| r.1.max(r.2)).fold(0.0, f64::max);
            Some(format!(
                "and {} lines, each by {} at most",
                rest.len(),
                grams(most)
            ))
        }
    };
    let desc = format!(
        "Widest first: {}{}.",
        said.join("; "),
        beyond.as_ref().map_or(String::new(), |b| format!("; {b}"))
    );
    let mut y = HEAD;
    let mut body = Vec::new();
    for (of, less, more, _) in &some[..shown] {
        let middle = y + ROW / 2.0;
        body.push(html! {
            (name(0.0, middle + 4.5, TRACK.0 - 12.0, of))
            (rect("pic-less", zero - less * unit, middle - 5.0, less * unit, 10.0))
            (rect("pic-more", zero, middle - 5.0, more * unit, 10.0))
            (text("pic-figure", 311.0, middle + 4.5, Hang::End, &signed("−", *less)))
            (text("pic-figure", WIDTH, middle + 4.5, Hang::End, &signed("+", *more)))
        });
        y += ROW;
    }
    let foot = y + 18.0;
    // The word for the middle line stands where it does not leave the drawing.
    let likely = zero.clamp(TRACK.0 + 18.0, TRACK.1 - 18.0);
    Frame {
        id,
        kind: "doubts",
        height: if beyond.is_some() {
            foot + 6.0
        } else {
            y + 2.0
        },
        title: "Which lines carry the doubt",
        desc: &desc,
    }
    .draw(&html! {
        (text("pic-small", likely, 14.0, Hang::Middle, "likely"))
        (text("pic-small", 311.0, 14.0, Hang::End, "less"))
        (text("pic-small", WIDTH, 14.0, Hang::End, "more, g"))
        @for row in body { (row) }
        (line("pic-zero", (zero, HEAD - 6.0), (zero, y)))
        @if let Some(beyond) = beyond { (text("pic-small", 0.0, foot, Hang::Start, &beyond)) }
    })
}

/// A figure with its sign; nought has none.
fn signed(sign: &str, value: f64) -> String {
    match figure(value) {
        nought if nought == "0" => nought,
        some => format!("{sign}{some}"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn row(name: &str, low: f64, likely: f64, high: f64) -> Doubted {
        Doubted {
            name: name.to_owned(),
            low,
            likely,
            high,
        }
    }

    #[test]
    fn the_small_bar_says_its_range() {
        let drawn = doubt("d", 110.0, 125.0, 140.0, 200.0, "g").into_string();
        assert!(
            drawn.contains("From 110 to 140\u{a0}g, most likely 125\u{a0}g."),
            "{drawn}"
        );
        let sure = doubt("d", 125.0, 125.0, 125.0, 200.0, "g").into_string();
        assert!(sure.contains("125\u{a0}g, no doubt to speak of."), "{sure}");
        assert!(!sure.contains("pic-span"), "{sure}");
    }

    #[test]
    fn the_widest_doubt_comes_first() {
        let drawn = doubts(
            "d",
            &[
                row("egg", 48.0, 50.0, 58.0),
                row("flour", 480.0, 500.0, 540.0),
                row("salt", 5.0, 5.0, 5.0),
            ],
        )
        .into_string();
        let said = "Widest first: flour 500\u{a0}g, up to 20 less or 40\u{a0}g more; \
                    egg 50\u{a0}g, up to 2 less or 8\u{a0}g more.";
        assert!(drawn.contains(said), "{drawn}");
        assert!(!drawn.contains("salt"), "{drawn}");
    }

    #[test]
    fn many_lines_end_in_a_word() {
        let many: Vec<Doubted> = (1..=14)
            .map(|i| row("line", 10.0, 10.0, 10.0 + f64::from(i)))
            .collect();
        let drawn = doubts("d", &many).into_string();
        assert_eq!(
            drawn
                .matches("and 4 lines, each by 4\u{a0}g at most")
                .count(),
            2,
            "{drawn}"
        );
        let eleven = doubts("d", &many[..11]).into_string();
        assert!(!eleven.contains("at most"), "{eleven}");
    }

    #[test]
    fn figures_in_the_wrong_order_are_put_right() {
        assert_eq!(ordered(9.0, 20.0, 3.0), Some((3.0, 9.0, 9.0)));
    }
}
