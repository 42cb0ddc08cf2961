//! A batch as text, and the list of pans.

use super::table::{Side, paragraph, table};
use super::{Style, plain};
use larder::{Gluten, Larder, Status};
use quantity::{Locale, Mass, Spread, degrees_in, lengths_in};
use recipe::household::{Drawer, Scale, WEIGH_IT, clean, percent, scale_grams, spread_grams};
use recipe::rework::Rework;
use recipe::size::{
    AtHand, BOWL, Batch, BatchComponent, BatchLine, EggCount, LOCAL_RULES, OnScale, pan, times,
};

use Side::{Left, Right};

/// A batch, with all that it is shown with.
pub struct Sized<'a> {
    /// What it is a batch of.
    pub rework: &'a Rework,
    /// The batch.
    pub batch: &'a Batch,
    /// The foods.
    pub larder: &'a Larder,
    /// The kitchen's scales.
    pub scale: Scale,
    /// Its cups and spoons.
    pub drawer: Drawer,
    /// In whose degrees it is told.
    pub locale: Locale,
}

/// A count to a tenth: `12`, `4.5`.
fn count(n: f64) -> String {
    ((n * 10.0).round() / 10.0).to_string()
}

fn grams(g: Mass) -> String {
    scale_grams(g, false)
}

fn range((low, high): (f64, f64)) -> String {
    match (count(low), count(high)) {
        (low, high) if low == high => low,
        (low, high) => format!("{low}–{high}"),
    }
}

/// How many eggs in the words of their line, and what counting them costs: `2 large eggs + 25 g beaten
/// egg`, `1 large egg for brushing`, `3 large eggs, 4 g more than this size has`.
pub fn eggs(e: &EggCount) -> String {
    let counted = e.household();
    let off = counted.error * e.weighs().as_grams();
    let side = if off > 0.0 { "more" } else { "less" };
    let costs = if off.abs() < 0.5 {
        String::new()
    } else {
        format!(
            ", {} g {side} than this size has",
            grams(Mass::grams(off.abs()))
        )
    };
    let what = e.beside.map_or(String::new(), |b| format!(" {b}"));
    format!("{}{what}{costs}", counted.words)
}

/// Whether a line is of eggs, whose count stands above.
pub fn is_egg(batch: &Batch, line: &BatchLine) -> bool {
    batch.eggs.iter().any(|e| Some(e.food) == line.food)
}

/// What a batch makes, in words; nothing where the recipe does not say.
pub fn makes(b: &Batch) -> Option<String> {
    let one = b.count.is_some_and(|c| range(c) == "1");
    let kind = match (b.servings, one) {
        (true, true) => "serving",
        (true, false) => "servings",
        (false, true) => "piece",
        (false, false) => "pieces",
    };
    let said = b.count.map(|(low, high)| match b.servings {
        // People come whole: '10.8–13 servings' are about 11–13.
        true => {
            let whole = (low.round().max(1.0), high.round().max(1.0));
            let off = range(whole) != range((low, high));
            let about = if off { "about " } else { "" };
            format!("{about}{} {kind}", range(whole))
        }
        false => format!("{} {kind}", range((low, high))),
    });
    let pieces = b.pieces.map(|p| {
        let baked =
            |s: Option<Spread<Mass>>| s.map_or(String::new(), |s| format!(", {} g baked", ends(s)));
        let part = b.components.get(b.main).map_or("", |c| c.name.as_str());
        let of = if part.is_empty() {
            String::new()
        } else {
            format!(" of {part}")
        };
        let whole = p.whole.map_or(String::new(), |w| {
            let raw = spread_grams(w.raw, false).replace(" g", "");
            match w.baked {
                Some(after) => format!(
                    "; with all its parts {raw} g each before the bake, {} g after it",
                    ends(after)
                ),
                None => format!("; with all its parts {raw} g each"),
            }
        });
        // What the oven takes of one part alone is nothing that can be weighed.
        let many = b.components.iter().filter(|c| c.factor > 0.0).count() > 1;
        let alone = match p.baked {
            Some(after) if p.whole.is_none() && many && !part.is_empty() => {
                format!(", {} g baked, {part} alone", ends(after))
            }
            after if p.whole.is_none() => baked(after),
            _ => String::new(),
        };
        let over = if p.over.as_grams() >= 1.0 {
            format!(", {} g over", grams(p.over))
        } else {
            String::new()
        };
        let s = if count(p.count) == "1" { "" } else { "s" };
        // Nobody shapes seven tenths of a piece.
        let n = p.count.round().max(1.0);
        let told = count(p.count);
        let as_whole = if told.contains('.') && count(n) != told {
            let each = Mass::grams(p.each.as_grams() * p.count / n);
            format!("; as {} whole one{} {} g{of} each", count(n), if n > 1.0 { "s" } else { "" }, grams(each))
        } else {
            String::new()
        };
        format!(
            "{} piece{s} of {} g{of}{alone}{over}{whole}{as_whole}; about {:.0} % stays in the bowl",
            count(p.count),
            grams(p.each),
            (BOWL - 1.0) * 100.0
        )
    });
    match (said, pieces) {
        (Some(said), None) => Some(said),
        (_, pieces) => pieces,
    }
}

fn ends(s: Spread<Mass>) -> String {
    match (grams(s.low()), grams(s.high())) {
        (low, high) if low == high => low,
        (low, high) => format!("{low}–{high}"),
    }
}

/// What rounding misses, in percent of the flour; nothing below a hundredth.
pub fn off(on: &OnScale) -> String {
    let text = on.off_percent.map_or(String::new(), |p| format!("{p:+.2}"));
    if matches!(text.as_str(), "+0.00" | "-0.00") {
        return String::new();
    }
    text.replace('-', "−")
}

/// `unwheat size`.
pub fn size(s: &Sized<'_>, style: &Style) -> String {
    let (batch, mut out) = (s.batch, String::new());
    let recipe = &s.rework.formula.recipe;
    let title = recipe.title.as_deref().map(card::quiet);
    let title = title.as_deref().unwrap_or("The recipe");
    let head = format!("{title}, × {}", times(batch.factor));
    out.push_str(&super::text::heading(&plain(&head), style));
    out.push_str(&paragraph("", &format!("Asked for: {}", batch.asked)));
    for sum in &batch.sums {
        out.push_str(&paragraph("  ", sum));
    }
    if let Some((low, high)) = batch.range {
        out.push_str(&paragraph(
            "  ",
            &format!(
                "between × {} and × {}, as sure as that is known",
                times(low),
                times(high)
            ),
        ));
    }
    if let Some(makes) = makes(batch) {
        out.push_str(&paragraph("", &format!("Makes {makes}.")));
    }
    in_pans(batch, &mut out);
    for h in &batch.at_hand {
        out.push_str(&paragraph(
            "  ",
            &format!(
                "{}: {} g at hand, {} g used, {}",
                h.name,
                grams(h.have),
                grams(h.takes),
                at_hand(h)
            ),
        ));
    }
    eggs_of(batch, &mut out);
    let all = batch.components.iter().enumerate();
    for (c, component) in all.filter(|(c, _)| s.rework.components[*c].is_listed()) {
        out.push_str(&part(s, c, component, style));
    }
    if !batch.cautions.is_empty() {
        out.push_str(&format!("\n{}\n", style.heading("To mind")));
    }
    for c in &batch.cautions {
        let words = format!("{} [{}]", c.text, c.source);
        let words = lengths_in(&degrees_in(&words, s.locale), s.locale);
        out.push_str(&paragraph("  • ", &words));
    }
    out
}

fn in_pans(batch: &Batch, out: &mut String) {
    let Some(p) = &batch.pans else { return };
    let many = if p.count == 1 {
        String::new()
    } else {
        format!("{} × ", p.count)
    };
    let v = p.pan.volume();
    let ml = |v: quantity::Volume| format!("{:.0}", v.as_millilitres());
    let volume = match (ml(v.low()), ml(v.likely()), ml(v.high())) {
        (low, likely, high) if low == high => format!("{likely} mL"),
        (low, likely, high) => format!("{likely} mL ({low}–{high})"),
    };
    let deep = p
        .depth
        .map_or(String::new(), |mm| format!(", {mm:.0} mm deep"));
    let (each, of_each) = match p.count {
        1 => ("", String::new()),
        _ => (" each", format!(", {} g in each,", grams(p.each()))),
    };
    out.push_str(&paragraph(
        "",
        &format!(
            "In {many}{}: {volume}{each}, {}; with {} g of {}{of_each} {} filled{deep}.",
            p.pan.words(),
            p.pan.basis().words(),
            grams(p.grams),
            p.what,
            percent(100.0 * p.fill.likely().get()),
        ),
    ));
    if let Some(words) = &p.not_counted {
        out.push_str(&paragraph("", words));
    }
}

/// A size so far off is no answer to who asked for this one.
pub const FAR_OFF: f64 = 0.5;

fn eggs_of(batch: &Batch, out: &mut String) {
    if batch.eggs.is_empty() {
        return;
    }
    let all: Vec<String> = batch.eggs.iter().map(eggs).collect();
    let mut words = format!("Eggs: {}.", all.join(", "));
    if let Some(w) = batch.whole_eggs.filter(|w| w.off.abs() <= FAR_OFF) {
        words.push_str(&format!(
            " × {} takes whole ones, {}.",
            times(w.factor),
            signed(w.off)
        ));
    }
    if let Some(off) = batch.moved {
        words.push_str(&format!(" The size was moved by {} for that.", signed(off)));
    }
    out.push_str(&paragraph("", &words));
}

/// What becomes of something at hand: `30 g left`, `runs out first`.
pub fn at_hand(h: &AtHand) -> String {
    let left = left_of(h.have, h.takes);
    match (h.limits, left.as_str()) {
        (false, _) => format!("{left} g left"),
        (true, "0") => "runs out first".to_owned(),
        // Only eggs that are taken apart are used by whole ones.
        (true, _) => format!(
            "runs out first: the {left} g left over are too little for more, as each egg goes in whole or is taken apart"
        ),
    }
}

/// What is left as the two weights shown beside it give it: 200 g less 170 g are 30 g.
fn left_of(have: Mass, takes: Mass) -> String {
    let shown = |m: Mass| Scale::default().rounded(m, false);
    clean((shown(have) - shown(takes)).max(0.0)).to_string()
}

/// A share as a percentage with its sign.
pub fn signed(share: f64) -> String {
    format!("{:+.1} %", share * 100.0).replace('-', "−")
}

fn part(s: &Sized<'_>, c: usize, component: &BatchComponent, style: &Style) -> String {
    let mut out = String::new();
    let name = match component.name.as_str() {
        "" => "THE RECIPE".to_owned(),
        name => name.to_uppercase(),
    };
    if component.factor <= 0.0 {
        out.push_str(&format!(
            "\n{}\n",
            style.heading(&format!("{name}: not made"))
        ));
        return out;
    }
    let head = format!("{name} × {}", times(component.factor));
    out.push('\n');
    out.push_str(&super::text::heading(&head, style));
    let mut rows = Vec::new();
    for (line, on) in component.lines.iter().zip(component.on(&s.scale, s.larder)) {
        let household = s
            .batch
            .household(s.rework, c, line, s.larder, s.drawer)
            .map_or_else(
                || {
                    if on.grams.is_some() {
                        WEIGH_IT.to_owned()
                    } else {
                        String::new()
                    }
                },
                // What counting eggs costs is said once, above.
                |h| {
                    if is_egg(s.batch, line) {
                        h.words
                    } else {
                        h.shown()
                    }
                },
            );
        let name = match line.component.and_then(|x| s.batch.components.get(x)) {
            Some(other) => format!("the {}", other.name),
            None => line.name.clone(),
        };
        let reworked = &s.rework.components[c].lines[line.at];
        let name = match s.rework.beside(c, reworked) {
            Some(beside) => format!("{name} ({beside})"),
            None => name,
        };
        let household = if line.component.is_some() {
            String::new()
        } else {
            household
        };
        let name = match line.gluten {
            Gluten::Contains => format!("{name}: CONTAINS GLUTEN"),
            Gluten::Check => format!("{name}: check the label"),
            Gluten::Free => name,
        };
        let fine = if on.finer { "*" } else { "" };
        rows.push(vec![
            name,
            on.words()
                .map_or("no weight".to_owned(), |w| format!("{w}{fine}")),
            household,
            off(&on),
        ]);
        let blend = s.rework.components[c].blend.as_ref();
        let is_blend = s.rework.components[c].lines[line.at].blend;
        if let (Some(blend), Some(whole), true) = (blend, on.grams, is_blend)
            && blend.parts.len() > 1
        {
            for p in blend.weighed_out(&s.scale, whole) {
                rows.push(vec![
                    format!("· {}", s.larder.food(p.food).name),
                    format!("{} g", p.grams),
                    String::new(),
                    String::new(),
                ]);
            }
        }
    }
    out.push_str(&table(
        &[heading(component), "grams", "household", "off, % flour"],
        &[Left, Right, Left, Right],
        &[31, 13, 18, 12],
        &rows,
    ));
    out.push_str(&paragraph("", &made(component)));
    if let Some(k) = component.keeping {
        let words = format!("What is left: {} {LOCAL_RULES} [{}]", k.text, k.source);
        out.push_str(&paragraph("  ", &degrees_in(&words, s.locale)));
    }
    out
}

/// The heading of a component's lines: 'gluten-free' only where none contains gluten.
pub fn heading(c: &BatchComponent) -> &'static str {
    if c.lines.iter().any(|l| l.gluten == Gluten::Contains) {
        "ingredient"
    } else {
        "gluten-free"
    }
}

/// Said of a component none of whose lines has a weight, in place of 0 g.
pub const NOT_KNOWN: &str = "What it makes is not known: no line has a weight.";

fn made(c: &BatchComponent) -> String {
    if c.makes.likely().as_grams() <= 0.0 {
        return NOT_KNOWN.to_owned();
    }
    let mut words = format!("Makes {}, raw", spread_grams(c.makes, false));
    if let Some(used) = c.used {
        words.push_str(&format!("; {} g used", grams(used.likely())));
    }
    if let Some(short) = c.short() {
        words.push_str(&format!(", {} g SHORT", grams(short)));
    } else if let Some(left) = c.left {
        let left = grams(left.likely());
        words.push_str(&if left == "0" {
            ", nothing left".to_owned()
        } else {
            format!(", {left} g left")
        });
    }
    words.push('.');
    words
}

/// `unwheat size --pans`.
pub fn pans() -> String {
    let ml = |v: quantity::Volume| format!("{:.0}", v.as_millilitres());
    let rows: Vec<Vec<String>> = pan::all()
        .iter()
        .map(|p| {
            let v = p.volume();
            let volume = match (ml(v.low()), ml(v.likely()), ml(v.high())) {
                (low, likely, high) if low == high => likely,
                (low, likely, high) => format!("{likely} ({low}–{high})"),
            };
            let basis = match (p.basis(), p.status) {
                (pan::Basis::Charted, Status::FromMemory) => "from memory",
                (basis, _) if p.doubtful => {
                    debug_assert_eq!(basis, pan::Basis::Geometric);
                    "worked out; chart doubted"
                }
                (basis, _) => basis.words(),
            };
            let fill = (p.fill.low().get() * 100.0, p.fill.high().get() * 100.0);
            vec![
                p.key.clone(),
                p.words(),
                volume,
                format!("{:.0}–{:.0}", fill.0, fill.1).replace("90–90", "90"),
                basis.to_owned(),
            ]
        })
        .collect();
    let mut out = table(
        &["key", "pan", "mL, all hollows", "fill %", "volume"],
        &[Left, Left, Right, Right, Left],
        &[20, 20, 17, 6, 9],
        &rows,
    );
    out.push('\n');
    out.push_str(&paragraph(
        "",
        "Charts and arithmetic differ by 5 to 25 %: the range holds both. A pan worked out from its size is taken at 0.88 of the arithmetic. Fills are for gluten-free batters, of pies and tarts for the filling; yeast doughs are reckoned at 0.45 to 0.60 g to the mL. All three are common practice, no source. Surest is your own pan filled with water on the scale.",
    ));
    out
}
