//! Saved pages: every shape of recipe data, broken pages, and arbitrary text.

#![allow(clippy::unwrap_used, clippy::panic)]
#![allow(clippy::disallowed_methods, reason = "tests read the cases")]

use larder::Larder;
use proptest::prelude::*;
use quantity::Locale;
use recipe::read::{PageError, Reader, is_page, page};
use recipe::{DoubtCode, LineKind, Recipe};
use std::path::PathBuf;
use std::sync::OnceLock;

fn cases(folder: &str) -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR"))
        .join("../../cases")
        .join(folder)
}

fn reader() -> Reader<'static> {
    static LARDER: OnceLock<Larder> = OnceLock::new();
    Reader::new(
        LARDER.get_or_init(|| Larder::built_in().unwrap()),
        Locale::Us,
    )
}

fn read(text: &str) -> Recipe {
    page(text, &reader()).unwrap_or_else(|e| panic!("{e}\n{text}"))
}

/// A page around one block of data.
fn around(data: &str) -> String {
    format!(
        "<!doctype html><html><head><script type=\"application/ld+json\">{data}</script></head></html>"
    )
}

fn of(rest: &str) -> Recipe {
    read(&format!(
        "{{\"@type\":\"Recipe\",\"recipeIngredient\":[\"200 g flour\"],{rest}}}"
    ))
}

fn steps(recipe: &Recipe) -> Vec<&str> {
    recipe.steps.iter().map(|s| s.text.as_str()).collect()
}

#[test]
fn good_pages() {
    let mut pages: Vec<PathBuf> = std::fs::read_dir(cases("good/web"))
        .unwrap()
        .map(|f| f.unwrap().path())
        .collect();
    pages.retain(|p| p.extension().is_some_and(|e| e == "html"));
    pages.sort();
    assert!(pages.len() >= 22, "{} pages", pages.len());
    let mut wrong = Vec::new();
    for path in pages {
        let name = path.file_stem().unwrap().to_string_lossy().into_owned();
        let text = std::fs::read_to_string(&path).unwrap();
        let expect = std::fs::read_to_string(path.with_extension("expect.tsv")).unwrap();
        if !is_page(&text) {
            wrong.push(format!("{name}: is_page says no"));
        }
        let recipe = match page(&text, &reader()) {
            Ok(recipe) => recipe,
            Err(e) => {
                wrong.push(format!("{name}: {e}"));
                continue;
            }
        };
        let lines: Vec<_> = recipe
            .components
            .iter()
            .flat_map(|c| &c.lines)
            .filter(|l| l.kind == LineKind::Ingredient)
            .collect();
        let total = recipe.times.total.map(|t| t.as_minutes());
        if !expect.contains("total_minutes") && total.is_some() {
            wrong.push(format!(
                "{name}: total_minutes: nothing expected, {total:?} read"
            ));
        }
        for row in expect.lines().skip(1) {
            let (field, value) = row.split_once('\t').unwrap();
            let got = match field {
                "title" => recipe.title.clone().unwrap_or_default(),
                "yield" => recipe
                    .makes
                    .as_ref()
                    .map(|m| m.text.clone())
                    .unwrap_or_default(),
                "ingredients" => lines.len().to_string(),
                "steps" => recipe.steps.len().to_string(),
                "first_ingredient" => lines.first().map(|l| l.text.clone()).unwrap_or_default(),
                "last_step_starts" => recipe
                    .steps
                    .last()
                    .map(|s| s.text.clone())
                    .unwrap_or_default(),
                "total_minutes" => total.map_or("none".to_owned(), |t| t.to_string()),
                other => panic!("{name}: unknown field {other}"),
            };
            let right = if field == "last_step_starts" {
                got.starts_with(value)
            } else {
                got == value
            };
            if !right {
                wrong.push(format!("{name}: {field}: '{value}' expected, '{got}' read"));
            }
            if field == "total_minutes"
                && value == "none"
                && !recipe
                    .doubts
                    .iter()
                    .any(|d| d.message.contains("total time"))
            {
                wrong.push(format!("{name}: no doubt about the time left out"));
            }
        }
        if page(&text, &reader()).as_ref() != Ok(&recipe) {
            wrong.push(format!("{name}: a second reading differs"));
        }
    }
    assert!(wrong.is_empty(), "\n{}", wrong.join("\n"));
}

#[test]
fn details_of_good_pages() {
    let load = |name: &str| read(&std::fs::read_to_string(cases("good/web").join(name)).unwrap());
    assert_eq!(
        load("03_graph.html").source.author.as_deref(),
        Some("Ottoline Marsh")
    );
    assert_eq!(
        load("12_old_ingredients.html").source.author.as_deref(),
        Some("Per Idsoe")
    );
    let buns = load("13_yield_quantitative.html");
    assert_eq!(
        buns.source.author.as_deref(),
        Some("Per Idsoe, Ottoline Marsh")
    );
    assert_eq!(buns.makes.unwrap().count, Some((10.0, 10.0)));
    let cake = load("18_diet_forms.html");
    assert!(
        cake.notes
            .iter()
            .any(|n| n.ends_with(": gluten free, vegetarian, low lactose")),
        "{:?}",
        cake.notes
    );
    let farls = load("16_durations_in_words.html");
    assert_eq!(
        (farls.times.prep, farls.times.cook, farls.doubts.len()),
        (None, None, 2)
    );
    let wafers = load("19_control_and_commas.html");
    let lines = &wafers.components[0].lines;
    assert_eq!(lines[2].text, "60 g butter, soft");
    assert_eq!((lines[0].number, lines[4].number), (1, 5));
    assert_eq!(wafers.steps[1].text, "Fold in flour and nuts. Chill.");
    let tart = load("08_howto_sections.html");
    assert!(
        tart.notes
            .iter()
            .any(|n| n == "Part of the method, from step 3: Custard"),
        "{:?}",
        tart.notes
    );
    let muffins = load("15_yield_array.html");
    assert!(
        muffins.notes.iter().any(|n| n == "Keywords: berry, tin"),
        "{:?}",
        muffins.notes
    );
    assert!(
        muffins
            .notes
            .iter()
            .any(|n| n.contains("serving size 1 muffin (66 g)"))
    );
}

#[test]
fn bad_pages() {
    let load = |name: &str| {
        let text = std::fs::read_to_string(cases("bad").join(name)).unwrap();
        assert!(is_page(&text), "{name}");
        page(&text, &reader()).unwrap_err()
    };
    let broken = load("json_broken.html");
    assert!(
        matches!(broken, PageError::Broken { line: 11, .. }),
        "{broken:?}"
    );
    assert!(
        broken
            .to_string()
            .contains("the recipe data cannot be read: it breaks off"),
        "{broken}"
    );
    let none = load("json_no_recipe.html");
    assert_eq!(
        none,
        PageError::NoRecipe {
            types: vec!["NewsArticle".to_owned(), "Organization".to_owned()]
        }
    );
    assert!(none.to_string().contains("no recipe in the page"), "{none}");
    let text = "<html><body><p>hello</p><script>1</script></body></html>";
    assert!(is_page(text));
    assert_eq!(
        page(text, &reader()),
        Err(PageError::NoData {
            scripts: 1,
            marked: false
        })
    );
    let text =
        "<html><body><div itemscope itemtype='https://schema.org/Recipe'></div></body></html>";
    assert_eq!(
        page(text, &reader()),
        Err(PageError::NoData {
            scripts: 0,
            marked: true
        })
    );
    let big = format!("<html>{}", " ".repeat(20_000_000));
    assert!(matches!(
        page(&big, &reader()),
        Err(PageError::TooLarge { .. })
    ));
    let deep = around(&"[".repeat(100_000));
    assert!(matches!(
        page(&deep, &reader()),
        Err(PageError::Broken { .. })
    ));
}

#[test]
fn errors_say_where() {
    let at = |text: &str| match page(text, &reader()) {
        Err(PageError::Broken { line, column, .. }) => (line, column),
        other => panic!("{other:?}"),
    };
    // The mark is where a comma should be; repairs before it must not move it.
    for end in ["\n", "\r\n"] {
        let data = [
            "{\"@type\": \"Recipe\",,",
            "\"näme\": \"a\u{1}\tb\", /* x */ \"é\" 5}",
        ]
        .join(end);
        let text = format!(
            "<html>{end}<p>x</p>{end}<script type='application/ld+json'>{end}{data}</script>"
        );
        assert_eq!(at(&text), (5, 29), "{text:?}");
    }
    let text = around("{&quot;@type&quot;: &quot;Recipe&quot; 5}");
    let column = text.find(" 5}").unwrap() + 2;
    assert_eq!(at(&text), (1, column));
}

#[test]
fn what_is_a_page() {
    for text in [
        "<!DOCTYPE html><p>",
        "\u{feff} <HTML lang=en>",
        "<script type=\"application/ld+json\">{}</script>",
        "{\"@type\":\"Recipe\"}",
        "[\n {\n\"@type\":\"Recipe\"}]",
        "{&quot;@type&quot;",
        "<?xml version='1.0'?>",
        "Scones </body>",
    ] {
        assert!(is_page(text), "{text}");
    }
    for text in [
        "",
        "Scones\n\n225 g flour\n",
        "[Dough]\n1 cup flour",
        "{dough}",
        "<b>Scones</b>\n1 egg",
        "< 5 g salt",
    ] {
        assert!(!is_page(text), "{text}");
    }
}

#[test]
fn wrappers_and_slips() {
    let sound = r#"{"@type":"Recipe","name":"Loaf","recipeIngredient":["200 g flour","1 egg"]}"#;
    let entity = sound.replace('"', "&quot;");
    for data in [
        sound.to_owned(),
        format!("<!-- {sound} -->"),
        format!("<![CDATA[{sound}]]>"),
        format!("/*<![CDATA[*/ {sound} /*]]>*/"),
        format!("\u{feff}\0{sound};"),
        format!("{{}} {sound}"),
        format!("{sound}}}"),
        format!("// said by the kitchen\n{sound}"),
        sound.replace("\"]", "\",]").replace("]}", "],}"),
        sound.replace("Loaf", "Lo\\af"),
        sound.replace("Loaf", "\u{1}Loaf\n"),
        format!("<!--{entity}-->"),
    ] {
        let recipe = read(&around(&data));
        assert_eq!(recipe.title.as_deref(), Some("Loaf"), "{data}");
        assert_eq!(recipe.components[0].lines.len(), 2, "{data}");
    }
    // Data alone, without a page.
    assert_eq!(read(sound).title.as_deref(), Some("Loaf"));
    assert_eq!(
        read(&format!("\u{feff}\n[{sound}]")).title.as_deref(),
        Some("Loaf")
    );
    // Half a letter pair, and a whole one.
    assert_eq!(
        read(&sound.replace("Loaf", r"Lo\ud83caf\t"))
            .title
            .as_deref(),
        Some("Lo\u{fffd}af")
    );
    assert_eq!(
        read(&sound.replace("Loaf", "\\ud83c\\udf5e Loaf\n"))
            .title
            .as_deref(),
        Some("🍞 Loaf")
    );
    // A broken block beside a sound one is told of.
    let two = format!("{}{}", around("{\"a\":"), around(sound));
    assert!(
        read(&two)
            .doubts
            .iter()
            .any(|d| d.message.contains("data block"))
    );
}

#[test]
fn parts_of_the_list() {
    let recipe = read(
        r#"{"@type":["Thing","schema:Recipe"],"recipeIngredient":["For the dough:","200 g flour","100 g water",
        "Egg wash: 1 egg","5 g salt","<h4>Filling</h4>","<b>300</b> g apples &amp; 1 <i>tbsp</i> sugar",
        {"@type":"PropertyValue","name":"butter","value":50,"unitText":"g"},
        {"@type":"ItemList","name":"For the glaze","itemListElement":[{"@type":"ListItem","position":1,"item":"20 g sugar"}]}],
        "recipeInstructions":[{"@type":"HowToSection","name":"Make the dough","itemListElement":[{"@type":"HowToStep","name":"Mix","text":"Mix it."}]},
        {"@type":"HowToSection","name":"For the filling","itemListElement":{"@type":"HowToStep","itemListElement":[
          {"@type":"HowToDirection","text":"Peel."},{"@type":"HowToTip","text":"Use tart ones."},{"@type":"HowToDirection","text":"Slice."}]}},
        "For the glaze:","1. Melt the sugar."]}"#,
    );
    let names: Vec<(&str, usize)> = recipe
        .components
        .iter()
        .map(|c| (c.name.as_str(), c.lines.len()))
        .collect();
    assert_eq!(
        names,
        [("dough", 3), ("egg wash", 1), ("filling", 2), ("glaze", 1)]
    );
    assert_eq!(recipe.components[2].lines[1].text, "50 g butter");
    assert_eq!(
        recipe.components[2].lines[0].text,
        "300 g apples & 1 tbsp sugar"
    );
    let got: Vec<(&str, Option<usize>)> = recipe
        .steps
        .iter()
        .map(|s| (s.text.as_str(), s.component))
        .collect();
    assert_eq!(
        got,
        [
            ("Mix it.", Some(0)),
            ("Peel. Tip: Use tart ones. Slice.", Some(2)),
            ("Melt the sugar.", Some(3))
        ]
    );
    assert_eq!(recipe.steps[2].number, 3);
}

#[test]
fn shapes_of_the_method() {
    for (method, want) in [
        (r#""Mix.\nBake.""#, &["Mix.", "Bake."][..]),
        (
            r#""<p>Mix <b>well</b>.</p>\n<p>Bake.</p>""#,
            &["Mix well.", "Bake."],
        ),
        (r#""Mix.<br/>Bake.<br>""#, &["Mix.", "Bake."]),
        (
            r#""&lt;ul&gt;&lt;li&gt;Mix.&lt;/li&gt;&lt;li&gt;Bake.&lt;/li&gt;&lt;/ul&gt;""#,
            &["Mix.", "Bake."],
        ),
        (
            r#"["Mix 2 < 3 eggs.", "Bake <sifted>."]"#,
            &["Mix 2 < 3 eggs.", "Bake <sifted>."],
        ),
        (r#"["Mix <b class=\"x>well."]"#, &["Mix <b class=\"x>well."]),
        (
            r#"{"@type":"HowToStep","text":"Mix.\nBake."}"#,
            &["Mix.", "Bake."],
        ),
        (
            r#"[{"@type":"HowToStep","text":"Mix\nit."},{"@type":"HowToStep","name":"Bake."}]"#,
            &["Mix it.", "Bake."],
        ),
        (
            r#"[{"position":"2","text":"Bake."},{"position":1,"text":"Mix."}]"#,
            &["Mix.", "Bake."],
        ),
        (
            r#"{"@list":[[["Step 1: Mix."]],"Step 2: Bake."]}"#,
            &["Mix.", "Bake."],
        ),
        (r##"[{"@id":"#none"},"Bake."]"##, &["Bake."]),
        (
            r##"{"@id":"#a","@type":"ItemList","itemListElement":["Mix.",{"@id":"#a"}]}"##,
            &["Mix."],
        ),
        ("[]", &[]),
        ("null", &[]),
    ] {
        assert_eq!(
            steps(&of(&format!("\"recipeInstructions\":{method}"))),
            want,
            "{method}"
        );
    }
    let recipe = of(
        r#""recipeInstructions":[{"@type":"HowToStep","name":"The long rest","text":"Leave it."},{"@type":"HowToTip","text":"Use a lid."}]"#,
    );
    assert_eq!(recipe.notes, ["Step 1: The long rest", "Tip: Use a lid."]);
    assert!(
        of(r#""recipeInstructions":[{"@id":"x"}]"#)
            .doubts
            .iter()
            .any(|d| d.code == DoubtCode::NotRead)
    );
}

#[test]
fn yield_source_notes() {
    for (forms, text) in [
        ("8", "8"),
        ("\"8\"", "8"),
        ("[\"8\",\"8 muffins\"]", "8 muffins"),
        ("[\"8 muffins\",8]", "8 muffins"),
        (
            r#"{"minValue":4,"maxValue":6,"unitText":"servings"}"#,
            "4–6 servings",
        ),
        ("[8.0]", "8"),
    ] {
        let makes = of(&format!("\"recipeYield\":{forms}")).makes.unwrap();
        assert_eq!(makes.text, text);
        assert!(makes.count.is_some(), "{forms}");
    }
    let recipe = of(
        r##""author":[{"@id":"nobody"},{"@type":"Person","name":"Ottoline Marsh"}],"publisher":{"name":"Alder Lane"},
        "mainEntityOfPage":{"@id":"https://alderlane.example/loaf"},"@id":"#r","description":"<p>Plain.</p><p>Good.</p>",
        "recipeCuisine":["Hill","Road"],"schema:name":"R&amp;D loaf","isBasedOn":"https://alderlane.example/old""##,
    );
    assert_eq!(
        recipe.source.words().as_deref(),
        Some("Ottoline Marsh, Alder Lane, https://alderlane.example/loaf")
    );
    assert_eq!(recipe.title.as_deref(), Some("R&D loaf"));
    assert!(
        recipe
            .notes
            .starts_with(&["Plain.".to_owned(), "Good.".to_owned()])
    );
    assert!(
        recipe
            .notes
            .contains(&"Recipe cuisine: Hill, Road".to_owned()),
        "{:?}",
        recipe.notes
    );
    assert!(
        recipe
            .notes
            .contains(&"Is based on: https://alderlane.example/old".to_owned()),
        "{:?}",
        recipe.notes
    );
}

#[test]
fn several_recipes() {
    let text = around(
        r#"[{"@type":"ItemList","itemListElement":[{"@type":"Recipe","name":"Link"}]},
        {"@type":"Recipe","name":"Loaf","recipeIngredient":["200 g flour"]},
        {"@type":"Recipe","name":"Roll","recipeIngredient":["300 g flour"]}]"#,
    );
    let recipe = read(&text);
    assert_eq!(recipe.title.as_deref(), Some("Loaf"));
    assert!(
        recipe.doubts.iter().any(|d| d.message.contains("'Roll'")),
        "{:?}",
        recipe.doubts
    );
    assert!(
        !recipe.doubts.iter().any(|d| d.message.contains("'Link'")),
        "{:?}",
        recipe.doubts
    );
    // Another page's recipe beside broken data is not taken for this one's.
    let text = format!(
        "{}{}",
        around(r#"{"@type":"Recipe","name":"Link"}"#),
        around("{\"@type\":\"Recipe\",")
    );
    assert!(matches!(
        page(&text, &reader()),
        Err(PageError::Broken { .. })
    ));
}

/// Objects that point to one another many times over must not take for ever.
#[test]
fn tangled_references() {
    let mut all = Vec::new();
    for i in 0..40 {
        let next = format!("{{\"@id\":\"#{}\"}}", i + 1);
        let list = vec![next; 40].join(",");
        all.push(format!(
            "{{\"@id\":\"#{i}\",\"@type\":\"HowToSection\",\"itemListElement\":[{list}]}}"
        ));
    }
    let text = format!(
        "{{\"@graph\":[{},{{\"@type\":\"Recipe\",\"recipeIngredient\":[\"1 egg\",{{\"@id\":\"#0\"}}],\"recipeInstructions\":{{\"@id\":\"#0\"}},\"supply\":{{\"@id\":\"#0\"}}}}]}}",
        all.join(",")
    );
    assert!(!read(&text).doubts.is_empty());
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 300, ..ProptestConfig::default() })]

    #[test]
    fn never_panics(text in any::<String>()) {
        let reader = reader();
        let _ = is_page(&text);
        prop_assert_eq!(page(&text, &reader), page(&text, &reader));
        let _ = page(&around(&text), &reader);
        let quoted = text.replace(['"', '\\'], "");
        let _ = page(&around(&format!("{{\"@type\":\"Recipe\",\"recipeIngredient\":\"{quoted}\",\"recipeInstructions\":\"{quoted}\",\"totalTime\":\"{quoted}\",\"name\":\"{quoted}\"}}")), &reader);
    }

    #[test]
    fn never_panics_near_data(parts in proptest::collection::vec(proptest::sample::select(vec![
        "{", "}", "[", "]", "\"", ",", ":", "\\", "\\u", "\\ud83c", "é", "\u{1}", "\n", "\r", "<", ">", "<li>", "</li>", "<b",
        "<!--", "-->", "//", "/*", "*/", "&quot;", "&amp;", "&lt;", "&", ";", "\"@type\":", "\"Recipe\"", "\"@id\":\"a\"",
        "\"recipeIngredient\":", "\"recipeInstructions\":", "\"itemListElement\":", "\"totalTime\":\"PT1H\"", "1", "½", " cup flour",
        "PT", "<script type=application/ld+json>", "</script>", "]]>", "<sup>",
    ]), 0..60)) {
        let text = parts.concat();
        let reader = reader();
        let _ = page(&text, &reader);
        let _ = page(&around(&text), &reader);
        let _ = page(&around(&format!("{{\"@type\":\"Recipe\",{text}")), &reader);
    }

    /// A break anywhere in a sound page is an error or a recipe, never a fault.
    #[test]
    fn cut_anywhere(share in 0.0_f64..1.0) {
        let text = std::fs::read_to_string(cases("good/web").join("19_control_and_commas.html")).unwrap();
        let mut at = (text.len() as f64 * share) as usize;
        while !text.is_char_boundary(at) { at -= 1; }
        let _ = page(&text[..at], &reader());
    }
}

#[test]
fn a_bought_sauce_in_the_list_is_an_ingredient() {
    let r = read(&around(
        r#"{"@type":"Recipe","name":"Pancakes","recipeIngredient":["300 g cabbage","2 eggs","tonkatsu sauce","okonomi sauce","sesame seeds","Peanut sauce","100 g peanuts"],"recipeInstructions":"Fry."}"#,
    ));
    let parts: Vec<usize> = r.components.iter().map(|c| c.lines.len()).collect();
    assert_eq!(parts, [5, 1], "{:?}", r.notes);
}
