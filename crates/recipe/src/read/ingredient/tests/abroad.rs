//! Names that are another food in another country.

use super::larder;
use crate::DoubtCode;
use crate::read::Reader;
use quantity::Locale;

/// Cornflour is cornstarch in Britain and Australia; in US words 'corn flour' is the flour (SR28 20016, 'Corn flour,
/// whole-grain'), and 'cornflour' may be either.
#[test]
fn cornflour_in_us_words_is_asked_about() {
    let asked = |text: &str, locale| {
        let l = Reader::new(larder(), locale).line(text);
        let doubt = l.doubts.into_iter();
        doubt
            .filter(|d| d.code == DoubtCode::NameByLocale)
            .map(|d| d.message)
            .next()
    };
    let asks = "is corn (maize) flour in US words and corn starch in British ones: say which";
    for text in [
        "1 cup cornflour",
        "2 tbsp Cornflour, sifted",
        "30 g cornflour",
    ] {
        assert_eq!(asked(text, Locale::Us).as_deref(), Some(asks), "{text}");
        assert_eq!(asked(text, Locale::Uk), None, "{text}");
    }
    assert_eq!(asked("1 cup corn flour", Locale::Us), None);
}
