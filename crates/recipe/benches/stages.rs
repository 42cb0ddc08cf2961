//! How long each stage takes: reading, weighing, the whole way of a recipe, the larder.
//!
//! `cargo bench -p recipe`. Aims on one core of an ordinary machine: 200,000 lines read a
//! second, a whole rework under 5 ms, the program's first output under 50 ms. The last is the
//! program's, not a library's: measure it on the release build with
//!
//! ```sh
//! cargo build --release
//! bash crates/recipe/benches/start-up.sh target/release/unwheat
//! ```
//!
//! Middle figures of 2026-11-25, on one of two cores: 314,000 lines read a second and 292,000
//! read and weighed; a whole rework of the buns 1.4 ms, with held figures 1.0 ms (aim 10 ms); the
//! work of their sheet 1.4 ms; the larder built in 3.9 ms; all columns of an SR28 row 1.2 µs;
//! `rework` from start to its last output 11 ms. Three blends for a style: 1.6 ms of a dozen flours
//! with at most four at once (aim 5 ms), 41 ms of thirty with five (aim 300 ms), on average over
//! the styles. 2026-11-29, a core shared with other work: 10,000 recipes of 27 lines sized in 44 ms,
//! 0.16 µs a line (aim: 1 µs-class). 2026-11-30, both cores busy: a line on the scale and measured back 0.75 µs, of it
//! the search 0.4 µs (aim: 1 µs-class).
//! 2026-11-29, both cores busy: a spiral by arc length 0.2 µs, a filled roll in a pan with
//! its four drawings 14 µs, cut-outs with three rounds of re-rolling 8 µs.
//! A plan (2026-11-29, both cores busy): 0.8 ms for the buns' 23 steps, 221 ms for three
//! recipes of 61 steps (aim 300 ms for 40).

use divan::counter::ItemsCount;
use divan::{Bencher, black_box};
use larder::Larder;
use quantity::Locale;
use recipe::read::Reader;
use recipe::rework::Options;
use recipe::rework::style::Style;
use recipe::shape::{Dough, Kind, ShapeAsk, spiral_by_arc};
use recipe::sheet::Sheet;
use recipe::shop::{Order, Shelf};
use recipe::{Line, weigh};
use std::str::FromStr;

const LINES: &str = include_str!("../../../cases/lines/known.tsv");
const BUNS: &str = include_str!("../../../examples/apricot-almond-buns.txt");

fn main() {
    divan::main();
}

fn larder() -> Larder {
    Larder::built_in().expect("the built-in tables")
}

/// The known lines with their locale.
fn lines() -> Vec<(&'static str, Locale)> {
    LINES
        .lines()
        .skip(1)
        .filter_map(|row| {
            let (text, rest) = row.split_once('\t')?;
            let locale = rest.split('\t').next()?;
            Some((text, Locale::from_str(locale).ok()?))
        })
        .collect()
}

/// A reader for each locale, as a caller of many lines keeps them.
fn readers(larder: &Larder) -> [Reader<'_>; 4] {
    Locale::ALL.map(|locale| Reader::new(larder, locale))
}

#[divan::bench]
fn lines_read(bencher: Bencher<'_, '_>) {
    let larder = larder();
    let (lines, readers) = (lines(), readers(&larder));
    bencher
        .counter(ItemsCount::new(lines.len()))
        .bench_local(|| {
            for (text, locale) in &lines {
                black_box(readers[locale.index()].line(black_box(text)));
            }
        });
}

#[divan::bench]
fn lines_read_and_weighed(bencher: Bencher<'_, '_>) {
    let larder = larder();
    let (lines, readers) = (lines(), readers(&larder));
    bencher
        .counter(ItemsCount::new(lines.len()))
        .bench_local(|| {
            for (text, locale) in &lines {
                let line = readers[locale.index()].line(black_box(text));
                black_box(weigh::line(&line, &larder, *locale));
            }
        });
}

#[divan::bench]
fn lines_weighed(bencher: Bencher<'_, '_>) {
    let larder = larder();
    let readers = readers(&larder);
    let read: Vec<(Line, Locale)> = lines()
        .into_iter()
        .map(|(text, locale)| (readers[locale.index()].line(text), locale))
        .collect();
    bencher
        .counter(ItemsCount::new(read.len()))
        .bench_local(|| {
            for (line, locale) in &read {
                black_box(weigh::line(black_box(line), &larder, *locale));
            }
        });
}

/// Read, weigh, screen, rework and screen again.
#[divan::bench]
fn rework_of_the_buns(bencher: Bencher<'_, '_>) {
    let larder = larder();
    bencher.bench_local(|| {
        let reader = Reader::new(&larder, Locale::Us);
        let recipe = recipe::read::recipe(black_box(BUNS), &reader).expect("a recipe");
        let formula = weigh::formula(recipe, &larder, Locale::Us).expect("a formula");
        black_box(recipe::screen::screen(&formula, &larder, None));
        let rework = recipe::rework::rework(formula, &larder, &Options::default());
        black_box(rework.screen(&larder));
        black_box(rework);
    });
}

/// A rework with a line of each kind held, and the hydration: each is also solved without it.
#[divan::bench]
fn rework_with_pins(bencher: Bencher<'_, '_>) {
    use recipe::rework::{Hold, PinnedLine};
    let larder = larder();
    let reader = Reader::new(&larder, Locale::Us);
    let recipe = recipe::read::recipe(BUNS, &reader).expect("a recipe");
    let formula = weigh::formula(recipe, &larder, Locale::Us).expect("a formula");
    let pin = |line: &str, words: &str| PinnedLine {
        component: "dough".to_owned(),
        line: line.to_owned(),
        hold: Hold::parse(words, line, &larder, Locale::Us).expect("a figure"),
    };
    let options = Options {
        pins: vec![
            pin("blend", "480"),
            pin("psyllium_powder", "4 %"),
            pin("egg", "2 eggs"),
            pin("xanthan_gum", "none"),
            pin("hydration", "85 %"),
        ],
        ..Options::default()
    };
    assert_eq!(options.check(), Ok(()));
    bencher.bench_local(|| {
        let rework = recipe::rework::rework(formula.clone(), &larder, black_box(&options));
        assert!(rework.idle_pins.is_empty() && rework.clashes().next().is_none());
        black_box(rework);
    });
}

/// All that follows from a sheet, as a page shows it after each change.
#[divan::bench]
fn work_of_the_buns(bencher: Bencher<'_, '_>) {
    let larder = larder();
    let sheet = Sheet::new(BUNS, Locale::Us);
    bencher.bench_local(|| recipe::sheet::work(black_box(&sheet), &[], &larder, &[]));
}

/// A day's plan, backwards from serving: one recipe, and three of 61 steps in all.
#[divan::bench(args = [1, 3], sample_count = 20)]
fn plan_of_recipes(bencher: Bencher<'_, '_>, recipes: usize) {
    let ask = day_of(recipes);
    bencher.bench_local(|| recipe::plan::plan(black_box(&ask)));
}

/// Why a day has no plan: it begins 6 hours before serving.
#[divan::bench(args = [1, 3], sample_count = 20)]
fn plan_that_cannot_be(bencher: Bencher<'_, '_>, recipes: usize) {
    let mut ask = day_of(recipes);
    ask.now = 1440 + 10 * 60;
    bencher.bench_local(|| recipe::plan::plan(black_box(&ask)));
}

fn day_of(recipes: usize) -> recipe::plan::Ask {
    use recipe::plan::{Ask, Job, Kitchen, nightly, tasks};
    let larder = larder();
    let all = [
        BUNS,
        include_str!("../../../examples/ginger-crumb-cheesecake.txt"),
        include_str!("../../../examples/leek-and-cheddar-tart.txt"),
    ];
    let jobs = all.iter().take(recipes).map(|text| {
        let sheet = Sheet::new(*text, Locale::Us);
        let worked = recipe::sheet::work(&sheet, &[], &larder, &[]).expect("a recipe");
        Job {
            tasks: tasks(&worked, &sheet, 1.0),
            serve: Some(1440 + 16 * 60),
        }
    });
    Ask {
        jobs: jobs.collect(),
        kitchen: Kitchen::default(),
        quiet: nightly(22 * 60, 7 * 60, 0, 8),
        now: 0,
        begun: Vec::new(),
    }
}

/// Blends for a style: the best of a dozen flours, at most four at once, and two different ones.
#[divan::bench]
fn blends_of_12_flours_4_at_once(bencher: Bencher<'_, '_>) {
    formulated(bencher, 12, 4);
}

#[divan::bench]
fn blends_of_30_flours_5_at_once(bencher: Bencher<'_, '_>) {
    formulated(bencher, 30, 5);
}

fn formulated(bencher: Bencher<'_, '_>, flours: usize, most: usize) {
    use recipe::formulate::{Aim, Ask, formulate, whole_larder};
    let larder = larder();
    let asks: Vec<Ask> = Style::all()
        .map(|style| {
            let mut ask = Ask::new(Aim::Style(style), &larder);
            if flours > ask.candidates.len() {
                ask.candidates = whole_larder(&larder);
            }
            ask.candidates.truncate(flours);
            ask.most = most;
            ask
        })
        .collect();
    assert!(asks.iter().all(|a| a.candidates.len() == flours));
    // One blend solve is one style's: the time shown is for all fifteen.
    bencher
        .counter(ItemsCount::new(asks.len()))
        .bench_local(|| {
            for ask in &asks {
                black_box(formulate(black_box(ask), &larder).ok());
            }
        });
}

/// Twenty recipes on one shopping list, every food in two packs.
#[divan::bench]
fn list_of_20_recipes(bencher: Bencher<'_, '_>) {
    let plain = larder();
    let pack = |pack_grams: f64, amount: f64| larder::Price {
        pack_grams,
        amount,
        currency: "GBP".to_owned(),
        date: "2026-11-20".to_owned(),
        pack: String::new(),
    };
    let own: Vec<larder::OwnEntry> = plain
        .ids()
        .map(|id| larder::OwnEntry {
            key: plain.food(id).key.clone(),
            price: Some(pack(500.0, 2.1)),
            packs: vec![pack(1500.0, 5.9)],
            ..larder::OwnEntry::default()
        })
        .collect();
    let larder = plain.with_own(&own).expect("good entries");
    let worked = recipe::sheet::work(&Sheet::new(BUNS, Locale::Us), &[], &larder, &[]);
    let w = worked.expect("the buns");
    let orders: Vec<Order<'_>> = (1..=20)
        .map(|n| Order::times("Buns", &w.rework, &w.rework_screening, f64::from(n) / 4.0))
        .collect();
    let shelf = Shelf::default();
    bencher.bench_local(|| recipe::shop::list(black_box(&orders), &larder, &shelf));
}

#[divan::bench]
fn read_of_the_buns(bencher: Bencher<'_, '_>) {
    let larder = larder();
    let reader = Reader::new(&larder, Locale::Us);
    bencher.bench_local(|| recipe::read::recipe(black_box(BUNS), &reader));
}

#[divan::bench]
fn reader_made(bencher: Bencher<'_, '_>) {
    let larder = larder();
    bencher.bench_local(|| {
        black_box(Reader::new(black_box(&larder), Locale::Us));
    });
}

#[divan::bench]
fn larder_built_in() -> Larder {
    larder()
}

/// All columns of one row of SR28.
#[divan::bench]
fn sr28_row(bencher: Bencher<'_, '_>) {
    bencher.bench_local(|| {
        let food = larder::sr28::food(black_box(1145)).expect("unsalted butter");
        larder::sr28::Nutrient::ALL
            .iter()
            .filter_map(|n| food.get(*n))
            .sum::<f64>()
    });
}

/// The rework of the buns, to size and to measure back.
fn reworked(larder: &Larder) -> recipe::rework::Rework {
    let sheet = Sheet::new(BUNS, Locale::Us);
    let worked = recipe::sheet::work(&sheet, &[], larder, &[]).expect("worked");
    worked.rework
}

/// 10,000 recipes sized, each at its own factor and with its eggs counted, by the screen that a
/// worked sheet has.
#[divan::bench]
fn recipes_sized(bencher: Bencher<'_, '_>) {
    let larder = larder();
    let rework = reworked(&larder);
    let screening = rework.screen(&larder);
    let lines: usize = rework.components.iter().map(|c| c.lines.len()).sum();
    bencher
        .counter(ItemsCount::new(10_000 * lines))
        .bench_local(|| {
            for i in 0..10_000_u32 {
                let ask = recipe::size::Ask::times(0.5 + f64::from(i) * 1e-4);
                let sized =
                    recipe::size::size_screened(black_box(&rework), &screening, &ask, &larder);
                black_box(sized).expect("sized");
            }
        });
}

/// Every line of a sized recipe on the scale and in cups and spoons.
#[divan::bench]
fn lines_measured_back(bencher: Bencher<'_, '_>) {
    let larder = larder();
    let rework = reworked(&larder);
    let ask = recipe::size::Ask::times(1.37);
    let batch = recipe::size::size(&rework, &ask, &larder).expect("sized");
    let drawer = recipe::household::Drawer::from(Locale::Us);
    let scale = recipe::household::Scale::default();
    let lines: usize = batch.components.iter().map(|c| c.lines.len()).sum();
    bencher.counter(ItemsCount::new(lines)).bench_local(|| {
        for (c, component) in batch.components.iter().enumerate() {
            for line in &component.lines {
                black_box(line.on(component, &scale, &larder));
                black_box(batch.household(&rework, c, line, &larder, drawer));
            }
        }
    });
}

/// A filled roll in a pan: the spiral both ways, slices, fit, and four drawings as data.
fn a_roll() -> (ShapeAsk, Dough) {
    let says = [
        ("dough", "1195 g"),
        ("length", "45 cm"),
        ("width", "35 cm"),
        ("filling", "250 g"),
        ("slices", "12"),
        ("pan", "33x23x5cm"),
    ];
    let ask = says
        .into_iter()
        .fold(ShapeAsk::new(Kind::Roll), |ask, (k, v)| ask.with(k, v));
    (ask, Dough::new(None, recipe::density::of_style(None).value))
}

#[divan::bench]
fn spiral_by_arc_length(bencher: Bencher<'_, '_>) {
    bencher.bench(|| spiral_by_arc(black_box(450.0), black_box(8.3), 0.0));
}

#[divan::bench]
fn roll_in_a_pan_with_drawings(bencher: Bencher<'_, '_>) {
    let (ask, dough) = a_roll();
    bencher.bench(|| black_box(&ask).shaped(black_box(&dough)));
}

#[divan::bench]
fn cut_outs_rolled_out_thrice(bencher: Bencher<'_, '_>) {
    let ask = [
        ("dough", "2 kg"),
        ("thick", "4 mm"),
        ("width", "60 cm"),
        ("cutter", "4 cm"),
        ("rounds", "3"),
    ]
    .into_iter()
    .fold(ShapeAsk::new(Kind::CutOuts), |ask, (k, v)| ask.with(k, v));
    let (_, dough) = a_roll();
    bencher.bench(|| black_box(&ask).shaped(black_box(&dough)));
}
