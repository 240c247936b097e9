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
