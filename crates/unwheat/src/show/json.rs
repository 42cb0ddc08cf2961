//! The machine-readable output. Its schema is a promise: docs/json.md documents every field.

pub mod heat;
mod leaven;
mod plan;
mod rework;
mod shop;
mod size;

pub use leaven::leaven;
pub use plan::plan;
pub use rework::rework;
pub use shop::shop;
pub use size::{pans, size};

use larder::allergen::Regime;
use larder::{CompositionRow, FoodId, Larder};
use quantity::{Quantity, Spread};
use recipe::rework::Balance;
use recipe::screen::Screening;
use recipe::weigh::{Formula, Weighed};
use recipe::{Doubt, DoubtCode, FactKind, Line, Recipe};
use serde::Serialize;

/// Low, likely, high.
#[derive(Debug, Serialize)]
pub struct Three {
    pub low: f64,
    pub likely: f64,
    pub high: f64,
}

fn three<Q: Quantity>(s: Spread<Q>) -> Three {
    Three {
        low: tidy(s.low().value()),
        likely: tidy(s.likely().value()),
        high: tidy(s.high().value()),
    }
}

/// Four decimals: enough for a milligram, without the noise of binary fractions.
fn tidy(v: f64) -> f64 {
    (v * 1e4).round() / 1e4
}

#[derive(Debug, Serialize)]
pub struct AmountOut {
    low: f64,
    high: f64,
    unit: Option<&'static str>,
    role: &'static str,
    span: [usize; 2],
}

#[derive(Debug, Serialize)]
pub struct Ingredient {
    name: String,
    key: String,
    table: &'static str,
    row: Option<String>,
}

#[derive(Debug, Serialize)]
pub struct DoubtOut {
    code: &'static str,
    message: String,
    #[serde(skip_serializing_if = "Option::is_none")]
    component: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    line: Option<String>,
}

#[derive(Debug, Serialize)]
pub struct LineOut {
    text: String,
    kind: &'static str,
    #[serde(flatten)]
    first: OneOf,
    doubts: Vec<DoubtOut>,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    also: Vec<OneOf>,
}

/// An ingredient of a line.
#[derive(Debug, Default, Serialize)]
pub struct OneOf {
    amounts: Vec<AmountOut>,
    ingredient: Option<Ingredient>,
    grams: Option<Three>,
    household: Option<String>,
    basis: Option<String>,
}

#[derive(Debug, Serialize)]
pub struct Binder {
    key: String,
    percent: f64,
}

pub fn binders(balance: &Balance, larder: &Larder) -> Vec<Binder> {
    balance
        .binders
        .iter()
        .map(|(f, p)| Binder {
            key: larder.food(*f).key.clone(),
            percent: tidy(*p),
        })
        .collect()
}

fn ingredient(food: FoodId, larder: &Larder) -> Ingredient {
    let f = larder.food(food);
    let (table, row) = match &f.composition {
        CompositionRow::Sr28(n) => ("sr28", Some(format!("{n:05}"))),
        CompositionRow::Own(key) => ("own", Some(key.clone())),
        CompositionRow::Label => ("label", None),
    };
    Ingredient {
        name: f.name.clone(),
        key: f.key.clone(),
        table,
        row,
    }
}

fn doubt(d: &Doubt) -> DoubtOut {
    DoubtOut {
        code: d.code.code(),
        message: d.message.clone(),
        component: None,
        line: None,
    }
}

fn amounts(item: &recipe::Item) -> Vec<AmountOut> {
    item.amounts
        .iter()
        .map(|a| AmountOut {
            low: a.low,
            high: a.high,
            unit: a.unit.map(quantity::Unit::code),
            role: a.role.word(),
            span: [a.span.start, a.span.end],
        })
        .collect()
}

/// One line of `weigh --lines`.
pub fn line(read: &Line, weighed: &[Weighed], more: &[Doubt], larder: &Larder) -> LineOut {
    let mut items = read.items.iter().enumerate().map(|(i, item)| {
        let here: Vec<&Weighed> = weighed.iter().filter(|w| w.item == i).collect();
        // Its own grams and those of a second food in it.
        let known = !here.is_empty() && here.iter().all(|w| w.grams.is_some());
        let grams = known.then(|| Spread::sum_independent(here.iter().filter_map(|w| w.grams)));
        let back = match here.as_slice() {
            [one] => one.measured(larder, larder.locale()),
            _ => None,
        };
        OneOf {
            amounts: amounts(item),
            ingredient: item.food.as_ref().map(|m| ingredient(m.food, larder)),
            grams: grams.map(three),
            household: back.map(|h| h.shown()),
            basis: here
                .first()
                .filter(|_| known)
                .and_then(|w| Some(w.basis.as_ref()?.words())),
        }
    });
    let first = items.next().unwrap_or_default();
    LineOut {
        text: read.text.clone(),
        kind: read.kind.word(),
        first,
        also: items.collect(),
        doubts: read.doubts.iter().chain(more).map(doubt).collect(),
    }
}

#[derive(Debug, Serialize)]
pub struct SourceOut {
    author: Option<String>,
    publisher: Option<String>,
    url: Option<String>,
}

fn source(recipe: &Recipe) -> SourceOut {
    let s = &recipe.source;
    SourceOut {
        author: s.author.clone(),
        publisher: s.publisher.clone(),
        url: s.url.clone(),
    }
}

#[derive(Debug, Serialize)]
pub struct ReadOut {
    title: Option<String>,
    source: SourceOut,
    makes: Option<String>,
    components: Vec<ReadComponent>,
    steps: Vec<StepOut>,
    notes: Vec<String>,
    doubts: Vec<DoubtOut>,
}

#[derive(Debug, Serialize)]
pub struct ReadComponent {
    name: String,
    lines: Vec<LineOut>,
}

#[derive(Debug, Serialize)]
pub struct StepOut {
    number: usize,
    text: String,
    component: Option<String>,
    facts: Vec<FactOut>,
    doubts: Vec<DoubtOut>,
}

#[derive(Debug, Serialize)]
pub struct FactOut {
    kind: &'static str,
    words: String,
    #[serde(skip_serializing_if = "Option::is_none")]
    doing: Option<&'static str>,
    #[serde(skip_serializing_if = "Option::is_none")]
    celsius: Option<Three>,
    #[serde(skip_serializing_if = "Option::is_none")]
    minutes: Option<Three>,
    #[serde(skip_serializing_if = "Option::is_none")]
    millimetres: Option<Three>,
    #[serde(skip_serializing_if = "Option::is_none")]
    times_volume: Option<f64>,
}

fn fact(f: &recipe::Fact, text: &str) -> FactOut {
    let mut out = FactOut {
        kind: "",
        words: text.get(f.span.clone()).unwrap_or("").to_owned(),
        doing: None,
        celsius: None,
        minutes: None,
        millimetres: None,
        times_volume: None,
    };
    match &f.kind {
        FactKind::Temperature { value, of } => {
            out.kind = match of {
                recipe::Heat::Oven => "oven",
                recipe::Heat::FanOven => "fan_oven",
                recipe::Heat::Core => "core_temperature",
                recipe::Heat::Other => "temperature",
            };
            out.celsius = Some(three(*value));
        }
        FactKind::Duration { value, doing } => {
            out.kind = "time";
            out.minutes = Some(three(*value));
            out.doing = doing.map(recipe::Activity::word);
        }
        FactKind::Doing(a) => {
            out.kind = "doing";
            out.doing = Some(a.word());
        }
        FactKind::Pan { .. } => out.kind = "pan",
        FactKind::Thickness(t) => {
            out.kind = "thickness";
            out.millimetres = Some(three(*t));
        }
        FactKind::RiseTo(x) => {
            out.kind = "rise";
            out.times_volume = Some(*x);
        }
    }
    out
}

/// `read --json`.
pub fn recipe(r: &Recipe, larder: &Larder) -> ReadOut {
    ReadOut {
        title: r.title.clone(),
        source: source(r),
        makes: r.makes.as_ref().map(|m| m.text.clone()),
        components: r
            .components
            .iter()
            .map(|c| ReadComponent {
                name: c.name.clone(),
                lines: c.lines.iter().map(|l| line(l, &[], &[], larder)).collect(),
            })
            .collect(),
        steps: r
            .steps
            .iter()
            .map(|s| StepOut {
                number: s.number,
                text: s.text.clone(),
                component: s
                    .component
                    .and_then(|c| r.components.get(c))
                    .map(|c| c.name.clone()),
                facts: s.facts.iter().map(|f| fact(f, &s.text)).collect(),
                doubts: s.doubts.iter().map(doubt).collect(),
            })
            .collect(),
        notes: r.notes.clone(),
        doubts: r.doubts.iter().map(doubt).collect(),
    }
}

#[derive(Debug, Serialize)]
pub struct FormulaOut {
    title: Option<String>,
    source: SourceOut,
    components: Vec<WeighedOut>,
    doubts: Vec<DoubtOut>,
}

#[derive(Debug, Serialize)]
pub struct WeighedOut {
    name: String,
    lines: Vec<WeighedLine>,
    flour_phase_g: Three,
    hydration_percent: Option<Three>,
    hydration_counts: Option<String>,
    makes_g: Three,
    used_g: Option<Three>,
    left_g: Option<Three>,
}

#[derive(Debug, Serialize)]
pub struct WeighedLine {
    text: String,
    ingredient: Option<Ingredient>,
    uses_component: Option<String>,
    grams: Option<Three>,
    basis: Option<String>,
    percent_of_flour: Option<f64>,
    household: Option<String>,
    in_formula: bool,
}

/// Every doubt of a formula with its component and line.
pub fn formula_doubts(f: &Formula) -> Vec<DoubtOut> {
    let place = |d: &Doubt, c: usize, l: Option<usize>| DoubtOut {
        component: f.recipe.components.get(c).map(|c| c.name.clone()),
        line: l
            .and_then(|l| f.recipe.components.get(c)?.lines.get(l))
            .map(|l| l.clean.trim().to_owned()),
        ..doubt(d)
    };
    let (slips, weighed): (Vec<_>, Vec<_>) = f
        .doubts
        .iter()
        .partition(|(_, _, d)| d.code == DoubtCode::UnlikelyAmount);
    let placed = |(c, l, d): &(usize, usize, Doubt)| place(d, *c, Some(*l));
    let mut all: Vec<DoubtOut> = slips.into_iter().map(placed).collect();
    all.extend(f.recipe.doubts.iter().map(doubt));
    for (c, component) in f.recipe.components.iter().enumerate() {
        for (l, line) in component.lines.iter().enumerate() {
            all.extend(line.doubts.iter().map(|d| place(d, c, Some(l))));
        }
    }
    all.extend(weighed.into_iter().map(placed));
    all.extend(f.recipe.steps.iter().flat_map(|s| &s.doubts).map(doubt));
    all
}

/// `weigh --json`.
pub fn formula(f: &Formula, larder: &Larder) -> FormulaOut {
    FormulaOut {
        title: f.recipe.title.clone(),
        source: source(&f.recipe),
        components: f
            .components
            .iter()
            .enumerate()
            .filter(|(_, w)| w.is_listed())
            .map(|(c, w)| WeighedOut {
                name: w.name.clone(),
                lines: w
                    .items
                    .iter()
                    .map(|i| weighed_line(f, c, i, larder))
                    .collect(),
                flour_phase_g: three(w.flour),
                hydration_percent: w.hydration.map(three),
                hydration_counts: w.hydration.map(|_| w.water_words(larder)),
                makes_g: three(w.makes),
                used_g: w.used.map(three),
                left_g: w.left.map(three),
            })
            .collect(),
        doubts: formula_doubts(f),
    }
}

fn weighed_line(f: &Formula, c: usize, w: &Weighed, larder: &Larder) -> WeighedLine {
    let back = w.measured(larder, f.locale);
    WeighedLine {
        text: f.recipe.components[c].lines[w.line].clean.trim().to_owned(),
        ingredient: w.food.map(|x| ingredient(x, larder)),
        uses_component: w.component.map(|x| f.components[x].name.clone()),
        grams: w.grams.map(three),
        basis: w.basis.as_ref().map(recipe::weigh::Basis::words),
        percent_of_flour: w.percent.map(|p| tidy(p.likely().get())),
        household: back.map(|h| h.shown()),
        in_formula: w.in_formula,
    }
}

#[derive(Debug, Serialize)]
pub struct GlutenOut {
    verdict: &'static str,
    can_say_gluten_free: bool,
    findings: Vec<FindingOut>,
    ppm: PpmOut,
    method: Vec<String>,
    cautions: Vec<CautionOut>,
}

#[derive(Debug, Serialize)]
pub struct FindingOut {
    words: String,
    key: Option<String>,
    verdict: &'static str,
    reason: String,
    labelled: bool,
    note: Option<String>,
}

#[derive(Debug, Serialize)]
pub struct PpmOut {
    low: f64,
    high: Option<f64>,
    if_labelled: Option<[f64; 2]>,
    basis: String,
    unknown: Vec<String>,
}

#[derive(Debug, Serialize)]
pub struct CautionOut {
    code: &'static str,
    text: &'static str,
    source: &'static str,
}

#[derive(Debug, Serialize)]
pub struct AllergenOut {
    allergen: &'static str,
    certain: bool,
    from: Vec<String>,
}

#[derive(Debug, Serialize)]
pub struct StatementOut {
    regime: &'static str,
    contains: Vec<String>,
    check: Vec<String>,
    notes: Vec<String>,
}

#[derive(Debug, Serialize)]
pub struct AllergensOut {
    found: Vec<AllergenOut>,
    statements: Vec<StatementOut>,
}

#[derive(Debug, Serialize)]
pub struct ScreenOut {
    gluten: GlutenOut,
    allergens: AllergensOut,
}

fn gluten(s: &Screening, larder: &Larder) -> GlutenOut {
    GlutenOut {
        verdict: s.verdict.words(),
        can_say_gluten_free: s.can_say_gluten_free,
        findings: s
            .findings
            .iter()
            .map(|f| FindingOut {
                words: f.words.clone(),
                key: f.food.map(|x| larder.food(x).key.clone()),
                verdict: f.verdict.words(),
                reason: f.reason.clone(),
                labelled: f.labelled,
                note: f.note.clone(),
            })
            .collect(),
        ppm: PpmOut {
            low: tidy(s.ppm.low),
            high: s.ppm.high.map(tidy),
            if_labelled: s.ppm.if_labelled.map(|(l, h)| [tidy(l), tidy(h)]),
            basis: s.ppm.basis.clone(),
            unknown: s.ppm.unknown.clone(),
        },
        method: s.method.clone(),
        cautions: s
            .cautions
            .iter()
            .map(|c| CautionOut {
                code: c.code,
                text: c.text,
                source: c.source,
            })
            .collect(),
    }
}

fn allergens(s: &Screening) -> AllergensOut {
    AllergensOut {
        found: s
            .allergens
            .iter()
            .map(|a| AllergenOut {
                allergen: a.allergen.word(),
                certain: a.certain,
                from: a.from.clone(),
            })
            .collect(),
        statements: Regime::ALL
            .iter()
            .map(|&r| {
                let st = s.statement(r);
                StatementOut {
                    regime: r.word(),
                    contains: st.contains,
                    check: st.check,
                    notes: st.notes,
                }
            })
            .collect(),
    }
}

/// `screen --json`.
pub fn screening(s: &Screening, larder: &Larder) -> ScreenOut {
    ScreenOut {
        gluten: gluten(s, larder),
        allergens: allergens(s),
    }
}

#[cfg(test)]
mod tests {
    use crate::show::{Style, text};
    use larder::Larder;
    use quantity::Locale;
    use recipe::read::Reader;

    /// A part whose lines are all said to be none is shown nowhere, and the others stay.
    #[test]
    fn a_part_without_ingredients_is_in_no_answer() {
        let larder = Larder::built_in().expect("the built-in tables");
        let reader = Reader::new(&larder, Locale::Uk);
        let read = "Cake\n\n200 g flour\n\nFor the wobble\n2 sheets\n\nFor the icing\n100 g icing sugar\n\nMethod\n1. Bake.\n";
        let mut read = recipe::read::recipe(read, &reader).expect("reads");
        let line = &mut read.components[1].lines[0];
        (line.kind, line.items) = (recipe::LineKind::Note, Vec::new());
        let formula = recipe::weigh::formula(read, &larder, Locale::Uk).expect("weighs");
        let out = super::formula(&formula, &larder);
        let names: Vec<&str> = out.components.iter().map(|c| c.name.as_str()).collect();
        assert_eq!(names, ["", "icing"]);
        let told = text::weigh(&formula, &larder, &Style::of_terminal());
        assert!(told.contains("ICING") && !told.contains("WOBBLE"), "{told}");
    }
}
