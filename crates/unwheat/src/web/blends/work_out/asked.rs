//! What stands in the form, and the question it asks.

use super::super::{BATCH, BATCHES};
use crate::web::app::Pantry;
use crate::web::larder_page::typed::Typed;
use larder::{FoodId, Function, Gluten, Larder, Price};
use recipe::formulate::{Ask, FormulateError, Limit, Wanted, WantedError, is_fibre, usual};
use recipe::rework::blend::Blend;
use recipe::rework::style::Style;
use recipe::{Holds, LeftOut};
use std::collections::BTreeSet;

/// Flours at most that a blend can have.
pub const MOST: usize = 8;
/// Flours at most where nothing is chosen.
pub const USUAL: usize = 4;
/// Figures of the form that belong to no flour, with what each is called and its range.
pub const FIGURES: [(&str, &str, f64, f64); 6] = [
    ("batch", "the batch", *BATCHES.start(), *BATCHES.end()),
    ("starch_least", "the least starch", 0.0, 100.0),
    ("starch_most", "the most starch", 0.0, 100.0),
    ("strong", "flours of strong flavour together", 0.0, 100.0),
    ("cost", "the cost of a kilogram", 0.01, 1e6),
    ("within", "the distance", 0.01, 100.0),
];
/// Figures of a flour, with what each is called and its greatest.
pub const OF_FLOUR: [(&str, &str, f64); 4] = [
    ("least", "the least percent", 100.0),
    ("most", "the greatest percent", 100.0),
    ("stock", "the grams there are", 1e6),
    ("price", "the price of a kilogram", 1e6),
];

/// A flour to choose from.
pub struct Row {
    /// The food.
    pub food: FoodId,
    /// It may be used.
    pub used: bool,
    /// Neither among the usual ones nor in the blend that is rebuilt at first.
    pub added: bool,
    /// Its usual share, percent.
    pub share: (f64, f64),
}

/// What is asked.
pub struct Asked {
    /// The fields, with what is wrong with them.
    pub t: Typed,
    /// The style that is aimed at.
    pub style: Option<Style>,
    /// The key of the blend or flour that is aimed at.
    pub like: String,
    /// What is left out.
    pub left_out: BTreeSet<LeftOut>,
    /// The flours to choose from.
    pub rows: Vec<Row>,
    /// The flour that is asked about.
    pub why: Option<FoodId>,
}

/// What can be left out of a blend: what any flour or starch of the larder may hold.
pub fn can_be_left_out(larder: &Larder) -> Vec<LeftOut> {
    let flours: Vec<FoodId> = larder
        .ids()
        .filter(|f| larder.food(*f).is_flour_phase())
        .collect();
    let held = |l: &LeftOut| flours.iter().any(|f| l.in_food(*f, larder) != Holds::No);
    LeftOut::ALL.into_iter().filter(held).collect()
}

/// What a kilogram of a flour costs by its pack, where that is in the kitchen's currency.
pub fn pack_price<'a>(
    larder: &'a Larder,
    food: FoodId,
    currency: &str,
) -> Option<(f64, &'a Price)> {
    let p = larder.price(food)?;
    (p.pack_grams > 0.0 && p.currency == currency).then(|| (1000.0 * p.amount / p.pack_grams, p))
}

impl Asked {
    /// What a query says.
    pub fn read(query: &str, pantry: &Pantry) -> Self {
        let larder = &pantry.larder;
        let pairs: Vec<(String, String)> = form_urlencoded::parse(query.as_bytes())
            .map(|(k, v)| (k.into_owned(), v.trim().to_owned()))
            .collect();
        let one = |name: &str| {
            let last = pairs.iter().rev().find(|p| p.0 == name);
            last.map_or("", |p| p.1.as_str())
        };
        let all = |name: &'static str| pairs.iter().filter(move |p| p.0 == name).map(|p| &*p.1);
        let again = !one("asked").is_empty();
        let mut t = Typed::default();
        let aim = one("aim");
        let style = aim.strip_prefix("style.").unwrap_or_else(|| one("style"));
        let like = aim.strip_prefix("like.").unwrap_or_else(|| one("like"));
        let style_known = Style::named(style);
        if !style.is_empty() && style_known.is_none() {
            t.wrong(
                "aim",
                format!("no style is called '{style}': choose one of the list"),
            );
        }
        let left_out = all("without").filter_map(LeftOut::from_word).collect();
        let flours = one("flours").parse().unwrap_or(USUAL).clamp(1, MOST);
        t.put("flours", flours.to_string());
        for (name, ..) in FIGURES {
            t.put(name, one(name));
        }
        if !again && one("batch").is_empty() {
            t.put("batch", format!("{BATCH:.0}"));
        }
        let mut out = Self {
            t,
            style: style_known,
            like: if style_known.is_some() {
                String::new()
            } else {
                like.to_owned()
            },
            left_out,
            rows: Vec::new(),
            why: larder.by_key(one("why")),
        };
        out.rows(
            pantry,
            &Ticks {
                again,
                used: all("use").collect(),
                shown: all("row").collect(),
                not: all("not").collect(),
                more: one("also"),
            },
        );
        for row in &out.rows {
            let key = &larder.food(row.food).key;
            for (name, ..) in OF_FLOUR {
                let name = format!("{name}.{key}");
                let typed = one(&name).to_owned();
                out.t.put(&name, typed);
            }
        }
        out
    }

    /// The blend that is aimed at.
    pub fn rebuilt<'a>(&self, blends: &'a [Blend]) -> Option<&'a Blend> {
        blends.iter().find(|b| b.key == self.like)
    }

    fn rows(&mut self, pantry: &Pantry, ticks: &Ticks<'_>) {
        let larder = &pantry.larder;
        let mut foods: Vec<(FoodId, bool)> =
            usual(larder).iter().map(|c| (c.food, false)).collect();
        let blends = pantry.blends();
        let parts = self.rebuilt(&blends).map(|b| b.parts.clone());
        let shown = ticks.shown.iter().filter_map(|k| larder.by_key(k));
        // What the larder names here is a flour, a starch or a fibre.
        let fits = |f: &FoodId| {
            (larder.food(*f).is_flour_phase() || is_fibre(*f, larder))
                && larder.food(*f).gluten != Gluten::Contains
        };
        let more: Vec<FoodId> = parts
            .iter()
            .flatten()
            .map(|p| p.0)
            .chain(shown)
            .filter(fits)
            .collect();
        for food in more {
            if !foods.iter().any(|x| x.0 == food) {
                foods.push((food, true));
            }
        }
        if !ticks.more.is_empty() {
            match Wanted::flour(larder, ticks.more) {
                Ok(food) if fits(&food) => {
                    if !foods.iter().any(|x| x.0 == food) {
                        foods.push((food, true));
                    }
                }
                Ok(food) => {
                    self.t.put("also", ticks.more);
                    let name = &larder.food(food).name;
                    self.t.wrong(
                        "also",
                        format!("{name} contains gluten: name a flour or starch without it"),
                    );
                }
                Err(e) => {
                    self.t.put("also", ticks.more);
                    self.t.wrong("also", e.words);
                }
            }
        }
        let not: Vec<FoodId> = ticks
            .not
            .iter()
            .filter_map(|w| Wanted::flour(larder, w).ok())
            .collect();
        let named = |list: &[&str], food: FoodId| list.contains(&larder.food(food).key.as_str());
        self.rows = foods
            .into_iter()
            .map(|(food, added)| {
                // A row that was not there when the form was sent could not be ticked.
                let was_there = !added || named(&ticks.shown, food);
                let used = named(&ticks.used, food) || !(ticks.again && was_there);
                Row {
                    food,
                    used: used && !not.contains(&food),
                    added,
                    share: larder.absorption(food).map_or((0.0, 100.0), |a| a.share),
                }
            })
            .collect();
        let place = |r: &Row| {
            let starch = larder.food(r.food).function() == Function::Starch;
            (is_fibre(r.food, larder), starch)
        };
        self.rows.sort_by_key(place);
    }

    /// Whether there is anything to work out.
    pub fn has_aim(&self) -> bool {
        self.style.is_some() || !self.like.is_empty()
    }

    /// The question; what is wrong with the fields is noted beside them.
    pub fn ask(&mut self, pantry: &Pantry, blends: &[Blend], currency: &str) -> Option<Ask> {
        let larder = &pantry.larder;
        let mut figures = [None; FIGURES.len()];
        for (out, (name, what, least, most)) in figures.iter_mut().zip(FIGURES) {
            *out = self.t.figure(name, what);
            if out.is_some_and(|v| !(least..=most).contains(&v)) {
                self.t
                    .wrong(name, format!("{what} is from {least} to {most}"));
            }
        }
        let [batch, least, most, strong, cost, within] = figures;
        let mut wanted = Wanted {
            style: self.style.map_or(String::new(), |s| s.key().to_owned()),
            like: self.like.clone(),
            flours: Some(self.t.get("flours").parse().unwrap_or(USUAL).clamp(1, MOST)),
            left_out: self.left_out.iter().map(|l| l.word().to_owned()).collect(),
            batch,
            strong,
            cost_at_most: cost,
            cheapest_within: within,
            ..Wanted::default()
        };
        for row in &self.rows {
            let food = larder.food(row.food);
            if row.used {
                wanted.only.push(food.key.clone());
            }
            for (name, what, greatest) in OF_FLOUR {
                let field = format!("{name}.{}", food.key);
                let what = format!("{what} of {}", food.name);
                let Some(value) = self.t.figure(&field, &what) else {
                    continue;
                };
                if !(0.0..=greatest).contains(&value) {
                    self.t
                        .wrong(&field, format!("{what} is from 0 to {greatest}"));
                    continue;
                }
                if name == "least" && !row.used {
                    self.t.wrong(
                        &field,
                        format!(
                            "{} is to be used and is not ticked: tick it, or empty this",
                            food.name
                        ),
                    );
                    continue;
                }
                if name == "stock" && batch.is_none() {
                    self.t.wrong(
                        "batch",
                        "grams of a flour are given: write how much is to be mixed too",
                    );
                }
                let list = match name {
                    "least" => &mut wanted.least,
                    "most" => &mut wanted.most,
                    "stock" => &mut wanted.stock,
                    _ => &mut wanted.price,
                };
                list.push((food.key.clone(), value));
            }
        }
        if wanted.only.is_empty() {
            self.t.wrong(
                "use",
                "no flour is ticked: tick at least one to choose from",
            );
        }
        if self.t.is_wrong() || !self.has_aim() {
            return None;
        }
        match wanted.ask(larder, blends) {
            Ok(mut ask) => {
                if least.is_some() || most.is_some() {
                    let usual = ask.starch;
                    ask.starch = (least.unwrap_or(usual.0), most.unwrap_or(usual.1));
                }
                for c in &mut ask.candidates {
                    let key = &larder.food(c.food).key;
                    if !wanted.price.iter().any(|p| p.0 == *key) {
                        c.price_per_kg = pack_price(larder, c.food, currency).map(|p| p.0);
                    }
                }
                Some(ask)
            }
            Err(e) => {
                self.t.wrong(of_word(&e), e.words);
                None
            }
        }
    }

    /// What a field is called, for a way to it.
    pub fn called(&self, field: &str, larder: &Larder) -> String {
        if let Some((kind, key)) = field.split_once('.') {
            let name = larder.by_key(key).map_or(key, |f| &larder.food(f).name);
            let kind = match kind {
                "least" => "at least",
                "most" => "at most",
                "stock" => "there are",
                _ => "price",
            };
            return format!("{name}, {kind}");
        }
        match field {
            "aim" => "come near to".to_owned(),
            "flours" => "flours and starches at most".to_owned(),
            "use" => "flours to choose from".to_owned(),
            "also" => "another flour".to_owned(),
            _ => FIGURES
                .iter()
                .find(|f| f.0 == field)
                .map_or(field, |f| f.1)
                .to_owned(),
        }
    }

    /// Notes a clash beside the fields it names.
    pub fn clash(&mut self, e: &FormulateError, larder: &Larder) {
        let words = e.to_string();
        let named = |name: &str, kind: &str| {
            let row = self.rows.iter().find(|r| larder.food(r.food).name == name);
            row.map(|r| format!("{kind}.{}", larder.food(r.food).key))
        };
        let mut fields: Vec<String> = match e {
            FormulateError::Clash { on, most, .. } => {
                let flours = most.map(|_| "flours".to_owned());
                let fields = on.iter().map(|l| field_of(l, larder));
                flours.into_iter().chain(fields).collect()
            }
            FormulateError::Must(name, _) => named(name, "least").into_iter().collect(),
            FormulateError::Nothing(_) if self.t.some("within").is_some() => {
                vec!["within".to_owned()]
            }
            FormulateError::Nothing(_) if self.t.some("cost").is_some() => vec!["cost".to_owned()],
            FormulateError::Nothing(_) => vec!["use".to_owned()],
            FormulateError::Unknown(..) | FormulateError::EmptyAim => vec!["aim".to_owned()],
            FormulateError::Figure(..) | FormulateError::Arithmetic(_) => Vec::new(),
        };
        if fields.is_empty() {
            fields.push("use".to_owned());
        }
        for field in fields {
            self.t.wrong(&field, words.clone());
        }
    }
}

/// The boxes of the rows, as sent.
struct Ticks<'a> {
    /// The form was sent, so that a box without a tick was left without.
    again: bool,
    used: Vec<&'a str>,
    shown: Vec<&'a str>,
    not: Vec<&'a str>,
    more: &'a str,
}

fn of_word(e: &WantedError) -> &'static str {
    match e.field {
        "style" | "like" => "aim",
        _ => "use",
    }
}

/// The field that a limit stands in.
fn field_of(limit: &Limit, larder: &Larder) -> String {
    let of = |kind: &str, food: FoodId| format!("{kind}.{}", larder.food(food).key);
    match limit {
        Limit::Least(f, _) => of("least", *f),
        Limit::Most(f, _) => of("most", *f),
        Limit::Stock(f, ..) => of("stock", *f),
        Limit::StarchMost(_) => "starch_most".to_owned(),
        Limit::StarchLeast(_) => "starch_least".to_owned(),
        Limit::Strong(_) => "strong".to_owned(),
        Limit::Cost(_) => "cost".to_owned(),
        Limit::Within(_) => "within".to_owned(),
    }
}
