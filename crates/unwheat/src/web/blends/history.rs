//! What a version of a blend changed, in words.

use larder::Larder;
use recipe::rework::blend::OwnBlend;
use recipe::rework::style::Style;

/// What differs between two versions of a blend, a sentence part each.
pub fn changes(larder: &Larder, before: Option<&OwnBlend>, after: &OwnBlend) -> Vec<String> {
    let Some(before) = before else {
        return vec!["first version".to_owned()];
    };
    let mut out = Vec::new();
    if before.name.trim() != after.name.trim() {
        out.push(format!(
            "name: {} → {}",
            before.name.trim(),
            after.name.trim()
        ));
    }
    for (a, b, what) in [
        (&before.parts, &after.parts, ""),
        (&before.binders, &after.binders, " (binder)"),
    ] {
        shares(&mut out, larder, a, b, what);
    }
    let cup = |g: Option<f64>| g.map_or("calculated".to_owned(), |g| format!("{g} g measured"));
    if before.cup_grams != after.cup_grams {
        out.push(format!(
            "US cup: {} → {}",
            cup(before.cup_grams),
            cup(after.cup_grams)
        ));
    }
    if before.styles != after.styles {
        out.push(format!("chosen for: {}", styles(&after.styles)));
    }
    if before.note.trim() != after.note.trim() {
        out.push("why it is made so: rewritten".to_owned());
    }
    out
}

fn shares(
    out: &mut Vec<String>,
    larder: &Larder,
    before: &[(String, f64)],
    after: &[(String, f64)],
    what: &str,
) {
    let sum = |of: &[(String, f64)], key: &str| {
        of.iter().filter(|p| p.0 == key).map(|p| p.1).sum::<f64>()
    };
    let mut keys: Vec<&str> = Vec::new();
    for (key, _) in after.iter().chain(before) {
        if !keys.contains(&key.as_str()) {
            keys.push(key);
        }
    }
    for key in keys {
        let (a, b) = (sum(before, key), sum(after, key));
        let name = larder
            .by_key(key)
            .map_or(key, |f| larder.food(f).name.as_str());
        if a == b {
            continue;
        } else if a == 0.0 {
            out.push(format!("{name}{what}: {b} %, new"));
        } else if b == 0.0 {
            out.push(format!("{name}{what}: {a} %, taken out"));
        } else {
            out.push(format!("{name}{what}: {a} % → {b} %"));
        }
    }
}

/// Styles by their keys, in words.
pub fn styles(keys: &[String]) -> String {
    let names: Vec<String> = keys
        .iter()
        .map(|k| Style::from_key(k).map_or_else(|| k.clone(), |s| s.name().to_owned()))
        .collect();
    if names.is_empty() {
        "no style of its own".to_owned()
    } else {
        names.join(", ")
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn differences_in_words() {
        let larder = Larder::built_in().expect("tables");
        let a = OwnBlend {
            key: "own_x".to_owned(),
            name: "x".to_owned(),
            parts: vec![
                ("white_rice_flour".to_owned(), 60.0),
                ("tapioca_starch".to_owned(), 40.0),
            ],
            binders: Vec::new(),
            cup_grams: None,
            styles: Vec::new(),
            note: String::new(),
        };
        let mut b = a.clone();
        b.parts = vec![
            ("white_rice_flour".to_owned(), 70.0),
            ("potato_starch".to_owned(), 30.0),
        ];
        b.binders = vec![("xanthan_gum".to_owned(), 0.5)];
        b.cup_grams = Some(131.0);
        b.styles = vec!["butter_cake".to_owned()];
        let style = Style::from_key("butter_cake").expect("a style").name();
        assert_eq!(
            changes(&larder, Some(&a), &b),
            [
                "white rice flour: 60 % → 70 %".to_owned(),
                "potato starch: 30 %, new".to_owned(),
                "tapioca starch: 40 %, taken out".to_owned(),
                "xanthan gum (binder): 0.5 %, new".to_owned(),
                "US cup: calculated → 131 g measured".to_owned(),
                format!("chosen for: {style}"),
            ]
        );
        assert!(changes(&larder, Some(&b), &b).is_empty());
        assert_eq!(changes(&larder, None, &b), ["first version"]);
    }
}
