//! Heat as text: bakes, proofs, water, facts.

use super::Style;
use super::table::{Side, paragraph, table};
use quantity::{Locale, OvenSetting, Spread, Temperature, Time, degrees_in};
use recipe::heat::{
    Advice, Bake, Baked, Dough, DoughAsk, Figures, HeatField, Leg, Origin, OvenFact, Proofed, Wait,
    Water, clock,
};
use recipe::leaven::Altitude;

use Side::{Left, Right};

/// '31–38 min, likely 35'.
pub fn range(t: Spread<Time>) -> String {
    let (low, likely, high) = (
        t.low().as_minutes(),
        t.likely().as_minutes(),
        t.high().as_minutes(),
    );
    let whole = ends(low, high);
    if clock(low) == clock(high) {
        return whole;
    }
    format!("{whole}, likely {}", clock(likely))
}

/// '31–38 min', '1 h 20 min–2 h'.
pub fn ends(low: f64, high: f64) -> String {
    let (a, b) = (clock(low), clock(high));
    if a == b {
        a
    } else if high < 89.5 {
        format!("{low:.0}–{b}")
    } else {
        format!("{a}–{b}")
    }
}

/// An oven: '175 °C (350 °F)'; what no °C dial shows, such as 375 °F, by its nearest mark.
pub fn oven(t: Temperature) -> String {
    let setting = OvenSetting(t);
    let exact = t.as_celsius();
    let dial = if (exact - exact.round()).abs() < 1e-6 {
        exact
    } else {
        f64::from(setting.dial_celsius())
    };
    format!("{dial:.0} °C ({} °F)", setting.beside_celsius())
}

/// Where a dough stands: '22 °C (72 °F)', 'fridge, taken as 4 °C (39 °F)'.
pub fn place(leg: &Leg) -> String {
    match leg.place {
        Some(name) => format!("{name}, taken as {}", both(leg.celsius)),
        None => both(leg.celsius),
    }
}

/// '26 °C (79 °F)'.
pub fn both(celsius: f64) -> String {
    let f = Temperature::celsius(celsius).as_fahrenheit();
    format!("{} °C ({} °F)", zero(celsius), zero(f))
}

/// A whole figure, never '-0'.
fn zero(v: f64) -> String {
    let r = v.round();
    format!("{:.0}", if r == 0.0 { 0.0 } else { r }).replace('-', "−")
}

/// Figures used, with where they come from.
fn used(figures: &Figures<'_>, fields: &[HeatField]) -> String {
    let rows: Vec<Vec<String>> = fields
        .iter()
        .filter_map(|f| figures.value(*f))
        .filter(|v| figures.counts(v.field))
        .map(|v| vec![v.field.words().to_owned(), v.shown(), v.from().to_owned()])
        .collect();
    table(
        &["figure", "value", "from"],
        &[Left, Left, Left],
        &[32, 26, 18],
        &rows,
    )
}

fn advice(all: &[Advice], locale: Locale) -> String {
    let words = |a: &Advice| format!("{}. [{}]", a.words.trim_end_matches('.'), a.source);
    all.iter()
        .map(|a| paragraph("  ! ", &degrees_in(&words(a), locale)))
        .collect()
}

/// The bake to come: 'oblong tin, 20 × 10 × 6 cm, dark metal, at 175 °C (350 °F), with 900 g (as in the known
/// bake)'.
pub fn new_bake(figures: &Figures<'_>, ask: &Bake) -> String {
    let mut out = format!(
        "{}, {}{}, at {}",
        ask.pan.read,
        ask.pan.make.name(),
        ask.pan.lid_words(),
        oven(ask.oven)
    );
    match figures.value(HeatField::PanDough) {
        Some(v) if v.origin == Origin::Typed => out.push_str(&format!(", with {}", v.words)),
        Some(v) => out.push_str(&format!(", with {} ({})", v.words, v.from())),
        None => {}
    }
    out
}

/// `unwheat heat bake`.
pub fn bake(
    figures: &Figures<'_>,
    ask: &Bake,
    baked: &Baked,
    locale: Locale,
    style: &Style,
) -> String {
    let mut out = format!("{}\n", style.heading("BAKE"));
    out.push_str(&used(
        figures,
        &[
            HeatField::KnownPan,
            HeatField::KnownOven,
            HeatField::KnownTime,
            HeatField::KnownDough,
            HeatField::Pan,
            HeatField::Oven,
            HeatField::PanDough,
            HeatField::Start,
            HeatField::Core,
        ],
    ));
    out.push('\n');
    out.push_str(&paragraph(
        "  = ",
        &degrees_in(
            &format!("{}: {}", new_bake(figures, ask), range(baked.time)),
            locale,
        ),
    ));
    out.push_str(&paragraph(
        "    ",
        &format!(
            "conduction fitted to the known bake: {}; heat gets in {:.1} times as fast as its middle figures",
            range(baked.model),
            baked.speed
        ),
    ));
    if let Some((low, high)) = baked.by_thickness {
        out.push_str(&paragraph(
            "    ",
            &format!(
                "by the thinner or thicker way to the middle, to the power 1.3–1.7: {} [common practice, no source]",
                ends(low.as_minutes(), high.as_minutes())
            ),
        ));
    }
    out.push_str(&paragraph(
        "    ",
        &format!(
            "baked depth {:.0} mm, {:.0} mm in the known bake",
            baked.depths.1 * 1000.0,
            baked.depths.0 * 1000.0
        ),
    ));
    out.push_str(&paragraph(
        "    ",
        &format!("known pan read as {}", ask.known_pan.read),
    ));
    out.push_str(&advice(&figures.remarks(false), locale));
    out.push_str(&advice(&baked.advice, locale));
    out
}

/// How a proof's last stay is said.
pub fn wait(w: Wait) -> String {
    match w {
        Wait::For(t) if t.high().as_minutes() < 1.0 => {
            "ready before the last stay begins: look at its volume in the stay before".to_owned()
        }
        Wait::For(t) if t.low().as_minutes() < 1.0 => format!(
            "last stay: up to {}; it may be ready before, so look at its volume when it comes there",
            clock(t.high().as_minutes())
        ),
        Wait::For(t) => format!("last stay: {}", range(t)),
        Wait::Done(low, mid, high) => {
            format!(
                "{} of the proof is done, likely {mid:.0} %",
                percent((low, high))
            )
        }
        Wait::Fridge => "last stay: not worked out, it is in the fridge".to_owned(),
        Wait::TooCold => {
            "last stay: not ready within 72 hours; a warmer place is needed".to_owned()
        }
    }
}

/// `unwheat heat proof`.
pub fn proof(figures: &Figures<'_>, p: &Proofed, locale: Locale, style: &Style) -> String {
    let mut out = format!("{}\n", style.heading("PROOF"));
    out.push_str(&used(
        figures,
        &[
            HeatField::ProofTime,
            HeatField::ProofAt,
            HeatField::DoughWanted,
            HeatField::ProofPiece,
        ],
    ));
    out.push('\n');
    let rows: Vec<Vec<String>> = p
        .legs
        .iter()
        .map(|l| {
            vec![
                degrees_in(&place(&l.leg), locale),
                l.leg
                    .hours
                    .map_or("until ready".to_owned(), |h| clock(60.0 * h)),
                percent(l.share),
                if l.leg.hours.is_some() {
                    degrees_in(&between(l.ends_at), locale)
                } else {
                    String::new()
                },
            ]
        })
        .collect();
    out.push_str(&table(
        &["place", "time", "of the proof", "dough at its end"],
        &[Left, Right, Right, Right],
        &[24, 12, 14, 20],
        &rows,
    ));
    out.push('\n');
    out.push_str(&paragraph("  = ", &wait(p.wait)));
    out.push_str(&advice(&p.advice, locale));
    out
}

/// '20–45 %'.
pub fn percent((low, high): (f64, f64)) -> String {
    let (a, b) = (zero(low), zero(high));
    if a == b {
        format!("{a} %")
    } else {
        format!("{a}–{b} %")
    }
}

/// '5–9 °C'.
fn degrees((low, high): (f64, f64)) -> String {
    let (a, b) = (zero(low), zero(high));
    if a == b {
        format!("{a} °C")
    } else {
        format!("{a}–{b} °C")
    }
}

/// Between two temperatures: '5–9 °C (41–48 °F)'.
pub fn between((low, high): (f64, f64)) -> String {
    let f = |c: f64| zero(Temperature::celsius(c).as_fahrenheit());
    let twin = if f(low) == f(high) {
        f(low)
    } else {
        format!("{}–{}", f(low), f(high))
    };
    format!("{} ({twin} °F)", degrees((low, high)))
}

/// What to do with the water, in a sentence.
pub fn water(d: &Dough) -> String {
    let range = |at: f64| {
        let ends = [d.balance.low().as_celsius(), d.balance.high().as_celsius()];
        // Equal ends are one figure.
        if ends.iter().all(|e| zero(*e) == zero(at)) {
            String::new()
        } else {
            format!(", within {}", between(ends.into()))
        }
    };
    match d.water {
        Water::At(t) => format!("water at {}{}", both(t), range(t)),
        Water::Iced { at, ice, tap } => format!(
            "water at {} is colder than the tap: {ice:.0} g ice and {tap:.0} g tap water",
            both(at)
        ),
        Water::Chilled(t) => format!("the liquid chilled to {}{}, no ice", both(t), range(t)),
        Water::TooCold if d.chilled => format!(
            "not even a liquid from the fridge is cold enough: with it at 3 °C the dough comes to {}",
            both(d.instead.map_or(0.0, |c| c.dough))
        ),
        Water::TooCold => format!(
            "not even ice alone is cold enough: with it the dough comes to {}",
            both(d.instead.map_or(0.0, |c| c.dough))
        ),
        Water::TooHot => format!(
            "water would have to be {}: refused. With 45 °C (113 °F) the dough comes to {}",
            both(d.balance.likely().as_celsius()),
            both(d.instead.map_or(0.0, |c| c.dough))
        ),
    }
}

/// `unwheat heat dough`.
pub fn dough(
    figures: &Figures<'_>,
    ask: &DoughAsk,
    d: &Dough,
    locale: Locale,
    style: &Style,
) -> String {
    let mut out = format!("{}\n", style.heading("WATER"));
    out.push_str(&used(
        figures,
        &[
            HeatField::DoughWanted,
            HeatField::FlourMass,
            HeatField::WaterMass,
            HeatField::OtherMass,
            HeatField::Room,
            HeatField::Flour,
            HeatField::Other,
            HeatField::Preferment,
            HeatField::Tap,
            HeatField::Friction,
            HeatField::Measured,
        ],
    ));
    out.push('\n');
    out.push_str(&paragraph(
        "  = ",
        &degrees_in(&format!("by heat balance: {}", water(d)), locale),
    ));
    out.push_str(&paragraph("    ", &degrees_in(&balance(ask, d), locale)));
    let n = if d.n == 4 { "four" } else { "three" };
    out.push_str(&paragraph(
        "  = ",
        &degrees_in(
            &format!("by the rule of {n}: water at {}", both(d.rule)),
            locale,
        ),
    ));
    out.push_str(&paragraph("    ", &rule(ask, d, locale == Locale::Us)));
    out.push_str(&advice(&d.advice, locale));
    out
}

/// The rule with its figures in it, in °C or in °F.
pub fn rule(ask: &DoughAsk, d: &Dough, fahrenheit: bool) -> String {
    let c = |t: Temperature| match fahrenheit {
        true => zero(t.as_fahrenheit()),
        false => match format!("{:.1}", t.as_celsius()).replace('-', "−").as_str() {
            "−0.0" => "0.0".to_owned(),
            figure => figure.to_owned(),
        },
    };
    let preferment = ask
        .preferment
        .map_or(String::new(), |t| format!(" + preferment {}", c(t)));
    let (friction, unit) = match fahrenheit {
        true => (format!("{:.0}", 1.8 * d.friction), "°F"),
        false => (format!("{:.1}", d.friction), "°C"),
    };
    format!(
        "{} × {} − (room {} + flour {} + friction {friction}{preferment}) = {} {unit}",
        d.n,
        c(ask.wanted),
        c(ask.room),
        c(ask.flour),
        c(Temperature::celsius(d.rule)),
    )
}

/// The balance with its figures in it.
pub fn balance(ask: &DoughAsk, d: &Dough) -> String {
    let m = |m: quantity::Mass| format!("{:.0}", m.as_grams());
    let other = ask.other.map_or(String::new(), |(w, water, t)| {
        format!(
            ", {} g of the rest ({:.0} % water) at {}",
            m(w),
            100.0 * water,
            both(t.as_celsius())
        )
    });
    let (low, high) = (d.mixing[0], d.mixing[2]);
    let rise = if (high - low).abs() < 0.05 {
        format!("{low:.1}")
    } else {
        format!("{low:.0}–{high:.0}")
    };
    format!(
        "{} g flour at {} (1.8 kJ/kg K){other}, {} g water (4.18); mixing warms by {rise} °C",
        m(ask.flour_mass),
        both(ask.flour.as_celsius()),
        m(ask.water_mass)
    )
}

/// A height in sentences.
pub fn height(a: &Altitude) -> String {
    let core = a.boiling - recipe::heat::BELOW_BOILING;
    let base = format!(
        "At {:.0} m water boils at {:.1} °C: no core above {core:.0} °C. Gas takes {:.2} times the room",
        a.metres, a.boiling, a.expansion
    );
    match a.correction {
        None => format!(
            "{base}. Below the published table, which begins at 1,067 m: nothing is changed"
        ),
        Some(c) => {
            let less = |f: f64| format!("{:.0} %", 100.0 * (1.0 - f));
            format!(
                "{base}. Oven {:.0}–{:.0} °C hotter, leavening {} less, sugar up to {} less, liquid {:.0}–{:.0} % more, yeast a fifth less. 'unwheat leaven --altitude' gives grams",
                c.oven.0,
                c.oven.1,
                less(c.leavening),
                less(c.sugar.0.min(c.sugar.1)),
                100.0 * (c.liquid.0 - 1.0),
                100.0 * (c.liquid.1 - 1.0)
            )
        }
    }
}

/// `unwheat heat facts`.
pub fn facts(all: &[&OvenFact], at: Option<&Altitude>, locale: Locale, style: &Style) -> String {
    let mut out = format!("{}\n", style.heading("PANS, OVENS, HEIGHTS"));
    if let Some(a) = at {
        out.push_str(&paragraph(
            "",
            &degrees_in(&format!("{}. [{}]", height(a), Altitude::source()), locale),
        ));
        out.push('\n');
    }
    for f in all {
        out.push_str(&paragraph(
            "  - ",
            &degrees_in(&format!("{}: {} [{}]", f.what, f.words, f.source), locale),
        ));
    }
    out
}
