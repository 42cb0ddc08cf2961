//! How every page looks: nothing for axe to find in either theme, nothing wider than its window,
//! pictures kept at three widths.

use std::io::Write;

use crate::harness::{House, Theme, Window, browser, example, screens};

/// Every page with a name for its pictures. A page that comes to be is put in here.
fn pages(house: &House) -> Vec<(String, String)> {
    let buns = house.recipe(&example("apricot-almond-buns.txt"));
    let tart = house.recipe(&example("leek-and-cheddar-tart.txt"));
    house.post(
        &format!("/recipe/{tart}/save"),
        &[
            ("why", "first conversion"),
            ("who", "Maud Ferris"),
            ("rev", &rev(house, tart)),
        ],
    );
    for change in [
        r#"{"field":"set_shape","component":"dough","shape":"roll"}"#,
        r#"{"field":"shape_says","component":"dough","what":"length","text":"45 cm"}"#,
        r#"{"field":"shape_says","component":"dough","what":"width","text":"35 cm"}"#,
        r#"{"field":"shape_says","component":"dough","what":"filling","text":"250 g"}"#,
        r#"{"field":"shape_says","component":"dough","what":"slices","text":"12"}"#,
        r#"{"field":"shape_says","component":"dough","what":"pan","text":"13x9x2in"}"#,
    ] {
        let fields = [("over", "1"), ("change", change)];
        house.post(&format!("/recipe/{buns}/change"), &fields);
    }
    // Something to undo, and to do again.
    for title in ["Apricot buns", "Apricot and almond buns for the market"] {
        let change = format!(r#"{{"field":"title","title":"{title}"}}"#);
        let fields = [("over", "1"), ("change", change.as_str())];
        house.post(&format!("/recipe/{buns}/change"), &fields);
    }
    house.post(&format!("/recipe/{buns}/undo"), &[]);
    let mut pages = vec![
        ("recipes".to_owned(), "/".to_owned()),
        ("recipes-none".to_owned(), "/?words=zzz".to_owned()),
        ("bin".to_owned(), "/bin".to_owned()),
        ("missing".to_owned(), "/recipe/4711/read".to_owned()),
        (
            "compare".to_owned(),
            format!("/recipe/{tart}/compare?a=1&b=draft"),
        ),
        ("open".to_owned(), "/open".to_owned()),
        ("larder".to_owned(), "/larder".to_owned()),
        ("larder-new".to_owned(), "/larder/new".to_owned()),
        ("food".to_owned(), first(house, "/larder", "/larder/")),
        ("blends".to_owned(), "/blends".to_owned()),
        ("blends-new".to_owned(), "/blends/new".to_owned()),
        ("blends-work-out".to_owned(), "/blends/work-out".to_owned()),
        (
            "blends-worked-out".to_owned(),
            "/blends/work-out?style=lean_bread&why=teff_flour&also=oat+flour&least.oat_flour=10"
                .to_owned(),
        ),
        (
            "blends-clash".to_owned(),
            "/blends/work-out?like=bread&least.sorghum_flour=60&least.teff_flour=50".to_owned(),
        ),
        ("blend".to_owned(), first(house, "/blends", "/blends/")),
        ("shop-pick".to_owned(), "/shop".to_owned()),
        (
            "shop-list".to_owned(),
            format!("/shop?r={buns}&n.{buns}=2&r={tart}&got=egg"),
        ),
        ("days".to_owned(), "/days".to_owned()),
        ("day".to_owned(), day(house, &[buns, tart], true)),
        ("day-under-way".to_owned(), day(house, &[tart], false)),
        ("kitchen".to_owned(), "/kitchen".to_owned()),
        ("evidence".to_owned(), "/evidence".to_owned()),
    ];
    for (name, factor) in [("batch", "1"), ("batch-tart", "2")] {
        let of = if factor == "1" { buns } else { tart };
        house.size(of, factor);
        let answer = house.post(&format!("/recipe/{of}/batch"), &[("who", "Maud Ferris")]);
        let bench = answer.header("location").expect("a batch").to_owned();
        pages.push((format!("{name}-finish"), format!("{bench}/finish")));
        pages.push((name.to_owned(), bench));
    }
    for leaf in [
        "read",
        "weigh",
        "screen",
        "rework",
        "size",
        "shape",
        "heat",
        "shop",
        "plan",
        "bench",
        "bakes",
        "card",
        "versions",
        "card.html",
    ] {
        if leaf == "card.html" {
            pages.push((
                "print".to_owned(),
                format!("/recipe/{buns}/card.html?print=both"),
            ));
        }
        pages.push((leaf.to_owned(), format!("/recipe/{buns}/{leaf}")));
        // The other recipe where it looks otherwise: more to settle, a saved version.
        if matches!(leaf, "read" | "weigh" | "rework" | "versions") {
            pages.push((format!("{leaf}-tart"), format!("/recipe/{tart}/{leaf}")));
        }
    }
    pages
}

/// Now, by this machine's clock.
fn now() -> jiff::civil::DateTime {
    let zone = jiff::tz::TimeZone::system();
    jiff::Timestamp::now().to_zoned_datetime(zone).datetime()
}

/// A day with recipes on it, ready in two days or as soon as may be.
fn day(house: &House, recipes: &[u32], later: bool) -> String {
    let ids: Vec<String> = recipes.iter().map(u32::to_string).collect();
    let mut fields = vec![("title", "Saturday stall"), ("quiet", "none")];
    let date = now().date();
    let serve = format!("{}T12:00", date.saturating_add(jiff::Span::new().days(2)));
    if later {
        fields.push(("serve", &serve));
    }
    fields.extend(ids.iter().map(|id| ("add", id.as_str())));
    let answer = house.post("/days", &fields);
    answer.header("location").expect("a day").to_owned()
}

/// The first page that a list leads to.
fn first(house: &House, list: &str, to: &str) -> String {
    first_at(house, &house.host, list, to)
}

fn first_at(house: &House, host: &str, list: &str, to: &str) -> String {
    let page = house.get_at(host, list).text();
    page.split("href=\"")
        .skip(1)
        .filter_map(|r| r.split('"').next())
        .find(|p| {
            p.strip_prefix(to).is_some_and(|k| {
                !k.is_empty()
                    && !k.contains('/')
                    && k != "new"
                    && k != "work-out"
                    && !k.contains('?')
            })
        })
        .unwrap_or_else(|| panic!("{list} leads nowhere"))
        .to_owned()
}

/// The state of a recipe's draft.
fn rev(house: &House, id: u32) -> String {
    let page = house.get(&format!("/recipe/{id}/versions")).text();
    page.split("name=\"rev\" value=\"")
        .nth(1)
        .and_then(|r| r.split('"').next())
        .unwrap_or_default()
        .to_owned()
}

fn look(theme: Theme) {
    browser(|house, w| {
        let mut troubles: Vec<String> = Vec::new();
        w.theme(theme);
        let mut all = vec![("start".to_owned(), "/".to_owned())];
        check(w, theme, &all[0].clone(), &mut troubles);
        all = pages(house);
        for page in &all {
            check(w, theme, page, &mut troubles);
        }
        // The demo kitchen, at an address of its own: bakes, own blends, recipes at every stage.
        let demo = house.demo();
        let baked = (1..30)
            .find(|n| {
                house
                    .get_at(&demo, &format!("/recipe/{n}/bakes"))
                    .text()
                    .contains("id=\"b")
            })
            .expect("the demo kitchen has bakes");
        let bench = first_at(house, &demo, "/", "/bench/");
        w.visit(&demo);
        for (name, path) in [
            ("demo", "/".to_owned()),
            ("demo-kitchen", "/kitchen".to_owned()),
            ("demo-blends", "/blends".to_owned()),
            ("demo-shop-list", "/shop?r=1&r=2&n.2=2".to_owned()),
            ("demo-shop", format!("/recipe/{baked}/shop")),
            ("demo-batch", bench),
            ("demo-bakes", format!("/recipe/{baked}/bakes")),
            ("demo-versions", format!("/recipe/{baked}/versions")),
        ] {
            check(w, theme, &(name.to_owned(), path), &mut troubles);
        }
        if std::env::var_os("CI").is_some() {
            // Straight to standard error: what a passing test prints is not shown.
            let _ = writeln!(
                std::io::stderr(),
                "pictures of every page: {}",
                screens().display()
            );
        }
        assert!(troubles.is_empty(), "{}", troubles.join("\n"));
    });
}

fn check(
    w: &mut Window,
    theme: Theme,
    (name, path): &(String, String),
    troubles: &mut Vec<String>,
) {
    w.narrow(1280);
    w.go(path);
    for found in w.axe() {
        troubles.push(format!("{path} {}: {found}", theme.word()));
    }
    for width in [1280, 820, 390] {
        w.narrow(width);
        if let Some(what) = w.overhang() {
            troubles.push(format!("{path} at {width} px: {what}"));
        }
        w.picture(&format!("{name}-{width}-{}", theme.word()));
        if theme == Theme::Light {
            for found in w.touching() {
                troubles.push(format!("{path} at {width} px: {found}"));
            }
        }
        if width == 390 && theme == Theme::Light {
            for found in w.axe() {
                troubles.push(format!("{path} at 390 px: {found}"));
            }
        }
    }
    if theme == Theme::Light {
        // The narrowest telephone, which is also 400 % zoom of a window of 1280.
        w.narrow(320);
        if let Some(what) = w.overhang() {
            troubles.push(format!("{path} at 320 px: {what}"));
        }
        // 200 % zoom.
        w.size(640, 450, 2);
        if let Some(what) = w.overhang() {
            troubles.push(format!("{path} at 200 %: {what}"));
        }
    }
}

#[test]
fn every_page_in_light() {
    look(Theme::Light);
}

#[test]
fn every_page_in_dark() {
    look(Theme::Dark);
}

/// Two versions' figures stand in columns that go on from one component's table to the next.
#[test]
fn the_columns_of_a_comparison_stand_one_above_the_other() {
    browser(|house, w| {
        let demo = house.demo();
        w.visit(&demo);
        for width in [1280, 390] {
            w.narrow(width);
            w.go("/recipe/1/compare?a=1&b=draft");
            w.see("The figures");
            w.see("Version 1 to the draft");
            w.holds(
                "two tables with their columns in line",
                "((tables) => tables.length > 1 && [1, 2, 3].every((n) => new Set(tables.map((t) => \
                 Math.round(t.rows[0].cells[n].getBoundingClientRect().right))).size === 1))\
                 ([...document.querySelectorAll('table.compared')])",
            );
            assert_eq!(w.overhang(), None, "{width}");
        }
    });
}

/// Fields side by side stand in one line, also with a calendar or a long label among them, and 'Find' beside
/// its field.
#[test]
fn fields_of_a_row_stand_in_one_line() {
    browser(|house, w| {
        house.recipe(&example("sunday-pancakes.txt"));
        for (page, fields) in [
            (
                "/days",
                "[...document.querySelectorAll('.row input:not([type=checkbox], [type=hidden])')].filter((e) => e.offsetParent).slice(0, 4)",
            ),
            (
                "/shop",
                "[document.getElementById('words'), document.getElementById('words').closest('.row').querySelector('button')]",
            ),
            (
                "/blends/work-out",
                "[...document.querySelectorAll('.figures input')]",
            ),
            (
                "/kitchen",
                "['hands', 'ovens', 'oven_racks'].map((id) => document.getElementById(id))",
            ),
        ] {
            w.go(page);
            w.holds(
                page,
                &format!("(() => {{ const tops = {fields}.map((e) => Math.round(e.getBoundingClientRect().top)); return tops.length > 1 && Math.max(...tops) - Math.min(...tops) <= 1; }})()"),
            );
        }
    });
}
