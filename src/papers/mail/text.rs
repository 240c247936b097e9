//! The plain text of a mail.

use crate::papers::mail::Letter;

/// The most characters of a line where words allow it: RFC 5322, section 2.1.1.
const WIDTH: usize = 78;

/// A text of lines that end in CRLF.
pub fn text(letter: &Letter) -> String {
    let mut blocks: Vec<String> = vec![];
    blocks.extend(letter.demo.iter().map(|demo| wrap(demo, "", "")));
    blocks.push(wrap(&letter.greeting, "", ""));
    blocks.push(wrap(&letter.opening, "", ""));
    blocks.push(under_heading(&letter.headline, &[wrap(&letter.reason, "", "")]));
    let facts = letter.fact_lines.iter().zip(&letter.facts).map(|(line, fact)| {
        let line = wrap(line, "", "  ");
        if fact.note.is_empty() {
            line
        } else {
            format!("{line}\n{}", wrap(&fact.note, "  ", "  "))
        }
    });
    blocks.push(facts.collect::<Vec<_>>().join("\n"));
    blocks.push(wrap(&letter.others, "", ""));
    for part in &letter.parts {
        let points = part.points.iter().map(|point| wrap(point, "- ", "  "));
        let points = points.collect::<Vec<_>>().join("\n");
        let mut inside = vec![wrap(&part.lead, "", ""), points];
        inside.extend(part.paragraphs.iter().map(|paragraph| wrap(paragraph, "", "")));
        inside.retain(|block| !block.is_empty());
        blocks.push(under_heading(&part.head, &inside));
    }
    let mut end = vec![letter.closing.clone(), letter.shop.clone()];
    end.extend(letter.shop_lines.iter().cloned());
    blocks.push(end.iter().map(|line| wrap(line, "", "  ")).collect::<Vec<_>>().join("\n"));
    blocks.retain(|block| !block.is_empty());
    format!("{}\n", blocks.join("\n\n")).replace('\n', "\r\n")
}

/// A heading with a rule of its own width below it, and what it heads.
fn under_heading(head: &str, blocks: &[String]) -> String {
    let head = wrap(head, "", "");
    let width = head.lines().map(|line| line.chars().count()).max().unwrap_or(0);
    format!("{head}\n{}\n{}", "-".repeat(width.min(WIDTH)), blocks.join("\n\n"))
}

/// Breaks a text between words. The no-break spaces of figures are no breaks; a word that is longer
/// than a line stays whole.
fn wrap(text: &str, first: &str, others: &str) -> String {
    let mut lines: Vec<String> = vec![];
    let mut line = String::new();
    for word in text.split([' ', '\n']).filter(|word| !word.is_empty()) {
        let lead = if lines.is_empty() { first } else { others };
        if line.is_empty() {
            line = format!("{lead}{word}");
        } else if line.chars().count() + 1 + word.chars().count() > WIDTH {
            lines.push(std::mem::replace(&mut line, format!("{others}{word}")));
        } else {
            line.push(' ');
            line.push_str(word);
        }
    }
    lines.push(line);
    lines.join("\n")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lines_break_between_words_and_hang_below_their_first() {
        let text = wrap(&"floor ".repeat(30), "- ", "  ");
        assert!(text.lines().all(|line| line.chars().count() <= WIDTH), "{text}");
        assert!(text.starts_with("- floor"));
        assert!(text.lines().skip(1).all(|line| line.starts_with("  floor")), "{text}");
    }

    #[test]
    fn a_figure_keeps_its_unit_and_a_long_word_stays_whole() {
        let long = "x".repeat(200);
        assert_eq!(wrap(&long, "- ", "  "), format!("- {long}"));
        let figure = "7.4\u{a0}lb";
        let text = wrap(&format!("{} {figure}", "y".repeat(75)), "", "");
        assert_eq!(text.lines().last(), Some(figure));
    }
}
