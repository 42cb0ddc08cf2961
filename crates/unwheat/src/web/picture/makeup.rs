//! What a blend is made of, beside what was aimed at.

use maud::{Markup, html};

use super::svg::{Frame, Hang, WIDTH, at, figure, known, line, name, rect, text};

/// One property of a blend.
#[derive(Debug, Clone, PartialEq)]
pub struct Has {
    /// Its name.
    pub name: &'static str,
    /// Its unit.
    pub unit: &'static str,
    /// What the blend has.
    pub value: f64,
    /// What was aimed at.
    pub aim: f64,
    /// What a usual published blend misses the aim by.
    pub spread: f64,
}

/// From where to where marks are drawn; names to the left, figures to the right.
const TRACK: (f64, f64) = (104.0, 262.0);
const AIM: f64 = 310.0;
const HEAD: f64 = 26.0;
const ROW: f64 = 28.0;
/// Spreads to either side of the aim that there is room for.
const ROOM: f64 = 2.5;

impl Has {
    /// By how many spreads it is off; nothing where a figure is not known.
    fn off(&self) -> Option<f64> {
        let (value, aim) = (known(self.value)?, known(self.aim)?);
        let spread = known(self.spread).filter(|s| *s > 0.0)?;
        Some((value - aim) / spread)
    }

    fn words(&self) -> String {
        let value = |v: f64| known(v).map_or("not known".to_owned(), figure);
        let far = match self.off() {
            Some(o) if o > 1.0 => ", above the usual spread",
            Some(o) if o < -1.0 => ", below the usual spread",
            Some(_) => ", within the usual spread",
            None => "",
        };
        format!(
            "{}: {}, aim {} give or take {} {}{far}",
            self.name,
            value(self.value),
            value(self.aim),
            value(self.spread),
            self.unit
        )
    }
}

fn x(off: f64) -> f64 {
    let middle = (TRACK.0 + TRACK.1) / 2.0;
    middle + (TRACK.1 - TRACK.0) / 2.0 * (off / ROOM).clamp(-1.0, 1.0)
}

/// Each property a line of its own, the aim in the middle with the spread of published blends
/// about it; the blend is a dot, or an arrow's head where it lies beyond the line.
pub fn makeup(id: &str, rows: &[Has]) -> Markup {
    if rows.is_empty() {
        return html! {};
    }
    let said: Vec<String> = rows.iter().map(Has::words).collect();
    let figure_of = |v: f64| known(v).map_or("?".to_owned(), figure);
    let end = HEAD + ROW * rows.len() as f64;
    let aim = x(0.0);
    Frame {
        id,
        kind: "makeup",
        height: end + 22.0,
        title: "Make-up beside the aim",
        desc: &format!("{}.", said.join("; ")),
    }
    .draw(&html! {
        (text("pic-small", aim, 14.0, Hang::Middle, "aim, usual spread"))
        (text("pic-small", AIM, 14.0, Hang::End, "aim"))
        circle.pic-full cx=(at(WIDTH - 31.0)) cy="10" r="4" {}
        (text("pic-small", WIDTH, 14.0, Hang::End, "this"))
        @for (i, row) in rows.iter().enumerate() {
            @let y = HEAD + ROW * i as f64;
            @let middle = y + ROW / 2.0;
            (line("pic-rule", (0.0, y), (WIDTH, y)))
            (name(0.0, middle + 4.5, TRACK.0 - 10.0, row.name))
            (rect("pic-band", x(-1.0), middle - 8.0, x(1.0) - x(-1.0), 16.0))
            (line("pic-axis", (TRACK.0, middle), (TRACK.1, middle)))
            (line("pic-end", (aim, middle - 8.0), (aim, middle + 8.0)))
            @if let Some(off) = row.off() {
                @if off.abs() > ROOM {
                    @let way = off.signum();
                    path.pic-full d={ "M" (at(x(off) + way * 4.0)) " " (at(middle)) "l" (at(-way * 8.0)) " -5v10z" } {}
                } @else {
                    circle.pic-full cx=(at(x(off))) cy=(at(middle)) r="4.5" {}
                }
            }
            (text("pic-figure", AIM, middle + 4.5, Hang::End, &figure_of(row.aim)))
            (text("pic-figure pic-strong", WIDTH, middle + 4.5, Hang::End, &figure_of(row.value)))
        }
        (line("pic-rule", (0.0, end), (WIDTH, end)))
        (text("pic-small", 0.0, end + 17.0, Hang::Start, "g in 100 g; water in g to 100 g; flavour 0 to 3"))
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn has(value: f64) -> Has {
        Has {
            name: "protein",
            unit: "g in 100 g",
            value,
            aim: 6.0,
            spread: 2.0,
        }
    }

    #[test]
    fn says_what_it_shows() {
        let drawn = makeup("m", &[has(5.0)]).into_string();
        let said = "protein: 5, aim 6 give or take 2 g in 100 g, within the usual spread.";
        assert!(drawn.contains(said), "{drawn}");
        assert_eq!(drawn.matches("pic-full").count(), 2, "{drawn}");
    }

    #[test]
    fn what_lies_beyond_the_line_points_there() {
        let drawn = makeup("m", &[has(40.0)]).into_string();
        assert!(
            drawn.contains("above the usual spread") && drawn.contains("<path"),
            "{drawn}"
        );
        let drawn = makeup("m", &[has(f64::NAN)]).into_string();
        assert!(!drawn.contains("NaN") && drawn.contains("not known"));
    }
}
