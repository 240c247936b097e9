//! A job that no check objects to, and ways to change one thing in it. For tests.

use toml::{Table, Value};

use crate::base::source::SourceFile;
use crate::price::case::{Case, case, case_of};
use crate::price::visit::OtherSpaces;
use crate::read::{self, Files};

const JOB: &str = r#"
number = "T-1"
date = 2026-05-12
units = "us"
offer = ["barrier", "fast-cure", "clear-epoxy", "water-kit"]

[customer]
name = "A. Person"

[house]
built = 1994

[slab]
on-ground = true
vapor-retarder = "yes"
thickness = "4 in"
poured-year = 1994
surface-strength = "310 psi"
water-drop = "soaks-in"
oil = false
salts = false
old-coating = "none"
tile-glue = "none"
treatments = ["none"]
inside = ["none"]

[[area]]
name = "Floor"
length = "22 ft"
width = "22 ft"

[air]
measured = 2026-05-08
temperature = "70 F"
humidity = "50 %"
slab = "68 F"

[garage]
height = "9 ft"
ignition = []
daylight = false
wet = false
sold-at-home = false
"#;

/// A job, a book and a shop as tables, to be changed.
#[derive(Clone)]
pub struct Sample {
    job: Table,
    book: Table,
    shop: Table,
}

/// Four floors on a dry, sound slab, all measured: three dishes at 1 lb.
pub fn sample() -> Sample {
    let parse = |text: &str| text.parse::<Table>().unwrap();
    Sample {
        job: parse(JOB),
        book: parse(include_str!("../../examples/book.toml")),
        shop: parse(include_str!("../../examples/shop.toml")),
    }
    .mver(&[1.0, 1.0, 1.0])
}

impl Sample {
    /// Sets a key of the job, `"slab.water-drop"` to a TOML value, `"\"beads\""`.
    pub fn job(mut self, path: &str, value: &str) -> Self {
        set(&mut self.job, path, Some(value));
        self
    }

    /// Takes a key or table out of the job.
    pub fn without(mut self, path: &str) -> Self {
        set(&mut self.job, path, None);
        self
    }

    /// The same slab as a space of a kind, with these lines of its surroundings.
    pub fn in_space(mut self, kind: &str, surroundings: &str) -> Self {
        let mut space = Table::new();
        for held in ["slab", "area", "moisture", "air"] {
            space.extend(self.job.remove(held).map(|value| (held.to_owned(), value)));
        }
        self.job.remove("garage");
        set(&mut space, "name", Some("\"The space\""));
        set(&mut space, "kind", Some(&format!("\"{kind}\"")));
        set(&mut space, "surroundings", Some(&format!("{{ {surroundings} }}")));
        self.job.insert("space".to_owned(), Value::Array(vec![Value::Table(space)]));
        self.job("sold-at-home", "false")
    }

    /// Sets a key of the book. In a list a part of the path is an entry's `key` or its position:
    /// `"product.polyurea-primer.voc"`, `"product.barrier-epoxy.cure.0.at"`.
    pub fn book(mut self, path: &str, value: &str) -> Self {
        set(&mut self.book, path, Some(value));
        self
    }

    /// Takes a key out of the book.
    pub fn without_book(mut self, path: &str) -> Self {
        set(&mut self.book, path, None);
        self
    }

    /// Sets a key of the shop.
    pub fn shop(mut self, path: &str, value: &str) -> Self {
        set(&mut self.shop, path, Some(value));
        self
    }

    /// Takes a key out of the shop.
    pub fn without_shop(mut self, path: &str) -> Self {
        set(&mut self.shop, path, None);
        self
    }

    /// Dishes that give these moisture rates, in lb per 1000 ft2 in 24 h, all to the method.
    pub fn mver(self, pounds: &[f64]) -> Self {
        let dishes: Vec<String> = pounds
            .iter()
            .enumerate()
            .map(|(at, pounds)| {
                let gain = pounds * 0.5 * 66.0 / 52.910943;
                format!(
                    "{{ place = \"place {at}\", surface = \"ground-open-24h\", exposed = \"0.5 ft2\", before = \"200 g\", after = \"{:.6} g\", \
                     set = 2026-05-05T09:00:00, lifted = 2026-05-08T03:00:00 }}",
                    200.0 + gain
                )
            })
            .collect();
        self.job(
            "moisture.dishes",
            &format!(
                "{{ scale = \"0.1 g\", room-temperature = \"70 F\", room-humidity = \"50 %\", settled = true, dish = [{}] }}",
                dishes.join(", ")
            ),
        )
    }

    /// Probes with these readings in percent RH, all to the method, and no dishes.
    pub fn rh(self, percent: &[f64]) -> Self {
        let probes: Vec<String> = percent
            .iter()
            .enumerate()
            .map(|(at, percent)| {
                format!(
                    "{{ place = \"place {at}\", depth = \"1.6 in\", reading = \"{percent} %\", \
                     drilled = 2026-05-06T09:00:00, read = 2026-05-08T09:00:00, calibrated = 2026-05-01 }}"
                )
            })
            .collect();
        self.without("moisture.dishes").job(
            "moisture.probes",
            &format!("{{ edition = 2019, settled = true, probe = [{}] }}", probes.join(", ")),
        )
    }

    /// The files as they are read.
    #[track_caller]
    pub fn input(&self) -> read::Input {
        let file = |name: &str, text: String| SourceFile { name: name.into(), text };
        let files = Files {
            job: file("job.toml", self.job.to_string()),
            book: file("book.toml", self.book.to_string()),
            shop: file("shop.toml", self.shop.to_string()),
            systems: [
                include_str!("../../layouts/systems/clear-epoxy.toml"),
                include_str!("../../layouts/systems/water-kit.toml"),
                include_str!("../../layouts/systems/barrier.toml"),
                include_str!("../../layouts/systems/fast-cure.toml"),
            ]
            .iter()
            .map(|text| file("system.toml", (*text).to_owned()))
            .collect(),
        };
        match read::read(&files) {
            Ok(input) => input,
            Err(problems) => panic!("the sample cannot be read: {problems:#?}"),
        }
    }

    /// Hands out the worked-out case, for what no input can bring about.
    #[track_caller]
    pub fn with_case<T>(&self, look: impl FnOnce(Case<'_>) -> T) -> T {
        let input = self.input();
        // A job with a space is judged as that.
        match input.job.of_spaces().first() {
            Some(space) => look(case_of(space, &input, OtherSpaces::default())),
            None => look(case(&input)),
        }
    }
}

/// Sets or takes out the value at a path of dots; in a list a part is a `key` or a position.
#[track_caller]
fn set(table: &mut Table, path: &str, value: Option<&str>) {
    let Some((head, rest)) = path.split_once('.') else {
        match value {
            None => {
                table.remove(path);
            }
            Some(value) => {
                let line = format!("value = {value}");
                let parsed = line.parse::<Table>().unwrap_or_else(|e| panic!("{value}: {e}"));
                table.insert(path.to_owned(), parsed["value"].clone());
            }
        }
        return;
    };
    match table.entry(head).or_insert_with(|| Value::Table(Table::new())) {
        Value::Table(inner) => set(inner, rest, value),
        Value::Array(list) => {
            let (wanted, rest) = rest.split_once('.').unwrap();
            let named = |(at, entry): &(usize, &mut Value)| {
                at.to_string() == wanted || entry.get("key").and_then(Value::as_str) == Some(wanted)
            };
            let entry = list.iter_mut().enumerate().find(named);
            let Some((_, Value::Table(entry))) = entry else {
                panic!("no table `{wanted}` in `{path}`")
            };
            set(entry, rest, value);
        }
        other => panic!("`{head}` of `{path}` is {other}"),
    }
}
