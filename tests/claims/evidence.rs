//! The evidence of the moisture tests of a job, worked out from its file alone: which readings were made to
//! their method, which of them count, and if they keep clear of a limit.

use jiff::civil::{Date, DateTime};
use serde_json::Value;
use toml::Table;

use super::files::number;
use super::reader::{GRAMS, Way, list, text};

/// One reading, in pounds or percent.
#[derive(Debug, Clone)]
pub struct One {
    pub way: Way,
    pub place: String,
    pub value: f64,
    pub doubt: f64,
    pub to: DateTime,
    /// Made to its method in every point that could make it read low.
    pub good: bool,
    pub void: bool,
}

/// All readings of a job.
#[derive(Debug, Clone, Default)]
pub struct Tests {
    pub all: Vec<One>,
    needed: u64,
    reading_days: i64,
    look_back: i64,
    date: Date,
    open_to_ground: bool,
}

/// The lowest limit of the coats up to the first barrier, in pounds or percent.
pub fn limit(products: &[Table], way: Way) -> Option<f64> {
    let key = if way == Way::Dish { "mver-limit" } else { "rh-limit" };
    let is_barrier = |p: &Table| p.get("barrier").and_then(|b| b.as_bool()) == Some(true);
    let end = products.iter().position(is_barrier).map_or(products.len(), |at| at + 1);
    let limits = products[..end].iter().filter_map(|product| {
        let limit = product.get(key)?.as_str()?;
        let by = if limit.contains("g/m2") { 1.0 / GRAMS } else { 1.0 };
        Some(number(limit) * by)
    });
    limits.reduce(f64::min)
}

fn time(table: &toml::Value, key: &str) -> DateTime {
    table[key].to_string().parse().unwrap_or_else(|error| panic!("{key}: {error}"))
}

fn yes(table: &toml::Value, key: &str) -> bool {
    table.get(key).and_then(toml::Value::as_bool) == Some(true)
}

fn amount(table: &toml::Value, key: &str) -> Option<f64> {
    Some(number(table.get(key)?.as_str()?))
}

fn hours(from: DateTime, to: DateTime) -> f64 {
    to.duration_since(from).as_secs_f64() / 3600.0
}

/// A temperature in Fahrenheit.
fn fahrenheit(table: &toml::Value, key: &str) -> Option<f64> {
    let value = amount(table, key)?;
    let celsius = table[key].as_str()?.ends_with('C');
    Some(if celsius { value * 1.8 + 32.0 } else { value })
}

impl Tests {
    pub fn of(job: &Table, shop: &Table, form: &Value) -> Self {
        let testing = |key: &str, usual| {
            let set = shop.get("testing").and_then(|testing| testing.get(key)?.as_integer());
            set.unwrap_or(usual)
        };
        let slab = &job["slab"];
        let sheet = slab.get("vapor-retarder").and_then(toml::Value::as_str) == Some("yes");
        let mut tests = Self {
            all: vec![],
            needed: form["moisture"]["tests_needed"].as_u64().expect("a count"),
            reading_days: testing("reading-days", 90),
            look_back: testing("look-back-days", 365),
            date: text(&form["date"]).parse().expect("a date"),
            open_to_ground: yes(slab, "on-ground") && !sheet,
        };
        if let Some(moisture) = job.get("moisture") {
            tests.visit(moisture, slab);
            let later = moisture.get("visit").and_then(toml::Value::as_array);
            for visit in later.into_iter().flatten() {
                tests.visit(visit, slab);
            }
        }
        tests.doubts(form);
        tests
    }

    fn visit(&mut self, visit: &toml::Value, slab: &toml::Value) {
        if let Some(dishes) = visit.get("dishes") {
            let room = fahrenheit(dishes, "room-temperature").zip(amount(dishes, "room-humidity"));
            let room = room.is_some_and(|(warm, humid)| warm >= 65.0 && humid <= 60.0);
            for dish in dishes["dish"].as_array().into_iter().flatten() {
                let (from, to) = (time(dish, "set"), time(dish, "lifted"));
                let gain = amount(dish, "after").zip(amount(dish, "before"));
                let gain = gain.map_or(0.0, |(after, before)| after - before);
                let exposed = amount(dish, "exposed").expect("an area") / 144.0;
                // ASTM F1869: 60 to 72 hours on concrete ground and left open.
                let stood = hours(from, to);
                let open = dish.get("surface").and_then(toml::Value::as_str);
                let good = (59.7..=72.3).contains(&stood)
                    && open == Some("ground-open-24h")
                    && room
                    && yes(dishes, "settled");
                let value = gain / 453.592_37 * 1000.0 / exposed * 24.0 / stood;
                self.put(Way::Dish, dish, value, to, good);
            }
        }
        if let Some(probes) = visit.get("probes") {
            for probe in probes["probe"].as_array().into_iter().flatten() {
                let (from, to) = (time(probe, "drilled"), time(probe, "read"));
                // ASTM F2170, 2018 and later: 24 hours, at 40 % of a slab that
                // dries from one side, 20 % of one that dries from two.
                let metric = probe["depth"].as_str().is_some_and(|depth| depth.ends_with("mm"));
                let inch = if metric { 25.4 } else { 1.0 };
                let deep = amount(probe, "depth").unwrap_or(0.0) / inch;
                let thick = amount(slab, "thickness").map(|thick| thick / inch);
                let part = if yes(slab, "on-ground") { 0.4 } else { 0.2 };
                let deep_enough = thick.is_some_and(|thick| deep > part * thick - 0.3);
                let good = hours(from, to) >= 24.0
                    && deep_enough
                    && probe.get("calibrated").is_some()
                    && yes(probes, "settled");
                let value = amount(probe, "reading").expect("a reading");
                self.put(Way::Probe, probe, value, to, good);
            }
        }
    }

    fn put(&mut self, way: Way, table: &toml::Value, value: f64, to: DateTime, good: bool) {
        let place = table["place"].as_str().expect("a place").to_owned();
        let void = table.get("void").is_some();
        self.all.push(One { way, place, value, doubt: 0.0, to, good: good && !void, void });
    }

    /// The doubt of each reading, as the results have it.
    fn doubts(&mut self, form: &Value) {
        for one in &mut self.all {
            let (kind, key) = match one.way {
                Way::Dish => ("dishes", "doubt_lb_per_1000ft2_24h"),
                Way::Probe => ("probes", "doubt_percent"),
            };
            let known = list(&form["moisture"][kind]["readings"]);
            let same =
                |r: &&Value| text(&r["place"]) == one.place && text(&r["to"]) == one.to.to_string();
            let doubt = known.iter().find(same).and_then(|r| r[key].as_f64());
            one.doubt = doubt.unwrap_or(f64::INFINITY);
        }
    }

    pub fn by(&self, way: Way) -> impl Iterator<Item = &One> {
        self.all.iter().filter(move |one| one.way == way)
    }

    /// A later good reading at the same place.
    pub fn answer(&self, one: &One) -> Option<&One> {
        let later = self
            .by(one.way)
            .filter(|other| other.good && other.place == one.place && other.to > one.to);
        later.max_by_key(|other| other.to)
    }

    /// The readings that count: those without a later good reading at their place, and none void.
    pub fn counting(&self, way: Way) -> Vec<&One> {
        self.by(way).filter(|one| !one.void && self.answer(one).is_none()).collect()
    }

    pub fn highest(&self, way: Way) -> Option<&One> {
        self.counting(way).into_iter().max_by(|a, b| a.value.total_cmp(&b.value))
    }

    pub fn last(&self) -> Option<DateTime> {
        let all = [Way::Dish, Way::Probe].into_iter().flat_map(|way| self.counting(way));
        all.map(|one| one.to).max()
    }

    /// True when a reading that counts is over the limit.
    pub fn over(&self, way: Way, limit: f64) -> bool {
        self.counting(way).iter().any(|one| one.value > limit * (1.0 + 1e-6))
    }

    /// True when a reading that counts is nearer to the limit than it can tell.
    pub fn near(&self, way: Way, limit: f64) -> bool {
        let top = |one: &One| match way {
            Way::Dish => one.value + one.doubt,
            Way::Probe => (one.value + one.doubt).min(100.0),
        };
        self.counting(way).iter().any(|one| top(one) > limit * (1.0 + 1e-4))
    }

    /// True when a place was over the limit within the time that is remembered, and reads lower now.
    pub fn was(&self, way: Way, limit: f64) -> bool {
        self.open_to_ground
            && self.by(way).any(|one| {
                let remembered = |answer: &One| {
                    let days = one.to.date().until(answer.to.date()).map_or(0, |s| s.get_days());
                    i64::from(days) <= self.look_back
                };
                !one.void && one.value > limit && self.answer(one).is_some_and(remembered)
            })
    }

    /// True when enough places have a good and recent reading, and none has only a void one over it.
    pub fn enough(&self, way: Way, limit: f64) -> bool {
        let recent = |one: &&&One| {
            let age = one.to.date().until(self.date).map_or(i32::MAX, |span| span.get_days());
            one.good && i64::from(age) <= self.reading_days
        };
        let counting = self.counting(way);
        let mut places: Vec<&str> =
            counting.iter().filter(recent).map(|one| one.place.as_str()).collect();
        places.sort_unstable();
        places.dedup();
        let spoiled =
            self.by(way).any(|one| one.void && one.value > limit && self.answer(one).is_none());
        places.len() as u64 >= self.needed && !spoiled
    }

    /// True when the tests prove a slab clear of a limit.
    pub fn clear(&self, way: Way, limit: f64) -> bool {
        self.enough(way, limit)
            && !self.over(way, limit)
            && !self.near(way, limit)
            && !self.was(way, limit)
    }
}
