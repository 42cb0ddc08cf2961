//! What holds a component together, beside the style's range.

use maud::{Markup, html};
use quantity::listed;
use recipe::household::percent_figure;

use super::Share;
use super::pieces::{Piece, bar, labels};
use super::svg::{
    Fill, Frame, Hang, SMALL, WIDTH, figure_width, hatches, known, line, percent, rect, text,
};

/// What binds, each in percent of the flours and starches and in one measure.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Bound {
    /// The measure: xanthan or psyllium.
    pub of: String,
    /// What each food is worth.
    pub gives: Vec<Share>,
    /// Low and high of the sum.
    pub sum: (f64, f64),
    /// The style's range.
    pub range: (f64, f64),
    /// What is aimed at.
    pub wanted: f64,
}

const BAR: f64 = 20.0;
/// How far the range stands out over and under the bar.
const OUT: f64 = 7.0;

/// What each food gives, stacked to one bar, over the style's range as a band.
pub fn binding(id: &str, bound: &Bound) -> Markup {
    let mut gives: Vec<(&str, f64)> = Vec::new();
    for share in &bound.gives {
        let Some(amount) = known(share.amount).filter(|a| *a >= 0.005) else {
            continue;
        };
        match gives.iter_mut().find(|g| g.0 == share.name) {
            Some(same) => same.1 += amount,
            None => gives.push((&share.name, amount)),
        }
    }
    let sum: f64 = gives.iter().map(|g| g.1).sum();
    let range = match (known(bound.range.0), known(bound.range.1)) {
        (Some(low), Some(high)) if high >= low && high > 0.0 => Some((low, high)),
        _ => None,
    };
    if gives.is_empty() && range.is_none() {
        return html! {};
    }
    let wanted = known(bound.wanted).unwrap_or(0.0);
    let most = range.map_or(0.0, |r| r.1).max(sum).max(wanted);
    if most <= 0.0 {
        return html! {};
    }
    let x = |v: f64| 0.5 + (WIDTH - 1.0) * v / most;
    let mut from = 0.0;
    let pieces: Vec<Piece> = gives
        .iter()
        .enumerate()
        .map(|(i, &(name, amount))| {
            from += amount;
            Piece {
                name: name.to_owned(),
                figure: percent(amount),
                // The range is drawn in the first fill.
                fill: Fill::ORDER.get(i + 1).copied().unwrap_or(Fill::Bare),
                x: x(from - amount),
                w: x(from) - x(from - amount),
            }
        })
        .collect();
    let top = 44.0;
    let (labels, height) = labels(&pieces, top + BAR + OUT);
    let spread = match (known(bound.sum.0), known(bound.sum.1)) {
        (Some(low), Some(high)) if percent_figure(low) != percent_figure(high) => {
            format!(" ({}–{})", percent_figure(low), percent_figure(high))
        }
        _ => String::new(),
    };
    let total = format!("{}{spread}", percent(sum));
    let beside = match range {
        Some((low, _)) if sum < low - 0.005 => ", below range",
        Some((_, high)) if sum > high + 0.005 => ", above range",
        _ => "",
    };
    let each: Vec<String> = gives
        .iter()
        .map(|(name, amount)| format!("{name} {}", percent(*amount)))
        .collect();
    let what = if each.is_empty() {
        "nothing".to_owned()
    } else {
        listed(&each)
    };
    let desc = format!(
        "Worth {total} {} of the flours and starches{beside}: {what}. Wanted {}.{}",
        bound.of,
        percent(wanted),
        range.map_or(String::new(), |(low, high)| format!(
            " The style’s range is {} to {}.",
            percent_figure(low),
            percent(high)
        ))
    );
    Frame {
        id,
        kind: "binding",
        height: top + BAR + OUT + height + 20.0,
        title: "What holds it together",
        desc: &desc,
    }
    .draw(&html! {
        (hatches(id, pieces.iter().map(|p| p.fill)))
        (text("pic-heading", 0.0, 14.0, Hang::Start, &format!("worth in {}", bound.of)))
        (text(if beside.is_empty() { "pic-figure pic-strong" } else { "pic-figure pic-warn" },
            WIDTH, 14.0, Hang::End, &format!("{total}{beside}")))
        @if let Some((low, high)) = range {
            (rect("pic-band", x(low), top - OUT, x(high) - x(low), BAR + 2.0 * OUT))
            (line("pic-end", (x(low), top - OUT), (x(low), top + BAR + OUT)))
            (line("pic-end", (x(high), top - OUT), (x(high), top + BAR + OUT)))
            (ends(low, high, x(low), x(high), top - OUT - 4.0))
        }
        (bar(id, &pieces, top, BAR))
        (labels)
        (text("pic-small", 0.0, top + BAR + OUT + height + 14.0, Hang::Start,
            &format!("% of flours and starches; {} wanted", percent(wanted))))
    })
}

/// The figures of the range over its ends, and its name between them where there is room.
fn ends(low: f64, high: f64, from: f64, to: f64, y: f64) -> Markup {
    let (lows, highs) = (percent_figure(low), percent_figure(high));
    let (wl, wh) = (figure_width(&lows, SMALL), figure_width(&highs, SMALL));
    // Both stand inside the picture.
    let left = (from - wl / 2.0).clamp(0.0, WIDTH - wl);
    let right = (to + wh / 2.0).clamp(wh, WIDTH);
    let apart = right - wh - (left + wl) > 52.0;
    html! {
        @if right - wh > left + wl + 8.0 {
            (text("pic-figure pic-soft", left, y, Hang::Start, &lows))
            (text("pic-figure pic-soft", right, y, Hang::End, &highs))
            @if apart {
                (text("pic-small", (left + wl + right - wh) / 2.0, y, Hang::Middle, "range"))
            }
        } @else {
            (text("pic-figure pic-soft", right, y, Hang::End, &format!("{lows}–{highs}")))
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn bound(gives: &[(&str, f64)], sum: (f64, f64)) -> Bound {
        Bound {
            of: "xanthan".to_owned(),
            gives: gives.iter().map(|&(n, a)| Share::new(n, a)).collect(),
            sum,
            range: (0.3, 1.6),
            wanted: 0.8,
        }
    }

    #[test]
    fn says_each_the_sum_and_the_range() {
        let b = bound(&[("egg", 0.3), ("xanthan gum", 0.5)], (0.6, 1.3));
        let drawn = binding("b", &b).into_string();
        let said = "Worth 0.8\u{a0}% (0.6–1.3) xanthan of the flours and starches: \
                    egg 0.3\u{a0}% and xanthan gum 0.5\u{a0}%. Wanted 0.8\u{a0}%. \
                    The style’s range is 0.3 to 1.6\u{a0}%.";
        assert!(drawn.contains(said), "{drawn}");
        assert_eq!(drawn.matches("pic-band").count(), 1);
    }

    #[test]
    fn says_in_words_what_is_outside() {
        let b = bound(&[("xanthan gum", 2.0)], (2.0, 2.0));
        assert_eq!(
            binding("b", &b)
                .into_string()
                .matches("above range")
                .count(),
            2
        );
        let none = binding("b", &bound(&[], (0.0, 0.0))).into_string();
        assert!(none.contains("below range: nothing"), "{none}");
    }
}
