//! How far off what is foretold is, and how often its range holds, row by row.

use maud::{Markup, html};

use super::svg::{Frame, Hang, WIDTH, at as place, known, line, name, percent, rect, text};

/// One row.
#[derive(Debug, Clone, PartialEq)]
pub struct Held {
    /// What was foretold: a style.
    pub name: String,
    /// What stands behind it, in a few words.
    pub behind: String,
    /// Too little to trust.
    pub thin: bool,
    /// Half of the figures are farther off than so many per cent; not a number where none is known.
    pub off: f64,
    /// Per cent of figures that the range holds; not a number where none is known.
    pub held: f64,
}

/// The bars of how far off, and the scale of how many are held.
const OFF: (f64, f64) = (148.0, 216.0);
const SCALE: (f64, f64) = (266.0, 318.0);
const ROW: f64 = 38.0;
const HEAD: f64 = 40.0;

/// Styles with how far off the half is, and how many of a hundred the range holds, beside the
/// `promise`, in per cent.
pub fn held(id: &str, rows: &[Held], promise: f64) -> Markup {
    let rows: Vec<(&Held, Option<f64>, Option<f64>)> = rows
        .iter()
        .map(|r| (r, known(r.off), known(r.held).map(|h| h.min(100.0))))
        .collect();
    if rows.is_empty() {
        return html! {};
    }
    let promise = known(promise).unwrap_or(90.0).min(100.0);
    let most = rows.iter().filter_map(|r| r.1).fold(1e-9, f64::max);
    let off = |v: f64| (OFF.1 - OFF.0) * v / most;
    let at = |v: f64| SCALE.0 + (SCALE.1 - SCALE.0) * v / 100.0;
    let said: Vec<String> = rows
        .iter()
        .map(|(r, off, held)| match (off, held) {
            (Some(off), Some(held)) => format!(
                "{} ({}): off by {}, {} held",
                r.name,
                r.behind,
                percent(*off),
                percent(*held)
            ),
            _ => format!("{} ({}): not measured", r.name, r.behind),
        })
        .collect();
    let desc = format!(
        "Of what is foretold half is farther off than the bar; the range promises {}. {}.",
        percent(promise),
        said.join("; ")
    );
    let end = HEAD + ROW * rows.len() as f64;
    Frame {
        id,
        kind: "held",
        height: end + 4.0,
        title: "How far off, and how often the range holds",
        desc: &desc,
    }
    .draw(&html! {
        (text("pic-small", OFF.0, 12.0, Hang::Start, "off by"))
        (text("pic-small", SCALE.0, 12.0, Hang::Start, "held, of"))
        (text("pic-small", SCALE.0, 26.0, Hang::Start, &format!("{} promised", percent(promise))))
        @for (i, (r, far, kept)) in rows.iter().enumerate() {
            @let top = HEAD + ROW * i as f64;
            @let middle = top + 12.0;
            (line("pic-rule", (0.0, top - 5.0), (WIDTH, top - 5.0)))
            (name(0.0, middle + 2.0, OFF.0 - 10.0, &r.name))
            (text(if r.thin { "pic-warn" } else { "pic-small" }, 0.0, middle + 16.0, Hang::Start, &r.behind))
            @match (far, kept) {
                (Some(far), Some(kept)) => {
                    (rect("pic-more", OFF.0, middle - 4.0, off(*far), 10.0))
                    (text("pic-figure", OFF.0 + off(*far) + 5.0, middle + 5.0, Hang::Start, &percent(far.round())))
                    (line("pic-axis", (SCALE.0, middle + 1.0), (SCALE.1, middle + 1.0)))
                    (line("pic-zero", (at(promise), middle - 7.0), (at(promise), middle + 9.0)))
                    circle class=(if *kept + 5.0 < promise { "pic-open" } else { "pic-full" })
                        cx=(place(at(*kept))) cy=(place(middle + 1.0)) r="4" {}
                    (text("pic-figure", WIDTH, middle + 5.0, Hang::End, &percent(kept.round())))
                }
                _ => { (text("pic-small", OFF.0, middle + 5.0, Hang::Start, "not measured")) }
            }
        }
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_not_measured_is_said() {
        let row = |name: &str, off, held| Held {
            name: name.to_owned(),
            behind: "5 formulas: thin".to_owned(),
            thin: true,
            off,
            held,
        };
        let drawn = held(
            "h",
            &[
                row("Bread", 12.4, 94.0),
                row("Croissant", f64::NAN, f64::NAN),
            ],
            90.0,
        )
        .into_string();
        assert!(
            drawn.contains("Bread (5 formulas: thin): off by 12\u{a0}%, 94\u{a0}% held; Croissant (5 formulas: thin): not measured."),
            "{drawn}"
        );
    }
}
