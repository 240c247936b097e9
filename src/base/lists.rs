//! Lists without repeats, and groups.

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

/// Keys in the order in which they come first, each with the values of all pairs that have it.
pub fn grouped<K: PartialEq, V>(pairs: impl IntoIterator<Item = (K, V)>) -> Vec<(K, Vec<V>)> {
    let mut groups: Vec<(K, Vec<V>)> = vec![];
    for (key, value) in pairs {
        match groups.iter_mut().find(|(known, _)| *known == key) {
            Some((_, values)) => values.push(value),
            None => groups.push((key, vec![value])),
        }
    }
    groups
}
