//! The machine-readable output. Its schema is a promise: docs/json.md documents every field.

use larder::allergen::Regime;
use larder::{CompositionRow, FoodId, Larder};
use quantity::{Locale, Quantity, Spread};
use recipe::household::{household, is_fine, scale_grams};
use recipe::rework::{Balance, Kept, Rework, ReworkedComponent, ReworkedLine};
use recipe::screen::Screening;
use recipe::weigh::{Formula, Weighed};
use recipe::{Doubt, FactKind, Line, Recipe};
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
    amounts: Vec<AmountOut>,
    ingredient: Option<Ingredient>,
    grams: Option<Three>,
    basis: Option<String>,
    doubts: Vec<DoubtOut>,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    also: Vec<Also>,
}

/// A further ingredient of the same line.
#[derive(Debug, Serialize)]
pub struct Also {
    amounts: Vec<AmountOut>,
    ingredient: Option<Ingredient>,
    grams: Option<Three>,
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

/// Grams and basis of one item: its own and that of a second food in it.
fn weight(weighed: &[Weighed], line: usize, item: usize) -> (Option<Three>, Option<String>) {
    let here: Vec<&Weighed> = weighed
        .iter()
        .filter(|w| w.line == line && w.item == item)
        .collect();
    if here.is_empty() || here.iter().any(|w| w.grams.is_none()) {
        return (None, None);
    }
    let sum = Spread::sum_independent(here.iter().filter_map(|w| w.grams));
    (
        Some(three(sum)),
        here[0].basis.as_ref().map(recipe::weigh::Basis::words),
    )
}

/// One line of `weigh --lines`.
pub fn line(read: &Line, weighed: &[Weighed], more: &[Doubt], larder: &Larder) -> LineOut {
    let mut items = read.items.iter().enumerate().map(|(i, item)| {
        let (grams, basis) = weight(weighed, 0, i);
        Also {
            amounts: amounts(item),
            ingredient: item.food.as_ref().map(|m| ingredient(m.food, larder)),
            grams,
            basis,
        }
    });
    let first = items.next();
    let also = items.collect();
    let (amounts, ingredient, grams, basis) = match first {
        Some(f) => (f.amounts, f.ingredient, f.grams, f.basis),
        None => (Vec::new(), None, None, None),
    };
    LineOut {
        text: read.text.clone(),
        kind: read.kind.word(),
        amounts,
        ingredient,
        grams,
        basis,
        doubts: read.doubts.iter().chain(more).map(doubt).collect(),
        also,
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
    let mut all: Vec<DoubtOut> = f.recipe.doubts.iter().map(doubt).collect();
    for (c, component) in f.recipe.components.iter().enumerate() {
        for (l, line) in component.lines.iter().enumerate() {
            all.extend(line.doubts.iter().map(|d| place(d, c, Some(l))));
        }
    }
    all.extend(f.doubts.iter().map(|(c, l, d)| place(d, *c, Some(*l))));
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
            .map(|(c, w)| WeighedOut {
                name: w.name.clone(),
                lines: w
                    .items
                    .iter()
                    .map(|i| weighed_line(f, c, i, larder))
                    .collect(),
                flour_phase_g: three(w.flour),
                hydration_percent: w.hydration.map(three),
                makes_g: three(w.makes),
                used_g: w.used.map(three),
                left_g: w.left.map(three),
            })
            .collect(),
        doubts: formula_doubts(f),
    }
}

fn weighed_line(f: &Formula, c: usize, w: &Weighed, larder: &Larder) -> WeighedLine {
    let back = w
        .food
        .zip(w.grams)
        .and_then(|(food, g)| household(larder, food, g.likely(), f.locale));
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

#[derive(Debug, Serialize)]
pub struct ReworkOut {
    title: Option<String>,
    source: SourceOut,
    components: Vec<ComponentOut>,
    gluten: GlutenOut,
    allergens: AllergensOut,
    idle_pins: Vec<PinOut>,
    doubts: Vec<DoubtOut>,
}

#[derive(Debug, Serialize)]
pub struct PinOut {
    component: String,
    line: String,
    grams: f64,
}

#[derive(Debug, Serialize)]
pub struct StyleOut {
    key: &'static str,
    confidence: f64,
    next: Option<&'static str>,
}

#[derive(Debug, Serialize)]
pub struct ComponentOut {
    name: String,
    style: Option<StyleOut>,
    blend: Option<BlendOut>,
    lines: Vec<ReworkLineOut>,
    original: BalanceOut,
    reworked: BalanceOut,
    expected_hydration_percent: Option<Three>,
    changes: Vec<ChangeOut>,
    method_notes: Vec<NoteOut>,
    makes_g: Three,
    used_g: Option<Three>,
    left_g: Option<Three>,
}

#[derive(Debug, Serialize)]
pub struct BlendOut {
    key: String,
    name: String,
    own: bool,
    parts: Vec<Binder>,
    binders: Vec<Binder>,
    us_cup_g: Option<Three>,
    us_cup_basis: &'static str,
}

#[derive(Debug, Serialize)]
pub struct ReworkLineOut {
    key: String,
    text: String,
    ingredient: Option<Ingredient>,
    uses_component: Option<String>,
    grams: Option<Three>,
    percent_of_flour: Option<f64>,
    gluten: &'static str,
    household: Option<String>,
    original: Option<String>,
    change: &'static str,
    in_formula: bool,
    held: bool,
    would_be_g: Option<Three>,
    note: Option<String>,
}

#[derive(Debug, Serialize)]
pub struct BalanceOut {
    flour_phase_g: Three,
    total_g: Three,
    hydration_percent: Option<Three>,
    free_liquid_percent: f64,
    binders: Vec<Binder>,
    starch_share: f64,
    flour_protein_percent: f64,
    fat_percent: f64,
    sugar_percent: f64,
    egg_percent: f64,
    salt_percent: f64,
    yeast_dry_percent: f64,
    leavening_percent: f64,
    absorption_g_per_g: f64,
    consistency: Option<f64>,
}

fn balance(b: &Balance, larder: &Larder) -> BalanceOut {
    BalanceOut {
        flour_phase_g: three(b.flour),
        total_g: three(b.total),
        hydration_percent: b.hydration.map(three),
        free_liquid_percent: tidy(b.free_liquid),
        binders: binders(b, larder),
        starch_share: tidy(b.starch_share),
        flour_protein_percent: tidy(b.flour_protein),
        fat_percent: tidy(b.fat),
        sugar_percent: tidy(b.sugar),
        egg_percent: tidy(b.egg),
        salt_percent: tidy(b.salt),
        yeast_dry_percent: tidy(b.yeast),
        leavening_percent: tidy(b.leavening),
        absorption_g_per_g: tidy(b.absorption),
        consistency: b.consistency.map(tidy),
    }
}

#[derive(Debug, Serialize)]
pub struct ChangeOut {
    what: String,
    from: String,
    to: String,
    range: Option<String>,
    rule: String,
    source: String,
}

#[derive(Debug, Serialize)]
pub struct NoteOut {
    step: Option<usize>,
    text: String,
    rule: &'static str,
    source: String,
}

/// A line's words: `250 g plain blend`.
fn line_text(line: &ReworkedLine, larder: &Larder) -> String {
    match line.grams {
        Some(g) => {
            let fine = line.food.is_some_and(|f| is_fine(larder, f));
            format!("{} g {}", scale_grams(g.likely(), fine), line.name)
        }
        None => line.name.clone(),
    }
}

/// `rework --json`.
pub fn rework(r: &Rework, s: &Screening, larder: &Larder, locale: Locale) -> ReworkOut {
    let mut doubts = formula_doubts(&r.formula);
    for c in &r.components {
        doubts.extend(c.doubts.iter().map(|d| DoubtOut {
            component: Some(c.name.clone()),
            ..doubt(d)
        }));
    }
    ReworkOut {
        title: r.formula.recipe.title.clone(),
        source: source(&r.formula.recipe),
        components: r
            .components
            .iter()
            .enumerate()
            .map(|(i, c)| ComponentOut {
                name: c.name.clone(),
                style: c.style.map(|s| StyleOut {
                    key: s.style.key(),
                    confidence: tidy(s.confidence),
                    next: s.next.map(recipe::rework::style::Style::key),
                }),
                blend: c.blend.as_ref().map(|b| BlendOut {
                    key: b.key.to_string(),
                    name: b.name.to_string(),
                    own: b.own,
                    parts: shares(&b.parts, larder),
                    binders: shares(&b.binders, larder),
                    us_cup_g: b.cup(larder).map(three),
                    us_cup_basis: b.cup_basis(),
                }),
                lines: c
                    .lines
                    .iter()
                    .enumerate()
                    .map(|(n, l)| rework_line(r, i, n, l, c, s, larder, locale))
                    .collect(),
                original: balance(&c.original, larder),
                reworked: balance(&c.reworked, larder),
                expected_hydration_percent: c.expected.map(|e| Three {
                    low: tidy(e.hydration.low),
                    likely: tidy(e.hydration.likely),
                    high: tidy(e.hydration.high),
                }),
                changes: c
                    .changes
                    .iter()
                    .map(|x| ChangeOut {
                        what: x.what.clone(),
                        from: x.from.clone(),
                        to: x.to.clone(),
                        range: x.range.clone(),
                        rule: x.rule.clone(),
                        source: x.source.clone(),
                    })
                    .collect(),
                method_notes: c
                    .method_notes
                    .iter()
                    .map(|n| NoteOut {
                        step: n.step,
                        text: n.text.clone(),
                        rule: n.rule,
                        source: n.source.clone(),
                    })
                    .collect(),
                makes_g: three(c.makes),
                used_g: c.used.map(three),
                left_g: c.left.map(three),
            })
            .collect(),
        gluten: gluten(s, larder),
        allergens: allergens(s),
        idle_pins: r
            .idle_pins
            .iter()
            .map(|p| PinOut {
                component: p.component.clone(),
                line: p.line.clone(),
                grams: p.grams.as_grams(),
            })
            .collect(),
        doubts,
    }
}

fn shares(parts: &[(FoodId, f64)], larder: &Larder) -> Vec<Binder> {
    parts
        .iter()
        .map(|(f, p)| Binder {
            key: larder.food(*f).key.clone(),
            percent: *p,
        })
        .collect()
}

#[allow(clippy::too_many_arguments, reason = "one call site")]
fn rework_line(
    r: &Rework,
    component: usize,
    place: usize,
    l: &ReworkedLine,
    c: &ReworkedComponent,
    s: &Screening,
    larder: &Larder,
    locale: Locale,
) -> ReworkLineOut {
    let verdict = s
        .findings
        .iter()
        .filter(|f| f.component == component && f.line == place)
        .map(|f| f.verdict)
        .min();
    let blend = c.blend.as_ref().filter(|_| l.blend);
    ReworkLineOut {
        key: l.key.clone(),
        text: line_text(l, larder),
        ingredient: l.food.map(|f| ingredient(f, larder)).or_else(|| {
            blend.map(|b| Ingredient {
                name: b.name.to_string(),
                key: format!("blend_{}", b.key),
                table: "blend",
                row: Some(b.key.to_string()),
            })
        }),
        uses_component: l.component.map(|x| r.components[x].name.clone()),
        grams: l.grams.map(three),
        percent_of_flour: l.percent.map(|p| tidy(p.likely().get())),
        gluten: match (l.kept, verdict) {
            (Kept::Dropped, _) => "not in it any more",
            (_, Some(v)) => v.words(),
            (_, None) if l.component.is_some() => "see that component",
            (_, None) => "check the label",
        },
        household: r.household(component, l, larder, locale).map(|h| h.shown()),
        original: l
            .origin
            .and_then(|(line, _)| r.formula.recipe.components[component].lines.get(line))
            .map(|line| line.clean.trim().to_owned()),
        change: match l.kept {
            Kept::Same => "same",
            Kept::Changed => "changed",
            Kept::New => "new",
            Kept::Dropped => "dropped",
        },
        in_formula: l.in_formula,
        held: l.held,
        would_be_g: l.pinned.map(three),
        note: l.note.clone(),
    }
}
