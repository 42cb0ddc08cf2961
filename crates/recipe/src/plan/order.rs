//! Which task comes before which.

use super::task::Task;

/// Whether `to` comes after `from` already.
pub(super) fn reaches(list: &[Task], from: usize, to: usize) -> bool {
    let mut open = vec![to];
    let mut seen = vec![false; list.len()];
    while let Some(t) = open.pop() {
        if t == from {
            return true;
        }
        if !std::mem::replace(&mut seen[t], true) {
            open.extend(list[t].after.iter().copied());
        }
    }
    false
}

/// `first` before `then`, unless that closes a ring.
pub(super) fn order(list: &mut [Task], first: usize, then: usize) {
    if first != then && !list[then].after.contains(&first) && !reaches(list, then, first) {
        list[then].after.push(first);
    }
}
