//! `shop --json`.

use super::{Three, three, tidy};
use crate::show::shop::Shown;
use larder::{Larder, Price};
use recipe::shop::{
    Cost, CostLine, ListLine, Money, NOT_COUNTED, OLD_DAYS, Offer, Order, conversion, made,
    old_stock,
};
use serde::Serialize;
use std::collections::BTreeMap;

type MoneyOut = BTreeMap<String, Three>;

fn money(m: &Money) -> MoneyOut {
    m.amounts().map(|(c, a)| (c.to_owned(), three(a))).collect()
}

#[derive(Debug, Serialize)]
pub struct ShopOut {
    day: String,
    recipes: Vec<RecipeOut>,
    list: Vec<LineOut>,
    blends: Vec<BlendOut>,
    water_g: Option<Three>,
    made_here: Vec<String>,
    pay: MoneyOut,
    pay_is_floor: bool,
    unpriced: Vec<String>,
    passed_over: Vec<String>,
    old_stock: Vec<OldStockOut>,
    not_counted: &'static str,
}

#[derive(Debug, Serialize)]
pub struct OldStockOut {
    name: String,
    date: String,
    days: i64,
}

#[derive(Debug, Serialize)]
pub struct RecipeOut {
    title: String,
    times: f64,
    cost: CostOut,
    original: CostOut,
    more_than_original: Option<MoneyOut>,
    more_percent: Option<f64>,
    difference_unknown: Vec<String>,
    makes: Option<String>,
    pieces: Option<Three>,
    counts_servings: bool,
    each: Option<MoneyOut>,
    raw_g: Three,
    baked_g: Option<Three>,
    per_100_g: Option<MoneyOut>,
    left_over: Vec<LeftOut>,
}

#[derive(Debug, Serialize)]
pub struct LeftOut {
    component: String,
    grams: Three,
}

#[derive(Debug, Serialize)]
pub struct CostOut {
    total: MoneyOut,
    is_floor: bool,
    missing: Vec<MissingOut>,
    lines: Vec<CostLineOut>,
    components: Vec<ComponentOut>,
    choices: Vec<ChoiceOut>,
}

#[derive(Debug, Serialize)]
pub struct MissingOut {
    name: String,
    why: &'static str,
}

#[derive(Debug, Serialize)]
pub struct CostLineOut {
    key: Option<String>,
    name: String,
    grams: Option<Three>,
    money: MoneyOut,
    share: Option<f64>,
    price: Option<PackOut>,
    price_old_days: Option<i64>,
}

#[derive(Debug, Serialize)]
pub struct ComponentOut {
    name: String,
    money: MoneyOut,
    is_floor: bool,
}

#[derive(Debug, Serialize)]
pub struct PackOut {
    pack: String,
    pack_g: f64,
    amount: f64,
    currency: String,
    date: String,
}

#[derive(Debug, Serialize)]
pub struct BuyOut {
    count: usize,
    #[serde(flatten)]
    pack: PackOut,
}

#[derive(Debug, Serialize)]
pub struct ReminderOut {
    say: &'static str,
    reason: String,
}

#[derive(Debug, Serialize)]
pub struct UseOut {
    recipe: usize,
    component: String,
    grams: Option<Three>,
    text: String,
    aside: Option<&'static str>,
    optional: bool,
}

#[derive(Debug, Serialize)]
pub struct UnweighedOut {
    text: String,
    times: f64,
}

#[derive(Debug, Serialize)]
pub struct ChoiceOut {
    text: String,
    counted: OfferOut,
    instead: Vec<OfferOut>,
}

#[derive(Debug, Serialize)]
pub struct OfferOut {
    key: String,
    name: String,
    grams: Option<Three>,
    money: MoneyOut,
}

#[derive(Debug, Serialize)]
pub struct StockOut {
    grams: f64,
    date: String,
}

#[derive(Debug, Serialize)]
pub struct LineOut {
    key: Option<String>,
    name: String,
    section: &'static str,
    needed_g: Option<Three>,
    bought_g: Option<Three>,
    trim_percent: Option<f64>,
    trim_source: Option<String>,
    pieces: Option<usize>,
    stock: Option<StockOut>,
    from_stock_g: f64,
    to_buy_g: f64,
    packs: Vec<BuyOut>,
    packs_proven: bool,
    pay: MoneyOut,
    left_g: Option<f64>,
    may_run_short: bool,
    unweighed: Vec<UnweighedOut>,
    labels: Vec<ReminderOut>,
    parts: Vec<String>,
    uses: Vec<UseOut>,
}

#[derive(Debug, Serialize)]
pub struct BlendOut {
    key: String,
    name: String,
    needed_g: Three,
    stock: Option<StockOut>,
    from_stock_g: f64,
    to_mix_g: f64,
}

fn pack(p: &Price) -> PackOut {
    PackOut {
        pack: p.pack.clone(),
        pack_g: tidy(p.pack_grams),
        amount: p.amount,
        currency: p.currency.clone(),
        date: p.date.clone(),
    }
}

fn cost(c: &Cost, larder: &Larder) -> CostOut {
    let line = |l: &CostLine| CostLineOut {
        key: l.food.map(|f| larder.food(f).key.clone()),
        name: l.name.clone(),
        grams: l.grams.map(three),
        money: money(&l.money),
        share: l.share.map(tidy),
        price: l.price.as_ref().map(pack),
        price_old_days: l.old.filter(|d| *d > OLD_DAYS),
    };
    CostOut {
        total: money(&c.total),
        is_floor: c.is_floor(),
        missing: c
            .missing
            .iter()
            .map(|m| MissingOut {
                name: m.name.clone(),
                why: m.why.word(),
            })
            .collect(),
        lines: c.lines.iter().map(line).collect(),
        components: c
            .components
            .iter()
            .map(|p| ComponentOut {
                name: p.name.clone(),
                money: money(&p.money),
                is_floor: p.is_floor,
            })
            .collect(),
        choices: c
            .choices
            .iter()
            .map(|x| ChoiceOut {
                text: x.words.clone(),
                counted: offer(&x.counted, larder),
                instead: x.instead.iter().map(|o| offer(o, larder)).collect(),
            })
            .collect(),
    }
}

fn offer(o: &Offer, larder: &Larder) -> OfferOut {
    OfferOut {
        key: larder.food(o.food).key.clone(),
        name: o.name.clone(),
        grams: o.grams.map(three),
        money: money(&o.money),
    }
}

fn recipe(order: &Order<'_>, larder: &Larder, day: &str) -> RecipeOut {
    let c = conversion(order, larder, day);
    let m = made(order);
    let weight = m.baked.unwrap_or(m.raw);
    RecipeOut {
        title: order.title.to_owned(),
        times: tidy(order.factor(0)),
        each: m.count.and_then(|n| c.reworked.per(n)).map(|x| money(&x)),
        per_100_g: c.reworked.per(weight.map(|g| g / 100.0)).map(|x| money(&x)),
        cost: cost(&c.reworked, larder),
        original: cost(&c.original, larder),
        more_than_original: c.more.as_ref().map(money),
        more_percent: c.percent.map(tidy),
        difference_unknown: c.unknown,
        makes: m.words,
        pieces: m.count.map(three),
        counts_servings: m.servings,
        raw_g: three(m.raw),
        baked_g: m.baked.map(three),
        left_over: m
            .left
            .into_iter()
            .map(|(component, g)| LeftOut {
                component,
                grams: three(g),
            })
            .collect(),
    }
}

fn line(l: &ListLine, larder: &Larder) -> LineOut {
    LineOut {
        key: l.food.map(|f| larder.food(f).key.clone()),
        name: l.name.clone(),
        section: l.section.word(),
        needed_g: l.needed.map(three),
        bought_g: l.bought.map(three),
        trim_percent: l.trim.as_ref().map(|t| t.percent),
        trim_source: l.trim.as_ref().map(|t| t.source.to_string()),
        pieces: l.pieces,
        stock: l.stock.as_ref().map(|s| StockOut {
            grams: tidy(s.grams),
            date: s.date.clone(),
        }),
        from_stock_g: tidy(l.from_stock.as_grams()),
        to_buy_g: tidy(l.to_buy.as_grams()),
        packs: l
            .packs
            .iter()
            .map(|p| BuyOut {
                count: p.count,
                pack: pack(&p.pack),
            })
            .collect(),
        packs_proven: l.packs_proven,
        pay: money(&l.pay),
        left_g: l.left.map(|g| tidy(g.as_grams())),
        may_run_short: l.may_run_short,
        unweighed: l
            .unweighed
            .iter()
            .map(|u| UnweighedOut {
                text: u.words.clone(),
                times: tidy(u.times),
            })
            .collect(),
        labels: l
            .reminders
            .iter()
            .map(|(r, reason)| ReminderOut {
                say: r.word(),
                reason: reason.clone(),
            })
            .collect(),
        parts: l.parts.clone(),
        uses: l
            .uses
            .iter()
            .map(|u| UseOut {
                recipe: u.order,
                component: u.component.clone(),
                grams: u.grams.map(three),
                text: u.words.clone(),
                aside: u.aside,
                optional: u.optional,
            })
            .collect(),
    }
}

/// The list and the costs.
pub fn shop(shown: &Shown<'_>) -> ShopOut {
    let l = shown.list;
    ShopOut {
        day: shown.day.to_owned(),
        recipes: shown
            .orders
            .iter()
            .map(|o| recipe(o, shown.larder, shown.day))
            .collect(),
        list: l.lines.iter().map(|x| line(x, shown.larder)).collect(),
        blends: l
            .blends
            .iter()
            .map(|b| BlendOut {
                key: b.key.clone(),
                name: b.name.clone(),
                needed_g: three(b.needed),
                stock: b.stock.as_ref().map(|s| StockOut {
                    grams: tidy(s.grams),
                    date: s.date.clone(),
                }),
                from_stock_g: tidy(b.from_stock.as_grams()),
                to_mix_g: tidy(b.to_mix.as_grams()),
            })
            .collect(),
        water_g: l.water.map(three),
        made_here: l.made_here.iter().map(|m| m.1.clone()).collect(),
        pay: money(&l.pay),
        pay_is_floor: l.is_floor(),
        unpriced: l.unpriced.clone(),
        passed_over: shown.passed_over.to_vec(),
        old_stock: old_stock(l, shown.day)
            .into_iter()
            .map(|(name, date, days)| OldStockOut { name, date, days })
            .collect(),
        not_counted: NOT_COUNTED,
    }
}
