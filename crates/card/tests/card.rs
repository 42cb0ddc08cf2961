//! The card of small recipes of our own.

#[path = "card/own_method.rs"]
mod own_method;
#[path = "card/size.rs"]
mod size;
use own_method::{html, sheets};

use card::{CardOptions, json_ld};
use html5gum::{DefaultEmitter, Token, Tokenizer};
use larder::Larder;
use larder::allergen::Regime;
use quantity::Locale;
use recipe::read::{self, Reader};
use recipe::rework::{Options, Rework, rework};
use recipe::screen::Screening;
use recipe::weigh::formula;
use serde_json::Value;
use std::sync::OnceLock;

const SQUARES: &str = "Plum crumb squares

By Ottilie Fenn
Source: https://example.org/plum-squares
Makes 12 squares

Ingredients

For the dough
300 g plain flour
150 ml whole milk
50 g caster sugar
60 g unsalted butter, soft
1 egg
7 g instant yeast
5 g salt

For the crumb
100 g plain flour
70 g cold butter
60 g brown sugar
30 g rolled oats
1 tsp ground cinnamon

To assemble
the dough
120 g of the crumb
400 g plums, halved
1 tbsp icing sugar, to serve
Flour, for dusting

Method
1. Warm the milk until a knuckle dipped in it feels nothing at all, then stir in the yeast.
2. Knead everything for the dough for 10 minutes and let it rise for 1 hour until doubled.
3. Rub the crumb together like damp beach sand under a grey sky.
4. Dust the bench with flour, roll out the dough, and lay the plums upon it like roof tiles.
5. Scatter the crumb and bake at 180 °C for 30 minutes.
";

const MERINGUE: &str = "Lemon meringue drops

By Ottilie Fenn
Makes 20 drops

Ingredients
3 egg whites
150 g white sugar
1 tsp lemon juice

Method
1. Whip the whites until they stand up by themselves and add the sugar by the spoon.
2. Bake at 100 °C for 90 minutes.
";

/// Seitan is gluten: nothing stands in for it, and no label clears it.
const MALTED: &str = "Gluten-free seitan pie

Ingredients
200 g seitan
100 g potato starch
20 g butter

Method
1. Bake at 180 °C for 30 minutes.
";

fn larder() -> &'static Larder {
    static LARDER: OnceLock<Larder> = OnceLock::new();
    LARDER.get_or_init(|| Larder::built_in().expect("the built-in tables"))
}

struct Made {
    rework: Rework,
    screening: Screening,
}

fn made(text: &str) -> Made {
    let reader = Reader::new(larder(), Locale::Us);
    let recipe = read::recipe(text, &reader).expect("a recipe");
    let weighed = formula(recipe, larder(), Locale::Us).expect("no ring");
    let rework = rework(weighed, larder(), &Options::default());
    let screening = rework.screen(larder());
    Made { rework, screening }
}

fn options() -> CardOptions {
    CardOptions {
        today: Some("2026-11-25".to_owned()),
        writer: Some("Imre Vasko".to_owned()),
        url: Some("https://example.org/cards/plum".to_owned()),
        ..CardOptions::default()
    }
}

fn page(m: &Made) -> String {
    html(&m.rework, &m.screening, larder(), &options())
}

fn data(m: &Made) -> Value {
    json_ld(&m.rework, &m.screening, larder(), &options())
}

/// The page's tokens, script and style read as the raw text they are.
fn tokens(page: &str) -> Vec<Token> {
    let mut emitter = DefaultEmitter::<()>::new_with_span();
    emitter.naively_switch_states(true);
    Tokenizer::new_with_emitter(page, emitter)
        .map(|Ok(t)| t)
        .collect()
}

/// Reads the page back with an HTML reader: every element that is opened is closed.
fn assert_balanced(page: &str) {
    const VOID: [&str; 4] = ["meta", "br", "hr", "link"];
    let mut open: Vec<String> = Vec::new();
    for token in tokens(page) {
        match token {
            Token::StartTag(t) => {
                let name = String::from_utf8_lossy(&t.name).into_owned();
                if !VOID.contains(&name.as_str()) && !t.self_closing {
                    open.push(name);
                }
            }
            Token::EndTag(t) => {
                let name = String::from_utf8_lossy(&t.name).into_owned();
                assert_eq!(open.pop(), Some(name), "still open: {open:?}");
            }
            Token::Error(e) => assert_eq!(format!("{e:?}"), "well formed"),
            _ => {}
        }
    }
    assert!(open.is_empty(), "left open: {open:?}");
}

/// Text of the page as a reader sees it.
fn seen(page: &str) -> String {
    let mut out = String::new();
    let mut hidden = false;
    for token in tokens(page) {
        match token {
            Token::StartTag(t) => hidden = matches!(&t.name[..], b"style" | b"script"),
            Token::EndTag(_) => hidden = false,
            Token::String(s) if !hidden => out.push_str(&String::from_utf8_lossy(&s)),
            _ => {}
        }
    }
    out
}

#[test]
fn the_same_bytes_twice() {
    for text in [SQUARES, MERINGUE, MALTED] {
        assert_eq!(page(&made(text)), page(&made(text)));
    }
}

#[test]
fn pages_are_well_formed_and_need_nothing_else() {
    for text in [SQUARES, MERINGUE, MALTED] {
        for regime in [Regime::Us, Regime::Eu, Regime::Ca, Regime::Anz] {
            for locale in Locale::ALL {
                let m = made(text);
                let options = CardOptions {
                    regime,
                    locale,
                    ..CardOptions::default()
                };
                let page = html(&m.rework, &m.screening, larder(), &options);
                assert_balanced(&page);
                assert_eq!(page.matches("<script").count(), 1);
                for outside in ["src=", "<link", "@import", "url(", "<img"] {
                    assert!(!page.contains(outside), "{outside}");
                }
            }
        }
    }
}

#[test]
fn the_sources_sentences_are_not_printed() {
    for text in [SQUARES, MERINGUE] {
        let m = made(text);
        let page = page(&m);
        let data = data(&m).to_string();
        for step in &m.rework.formula.recipe.steps {
            for sentence in step
                .text
                .split(['.', ','])
                .map(str::trim)
                .filter(|s| s.len() > 20)
            {
                assert!(
                    !page.contains(sentence) && !data.contains(sentence),
                    "printed: {sentence}"
                );
            }
        }
        for own in ["beach sand", "roof tiles", "knuckle", "by themselves"] {
            assert!(!page.contains(own) && !data.contains(own), "{own}");
        }
    }
}

#[test]
fn the_diet_is_named_only_when_nothing_is_left_to_check() {
    let squares = made(SQUARES);
    assert!(
        squares.screening.findings.iter().any(|f| f.open),
        "rice flour wants a label"
    );
    assert!(!page(&squares).contains("GlutenFreeDiet"));
    assert!(data(&squares).get("suitableForDiet").is_none());

    let meringue = made(MERINGUE);
    assert!(
        meringue.screening.can_say_gluten_free,
        "{:?}",
        meringue.screening.findings
    );
    assert_eq!(
        data(&meringue)["suitableForDiet"],
        "https://schema.org/GlutenFreeDiet"
    );

    // A screening of another recipe clears nothing.
    let wrong = html(&squares.rework, &meringue.screening, larder(), &options());
    assert!(!wrong.contains("GlutenFreeDiet"));
    let seitan = made(MALTED);
    let wrong = html(&seitan.rework, &meringue.screening, larder(), &options());
    assert!(!wrong.contains("GlutenFreeDiet") && wrong.contains("Contains gluten."));
}

#[test]
fn what_contains_gluten_is_not_called_free() {
    let m = made(MALTED);
    let data = data(&m);
    let name = data["name"].as_str().expect("a name");
    assert!(!name.to_lowercase().contains("gluten-free"), "{name}");
    assert!(name.contains("still contains gluten"));
    assert!(seen(&page(&m)).contains("Contains gluten."));
}

#[test]
fn never_safe_for_coeliacs() {
    let claimed = SQUARES
        .replace("Plum crumb squares", "Plum squares, safe for coeliacs")
        .replace("Ottilie Fenn", "Ottilie Safe for  Coeliacs")
        .replace("12 squares", "12 coeliac-safe squares");
    for text in [SQUARES, MERINGUE, MALTED, &claimed] {
        let m = made(text);
        for out in [page(&m), data(&m).to_string()] {
            let plain = out
                .to_lowercase()
                .split_whitespace()
                .collect::<Vec<_>>()
                .join(" ");
            for claim in ["safe for coeliac", "safe for celiac", "coeliac-safe"] {
                assert!(!plain.contains(claim), "{claim}");
            }
        }
    }
}

#[test]
fn text_from_outside_stays_text() {
    let evil = "<script>alert(1)</script> & \"rolls\" </style><!--\u{2028} \\u003c/ \\";
    let mut m = made(SQUARES);
    m.rework.formula.recipe.title = Some(evil.to_owned());
    m.rework.formula.recipe.source.author = Some(evil.to_owned());
    m.rework.formula.recipe.source.url = Some("javascript:alert(1)".to_owned());
    for component in &mut m.rework.components {
        component.name = evil.to_owned();
        component.lines[0].name = evil.to_owned();
        component.lines[0].note = Some(evil.to_owned());
    }
    let options = CardOptions {
        today: Some(evil.to_owned()),
        writer: Some(evil.to_owned()),
        url: Some("javascript:alert(2)".to_owned()),
        ..CardOptions::default()
    };
    let page = html(&m.rework, &m.screening, larder(), &options);
    assert_balanced(&page);
    assert!(!page.contains("<script>alert") && !page.contains("href=\"javascript"));
    assert!(page.contains("&lt;script&gt;alert"));
    assert_eq!(page.matches("</script").count(), 1);
    assert_eq!(page.matches("</style").count(), 1);
    let data = json_ld(&m.rework, &m.screening, larder(), &options);
    assert_eq!(block(&page), data);
    assert!(data.get("datePublished").is_none() && data.get("url").is_none());
}

/// The page's data block.
fn block(page: &str) -> Value {
    let mark = "application/ld+json\">";
    let start = page.find(mark).expect("a block") + mark.len();
    let end = start + page[start..].find("</script>").expect("its end");
    serde_json::from_str(&page[start..end]).expect("sound JSON")
}

/// Properties and types of schema.org Recipe as its pages list them.
#[test]
fn the_data_is_a_recipe() {
    let m = made(SQUARES);
    let page = page(&m);
    let data = block(&page);
    assert_eq!(data, self::data(&m), "the block is json_ld");
    assert_eq!(data["@context"], "https://schema.org");
    assert_eq!(data["@type"], "Recipe");
    assert_eq!(data["name"], "Plum crumb squares, gluten-free");
    assert_eq!(data["inLanguage"], "en");
    assert!(data["recipeYield"].is_string());
    let lines = data["recipeIngredient"].as_array().expect("a list");
    assert!(lines.iter().all(Value::is_string));
    assert!(
        lines.iter().any(|l| l
            .as_str()
            .is_some_and(|l| l.starts_with("300 g (") && l.contains("blend"))),
        "{lines:?}"
    );
    for section in data["recipeInstructions"].as_array().expect("sections") {
        assert_eq!(section["@type"], "HowToSection");
        assert!(section["name"].is_string());
        for step in section["itemListElement"].as_array().expect("steps") {
            assert_eq!(step["@type"], "HowToStep");
            assert!(step["text"].as_str().is_some_and(|t| !t.is_empty()));
        }
    }
    assert_eq!(data["isBasedOn"]["@type"], "CreativeWork");
    assert_eq!(data["isBasedOn"]["url"], "https://example.org/plum-squares");
    assert!(
        data["creditText"]
            .as_str()
            .is_some_and(|c| c.contains("Ottilie Fenn"))
    );
    assert_eq!(data["author"]["name"], "Imre Vasko");
    assert_eq!(data["datePublished"], "2026-11-25");
    for invented in ["nutrition", "aggregateRating", "image", "review", "video"] {
        assert!(data.get(invented).is_none(), "{invented}");
    }
    let bare = json_ld(&m.rework, &m.screening, larder(), &CardOptions::default());
    assert!(bare.get("author").is_none() && bare.get("datePublished").is_none());
}

/// The card is read back by the reader of this project: same title, same lines, same grams.
#[test]
fn the_page_reads_back() {
    for text in [SQUARES, MERINGUE] {
        let m = made(text);
        let data = data(&m);
        let lines = data["recipeIngredient"].as_array().expect("a list");
        let reader = Reader::new(larder(), Locale::Us);
        let back = read::recipe(&page(&m), &reader).expect("a recipe");
        assert_eq!(back.title.as_deref(), data["name"].as_str());
        let read: Vec<&recipe::Line> = back.components.iter().flat_map(|c| &c.lines).collect();
        assert_eq!(read.len(), lines.len());
        let weighed = formula(back.clone(), larder(), Locale::Us).expect("no ring");
        for (c, component) in weighed.components.iter().enumerate() {
            for item in component
                .items
                .iter()
                .filter(|i| i.in_formula && i.food.is_some())
            {
                let line = &back.components[c].lines[item.line];
                let Some((grams, _)) = line.clean.split_once(" g ") else {
                    continue;
                };
                let grams: f64 = grams.parse().expect("grams first");
                let got = item.grams.expect("a weight").likely().as_grams();
                assert!((got - grams).abs() < 1e-9, "{}: {got}", line.clean);
            }
        }
    }
}

#[test]
fn the_reader_sees_what_matters() {
    let m = made(SQUARES);
    let text = seen(&page(&m));
    for needed in [
        "Untested conversion: 0 test bakes logged",
        "Check the labels.",
        "Buy labelled gluten-free:",
        "safety for coeliac disease depends on your ingredients and kitchen",
        "Contains milk, egg",
        "Oats.",
        "is left over",
        "Adapted from ‘Plum crumb squares’, Ottilie Fenn",
        "Developer’s sheet",
        "estimate",
        "2026-11-25",
    ] {
        assert!(text.contains(needed), "missing: {needed}");
    }
    // Parts per million stay on the developer's sheet.
    let (first, second) = text.split_once("Developer’s sheet").expect("two sheets");
    assert!(!first.contains("ppm") && second.contains("ppm"));
}

/// What went into the blend or was left out stays beside what came of it.
#[test]
fn the_developer_sees_where_every_line_went() {
    let text = "Two-flour loaf

Makes 1 loaf

Ingredients
300 g bread flour
100 g whole wheat flour
10 g vital wheat gluten
280 g water
8 g salt
6 g instant yeast

Method
1. Bake at 220 °C for 40 minutes.
";
    let page = page(&made(text));
    let (_, sheet) = page
        .split_once("Before and after</caption>")
        .expect("the table");
    let (sheet, _) = sheet.split_once("</table>").expect("its end");
    let rows: Vec<String> = sheet
        .split("<tr>")
        .map(|row| seen(&row.replace("</td>", "</td>|")).trim().to_owned())
        .collect();
    let row = |name: &str| {
        rows.iter()
            .find(|r| r.starts_with(name))
            .unwrap_or_else(|| unreachable!("{name}: {rows:?}"))
    };
    assert!(row("bread flour|300").contains("|bread blend"), "{rows:?}");
    assert!(
        row("whole wheat flour|100").contains("in the blend"),
        "{rows:?}"
    );
    assert!(
        row("vital wheat gluten|10").contains("left out"),
        "{rows:?}"
    );
    for same in ["water|280", "table salt|8", "instant yeast|6"] {
        let name = same.split('|').next().unwrap_or_default();
        assert!(row(same).matches(name).count() == 2, "{rows:?}");
    }
}

#[test]
fn gluten_in_the_method_alone_is_not_passed_over() {
    let text = MERINGUE.replace(
        "2. Bake",
        "2. Strew semolina over the tray and set the drops on it.\n3. Bake",
    );
    let m = made(&text);
    assert!(!m.screening.method.is_empty(), "the screen saw it");
    let (page, data) = (page(&m), data(&m));
    let first = seen(&page);
    let (first, _) = first.split_once("Developer’s sheet").expect("two sheets");
    for needed in [
        "Check the method and the labels.",
        "semolina",
        "without the gluten that the gluten section names",
        "its source’s method names gluten",
    ] {
        assert!(first.contains(needed), "missing: {needed}\n{first}");
    }
    for wrong in [
        "ingredients that hold no gluten",
        "uses no gluten",
        "gluten-free\n",
    ] {
        assert!(!first.contains(wrong), "{wrong}");
    }
    assert!(data.get("suitableForDiet").is_none());
    let name = data["name"].as_str().expect("a name");
    assert!(!name.contains("gluten-free"), "{name}");

    // A screening that let it pass clears nothing either.
    let mut lax = m.screening.clone();
    lax.can_say_gluten_free = true;
    let lax = json_ld(&m.rework, &lax, larder(), &options());
    assert!(lax.get("suitableForDiet").is_none());
}

/// Whoever holds the first page alone holds what can hurt.
#[test]
fn gluten_and_allergens_stand_between_the_title_and_the_first_list() {
    for text in [SQUARES, MERINGUE, MALTED] {
        let page = page(&made(text));
        let at = |needed: &str| page.find(needed).unwrap_or_else(|| panic!("{needed}"));
        let order = [
            "<h1>",
            "class=\"facts\"",
            "<h2>Gluten</h2>",
            "<h2>Allergens</h2>",
            "class=\"lists\"",
            "<h2>Method</h2>",
            "<h2>Source</h2>",
        ];
        assert!(order.map(at).is_sorted(), "{:?}", order.map(at));
        for once in ["<h2>Gluten</h2>", "<h2>Allergens</h2>"] {
            assert_eq!(page.matches(once).count(), 1, "{once}");
        }
    }
    // What must be bought labelled is named there, not only marked in the lists.
    let (head, _) = sheets(&page(&made(SQUARES)));
    let (head, _) = head.split_once("Grams").expect("the first list");
    for needed in ["Check the labels.", "rice flour", "Contains milk, egg"] {
        assert!(head.contains(needed), "{needed}: {head}");
    }
}

#[test]
fn what_is_milled_beside_wheat_is_on_the_shopping_line() {
    let m = made(SQUARES);
    let text = seen(&page(&m));
    let at = text
        .find("milled or packed beside wheat")
        .expect("the line");
    let line = &text[at..at + text[at..].find('.').expect("its end")];
    for food in ["rice flour", "tapioca starch", "psyllium", "starch"] {
        assert!(line.contains(food), "{food}: {line}");
    }
    for sure in ["sugar", "butter", "milk"] {
        assert!(!line.contains(sure), "{sure}: {line}");
    }
}

/// A binder is weighed once: it stands in its component's list, not under the blend too.
#[test]
fn a_binder_is_listed_once() {
    let m = made(SQUARES);
    let text = seen(&page(&m));
    let (first, _) = text.split_once("Developer’s sheet").expect("two sheets");
    let (lists, rest) = first.split_once("Go by the grams").expect("the measures");
    let (_, lists) = lists.split_once("Grams").expect("the first list");
    let (lists, jar) = lists.split_once("It is flours alone").expect("the jar");
    assert_eq!(lists.matches("psyllium husk powder").count(), 1, "{lists}");
    // Who has a jar of the blend with its psyllium is told, so that it is not put in twice.
    let (jar, _) = jar.split_once('.').expect("a sentence");
    assert!(
        jar.contains("of a jar mixed with what binds take") && jar.contains("psyllium husk powder"),
        "{jar}"
    );
    assert_eq!(
        first
            .matches("Step numbers are those of the source")
            .count(),
        1
    );
    assert!(rest.contains("Method"));
}

/// Bakes of other figures are no bakes of the card's.
#[test]
fn bakes_are_those_of_their_version() {
    let m = made(SQUARES);
    for (bakes, of, words) in [
        (1, vec![], "1 test bake logged."),
        (
            1,
            vec!["version 1"],
            "1 test bake logged, of version 1; this version has none.",
        ),
        (
            3,
            vec!["version 2", "version 1", "version 1"],
            "3 test bakes logged, of version 1 and version 2; this version has none.",
        ),
        (
            3,
            vec!["version 1"],
            "3 test bakes logged: 2 of this version, 1 of version 1.",
        ),
    ] {
        let options = CardOptions {
            bakes,
            bakes_of: of.into_iter().map(str::to_owned).collect(),
            ..options()
        };
        let (first, _) = sheets(&html(&m.rework, &m.screening, larder(), &options));
        assert!(first.contains(words), "{words}");
    }
}

/// A label that was read is no label to check, and a line that asks for one has none that was.
#[test]
fn the_developer_sees_which_labels_were_read() {
    use larder::{Evidence, EvidenceKind, OwnEntry};
    let entry = OwnEntry {
        key: "cinnamon".to_owned(),
        gluten: Some(Evidence {
            kind: EvidenceKind::Labelled,
            date: "2026-11-20".to_owned(),
            note: "Tern, jar".to_owned(),
        }),
        ..OwnEntry::default()
    };
    let read = larder().with_own(&[entry]).expect("an entry");
    let text = "Cinnamon cake\n\n200 g plain flour\n100 g sugar\n2 eggs\n1 tbsp ground cinnamon\n2 tbsp soy sauce\n1 tsp baking powder\n\n1. Bake at 180 °C for 30 minutes.\n";
    let reader = Reader::new(&read, Locale::Us);
    let recipe = read::recipe(text, &reader).expect("a recipe");
    let weighed = formula(recipe, &read, Locale::Us).expect("no ring");
    let rework = rework(weighed, &read, &Options::default());
    let screening = rework.screen(&read);
    let (_, sheet) = sheets(&html(&rework, &screening, &read, &options()));
    let row = |name: &str| {
        let (_, after) = sheet
            .split_once("more are free by nature")
            .expect("the findings");
        let at = after.find(name).expect(name) + name.len();
        after[at..].chars().take(22).collect::<String>()
    };
    assert_eq!(row("ground cinnamon"), "label says gluten-free");
    assert!(sheet.contains("to buy labelled"), "{sheet}");
    assert!(row("baking powder").starts_with("check the label"));
}

/// A filling has no hydration to speak of.
#[test]
fn a_filling_has_no_balance_of_a_dough() {
    let text = SQUARES.replace(
        "For the crumb\n100 g plain flour\n70 g cold butter\n60 g brown sugar\n30 g rolled oats\n1 tsp ground cinnamon",
        "For the crumb\n10 g plain flour\n200 g sour cream\n60 g brown sugar\n1 egg",
    );
    let reader = Reader::new(larder(), Locale::Us);
    let read = read::recipe(&text, &reader).expect("a recipe");
    let weighed = formula(read, larder(), Locale::Us).expect("no ring");
    let filling = recipe::rework::style::Style::from_key("filling").expect("a style");
    let styles = Options {
        styles: vec![("crumb".to_owned(), filling)],
        ..Options::default()
    };
    let rework = rework(weighed, larder(), &styles);
    let screening = rework.screen(larder());
    let (_, sheet) = sheets(&html(&rework, &screening, larder(), &options()));
    let crumb = sheet.split("Crumb").nth(1).expect("the filling");
    let crumb = crumb.split("To assemble").next().unwrap_or("");
    assert!(!crumb.contains("Hydration"), "{crumb}");
    assert!(sheet.contains("Hydration"), "the dough keeps it");
}

/// Readers copy the list: what must be bought labelled says so in it.
#[test]
fn what_is_milled_beside_wheat_is_marked_in_the_lists() {
    let m = made(SQUARES);
    let (first, _) = sheets(&page(&m));
    for food in ["white rice flour", "tapioca starch", "potato starch"] {
        assert!(first.contains(&format!("{food} †")), "{food}: {first}");
    }
    assert!(first.contains("† Buy it labelled gluten-free."));
    assert!(!first.contains("whole milk †") && !first.contains("egg †"));
    let lines = data(&m)["recipeIngredient"].to_string();
    assert!(
        lines.contains("psyllium husk powder, labelled gluten-free"),
        "{lines}"
    );
}

/// How we know a thing is the developer's business.
#[test]
fn the_reader_is_told_no_workshop_words() {
    for text in [SQUARES, MERINGUE, MALTED] {
        let (first, second) = sheets(&page(&made(text)));
        for word in ["(seen)", "from memory", "ppm", "docs/", "For: "] {
            assert!(!first.contains(word), "{word}: {first}");
        }
        assert!(!second.contains("docs/"));
        // Both scales everywhere, an American card's own first.
        for (at, _) in first.match_indices(" °C") {
            let before: String = first[..at].chars().rev().take(24).collect();
            assert!(before.contains("F° "), "{}", &first[..at]);
        }
    }
}

/// A measure without a fixed size stands as it was written; where nothing is written it is as needed.
#[test]
fn a_loose_measure_is_printed_as_it_was_written() {
    let made = made(
        "Sauce\n\n200 g whole milk\n20 g cornflour\na good slug of brandy\nvanilla\n\nBoil all.\n",
    );
    let seen = seen(&page(&made));
    assert!(seen.contains("a good slug"), "{seen}");
    assert_eq!(
        seen.matches("as needed").count() + seen.matches("As needed").count(),
        1,
        "{seen}"
    );
}

#[test]
fn the_developers_sheet_prints_on_pages_of_its_own() {
    let page = page(&made(SQUARES));
    assert!(page.contains("<article class=\"sheet developer\">"));
    assert!(page.contains(".developer { margin-top: 0; break-before: page;"));
}

/// Gluten, allergens and what is left out are never tied to the lists that follow: together they
/// may be longer than a page, and all of them would then leave the first.
#[test]
fn what_can_hurt_stays_on_the_first_page_before_long_lists() {
    let page = page(&made(SQUARES));
    let print = page.split("@media print").nth(1).expect("print rules");
    let care = print
        .lines()
        .find(|l| l.trim_start().starts_with(".care {"));
    let care = care.expect("a rule");
    assert!(care.contains("break-inside: avoid"), "{care}");
    assert!(!care.contains("break-after"), "{care}");
}
