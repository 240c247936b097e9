//! Running text in lines of a width.

use textwrap::{Options, WordSeparator, WordSplitter, WrapAlgorithm};

/// A text broken between words into lines of at most `width` columns, the first behind one lead and the
/// others behind another. The no-break spaces of figures are no breaks; a word that is longer than a
/// line stays whole.
pub fn wrapped(text: &str, width: usize, first: &str, others: &str) -> String {
    let words: Vec<&str> = text.split([' ', '\n']).filter(|word| !word.is_empty()).collect();
    if words.is_empty() {
        return String::new();
    }
    let options = Options::new(width)
        .initial_indent(first)
        .subsequent_indent(others)
        .break_words(false)
        .word_separator(WordSeparator::AsciiSpace)
        .word_splitter(WordSplitter::NoHyphenation)
        .wrap_algorithm(WrapAlgorithm::FirstFit);
    textwrap::fill(&words.join(" "), options)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lines_break_between_words_and_hang_below_their_first() {
        let text = wrapped(&"floor ".repeat(30), 78, "- ", "  ");
        assert!(text.lines().all(|line| line.chars().count() <= 78), "{text}");
        assert!(text.starts_with("- floor"));
        assert!(text.lines().skip(1).all(|line| line.starts_with("  floor")), "{text}");
        assert_eq!(wrapped("a b", 3, "", ""), "a b");
        assert_eq!(wrapped(" \n", 3, "- ", ""), "");
    }

    #[test]
    fn a_figure_keeps_its_unit_and_a_long_word_stays_whole() {
        let long = "x".repeat(200);
        assert_eq!(wrapped(&long, 78, "- ", "  "), format!("- {long}"));
        let figure = "7.4\u{a0}lb";
        let text = wrapped(&format!("{} {figure}", "y".repeat(75)), 78, "", "");
        assert_eq!(text.lines().last(), Some(figure));
    }
}
