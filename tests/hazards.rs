//! Hazards on the paper of whoever has to know. Sources stand beside each check.

use crate::documents::{files, letters};
use crate::fixture::Folder;
use crate::readers;

/// Everything that a customer's paper says, without white space and hyphens.
#[track_caller]
fn said(folder: &Folder, paper: &str) -> String {
    let run = ["write", "job.toml", "--draft", "--out", paper, "--paper", paper];
    folder.run(&run).success();
    pages(folder, paper, ".pdf")
}

/// Everything that the crew sheet of a floor says.
#[track_caller]
fn crew(folder: &Folder, floor: &str) -> String {
    let run = ["prepare", "job.toml", "--floor", floor, "--out", "shop", "--papers", "papers"];
    folder.run(&run).success();
    pages(folder, "shop", "crew-sheet-r1.pdf")
}

fn pages(folder: &Folder, within: &str, end: &str) -> String {
    let name = files(folder, within).into_iter().find(|name| name.ends_with(end)).unwrap();
    letters(&readers::pages(&folder.path(within).join(name)).concat())
}

#[track_caller]
fn has(text: &str, sentence: &str) {
    assert!(text.contains(&letters(sentence)), "no `{sentence}`");
}

#[track_caller]
fn lacks(text: &str, sentence: &str) {
    assert!(!text.contains(&letters(sentence)), "`{sentence}`");
}

/// A book without some of its lines.
#[track_caller]
fn book_without(folder: Folder, line: &str) -> Folder {
    let book = folder.read("book.toml");
    assert!(book.contains(line), "{line}");
    folder.write("book.toml", book.replace(line, ""))
}

/// NIOSH Alert 96-111: isocyanates can bring serious or fatal disease of the lungs. An attack may
/// come hours later.
#[test]
fn an_attack_of_the_lungs_is_an_emergency_on_every_paper() {
    let folder = Folder::of("two-car-barrier");
    for paper in ["proposal", "leaflet", "care"] {
        let text = said(&folder, paper);
        has(&text, "trouble breathing, even");
        has(&text, "get medical help at once");
        has(&text, "911");
    }
    folder.run(&["mail", "job.toml", "--out", "mail"]).success();
    let name = files(&folder, "mail").into_iter().find(|name| name.ends_with(".txt")).unwrap();
    let mail = letters(&folder.read(&format!("mail/{name}")));
    has(&mail, "get medical help at once");
    has(&crew(&folder, "barrier"), "medical help at once");
}

/// NIOSH 96-118: small engines indoors have killed with doors open and fans on.
#[test]
fn carbon_monoxide_is_named_to_the_customer_and_to_the_crew() {
    let folder = Folder::of("two-car-barrier");
    has(&said(&folder, "proposal"), "No engine may run in the garage, not even with the door open");
    has(&said(&folder, "leaflet"), "carbon monoxide has no smell");
    has(&crew(&folder, "barrier"), "No engine runs inside, no propane grinder");
}

/// Data that a book does not give of a coat is not known: common practice, no published source.
#[test]
fn no_paper_says_that_there_is_no_solvent_unless_the_book_says_so_of_every_coat() {
    const NONE: &str = "no coat of the floors priced here contains a solvent that can catch fire";
    let folder = Folder::of("two-car-barrier");
    has(&said(&folder, "proposal"), NONE);
    let unsaid = book_without(folder, "solvent-free = true\n");
    let text = said(&unsaid, "proposal");
    lacks(&text, NONE);
    has(&text, "can catch fire, as we do not know.");
    has(&text, "We give no airflow number here");
    has(&crew(&unsaid, "barrier"), "Until its maker says, treat it as flammable");
}

/// 29 CFR 1926.152(e)(2): cans are bonded while a flammable liquid is poured.
#[test]
fn what_the_shop_wipes_with_counts_for_fire() {
    let folder = Folder::of("two-car-barrier");
    lacks(&crew(&folder, "barrier"), "cans bonded by a wire");
    let wiped = folder.replace("book.toml", "solvent = \"none\"", "solvent = \"acetone\"");
    has(&said(&wiped, "proposal"), "We wipe or clean with acetone, whose vapor can catch fire.");
    has(&said(&wiped, "proposal"), "No number here counts its vapor");
    let crews = Folder::of("two-car-barrier").replace(
        "book.toml",
        "solvent = \"none\"",
        "solvent = \"acetone\"",
    );
    let text = crew(&crews, "barrier");
    has(&text, "For wiping and cleaning: acetone");
    has(&text, "cans bonded by a wire");
    let silent = book_without(Folder::of("two-car-barrier"), "[cleaning]\nsolvent = \"none\"\n");
    has(
        &crew(&silent, "barrier"),
        "Wiping solvent: not said. If you use one, the fire cautions apply.",
    );
}

/// The data sheets of fillers warn as those of coats do; and isocyanate that met water gives off
/// carbon dioxide, so that a sealed can bursts: makers' data sheets.
#[test]
fn a_filler_with_isocyanate_puts_its_cautions_on_the_crew_sheet() {
    let folder = Folder::of("dry-and-quick");
    let plain = folder.read("job.toml");
    let job =
        format!("{plain}\n[[crack]]\nlength = \"4 ft\"\nwidth = \"1/8 in\"\nmoves = \"no\"\n");
    let text = crew(&folder.write("job.toml", job), "water-kit");
    has(&text, "Hard crack filler");
    has(&text, "Smell is no warning");
    has(&text, "never seal it");
}

/// Whose limit a figure is, and of which year: the pocket guide of NIOSH.
#[test]
fn an_exposure_limit_says_whose_it_is() {
    let folder = Folder::of("dry-and-quick");
    has(
        &crew(&folder, "clear-epoxy"),
        "That is a limit for workers (NIOSH, 2007); others may be lower",
    );
    let unsaid = book_without(Folder::of("dry-and-quick"), "exposure-source = \"NIOSH, 2007\"\n");
    has(&crew(&unsaid, "clear-epoxy"), "We do not know whose limit that is");
}

/// A cable under tension that is cut can kill, and a drill finds live wires and gas. Common practice,
/// no published source.
#[test]
fn nobody_drills_or_cuts_before_it_is_known_what_lies_in_the_slab() {
    let inside = |what: &str| {
        let folder = Folder::of("dry-and-quick");
        let job = folder.read("job.toml");
        let kept: Vec<&str> = job.lines().filter(|line| !line.starts_with("inside = ")).collect();
        let job = kept.join("\n").replace("on-ground = true", &format!("on-ground = true\n{what}"));
        folder.write("job.toml", job)
    };
    for (what, title) in [
        ("", "Inside of the slab not known"),
        ("inside = [\"post-tension-cables\"]", "Cables under tension in the slab"),
        ("inside = [\"wiring\"]", "Power wires in the slab"),
    ] {
        let folder = inside(what);
        let paper = said(&folder, "proposal");
        has(&paper, title);
        has(&paper, "No drilling or cutting before a scan");
        has(&paper, "until a qualified firm has scanned it");
        let sheet = crew(&folder, "fast-cure");
        has(&sheet, title);
        has(&sheet, "No drilling, coring, chasing or cutting before a scan");
    }
    let nothing = inside("inside = [\"none\"]");
    lacks(&said(&nothing, "proposal"), "before a scan");
    lacks(&crew(&nothing, "fast-cure"), "coring, chasing or cutting before a scan");
}
