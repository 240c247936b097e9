//! Repairs in the price of this slab: cracks by what is known of them, joints, holes, steps.

use std::sync::LazyLock;

use regex::Regex;

use super::reader::*;

/// A length as a job has it, in inches.
fn inches(value: &toml::Value) -> f64 {
    let shown = value.as_str().unwrap_or_default();
    let number = super::files::number(shown);
    match shown.rsplit(' ').next() {
        Some("ft") => number * 12.0,
        Some("m") => number / 0.0254,
        Some("mm") => number / 25.4,
        _ => number,
    }
}

/// A printed length in inches: `5 ft 3 in`, `4.2 m`.
fn printed_inches(printed: &str) -> f64 {
    let mut all = 0.0;
    let words: Vec<&str> = printed.split_whitespace().collect();
    for pair in words.chunks(2) {
        let [number, unit] = pair else { return f64::NAN };
        all += figure(number)
            * match *unit {
                "ft" => 12.0,
                "in" => 1.0,
                "m" => 1.0 / 0.0254,
                "mm" => 1.0 / 25.4,
                _ => f64::NAN,
            };
    }
    all
}

static MENDED: LazyLock<Vec<(&'static str, Regex)>> = LazyLock::new(|| {
    let all = [
        ("old", r"^Grinding off the old coating and hauling away its waste$"),
        ("fine", r"^Fine cracks, (.+?) total: cleaned out, and the first coat fills them$"),
        (
            "hard",
            r"^Cracks that do not move, (.+?) total: (?:once the slab is scanned, )?cut open, filled hard and ground flush$",
        ),
        (
            "unknown",
            r"^Cracks that may move, (.+?) total: (?:once the slab is scanned, )?cut open, filled hard and ground flush\. They may show again$",
        ),
        (
            "soft",
            r"^Cracks that move, (.+?) total: (?:once the slab is scanned, )?filled with a soft filler\. They may show again$",
        ),
        (
            "filled",
            r"^Joints, (.+?) total: (?:once the slab is scanned, )?filled with a soft filler\. The line may show$",
        ),
        ("open", r"^Joints, (.+?) total: left open, so that the slab can move$"),
        ("cove", r"^Cove \(rounded corner\) at the wall, (.+?)$"),
        (
            "spalls",
            r"^(One hole or broken spot|\d+ holes or broken spots), (.+?) total: patched and ground level$",
        ),
        ("upright", r"^(Low walls(?: and )?)?(?:(\d+) (steps?))?: coated like the floor$"),
    ];
    all.iter().map(|(name, text)| (*name, pattern(text))).collect()
});

/// The repairs are those of the job, by what is known of it.
pub fn read(r: &mut Reader<'_>) {
    let job = r.job.clone();
    let all = |key: &str| job.get(key).and_then(|all| all.as_array()).cloned().unwrap_or_default();
    let word = |one: &toml::Value, key: &str| {
        one.get(key).and_then(|word| word.as_str()).unwrap_or_default().to_owned()
    };
    let hairline = inches(&r.book["repair"]["hairline"]);
    let kind = |crack: &toml::Value| match word(crack, "moves").as_str() {
        "yes" => "soft",
        _ if inches(&crack["width"]) <= hairline => "fine",
        "no" => "hard",
        _ => "unknown",
    };
    let cracks = all("crack");
    let joints = all("joint");
    let length = |all: &[&toml::Value]| all.iter().map(|one| inches(&one["length"])).sum::<f64>();
    let of = |name: &str| -> f64 {
        match name {
            "cove" => length(&all("cove").iter().collect::<Vec<_>>()),
            "filled" | "open" => {
                let wanted = if name == "open" { "honor" } else { "fill" };
                length(
                    &joints.iter().filter(|j| word(j, "treatment") == wanted).collect::<Vec<_>>(),
                )
            }
            _ => length(&cracks.iter().filter(|crack| kind(crack) == name).collect::<Vec<_>>()),
        }
    };
    let spalls = all("spall").len();
    let steps: i64 = all("steps").iter().filter_map(|one| one["count"].as_integer()).sum();
    let walls = !all("upright").is_empty();
    let coating = word(&job["slab"], "old-coating");
    // Nothing is cut before a scan where something lies in the slab, or nobody knows.
    let inside = job["slab"].get("inside").and_then(|all| all.as_array()).cloned();
    let in_slab = inside.is_none_or(|all| all.iter().any(|one| one.as_str() != Some("none")));
    let lines = texts(&r.page["plan"]["included_here"]);
    let mut said = vec![];
    for line in &lines {
        let known = MENDED.iter().find_map(|(name, text)| Some((*name, text.captures(line)?)));
        let Some((name, found)) = known else { continue };
        said.push(name);
        let so = match name {
            "old" => ["paint", "sealer", "epoxy"].contains(&coating.as_str()),
            "spalls" => match &found[1] {
                "One hole or broken spot" => spalls == 1,
                many => figure(many) as usize == spalls && spalls > 1,
            },
            "upright" => {
                let count = found.get(2).map_or(0, |count| figure(count.as_str()) as i64);
                let one = found.get(3).is_some_and(|word| word.as_str() == "step");
                found.get(1).is_some() == walls && count == steps && one == (steps == 1)
            }
            _ => {
                let half = if r.metric() { 0.3 } else { 0.51 };
                let cut = ["hard", "unknown", "soft", "filled"].contains(&name);
                (printed_inches(&found[1]) - of(name)).abs() <= half
                    && line.contains("once the slab is scanned") == (cut && in_slab)
            }
        };
        r.hold("what is mended is what was found", so, line);
    }
    if r.priced().is_empty() {
        return;
    }
    for name in ["fine", "hard", "unknown", "soft", "filled", "open", "cove"] {
        let so = said.contains(&name) == (of(name) > 0.0);
        r.hold("all that was found is mended", so, format!("{name}: {lines:?}"));
    }
    // A line that speaks of cracks, joints, holes or steps is one of those above.
    let speaks = |line: &&String| {
        ["Crack", "crack", "Joints", "hole", "step"].iter().any(|word| line.contains(word))
    };
    let known = |line: &&String| MENDED.iter().any(|(_, text)| text.is_match(line));
    let unknown: Vec<&String> =
        lines.iter().take(said.len()).filter(speaks).filter(|l| !known(l)).collect();
    r.hold("no other line of what is mended", unknown.is_empty(), format!("{unknown:?}"));
}
