//! Where the water comes from, before and after.

use maud::{Markup, html};
use quantity::listed;

use super::Share;
use super::pieces::{Piece, bar, labels};
use super::svg::{Fill, Frame, Hang, WIDTH, grams, hatches, known, percent, text};

/// The water of a component, by what brings it.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Water {
    /// Flours and starches in grams, to give percent of; without them only grams are shown.
    pub flour: f64,
    /// Milk, egg, butter, water and so on, in grams of water each.
    pub sources: Vec<Share>,
}

/// Sources below this share of the whole are put together, where there are several.
const SLIVER: f64 = 0.03;

const BAR: f64 = 22.0;

struct Cut<'a> {
    sources: Vec<(&'a str, f64)>,
    total: f64,
    flour: Option<f64>,
}

impl<'a> Cut<'a> {
    fn of(water: &'a Water) -> Self {
        let mut sources: Vec<(&str, f64)> = Vec::new();
        for share in &water.sources {
            let Some(amount) = known(share.amount).filter(|a| *a > 0.0) else {
                continue;
            };
            match sources.iter_mut().find(|s| s.0 == share.name) {
                Some(same) => same.1 += amount,
                None => sources.push((&share.name, amount)),
            }
        }
        sources.sort_by(|a, b| b.1.total_cmp(&a.1));
        let total: f64 = sources.iter().map(|s| s.1).sum();
        let large = sources.iter().filter(|s| s.1 >= SLIVER * total).count();
        if sources.len() > large + 1 {
            let rest: f64 = sources[large..].iter().map(|s| s.1).sum();
            sources.truncate(large);
            sources.push(("others", rest));
        }
        Self {
            sources,
            total,
            flour: known(water.flour).filter(|f| *f > 0.0),
        }
    }

    fn share(&self, amount: f64) -> Option<String> {
        self.flour.map(|flour| percent(100.0 * amount / flour))
    }

    /// `240 g · 48 %`.
    fn figure(&self, amount: f64) -> String {
        match self.share(amount) {
            Some(share) => format!("{} · {share}", grams(amount)),
            None => grams(amount),
        }
    }

    fn words(&self) -> String {
        if self.sources.is_empty() {
            return "no water".to_owned();
        }
        let sources: Vec<String> = self
            .sources
            .iter()
            .map(|&(name, amount)| match self.share(amount) {
                Some(share) => format!("{name} {} ({share})", grams(amount)),
                None => format!("{name} {}", grams(amount)),
            })
            .collect();
        let of = self
            .share(self.total)
            .map_or(String::new(), |s| format!(", {s} of the flours"));
        format!("{} of water{of}: {}", grams(self.total), listed(&sources))
    }
}

/// Where the water comes from: two bars on one scale, cut by source, the larger first.
pub fn water(id: &str, before: &Water, after: &Water) -> Markup {
    let cuts = [
        ("Original", Cut::of(before)),
        ("Gluten-free", Cut::of(after)),
    ];
    if cuts.iter().all(|(_, cut)| cut.sources.is_empty()) {
        return html! {};
    }
    // Against the flours where both have some, so that the bars can be compared.
    let against = cuts.iter().all(|(_, cut)| cut.flour.is_some());
    let size = |cut: &Cut, amount: f64| match cut.flour {
        Some(flour) if against => amount / flour,
        _ => amount,
    };
    let most = cuts
        .iter()
        .map(|(_, cut)| size(cut, cut.total))
        .fold(0.0, f64::max);
    // A source looks the same in both bars.
    let mut names: Vec<&str> = Vec::new();
    for (name, _) in cuts.iter().flat_map(|(_, cut)| &cut.sources) {
        if !names.contains(name) && *name != "others" {
            names.push(name);
        }
    }
    let fill = |name: &str| {
        let place = names.iter().position(|n| *n == name);
        place
            .and_then(|i| Fill::ORDER.get(i))
            .copied()
            .unwrap_or(Fill::Bare)
    };
    let (mut y, mut body, mut fills) = (0.0, Vec::new(), Vec::new());
    for (head, cut) in &cuts {
        let mut x = 0.5;
        let pieces: Vec<Piece> = cut
            .sources
            .iter()
            .map(|&(name, amount)| {
                let w = (WIDTH - 1.0) * size(cut, amount) / most;
                x += w;
                let (name, figure) = (name.to_owned(), cut.figure(amount));
                Piece {
                    fill: fill(&name),
                    name,
                    figure,
                    x: x - w,
                    w,
                }
            })
            .collect();
        let top = y + 22.0;
        let (labels, height) = labels(&pieces, top + BAR);
        let total = match cut.share(cut.total) {
            Some(share) => format!("{} · {share}", grams(cut.total)),
            None => grams(cut.total),
        };
        fills.extend(pieces.iter().map(|p| p.fill));
        body.push(html! {
            (text("pic-heading", 0.0, y + 14.0, Hang::Start, head))
            (text("pic-figure pic-strong", WIDTH, y + 14.0, Hang::End, &total))
            (bar(id, &pieces, top, BAR))
            (labels)
        });
        y = top + BAR + height + 14.0;
    }
    let foot = match against {
        true => "grams of water, and % of flours and starches",
        false => "grams of water",
    };
    let said: Vec<String> = cuts
        .iter()
        .map(|(head, cut)| format!("{head}: {}.", cut.words()))
        .collect();
    let desc = said.join(" ");
    Frame {
        id,
        kind: "water",
        height: y + 6.0,
        title: "Where the water comes from",
        desc: &desc,
    }
    .draw(&html! {
        (hatches(id, fills))
        @for part in body { (part) }
        (text("pic-small", 0.0, y, Hang::Start, foot))
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn of(flour: f64, sources: &[(&str, f64)]) -> Water {
        Water {
            flour,
            sources: sources.iter().map(|&(n, a)| Share::new(n, a)).collect(),
        }
    }

    #[test]
    fn says_grams_and_percent_of_each_source() {
        let drawn = water(
            "w",
            &of(500.0, &[("egg", 76.0), ("milk", 240.0)]),
            &of(500.0, &[("milk", 240.0), ("water", 160.0)]),
        )
        .into_string();
        let said = "Original: 316\u{a0}g of water, 63\u{a0}% of the flours: \
                    milk 240\u{a0}g (48\u{a0}%) and egg 76\u{a0}g (15\u{a0}%). \
                    Gluten-free: 400\u{a0}g of water";
        assert!(drawn.contains(said), "{drawn}");
    }

    #[test]
    fn slivers_go_together_and_one_alone_keeps_its_name() {
        let one = of(500.0, &[("milk", 300.0), ("butter", 5.0)]);
        assert!(!water("w", &one, &one).into_string().contains("others"));
        let two = of(500.0, &[("milk", 300.0), ("butter", 5.0), ("honey", 2.0)]);
        let drawn = water("w", &two, &two).into_string();
        assert!(
            drawn.contains("others 7\u{a0}g") && !drawn.contains("honey"),
            "{drawn}"
        );
    }

    #[test]
    fn without_flour_there_are_only_grams() {
        let batter = of(0.0, &[("milk", 300.0)]);
        let drawn = water("w", &batter, &batter).into_string();
        assert!(
            drawn.contains("300\u{a0}g") && !drawn.contains('%'),
            "{drawn}"
        );
    }

    #[test]
    fn one_side_may_have_no_water() {
        let drawn = water("w", &of(100.0, &[]), &of(100.0, &[("milk", 70.0)])).into_string();
        assert!(drawn.contains("Original: no water."), "{drawn}");
    }
}
