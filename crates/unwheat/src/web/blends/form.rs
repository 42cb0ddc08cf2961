//! The form of a blend of the kitchen's own.

use super::wanted::{self, Wanted};
use crate::web::larder_page::typed::{Typed, beside, id, number, signed, tick, words};
use larder::{FoodId, Function, Gluten, Larder};
use maud::{Markup, html};
use recipe::rework::blend::{Blend, BlendError, OwnBlend};
use recipe::rework::style::Style;

/// Rows for flours and starches, and for binders.
pub const PARTS: usize = 8;
/// Rows for binders.
pub const BINDERS: usize = 3;

/// Every field of the form.
pub fn names() -> Vec<String> {
    let mut out = ["name", "cup", "note", "who", "why", "base"]
        .map(str::to_owned)
        .to_vec();
    for i in 0..PARTS {
        out.push(format!("part.{i}"));
        out.push(format!("share.{i}"));
    }
    for i in 0..BINDERS {
        out.push(format!("binder.{i}"));
        out.push(format!("dose.{i}"));
    }
    out.extend(Style::all().map(|s| format!("style.{}", s.key())));
    out.extend(wanted::FIELDS.map(str::to_owned));
    out
}

/// The form of a blend, or an empty one.
pub fn filled(blend: Option<&OwnBlend>, larder: &Larder, who: &str, why: &str) -> Typed {
    let mut t = Typed::default();
    t.put("who", who);
    t.put("why", why);
    let Some(b) = blend else { return t };
    let name = |key: &str| {
        larder
            .by_key(key)
            .map_or_else(|| key.to_owned(), |f| larder.food(f).name.clone())
    };
    t.put("name", b.name.clone());
    t.put("note", b.note.clone());
    if let Some(g) = b.cup_grams {
        t.put("cup", g.to_string());
    }
    for (i, (key, share)) in b.parts.iter().enumerate().take(PARTS) {
        t.put(&format!("part.{i}"), name(key));
        t.put(&format!("share.{i}"), share.to_string());
    }
    for (i, (key, share)) in b.binders.iter().enumerate().take(BINDERS) {
        t.put(&format!("binder.{i}"), name(key));
        t.put(&format!("dose.{i}"), share.to_string());
    }
    for s in &b.styles {
        t.put(&format!("style.{s}"), "1");
    }
    t
}

/// A blend as it is saved.
pub fn own_of(blend: &Blend, larder: &Larder) -> OwnBlend {
    let keys = |of: &[(FoodId, f64)]| {
        of.iter()
            .map(|(f, s)| (larder.food(*f).key.clone(), *s))
            .collect()
    };
    OwnBlend {
        key: blend.key.to_string(),
        name: blend.name.to_string(),
        parts: keys(&blend.parts),
        binders: keys(&blend.binders),
        cup_grams: blend.cup_grams.map(quantity::Mass::as_grams),
        styles: blend.styles.iter().map(|s| s.key().to_owned()).collect(),
        note: blend.why.to_string(),
    }
}

/// The food that a row names: by its name, its key, or words that find it.
fn food(larder: &Larder, text: &str) -> Option<FoodId> {
    larder
        .named(text)
        .or_else(|| larder.by_key(text))
        .or_else(|| {
            larder
                .find(text, larder.locale())
                .filter(|m| m.certainty == larder::Certainty::Sure)
                .map(|m| m.food)
        })
}

/// Whether a food can stand in a row.
fn fits(larder: &Larder, id: FoodId, binder: bool) -> bool {
    let f = larder.food(id);
    f.gluten != Gluten::Contains
        && if binder {
            f.function() == Function::Binder
        } else {
            f.is_flour_phase()
        }
}

/// What to say of a name that no food has.
fn unknown(larder: &Larder, name: &str, binder: bool) -> String {
    let near = larder
        .search(name, 40)
        .into_iter()
        .find(|f| fits(larder, *f, binder));
    match near {
        Some(f) => format!(
            "the larder has no '{name}': did you mean {}?",
            larder.food(f).name
        ),
        None => format!(
            "the larder has no '{name}': choose one of the list, or put it in on the Larder page first"
        ),
    }
}

/// The rows of a kind: keys (or the words, where no food has them) with shares, and the row each
/// stands in. What cannot be read is noted.
fn rows(
    t: &mut Typed,
    larder: &Larder,
    kind: &str,
    figure: &str,
    count: usize,
) -> Vec<(String, f64, usize)> {
    let mut out = Vec::new();
    for i in 0..count {
        let (part, share) = (format!("{kind}.{i}"), format!("{figure}.{i}"));
        let name = t.get(&part).to_owned();
        let what = if name.is_empty() {
            "this share".to_owned()
        } else {
            format!("the share of {name}")
        };
        let percent = t.figure(&share, &what);
        if name.is_empty() {
            if percent.is_some_and(|p| p != 0.0) {
                t.wrong(&part, "name the food this share belongs to");
            }
            continue;
        }
        if food(larder, &name).is_none() {
            t.wrong(&part, unknown(larder, &name, kind == "binder"));
        }
        let key = food(larder, &name).map_or(name.clone(), |f| larder.food(f).key.clone());
        if percent.is_none() && t.get(&share).is_empty() {
            t.wrong(&share, format!("write how many percent {name} is"));
        }
        out.push((key, percent.unwrap_or(0.0), i));
    }
    out
}

/// What a form says: the blend, with the rows its parts stand in.
pub struct Said {
    /// The blend.
    pub blend: OwnBlend,
    parts: Vec<usize>,
    binders: Vec<usize>,
}

/// The blend that a form says.
pub fn said(t: &mut Typed, larder: &Larder, key: &str) -> Said {
    let parts = rows(t, larder, "part", "share", PARTS);
    let binders = rows(t, larder, "binder", "dose", BINDERS);
    let cup = t.figure("cup", "grams of a US cup");
    let styles = Style::all()
        .map(|s| s.key().to_owned())
        .filter(|k| t.get(&format!("style.{k}")) == "1")
        .collect();
    let pair = |of: &[(String, f64, usize)]| of.iter().map(|p| (p.0.clone(), p.1)).collect();
    Said {
        blend: OwnBlend {
            key: key.to_owned(),
            name: t.get("name").to_owned(),
            parts: pair(&parts),
            binders: pair(&binders),
            cup_grams: cup,
            styles,
            note: t.get("note").to_owned(),
        },
        parts: parts.iter().map(|p| p.2).collect(),
        binders: binders.iter().map(|p| p.2).collect(),
    }
}

impl Said {
    /// What the shares add up to.
    pub fn sum(&self) -> f64 {
        self.blend.parts.iter().map(|p| p.1).sum()
    }

    /// The field of a part, by the food's name or the words given.
    fn field(&self, larder: &Larder, part: &str, figure: bool) -> String {
        let is = |key: &str| {
            key == part
                || larder
                    .by_key(key)
                    .is_some_and(|f| larder.food(f).name == part)
        };
        let b = &self.blend;
        let find = |of: &[(String, f64)], at: &[usize]| {
            of.iter()
                .position(|p| is(&p.0))
                .and_then(|i| at.get(i).copied())
        };
        if let Some(i) = find(&b.parts, &self.parts) {
            return format!("{}.{i}", if figure { "share" } else { "part" });
        }
        if let Some(i) = find(&b.binders, &self.binders) {
            return format!("{}.{i}", if figure { "dose" } else { "binder" });
        }
        "part.0".to_owned()
    }

    /// Notes everything that keeps the blend from being used.
    pub fn check(&self, t: &mut Typed, larder: &Larder) {
        let mut named = self.blend.clone();
        if named.name.is_empty() {
            t.wrong("name", "the blend needs a name");
            "x".clone_into(&mut named.name);
        }
        if let Err(e) = named.blend(larder) {
            self.note(t, larder, &e);
        }
    }

    /// Puts what is wrong with the blend beside its field.
    fn note(&self, t: &mut Typed, larder: &Larder, e: &BlendError) {
        match e {
            BlendError::Name { .. } => t.wrong("name", "the blend needs a name"),
            BlendError::Unknown { part, .. } => {
                let field = self.field(larder, part, false);
                t.wrong(&field, unknown(larder, part, field.starts_with("binder")));
            }
            BlendError::Empty | BlendError::Sum { .. } => t.wrong("sum", e.to_string()),
            BlendError::Share { part, .. } => {
                t.wrong(&self.field(larder, part, true), e.to_string());
            }
            BlendError::Gluten { part }
            | BlendError::NoFlour { part, .. }
            | BlendError::NoBinder { part } => {
                t.wrong(&self.field(larder, part, false), e.to_string());
            }
            BlendError::Cup { .. } => t.wrong("cup", e.to_string()),
            BlendError::Style { .. } => t.wrong("note", e.to_string()),
        }
    }
}

/// What the shares add up to, in words.
pub fn sum_words(percent: f64) -> String {
    let left = 100.0 - percent;
    let short = |v: f64| {
        // An empty sum is −0.
        let text = format!("{:.1}", v + 0.0);
        text.trim_end_matches('0').trim_end_matches('.').to_owned()
    };
    if left.abs() < 0.05 {
        "100 %: it is whole".to_owned()
    } else if left > 0.0 {
        format!("{} %: {} % to go", short(percent), short(left))
    } else {
        format!("{} %: {} % too much", short(percent), short(-left))
    }
}

/// Flours, starches and binders to choose from.
pub fn lists(larder: &Larder) -> Markup {
    let names = |binder: bool| {
        let mut names: Vec<&str> = larder
            .ids()
            .filter(|f| fits(larder, *f, binder))
            .map(|f| larder.food(f).name.as_str())
            .collect();
        names.sort_unstable();
        names
    };
    html! {
        datalist #flours { @for n in names(false) { option value=(n) {} } }
        datalist #binders { @for n in names(true) { option value=(n) {} } }
    }
}

fn share_rows(t: &Typed, kind: &str, figure: &str, count: usize, list: &str, of: &str) -> Markup {
    html! {
        @for i in 0..count {
            @let (part, share) = (format!("{kind}.{i}"), format!("{figure}.{i}"));
            input id=(id(&part)) name=(part) value=(t.get(&part)) list=(list) autocomplete="off" maxlength="80"
                aria-label={ (of) " " (i + 1) }
                aria-invalid=[t.trouble(&part).map(|_| "true")] aria-describedby=[t.trouble(&part).map(|_| format!("{}-wrong", id(&part)))];
            span.of {
                input.f id=(id(&share)) name=(share) value=(t.get(&share)) inputmode="decimal" autocomplete="off" maxlength="12"
                    aria-label={ "percent of " (of) " " (i + 1) }
                    aria-invalid=[t.trouble(&share).map(|_| "true")] aria-describedby=[t.trouble(&share).map(|_| format!("{}-wrong", id(&share)))];
                " %"
            }
            (beside(t, &part)) (beside(t, &share))
        }
    }
}

/// The fields. `sum` is what the shares add up to, `drawn` the blend's picture and figures.
/// `wanted` is the recipe it is for.
pub fn fields(t: &Typed, sum: f64, drawn: &Markup, known: bool, wanted: Option<&Wanted>) -> Markup {
    html! {
        (t.told())
        div.duo.first { (words(t, "name", "Name", "")) }
        div.spread.even {
            div {
                h2 { "Flours and starches" }
                p.hint { "In percent by weight; together they make 100." }
                div.rows {
                    span.head { "Flour or starch" } span.head { "Share" }
                    (share_rows(t, "part", "share", PARTS, "flours", "flour"))
                    p.total { "Together " output.n id="f-sum" { (sum_words(sum)) } }
                    (beside(t, "sum"))
                }
                h2.part { "Binders" }
                p.hint { "On top, in percent of the flours and starches. Leave empty where each recipe brings its own." }
                div.rows {
                    span.head { "Binder" } span.head { "On top" }
                    (share_rows(t, "binder", "dose", BINDERS, "binders", "binder"))
                }
            }
            div.blend-pic #drawn { (drawn) }
        }
        fieldset {
            legend { "A cup of it" }
            (number(t, "cup", "Weighed US cup (237 mL)", "g", "Stir, spoon in, level off; weigh three and write the middle one. Left empty, it is calculated from the parts."))
        }
        fieldset {
            legend { "Chosen first for" }
            div.ticks { @for s in Style::all() { (tick(t, &format!("style.{}", s.key()), s.name())) } }
        }
        fieldset {
            legend { "Why it is made so" }
            (words(t, "note", "In a few words", ""))
        }
        @if let Some(w) = wanted { (w.hidden()) p { (tick(t, "use", &w.words())) } }
        (signed(t, if known { "Save as a new version" } else { "Keep this blend" }, &["first version", "crumb was gritty", "a flour could not be had", "cup weighed"]))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn larder() -> Larder {
        Larder::built_in().expect("tables")
    }

    #[test]
    fn a_form_says_the_blend_it_was_filled_with() {
        let larder = larder();
        for b in recipe::rework::blend::house(&larder) {
            let mut own = own_of(&b, &larder);
            own.key = "own_x".to_owned();
            own.cup_grams = Some(130.0);
            let mut t = filled(Some(&own), &larder, "Maud", "first");
            let back = said(&mut t, &larder, "own_x");
            assert!(!t.is_wrong());
            assert_eq!(back.blend.parts, own.parts);
            assert_eq!(back.blend.binders, own.binders);
            assert_eq!(back.blend.cup_grams, own.cup_grams);
            back.blend.blend(&larder).expect("it can be");
        }
    }

    #[test]
    fn what_is_wrong_stands_by_its_row() {
        let larder = larder();
        let mut t = Typed::default();
        t.put("name", "x");
        t.put("part.0", "white rice flour");
        t.put("share.0", "70");
        t.put("part.3", "tapioca stach");
        t.put("share.3", "30");
        let s = said(&mut t, &larder, "own_x");
        s.check(&mut t, &larder);
        assert!(
            t.trouble("part.3").is_some_and(|w| w.contains("tapioca")),
            "{t:?}"
        );
        let mut t = Typed::default();
        t.put("name", "x");
        t.put("part.1", "all-purpose flour");
        t.put("share.1", "100");
        let s = said(&mut t, &larder, "own_x");
        s.check(&mut t, &larder);
        assert!(t.trouble("part.1").is_some_and(|w| w.contains("gluten")));
    }

    #[test]
    fn sums_in_words() {
        assert_eq!(sum_words(100.0), "100 %: it is whole");
        assert_eq!(sum_words(95.0), "95 %: 5 % to go");
        assert_eq!(sum_words(102.5), "102.5 %: 2.5 % too much");
        assert_eq!(sum_words(-0.0), "0 %: 100 % to go");
    }
}
