//! Words that must not be printed, whoever wrote them.

const LEFT_OUT: &str = "[claim left out]";

/// The text without the claim that it is safe for coeliacs, in any of its spellings.
///
/// A page's sentence with such a claim comes from the source's title or names, never from us.
pub(crate) fn hushed(text: &str) -> String {
    let lower = text.to_ascii_lowercase();
    let mut out = String::with_capacity(text.len());
    let mut from = 0;
    let mut at = 0;
    while at < lower.len() {
        let starts = lower.is_char_boundary(at)
            && !lower[..at]
                .chars()
                .next_back()
                .is_some_and(char::is_alphanumeric);
        match starts.then(|| claim(&lower[at..])).flatten() {
            Some(length) => {
                out.push_str(&text[from..at]);
                out.push_str(LEFT_OUT);
                at += length;
                from = at;
            }
            None => at += 1,
        }
    }
    out.push_str(&text[from..]);
    out
}

/// The length of a claim that begins here.
fn claim(s: &str) -> Option<usize> {
    const SAFE: &[&str] = &["safe"];
    const WHO: &[&str] = &[
        "coeliacs", "coeliac", "celiacs", "celiac", "cœliacs", "cœliac",
    ];
    let forms: [&[&[&str]]; 3] = [
        &[SAFE, &["for", "to"], WHO],
        &[
            SAFE,
            &["for", "to"],
            &["people", "anyone", "all", "everyone", "those"],
            &["with"],
            WHO,
        ],
        &[WHO, SAFE],
    ];
    forms.iter().find_map(|form| {
        let mut at = 0;
        for (i, words) in form.iter().enumerate() {
            if i > 0 {
                let gap = s[at..].len() - s[at..].trim_start_matches(between).len();
                if gap == 0 {
                    return None;
                }
                at += gap;
            }
            at += words.iter().find(|w| s[at..].starts_with(**w))?.len();
        }
        let ends = !s[at..].starts_with(char::is_alphanumeric);
        ends.then_some(at)
    })
}

fn between(c: char) -> bool {
    c.is_whitespace() || matches!(c, '-' | '\u{2010}'..='\u{2013}' | ',')
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_claim_goes_and_the_rest_stays() {
        assert_eq!(
            hushed("Rolls, Safe  for\ncoeliacs!"),
            "Rolls, [claim left out]!"
        );
        assert_eq!(hushed("coeliac-safe rolls"), "[claim left out] rolls");
        assert_eq!(
            hushed("safe for people with celiac disease"),
            "[claim left out] disease"
        );
        for kept in [
            "safety for coeliac disease depends",
            "unsafe fork",
            "½ é safe",
            "",
        ] {
            assert_eq!(hushed(kept), kept);
        }
    }
}
