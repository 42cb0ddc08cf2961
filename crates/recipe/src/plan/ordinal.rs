//! Waits of one part that have one name, told apart: 'First rise', 'Second rise'.

use super::step::capital;
use super::task::Task;

/// Waits whose name is a noun as well.
const NOUNS: [&str; 4] = ["Rise", "Rest", "Chill", "Bake"];
const ORDINALS: [&str; 6] = ["first", "second", "third", "fourth", "fifth", "sixth"];

/// Names the waits that one part has more than once by their turn.
pub(super) fn told_apart(list: &mut [Task]) {
    for noun in NOUNS {
        let mut parts: Vec<usize> = list.iter().map(|t| t.component).collect();
        parts.sort_unstable();
        parts.dedup();
        for part in parts {
            let alike = |t: &&mut Task| {
                t.component == part
                    && t.name == noun
                    && t.wait.is_some()
                    && !t.key.starts_with("own:")
            };
            let all: Vec<&mut Task> = list.iter_mut().filter(alike).collect();
            if !(2..=ORDINALS.len()).contains(&all.len()) {
                continue;
            }
            for (task, nth) in all.into_iter().zip(ORDINALS) {
                task.name = capital(&format!("{nth} {}", noun.to_lowercase()));
            }
        }
    }
}
