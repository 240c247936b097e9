//! The HTML part.

use super::{bodies, draft, file};
use crate::fixture::Folder;

/// It fetches nothing, runs nothing, and can be read aloud in its language.
#[test]
fn the_html_stands_alone() {
    let folder = Folder::new();
    draft(&folder).success();
    let (_, html) = bodies(&file(&folder, ".eml"));
    assert!(html.starts_with("<!DOCTYPE html>"), "{html}");
    for word in [
        "http",
        "src=",
        "url(",
        "<img",
        "<script",
        "<link",
        "<style",
        "@import",
        "<iframe",
        "<form",
        "<object",
        "<svg",
        "cid:",
        "class=",
        "javascript",
    ] {
        assert!(!html.contains(word), "{word}\n{html}");
    }
    // Its links call or write, and lead nowhere else.
    for link in html.split("href=\"").skip(1) {
        assert!(link.starts_with("tel:") || link.starts_with("mailto:"), "{link}");
    }
    assert!(html.contains("<a href=\"tel:5550114\""), "{html}");
    assert!(html.contains("<a href=\"mailto:office@pikemere.example\""), "{html}");
    assert!(html.contains("<html lang=\"en\">"));
    assert_eq!(html.matches("<table").count(), html.matches("role=\"presentation\"").count());
    assert_eq!(html.matches("<h1").count(), 1);
}

/// Every word comes from the words; the layout has tags, names of values and styles.
#[test]
fn the_html_layout_has_no_words_of_its_own() {
    let layout = slableaf::base::layouts::Layouts::default().text("mail.html").unwrap().to_owned();
    let body = layout.split_once("<!DOCTYPE html>").unwrap().1;
    let without = |text: &str, open: &str, close: &str| -> String {
        let mut pieces = text.split(open);
        let first = pieces.next().unwrap().to_owned();
        first + &pieces.map(|piece| piece.split_once(close).unwrap().1).collect::<String>()
    };
    let bare = without(&without(&without(body, "{%", "%}"), "{{", "}}"), "<", ">");
    assert_eq!(bare.trim(), "", "{bare}");
}

#[test]
fn a_shop_may_put_its_own_html_in_place() {
    let folder = Folder::new();
    folder.run(&["layouts", "--copy", "layouts", "mail.html"]).success();
    let folder = folder.replace("layouts/mail.html", "max-width:620px", "max-width:480px");
    draft(&folder).success();
    assert!(bodies(&file(&folder, ".eml")).1.contains("max-width:480px"));
}
