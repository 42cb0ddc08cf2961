//! Leavening as text: the balance, swaps, yeast, syrup, altitude.

use super::Style;
use super::table::{Side, paragraph, table};
use larder::Larder;
use quantity::{Locale, Mass, Quantity, Spread, Volume, degrees_in};
use recipe::leaven::{Altitude, Corrected, Leavening, Report};

use Side::{Left, Right};

/// One component, named.
pub struct Named<'a> {
    /// Its name; empty for the only one.
    pub name: &'a str,
    /// What is said of it.
    pub report: &'a Report,
    /// Its amounts at the altitude asked for.
    pub up_there: &'a [Corrected],
}

/// `unwheat leaven`.
pub fn leaven(
    title: Option<&str>,
    parts: &[Named<'_>],
    altitude: Option<&Altitude>,
    larder: &Larder,
    locale: Locale,
    style: &Style,
) -> String {
    let mut out = String::new();
    if let Some(t) = title {
        out.push_str(&super::text::heading(t, style));
    }
    if let Some(a) = altitude {
        out.push_str(&paragraph("", &degrees_in(&height(a), locale)));
    }
    let mut shown = false;
    for part in parts {
        if part.report.is_empty() && part.up_there.is_empty() {
            continue;
        }
        shown = true;
        out.push('\n');
        if !part.name.is_empty() {
            out.push_str(&format!("{}\n", style.heading(&part.name.to_uppercase())));
        }
        out.push_str(&component(part.report, larder, locale));
        for c in part.up_there {
            out.push_str(&paragraph("  ↑ ", &corrected(c)));
        }
    }
    if !shown {
        out.push_str("\nNo leavener in it, and no syrup that decides anything.\n");
    } else if altitude.is_some_and(|a| a.correction.is_some()) {
        out.push('\n');
        out.push_str(&paragraph(
            "",
            &format!(
                "↑ is the amount at that height. Source: {}; yeast: common practice, no source.",
                Altitude::source()
            ),
        ));
    }
    out
}

/// An amount and what it is at a height: `baking powder: 9.2 g → 8.1 g`.
pub fn corrected(c: &Corrected) -> String {
    format!("{}: {} g → {}", c.what, grams(c.from), range(c.to))
}

/// A height in a sentence.
pub fn height(a: &Altitude) -> String {
    let base = format!(
        "At {:.0} m: {:.1} kPa, water boils at {:.1} °C, gas takes {:.2} times the room.",
        a.metres, a.pressure, a.boiling, a.expansion
    );
    match a.correction {
        None => format!(
            "{base} Below the published table, which begins at 1,067 m: nothing is changed."
        ),
        Some(c) => format!(
            "{base} Oven {:.0}–{:.0} °C hotter; no core temperature above {:.0} °C.{}",
            c.oven.0,
            c.oven.1,
            a.boiling - 1.5,
            if c.beyond {
                " The published table ends at 3,048 m: its last row is used."
            } else {
                ""
            }
        ),
    }
}

/// One component.
fn component(report: &Report, larder: &Larder, locale: Locale) -> String {
    let told = |words: &str| degrees_in(words, locale);
    let l = &report.leavening;
    let mut out = String::new();
    if !l.parts.is_empty() && l.is_leavened() {
        out.push_str(&parts_table(l, larder));
        out.push_str(&balance(l, locale));
    }
    for s in &report.swaps {
        let to: Vec<String> =
            s.to.iter()
                .map(|(key, g)| format!("{} g {}", grams(*g), name(key, larder)))
                .collect();
        let leaves = if s.leaves_acid.value() > 0.05 {
            format!(
                " The acid that took {} g of soda then stays sour.",
                grams(s.leaves_acid)
            )
        } else {
            String::new()
        };
        out.push_str(&paragraph(
            "  ⇄ ",
            &format!(
                "{} → {}: {}.{leaves} [{}]",
                s.from,
                to.join(" + "),
                s.rule,
                s.source
            ),
        ));
    }
    for y in &report.yeast {
        let water = y.water.as_grams();
        let with = if water > 0.05 {
            format!(" and {} g water", grams(y.water))
        } else if water < -0.05 {
            format!(", {} g water less", grams(Mass::grams(-water)))
        } else {
            String::new()
        };
        out.push_str(&paragraph(
            "  ⇄ ",
            &format!(
                "{} g {} → {} g {}{with}: fresh : active dry : instant = 1 : 0.40 : 0.33 [bakery text; water USDA SR28]",
                grams(y.grams),
                y.from.name(),
                grams(y.other),
                y.to.name()
            ),
        ));
    }
    for c in &report.cautions {
        out.push_str(&paragraph(
            "  ! ",
            &told(&format!("{} [{}]", c.words, c.source)),
        ));
    }
    for r in &report.remarks {
        out.push_str(&paragraph(
            "  ! ",
            &told(&format!("{} [{}]", r.words, r.source)),
        ));
    }
    if let Some(f) = report.fat {
        let text = if report.fat_is_oil {
            format!(
                "{} g oil → {} g butter, and {} g less of the water",
                grams(f.oil),
                grams(f.butter),
                grams(f.water)
            )
        } else {
            format!(
                "{} g butter → {} g oil and {} g water",
                grams(f.butter),
                grams(f.oil),
                grams(f.water)
            )
        };
        out.push_str(&paragraph(
            "  ⇄ ",
            &format!(
                "{text}: butter is 80 % fat and 18 % water; oil creams no air [USDA SR28 01145]"
            ),
        ));
    }
    out
}

fn name(key: &str, larder: &Larder) -> String {
    larder
        .by_key(key)
        .map_or_else(|| key.to_owned(), |f| larder.food(f).name.clone())
}

/// The block of `unwheat rework`: soda and acid, gas, cautions.
pub fn raising(r: &recipe::rework::Raising, larder: &Larder, locale: Locale) -> String {
    let told = |words: &str| degrees_in(words, locale);
    let mut out = String::new();
    let sentences = r.sentences();
    for sentence in &sentences {
        out.push_str(&paragraph("  = ", &told(sentence)));
    }
    let figures = r.figures(larder);
    if !sentences.is_empty() && !figures.is_empty() {
        out.push_str(&paragraph("    ", &told(&format!("[{figures}]"))));
    }
    for c in &r.after.cautions {
        out.push_str(&paragraph(
            "  ! ",
            &told(&format!("{} [{}]", c.words, c.source)),
        ));
    }
    for c in &r.after.remarks {
        out.push_str(&paragraph(
            "  ! ",
            &told(&format!("{} [{}]", c.words, c.source)),
        ));
    }
    out
}

/// Gas and balance in two sentences.
fn balance(l: &Leavening, locale: Locale) -> String {
    let mut out = paragraph("  = ", &l.words());
    let ml = |v: Volume| format!("{:.0}", v.as_millilitres());
    if l.gas.likely().value() > 0.0 {
        let per = l.gas_per_flour().map_or(String::new(), |p| {
            format!(": {p:.1} mL for a gram of flour")
        });
        out.push_str(&paragraph(
            "  = ",
            &degrees_in(
                &format!(
                    "gas {} mL at 25 °C ({}–{} mL), {} mL at 95 °C{per}",
                    ml(l.gas.likely()),
                    ml(l.gas.low()),
                    ml(l.gas.high()),
                    ml(l.gas_hot().likely())
                ),
                locale,
            ),
        ));
    }
    if l.gas_by_heat.likely().as_millilitres() > 5.0 {
        out.push_str(&paragraph(
            "  = ",
            &format!(
                "the oven drives {} mL more out of the left-over soda, late",
                ml(l.gas_by_heat.likely())
            ),
        ));
    }
    out
}

fn parts_table(l: &Leavening, larder: &Larder) -> String {
    let rows: Vec<Vec<String>> = l
        .parts
        .iter()
        .map(|p| {
            let soda = if p.base.likely().value() > 0.0 {
                format!("needs acid for {}", grams(p.base.likely()))
            } else if p.acid.high().value() > 0.0 {
                format!("takes {}", range(p.acid).trim_end_matches(" g"))
            } else {
                "brings its own acid".to_owned()
            };
            let gas = p.gas.likely().as_millilitres();
            vec![
                larder.food(p.food).name.clone(),
                grams(p.grams.likely()),
                soda,
                if gas > 0.0 {
                    format!("{gas:.0}")
                } else {
                    String::new()
                },
                p.source.clone(),
            ]
        })
        .collect();
    table(
        &["line", "grams", "soda, g", "gas, mL", "source"],
        &[Left, Right, Left, Right, Left],
        &[16, 6, 20, 7, 23],
        &rows,
    )
}

/// Grams of a leavener: a tenth below 20 g, whole above.
pub fn grams(m: Mass) -> String {
    let g = m.as_grams();
    if g > 0.0 && g < 0.1 {
        format!("{g:.2}")
    } else if g < 20.0 {
        format!("{g:.1}")
    } else {
        format!("{g:.0}")
    }
}

/// A spread in grams; one figure where its ends are one.
fn range(s: Spread<Mass>) -> String {
    let (low, high) = (grams(s.low()), grams(s.high()));
    if low == high {
        format!("{} g", grams(s.likely()))
    } else {
        format!("{} ({low}–{high}) g", grams(s.likely()))
    }
}
