//! The form of the kitchen's own entry: what stands in it, and the entry that it says.

pub mod bought;

use super::history::kind_word;
use super::measure::{self, measure_words};
use super::typed::{Typed, beside, choice, date, number, signed, tick, words};
use crate::web::app::locale;
use crate::web::kitchen::LAWS;
use larder::{
    Allergen, Evidence, EvidenceKind, FoodId, Function, Label, Larder, OwnEntry, OwnError,
    ReadThrough, State,
};
use maud::{Markup, html};
use quantity::Locale;
use store::Settings;

/// What a food does, as a baker says it.
pub fn does(function: Function) -> &'static str {
    use Function as F;
    match function {
        F::NutFlour => "nut flour",
        F::PulseFlour => "pulse flour",
        F::Protein => "protein",
        F::Fat => "fat or oil",
        F::Liquid => "liquid",
        F::Dairy => "milk product",
        F::Leavening => "raising agent",
        F::Flavour => "flavouring",
        F::Inclusion => "mix-in",
        F::Crumb => "crumbs and biscuits",
        F::Prepared => "ready-made food",
        F::Preserve => "jam or preserve",
        other => other.word(),
    }
}

/// The measures whose weight can be given for a food.
pub fn measures(larder: &Larder, food: Option<FoodId>) -> Vec<String> {
    let mut out: Vec<String> = ["cup", "tbsp", "tsp", "each"].map(str::to_owned).to_vec();
    if let Some(id) = food {
        for m in larder.measures(id) {
            if m.state == State::Usual && !out.contains(&m.measure) {
                out.push(m.measure.clone());
            }
        }
        // An egg is weighed by its size.
        if larder.food(id).does(Function::Egg) && out.iter().any(|w| w == "large") {
            out.retain(|w| w != "each");
        }
    }
    out
}

/// That no allergen is on a label beside those that are ticked.
pub const ALL_NAMED: &str = "These are all the allergens the label names";

const LABEL: [(&str, &str); 6] = [
    ("protein", "Protein"),
    ("fat", "Fat"),
    ("carbohydrate", "Carbohydrate"),
    ("fibre", "Fibre"),
    ("sugars", "Sugars"),
    ("water", "Water, if it says"),
];

/// Every field of the form.
pub fn names(measures: &[String]) -> Vec<String> {
    let mut out: Vec<String> = [
        "name",
        "also",
        "function",
        "label.counts",
        "gluten.kind",
        "gluten.date",
        "gluten.ppm",
        "gluten.note",
        "read_through.all",
        "read_through.date",
        "read_through.who",
        "read_through.law",
        "stock.grams",
        "stock.date",
        "trim",
        "note",
        "who",
        "why",
        "base",
        "back",
        "measures",
    ]
    .map(str::to_owned)
    .to_vec();
    out.extend(LABEL.map(|l| format!("label.{}", l.0)));
    out.extend(bought::names());
    out.extend(measures.iter().map(|m| format!("weights.{m}")));
    out.extend(
        Allergen::ALL
            .iter()
            .map(|a| format!("allergen.{}", a.word())),
    );
    out
}

/// The form of an entry, or an empty one.
pub fn filled(entry: Option<&OwnEntry>, settings: &Settings, today: &str) -> Typed {
    let none = OwnEntry::default();
    let e = entry.unwrap_or(&none);
    let mut t = Typed::default();
    t.put("name", e.name.clone().unwrap_or_default());
    t.put("also", e.also.join(", "));
    t.put("function", e.function.clone().unwrap_or_default());
    t.put("measures", locale(settings).key());
    for (word, grams) in &measure::weights(e, locale(settings)).weights {
        t.put(&format!("weights.{word}"), grams.to_string());
    }
    let label = e.label.unwrap_or(Label {
        with_fibre: matches!(settings.regime.as_str(), "us" | "ca"),
        ..Label::default()
    });
    for ((word, _), value) in LABEL.iter().zip([
        label.protein,
        label.fat,
        label.carbohydrate,
        label.fibre,
        label.sugars,
        label.water,
    ]) {
        t.put(
            &format!("label.{word}"),
            value.map_or(String::new(), |v| v.to_string()),
        );
    }
    t.put(
        "label.counts",
        if label.with_fibre { "with" } else { "without" },
    );
    t.put("gluten.date", today);
    if let Some(g) = &e.gluten {
        t.put("gluten.kind", kind_word(g.kind));
        t.put("gluten.date", g.date.clone());
        t.put("gluten.note", g.note.clone());
        t.put(
            "gluten.ppm",
            g.ppm().map_or(String::new(), |p| p.to_string()),
        );
    }
    for word in &e.allergens {
        t.put(&format!("allergen.{word}"), "1");
    }
    t.put("read_through.date", today);
    t.put("read_through.who", settings.baker.clone());
    t.put("read_through.law", settings.regime.clone());
    if let Some(read) = &e.read_through {
        t.put("read_through.all", "1");
        t.put("read_through.date", read.date.clone());
        t.put("read_through.who", read.who.clone());
        t.put("read_through.law", read.law.clone());
    }
    bought::fill(&mut t, e, settings, today);
    t.put("note", e.note.clone());
    t.put("who", settings.baker.clone());
    t.put("why", "our own figures");
    t
}

/// The entry that a form says. What cannot be read is noted in the form.
///
/// # Arguments
/// * `larder` — weighs packs in words: '12 eggs'.
pub fn entry(t: &mut Typed, key: &str, measures: &[String], larder: &Larder) -> OwnEntry {
    let mut e = OwnEntry {
        key: key.to_owned(),
        name: t.some("name").map(str::to_owned),
        also: t
            .get("also")
            .split([',', ';', '\n'])
            .map(|n| n.trim().to_owned())
            .filter(|n| !n.is_empty())
            .collect(),
        function: t.some("function").map(str::to_owned),
        note: t.get("note").to_owned(),
        ..OwnEntry::default()
    };
    for word in measures {
        let field = format!("weights.{word}");
        if let Some(grams) = t.figure(&field, "this weight") {
            let kept = measure::kept(word, grams, asked_in(t));
            e.weights.insert(word.clone(), kept);
        }
    }
    let figures = LABEL.map(|(word, name)| {
        t.figure(
            &format!("label.{word}"),
            &format!("{} on the label", name.to_lowercase()),
        )
    });
    let [protein, fat, carbohydrate, fibre, sugars, water] = figures;
    if figures.iter().any(Option::is_some) {
        e.label = Some(Label {
            water,
            protein,
            fat,
            carbohydrate,
            with_fibre: t.get("label.counts") == "with",
            fibre,
            sugars,
        });
    }
    e.gluten = evidence(t);
    e.allergens = Allergen::ALL
        .iter()
        .map(|a| a.word())
        .filter(|w| t.get(&format!("allergen.{w}")) == "1")
        .map(str::to_owned)
        .collect();
    e.read_through = (t.get("read_through.all") == "1").then(|| ReadThrough {
        date: t.get("read_through.date").to_owned(),
        who: t.get("read_through.who").to_owned(),
        law: t.get("read_through.law").to_owned(),
    });
    bought::read(t, &mut e, larder);
    e
}

/// Whose cups and spoons a form asks for.
fn asked_in(t: &Typed) -> Locale {
    t.get("measures").parse().unwrap_or_default()
}

fn evidence(t: &mut Typed) -> Option<Evidence> {
    let ppm = t.figure("gluten.ppm", "the test, in ppm");
    let kind = match t.get("gluten.kind") {
        "labelled" => EvidenceKind::Labelled,
        "certificate" => EvidenceKind::Certificate,
        "names_gluten" => EvidenceKind::NamesGluten,
        "test" => match ppm {
            Some(ppm) => EvidenceKind::Test { ppm },
            None => {
                t.wrong(
                    "gluten.ppm",
                    "write the figure of the report, or the limit it was below",
                );
                return None;
            }
        },
        _ => {
            if ppm.is_some() || t.some("gluten.note").is_some() {
                t.wrong(
                    "gluten.kind",
                    "choose what was seen, or empty the fields beside it",
                );
            }
            return None;
        }
    };
    if ppm.is_some() && !matches!(kind, EvidenceKind::Test { .. }) {
        t.wrong(
            "gluten.ppm",
            "a figure in ppm comes from a test: choose 'a test result', or empty this field",
        );
    }
    Some(Evidence {
        kind,
        date: t.get("gluten.date").to_owned(),
        note: t.get("gluten.note").to_owned(),
    })
}

/// Puts an error of the larder beside its field.
pub fn note(t: &mut Typed, e: &OwnError) {
    t.wrong(&e.field, told(e));
}

/// An error of the larder in words.
pub fn told(e: &OwnError) -> String {
    let found = if e.found == "empty" {
        "this is empty"
    } else {
        &e.found
    };
    format!(
        "{found}: expected {}. {}",
        e.expected,
        crate::web::page::sentence(&e.mend)
    )
}

/// The fields of an entry, to stand in a form.
///
/// # Arguments
/// * `food` — the food as the built-in larder has it; none for a new one.
pub fn fields(t: &Typed, larder: &Larder, food: Option<FoodId>, measures: &[String]) -> Markup {
    let own = food.is_none();
    let home = asked_in(t);
    let built = |word: &str| {
        let m = larder.measure(food?, word, State::Usual)?;
        let grams = measure::shown(word, m.grams.likely().as_grams(), home);
        Some(format!("table: {} g", short(grams)))
    };
    let some_allergen = Allergen::ALL
        .iter()
        .any(|a| t.get(&format!("allergen.{}", a.word())) == "1")
        || t.get("read_through.all") == "1";
    let wrong_allergen = ["allergens", "read_through.date", "read_through.who"];
    let wrong_allergen = wrong_allergen.iter().any(|f| t.trouble(f).is_some());
    html! {
        (t.told())
        input type="hidden" name="base" value=(t.get("base"));
        input type="hidden" name="measures" value=(home.key());
        fieldset.first {
            legend { @if own { "The food" } @else { "Your names for it" } }
            div.duo {
                (words(t, "name", if own { "Name, as your recipes write it" } else { "Name, if you call it otherwise" }, ""))
                (words(t, "also", "Other names, with commas between", ""))
                @if own {
                    (choice(t, "function", "What it does in a dough or batter", &functions()))
                }
            }
        }
        fieldset {
            legend { "Weighed in this kitchen" }
            p.hint { "Grams of one level measure. Weigh three and write the middle one. " (measure::hold_words(home)) }
            div.figures {
                @for m in measures {
                    (number(t, &format!("weights.{m}"), &page_word(m, home), "g", &built(m).unwrap_or_default()))
                }
            }
        }
        fieldset id="f-label" {
            legend { "Composition on the label, per 100 g" }
            p.hint { "Per 100 g, not per portion. What you leave empty stays as the larder has it." }
            div.figures {
                @for (word, name) in LABEL { (number(t, &format!("label.{word}"), name, "g", "")) }
            }
            (choice(t, "label.counts", "Its carbohydrate", &[("without", "leaves fibre out (Europe, Australia)"), ("with", "counts fibre (US, Canada)")]))
            (beside(t, "label"))
        }
        fieldset {
            legend { "Gluten: what was seen" }
            p.hint { "One pack's label speaks for that pack. Read the label again on each new pack." }
            div.duo {
                (choice(t, "gluten.kind", "What was seen", &[
                    ("", "nothing yet"),
                    ("labelled", "label says gluten-free"),
                    ("certificate", "a certificate"),
                    ("test", "a test result"),
                    ("names_gluten", "label names gluten or traces"),
                ]))
                (date(t, "gluten.date", "Day"))
                (words(t, "gluten.note", "Brand, certificate number, lot", ""))
                (number(t, "gluten.ppm", "Test result", "ppm", "the figure, or the limit it was below"))
            }
        }
        details open[some_allergen || wrong_allergen] {
            summary #f-allergens { "Allergens the label names" }
            p.hint {
                @if own { "Tick all that the label names. Ticked ones are taken as all there are; with none ticked, the label still has to be read." }
                @else { "Beside those the larder knows of. Wheat, rye or barley makes the food contain gluten." }
            }
            div.ticks { @for a in Allergen::ALL { (tick(t, &format!("allergen.{}", a.word()), larder::allergen::plain(*a))) } }
            (beside(t, "allergens"))
            (tick(t, "read_through.all", ALL_NAMED))
            p.hint { "Tick it when you have read the whole label. What is not ticked above is then asked about no more, as far as the law of the label wants it named." }
            div.duo {
                (date(t, "read_through.date", "Read on"))
                (words(t, "read_through.who", "Read by", ""))
                (choice(t, "read_through.law", "The label follows the law of", &LAWS.map(|l| (l.word(), l.name()))))
            }
        }
        (bought::fields(t, larder, food))
        fieldset {
            legend { "Note" }
            (words(t, "note", "Brand or supplier, and anything to remember", ""))
        }
        (beside(t, "key"))
        (signed(t, if t.get("base").is_empty() { "Put it in the larder" } else { "Save" }, &["our own figures", "weighed anew", "label of the new pack read", "new price"]))
    }
}

fn page_word(m: &str, home: Locale) -> String {
    super::super::recipe::component_name(&measure_words(m, home))
}

/// The functions to choose from, in the order of the words.
pub fn functions() -> Vec<(&'static str, &'static str)> {
    let mut out: Vec<_> = Function::ALL.iter().map(|f| (f.word(), does(*f))).collect();
    out.sort_by_key(|f| f.1);
    out.insert(0, ("", "choose one"));
    out
}

/// Grams with the digits that mean something.
pub fn short(grams: f64) -> String {
    let places = if grams >= 100.0 {
        0
    } else if grams >= 10.0 {
        1
    } else {
        2
    };
    let text = format!("{grams:.places$}");
    if text.contains('.') {
        text.trim_end_matches('0').trim_end_matches('.').to_owned()
    } else {
        text
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn settings() -> Settings {
        Settings::default()
    }

    #[test]
    fn a_form_says_the_entry_it_was_filled_with() {
        let larder = Larder::built_in().expect("tables");
        let id = larder.by_key("sorghum_flour").expect("sorghum flour");
        let mut e = OwnEntry {
            key: "sorghum_flour".to_owned(),
            also: vec!["jowar".to_owned(), "milo flour".to_owned()],
            label: Some(Label {
                protein: Some(9.1),
                carbohydrate: Some(70.0),
                fibre: Some(6.0),
                ..Label::default()
            }),
            gluten: Some(Evidence {
                kind: EvidenceKind::Test { ppm: 5.0 },
                date: "2026-11-20".to_owned(),
                note: "lot 7".to_owned(),
            }),
            allergens: vec!["soy".to_owned()],
            price: Some(larder::Price {
                pack_grams: 500.0,
                amount: 3.2,
                currency: "GBP".to_owned(),
                date: "2026-11-20".to_owned(),
                pack: String::new(),
            }),
            packs: vec![larder::Price {
                pack_grams: 2_267.961_85,
                amount: 11.5,
                currency: "USD".to_owned(),
                date: "2026-11-21".to_owned(),
                pack: "5 lb bag".to_owned(),
            }],
            stock: Some(larder::Stock {
                grams: 320.0,
                date: "2026-11-24".to_owned(),
            }),
            trim: Some(2.5),
            note: "second shelf".to_owned(),
            ..OwnEntry::default()
        };
        e.weights.insert("cup".to_owned(), 121.5);
        let mut t = filled(Some(&e), &settings(), "2026-11-25");
        let back = entry(
            &mut t,
            "sorghum_flour",
            &measures(&larder, Some(id)),
            &larder,
        );
        assert!(!t.is_wrong());
        assert_eq!(back, e);
        back.check(&larder).expect("it can be");
    }

    #[test]
    fn an_empty_form_says_nothing_of_label_gluten_and_price() {
        let mut t = filled(None, &settings(), "2026-11-25");
        let larder = Larder::built_in().expect("tables");
        let e = entry(&mut t, "x", &measures(&larder, None), &larder);
        assert!(e.label.is_none() && e.gluten.is_none() && e.price.is_none());
        assert!(!t.is_wrong());
        t.put("gluten.note", "lot 4");
        t.put("price.amount", "3");
        entry(&mut t, "x", &[], &larder);
        assert!(t.trouble("gluten.kind").is_some());
        assert!(t.trouble("price.pack_grams").is_some());
    }

    #[test]
    fn every_field_that_can_be_wrong_stands_in_the_form() {
        let all = names(&["cup".to_owned()]);
        for field in [
            "weights.cup",
            "label.protein",
            "price.date",
            "packs.4.amount",
            "stock.grams",
            "trim",
            "gluten.ppm",
        ] {
            assert!(all.iter().any(|n| n == field), "{field}");
        }
    }

    #[test]
    fn short_grams() {
        for (g, w) in [
            (125.4, "125"),
            (12.34, "12.3"),
            (2.5, "2.5"),
            (4.0, "4"),
            (100.0, "100"),
            (0.333, "0.33"),
        ] {
            assert_eq!(short(g), w);
        }
    }
}
