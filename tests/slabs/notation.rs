//! The notation of slabs, clause by clause, parted by semicolons:
//!
//! | clause | meaning |
//! | --- | --- |
//! | `sheet`, `no-sheet`, `?`, `hung` | known beneath; known not to be there; not known; not on the ground |
//! | `wish lasting`, `no-wish` | in place of the wish for a quick floor |
//! | `offer B F` | in place of `F B` |
//! | `F 3lb 75% body:3lb both ground:sheet life:15` | a floor's terms in place of its usual ones |
//! | `paper 2026-08-20` | in place of 12 May 2026 |
//! | `area 60` | square feet, in place of 400 |
//! | `sealed` | the slab was sealed once |
//! | `04-28 d 1x3 left=4.5,void; p 60x3` | a visit; its day may be left out for 5 May, `2025-` may stand before it |
//!
//! In a visit `d`, `p` and `s` begin dishes, probes and plastic sheets. Before the readings may stand
//! `room:48F/50%`, `no-room`, `as-used`, `unsettled`, `scale:0.2`, `accuracy:4`. A reading is
//! `[place=]value[~doubt][xTIMES][,fault...]`, with `void`, `58h`, `bare`, `coated`, `no-surface`,
//! `2in` (depth), `new`, `cal:40d` (days since), `no-cal`, `open`. Readings without a place have the
//! places 1, 2, 3 ...: the same places on every visit.

use jiff::civil::{Date, date};
use slableaf::model::job::Known;

pub const PAPER: Date = date(2026, 5, 12);
const VISIT: Date = date(2026, 5, 5);

#[derive(Debug, Clone)]
pub struct Slab {
    pub on_ground: bool,
    pub sheet: Known,
    pub wishes: Vec<String>,
    /// In the order of the offer.
    pub floors: Vec<Floor>,
    pub paper: Date,
    pub area: f64,
    pub sealed: bool,
    pub visits: Vec<Visit>,
}

#[derive(Debug, Clone, PartialEq)]
pub struct Floor {
    pub letter: char,
    pub barrier: bool,
    pub pounds: Option<f64>,
    pub percent: Option<f64>,
    /// The dish limit of a coat between the first one and the top.
    pub body: Option<f64>,
    pub asks: String,
    pub ground: Option<String>,
    pub life: u32,
}

#[derive(Debug, Clone)]
pub struct Visit {
    pub day: Date,
    pub scale: f64,
    pub room: Option<(f64, f64)>,
    pub as_used: bool,
    pub settled: bool,
    pub accuracy: Option<f64>,
    pub dishes: Vec<Dish>,
    pub probes: Vec<Probe>,
    pub sheets: Vec<Sheet>,
}

#[derive(Debug, Clone)]
pub struct Dish {
    pub place: String,
    pub pounds: f64,
    /// Concrete under it in square feet.
    pub over: f64,
    pub hours: f64,
    pub surface: Option<&'static str>,
    pub void: bool,
}

#[derive(Debug, Clone)]
pub struct Probe {
    pub place: String,
    pub percent: f64,
    pub inches: f64,
    pub hours: f64,
    pub checked: Checked,
    pub void: bool,
}

#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Checked {
    /// So many days before the reading.
    Before(i64),
    New,
    Unknown,
}

#[derive(Debug, Clone)]
pub struct Sheet {
    pub place: String,
    pub damp: bool,
    pub hours: f64,
    pub sealed: bool,
    pub void: bool,
}

impl Visit {
    /// A visit to the methods, with no test yet.
    pub fn on(day: Date) -> Self {
        Self {
            day,
            scale: 0.1,
            room: Some((70.0, 50.0)),
            as_used: false,
            settled: true,
            accuracy: None,
            dishes: vec![],
            probes: vec![],
            sheets: vec![],
        }
    }
}

impl Dish {
    pub fn good(place: &str, pounds: f64) -> Self {
        let surface = Some("ground-open-24h");
        Self { place: place.to_owned(), pounds, over: 0.5, hours: 66.0, surface, void: false }
    }
}

impl Probe {
    /// In a slab of 4 in the hole is 1.6 in deep.
    pub fn good(place: &str, percent: f64) -> Self {
        let checked = Checked::Before(5);
        Self { place: place.to_owned(), percent, inches: 1.6, hours: 48.0, checked, void: false }
    }
}

impl Sheet {
    pub fn good(place: &str, damp: bool) -> Self {
        Self { place: place.to_owned(), damp, hours: 18.0, sealed: true, void: false }
    }
}

impl Floor {
    #[track_caller]
    pub fn usual(letter: char) -> Self {
        let (barrier, pounds, percent) = match letter {
            'F' | 'G' | 'K' => (false, 3.0, 75.0),
            'B' => (true, 20.0, 99.0),
            other => panic!("no floor {other}"),
        };
        Self {
            letter,
            barrier,
            pounds: Some(pounds),
            percent: Some(percent),
            body: None,
            asks: "either".to_owned(),
            ground: None,
            life: if letter == 'K' { 5 } else { 20 },
        }
    }
}

#[track_caller]
fn number(text: &str) -> f64 {
    text.parse().unwrap_or_else(|_| panic!("`{text}` is no number"))
}

impl From<&str> for Slab {
    #[track_caller]
    fn from(text: &str) -> Self {
        let mut slab = Self {
            on_ground: true,
            sheet: Known::Unknown,
            wishes: vec!["quick".to_owned()],
            floors: vec![Floor::usual('F'), Floor::usual('B')],
            paper: PAPER,
            area: 400.0,
            sealed: false,
            visits: vec![],
        };
        for clause in text.split(';') {
            let words: Vec<&str> = clause.split_whitespace().collect();
            let Some((first, rest)) = words.split_first() else { continue };
            slab.clause(first, rest);
        }
        slab
    }
}

impl Slab {
    #[track_caller]
    fn clause(&mut self, first: &str, rest: &[&str]) {
        match first {
            "sheet" => self.sheet = Known::Yes,
            "no-sheet" => self.sheet = Known::No,
            "?" => self.sheet = Known::Unknown,
            "hung" => self.on_ground = false,
            "sealed" => self.sealed = true,
            "wish" => self.wishes = rest.iter().map(|word| (*word).to_owned()).collect(),
            "no-wish" => self.wishes.clear(),
            "offer" => self.floors = rest.iter().map(|word| Floor::usual(one(word))).collect(),
            "paper" => self.paper = day(rest[0]).expect("a day"),
            "area" => self.area = number(rest[0]),
            "F" | "B" | "K" => {
                let floor = self.floors.iter_mut().find(|floor| floor.letter == one(first));
                floor.expect("a floor on offer").terms(rest);
            }
            "d" | "p" | "s" => self.visit(VISIT, &[&[first], rest].concat()),
            other => self.visit(day(other).unwrap_or_else(|| panic!("`{other}`?")), rest),
        }
    }

    #[track_caller]
    fn visit(&mut self, day: Date, words: &[&str]) {
        let mut visit = Visit::on(day);
        let mut method = ' ';
        for word in words {
            match *word {
                "d" | "p" | "s" => method = one(word),
                "no-room" => visit.room = None,
                "as-used" => visit.as_used = true,
                "unsettled" => visit.settled = false,
                word => match word.split_once(':') {
                    Some(("room", air)) => {
                        let (warm, damp) = air.split_once('/').expect("48F/50%");
                        let ends: &[char] = &['F', '%'];
                        visit.room = Some((
                            number(warm.trim_end_matches(ends)),
                            number(damp.trim_end_matches(ends)),
                        ));
                    }
                    Some(("scale", step)) => visit.scale = number(step),
                    Some(("accuracy", points)) => visit.accuracy = Some(number(points)),
                    _ => visit.readings(method, word),
                },
            }
        }
        self.visits.push(visit);
    }
}

#[track_caller]
fn one(word: &str) -> char {
    let mut letters = word.chars();
    letters.next().filter(|_| letters.next().is_none()).expect("one letter")
}

/// `05-12`, or with its year.
fn day(text: &str) -> Option<Date> {
    if text.len() == 5 { format!("2026-{text}").parse().ok() } else { text.parse().ok() }
}

impl Floor {
    #[track_caller]
    fn terms(&mut self, words: &[&str]) {
        let limits = |word: &&&str| word.ends_with("lb") || word.ends_with('%');
        if words.iter().any(|word| limits(&word) && !word.contains(':')) {
            (self.pounds, self.percent) = (None, None);
        }
        for word in words {
            match word.split_once(':') {
                Some(("body", limit)) => self.body = Some(number(limit.trim_end_matches("lb"))),
                Some(("ground", asked)) => self.ground = Some(asked.to_owned()),
                Some(("life", years)) => self.life = years.parse().expect("years"),
                Some(_) => panic!("`{word}`?"),
                None if word.ends_with("lb") => {
                    self.pounds = Some(number(word.trim_end_matches("lb")));
                }
                None if word.ends_with('%') => {
                    self.percent = Some(number(word.trim_end_matches('%')));
                }
                None if *word == "no-limit" => (self.pounds, self.percent) = (None, None),
                None => self.asks = (*word).to_owned(),
            }
        }
    }
}

impl Visit {
    #[track_caller]
    fn readings(&mut self, method: char, word: &str) {
        let (place, rest) = word.split_once('=').map_or((None, word), |(p, rest)| (Some(p), rest));
        let mut parts = rest.split(',');
        let value = parts.next().expect("a value");
        let faults: Vec<&str> = parts.collect();
        let (value, times) = value.split_once('x').map_or((value, 1), |(value, times)| {
            (value, times.parse().unwrap_or_else(|_| panic!("`{word}`?")))
        });
        let (value, doubt) = value
            .split_once('~')
            .map_or((value, None), |(value, doubt)| (value, Some(number(doubt))));
        for _ in 0..times {
            match method {
                'd' => {
                    let name = place.map_or((self.dishes.len() + 1).to_string(), str::to_owned);
                    let mut dish = Dish::good(&name, number(value));
                    faults.iter().for_each(|fault| dish.fault(fault));
                    if let Some(doubt) = doubt {
                        // Two weighings on this scale, over the area that makes them so doubtful.
                        let gain = self.scale * std::f64::consts::SQRT_2;
                        dish.over = gain * 52.910_943 / (doubt * dish.hours);
                    }
                    self.dishes.push(dish);
                }
                'p' => {
                    let name = place.map_or((self.probes.len() + 1).to_string(), str::to_owned);
                    let mut probe = Probe::good(&name, number(value));
                    faults.iter().for_each(|fault| probe.fault(fault));
                    self.probes.push(probe);
                }
                's' => {
                    let name = place.map_or((self.sheets.len() + 1).to_string(), str::to_owned);
                    let mut sheet = Sheet::good(&name, value == "damp");
                    faults.iter().for_each(|fault| sheet.fault(fault));
                    self.sheets.push(sheet);
                }
                _ => panic!("`{word}` of no method"),
            }
        }
    }
}

/// `58h` as hours.
#[track_caller]
fn hours(fault: &str) -> f64 {
    number(fault.strip_suffix('h').unwrap_or_else(|| panic!("fault `{fault}`?")))
}

impl Dish {
    #[track_caller]
    fn fault(&mut self, fault: &str) {
        match fault {
            "void" => self.void = true,
            "bare" => self.surface = Some("bare"),
            "coated" => self.surface = Some("coated"),
            "no-surface" => self.surface = None,
            other => self.hours = hours(other),
        }
    }
}

impl Probe {
    #[track_caller]
    fn fault(&mut self, fault: &str) {
        match fault {
            "void" => self.void = true,
            "new" => self.checked = Checked::New,
            "no-cal" => self.checked = Checked::Unknown,
            other => match (other.strip_prefix("cal:"), other.strip_suffix("in")) {
                (Some(days), _) => {
                    let days = days.trim_end_matches('d').parse().expect("days");
                    self.checked = Checked::Before(days);
                }
                (_, Some(inches)) => self.inches = number(inches),
                _ => self.hours = hours(other),
            },
        }
    }
}

impl Sheet {
    #[track_caller]
    fn fault(&mut self, fault: &str) {
        match fault {
            "void" => self.void = true,
            "open" => self.sealed = false,
            other => self.hours = hours(other),
        }
    }
}
