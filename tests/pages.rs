//! Pages hold together whatever a job brings: many photos, long notes, long names, many floors. No
//! heading stands alone at the end of a page, no page is empty, nothing runs off the paper.

use lopdf::{Dictionary, Document, Object, ObjectId};

use crate::fixture::{Folder, Ran};
use crate::readers;

/// A floor of the shop's own with as many extras as a system may have.
const MANY_EXTRAS: &str = r#"key = "many-extras"
life-from = 5
life-to = 10

[[coat]]
key = "base"
product = "epoxy-primer"
look = "primer"

[[coat]]
key = "flake"
product = "flake-quarter-inch"
look = "flake"
broadcast = "full"

[[coat]]
key = "top"
product = "polyaspartic-top"
look = "top"
"#;

const WORDS: &str = r#"
[words]
name = "floor with everything"
the_name = "the floor with everything"
summary = "A floor with every extra that a shop may think of."
better_at = ["It has many extras."]
harder_at = ["It has many prices."]
choose_if = "Choose this if you like to choose."
yellowing = "None shows"
tires = "Holds once cured"
smell = "Some"
damp = "Low limit"

[words.coats.base]
name = "Primer"
does = "Holds the rest."

[words.coats.flake]
name = "Flake"
does = "Gives the color."

[words.coats.top]
name = "Topcoat"
does = "Takes the wear."
"#;

fn own_floor(extras: usize) -> String {
    let coats: String = (1..=extras)
        .map(|n| {
            format!(
                "\n[[coat]]\nkey = \"extra-{n}\"\nproduct = \"polyaspartic-top\"\nlook = \"top\"\nextra = \"extra-{n}\"\n"
            )
        })
        .collect();
    let words: String = (1..=extras)
        .map(|n| {
            format!(
                "\n[words.coats.extra-{n}]\nname = \"Further clear coat number {n}\"\ndoes = \"Adds film.\"\n"
            )
        })
        .collect();
    format!("{MANY_EXTRAS}{coats}{WORDS}{words}")
}

/// The main example with other photos, notes, names and floors.
struct Job {
    photos: usize,
    /// Characters of notes for the customer.
    notes: usize,
    name: &'static str,
    offer: &'static str,
    extras: usize,
    large_slab: bool,
}

const PLAIN: Job = Job {
    photos: 3,
    notes: 0,
    name: "Rosa and Emil Tannenwald",
    offer: "\"barrier\", \"fast-cure\", \"clear-epoxy\", \"water-kit\"",
    extras: 0,
    large_slab: false,
};

impl Job {
    fn folder(&self) -> Folder {
        let mut folder = Folder::new().replace(
            "job.toml",
            "name = \"Rosa and Emil Tannenwald\"",
            &format!("name = \"{}\"", self.name),
        );
        let offer = if self.extras > 0 { "\"many-extras\", \"barrier\"" } else { self.offer };
        folder = folder.replace(
            "job.toml",
            "offer = [\"barrier\", \"fast-cure\", \"clear-epoxy\", \"water-kit\"]",
            &format!("offer = [{offer}]\nnotes = [{}]", notes(self.notes)),
        );
        if self.extras > 0 {
            // A dry slab, so that the floor is priced.
            folder = folder.write("systems/many-extras.toml", own_floor(self.extras));
            for (wet, dry) in [
                ("222.4 g", "219.0 g"),
                ("222.5 g\"\nset = 2026-05-05T09:15", "219.6 g\"\nset = 2026-05-05T09:15"),
                ("222.5 g\"\nset = 2026-05-05T09:20", "218.4 g\"\nset = 2026-05-05T09:20"),
            ] {
                folder = folder.replace("job.toml", wet, dry);
            }
        }
        let kept = folder.read("job.toml");
        let (before, _) = kept.split_once("[[photo]]").unwrap();
        let doors = kept.split("# The big door").nth(1).unwrap();
        let photos: String = (0..self.photos)
            .map(|at| {
                let file = ["overview", "dome", "crack"][at % 3];
                format!("[[photo]]\nfile = \"photos/{file}.jpg\"\ncaption = \"What we saw, number {at}, with a caption of some length\"\n\n")
            })
            .collect();
        folder = folder.write("job.toml", format!("{before}{photos}# The big door{doors}"));
        if self.large_slab {
            folder = folder.replace("job.toml", "length = \"38 ft\"", "length = \"380 ft\"");
        }
        folder
    }
}

/// Notes of so many characters, in paragraphs of at most 900.
fn notes(characters: usize) -> String {
    let sentence = "We look at the door again before we start, and move the shelf with you. ";
    let text: String = sentence.chars().cycle().take(characters).collect();
    let paragraphs: Vec<String> = text
        .as_bytes()
        .chunks(900)
        .map(|part| format!("\"{}\"", String::from_utf8_lossy(part).trim()))
        .collect();
    paragraphs.join(", ")
}

#[track_caller]
fn holds_together(job: &Job) {
    let folder = job.folder();
    let ran: Ran = folder.run(&["write", "job.toml", "--draft", "--out", "out"]).success();
    drop(ran);
    let path = folder.path("out/2026-0142-proposal-draft.pdf");
    let texts = readers::pages(&path);
    // The back of a sheet that is followed by one to tear off is blank.
    let torn_off = |at: usize| {
        texts.get(at + 1).is_some_and(|next| {
            ["Say yes", "Notice of Cancellation"].iter().any(|head| next.contains(head))
        })
    };
    for (at, text) in texts.iter().enumerate() {
        let words = text.split_whitespace().count();
        assert!(
            words > 40 || (at % 2 == 1 && torn_off(at)),
            "page {} holds {words} words: {text}",
            at + 1
        );
    }
    let document = Document::load(&path).unwrap();
    let leaves = leaves(&document);
    assert!(leaves.len() > 200, "only {} pieces of content", leaves.len());
    for (at, leaf) in leaves.iter().enumerate() {
        if !leaf.heading {
            continue;
        }
        let next = leaves[at..].iter().find(|next| !next.heading);
        assert_eq!(
            next.map(|next| next.page),
            Some(leaf.page),
            "a heading stands alone at the end of page {:?}",
            leaf.page
        );
    }
}

/// A piece of content: the page that it is on, and whether it is part of a heading.
struct Leaf {
    page: usize,
    heading: bool,
}

/// All content in reading order, from the structure tree.
fn leaves(document: &Document) -> Vec<Leaf> {
    let pages: Vec<ObjectId> = document.get_pages().values().copied().collect();
    let catalog = document.catalog().unwrap();
    let root =
        document.get_dictionary(catalog.get(b"StructTreeRoot").unwrap().as_reference().unwrap());
    let mut found = vec![];
    let walk = Walk { document, pages };
    walk.below(root.unwrap(), None, false, &mut found);
    found
}

struct Walk<'a> {
    document: &'a Document,
    pages: Vec<ObjectId>,
}

impl Walk<'_> {
    fn page(&self, element: &Dictionary) -> Option<usize> {
        let id = element.get(b"Pg").ok()?.as_reference().ok()?;
        self.pages.iter().position(|page| *page == id)
    }

    fn below(
        &self,
        element: &Dictionary,
        page: Option<usize>,
        heading: bool,
        found: &mut Vec<Leaf>,
    ) {
        let page = self.page(element).or(page);
        let role = element.get(b"S").and_then(Object::as_name).unwrap_or_default();
        let heading = heading || matches!(role, [b'H', b'1'..=b'6']);
        let Ok(kids) = element.get(b"K") else { return };
        self.kids(kids, page, heading, found);
    }

    fn kids(&self, kids: &Object, page: Option<usize>, heading: bool, found: &mut Vec<Leaf>) {
        match kids {
            Object::Array(items) => {
                for item in items {
                    self.kids(item, page, heading, found);
                }
            }
            Object::Reference(id) => {
                if let Ok(object) = self.document.get_object(*id) {
                    self.kids(object, page, heading, found);
                }
            }
            Object::Integer(_) => found.extend(page.map(|page| Leaf { page, heading })),
            Object::Dictionary(dictionary) if dictionary.has(b"MCID") => {
                let page = self.page(dictionary).or(page);
                found.extend(page.map(|page| Leaf { page, heading }));
            }
            Object::Dictionary(dictionary) => self.below(dictionary, page, heading, found),
            _ => {}
        }
    }
}

#[test]
fn pages_hold_together_with_any_count_of_photos() {
    for photos in [0, 1, 2, 4, 5, 7, 12] {
        holds_together(&Job { photos, ..PLAIN });
    }
}

#[test]
fn pages_hold_together_with_notes_of_any_length() {
    for notes in [1, 120, 700, 1500, 2400, 4000] {
        holds_together(&Job { notes, ..PLAIN });
    }
}

#[test]
fn pages_hold_together_with_any_floors_on_offer() {
    for offer in [
        "\"barrier\"",
        "\"barrier\", \"fast-cure\"",
        "\"fast-cure\", \"water-kit\", \"barrier\"",
        "\"clear-epoxy\"",
    ] {
        holds_together(&Job { offer, ..PLAIN });
    }
}

#[test]
fn pages_hold_together_with_many_prices() {
    for extras in [1, 3, 5] {
        holds_together(&Job { extras, ..PLAIN });
    }
}

#[test]
fn pages_hold_together_with_long_names_of_many_tongues() {
    for name in [
        "Nguyễn Thị Phương Thảo và Trần Đặng Khôi Nguyên",
        "Małgorzata Brzęczyszczykiewicz-Żółkiewska i Zdzisław Świętosławski",
        "Amélie Zoë Núñez-Östergård, Þórunn Ævarsdóttir and the whole house of Kowalewski-Fitzgerald",
    ] {
        holds_together(&Job { name, large_slab: true, ..PLAIN });
    }
}

// -------------------------------------------------------------------------------- as pictures

/// Letter paper at 150 dots to the inch is 1275 by 1650.
#[track_caller]
fn is_a_page(folder: &Folder, name: &str) {
    let picture = image::load_from_memory(&folder.bytes(name)).unwrap();
    assert_eq!((picture.width(), picture.height()), (1275, 1650), "{name}");
    let dark = picture.to_luma8().pixels().filter(|pixel| pixel.0[0] < 128).count();
    assert!(dark > 10_000, "{name} is empty");
}

#[test]
fn pages_can_be_had_as_pictures() {
    let folder = Folder::new();
    let write = |pages: &str| folder.run(&["write", "job.toml", "--out", "out", pages]);
    write("--png=1-2").success().out_has("2026-0142-proposal-r1.page-02.png");
    is_a_page(&folder, "out/2026-0142-proposal-r1.page-01.png");
    is_a_page(&folder, "out/2026-0142-proposal-r1.page-02.png");
    assert!(!folder.path("out/2026-0142-proposal-r1.page-03.png").exists());
    // The paper is unchanged, and so are its pictures; a page that is not there is none.
    let before = folder.bytes("out/2026-0142-proposal-r1.page-01.png");
    write("--png").success().out_has("there already").out_has("page-12.png");
    assert_eq!(folder.bytes("out/2026-0142-proposal-r1.page-01.png"), before);
    write("--png=40").success();
    write("--png=0").code(2).err_has("write a page or a range of pages");
}

/// Every template was filled in before it was printed.
#[test]
fn no_template_is_printed() {
    let examples =
        ["two-car-barrier", "smallest", "too-wet-yet", "solid-color", "three-spaces", "garaje"];
    for example in examples {
        let folder = Folder::of(example);
        let papers =
            ["--paper", "proposal", "--paper", "leaflet", "--paper", "what-if", "--paper", "years"];
        let papers = match example {
            "three-spaces" => &papers[..4],
            "too-wet-yet" => &papers[..6],
            _ => &papers[..],
        };
        let ran =
            [&["write", "job.toml", "--draft", "--page-data", "--out", "papers"], papers].concat();
        folder.run(&ran).success();
        for name in crate::documents::files(&folder, "papers") {
            if name.ends_with(".json") {
                let page = folder.read(&format!("papers/{name}"));
                assert!(!page.contains("{%") && !page.contains("{{"), "{example}: {name}");
            }
        }
    }
}
