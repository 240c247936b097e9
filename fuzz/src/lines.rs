//! Makes a new text of files out of one that is there: whole lines, keys, values and numbers change
//! places, so that most of what comes out can still be read. Every other input is left to the
//! mutations of libFuzzer itself.

use std::sync::LazyLock;

/// Files that people could have written, from which lines and values are taken.
const MODELS: &[&str] = &[
    include_str!("../../examples/two-car-barrier/job.toml"),
    include_str!("../../examples/dry-and-quick/job.toml"),
    include_str!("../../examples/too-wet-yet/job.toml"),
    include_str!("../../examples/metric-probes/job.toml"),
    include_str!("../../examples/several-mistakes/job.toml"),
    include_str!("../../examples/garaje/job.toml"),
    include_str!("../../examples/smallest/job.toml"),
    include_str!("../../examples/signed-and-changed/job.toml"),
    include_str!("../../examples/solid-color/job.toml"),
    include_str!("../../examples/three-spaces/job.toml"),
    include_str!("../../examples/whole-story/job.toml"),
    include_str!("../../examples/book.toml"),
    include_str!("../../examples/metric-probes/book.toml"),
    include_str!("../../examples/solid-color/book.toml"),
    include_str!("../../examples/shop.toml"),
    include_str!("../../examples/garaje/shop.toml"),
    include_str!("../../examples/metric-probes/shop.toml"),
    include_str!("../../examples/solid-color/systems/solid-color.toml"),
    // These hold every key.
    include_str!("../../tests/hostile/full/job.toml"),
    include_str!("../../tests/hostile/full/spaces.toml"),
    include_str!("../../tests/hostile/full/book.toml"),
    include_str!("../../tests/hostile/full/shop.toml"),
    include_str!("../../tests/hostile/full/own.toml"),
];

/// A line of a model. Examples keep what comes later in a story behind marks such as `#: ` and `#2: `.
fn unmarked(line: &str) -> &str {
    let later = line.strip_prefix('#').and_then(|rest| rest.split_once(": "));
    match later {
        Some((mark, told)) if mark.chars().all(|c| c.is_ascii_digit()) => told,
        _ => line,
    }
}

/// Every line of a model, its later parts too.
fn lines_of(model: &'static str) -> impl Iterator<Item = &'static str> {
    model.lines().map(unmarked)
}

/// Values at the edges of what is accepted, or past them.
const EDGES: &[&str] = &[
    "0",
    "1",
    "9999",
    "10000",
    "-1",
    "true",
    "false",
    "[]",
    "{}",
    "\"\"",
    "\"0 ft\"",
    "\"1000 ft\"",
    "\"0.001 in\"",
    "\"1e3 ft\"",
    "\"1/0 in\"",
    "\"100 %\"",
    "\"0 %\"",
    "\"0.01 %\"",
    "\"$0.00\"",
    "\"$0.01\"",
    "\"$10,000,000.00\"",
    "\"\u{20AC}1\"",
    "\"-40 F\"",
    "\"60 C\"",
    "\"8760 h\"",
    "\"0 min\"",
    "1900-01-01",
    "2199-12-31",
    "2026-12-24",
    "2028-02-29",
    "1900-01-01T00:00:00",
    "00:00:00",
    "23:59:59",
    "\"=?utf-8?q?=41?=\"",
    "\"{{ 7 * 7 }}\"",
    "\"#set text(9pt)\"",
    "\"<b>&amp;</b>\"",
    "\"a\\nb\"",
    "\"\u{17B}aneta\"",
    "\"us\"",
    "\"metric\"",
    "\"large\"",
    "\"es\"",
    "\"unknown\"",
    "\"+500 %\"",
    "\"-100 %\"",
    "\"-$0.01\"",
];

const NUMBERS: &[&str] = &[
    "0", "1", "2", "3", "7", "0.1", "0.5", "0.25", "10", "12", "50", "99", "100", "1000", "9999",
    "10000", "1/2", "3/4", "0.0001", "1,000", "99999999",
];

/// Lines, whole tables and values of the models.
struct Pool {
    lines: Vec<&'static str>,
    tables: Vec<String>,
    values: Vec<&'static str>,
}

static POOL: LazyLock<Pool> = LazyLock::new(|| {
    let lines = MODELS.iter().flat_map(|model| lines_of(model));
    let lines: Vec<&str> = lines.filter(|line| line.contains('=')).collect();
    let mut tables = vec![];
    for model in MODELS {
        let mut table = String::new();
        for line in lines_of(model).chain(["["]) {
            if line.starts_with('[') {
                if table.starts_with('[') {
                    tables.push(table.trim_end().to_owned());
                }
                table = String::new();
            }
            table.push_str(line);
            table.push('\n');
        }
    }
    let mut values: Vec<&str> =
        lines.iter().filter_map(|line| line.split_once(" = ")).map(|(_, value)| value).collect();
    values.extend(EDGES);
    Pool { lines, tables, values }
});

/// Numbers that follow from a seed (xorshift).
struct Dice(u64);

impl Dice {
    fn below(&mut self, most: usize) -> usize {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        (self.0 % most.max(1) as u64) as usize
    }

    fn of<'a, T>(&mut self, list: &'a [T]) -> &'a T {
        &list[self.below(list.len())]
    }
}

/// Changes an input in place, for libFuzzer; gives its new size in bytes.
pub fn change(data: &mut [u8], size: usize, most: usize, seed: u32) -> usize {
    let mut dice = Dice((u64::from(seed) << 20) ^ 0x51AB_1EAF_0000_0001);
    dice.below(2);
    let text = match std::str::from_utf8(&data[..size]) {
        Ok(text) if dice.below(8) > 0 => text,
        _ => return libfuzzer_sys::fuzzer_mutate(data, size, most),
    };
    let mut lines: Vec<String> = text.lines().map(str::to_owned).collect();
    for _ in 0..=dice.below(3) {
        step(&mut lines, &mut dice);
    }
    let mut changed = lines.join("\n");
    changed.push('\n');
    let mut end = changed.len().min(most).min(data.len());
    while !changed.is_char_boundary(end) {
        end -= 1;
    }
    data[..end].copy_from_slice(&changed.as_bytes()[..end]);
    end
}

fn step(lines: &mut Vec<String>, dice: &mut Dice) {
    if lines.is_empty() {
        lines.push((*dice.of(&POOL.lines)).to_owned());
        return;
    }
    let at = dice.below(lines.len());
    // Where a file begins is left as it is, most of the time.
    if lines[at].starts_with("===") && dice.below(20) > 0 {
        return;
    }
    match dice.below(12) {
        0 => drop(lines.remove(at)),
        1 => lines.insert(at, (*dice.of(&POOL.lines)).to_owned()),
        2 => lines.extend(dice.of(&POOL.tables).lines().map(str::to_owned)),
        3 | 4 => with_value(&mut lines[at], dice.of::<&str>(&POOL.values)),
        5 => {
            // A value from elsewhere in the same files.
            let other = lines[dice.below(lines.len())].clone();
            if let Some((_, value)) = other.split_once(" = ") {
                with_value(&mut lines[at], value);
            }
        }
        6..=9 => number(&mut lines[at], dice),
        10 => {
            // A table once more, or gone.
            let heads: Vec<usize> =
                (0..lines.len()).filter(|at| lines[*at].starts_with('[')).collect();
            if heads.is_empty() {
                return;
            }
            let head = *dice.of(&heads);
            let end = heads.iter().find(|other| **other > head).copied().unwrap_or(lines.len());
            if dice.below(2) == 0 {
                lines.drain(head..end);
            } else {
                let again: Vec<String> = lines[head..end].to_vec();
                lines.splice(end..end, again);
            }
        }
        _ => {
            let other = dice.below(lines.len());
            lines.swap(at, other);
        }
    }
}

fn with_value(line: &mut String, value: &str) {
    if let Some((key, _)) = line.split_once('=') {
        *line = format!("{}= {value}", key.to_owned());
    }
}

/// Puts another number in the place of one of a line's.
fn number(line: &mut String, dice: &mut Dice) {
    let digit = |c: char| c.is_ascii_digit();
    let starts: Vec<usize> = line
        .char_indices()
        .filter(|(at, c)| digit(*c) && !line[..*at].ends_with(|c| digit(c) || c == '.'))
        .map(|(at, _)| at)
        .collect();
    if starts.is_empty() {
        return;
    }
    let start = *dice.of(&starts);
    let rest = &line[start..];
    let end = rest.find(|c: char| !digit(c) && c != '.').unwrap_or(rest.len());
    let new = match dice.below(3) {
        0 => (*dice.of(NUMBERS)).to_owned(),
        1 => dice.below(400).to_string(),
        _ => match rest[..end].parse::<f64>() {
            Ok(number) if dice.below(2) == 0 => (number * 2.0).to_string(),
            Ok(number) => (number / 3.0).round().to_string(),
            Err(_) => "1".to_owned(),
        },
    };
    line.replace_range(start..start + end, &new);
}
