//! Several things in one sentence.

/// Words as a sentence lists them: `milk, egg and almond`; empty where there are none.
///
/// # Example
/// ```
/// use quantity::listed;
/// assert_eq!(listed(&["milk", "egg", "almond"]), "milk, egg and almond");
/// assert_eq!(listed(&["milk", "egg"]), "milk and egg");
/// assert_eq!(listed::<&str>(&[]), "");
/// ```
#[must_use]
pub fn listed<S: AsRef<str>>(words: &[S]) -> String {
    match words {
        [] => String::new(),
        [one] => one.as_ref().to_owned(),
        [most @ .., last] => {
            let most: Vec<&str> = most.iter().map(AsRef::as_ref).collect();
            format!("{} and {}", most.join(", "), last.as_ref())
        }
    }
}
