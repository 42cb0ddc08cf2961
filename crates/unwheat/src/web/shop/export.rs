//! The list for other programs and for messages.

use super::list::{On, uses};
use crate::show::shop::{at_least, needed, own_words, to_buy};
use larder::Larder;
use recipe::shop::{List, ListLine, Section};

/// A cell of a table: quoted where it has to be; what a spreadsheet would take for a formula is
/// made words.
fn cell(text: &str) -> String {
    let text = if text.starts_with(['=', '+', '-', '@', '\t', '\r']) {
        format!("'{text}")
    } else {
        text.to_owned()
    };
    if text.contains(['"', ',', '\n', '\r', ';']) {
        format!("\"{}\"", text.replace('"', "\"\""))
    } else {
        text
    }
}

/// Grams to a tenth, without a unit; nothing where there are none.
fn grams(value: Option<f64>) -> String {
    value.map_or(String::new(), |v| ((v * 10.0).round() / 10.0).to_string())
}

/// Lines without weight, in their own words.
fn unweighed(x: &ListLine) -> String {
    let words: Vec<String> = x.unweighed.iter().map(own_words).collect();
    words.join("; ")
}

/// A table of the list (RFC 4180): lines end in CR LF, cells with commas are quoted.
pub fn csv(l: &List, titles: &[&str], larder: &Larder) -> String {
    let mut out = String::from(
        "section,food,needed_g,needed_high_g,as_bought_g,in_stock_g,to_buy_g,buy,pay,currency,label,for,remark\r\n",
    );
    let on = On {
        larder,
        titles,
        got: None,
        query: "",
        day: "",
    };
    for section in Section::ALL {
        for x in l.section(section) {
            let (pay, currency) = x.pay.amounts().next().map_or_else(
                || (String::new(), String::new()),
                |(c, a)| {
                    (
                        recipe::shop::money::figure(c, a.likely().get()),
                        c.to_owned(),
                    )
                },
            );
            let labels: Vec<&str> = x.reminders.iter().map(|r| r.0.words()).collect();
            let cells = [
                section.words().to_owned(),
                x.name.clone(),
                grams(x.needed.map(|g| g.likely().as_grams())),
                grams(x.needed.map(|g| g.high().as_grams())),
                grams(x.bought.map(|g| g.likely().as_grams())),
                grams(x.stock.as_ref().map(|s| s.grams)),
                grams(x.needed.map(|_| x.to_buy.as_grams())),
                to_buy(x, larder),
                pay,
                currency,
                labels.join("; "),
                uses(x, &on),
                unweighed(x),
            ];
            let row: Vec<String> = cells.iter().map(|c| cell(c)).collect();
            out.push_str(&row.join(","));
            out.push_str("\r\n");
        }
    }
    out
}

/// The list as words to send: a line for each thing to buy.
pub fn plain(l: &List, titles: &[&str], larder: &Larder) -> String {
    let mut out = format!("For {}\n", titles.join("; "));
    let has_to = |x: &&ListLine| x.needed.is_none() || x.to_buy.as_grams() > 0.0;
    for section in Section::ALL {
        let lines: Vec<&ListLine> = l.section(section).filter(has_to).collect();
        if lines.is_empty() {
            continue;
        }
        out.push_str(&format!("\n{}\n", section.words()));
        for x in lines {
            let labels: Vec<&str> = x.reminders.iter().map(|r| r.0.words()).collect();
            let labels = if labels.is_empty() {
                String::new()
            } else {
                format!(" – {}", labels.join("; "))
            };
            let needed = match (x.needed, x.unweighed.is_empty()) {
                (_, true) => needed(x, larder),
                (None, false) => unweighed(x),
                (Some(_), false) => format!("{} and {}", needed(x, larder), unweighed(x)),
            };
            out.push_str(&format!(
                "☐ {}: {} (needed {needed}){labels}\n",
                x.name,
                to_buy(x, larder)
            ));
        }
    }
    out.push_str(&format!("\nTo pay: {}\n", at_least(&l.pay, l.is_floor())));
    if l.is_floor() {
        out.push_str(&format!(
            "Without a price or a weight: {}\n",
            l.unpriced.join("; ")
        ));
    }
    out
}

/// A file of the demo kitchen says so: it is kept alone.
pub fn of_the_demo(text: &str, kind: &str) -> String {
    const SAID: &str = "Demo kitchen: prices and stock are invented";
    if kind.starts_with("text/csv") {
        format!("{text}{SAID}\r\n")
    } else {
        format!("{SAID}.\n{text}")
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn cells_are_quoted_and_never_formulas() {
        assert_eq!(cell("plain"), "plain");
        assert_eq!(cell("a, b"), "\"a, b\"");
        assert_eq!(cell("say \"so\""), "\"say \"\"so\"\"\"");
        assert_eq!(cell("=1+1"), "'=1+1");
        assert_eq!(cell("@SUM(A1),x"), "\"'@SUM(A1),x\"");
    }
}
