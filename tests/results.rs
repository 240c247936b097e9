//! Results for programs: each form keeps to its schema, its sums agree, and the two forms of one job
//! say the same.

use std::sync::LazyLock;

use schemars::JsonSchema;
use serde_json::Value;
use slableaf::results::customer::CustomerForm;
use slableaf::results::findings::FindingsForm;
use slableaf::results::shop::ShopForm;
use slableaf::results::{VERSION, schema};

use crate::checker::{breaks, fields, keeps_to};
use crate::documents::{cents, list, word};
use crate::fixture::{EXAMPLES, Folder, root, run_in};

/// The results of one job.
struct Forms {
    name: String,
    shop: Value,
    customer: Value,
    findings: Value,
}

impl Forms {
    fn of(folder: &Folder, name: &str) -> Self {
        let json = |arguments: &[&str]| {
            let ran = folder.run(arguments);
            serde_json::from_str(&ran.stdout()).unwrap_or_else(|error| panic!("{name}: {error}"))
        };
        Self {
            name: name.to_owned(),
            shop: json(&["estimate", "job.toml", "--format", "json"]),
            customer: json(&["estimate", "job.toml", "--format", "json", "--for", "customer"]),
            findings: json(&["check", "job.toml", "--format", "json"]),
        }
    }

    fn all(&self) -> [(&'static str, &Value, Value); 3] {
        [
            ("results", &self.shop, schema_of::<ShopForm>()),
            ("results-customer", &self.customer, schema_of::<CustomerForm>()),
            ("findings", &self.findings, schema_of::<FindingsForm>()),
        ]
    }
}

/// Every shipped example, and a job in which much is wrong: repairs, faults of both methods, two
/// methods at once.
static FORMS: LazyLock<Vec<Forms>> = LazyLock::new(|| {
    let examples = EXAMPLES.iter().chain(&["smallest", "three-spaces"]);
    let mut forms: Vec<Forms> = examples.map(|name| Forms::of(&Folder::of(name), name)).collect();
    forms.push(Forms::of(&much_wrong(), "much wrong"));
    forms
});

fn much_wrong() -> Folder {
    let folder = Folder::of("dry-and-quick")
        .replace("job.toml", "scale = \"0.1 g\"", "scale = \"0.5 g\"")
        .replace("job.toml", "room-temperature = \"71 F\"", "room-temperature = \"50 F\"");
    let job = folder.read("job.toml")
        + r#"
[[crack]]
name = "Crack by the drain"
length = "6 ft"
width = "0.25 in"
moves = "no"

[[spall]]
name = "Hole by the door"
area = "1 ft2"
depth = "0.5 in"

[[cove]]
name = "Back wall"
length = "20 ft"
radius = "1 in"

[moisture.probes]
edition = 2019

[[moisture.probes.probe]]
place = "left bay"
at = ["5 ft", "6 ft"]
depth = "4 in"
reading = "71 %"
drilled = 2026-05-28T09:00:00
read = 2026-05-28T19:00:00
"#;
    folder.write("job.toml", job)
}

fn schema_of<T: JsonSchema>() -> Value {
    schema::<T>().to_value()
}

// ------------------------------------------------------------------------------- the schemas

#[test]
fn every_form_of_every_example_keeps_to_its_schema() {
    for forms in FORMS.iter() {
        for (kind, value, schema) in forms.all() {
            assert_eq!(value["version"], VERSION, "{} of {}", kind, forms.name);
            keeps_to(value, &schema, &format!("{kind} of {}", forms.name));
        }
    }
}

/// A schema that cannot say no is none.
#[test]
fn schemas_refuse_what_is_no_result() {
    let forms = &FORMS[0];
    for (kind, value, schema) in forms.all() {
        for name in fields(value).map(|(name, _)| name) {
            let mut less = value.clone();
            less.as_object_mut().unwrap().remove(name);
            breaks(&less, &schema, &format!("{kind} without {name}"));
        }
        let mut more = value.clone();
        more["cost_of_it_all"] = "1.00".into();
        breaks(&more, &schema, &format!("{kind} with a field too many"));
        let mut old = value.clone();
        old["version"] = 1.into();
        breaks(&old, &schema, &format!("{kind} of an old version"));
        let mut odd = value.clone();
        odd["findings"][0]["severity"] = "dreadful".into();
        breaks(&odd, &schema, &format!("{kind} with an unknown word"));
    }
    let mut cheap = forms.shop.clone();
    cheap["floors"][0]["total"] = 12.5.into();
    breaks(&cheap, &schema_of::<ShopForm>(), "money as a binary number");
    cheap["floors"][0]["total"] = "12.5".into();
    breaks(&cheap, &schema_of::<ShopForm>(), "money with one decimal");
    // The shop's own form is no customer's form.
    breaks(&forms.shop, &schema_of::<CustomerForm>(), "costs");
}

#[test]
fn the_program_prints_the_schemas() {
    for (kind, _, schema) in FORMS[0].all() {
        let printed = run_in(&root(), &["schema", kind]).success().stdout();
        assert_eq!(serde_json::from_str::<Value>(&printed).unwrap(), schema, "{kind}");
        assert_eq!(schema["$schema"], "http://json-schema.org/draft-07/schema#");
        assert!(schema.get("$id").is_none());
        assert!(word(&schema["title"]).starts_with("slableaf "));
    }
    run_in(&root(), &["schema", "everything"]).code(2).err_has("job, book, shop, system, results");
}

/// Every object is closed and asks for all its fields, and every field says what it means.
#[test]
fn schemas_are_closed_and_explain_every_field() {
    for (kind, _, schema) in FORMS[0].all() {
        each_object(&schema, &mut |object| {
            let fields = object["properties"].as_object().unwrap();
            assert_eq!(object["additionalProperties"], false, "{kind}: {object}");
            assert_eq!(list(&object["required"]).len(), fields.len(), "{kind}: {object}");
            for (name, field) in fields {
                // The word that tells one shape from another has its meaning in the shape's own.
                let tag = field.get("const").is_some();
                assert!(tag || field.get("description").is_some(), "{kind}: {name} of {object}");
            }
        });
    }
}

fn each_object(schema: &Value, see: &mut dyn FnMut(&Value)) {
    match schema {
        Value::Array(items) => items.iter().for_each(|item| each_object(item, see)),
        Value::Object(parts) => {
            if parts.get("properties").is_some_and(Value::is_object) && parts.contains_key("type") {
                see(schema);
            }
            parts.values().for_each(|part| each_object(part, see));
        }
        _ => {}
    }
}

/// A length, an area, a volume, a temperature, a time: each number has its unit in its name.
#[test]
fn every_measured_figure_has_its_unit_in_its_name() {
    const UNITS: &[&str] = &[
        "_m2",
        "_m3",
        "_minutes",
        "_m",
        "_mm",
        "_um",
        "_litres",
        "_kg",
        "_g",
        "_hours",
        "_years",
        "_c",
        "_k",
        "_percent",
        "_share",
        "_m3_per_hour",
        "_m2_per_litre",
        "_lb_per_1000ft2_24h",
    ];
    // Names that are units themselves.
    const PLAIN: &[&str] = &["hour", "hours", "litres", "kg"];
    for (kind, _, schema) in FORMS[0].all() {
        each_object(&schema, &mut |object| {
            for (name, field) in fields(&object["properties"]) {
                let measured = field.to_string().contains("\"number\"");
                let named = UNITS.iter().any(|unit| name.ends_with(unit));
                assert!(!measured || named || PLAIN.contains(&name.as_str()), "{kind}: {name}");
            }
        });
    }
}

// ------------------------------------------------------------------------------ what they say

fn floors() -> impl Iterator<Item = (&'static str, &'static Value)> {
    FORMS.iter().flat_map(|forms| {
        list(&forms.shop["floors"]).iter().map(move |floor| (forms.name.as_str(), floor))
    })
}

/// Cents of a field.
#[track_caller]
fn money(floor: &Value, key: &str) -> i64 {
    let text = word(&floor[key]);
    if text.starts_with('-') { -cents(text) } else { cents(text) }
}

fn sum(lines: &Value, key: &str) -> i64 {
    list(lines).iter().map(|line| money(line, key)).sum()
}

#[test]
fn sums_of_the_shops_form_agree() {
    for (name, floor) in floors() {
        let of = |key| money(floor, key);
        assert_eq!(sum(&floor["materials"], "cost"), of("materials_cost"), "{name}");
        assert_eq!(sum(&floor["labor"], "cost"), of("labor_cost"), "{name}");
        let direct =
            ["materials_cost", "labor_cost", "consumables", "removal", "per_job", "purchase_tax"];
        assert_eq!(direct.map(of).iter().sum::<i64>(), of("direct"), "{name}");
        assert_eq!(of("direct") + of("overhead"), of("cost"), "{name}");
        assert_eq!(of("price") - of("cost"), of("profit"), "{name}");
        assert!(of("price") >= of("wanted"), "{name}");
        assert_eq!(of("floor_price") + sum(&floor["extras"], "price"), of("price"), "{name}");
        assert_eq!(of("price") + of("tax"), of("total"), "{name}");
        let hours: f64 = list(&floor["labor"]).iter().map(|l| l["hours"].as_f64().unwrap()).sum();
        assert!((hours - floor["labor_hours"].as_f64().unwrap()).abs() < 1e-6, "{name}");
        let margin = floor["margin_share"].as_f64().unwrap();
        assert!((margin - of("profit") as f64 / of("price") as f64).abs() < 1e-4, "{name}");
    }
}

#[test]
fn terms_lead_from_cost_to_price() {
    for forms in FORMS.iter() {
        let terms = &forms.shop["terms"];
        let share = |key: &str| terms[key].as_f64().unwrap();
        for floor in list(&forms.shop["floors"]) {
            let of = |key| money(floor, key) as f64;
            assert!((of("direct") * share("overhead_share") - of("overhead")).abs() <= 0.51);
            assert!((of("cost") / (1.0 - share("margin_share")) - of("wanted")).abs() <= 0.51);
            assert_eq!(money(floor, "price") % money(terms, "round_to"), 0);
            assert!(money(floor, "price") >= money(terms, "minimum"));
        }
    }
}

/// Parts of a batch make the batch, batches make the coat, coats make what is bought.
#[test]
fn batches_and_needs_of_a_floor_agree() {
    let number = |value: &Value, key: &str| value[key].as_f64().unwrap();
    let mut coats = 0;
    for (name, floor) in floors() {
        for coat in list(&floor["coats"]).iter().filter(|coat| coat["kind"] == "liquid") {
            let batches = &coat["batches"];
            let parts: f64 = list(&batches["parts_litres"]).iter().filter_map(Value::as_f64).sum();
            let batch = number(batches, "batch_litres");
            assert!((parts - batch).abs() < 1e-3, "{name}: {coat}");
            assert!(number(batches, "count") * batch > number(coat, "need_litres") - 1e-2);
            assert!(number(coat, "dry_film_um") <= number(coat, "wet_film_um"));
            // A liter over an area leaves a film: 1000 um by square meters a liter.
            let film = number(coat, "spread_m2_per_litre") * number(coat, "wet_film_um");
            assert!((film - 1000.0).abs() < 1.0, "{name}: {film}");
            let need: f64 = list(&floor["coats"])
                .iter()
                .filter(|other| other["product"] == coat["product"])
                .map(|other| number(other, "need_litres"))
                .sum();
            let material =
                list(&floor["materials"]).iter().find(|m| m["product"] == coat["product"]);
            assert!((number(&material.unwrap()["need"], "litres") - need).abs() < 1e-3, "{name}");
            coats += 1;
        }
    }
    assert!(coats > 20);
}

/// Time runs forward, and each coat lies within its window unless the plan says that it is missed.
#[test]
fn the_clock_of_a_plan_runs_forward() {
    let hours =
        |moment: &Value| moment["day"].as_f64().unwrap() * 24.0 + moment["hour"].as_f64().unwrap();
    for (name, floor) in floors() {
        let mut now = 0.0;
        for stretch in list(&floor["stretches"]) {
            assert!(hours(&stretch["from"]) >= now - 1e-3, "{name}: {stretch}");
            now = hours(&stretch["to"]);
        }
        let ready = ["done", "walk", "carry", "drive"].map(|key| hours(&floor[key]));
        assert!(ready.is_sorted(), "{name}: {ready:?}");
        let laid = list(&floor["coats"]).iter().map(|coat| &coat["laid"]);
        let late = laid
            .filter(|laid| laid["window"].is_object())
            .filter(|laid| hours(&laid["from"]) > hours(&laid["window"]["to"]) + 1e-3)
            .count();
        assert_eq!(late, list(&floor["missed_recoats"]).len(), "{name}");
        assert_eq!(floor["one_day"]["fits"], floor["days"] == 1, "{name}");
    }
}

#[test]
fn a_job_with_much_wrong_tells_it_all() {
    let forms = FORMS.last().unwrap();
    let kinds: Vec<&str> =
        list(&forms.shop["repairs"]).iter().map(|repair| word(&repair["kind"])).collect();
    assert_eq!(kinds, ["crack", "joint", "spall", "cove"]);
    let faults = |method: &str| -> Vec<&str> {
        let faults = list(&forms.shop["moisture"][method]["faults"]);
        faults.iter().map(|fault| word(&fault["fault"])).collect()
    };
    assert_eq!(faults("dishes"), ["coarse-scale", "room-outside"]);
    assert_eq!(
        faults("probes"),
        ["too-few-tests", "wait-too-short", "depth", "calibration-unknown", "not-settled"]
    );
    let too_few = &forms.shop["moisture"]["probes"]["faults"][0];
    assert_eq!(too_few, &serde_json::json!({ "fault": "too-few-tests", "done": 1, "needed": 3 }));
}

#[test]
fn the_customers_form_says_what_the_shops_form_says() {
    for forms in FORMS.iter() {
        let Forms { shop, customer, name, .. } = forms;
        for key in [
            "job",
            "date",
            "currency",
            "take_off",
            "moisture",
            "air",
            "recommended",
            "offered",
            "steps",
            "even_chances",
            "payments",
        ] {
            assert_eq!(shop[key], customer[key], "{key} of {name}");
        }
        for (ours, theirs) in list(&shop["floors"]).iter().zip(list(&customer["floors"])) {
            let theirs_priced = theirs["offer"].is_object();
            let priced = ours["offered"] == true || ours["waits"] == true;
            assert_eq!(theirs_priced, priced, "{name}: a price without an offer");
            let facts =
                fields(theirs).filter(|(key, _)| !["coats", "offer"].contains(&key.as_str()));
            for (key, value) in facts.chain(fields(&theirs["offer"])) {
                assert_eq!(&ours[key], value, "{key} of {name}");
            }
        }
        let sum = sum(&customer["payments"], "amount");
        let recommended = list(&customer["floors"]).iter().find(|f| f["recommended"] == true);
        let of_spaces = || {
            let whole = &customer["whole"];
            if whole.is_null() { 0 } else { money(whole, "total") }
        };
        let total = recommended.map_or_else(of_spaces, |floor| money(&floor["offer"], "total"));
        assert_eq!(sum, total, "{name}");
    }
}

/// All findings for the shop; for the customer all but the shop's own.
#[test]
fn findings_of_the_forms_are_those_of_check() {
    let mut own = 0;
    for Forms { shop, customer, findings, name } in FORMS.iter() {
        assert_eq!(shop["findings"], findings["findings"], "{name}");
        let (theirs, ours): (Vec<&Value>, Vec<&Value>) =
            list(&findings["findings"]).iter().partition(|finding| finding["place"] != "shop");
        assert_eq!(list(&customer["findings"]).iter().collect::<Vec<_>>(), theirs, "{name}");
        own += ours.len();
    }
    assert!(own > 0);
}

#[test]
fn air_of_a_solvent_coat_is_that_of_the_pages() {
    let shop = &FORMS.iter().find(|forms| forms.name == "dry-and-quick").unwrap().shop;
    let floor = list(&shop["floors"]).iter().find(|floor| floor["floor"] == "clear-epoxy").unwrap();
    let [air] = list(&floor["air"]) else { panic!("{}", floor["air"]) };
    let folder = crate::fixture::Folder::of("dry-and-quick");
    folder.run(&["prepare", "job.toml", "--floor", "clear-epoxy"]).success();
    let sheet = folder.path("shop-only/2026-0151-crew-sheet-r1.pdf");
    // One cubic foot a minute is 1.699011 m3/h: NIST SP 811, appendix B.
    let flow = air["fire_m3_per_hour"].as_f64().unwrap() / 1.699_011;
    let shown = crate::readers::text(&sheet);
    let numbers = shown.split(|c: char| !c.is_ascii_digit() && c != ',');
    let known: Vec<f64> = numbers.filter_map(|n| n.replace(',', "").parse().ok()).collect();
    assert!(known.iter().any(|known| (known - flow).abs() <= flow * 0.02 + 1.0), "{flow}: {shown}");
}

#[test]
fn text_for_a_customer_is_refused_with_advice() {
    let ran = Folder::new().run(&["estimate", "job.toml", "--for", "customer"]).code(2);
    assert_eq!(ran.stdout(), "");
    ran.err_is(
        "error: the text form holds costs and margin: it is for the shop only\n  \
         help: for what a customer may know, add `--format json`",
    );
}
