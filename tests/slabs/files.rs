//! Slabs as the files that the program reads. Products, prices, people and places are invented.

use std::cell::RefCell;
use std::fmt::Write as _;

use jiff::Span;
use jiff::civil::{Date, DateTime, time};
use slableaf::base::source::SourceFile;
use slableaf::model::job::Known;
use slableaf::read::{Input, Shared, read_job};

use super::notation::{Checked, Floor, Slab, Visit};

/// The names of the floors in files.
const NAMES: [(char, &str); 4] =
    [('F', "fast-floor"), ('G', "fast-twin"), ('B', "barrier-floor"), ('K', "kit-floor")];

pub fn letter(key: &str) -> Option<char> {
    NAMES.iter().find(|(_, name)| *name == key).map(|(letter, _)| *letter)
}

fn name(floor: &Floor) -> &'static str {
    NAMES.iter().find(|(letter, _)| *letter == floor.letter).expect("a known floor").1
}

const SHOP: &str = r#"
name = "An invented shop"
address = ["1 Nowhere Lane"]
language = "en"
country = "US"
warranty = ["We come back and look."]

[[payment]]
when = "When you sign"
share = "10 %"

[[payment]]
when = "When the floor is done"
share = "90 %"

[limits]
voc = "400 g/L"
deposit-share = "33 %"
"#;

const BOOK: &str = r#"
name = "An invented book"
invented = true
currency = "USD"
effective = 2024-01-01
good-for-days = 2000

[labor]
wage = "$32.00/h"
burden = "30 %"
crew = 2
day-starts = 07:30:00
day-ends = 17:00:00

[rates]
set-up = "1 h"
clean-up = "45 min"
grind = "260 ft2/h"
grind-coated = "260 ft2/h"
edge = "50 ft/h"
crack = "25 ft/h"
roll = "300 ft2/h"
upright = "60 ft2/h"
broadcast = "600 ft2/h"
scrape = "450 ft2/h"

[prep]
texture = "100 um"
upright-loss = "20 %"
crack-depth = "3/4 in"

[terms]
consumables = "$0.35/ft2"
per-job = "$120.00"
overhead = "15 %"
margin = "38 %"
margin-floor = "25 %"
minimum = "$1,000.00"
round-to = "$5.00"
tax-name = "Sales tax"
tax = "0 %"
tax-on = "nothing"
hold-days = 30

[cleaning]
solvent = "none"

[mixing]
time = "3 min"
largest = "3 gal"
smallest = "1/4 gal"
part-of-pot-life = "75 %"
"#;

/// A product's lines: its key, what a kit costs, whether it holds vapor back, whether it cures fast,
/// and further lines.
fn product(key: &str, dollars: u32, fast: bool, more: &str) -> String {
    let cure = if fast {
        "[{ at = \"77 F\", pot-life = \"40 min\", recoat-from = \"1.5 h\", recoat-to = \"16 h\", \
         foot = \"4 h\", vehicle = \"24 h\" }]"
    } else {
        "[{ at = \"77 F\", pot-life = \"40 min\", recoat-from = \"10 h\", recoat-to = \"36 h\", \
         foot = \"16 h\", vehicle = \"72 h\" }]"
    };
    format!(
        "[[product]]\nkey = \"{key}\"\nname = \"{key}\"\nsupplier = \"Invented Resins\"\n\
         kit = [{{ size = \"3 gal\", price = \"${dollars}.00\" }}]\nvolume-solids = \"100 %\"\n\
         spread = \"150 ft2/gal\"\nloss = \"10 %\"\nvoc = \"40 g/L\"\nisocyanate = false\n\
         sensitizers = []\nsolvent-free = true\nuv-stable = true\nslab-from = \"35 F\"\n\
         slab-to = \"95 F\"\nair-humidity-to = \"85 %\"\ncure = {cure}\n{more}\n"
    )
}

/// The first coat, a body coat where there is one, and the top.
fn products(floor: &Floor) -> String {
    let name = name(floor);
    let mut terms = format!("moisture-test = \"{}\"\n", floor.asks);
    let mut line = |text: String| terms.push_str(&(text + "\n"));
    if let Some(pounds) = floor.pounds {
        line(format!("mver-limit = \"{pounds} lb/1000ft2/24h\""));
    }
    if let Some(percent) = floor.percent {
        line(format!("rh-limit = \"{percent} %\""));
    }
    if let Some(asked) = &floor.ground {
        line(format!("ground-contact = \"{asked}\""));
    }
    if floor.barrier {
        line("barrier = true\npermeance = \"0.08 perm\"".to_owned());
    }
    let (fast, first, top) = match floor.letter {
        'F' | 'G' => (true, 570, 350),
        'B' => (false, 830, 430),
        _ => (false, 90, 60),
    };
    let mut found = product(&format!("{name}-first"), first, fast, &terms);
    if let Some(body) = floor.body {
        let terms = format!("mver-limit = \"{body} lb/1000ft2/24h\"");
        found.push_str(&product(&format!("{name}-body"), 100, fast, &terms));
    }
    found + &product(&format!("{name}-top"), top, fast, "")
}

fn system(floor: &Floor) -> SourceFile {
    let name = name(floor);
    let coats = ["first", "body", "top"];
    let there = coats.into_iter().filter(|coat| *coat != "body" || floor.body.is_some());
    let coats: String = there
        .map(|coat| {
            format!(
                "[[coat]]\nkey = \"{coat}\"\nproduct = \"{name}-{coat}\"\nlook = \"primer\"\n\n"
            )
        })
        .collect();
    let text = format!(
        "key = \"{name}\"\nlife-from = {}\nlife-to = {}\n\n{coats}",
        floor.life / 2,
        floor.life
    );
    SourceFile { name: format!("{name}.toml"), text }
}

fn at_six(day: Date) -> DateTime {
    day.to_datetime(time(18, 0, 0, 0))
}

/// So many hours before six in the evening, to the minute.
fn before(day: Date, hours: f64) -> DateTime {
    let minutes = (hours * 60.0).round() as i64;
    at_six(day).checked_sub(Span::new().minutes(minutes)).expect("a moment")
}

fn void(void: bool) -> &'static str {
    if void { "void = \"it was knocked over\"\n" } else { "" }
}

/// The tables of a visit, below `path`.
fn visit(visit: &Visit, path: &str) -> String {
    let mut text = String::new();
    let end = at_six(visit.day);
    if !visit.dishes.is_empty() {
        let (scale, settled, as_used) = (visit.scale, visit.settled, visit.as_used);
        let _ = write!(
            text,
            "[{path}.dishes]\nscale = \"{scale} g\"\nsettled = {settled}\nroom-as-used = {as_used}\n"
        );
        if let Some((warm, damp)) = visit.room {
            let _ = write!(text, "room-temperature = \"{warm} F\"\nroom-humidity = \"{damp} %\"\n");
        }
        for dish in &visit.dishes {
            let set = before(visit.day, dish.hours);
            // ASTM F1869, section on calculation, solved for the gain.
            let gain = dish.pounds * dish.over * dish.hours / (24_000.0 / 453.592_37);
            let surface = dish.surface.map_or(String::new(), |on| format!("surface = \"{on}\"\n"));
            let _ = write!(
                text,
                "[[{path}.dishes.dish]]\nplace = \"{}\"\nexposed = \"{} ft2\"\nbefore = \"200 g\"\n\
                 after = \"{:.12} g\"\nset = {set}\nlifted = {end}\n{surface}{}",
                dish.place,
                dish.over,
                200.0 + gain,
                void(dish.void)
            );
        }
    }
    if !visit.probes.is_empty() {
        let _ = write!(text, "[{path}.probes]\nedition = 2019\nsettled = {}\n", visit.settled);
        if let Some(points) = visit.accuracy {
            let _ = writeln!(text, "accuracy = \"{points} %\"");
        }
        for probe in &visit.probes {
            let drilled = before(visit.day, probe.hours);
            let checked = match probe.checked {
                Checked::Before(days) => {
                    let day = visit.day.checked_sub(Span::new().days(days)).expect("a day");
                    format!("calibrated = {day}\n")
                }
                Checked::New => "calibrated = \"new\"\n".to_owned(),
                Checked::Unknown => String::new(),
            };
            let _ = write!(
                text,
                "[[{path}.probes.probe]]\nplace = \"{}\"\ndepth = \"{} in\"\nreading = \"{} %\"\n\
                 drilled = {drilled}\nread = {end}\n{checked}{}",
                probe.place,
                probe.inches,
                probe.percent,
                void(probe.void)
            );
        }
    }
    for sheet in &visit.sheets {
        let taped = before(visit.day, sheet.hours);
        let _ = write!(
            text,
            "[[{path}.plastic-sheet]]\nplace = \"{}\"\ntaped = {taped}\nlifted = {end}\n\
             sealed = {}\nfound = \"{}\"\n{}",
            sheet.place,
            sheet.sealed,
            if sheet.damp { "damp" } else { "dry" },
            void(sheet.void)
        );
    }
    text
}

impl Slab {
    /// The job file.
    pub fn job(&self) -> String {
        let quoted = |names: &mut dyn Iterator<Item = &str>| {
            names.map(|name| format!("\"{name}\"")).collect::<Vec<_>>().join(", ")
        };
        let offer = quoted(&mut self.floors.iter().map(name));
        let wishes = quoted(&mut self.wishes.iter().map(String::as_str));
        let sheet = match self.sheet {
            Known::Yes => "yes",
            Known::No => "no",
            Known::Unknown => "unknown",
        };
        let coating = if self.sealed { "sealer" } else { "none" };
        let mut text = format!(
            r#"number = "S-1"
date = {}
units = "us"
invented = true
offer = [{offer}]
wishes = [{wishes}]

[customer]
name = "A. Person"

[house]
built = 1994

[slab]
on-ground = {}
vapor-retarder = "{sheet}"
thickness = "4 in"
poured-year = 2016
surface-strength = "385 psi"
water-drop = "soaks-in"
oil = false
salts = false
old-coating = "{coating}"
tile-glue = "none"
treatments = ["none"]
inside = ["none"]

[[area]]
name = "Floor"
length = "{} ft"
width = "10 ft"

[garage]
height = "9 ft"
ignition = []
daylight = false
wet = false
sold-at-home = false

[air]
measured = {}
temperature = "77 F"
humidity = "45 %"
slab = "77 F"

"#,
            self.paper,
            self.on_ground,
            self.area / 10.0,
            self.paper
        );
        // The first visit is that of the tests that stand alone.
        for (at, one) in self.visits.iter().enumerate() {
            if at == 0 {
                text.push_str(&visit(one, "moisture"));
            } else {
                let _ = writeln!(text, "[[moisture.visit]]");
                text.push_str(&visit(one, "moisture.visit"));
            }
        }
        text
    }

    /// Book, shop and systems of its floors.
    fn shared(&self) -> Shared {
        let products: String = self.floors.iter().map(products).collect();
        let book = file("book.toml", format!("{BOOK}\n{products}"));
        let systems: Vec<SourceFile> = self.floors.iter().map(system).collect();
        Shared::read(&book, &file("shop.toml", SHOP.to_owned()), &systems)
    }

    /// The input as the program reads it. The book is read anew only when the floors are others: a law
    /// compares slabs under the same floors.
    #[track_caller]
    pub fn input(&self) -> Input {
        LAST.with_borrow_mut(|last| {
            let (_, shared) = match last.take() {
                Some(same) if same.0 == self.floors => last.insert(same),
                _ => last.insert((self.floors.clone(), self.shared())),
            };
            let job = read_job(&file("job.toml", self.job()));
            let read = shared.join(job, None);
            read.unwrap_or_else(|problems| panic!("{}\n{problems:#?}", self.job()))
        })
    }
}

thread_local! {
    /// The floors that were read last.
    static LAST: RefCell<Option<(Vec<Floor>, Shared)>> = const { RefCell::new(None) };
}

fn file(name: &str, text: String) -> SourceFile {
    SourceFile { name: name.to_owned(), text }
}

/// A slab in short, for a test that fails: its floors and its job without what never changes.
pub fn told(slab: &Slab) -> String {
    let job = slab.job();
    let tests = job.split_once("[moisture").map_or("", |(_, tests)| tests);
    format!(
        "on the ground {}, sheet {:?}, {} square feet, wishes {:?}\n{:#?}\n[moisture{tests}",
        slab.on_ground, slab.sheet, slab.area, slab.wishes, slab.floors
    )
}
