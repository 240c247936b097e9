//! Random jobs: slabs, tests, wishes, as text.

use std::fmt::Write;

use jiff::civil::{Date, DateTime, date};
use jiff::{Span, ToSpan};

use super::dice::Dice;
use super::files::FLOORS;

const PLACES: [&str; 6] =
    ["left bay", "middle", "right bay", "by the door", "back wall", "near the drain"];
const DAY: Date = date(2026, 6, 3);

/// A text to which lines are put.
struct Lines {
    text: String,
}

impl Lines {
    fn put(&mut self, line: impl AsRef<str>) {
        self.text.push_str(line.as_ref());
        self.text.push('\n');
    }

    /// A line, so many times of a hundred.
    fn maybe(&mut self, d: &mut Dice, share: usize, line: impl AsRef<str>) {
        if d.percent(share) {
            self.put(line);
        }
    }
}

/// The outline of a job before its lines are written.
struct Plan {
    metric: bool,
    small: bool,
}

impl Plan {
    /// A length given in feet, in the job's units.
    fn length(&self, feet: f64) -> String {
        if self.metric {
            format!("\"{:.2} m\"", feet * 0.3048)
        } else {
            format!("\"{feet:.1} ft\"")
        }
    }

    fn small_length(&self, inches: f64) -> String {
        if self.metric {
            format!("\"{:.1} mm\"", inches * 25.4)
        } else {
            format!("\"{inches:.4} in\"")
        }
    }

    fn temperature(&self, fahrenheit: f64) -> String {
        if self.metric {
            format!("\"{:.1} C\"", (fahrenheit - 32.0) / 1.8)
        } else {
            format!("\"{fahrenheit:.1} F\"")
        }
    }
}

/// A job as its file says it.
pub fn job(d: &mut Dice, metric: bool, language: &str) -> String {
    let plan = Plan { metric, small: d.percent(20) };
    let mut l = Lines { text: String::new() };
    let quoted = |words: Vec<&str>| {
        let words: Vec<String> = words.iter().map(|word| format!("\"{word}\"")).collect();
        words.join(", ")
    };
    l.put("number = \"2026-0300\"");
    l.put(format!("date = {DAY}"));
    l.put(format!("units = \"{}\"", if metric { "metric" } else { "us" }));
    l.put(format!("language = \"{language}\""));
    l.put("invented = true");
    let offer = d.some(&FLOORS, 1);
    l.put(format!("offer = [{}]", quoted(offer.clone())));
    let wishes = ["quick", "lasting", "low-price", "no-yellowing", "moisture-room"];
    l.put(format!("wishes = [{}]", quoted(d.some(&wishes, 0))));
    if offer.contains(&"clear-epoxy") && d.percent(40) {
        l.put("[extras]\nclear-epoxy = [\"urethane-coat\"]");
    }
    l.put("[customer]\nname = \"Ada Beispiel\"\naddress = [\"1 Cattail Court\"]");
    l.maybe(d, 30, "signers = [\"Ada Beispiel\", \"Otto Beispiel\"]");
    l.put("[house]\nbuilt = 1996");
    slab(d, &plan, &mut l);
    shapes(d, &plan, &mut l);
    visits(d, &plan, &mut l);
    air(d, &plan, &mut l);
    l.put("[garage]\nsold-at-home = true");
    l.put(format!("daylight = {}", d.percent(70)));
    l.put(format!("wet = {}", d.percent(50)));
    l.maybe(d, 60, format!("height = {}", plan.length(9.0)));
    l.maybe(d, 50, "ignition = [\"wall heater on gas\"]");
    if d.percent(70) {
        let start = after(DAY, d.pick(&[1, 9, 40, 100]));
        l.put(format!("[plan]\nstart = {start}"));
    }
    l.text
}

fn after(day: Date, days: i64) -> Date {
    day.checked_add(Span::new().days(days)).expect("a day")
}

fn slab(d: &mut Dice, plan: &Plan, l: &mut Lines) {
    l.put("[slab]");
    l.put(format!("on-ground = {}", d.percent(75)));
    l.put(format!("vapor-retarder = \"{}\"", d.pick(&["yes", "no", "unknown", "unknown"])));
    l.maybe(d, 80, format!("thickness = {}", plan.small_length(4.0)));
    match d.below(4) {
        0 => {}
        1 => l.put(format!("poured = {}", after(DAY, -d.pick(&[9, 40, 400, 400, 400])))),
        _ => l.put(format!("poured-year = {}", d.pick(&[1994, 2016, 2026]))),
    }
    if d.percent(60) {
        let psi = d.pick(&[150.0, 199.0, 310.0, 310.0, 385.0, 385.0, 385.0, 385.0]);
        let strength =
            if plan.metric { format!("{:.2} MPa", psi / 145.04) } else { format!("{psi} psi") };
        l.put(format!("surface-strength = \"{strength}\""));
    }
    let drop = d.pick(&["soaks-in", "soaks-in", "beads"]);
    l.maybe(d, 80, format!("water-drop = \"{drop}\""));
    for key in ["oil", "salts"] {
        if d.percent(80) {
            l.put(format!("{key} = {}", d.percent(25)));
        }
    }
    if d.percent(90) {
        let coating = d.pick(&["none", "none", "none", "paint", "sealer", "epoxy"]);
        l.put(format!("old-coating = \"{coating}\""));
    }
    let glue = if d.percent(10) { d.pick(&["dark", "light"]) } else { "none" };
    l.put(format!("tile-glue = \"{glue}\""));
    if d.percent(30) {
        let treatment = d.pick(&["densifier", "silicone", "wax", "curing-compound"]);
        l.put(format!("treatments = [\"{treatment}\"]"));
    }
    if d.percent(30) {
        l.put(format!("ph = {}", d.pick(&["9.5", "10", "10.5", "12.5"])));
    }
}

fn shapes(d: &mut Dice, plan: &Plan, l: &mut Lines) {
    let (length, width) = match plan.small {
        true => (d.within(7.0, 9.0), d.within(7.0, 9.0)),
        false => (d.within(18.0, 40.0), d.within(18.0, 40.0)),
    };
    l.put("[[area]]\nname = \"Garage floor\"");
    l.put(format!("length = {}\nwidth = {}", plan.length(length), plan.length(width)));
    if d.percent(40) {
        l.put(format!(
            "[[upright]]\nlength = {}\nheight = {}",
            plan.length(d.within(5.0, 60.0)),
            plan.small_length(d.within(3.0, 7.0))
        ));
    }
    if d.percent(30) {
        l.put(format!("[[steps]]\ncount = {}", d.pick(&[1, 2, 3])));
        l.put(format!(
            "width = {}\ntread = {}\nriser = {}",
            plan.length(4.0),
            plan.small_length(11.0),
            plan.small_length(7.0)
        ));
    }
    for _ in 0..d.pick(&[0, 0, 1, 1, 2, 4]) {
        let wide = d.pick(&[0.04, 0.04, 0.125, 0.25]);
        l.put(format!(
            "[[crack]]\nlength = {}\nwidth = {}",
            plan.length(d.within(1.0, 20.0)),
            plan.small_length(wide)
        ));
        let moves = d.pick(&["no", "no", "yes", "unknown"]);
        l.maybe(d, 80, format!("moves = \"{moves}\""));
    }
    for _ in 0..d.pick(&[0, 1, 2]) {
        l.put(format!(
            "[[joint]]\nlength = {}\ntreatment = \"{}\"",
            plan.length(d.within(8.0, 20.0)),
            d.pick(&["honor", "fill"])
        ));
    }
    for _ in 0..d.pick(&[0, 0, 1, 2]) {
        l.put(format!(
            "[[spall]]\nlength = {}\nwidth = {}\ndepth = {}",
            plan.length(1.0),
            plan.small_length(6.0),
            plan.small_length(0.5)
        ));
    }
    if d.percent(20) {
        l.put(format!(
            "[[cove]]\nlength = {}\nradius = {}",
            plan.length(20.0),
            plan.small_length(1.0)
        ));
    }
}

fn air(d: &mut Dice, plan: &Plan, l: &mut Lines) {
    if d.percent(15) {
        return;
    }
    let (air, humidity, slab) = match d.below(6) {
        0 => (75.0, 88.0, 62.0),
        1 => (45.0, 60.0, 40.0),
        2 => (99.0, 35.0, 97.0),
        3 => (66.0, 75.0, 62.0),
        _ => (d.within(60.0, 78.0), d.within(30.0, 60.0), d.within(58.0, 76.0)),
    };
    l.put(format!("[air]\nmeasured = {}", after(DAY, -d.pick(&[1, 5, 30]))));
    l.put(format!(
        "temperature = {}\nhumidity = \"{humidity:.0} %\"\nslab = {}",
        plan.temperature(air),
        plan.temperature(slab)
    ));
}

// ------------------------------------------------------------------------------------ the tests

fn visits(d: &mut Dice, plan: &Plan, l: &mut Lines) {
    let count = d.pick(&[0, 1, 1, 1, 1, 2, 2, 3]);
    let last = d.pick(&[3, 5, 20, 31, 60, 60, 80, 100, 300]);
    // How damp the slab is, against a limit of 3 lb or 75 %.
    let damp = d.pick(&[0.1, 0.3, 0.3, 0.5, 0.5, 0.7, 0.9, 1.0, 1.1, 1.6, 4.0, 8.0]);
    let good = d.percent(80);
    let mut back = last + (count - 1).max(0) * d.pick(&[30, 60, 200]);
    for at in 0..count {
        let table = if at == 0 { "moisture" } else { "moisture.visit" };
        if at > 0 {
            l.put("[[moisture.visit]]");
        }
        let day = after(DAY, -back);
        let kinds = d.pick(&["d", "d", "d", "p", "p", "dp", "s", "ds"]);
        let damp = if at + 1 < count && d.percent(50) { damp * 1.8 } else { damp };
        let places = d.some(&PLACES, if good && !plan.small { 4 } else { 1 });
        let test = Test { d, plan, table, day, damp, places, good };
        test.write(kinds, l);
        back = (back - d.pick(&[20, 40, 60])).max(last.min(back - 1).max(2));
    }
}

struct Test<'a> {
    d: &'a mut Dice,
    plan: &'a Plan,
    table: &'a str,
    day: Date,
    damp: f64,
    places: Vec<&'static str>,
    good: bool,
}

impl Test<'_> {
    fn write(self, kinds: &str, l: &mut Lines) {
        let Test { d, plan, table, day, damp, places, good } = self;
        let noon: DateTime = day.at(9, 0, 0, 0);
        let back = |hours: i64| noon.checked_sub(hours.hours()).expect("a time");
        let slips = |d: &mut Dice| !good && d.percent(30);
        let void = |d: &mut Dice, l: &mut Lines| l.maybe(d, 6, "void = \"knocked over\"");
        if kinds.contains('d') {
            let scale = if d.percent(20) { 1.0 } else { 0.1 };
            l.put(format!("[{table}.dishes]\nscale = \"{scale} g\"\nsettled = {}", !slips(d)));
            if !slips(d) {
                let (room, air) = if slips(d) { (50.0, 55.0) } else { (70.0, 50.0) };
                l.put(format!("room-temperature = {}", plan.temperature(room)));
                l.put(format!("room-humidity = \"{air} %\""));
            }
            for place in &places {
                let hours = if slips(d) { 40 } else { 70 };
                let pounds = 3.0 * damp * d.within(0.6, 1.05);
                let gain = pounds * 453.592_37 * 65.7 / 144_000.0 * hours as f64 / 24.0;
                let gain = (gain / scale).round() * scale;
                l.put(format!("[[{table}.dishes.dish]]\nplace = \"{place}\""));
                l.put("exposed = \"65.7 in2\"\nbefore = \"218.0 g\"");
                l.put(format!("after = \"{:.1} g\"", 218.0 + gain));
                l.put(format!("set = {}\nlifted = {noon}", back(hours)));
                if !slips(d) {
                    l.put("surface = \"ground-open-24h\"");
                }
                void(d, l);
            }
        }
        if kinds.contains('p') {
            let mut text = String::new();
            let _ = write!(text, "[{table}.probes]\nedition = 2019\nsettled = {}", !slips(d));
            l.put(text);
            for place in &places {
                let reading = (75.0 * damp.min(1.4) * d.within(0.8, 1.02)).min(100.0);
                l.put(format!("[[{table}.probes.probe]]\nplace = \"{place}\""));
                let deep = if slips(d) { d.pick(&[0.6, 2.8]) } else { 1.6 };
                l.put(format!("depth = {}", plan.small_length(deep)));
                l.put(format!("reading = \"{reading:.1} %\""));
                l.put(format!("drilled = {}\nread = {noon}", back(if slips(d) { 5 } else { 72 })));
                if !slips(d) {
                    l.put("calibrated = \"new\"");
                }
                void(d, l);
            }
        }
        if kinds.contains('s') {
            for place in &places {
                l.put(format!("[[{table}.plastic-sheet]]\nplace = \"{place}\""));
                l.put(format!("taped = {}\nlifted = {noon}", back(if slips(d) { 6 } else { 20 })));
                l.put(format!("sealed = {}", !slips(d)));
                l.put(format!("found = \"{}\"", if damp > 1.0 { "damp" } else { "dry" }));
                void(d, l);
            }
        }
    }
}
