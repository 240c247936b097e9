//! Three jobs that were worked out by hand, step by step, in `worked/NAME/working.md`, where the
//! formulas and their sources stand. The program has to come to the same figures, every one of
//! them, to the last printed digit.

use std::collections::BTreeMap;
use std::fmt::Write;
use std::fs;
use std::sync::LazyLock;

use slableaf::base::calendar::Moment;
use slableaf::base::money::Cents;
use slableaf::base::quantity::*;
use slableaf::model::job::Units;
use slableaf::price::case::{Case, FloorOption, case, coat_airs};
use slableaf::price::cure::CureBasis;
use slableaf::price::estimate::labor::Task;
use slableaf::price::estimate::materials::{KitMeasure, MaterialAmount, MaterialLine, ProductNeed};
use slableaf::price::estimate::price::payments;
use slableaf::price::even_chance::{Chance, even_chances};
use slableaf::price::repair::{self, RepairPlace};
use slableaf::read::Input;

use crate::documents::Paper;
use crate::facts::example;
use crate::fixture::{Folder, root};

const JOBS: [&str; 3] = ["plain-rectangle", "crossing-a-holiday", "short-night"];

static PAPERS: LazyLock<Vec<Paper>> =
    LazyLock::new(|| JOBS.iter().map(|job| Paper::of(&folder(job))).collect());

#[track_caller]
fn text(job: &str, file: &str) -> String {
    let path = root().join("tests/worked").join(job).join(file);
    fs::read_to_string(&path).unwrap_or_else(|error| panic!("{}: {error}", path.display()))
}

fn input(job: &str) -> Input {
    example::read(&text(job, "job.toml"), &text(job, "book.toml"), &text(job, "shop.toml"))
}

fn folder(job: &str) -> Folder {
    ["job.toml", "book.toml", "shop.toml"]
        .iter()
        .fold(Folder::new(), |folder, file| folder.write(file, text(job, file)))
}

/// The table at the end of a working: key and value.
fn worked(job: &str) -> BTreeMap<String, String> {
    let text = text(job, "working.md");
    let (_, table) = text.split_once("## All figures").expect("the table of all figures");
    let mut figures = BTreeMap::new();
    for line in table.lines().filter(|line| line.starts_with('|')).skip(2) {
        let cells: Vec<&str> = line.trim_matches('|').split('|').map(str::trim).collect();
        let [key, value] = cells[..] else { panic!("not two cells: {line}") };
        assert!(figures.insert(key.to_owned(), value.to_owned()).is_none(), "{key} stands twice");
    }
    assert!(figures.len() > 50, "only {} figures", figures.len());
    figures
}

/// The figures of a working are on the paper.
fn on_the_paper(job: &str) -> Vec<String> {
    let text = text(job, "working.md");
    let (_, rest) = text.split_once("## On the paper").expect("what is on the paper");
    let (list, _) = rest.split_once("\n## ").expect("a part after it");
    list.lines().filter_map(|line| line.strip_prefix("- ")).map(str::to_owned).collect()
}

// ------------------------------------------------------------------------- the program's figures

/// Writes a case's figures as a working does.
struct Ledger<'a> {
    case: &'a Case<'a>,
    figures: BTreeMap<String, String>,
}

fn money(cents: Cents) -> String {
    let whole = (cents.0 / 100).to_string();
    let mut grouped = String::new();
    for (at, digit) in whole.chars().enumerate() {
        if at > 0 && (whole.len() - at).is_multiple_of(3) {
            grouped.push(',');
        }
        grouped.push(digit);
    }
    format!("${grouped}.{:02}", cents.0 % 100)
}

/// To the second, so that a working can be followed with a pencil.
fn clock(moment: Moment) -> String {
    let seconds = (moment.0.as_hours() * 3600.0).round() as u64;
    let (day, rest) = (seconds / 86_400 + 1, seconds % 86_400);
    format!("day {day} {:02}:{:02}:{:02}", rest / 3600, rest / 60 % 60, rest % 60)
}

fn task(task: &Task) -> &str {
    match task {
        Task::SetUp => "set-up",
        Task::Strip => "strip",
        Task::Grind => "grind",
        Task::Edge => "edge",
        Task::Repair => "repair",
        Task::Coat(coat) => &coat.0,
        Task::Scrape => "scrape",
        Task::CleanUp => "clean-up",
    }
}

impl<'a> Ledger<'a> {
    fn of(case: &'a Case<'a>) -> BTreeMap<String, String> {
        let mut ledger = Self { case, figures: BTreeMap::new() };
        ledger.site();
        ledger.mending();
        for option in &case.options {
            ledger.materials(option);
            ledger.money(option);
            ledger.clocks(option);
            ledger.mixing(option);
        }
        ledger.chances();
        ledger.figures
    }

    fn put(&mut self, key: impl Into<String>, value: impl Into<String>) {
        let key = key.into();
        assert!(self.figures.insert(key.clone(), value.into()).is_none(), "{key} stands twice");
    }

    fn us(&self) -> bool {
        self.case.job.units == Units::Us
    }

    fn area(&self, area: Area) -> String {
        if self.us() {
            format!("{:.4} ft2", area.as_square_feet())
        } else {
            format!("{:.4} m2", area.as_square_meters())
        }
    }

    fn number(&self, volume: Volume) -> f64 {
        if self.us() { volume.as_gallons() } else { volume.as_liters() }
    }

    fn weight(&self, mass: Mass) -> f64 {
        if self.us() { mass.as_pounds() } else { mass.as_kilograms() }
    }

    fn volume(&self, volume: Volume) -> String {
        format!("{:.4} {}", self.number(volume), if self.us() { "gal" } else { "L" })
    }

    fn site(&mut self) {
        let site = &self.case.site;
        let edge = site.take_off.edge;
        let edge = if self.us() {
            format!("{:.4} ft", edge.as_feet())
        } else {
            format!("{:.4} m", edge.as_meters())
        };
        self.put("floor", self.area(site.take_off.floor));
        self.put("upright", self.area(site.take_off.upright));
        self.put("edge", edge);
        if let Some(series) = &site.moisture.mver {
            for reading in &series.readings {
                let place = format!("dish {}", reading.place);
                self.put(place, format!("{:.4} lb", reading.value.as_pounds()));
            }
            let highest = series.highest();
            self.put("doubt", format!("{:.4} lb", highest.doubt.as_pounds()));
            self.put("highest", format!("{:.4} lb", highest.value.as_pounds()));
            self.put("tests needed", series.needed.to_string());
        }
        if let Some(series) = &site.moisture.rh {
            for reading in &series.readings {
                let place = format!("probe {}", reading.place);
                self.put(place, format!("{:.4} %", reading.value.as_percent()));
            }
            let highest = series.highest();
            self.put("doubt", format!("{:.4} %", highest.doubt.as_percent()));
            self.put("highest", format!("{:.4} %", highest.value.as_percent()));
            self.put("tests needed", series.needed.to_string());
        }
        let air = site.air.expect("measured air");
        let (dew_point, spread) = if self.us() {
            (
                format!("{:.2} °F", air.dew_point.as_fahrenheit()),
                format!("{:.2} °F", air.spread.as_fahrenheit()),
            )
        } else {
            (
                format!("{:.2} °C", air.dew_point.as_celsius()),
                format!("{:.2} °C", air.spread.as_kelvin()),
            )
        };
        self.put("dew point", dew_point);
        self.put("spread", spread);
    }

    fn mending(&mut self) {
        let repairs = repair::repairs(&self.case.job.shapes, self.case.book);
        if repairs.is_empty() {
            return;
        }
        let (mut spalls, mut coves) = (Volume::ZERO, Volume::ZERO);
        for repair in &repairs {
            let fills = format!("{:.6} gal", repair.volume.as_gallons());
            match repair.place {
                RepairPlace::Crack(crack) => {
                    self.put(format!("fills {}", crack.name.to_lowercase()), fills);
                }
                RepairPlace::Joint(_) if repair.volume > Volume::ZERO => {
                    self.put("fills filled joint", fills);
                }
                RepairPlace::Joint(_) => {}
                RepairPlace::Spall(_) => spalls = spalls + repair.volume,
                RepairPlace::Cove(_) => coves = coves + repair.volume,
            }
        }
        self.put("fills spalls", format!("{:.6} gal", spalls.as_gallons()));
        self.put("fills cove", format!("{:.6} gal", coves.as_gallons()));
        self.put("mending", format!("{:.4} h", repair::hours(&repairs).as_hours()));
    }

    fn materials(&mut self, option: &FloorOption<'_>) {
        let floor = option.key();
        let mass = if self.us() { "lb" } else { "kg" };
        for coat in &option.estimate.coats {
            let takes = match coat.need {
                ProductNeed::Liquid(need) => self.volume(need),
                ProductNeed::Flake { thrown, kept } => {
                    format!("{:.4} {mass}, {:.4} stay", self.weight(thrown), self.weight(kept))
                }
                ProductNeed::Solid(need) => format!("{:.4} {mass}", self.weight(need)),
            };
            self.put(format!("{floor}: {} takes", coat.coat), takes);
        }
        for line in &option.estimate.materials {
            let bought = self.bought(line);
            self.put(format!("{floor}: buy {}", line.product), bought);
        }
        self.put(format!("{floor}: moisture"), option.moisture.standing.word());
    }

    fn bought(&self, line: &MaterialLine) -> String {
        let (unit, need, stock, left) = match line.amount {
            MaterialAmount::Liquid { need, from_stock, leftover } => (
                if self.us() { "gal" } else { "L" },
                self.number(need),
                self.number(from_stock),
                self.number(leftover),
            ),
            MaterialAmount::Flake { need, from_stock, leftover, .. }
            | MaterialAmount::Solid { need, from_stock, leftover } => (
                if self.us() { "lb" } else { "kg" },
                self.weight(need),
                self.weight(from_stock),
                self.weight(leftover),
            ),
        };
        let mut buy = String::new();
        for (count, size) in &line.buy {
            let size = match size {
                KitMeasure::Volume(volume) => self.number(*volume),
                KitMeasure::Mass(mass) => self.weight(*mass),
            };
            let plus = if buy.is_empty() { "" } else { " + " };
            let size = (size * 1e6).round() / 1e6;
            write!(buy, "{plus}{count} x {size} {unit}").expect("a text can be written");
        }
        let cost = money(line.cost);
        format!("{buy}, need {need:.4} {unit}, stock {stock:.4}, left {left:.4}, {cost}")
    }

    fn money(&mut self, option: &FloorOption<'_>) {
        let floor = option.key();
        let estimate = &option.estimate;
        for line in &estimate.labor {
            let value = format!("{:.2} h, {}", line.hours, money(line.cost));
            self.put(format!("{floor}: work {}", task(&line.task)), value);
        }
        for (name, amount) in [
            ("consumables", estimate.consumables),
            ("removal", estimate.removal),
            ("per job", estimate.per_job),
            ("purchase tax", estimate.purchase_tax),
            ("direct", estimate.direct),
            ("overhead", estimate.overhead),
            ("cost", estimate.cost),
            ("wanted", estimate.wanted),
            ("price", estimate.price),
            ("tax", estimate.bill.tax),
            ("total", estimate.total()),
            ("quote floor", option.quote.floor),
        ] {
            self.put(format!("{floor}: {name}"), money(amount));
        }
        assert_eq!(option.quote.total, estimate.total());
        for one in &option.quote.extras {
            self.put(format!("{floor}: quote extra {}", one.extra), money(one.price));
        }
        for could in &option.quote.could_add {
            let value = format!("{}, {} days", money(could.adds), could.days);
            self.put(format!("{floor}: could add {}", could.addition), value);
        }
        let shop = self.case.shop;
        let paid = payments(option.quote.total, &shop.payments, &shop.limits);
        let paid: Vec<String> = paid.iter().map(|payment| money(payment.amount)).collect();
        self.put(format!("{floor}: payments"), paid.join(" + "));
    }

    fn clocks(&mut self, option: &FloorOption<'_>) {
        let floor = option.key();
        let schedule = &option.estimate.schedule;
        for (at, stretch) in schedule.stretches.iter().enumerate() {
            let (from, to) = (clock(stretch.from), clock(stretch.to));
            let value = format!("{}, {from} to {to}", task(&stretch.task));
            self.put(format!("{floor}: stretch {:02}", at + 1), value);
        }
        for (name, moment) in [
            ("done", schedule.done),
            ("walk", schedule.walk),
            ("carry", schedule.carry),
            ("drive", schedule.drive),
        ] {
            self.put(format!("{floor}: {name}"), clock(moment));
        }
        self.put(format!("{floor}: days"), schedule.days.to_string());
        for missed in &schedule.missed {
            let value = format!("{:.4} h", missed.late_by.as_hours());
            self.put(format!("{floor}: missed {}", task(&missed.task)), value);
        }
        let one = schedule.one_day;
        let (needs, waits, has) = (one.needs.as_hours(), one.waits.as_hours(), one.has.as_hours());
        let value = format!("needs {needs:.4} h, waits {waits:.4} h, has {has:.4} h");
        self.put(format!("{floor}: one day"), value);
        for laid in &schedule.coats {
            let times = &laid.cure.times;
            let value = format!(
                "pot life {:.2} min, recoat {:.4} to {:.4} h, foot {:.4} h, car {:.4} h, by {}",
                times.pot_life.as_minutes(),
                times.recoat_from.as_hours(),
                times.recoat_to.as_hours(),
                times.foot.as_hours(),
                times.vehicle.as_hours(),
                if laid.cure.basis == CureBasis::Sheet { "sheet" } else { "rule" },
            );
            self.put(format!("{floor}: times {}", laid.coat), value);
        }
    }

    fn mixing(&mut self, option: &FloorOption<'_>) {
        let floor = option.key();
        for (coat, batches) in &option.estimate.batches {
            let parts: Vec<String> =
                batches.parts.iter().map(|part| format!("{:.4}", self.number(*part))).collect();
            let value = format!(
                "{} of {} ({}), {} each, placed in {:.4} min, every {:.4} min, {}",
                batches.count,
                self.volume(batches.volume),
                parts.join(" + "),
                self.area(batches.area),
                batches.placed_in.as_minutes(),
                batches.every.as_minutes(),
                format!("{:?}", batches.verdict).to_lowercase(),
            );
            self.put(format!("{floor}: batches {coat}"), value);
        }
        for (key, air) in coat_airs(self.case, option) {
            let room = self.volume(air.closed_room.expect("a room with a height"));
            let value = if self.us() {
                format!(
                    "fire {:.2} cfm, health {:.2} cfm, closed room {room}",
                    air.fire.as_cubic_feet_per_minute(),
                    air.health.as_cubic_feet_per_minute(),
                )
            } else {
                format!(
                    "fire {:.2} m3/h, health {:.2} m3/h, closed room {room}",
                    air.fire.as_cubic_meters_per_hour(),
                    air.health.as_cubic_meters_per_hour(),
                )
            };
            self.put(format!("{floor}: air {key}"), value);
        }
    }

    fn chances(&mut self) {
        let offered: Vec<&FloorOption<'_>> = self.case.options.iter().collect();
        for pair in even_chances(self.case, &offered) {
            let Chance::Even(share) = pair.chance else { panic!("no chance: {pair:?}") };
            let hundred = pair.chance.in_hundred().expect("a chance");
            let value = format!(
                "extra {}, redo {} + {}, chance {}, {hundred} in 100",
                money(pair.extra),
                money(pair.redo.floor),
                money(pair.redo.strip),
                share.round_dp(6),
            );
            self.put(format!("{} or {}", pair.plain, pair.barrier), value);
        }
    }
}

// ----------------------------------------------------------------------------------- comparison

/// Demands that the program comes to every figure of a working, and to none that it leaves out.
#[track_caller]
fn comes_to_the_working(job: &str) {
    let input = input(job);
    let (by_hand, found) = (worked(job), Ledger::of(&case(&input)));
    let mut wrong = String::new();
    for (key, worked) in &by_hand {
        let found = found.get(key).map_or("nothing", String::as_str);
        if found != worked {
            writeln!(wrong, "{key}\n  by hand {worked}\n  found   {found}").expect("a text");
        }
    }
    for (key, found) in found.iter().filter(|(key, _)| !by_hand.contains_key(*key)) {
        writeln!(wrong, "{key}\n  by hand nothing\n  found   {found}").expect("a text");
    }
    assert!(wrong.is_empty(), "{job}:\n{wrong}");
}

#[test]
fn a_plain_rectangle_comes_to_what_was_worked_by_hand() {
    comes_to_the_working("plain-rectangle");
}

#[test]
fn an_l_with_everything_to_mend_comes_to_what_was_worked_by_hand() {
    comes_to_the_working("crossing-a-holiday");
}

#[test]
fn a_cold_slab_over_a_short_night_comes_to_what_was_worked_by_hand() {
    comes_to_the_working("short-night");
}

#[test]
fn papers_print_what_was_worked_by_hand() {
    for (job, paper) in JOBS.iter().zip(PAPERS.iter()) {
        let lines = on_the_paper(job);
        assert!(lines.len() >= 5, "{job} has {} lines for the paper", lines.len());
        for line in lines {
            paper.must_show(&line);
        }
    }
}
