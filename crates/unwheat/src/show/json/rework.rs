//! `rework --json`.

use super::{
    AllergensOut, Binder, DoubtOut, GlutenOut, Ingredient, SourceOut, Three, allergens, binders,
    doubt, formula_doubts, gluten, ingredient, source, three, tidy,
};
use larder::{FoodId, Larder};
use quantity::Locale;
use recipe::LeftOut;
use recipe::household::{is_fine, weight};
use recipe::rework::binder::{Binding, From, InMix, binder};
use recipe::rework::{
    Balance, Hold, Kept, LeftOutSummary, Rework, ReworkedComponent, ReworkedLine,
};
use recipe::screen::Screening;
use serde::Serialize;

#[derive(Debug, Serialize)]
pub struct ReworkOut {
    title: Option<String>,
    source: SourceOut,
    components: Vec<ComponentOut>,
    gluten: GlutenOut,
    allergens: AllergensOut,
    allergens_brought: Vec<String>,
    left_out: Option<LeftOutOut>,
    idle_pins: Vec<PinOut>,
    clashes: Vec<String>,
    doubts: Vec<DoubtOut>,
}

#[derive(Debug, Serialize)]
pub struct PinOut {
    component: String,
    line: String,
    #[serde(flatten)]
    hold: Hold,
}

#[derive(Debug, Serialize)]
pub struct StyleOut {
    key: &'static str,
    confidence: f64,
    next: Option<&'static str>,
    fits_none: Option<&'static str>,
    formulas: usize,
    pairs: usize,
    thin_evidence: bool,
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
    hydration_leaves_out: Option<String>,
    binding: Option<BindingOut>,
    changes: Vec<ChangeOut>,
    leavening: Option<super::leaven::RaisingOut>,
    held_figures: Vec<HeldOut>,
    method_notes: Vec<NoteOut>,
    makes_g: Three,
    used_g: Option<Three>,
    left_g: Option<Three>,
}

#[derive(Debug, Serialize)]
pub struct HeldOut {
    figure: &'static str,
    #[serde(flatten)]
    hold: Hold,
    would_be_percent: Option<f64>,
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
    held_at: Option<Hold>,
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
    on_label_percent: f64,
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
        on_label_percent: tidy(b.on_label),
        egg_percent: tidy(b.egg),
        salt_percent: tidy(b.salt),
        yeast_dry_percent: tidy(b.yeast),
        leavening_percent: tidy(b.leavening),
        absorption_g_per_g: tidy(b.absorption),
        consistency: b.consistency.map(tidy),
    }
}

#[derive(Debug, Serialize)]
pub struct BindingOut {
    measure: &'static str,
    gives: Vec<GivesOut>,
    sum_percent: Three,
    range_percent: Three,
    range_source: String,
    wanted_percent: f64,
    missing_percent: f64,
    published: Option<PublishedOut>,
    water_g: Option<Three>,
    text: String,
}

#[derive(Debug, Serialize)]
pub struct PublishedOut {
    with_binder: usize,
    formulas: usize,
}

#[derive(Debug, Serialize)]
pub struct GivesOut {
    key: Option<String>,
    name: String,
    kind: &'static str,
    added: bool,
    percent_of_flour: f64,
    worth_percent: Option<Three>,
    counted_percent: Three,
    water_g: Option<Three>,
    holds_gum: Option<&'static str>,
    how: Option<&'static str>,
    source: String,
    text: String,
}

fn binding(b: &Binding, larder: &Larder) -> BindingOut {
    BindingOut {
        measure: b.lead.name(),
        gives: b
            .gives
            .iter()
            .map(|g| {
                let key = g.food.map(|f| larder.food(f).key.clone());
                let how = key.as_deref().and_then(binder).map(|b| b.hydrate);
                GivesOut {
                    name: g.name.clone(),
                    kind: g.kind.word(),
                    added: g.from == From::Added,
                    percent_of_flour: tidy(g.percent),
                    worth_percent: g.worth.map(three),
                    counted_percent: three(g.counted),
                    water_g: g.water.map(three),
                    holds_gum: g.mix.map(|m| match m {
                        InMix::Unknown => "check the label",
                        InMix::Gum => "yes",
                        InMix::None => "no",
                    }),
                    how: how.filter(|h| !h.is_empty()),
                    source: g.source.clone(),
                    text: g.words(b.lead),
                    key,
                }
            })
            .collect(),
        sum_percent: three(b.sum),
        range_percent: three(b.range),
        range_source: b.range_source.clone(),
        wanted_percent: tidy(b.wanted),
        missing_percent: tidy(b.missing),
        published: b.published.map(|p| PublishedOut {
            with_binder: p.with,
            formulas: p.of,
        }),
        water_g: b.water().map(three),
        text: b.summary(),
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
    sums: Vec<String>,
}

#[derive(Debug, Serialize)]
pub struct NoteOut {
    step: Option<usize>,
    text: String,
    rule: &'static str,
    source: String,
    found: Option<&'static str>,
    span: Option<[usize; 2]>,
    words: Option<String>,
    instead: Option<String>,
    look_for: Option<String>,
}

/// What was left out besides gluten.
#[derive(Debug, Serialize)]
pub struct LeftOutOut {
    asked: Vec<&'static str>,
    made_without: Vec<&'static str>,
    still: Vec<StillOut>,
    labels: Vec<LabelOut>,
    steps: Vec<&'static str>,
    said: Vec<String>,
}

#[derive(Debug, Serialize)]
pub struct StillOut {
    component: String,
    line: String,
    name: String,
    what: &'static str,
    why: String,
}

#[derive(Debug, Serialize)]
pub struct LabelOut {
    name: String,
    what: Vec<&'static str>,
}

fn left_out(r: &Rework, s: &LeftOutSummary) -> LeftOutOut {
    let words = |all: &[LeftOut]| all.iter().map(|w| w.word()).collect();
    LeftOutOut {
        asked: words(&r.left_out),
        made_without: words(&s.made_without),
        still: s
            .still
            .iter()
            .map(|(c, x)| StillOut {
                component: r.components[*c].name.clone(),
                line: x.line.clone(),
                name: x.name.clone(),
                what: x.what.word(),
                why: x.why.clone(),
            })
            .collect(),
        labels: s
            .labels
            .iter()
            .map(|(name, what)| LabelOut {
                name: name.clone(),
                what: words(what),
            })
            .collect(),
        steps: s.steps.clone(),
        said: s.sentences(),
    }
}

/// A line's words: `250 g plain blend`.
fn line_text(line: &ReworkedLine, larder: &Larder) -> String {
    match line.grams {
        Some(g) => {
            let fine = line.food.is_some_and(|f| is_fine(larder, f));
            format!("{} {}", weight(g.likely(), fine), line.name)
        }
        None => line.name.clone(),
    }
}

/// `rework --json`.
pub fn rework(
    r: &Rework,
    before: &Screening,
    s: &Screening,
    larder: &Larder,
    locale: Locale,
) -> ReworkOut {
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
            .filter(|(_, c)| c.is_listed())
            .map(|(i, c)| ComponentOut {
                name: c.name.clone(),
                style: c.style.map(|s| {
                    let behind = recipe::evidence::shipped().of(s.style);
                    let formulas = behind.map_or(0, |b| b.formulas);
                    StyleOut {
                        key: s.style.key(),
                        confidence: tidy(s.confidence),
                        next: s.next.map(recipe::rework::style::Style::key),
                        fits_none: s.fits_none,
                        formulas,
                        pairs: behind.map_or(0, |b| b.pairs),
                        thin_evidence: recipe::evidence::is_thin(formulas),
                    }
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
                hydration_leaves_out: c.water_left_out(larder),
                leavening: r
                    .raising(i, larder)
                    .map(|x| super::leaven::raising(&x, larder)),
                binding: c.binding.as_ref().map(|b| binding(b, larder)),
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
                        sums: x.sums.clone(),
                    })
                    .collect(),
                held_figures: c
                    .figures
                    .iter()
                    .map(|f| HeldOut {
                        figure: f.what,
                        hold: f.hold.clone(),
                        would_be_percent: f.would.map(tidy),
                    })
                    .collect(),
                method_notes: c
                    .method_notes
                    .iter()
                    .map(|n| NoteOut {
                        step: n.step,
                        text: n.told(&c.method_notes, &r.formula.recipe, false),
                        rule: n.rule,
                        source: n.source.clone(),
                        found: n.aid.as_ref().map(|a| a.found),
                        span: n.aid.as_ref().map(|a| [a.span.start, a.span.end]),
                        words: n.words(&r.formula.recipe).map(str::to_owned),
                        instead: n.aid.as_ref().map(|a| a.instead.clone()),
                        look_for: n.aid.as_ref().map(|a| a.look_for.clone()),
                    })
                    .collect(),
                makes_g: three(c.makes),
                used_g: c.used.map(three),
                left_g: c.left.map(three),
            })
            .collect(),
        gluten: gluten(s, larder),
        allergens: allergens(s),
        allergens_brought: s.brought(before),
        left_out: r.left_out().map(|s| left_out(r, &s)),
        clashes: r.clashes().map(ToString::to_string).collect(),
        idle_pins: r
            .idle_pins
            .iter()
            .map(|p| PinOut {
                component: p.component.clone(),
                line: p.line.clone(),
                hold: p.hold.clone(),
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
        held_at: c.holds.get(&l.key).filter(|_| l.held).cloned(),
        would_be_g: l.pinned.map(three),
        note: l.note.clone(),
    }
}
