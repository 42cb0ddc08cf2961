//! The shopping list and what recipes cost, as text.

use super::Style;
use super::table::{Side, WIDTH, paragraph, table, wrap};
use larder::{FoodId, Function, Larder, Price};
use quantity::{Mass, Spread, listed};
use recipe::household::{is_fine, percent, scale_grams, weight};
use recipe::shop::{
    Choice, Conversion, Cost, List, ListLine, Made, Money, NOT_COUNTED, Offer, Order, Reminder,
    Section, Unweighed, conversion, made, money, old_stock,
};
use recipe::size::times;

use Side::{Left, Right};

/// What is shown.
pub struct Shown<'a> {
    /// The recipes with their times.
    pub orders: &'a [Order<'a>],
    /// Their list.
    pub list: &'a List,
    /// The larder with prices.
    pub larder: &'a Larder,
    /// The day prices are judged old by.
    pub day: &'a str,
    /// Why rows of tables are passed over.
    pub passed_over: &'a [String],
}

/// `unwheat shop`.
pub fn shop(shown: &Shown<'_>, style: &Style) -> String {
    let mut out = list(shown, style);
    let stock = stock_words(shown.list, shown.day);
    for words in shown.passed_over.iter().chain(&stock) {
        out.push_str(&paragraph("• ", words));
    }
    for order in shown.orders {
        out.push('\n');
        out.push_str(&cost(order, shown, style));
    }
    out
}

/// What of the stock is looked at before it is used.
pub fn stock_words(list: &List, day: &str) -> Vec<String> {
    let say = |(name, date, days): (String, String, i64)| {
        if days < 0 {
            format!("{name} in stock: {date} is still to come. Count it anew.")
        } else {
            format!(
                "{name} in stock was counted {days} days ago ({date}): look, smell and read its date before you use it, or buy it new."
            )
        }
    };
    old_stock(list, day).into_iter().map(say).collect()
}

/// What stands below the list: blends, what is not bought, several currencies.
pub fn beside(l: &List) -> Vec<String> {
    let mut out = Vec::new();
    for b in &l.blends {
        let there = weight(b.from_stock, false);
        let mixed = b.stock.as_ref().filter(|_| b.from_stock.as_grams() > 0.0);
        let mixed = mixed.map_or(String::new(), |s| format!(", mixed by {}", s.date));
        out.push(if b.to_mix.as_grams() < 0.05 {
            format!("The {} is there: {there} of it{mixed}.", b.name)
        } else {
            let stock = if mixed.is_empty() {
                String::new()
            } else {
                format!("; {there} are there{mixed}")
            };
            format!(
                "Mix {} of the {}{stock}. Its flours stand on the list.",
                weight(b.to_mix, false),
                b.name
            )
        });
    }
    if let Some(water) = l.water {
        out.push(format!(
            "Not bought: {} water.",
            weight(water.likely(), false)
        ));
    }
    let mut made: Vec<&str> = l.made_here.iter().map(|m| m.1.as_str()).collect();
    made.sort_unstable();
    made.dedup();
    if !made.is_empty() {
        out.push(format!("Made here, not bought: {}.", made.join(", ")));
    }
    if l.pay.is_mixed() {
        out.push("Prices stand in several currencies: they are not added.".to_owned());
    }
    out
}

/// What a recipe costs, in sentences: the sums, by which packs, which of a choice. What is missing
/// in them is [`missing`].
pub fn cost_words(c: &Conversion, m: &Made, larder: &Larder) -> Vec<String> {
    let mut out = sums(c, m);
    out.extend(by_which_pack(&c.reworked, larder));
    out.extend(c.reworked.choices.iter().map(|x| choice(x, larder)));
    out
}

/// Which of a choice is counted, and what the other would cost.
fn choice(c: &Choice, larder: &Larder) -> String {
    let one = |o: &Offer| {
        let cost = match (larder.food(o.food).function(), o.money.is_empty()) {
            (Function::Water, _) => "from the tap".to_owned(),
            (_, true) if o.grams.is_none() => "no weight, no cost".to_owned(),
            (_, true) => "no price".to_owned(),
            _ => o.money.words(),
        };
        format!("{}, {cost}", grams_of(&o.name, o.food, o.grams, larder))
    };
    let other: Vec<String> = c.instead.iter().map(one).collect();
    format!(
        "'{}': counted is {}. In its place: {}.",
        c.words,
        one(&c.counted),
        other.join("; with ")
    )
}

/// A food with its grams, where they are known: 'unsalted butter 30 g'.
fn grams_of(name: &str, food: FoodId, grams: Option<Spread<Mass>>, larder: &Larder) -> String {
    match grams {
        Some(g) => format!("{name} {}", weight(g.likely(), is_fine(larder, food))),
        None => name.to_owned(),
    }
}

/// How money comes about where that is not plain: several packs, parts of a whole, what has no
/// price.
fn by_which_pack(c: &Cost, larder: &Larder) -> Vec<String> {
    let mut out = Vec::new();
    let packs: Vec<String> = c
        .lines
        .iter()
        .filter(|l| l.food.is_some_and(|f| larder.packs(f).count() > 1))
        .filter_map(|l| {
            let p = l.price.as_ref()?;
            Some(format!(
                "{} by {} at {}",
                l.name,
                pack(p),
                money::amount(&p.currency, p.amount)
            ))
        })
        .collect();
    if !packs.is_empty() {
        out.push(format!(
            "Of several packs the one noted first counts here: {}. The shopping list buys the cheapest that hold enough.",
            packs.join(", ")
        ));
    }
    let parts: Vec<&str> = c
        .lines
        .iter()
        .filter(|l| l.price.is_some() && l.food.is_some_and(|f| larder.price(f).is_none()))
        .map(|l| l.name.as_str())
        .collect();
    if !parts.is_empty() {
        out.push(format!(
            "Priced by what they are taken from: {}. Juice counts the fruit that is pressed for it, whose zest costs nothing more; of eggs and other zest only their own grams count.",
            parts.join(", ")
        ));
    }
    if c.is_floor() {
        out.push("Shares are of what has a price.".to_owned());
    }
    out
}

/// A pack in words: '12 eggs', else its grams; from a kilogram on, where they are whole tens, in kilograms.
pub fn pack(price: &Price) -> String {
    let grams = price.pack_grams;
    if price.pack.is_empty() && grams >= 1000.0 && grams % 10.0 == 0.0 {
        format!("{} kg", grams / 1000.0)
    } else if price.pack.is_empty() {
        weight(Mass::grams(grams), false)
    } else {
        price.pack.clone()
    }
}

/// What to buy of a line: packs, else grams, else its own words.
pub fn to_buy(line: &ListLine, larder: &Larder) -> String {
    if line.needed.is_none() {
        return "as you need".to_owned();
    }
    if line.to_buy.as_grams() <= 0.0 {
        return "nothing".to_owned();
    }
    if line.packs.is_empty() {
        let grams = weight(line.to_buy, fine(line, larder));
        return match pieces_to_buy(line) {
            // Eggs are bought by the egg, of whatever weight.
            Some(n) if is_for_parts(line) || line.key == "egg" => n.to_string(),
            Some(n) => format!("{n} ({grams})"),
            None => grams,
        };
    }
    let packs: Vec<String> = line
        .packs
        .iter()
        .map(|p| format!("{} × {}", p.count, bracketed(pack(&p.pack))))
        .collect();
    packs.join(" + ")
}

/// Whole ones still to buy, where the line counts them.
pub fn pieces_to_buy(line: &ListLine) -> Option<usize> {
    let all = line.pieces?;
    let likely = line.bought?.likely().as_grams();
    let share = line.to_buy.as_grams() / likely;
    Some(((all as f64) * share - 1e-6).ceil().max(1.0) as usize)
}

fn fine(line: &ListLine, larder: &Larder) -> bool {
    line.food.is_some_and(|f| is_fine(larder, f))
}

/// Whether fruit is bought for its juice or zest: what it weighs is not what is needed of it.
fn is_for_parts(line: &ListLine) -> bool {
    !line.parts.is_empty() && line.key != "egg"
}

/// What is needed of a line, in the bowl; how many that is.
pub fn needed(line: &ListLine, larder: &Larder) -> String {
    let Some(grams) = line.needed else {
        return "no weight".to_owned();
    };
    let words = weight(grams.likely(), fine(line, larder));
    match line.pieces {
        Some(n) if is_for_parts(line) => n.to_string(),
        Some(n) => format!("{words}, {n} of them"),
        None => words,
    }
}

/// The words of a line without weight, with how many times they are needed: '1 bunch mint' × 2.
pub fn own_words(u: &Unweighed) -> String {
    if (u.times - 1.0).abs() < 1e-9 {
        format!("'{}'", u.words)
    } else {
        format!("'{}' × {}", u.words, times(u.times))
    }
}

/// What is remarked below a line.
pub fn remarks(line: &ListLine, larder: &Larder) -> Vec<String> {
    let mut out: Vec<String> = Vec::new();
    if !line.parts.is_empty() {
        out.push(format!("for {}", line.parts.join(", ")));
    }
    if let (Some(trim), Some(bought)) = (&line.trim, line.bought)
        && !is_for_parts(line)
    {
        out.push(format!(
            "{} as bought, with {} % {} ({})",
            weight(bought.likely(), false),
            trim.percent,
            trim.lost,
            trim.source
        ));
    }
    for u in &line.unweighed {
        out.push(format!("{} has no weight", own_words(u)));
    }
    for other in line.uses.iter().filter_map(|u| u.instead.as_ref()) {
        let parts = other
            .parts
            .iter()
            .map(|(food, grams)| grams_of(&larder.food(*food).name, *food, *grams, larder));
        out.push(format!("or {}", parts.collect::<Vec<_>>().join(" with ")));
    }
    for aside in asides(line) {
        out.push(aside);
    }
    if line.may_run_short
        && !is_for_parts(line)
        && let Some(high) = line.bought.map(Spread::high)
    {
        out.push(format!(
            "up to {} may be needed",
            weight(high, fine(line, larder))
        ));
    }
    if let Some(stock) = &line.stock {
        let used = match (line.needed, stock.grams > 0.0) {
            (_, false) => String::new(),
            (None, true) => ", see whether it is enough".to_owned(),
            (Some(_), true) => format!(", {} used", weight(line.from_stock, fine(line, larder))),
        };
        out.push(format!(
            "in stock {} on {}{used}",
            if stock.grams > 0.0 {
                weight(Mass::grams(stock.grams), fine(line, larder))
            } else {
                "none".to_owned()
            },
            stock.date
        ));
    }
    if !line.packs_proven {
        out.push("other packs may be cheaper".to_owned());
    }
    out
}

/// 'some of it for dusting', 'optional'.
fn asides(line: &ListLine) -> Vec<String> {
    let mut out = Vec::new();
    if line.optional() {
        out.push("may be left out".to_owned());
    }
    let all = line.uses.iter().all(|u| u.aside.is_some());
    let mut seen: Vec<&str> = Vec::new();
    for aside in line.uses.iter().filter_map(|u| u.aside) {
        if !seen.contains(&aside) {
            seen.push(aside);
        }
    }
    if !seen.is_empty() {
        let some = if all { "" } else { "some of it " };
        out.push(format!("{some}{}", seen.join(" and ")));
    }
    out
}

/// Money as a floor where it is one.
pub fn at_least(money: &Money, floor: bool) -> String {
    match (money.is_empty(), floor) {
        (true, _) => "not known".to_owned(),
        (false, true) => format!("at least {}", money.words()),
        (false, false) => money.words(),
    }
}

fn list(shown: &Shown<'_>, style: &Style) -> String {
    let (l, larder) = (shown.list, shown.larder);
    let mut out = format!("{}\n", style.heading("Shopping list"));
    let recipes: Vec<String> = shown
        .orders
        .iter()
        .map(|o| format!("{} × {}", o.title, times(o.factor(0))))
        .collect();
    out.push_str(&paragraph("", &format!("For {}", recipes.join("; "))));
    for section in Section::ALL {
        let lines: Vec<&ListLine> = l.section(section).collect();
        if lines.is_empty() {
            continue;
        }
        out.push_str(&format!("\n{}\n", style.heading(section.words())));
        let rows: Vec<Vec<String>> = lines
            .iter()
            .map(|x| {
                vec![
                    format!("☐ {}", x.name),
                    needed(x, larder),
                    to_buy(x, larder),
                    if x.pay.is_empty() {
                        if x.no_price() {
                            "no price".to_owned()
                        } else {
                            String::new()
                        }
                    } else {
                        x.pay.likely_words()
                    },
                ]
            })
            .collect();
        out.push_str(&table(
            &["what", "needed", "buy", "pay"],
            &[Left, Right, Left, Right],
            &[26, 18, 20, 10],
            &rows,
        ));
        let labelled: Vec<&str> = lines
            .iter()
            .filter(|x| x.reminders.iter().any(|r| r.0 == Reminder::BuyLabelled))
            .map(|x| x.name.as_str())
            .collect();
        if !labelled.is_empty() {
            let words = format!("Buy labelled gluten-free: {}", labelled.join("; "));
            out.push_str(&paragraph("  ! ", &words));
        }
        for x in lines {
            let others = x.reminders.iter().filter(|r| r.0 != Reminder::BuyLabelled);
            for (reminder, reason) in others {
                out.push_str(&paragraph(
                    "  ! ",
                    &format!("{}: {} ({reason})", x.name, reminder.words()),
                ));
            }
            let remarks = remarks(x, larder);
            if !remarks.is_empty() {
                let words = format!("{}: {}", x.name, remarks.join("; "));
                out.push_str(&paragraph("  · ", &words));
            }
        }
    }
    out.push('\n');
    for words in beside(l) {
        out.push_str(&paragraph("", &words));
    }
    // Each of them says so in its row.
    let unpriced = match l.unpriced.len() {
        0 => String::new(),
        1 => " 1 food above has no price or no weight.".to_owned(),
        n => format!(" {n} foods above have no price or no weight."),
    };
    let pay = at_least(&l.pay, l.is_floor());
    out.push_str(&paragraph("", &format!("To pay: {pay}.{unpriced}")));
    out
}

/// A bar of a share, ten wide.
fn bar(share: f64) -> String {
    "■".repeat((share * 10.0).round() as usize)
}

fn cost(order: &Order<'_>, shown: &Shown<'_>, style: &Style) -> String {
    let c = conversion(order, shown.larder, shown.day);
    let m = made(order);
    let head = format!(
        "What it costs: {} × {}",
        order.title,
        times(order.factor(0))
    );
    let mut out: String = wrap(&head, WIDTH)
        .iter()
        .map(|l| style.heading(l) + "\n")
        .collect();
    if c.reworked.total.is_empty() {
        out.push_str(&paragraph(
            "",
            "No price is known of anything in it. Give some with --prices or --kitchen.",
        ));
        return out;
    }
    let rows: Vec<Vec<String>> = c
        .reworked
        .lines
        .iter()
        .filter(|l| !l.money.is_empty())
        .map(|l| {
            let share = l.share.unwrap_or(0.0);
            let old = if l.old.is_some() { " †" } else { "" };
            vec![
                format!("{}{old}", l.name),
                l.grams.map_or(String::new(), |g| {
                    weight(g.likely(), l.food.is_some_and(|f| is_fine(shown.larder, f)))
                }),
                l.money.words(),
                percent(100.0 * share),
                bar(share),
            ]
        })
        .collect();
    out.push_str(&table(
        &["ingredient", "used", "costs", "share", ""],
        &[Left, Right, Right, Right, Left],
        &[24, 10, 22, 6, 10],
        &rows,
    ));
    let said = cost_words(&c, &m, shown.larder);
    let missing = missing(&c.reworked).into_iter();
    let missing: Vec<String> = missing.map(|(n, why)| format!("{n} ({why})")).collect();
    let missing = (!missing.is_empty()).then(|| format!("Not in it: {}.", missing.join(", ")));
    // The sum of the batch comes first.
    for words in said
        .iter()
        .take(1)
        .chain(&missing)
        .chain(said.iter().skip(1))
    {
        out.push_str(&paragraph("", words));
    }
    let old = old_prices(&c.reworked);
    if !old.is_empty() {
        out.push_str(&paragraph("† ", &format!("Old price: {}.", old.join(", "))));
    }
    out.push_str(&paragraph("", NOT_COUNTED));
    out
}

/// A pack that is itself several: '(3 x 7 g)'.
fn bracketed(pack: String) -> String {
    if pack.contains(" x ") || pack.contains(" × ") {
        format!("({pack})")
    } else {
        pack
    }
}

/// Prices that are old, with their days.
pub fn old_prices(cost: &Cost) -> Vec<String> {
    let old = cost.lines.iter().filter(|l| l.old.is_some());
    old.filter_map(|l| Some(format!("{} of {}", l.name, l.price.as_ref()?.date)))
        .collect()
}

/// What heat did to it, and what it comes from.
fn cooked(m: &Made) -> (&'static str, &'static str) {
    if m.oven {
        ("baked", "out of the oven")
    } else {
        ("cooked", "off the heat")
    }
}

/// What is missing in a sum: each name once, with why.
pub fn missing(cost: &Cost) -> Vec<(&str, String)> {
    let mut all: Vec<(&str, Vec<&str>)> = Vec::new();
    for m in &cost.missing {
        match all.iter_mut().find(|(name, _)| *name == m.name) {
            Some((_, whys)) => whys.push(m.why.words()),
            None => all.push((&m.name, vec![m.why.words()])),
        }
    }
    let joined = |(name, whys): (_, Vec<&str>)| (name, whys.join(", "));
    all.into_iter().map(joined).collect()
}

/// The sums in sentences: the batch, a piece, 100 g, components, against the wheat original.
fn sums(c: &Conversion, m: &Made) -> Vec<String> {
    let cost = &c.reworked;
    let floor = cost.is_floor();
    let mut out = vec![format!("The batch: {}.", at_least(&cost.total, floor))];
    if cost.total.is_mixed() {
        out.push("There are prices in several currencies: they are not added.".to_owned());
    }
    let one = if m.servings { "A serving" } else { "A piece" };
    match (m.count, &m.words) {
        // The batch is the one piece.
        (Some(count), _) if count.high().get() <= 1.0 => {}
        (Some(count), Some(words)) => {
            // 'Serves 15 to 18', without the times that stand behind it.
            let words = words.split_once(". ").map_or(words.as_str(), |w| w.0);
            if let Some(each) = cost.per(count) {
                let n = figures(count.low().get(), count.high().get());
                let weighs = m.baked.map_or(String::new(), |b| {
                    let low = b.low().as_grams() / count.high().get();
                    let high = b.high().as_grams() / count.low().get();
                    format!(", {low:.0}–{high:.0} g {}", cooked(m).0)
                });
                out.push(format!(
                    "{one}, of {n} ('{words}'){weighs}: {}.",
                    at_least(&each, floor)
                ));
            }
        }
        (None, Some(words)) => out.push(format!(
            "'{words}' counts no pieces and no servings: no cost of one."
        )),
        (_, None) => {
            out.push("The recipe does not say how many it makes: no cost of a piece.".to_owned());
        }
    }
    let hundred = |g: Spread<Mass>| g.map::<quantity::Ratio>(|v| v / 100.0);
    let grams = |g: Spread<Mass>| {
        let (low, high) = (scale_grams(g.low(), false), scale_grams(g.high(), false));
        format!("{low}–{high} g")
    };
    if let Some(baked) = m.baked
        && let Some(each) = cost.per(hundred(baked))
    {
        let with = match listed(&m.on_it) {
            names if names.is_empty() => String::new(),
            names => format!(", with the {names} that goes on then"),
        };
        out.push(format!(
            "100 g {}: {} ({} {}{with}).",
            cooked(m).0,
            at_least(&each, floor),
            grams(baked),
            cooked(m).1
        ));
    } else if let Some(each) = cost.per(hundred(m.raw)) {
        out.push(format!("100 g: {}.", at_least(&each, floor)));
    }
    if cost.components.len() > 1 {
        let parts: Vec<String> = cost
            .components
            .iter()
            .filter(|p| !p.money.is_empty() || p.is_floor)
            .map(|p| {
                let name = if p.name.is_empty() {
                    "the recipe"
                } else {
                    &p.name
                };
                let sum = match (p.money.is_empty(), p.is_floor) {
                    (true, _) => "not known".to_owned(),
                    (_, true) => format!("at least {}", p.money.likely_words()),
                    _ => p.money.likely_words(),
                };
                format!("{name} {sum}")
            })
            .collect();
        out.push(format!("By component: {}.", parts.join(", ")));
    }
    for (name, g) in &m.left {
        out.push(format!(
            "Counted in, though {} of the {name} is left over.",
            weight(g.likely(), false)
        ));
    }
    out.push(against(c));
    out
}

/// A count as it is said: '24', '4–6', '2.5'.
fn figures(low: f64, high: f64) -> String {
    let one = |v: f64| {
        let text = format!("{v:.1}");
        text.trim_end_matches('0').trim_end_matches('.').to_owned()
    };
    if (low - high).abs() < 0.05 {
        one(low)
    } else {
        format!("{}–{}", one(low), one(high))
    }
}

/// Against the wheat original, in a sentence.
fn against(c: &Conversion) -> String {
    let wheat = at_least(&c.original.total, c.original.is_floor());
    match &c.more {
        None => format!(
            "The wheat original: {wheat}. The difference is not known: {}.",
            c.unknown.join("; ")
        ),
        Some(more) => {
            let percent = c.percent.map_or(String::new(), |p| {
                format!(", {}", recipe::household::percent(p.abs()))
            });
            let parts: Vec<String> = more
                .amounts()
                .map(|(currency, a)| {
                    let less = a.likely().get() < 0.0;
                    let a = if less { a.scaled(-1.0) } else { a };
                    let word = if less { "less" } else { "more" };
                    format!("{} {word}", money::spread(currency, a))
                })
                .collect();
            format!(
                "The wheat original: {wheat}; gluten-free costs {}{percent}.",
                parts.join(" and ")
            )
        }
    }
}

#[cfg(test)]
mod tests {
    use super::pack;
    use larder::Price;

    #[test]
    fn a_pack_of_kilograms_is_called_so() {
        let of = |pack_grams: f64, words: &str| {
            pack(&Price {
                pack_grams,
                amount: 1.0,
                currency: "GBP".into(),
                date: "2026-11-20".into(),
                pack: words.into(),
            })
        };
        for (grams, want) in [
            (10_000.0, "10 kg"),
            (1500.0, "1.5 kg"),
            (1000.0, "1 kg"),
            (454.0, "454 g"),
            (1361.0, "1361 g"),
        ] {
            assert_eq!(of(grams, ""), want);
        }
        assert_eq!(of(2268.0, "5 lb bag"), "5 lb bag");
    }
}
