//! A sign that no font has, at every place where text is typed: it never keeps a paper back, and whoever
//! writes it is told the line.

use super::bench::{NAMES, Place, changed, places, quoted, read};
use crate::fixture::Folder;
use crate::readers;

/// An emoji and letters that no embedded font has.
const TYPED: &str = "Sign \u{1F680} and สม";
const PRINTED: &str = "Sign [sign] and [letters we could not print]";

/// True for names and addresses of customer and shop, which nothing stands in for; for names of files, the address of mails; and for
/// the supplier that a change of prices names, so that the change finds a product.
fn stays(place: &Place) -> bool {
    let path = &place.path;
    if ["logo", "email"].contains(&path.as_str())
        || path.ends_with(".file")
        || path == "product[12].supplier"
    {
        return true;
    }
    let shop = place.file == NAMES.iter().position(|name| *name == "shop.toml").unwrap();
    place.path.starts_with("customer.")
        || shop && (place.path == "name" || place.path.starts_with("address"))
}

#[test]
fn signs_in_every_text_of_a_job_print_as_words_and_are_warned_of() {
    let places: Vec<Place> = places()
        .into_iter()
        .filter(|place| read(&changed([(place, quoted(TYPED))])).is_ok())
        .filter(|place| !stays(place))
        .collect();
    assert!(places.len() > 40, "{}", places.len());
    let mut texts = changed(places.iter().map(|place| (place, quoted(TYPED))));
    texts[0] = texts[0].split("[accepted]").next().unwrap().to_owned();
    let mut folder = Folder::of("dry-and-quick");
    for (name, text) in NAMES.iter().zip(&texts) {
        folder = folder.write(name, text);
    }
    let ran = folder.run(&["check", "job.toml"]).code(1);
    let typed = texts[0].matches(&quoted(TYPED)).count();
    assert!(typed > 25);
    assert_eq!(ran.stderr().matches("warning: job.toml:").count(), typed);
    let ran = ran.err_has("no font here can print `\u{1F680}` (U+1F680) in `notes`");
    ran.err_has("papers say `[sign]`");
    let all = ["--paper", "proposal", "--paper", "leaflet", "--phone"];
    let line = [&["write", "job.toml", "--out", "out"], &all[..]].concat();
    folder.run(&line).success();
    folder.run(&["mail", "job.toml"]).success();
    let text = readers::text(&folder.path("out/2026-0199-proposal-r1.pdf"));
    assert!(text.contains(PRINTED), "{text}");
    folder.run(&["verify", "job.toml"]).success();
}

/// The papers of the crew and the care sheet too.
#[test]
fn signs_in_notes_of_the_crew_print_as_words() {
    let folder = Folder::of("dry-and-quick");
    let notes = format!("crew-notes = [{}]\n", quoted(TYPED));
    let job = notes + &folder.read("job.toml").replace("crew-notes", "# crew-notes");
    let folder = folder.write("job.toml", job);
    let ran = folder.run(&["prepare", "job.toml", "--floor", "barrier"]).success();
    ran.err_has("in `crew-notes`: papers say `[sign]`");
    let sheet = readers::text(&folder.path("shop-only/2026-0151-crew-sheet-r1.pdf"));
    assert!(sheet.contains(PRINTED), "{sheet}");
    folder.run(&["write", "job.toml", "--paper", "care"]).success();
}
