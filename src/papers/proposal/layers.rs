//! Part 3: a cross-section of every floor, all coats to one scale.

use crate::base::quantity::Thickness;
use crate::papers::proposal::charts::share;
use crate::papers::proposal::page::{CoatBand, Layers, Stack};
use crate::papers::proposal::writer::{Writer, capital};
use crate::price::case::FloorOption;
use crate::price::floor::{CoatStuff, FloorCoat};

/// Thickness of a sheet of copy paper, to which a reader can compare a floor: from memory.
const COPY_PAPER: Thickness = Thickness::mils(4.0);
/// Height of a drawing on paper.
const DRAWING_MM: f64 = 46.0;
/// Share of the drawing that the thickest floor takes; the rest is slab, cut short.
const COATS_SHARE: f64 = 0.72;

/// Returns the floors that have a price, in cross-section; `None` without one.
pub fn layers(w: &Writer<'_>) -> Option<Layers> {
    let priced = w.priced();
    (!priced.is_empty()).then(|| cross_sections(w, &priced))
}

/// Returns floors in cross-section, all to one scale.
pub fn cross_sections(w: &Writer<'_>, drawn: &[&FloorOption<'_>]) -> Layers {
    let total = |option: &&FloorOption<'_>| total_thickness(option);
    let thickest = drawn.iter().map(total).fold(Thickness::ZERO, Thickness::max);
    let factor = DRAWING_MM * COATS_SHARE * 1000.0 / thickest.as_micrometers();
    // To one significant step: the drawing is not read with a ruler.
    let factor = w.figures.number((factor / 5.0).round() * 5.0, 0);
    Layers {
        intro: w.plain("layers.intro"),
        drawing_mm: DRAWING_MM,
        caption: w.say("layers.caption", [("factor", factor)]),
        stacks: drawn.iter().map(|option| stack(w, option, thickest)).collect(),
    }
}

/// Returns one floor alone, drawn as page one shows it: the coats by their names.
pub fn picture(w: &Writer<'_>, option: &FloorOption<'_>) -> Stack {
    stack(w, option, total_thickness(option))
}

fn total_thickness(option: &FloorOption<'_>) -> Thickness {
    option.floor.coats.iter().map(FloorCoat::thickness).sum()
}

fn stack(w: &Writer<'_>, option: &FloorOption<'_>, thickest: Thickness) -> Stack {
    let words = w.system(&option.floor);
    let coats = option.floor.coats.iter().rev().map(|coat| {
        let text = words.coats.get(&coat.spec.key.0);
        CoatBand {
            look: coat.spec.look.word().to_owned(),
            name: text.map_or_else(|| coat.product.name.clone(), |text| text.name.clone()),
            // Grit lies within its coat.
            thickness: match coat.stuff {
                CoatStuff::Grit(..) => String::new(),
                _ => w.figure(coat.thickness()),
            },
            does: text.map_or_else(String::new, |text| text.does.clone()),
            height: share(coat.thickness() / thickest * COATS_SHARE),
        }
    });
    let mut coats: Vec<CoatBand> = coats.collect();
    let spoken = coats.iter().map(|coat| {
        let facts = [("name", coat.name.as_str()), ("thickness", coat.thickness.as_str())];
        w.say("layers.coat", facts)
    });
    let spoken = spoken.collect::<Vec<_>>().join("; ");
    let left = coats.iter().fold(1.0, |left, coat| left - coat.height);
    let concrete = w.words.systems.get("concrete").cloned().unwrap_or_default();
    coats.push(CoatBand {
        look: CONCRETE.to_owned(),
        name: concrete.name,
        thickness: String::new(),
        does: concrete.does,
        height: share(left),
    });
    let name = w.name(option.key());
    let films = option.floor.coats.iter().map(FloorCoat::thickness);
    let films: Vec<Thickness> = films.filter(|film| *film > Thickness::ZERO).collect();
    let in_all = w.figures.films(&films);
    let sheets = (films.iter().copied().sum::<Thickness>() / COPY_PAPER).round();
    let sheets = if sheets < 2.0 { String::new() } else { w.figures.number(sheets, 0) };
    Stack {
        mark: w.mark(option.key()),
        summary: words.summary,
        coats,
        total: w.say("layers.total", [("thickness", in_all), ("sheets", sheets)]),
        alt: w.say("layers.alt", [("name", capital(&name)), ("coats", spoken)]),
        name,
    }
}

/// The look of the slab, beside those of [`crate::model::system::Look`].
const CONCRETE: &str = "concrete";
