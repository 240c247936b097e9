//! A sign that no font has, at every place where text is typed: it never keeps a paper back, and whoever
//! writes it is told the line.

use super::bench::{NAMES, Place, changed, places, quoted, read};
use crate::fixture::Folder;
use crate::readers;

/// An emoji and letters that no embedded font has.
const TYPED: &str = "Sign \u{1F680} and สม";
const PRINTED: &str = "Sign [sign] and [letters we could not print]";

/// True for names and addresses of customer and shop, which nothing stands in for.
fn is_name(place: &Place) -> bool {
    let shop = place.file == NAMES.iter().position(|name| *name == "shop.toml").unwrap();
    place.path.starts_with("customer.")
        || shop && (place.path == "name" || place.path.starts_with("address"))
}

#[test]
fn signs_in_every_text_of_a_job_print_as_words_and_are_warned_of() {
    let places: Vec<Place> = places()
        .into_iter()
        .filter(|place| read(&changed([(place, quoted(TYPED))])).is_ok())
        .filter(|place| !is_name(place))
        .collect();
    assert!(places.len() > 40, "{}", places.len());
    let mut texts = changed(places.iter().map(|place| (place, quoted(TYPED))));
    texts[0] = texts[0].split("[accepted]").next().unwrap().to_owned();
    let mut folder = Folder::of("dry-and-quick");
    for (name, text) in NAMES.iter().zip(&texts) {
        folder = folder.write(name, text);
    }
    let ran = folder.run(&["check", "job.toml"]);
    assert_eq!(ran.stderr().matches("warning: job.toml:").count(), {
        let in_job = |place: &&Place| place.file == 0 && !place.path.starts_with("accepted");
        places.iter().filter(in_job).count()
    });
    let ran = ran.err_has("no font here can print `\u{1F680}` (U+1F680) in `notes`");
    ran.err_has("papers say `[sign]`");
    let all = ["--paper", "proposal", "--paper", "leaflet", "--paper", "care", "--phone"];
    let line = [&["write", "job.toml", "--floor", "barrier", "--out", "out"], &all[..]].concat();
    folder.run(&line).success();
    folder.run(&["prepare", "job.toml", "--floor", "barrier"]).success();
    folder.run(&["mail", "job.toml"]).success();
    let text = readers::text(&folder.path("out/2026-0199-proposal-r1.pdf"));
    assert!(text.contains(PRINTED), "{text}");
    folder.run(&["verify", "job.toml"]).success();
}
