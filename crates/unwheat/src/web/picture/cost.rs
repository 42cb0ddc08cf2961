//! What a sum of money is made of: a bar for each ingredient.

use maud::{Markup, html};

use super::svg::{Frame, Hang, WIDTH, known, line, name, percent, rect, text};

/// One ingredient.
#[derive(Debug, Clone, PartialEq)]
pub struct Paid {
    /// Its name.
    pub name: String,
    /// Its money.
    pub amount: f64,
    /// Its share of the sum, 0 to 1.
    pub share: f64,
}

/// Bars drawn one by one; the rest are one bar together.
const MOST: usize = 10;
const ROW: f64 = 26.0;
/// From where to where bars are drawn.
const TRACK: (f64, f64) = (172.0, 272.0);

/// A bar for each ingredient, the dearest first; `money` writes an amount.
pub fn cost(id: &str, parts: &[Paid], title: &str, money: impl Fn(f64) -> String) -> Markup {
    let mut rows: Vec<(String, f64, f64)> = parts
        .iter()
        .filter_map(|p| Some((p.name.clone(), known(p.share)?, p.amount)))
        .collect();
    if rows.is_empty() {
        return html! {};
    }
    if rows.len() > MOST + 1 {
        let rest = rows.split_off(MOST);
        let (share, amount) = rest.iter().fold((0.0, 0.0), |(s, a), r| (s + r.1, a + r.2));
        rows.push((format!("{} others", rest.len()), share, amount));
    }
    let said: Vec<String> = rows
        .iter()
        .map(|(n, s, m)| format!("{n}: {}, {}", percent(100.0 * s), money(*m)))
        .collect();
    let largest = rows.iter().map(|r| r.1).fold(0.0, f64::max).max(0.01);
    Frame {
        id,
        kind: "cost",
        height: ROW * rows.len() as f64 + 2.0,
        title,
        desc: &format!("{}.", said.join("; ")),
    }
    .draw(&html! {
        @for (i, (what, share, amount)) in rows.iter().enumerate() {
            @let y = ROW * i as f64;
            @let middle = y + ROW / 2.0;
            @let long = (TRACK.1 - TRACK.0) * share / largest;
            (name(0.0, middle + 4.5, TRACK.0 - 10.0, what))
            (rect("pic-solid", TRACK.0, middle - 7.0, long.max(1.0), 14.0))
            (text("pic-figure", WIDTH, middle + 4.5, Hang::End, &money(*amount)))
            (line("pic-rule", (0.0, y + ROW), (WIDTH, y + ROW)))
        }
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn paid(n: usize) -> Vec<Paid> {
        (0..n)
            .map(|i| Paid {
                name: format!("food {i}"),
                amount: 1.0,
                share: 1.0 / n as f64,
            })
            .collect()
    }

    #[test]
    fn the_rest_is_one_bar_and_everything_is_said() {
        let page = cost("c", &paid(20), "What it is made of", |v| format!("{v:.2}")).into_string();
        assert!(page.contains("10 others: 50\u{a0}%, 10.00"), "{page}");
        assert_eq!(page.matches("<rect").count(), 11);
        let few = cost("c", &paid(3), "What it is made of", |v| format!("{v:.2}")).into_string();
        assert_eq!(few.matches("<rect").count(), 3);
        assert!(few.contains("food 2: 33\u{a0}%, 1.00"), "{few}");
        assert_eq!(cost("c", &[], "x", |v| v.to_string()).into_string(), "");
    }
}
