//! What a blend is made of.

use maud::{Markup, html};
use quantity::listed;

use super::pieces::{Piece, bar, labels};
use super::svg::{
    Fill, Frame, Hang, SMALL, WIDTH, cut, hatches, known, line, percent, rect, text, width,
};

/// What a part of a blend is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Kind {
    /// A flour.
    Flour,
    /// A starch.
    Starch,
    /// A binder, on top of flours and starches.
    Binder,
}

/// A part of a blend.
#[derive(Debug, Clone, PartialEq)]
pub struct Part {
    /// What it is.
    pub name: String,
    /// Its share in percent of flours and starches; of binders too, which come on top.
    pub share: f64,
    /// Flour, starch or binder.
    pub kind: Kind,
}

const BAR: f64 = 26.0;

/// A blend as one bar, flours and then starches (hatched), with the binders drawn to the same
/// scale on top.
pub fn blend(id: &str, parts: &[Part]) -> Markup {
    let of = |kind: Kind| {
        let mut some: Vec<(&str, f64)> = parts
            .iter()
            .filter(|p| p.kind == kind)
            .filter_map(|p| Some((p.name.as_str(), known(p.share).filter(|s| *s > 0.0)?)))
            .collect();
        some.sort_by(|a, b| b.1.total_cmp(&a.1));
        some
    };
    let sum = |some: &[(&str, f64)]| some.iter().map(|s| s.1).sum::<f64>();
    let (flours, starches, binders) = (of(Kind::Flour), of(Kind::Starch), of(Kind::Binder));
    let whole = sum(&flours) + sum(&starches);
    if whole <= 0.0 {
        return html! {};
    }
    let unit = (WIDTH - 1.0) / whole;
    let said = |some: &[(&str, f64)]| {
        let each: Vec<String> = some
            .iter()
            .map(|(n, s)| format!("{n} {}", percent(*s)))
            .collect();
        listed(&each)
    };

    let mut x = 0.5;
    let mut pieces = Vec::new();
    for (some, fill) in [(&flours, Fill::Wash), (&starches, Fill::Slant)] {
        for (name, share) in some {
            let (name, w) = ((*name).to_owned(), share * unit);
            pieces.push(Piece {
                name,
                figure: percent(*share),
                fill,
                x,
                w,
            });
            x += w;
        }
    }
    let split = 0.5 + sum(&flours) * unit;

    // Binders first: a small thing standing on the groups' lines.
    let top = if binders.is_empty() { 0.0 } else { 30.0 };
    let pinch = (sum(&binders) * unit).clamp(2.0, WIDTH / 3.0);
    let words = format!("on top: {}", said(&binders));
    let brace = top + 22.0;
    let y = brace + 6.0;
    let (labels, height) = labels(&pieces, y + BAR);

    let mut desc = Vec::new();
    for (some, what) in [(&flours, "Flours"), (&starches, "Starches")] {
        if !some.is_empty() {
            desc.push(format!("{what} {}: {}.", percent(sum(some)), said(some)));
        }
    }
    if !binders.is_empty() {
        desc.push(format!(
            "Binders on top, {} in all: {}.",
            percent(sum(&binders)),
            said(&binders)
        ));
    }
    let desc = desc.join(" ");
    Frame {
        id,
        kind: "blend",
        height: y + BAR + height,
        title: "What the blend is made of",
        desc: &desc,
    }
    .draw(&html! {
        (hatches(id, pieces.iter().map(|p| p.fill)))
        @if !binders.is_empty() {
            (rect("pic-piece pic-solid", 0.5, 4.0, pinch, 14.0))
            @match cut(&words, SMALL, WIDTH - pinch - 8.0) {
                Some(short) => text.pic-small x=(super::svg::at(pinch + 8.0)) y="15.5" {
                    title { (words) } (short)
                },
                None => (text("pic-small", pinch + 8.0, 15.5, Hang::Start, &words)),
            }
        }
        (group("flours", sum(&flours), (0.5, split), brace))
        (group("starches", sum(&starches), (split, WIDTH - 0.5), brace))
        (bar(id, &pieces, y, BAR))
        (labels)
    })
}

/// A line over one group with its name and share; the name hangs where it has room.
fn group(what: &str, share: f64, (from, to): (f64, f64), y: f64) -> Markup {
    if share <= 0.0 {
        return html! {};
    }
    let words = format!("{what} {}", percent(share));
    let last = to >= WIDTH - 1.0;
    let narrow = to - from < width(&words, SMALL) + 8.0;
    let (x, hang) = if last && (narrow || from > 1.0) {
        (to, Hang::End)
    } else {
        (from, Hang::Start)
    };
    let (from, to) = (from + 1.5, (to - 1.5).max(from + 2.5));
    html! {
        (line("pic-brace", (from, y), (to, y)))
        (text("pic-small pic-strong", x, y - 6.0, hang, &words))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn part(name: &str, share: f64, kind: Kind) -> Part {
        Part {
            name: name.to_owned(),
            share,
            kind,
        }
    }

    #[test]
    fn says_flours_starches_and_binders_apart() {
        let drawn = blend(
            "m",
            &[
                part("tapioca", 20.0, Kind::Starch),
                part("rice flour", 50.0, Kind::Flour),
                part("potato starch", 30.0, Kind::Starch),
                part("psyllium", 4.0, Kind::Binder),
            ],
        )
        .into_string();
        let said = "Flours 50\u{a0}%: rice flour 50\u{a0}%. \
                    Starches 50\u{a0}%: potato starch 30\u{a0}% and tapioca 20\u{a0}%. \
                    Binders on top, 4\u{a0}% in all: psyllium 4\u{a0}%.";
        assert!(drawn.contains(said), "{drawn}");
        assert_eq!(drawn.matches("url(#m-slant)").count(), 2, "{drawn}");
    }

    #[test]
    fn binders_alone_are_no_blend() {
        assert_eq!(
            blend("m", &[part("psyllium", 4.0, Kind::Binder)]).into_string(),
            ""
        );
    }

    #[test]
    fn all_starch_has_no_line_for_flours() {
        let drawn = blend("m", &[part("tapioca", 100.0, Kind::Starch)]).into_string();
        assert!(
            !drawn.contains("flours") && !drawn.contains("Flours"),
            "{drawn}"
        );
    }
}
