//! The plain text of a mail.

use crate::base::lines;
use crate::papers::mail::Letter;

/// The most characters of a line where words allow it: RFC 5322, section 2.1.1.
const WIDTH: usize = 78;

/// Columns of the scale of a drawn bar.
const BAR: usize = 60;

/// A text of lines that end in CRLF.
pub fn text(letter: &Letter) -> String {
    let head = &letter.frame.head;
    let mut blocks: Vec<String> = vec![];
    blocks.extend(head.demo.iter().map(|demo| wrap(demo, "", "")));
    blocks.push(wrap(&letter.greeting, "", ""));
    blocks.push(wrap(&letter.opening, "", ""));
    let reason = [wrap(&letter.reason, "", ""), wrap(&letter.floor_is, "", "")];
    blocks.push(under_heading(&letter.headline, &reason));
    let facts = letter.fact_lines.iter().zip(&letter.answers).map(|(line, fact)| {
        let line = wrap(line, "", "  ");
        if fact.note.is_empty() {
            line
        } else {
            format!("{line}\n{}", wrap(&fact.note, "  ", "  "))
        }
    });
    blocks.push(facts.collect::<Vec<_>>().join("\n"));
    let days = letter.days.iter().map(|day| wrap(&format!("{}: {}", day.date, day.says), "", "  "));
    blocks.push(days.collect::<Vec<_>>().join("\n"));
    for bar in &letter.bars {
        let limits = bar
            .limits
            .iter()
            .map(|limit| format!("{}\n{}", wrap(&limit.label, "", "  "), drawn(limit.at, bar.at)));
        let reading = wrap(&bar.reading, "| ", "  ");
        blocks.push([reading].into_iter().chain(limits).collect::<Vec<_>>().join("\n"));
        blocks.push(wrap(&bar.caption, "", ""));
    }
    for part in &letter.parts {
        let points = part.points.iter().enumerate().map(|(at, point)| {
            let mark = if part.numbered { format!("{}. ", at + 1) } else { "- ".to_owned() };
            wrap(&point.line(), &mark, &" ".repeat(mark.len()))
        });
        let points = points.collect::<Vec<_>>().join("\n");
        let mut inside = vec![wrap(&part.lead, "", ""), points];
        inside.extend(part.paragraphs.iter().map(|paragraph| wrap(paragraph, "", "")));
        blocks.push(under_heading(&part.head, &inside));
    }
    let mut end = vec![letter.closing.clone(), head.shop.clone()];
    end.extend(letter.shop_lines.iter().map(|line| line.text.clone()));
    blocks.push(end.iter().map(|line| wrap(line, "", "  ")).collect::<Vec<_>>().join("\n"));
    blocks.retain(|block| !block.is_empty());
    format!("{}\n", blocks.join("\n\n")).replace('\n', "\r\n")
}

/// A bar of a limit with the line of the reading through it; both are shares of the scale.
fn drawn(limit: f64, reading: f64) -> String {
    let column = |share: f64| (share * BAR as f64).round() as usize;
    let (end, line) = (column(limit), column(reading));
    // The line stands on the side of the bar's end on which it is, however near.
    let line = if reading > limit { line.max(end + 1) } else { line.min(end) };
    let sign = |at| match at {
        at if at == line => '|',
        at if at <= end => '=',
        _ => ' ',
    };
    (0..=end.max(line)).map(sign).collect()
}

/// A heading with a rule of its own width below it, and what it heads.
fn under_heading(head: &str, blocks: &[String]) -> String {
    let head = wrap(head, "", "");
    let width = head.lines().map(|line| line.chars().count()).max().unwrap_or(0);
    let said = blocks.iter().filter(|block| !block.is_empty()).cloned().collect::<Vec<_>>();
    format!("{head}\n{}\n{}", "-".repeat(width.min(WIDTH)), said.join("\n\n"))
}

/// A text in lines of at most [`WIDTH`] columns.
fn wrap(text: &str, first: &str, others: &str) -> String {
    lines::wrapped(text, WIDTH, first, others)
}
