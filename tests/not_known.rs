//! Papers say of what was not tested and not looked at that it is not known, and no slab "passes".

use crate::documents::{Paper, list, paper, word};
use crate::fixture::Folder;

fn untested_paper() -> Paper {
    let folder = Folder::new();
    let job = folder.read("job.toml");
    let (before, rest) = job.split_once("[moisture.dishes]").unwrap();
    let job = format!("{before}[air]{}", rest.split_once("[air]").unwrap().1);
    Paper::of(&folder.write("job.toml", job))
}

#[test]
fn a_paper_without_a_test_says_not_known_and_never_passes_a_floor() {
    let paper = untested_paper();
    paper.page_one_must_show("We have no moisture test of this slab");
    paper.page_one_must_show("Not known is not the same as dry");
    paper.page_one_must_show("We have no moisture test, so we do not know how damp your slab is");
    assert!(list(&paper.page["slab"]["moisture"]).is_empty(), "a chart without readings");
    for row in list(&paper.page["compare"]["rows"])
        .iter()
        .filter(|row| row["label"] == "Your reading and the limit")
    {
        let floors = list(&paper.page["plan"]["prices"]).len();
        for cell in &list(&row["cells"])[..floors] {
            assert_eq!(word(cell), "No reading");
        }
    }
    never_passes(&paper);
    assert!(!paper.shows("lb under"), "room without a reading");
}

/// "Pass" stands on no page but where it is denied, or where it is vapor or a cough that passes.
#[track_caller]
fn never_passes(paper: &Paper) {
    let text = paper.text().to_lowercase();
    for (at, _) in text.match_indices("pass") {
        let around = &text[text[..at].char_indices().rev().nth(30).map_or(0, |(from, _)| from)..];
        let around: String = around.chars().take(60).collect();
        let known = ["still pass moisture"].iter().any(|known| around.contains(known));
        assert!(known, "{around}");
    }
}

#[test]
fn no_example_says_that_a_slab_passes() {
    for name in crate::fixture::EXAMPLES {
        never_passes(paper(name));
    }
}

/// Everything that was not looked at is on the paper as not known.
#[test]
fn what_was_not_looked_at_is_not_known() {
    let mut folder = Folder::new();
    for line in [
        "surface-strength = \"310 psi\"\n",
        "water-drop = \"soaks-in\"\n",
        "old-coating = \"none\"\n",
        "poured-year = 1994\n",
    ] {
        folder = folder.replace("job.toml", line, "");
    }
    let paper = Paper::of(&folder);
    let facts = list(&paper.page["slab"]["facts"]);
    for label in [
        "Surface strength",
        "Water drop on the slab",
        "Old coating",
        "Concrete poured",
        "Plastic under slab",
    ] {
        let fact = facts.iter().find(|fact| fact["label"] == label);
        assert_eq!(fact.map(|fact| word(&fact["value"])), Some("Not known"), "{label}");
    }
}
