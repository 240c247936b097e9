//! Lists without repeats.

/// Each of the items once, in the order in which they come first.
pub fn each_once<T: PartialEq>(items: impl IntoIterator<Item = T>) -> Vec<T> {
    let mut once = vec![];
    for item in items {
        if !once.contains(&item) {
            once.push(item);
        }
    }
    once
}
