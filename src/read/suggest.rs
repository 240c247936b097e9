//! The nearest known name, for "did you mean".

/// The known name most like what was written, if one is like enough (Jaro-Winkler similarity,
/// from 0 to 1; below 0.8 two short names share little but their letters).
pub fn nearest<'a>(written: &str, known: impl IntoIterator<Item = &'a str>) -> Option<&'a str> {
    const LIKE_ENOUGH: f64 = 0.8;
    let written = written.to_lowercase().replace('_', "-");
    known
        .into_iter()
        .map(|name| (strsim::jaro_winkler(&written, name), name))
        .filter(|(likeness, _)| *likeness >= LIKE_ENOUGH)
        .max_by(|a, b| a.0.total_cmp(&b.0))
        .map(|(_, name)| name)
}

/// Advice in place of a name that is not known: the nearest known one, else what is said of all of them.
pub fn instead<'a>(
    written: &str,
    known: impl IntoIterator<Item = &'a str>,
    otherwise: impl FnOnce() -> String,
) -> String {
    nearest(written, known).map_or_else(otherwise, |near| format!("did you mean `{near}`?"))
}

/// Names in backquotes, with commas between.
pub fn in_backquotes<'a>(names: impl IntoIterator<Item = &'a str>) -> String {
    names.into_iter().map(|name| format!("`{name}`")).collect::<Vec<_>>().join(", ")
}

#[cfg(test)]
mod tests {
    use super::nearest;

    #[test]
    fn finds_a_slip_of_the_pen_and_nothing_far_off() {
        let known = ["width", "length", "name"];
        assert_eq!(nearest("widht", known), Some("width"));
        assert_eq!(nearest("lenght", known), Some("length"));
        assert_eq!(nearest("price", known), None);
    }
}
