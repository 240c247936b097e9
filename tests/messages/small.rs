//! The files of a small shop, and lines that tests add to them. All is invented.

pub const JOB: &str = r#"number = "2026-0142"
date = 2026-05-12
units = "us"
offer = ["thin"]
wishes = ["lasting", "quick"]

[customer]
name = "Rosa and Emil Tannenwald"
address = ["8 Cattail Court", "Pikemere Lake"]

[house]
built = 1994

[slab]
on-ground = true
vapor-retarder = "unknown"
thickness = "4 in"
poured-year = 1994
surface-strength = "310 psi"
water-drop = "soaks-in"
oil = false
tile-glue = "none"
treatments = ["none"]
inside = ["none"]

[[area]]
name = "Garage floor"
length = "22 ft"
width = "24 ft"

[garage]
daylight = true
sold-at-home = true
"#;

/// The customer of the small job.
pub const NAME: &str = r#"name = "Rosa and Emil Tannenwald""#;

/// The offer of the small job.
pub const OFFER: &str = r#"offer = ["thin"]"#;

/// The size of the small job's floor.
pub const SIZE: &str = "length = \"22 ft\"\nwidth = \"24 ft\"";

/// Another shape of the small job's floor.
pub const OUTLINE: &str = r#"outline = [["0 ft", "0 ft"], ["22 ft", "0 ft"], ["22 ft", "21 ft"], ["16 ft", "21 ft"], ["16 ft", "24 ft"], ["0 ft", "24 ft"]]"#;

pub const CUTOUT: &str = r#"
[[cutout]]
name = "Furnace pad"
at = ["1 ft", "20 ft 6 in"]
length = "3 ft"
width = "2 ft 6 in"
"#;

pub const UPRIGHT: &str = r#"
[[upright]]
name = "Stem wall"
length = "38 ft"
height = "5 in"
"#;

pub const STEPS: &str = r#"
[[steps]]
count = 2
width = "4 ft"
tread = "11 in"
riser = "7 in"
"#;

pub const CRACK: &str = r#"
[[crack]]
length = "11 ft"
width = "1/16 in"
moves = "no"
path = [["11 ft", "0 ft"], ["10 ft 2 in", "4 ft"], ["11 ft 6 in", "8 ft"], ["11 ft", "11 ft"]]
"#;

pub const DOOR: &str = r#"
[[door]]
name = "Garage door"
from = ["3 ft", "0 ft"]
to = ["19 ft", "0 ft"]
"#;

pub const PHOTO: &str = r#"
[[photo]]
file = "photos/dome.jpg"
caption = "The slab, seen from the door"
"#;

pub const AIR: &str = r#"
[air]
measured = 2026-05-08
temperature = "66 F"
humidity = "54 %"
slab = "62 F"
"#;

/// One dish that lay for three days.
pub const DISHES: &str = r#"
[moisture.dishes]
scale = "0.1 g"
room-temperature = "67 F"
room-humidity = "52 %"
settled = true

[[moisture.dishes.dish]]
place = "middle"
at = ["11 ft", "11 ft"]
surface = "ground-open-24h"
exposed = "65.7 in2"
before = "218.4 g"
after = "222.4 g"
set = 2026-05-05T09:10:00
lifted = 2026-05-08T08:00:00
"#;

/// One probe in a hole.
pub const PROBES: &str = r#"
[moisture.probes]
edition = 2019
settled = true
accuracy = "2 %"

[[moisture.probes.probe]]
place = "middle"
depth = "48 mm"
reading = "74 %"
drilled = 2026-05-07T09:00:00
read = 2026-05-08T10:00:00
calibrated = 2026-04-25
"#;

pub const BOOK: &str = r#"name = "Spring book"
currency = "USD"
effective = 2026-04-01
good-for-days = 120

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
grind-coated = "110 ft2/h"
edge = "50 ft/h"
crack = "25 ft/h"
roll = "300 ft2/h"
upright = "60 ft2/h"
broadcast = "600 ft2/h"
scrape = "450 ft2/h"

[terms]
consumables = "$0.35/ft2"
per-job = "$120.00"
overhead = "15 %"
margin = "38 %"
margin-floor = "25 %"
tax = "6.5 %"
tax-on = "price"

[[product]]
key = "epoxy-primer"
name = "Epoxy primer"
supplier = "Invented Resins"
kit = [{ size = "3 gal", price = "$198.00" }]
volume-solids = "100 %"
spread = "160 ft2/gal"
isocyanate = false
solvent-free = true
uv-stable = false
slab-from = "50 F"
slab-to = "90 F"
cure = [
  { at = "77 F", pot-life = "25 min", recoat-from = "8 h", recoat-to = "36 h", foot = "14 h", vehicle = "72 h" },
]
"#;

/// A coat against the moisture of the slab.
pub const BARRIER: &str = r#"
[[product]]
key = "barrier-epoxy"
name = "Barrier epoxy"
kit = [{ size = "15 gal", price = "$1,290.00" }]
volume-solids = "100 %"
spread = "100 ft2/gal"
barrier = true
permeance = "0.08 perm"
ground-contact = "any"
mver-limit = "20 lb/1000ft2/24h"
isocyanate = false
uv-stable = false
slab-from = "50 F"
slab-to = "90 F"
surface-profile = "CSP 3 to CSP 4"
cure = [
  { at = "77 F", pot-life = "25 min", recoat-from = "10 h", recoat-to = "36 h", foot = "16 h", vehicle = "72 h" },
]
"#;

pub const WATER_EPOXY: &str = r#"
[[product]]
key = "water-epoxy"
name = "Water-based epoxy"
kit = [{ size = "2.5 gal", price = "$104.00" }]
volume-solids = "45 %"
mix = "4 : 1"
spread = "250 ft2/gal"
water-based = true
isocyanate = false
uv-stable = false
slab-from = "35 F"
slab-to = "95 F"
surface-profile = "CSP 1 to CSP 2"
ph-from = 6
ph-to = 11
cure = [
  { at = "60 F", pot-life = "120 min", recoat-from = "16 h", recoat-to = "72 h", foot = "30 h", vehicle = "168 h" },
]
"#;

/// A coat by its dry film, with a solvent.
pub const URETHANE: &str = r#"
[[product]]
key = "urethane-coat"
name = "Urethane coat"
supplier = "Made-up Coatings"
kit = [{ size = "1 gal", price = "$128.00" }]
volume-solids = "62 %"
film = "2.5 mil"
voc = "335 g/L"
isocyanate = true
uv-stable = true
slab-from = "50 F"
slab-to = "90 F"
cure = [
  { at = "77 F", pot-life = "90 min", recoat-from = "6 h", recoat-to = "24 h", foot = "12 h", vehicle = "72 h" },
]

[product.solvent]
name = "a xylene-type solvent"
content = "335 g/L"
molar-mass = "106.2 g/mol"
lel = "0.9 %"
exposure = "100 ppm"
exposure-source = "NIOSH, 2007"
"#;

pub const TOP: &str = r#"
[[product]]
key = "polyaspartic-top"
name = "Polyaspartic topcoat"
kit = [{ size = "2 gal", price = "$252.00" }]
volume-solids = "85 %"
spread = "120 ft2/gal"
isocyanate = true
uv-stable = true
slab-from = "35 F"
slab-to = "95 F"
cure = [
  { at = "77 F", pot-life = "15 min", recoat-from = "2 h", recoat-to = "18 h", foot = "5 h", vehicle = "24 h" },
]
"#;

pub const FLAKE: &str = r#"
[[product]]
key = "flake-quarter-inch"
name = "Vinyl flake, 1/4 inch"
kit = [{ size = "40 lb", price = "$118.00" }]

[product.flake]
full = "0.15 lb/ft2"
scattered = "0.03 lb/ft2"
reclaimed = "15 %"
thickness = "20 mil"
"#;

pub const CRACK_RESIN: &str = r#"
[[product]]
key = "crack-resin"
name = "Hard crack filler"
kit = [{ size = "0.16 gal", price = "$42.00" }]

[product.filler]
flexible = false
isocyanate = true
sets = "30 min"
"#;

pub const JOINT_FILLER: &str = r#"
[[product]]
key = "joint-filler"
name = "Flexible joint filler"
kit = [{ size = "0.16 gal", price = "$38.00" }]

[product.filler]
flexible = true
isocyanate = true
sets = "45 min"
"#;

/// The uses of the two fillers.
pub const REPAIR: &str = r#"
[repair]
rigid = "crack-resin"
flexible = "joint-filler"
patch = "crack-resin"
cove = "crack-resin"
hairline = "1/16 in"
chase = "1/4 in"
joint-width = "1/4 in"
joint-depth = "3/4 in"
"#;

pub const MIXING: &str = r#"
[mixing]
time = "3 min"
largest = "3 gal"
smallest = "1/4 gal"
part-of-pot-life = "75 %"
"#;

pub const SHOP: &str = r##"name = "Pikemere Slab & Leaf"
phone = "555-0114"
accent = "#27566B"
language = "en"
country = "US"

[[payment]]
when = "When you sign"
share = "10 %"

[[payment]]
when = "When the floor is done and you have walked it with us"
share = "90 %"
"##;

pub const CALENDAR: &str = r#"
[calendar]
time-zone = "America/Chicago"
closed = ["sunday"]
"#;

pub const FAN: &str = r#"
[fan]
airflow = "1,500 cfm"
"#;

/// A floor of one coat, by the shop's own file.
pub const FLOOR: &str = r#"key = "thin"
life-from = 5
life-to = 10

[[coat]]
key = "base"
product = "epoxy-primer"
look = "primer"
spread = "160 ft2/gal"
"#;
