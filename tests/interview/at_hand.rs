//! An own floor from nothing to its price, and answers and photos that a closed terminal or a late copy do
//! not lose: at a pseudo-terminal.

use std::os::unix::fs::PermissionsExt as _;
use std::process::Command;

use super::terminal::{PATIENCE, Terminal, empty, plain, prompted};
use crate::fixture::Folder;

/// Answers what is asked by a script of question and line; what the script does not know is left as
/// Enter says. Ends when the program does.
fn script(folder: &Folder, arguments: &[&str], lines: &[(&str, &str)]) -> String {
    let mut terminal = Terminal::run(folder, arguments);
    let mut left: Vec<(&str, &str)> = lines.to_vec();
    let mut pressed = 0;
    while !left.is_empty() {
        let asked = loop {
            let seen = plain(&terminal.seen);
            let asks = left.iter().position(|(question, _)| {
                seen.contains(question) && prompted(&terminal.seen, question)
            });
            // What was typed is shown again behind its prompt; a new question stands above one.
            let asked = seen.lines().any(|line| line.ends_with('?'));
            if asks.is_some() || (asked && seen.ends_with("] > ")) {
                break asks;
            }
            match terminal.screen.recv_timeout(PATIENCE) {
                Ok(bytes) => terminal.take(&bytes),
                Err(why) => panic!("{left:?} ({why}) in\n{}", plain(&terminal.all)),
            }
        };
        let line = asked.map_or("", |at| left.remove(at).1);
        pressed += 1;
        assert!(pressed < 150, "never asked: {left:?} in\n{}", plain(&terminal.all));
        terminal.press(&format!("{line}\r"));
    }
    terminal.ends(0)
}

/// Products and a floor of one's own, from an empty folder to its price: at the terminal alone.
#[test]
fn from_an_empty_folder_to_the_price_of_an_own_floor() {
    let folder = empty();
    let said = script(
        &folder,
        &["new", "product"],
        &[
            ("What is it called, as a customer", "Leveling color epoxy"),
            ("Which short name", ""),
            ("Who sells it", "Invented Resins"),
            ("How much does a kit hold", "3"),
            ("What does it cost you?", "204"),
            ("How much of it stays as dry film", "100"),
            ("How far does it go?", ""),
            ("Which dry film", "20"),
            ("Does it keep its color", "no"),
            ("Is it opaque", "no"),
            ("From which temperature of the slab", "50"),
            ("And up to which temperature", "90"),
            ("Does it harden with isocyanates", "no"),
            ("For which temperature does the sheet", "77"),
            ("How long can a mixed batch", "35 min"),
            ("From when may the next coat", "12"),
            ("And until when, without", "36"),
            ("When may one walk", "18"),
            ("And when may a car", "96"),
            ("Does the sheet have times at another", ""),
        ],
    );
    assert!(said.contains("There is no price book yet"), "{said}");
    assert!(said.contains("wrote book.toml"), "{said}");
    let said = script(
        &folder,
        &["new", "product"],
        &[
            ("What kind of product", "pigment"),
            ("What is it called, as a customer", "Brick red pigment"),
            ("How much colors a gallon", "0.5 lb/gal"),
            ("How much does one box, bag or pack weigh?", "2"),
            ("What does it cost you?", "31"),
            ("How much of it do you have in store?", ""),
        ],
    );
    assert!(said.contains("wrote book.toml, with the new product at its end"), "{said}");
    let said = script(
        &folder,
        &["new", "system"],
        &[
            ("What do customers call this floor?", "brick floor"),
            ("How many years does such a floor", "5"),
            ("And how many at most?", "12"),
            ("Which product is the first coat", "epoxy-primer"),
            ("What does it do, in one plain sentence?", "Seals the concrete."),
            ("Is there another coat on top?", "yes"),
            ("Which product comes next?", "leveling"),
            ("What is this coat for?", ""),
            ("What is this coat for?", "solid"),
            ("How is it laid?", ""),
            ("How is it laid?", "poured"),
            ("Which pigment colors it?", "1"),
            ("What do customers call this coat?", ""),
            ("What do customers call this coat?", "Brick red coat"),
            ("What does it do, in one plain sentence?", "Hides the concrete."),
            ("Is there another coat on top?", "no"),
            ("What is it, in a sentence or two?", "A primer and one coat of brick red."),
            ("What does it do better", "It is one color."),
            ("And what does it do worse?", "It shows dust."),
            ("Who should choose it?", "Choose this if you like brick red."),
            ("How does it take daylight", "May shift in daylight"),
            ("And hot tires?", "Usually holds"),
            ("How does it smell", "Some from the epoxy"),
            ("And how does it take a damp slab?", "Low limit"),
        ],
    );
    assert!(said.contains("wrote systems/brick.toml"), "{said}");
    let said = script(
        &folder,
        &["new", "shop"],
        &[
            ("What is your shop called?", "Invented Gray Heron Floors"),
            ("What is its address?", "done"),
        ],
    );
    assert!(said.contains("wrote shop.toml"), "{said}");
    let said = script(
        &folder,
        &["new", "brick-job"],
        &[
            ("Who is the customer?", "Ana Quill"),
            ("How long is it?", "20 ft"),
            ("How wide is it?", "20 ft"),
            ("Is there another floor area?", "done"),
            ("Does the slab lie on the ground?", "yes"),
            ("Does daylight", "yes"),
            ("Do you sell", "no"),
            ("Which floors", "brick"),
        ],
    );
    // An own floor stands there by its name.
    assert!(said.contains("brick floor"), "{said}");
    let priced = folder.run(&["estimate", "brick-job/job.toml"]).success().stdout();
    let priced = priced.replace('\u{a0}', " ");
    for line in ["Leveling color epoxy: 2 x 3 gal", "Brick red pigment: 2 x 2 lb", "coat: solid"] {
        assert!(priced.contains(line), "no `{line}` in\n{priced}");
    }
    // Nothing that was kept meanwhile is left.
    for place in [".", "systems", "brick-job"] {
        let left = std::fs::read_dir(folder.path(place)).unwrap().filter(|entry| {
            entry.as_ref().unwrap().file_name().to_string_lossy().starts_with(".slableaf")
        });
        assert_eq!(left.count(), 0, "{place}");
    }
}

/// A terminal that is closed loses no answer: the same command goes on from there.
#[test]
fn answers_outlive_the_terminal() {
    let folder = empty();
    let mut job = Terminal::run(&folder, &["new", "far/quill"]);
    job.answers("What is the job number?", "");
    job.answers("Which units", "");
    job.answers("What date goes on the paper?", "2026-05-12");
    job.answers("Who is the customer?", "Ana Quill");
    job.shows("What is the address?");
    // As a terminal does that is closed: it hangs up.
    let pid = job.child.id().to_string();
    assert!(Command::new("kill").args(["-HUP", &pid]).status().unwrap().success());
    // Whoever runs these tests may have told them to outlive that.
    let _ = job.child.kill();
    job.child.wait().unwrap();
    assert!(!folder.path("far/quill/job.toml").exists());
    {
        let kept = std::fs::metadata(folder.path("far/quill/.slableaf-answers-job")).unwrap();
        assert_eq!(kept.permissions().mode() & 0o077, 0, "nobody else reads who lives there");
    }

    let mut again = Terminal::run(&folder, &["new", "far/quill"]);
    again.shows("4 answers of an earlier time were kept");
    again.answers("Enter goes on from them", "");
    again.answers("What is the address?", "back");
    again.shows("[Ana Quill] > ");
    again.answers("Who is the customer?", "");
    again.press_at("What is the address?", "\u{3}");
    again.press_at("What is the address?", "\u{3}");
    let said = again.ends(2);
    assert!(
        said.contains("your 4 answers are kept: the same command goes on from there"),
        "{said}"
    );

    let mut anew = Terminal::run(&folder, &["new", "far/quill"]);
    anew.answers("Enter goes on from them", "new");
    anew.answers("What is the job number?", "");
    anew.shows("Which units");
}

/// Photos that are copied into the folder while the questions run are found.
#[test]
fn photos_that_come_meanwhile_are_found() {
    let folder = empty();
    let mut job = Terminal::run(&folder, &["new", "visit"]);
    for _ in 0..3 {
        job.answers("?", "");
    }
    job.answers("Who is the customer?", "Ana Quill");
    job.shows("What is the address?");
    let photo =
        std::fs::read(crate::fixture::root().join("examples/dry-and-quick/photos/dome.jpg"))
            .unwrap();
    let folder = folder.write("visit/dome.jpg", photo);
    let mut asked = 0;
    loop {
        job.shows("> ");
        let seen = plain(&job.seen);
        if seen.contains("Which photo goes into the paper?") {
            break;
        }
        asked += 1;
        assert!(asked < 120, "{}", plain(&job.all));
        let line = match () {
            () if seen.contains("How long is it?") || seen.contains("How wide is it?") => "20 ft",
            () if ["How warm was the air?", "How damp", "How warm was the slab"]
                .iter()
                .any(|ask| seen.contains(ask)) =>
            {
                "50"
            }
            () => "",
        };
        job.press(&format!("{line}\r"));
    }
    job.answers("Which photo goes into the paper?", "dome");
    job.answers("What does it show?", "A dish");
    job.answers("Another photo?", "done");
    let said = job.ends(0);
    assert!(folder.read("visit/job.toml").contains("file = \"dome.jpg\""), "{said}");
}
