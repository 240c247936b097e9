//! Running text and tables in the width of a terminal.

use slableaf::base::lines;
use unicode_width::UnicodeWidthStr as _;

use crate::shell::terminal::printable;

/// Widest line of running text, and the narrowest that is still broken at blanks.
pub const WIDTH: usize = 88;
const NARROW: usize = 20;

/// Columns of the terminal, and no more than is read with ease.
fn columns_of_terminal() -> usize {
    let columns = terminal_size::terminal_size_of(std::io::stdout());
    columns.map_or(WIDTH, |(columns, _)| usize::from(columns.0).clamp(NARROW, WIDTH))
}

/// A text in lines of at most `width` columns, and no more than the terminal has, all behind an indent.
/// A word that is longer than a line stays whole.
pub fn wrapped(text: &str, width: usize, indent: usize) -> String {
    let lead = " ".repeat(indent);
    let text = printable(text);
    let words: Vec<&str> = text.split_whitespace().collect();
    lines::wrapped(&words.join(" "), width.min(columns_of_terminal()), &lead, &lead)
}

/// A table with the first column to the left and the others to the right.
pub fn table(rows: &[Vec<String>]) -> String {
    columns(rows, &[Align::Left])
}

/// The side of its column at which a cell stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Align {
    Left,
    Right,
}

/// Columns below which a cell is not broken.
const LEAST: usize = 16;

/// Columns of the terminal that a table has to fit in; `None` where there is no terminal, and each row
/// stays a line for other programs.
fn table_columns() -> Option<usize> {
    let columns = terminal_size::terminal_size_of(std::io::stdout());
    columns.map(|(columns, _)| usize::from(columns.0).max(NARROW))
}

/// The width of each column of a table.
pub fn widths(rows: &[Vec<String>]) -> Vec<usize> {
    let mut widths = vec![];
    for (at, cell) in rows.iter().flat_map(|row| row.iter().enumerate()) {
        widths.resize(widths.len().max(at + 1), 0);
        widths[at] = cell.width().max(widths[at]);
    }
    widths
}

/// The rows of a table that fits `columns`: the cells of its widest column have more than one line where
/// they have to.
fn fitting(rows: Vec<Vec<String>>, columns: usize) -> Vec<Vec<String>> {
    let widths = widths(&rows);
    let whole = widths.iter().sum::<usize>() + 2 * widths.len();
    let Some(widest) = (0..widths.len()).max_by_key(|at| widths[*at]) else { return rows };
    let room = (widths[widest] + columns).saturating_sub(whole).max(LEAST);
    if whole <= columns || room >= widths[widest] {
        return rows;
    }
    let broken = |row: Vec<String>| {
        let cell = row.get(widest).cloned().unwrap_or_default();
        let lines = lines::wrapped(&cell, room, "", "");
        let lines: Vec<String> = lines.lines().map(|line| line.trim().to_owned()).collect();
        let mut all = vec![];
        for at in 0..lines.len().max(1) {
            let mut part = if at == 0 { row.clone() } else { vec![String::new(); row.len()] };
            if let (Some(cell), Some(line)) = (part.get_mut(widest), lines.get(at)) {
                cell.clone_from(line);
            }
            all.push(part);
        }
        all
    };
    rows.into_iter().flat_map(broken).collect()
}

/// A table; columns that no side is given for stand to the right.
pub fn columns(rows: &[Vec<String>], sides: &[Align]) -> String {
    let rows: Vec<Vec<String>> =
        rows.iter().map(|row| row.iter().map(|cell| printable(cell)).collect()).collect();
    let rows = match table_columns() {
        Some(columns) => fitting(rows, columns),
        None => rows,
    };
    let widths = widths(&rows);
    let line = |row: &Vec<String>| {
        let cells = widths.iter().enumerate().map(|(at, width)| {
            let text = row.get(at).map_or("", String::as_str);
            let blank = " ".repeat(width - text.width());
            match sides.get(at) {
                Some(Align::Left) => format!("{text}{blank}"),
                Some(Align::Right) | None => format!("{blank}{text}"),
            }
        });
        format!("  {}", cells.collect::<Vec<_>>().join("  ").trim_end())
    };
    rows.iter().map(line).collect::<Vec<_>>().join("\n")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_table_fits_the_columns_that_there_are() {
        let row = |cells: [&str; 3]| cells.map(str::to_owned).to_vec();
        let rows = vec![row(["job", "cause", "state"]), row(["a", &"word ".repeat(30), "open"])];
        assert_eq!(fitting(rows.clone(), 400), rows);
        let fitted = fitting(rows, 80);
        let width = |row: &Vec<String>| row.iter().map(|cell| cell.width()).sum::<usize>() + 2 * 3;
        assert!(fitted.iter().all(|row| width(row) <= 80), "{fitted:?}");
        let said: Vec<&str> = fitted[1..].iter().flat_map(|row| row[1].split(' ')).collect();
        assert_eq!(said, vec!["word"; 30]);
        assert_eq!((fitted[1][2].as_str(), fitted[2][2].as_str()), ("open", ""));
    }
}
