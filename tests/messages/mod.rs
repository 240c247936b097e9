//! Messages about mistakes, to the letter: one change to a small file, one message.

mod accepted;
mod after;
mod book;
mod dates;
mod decided;
mod files;
mod floors;
mod job;
mod laid;
mod lists;
mod moisture;
mod numbers;
mod orders;
mod pictures;
mod price_changes;
mod product;
mod shapes;
mod shop;
mod slab;
mod small;
mod spaces;
mod system;
mod toml;
mod values;

use crate::fixture::{Folder, dedented};

/// A small shop with one job, and the file of it that a test changes.
pub struct SmallShop {
    folder: Folder,
    file: &'static str,
}

/// The small job with these lines at its end.
fn job(lines: &str) -> SmallShop {
    SmallShop::of("job.toml").add(lines)
}

/// The small price book with these lines at its end.
fn book(lines: &str) -> SmallShop {
    SmallShop::of("book.toml").add(lines)
}

/// The small shop file with these lines at its end.
fn shop(lines: &str) -> SmallShop {
    SmallShop::of("shop.toml").add(lines)
}

/// The shop's own floor that is on offer.
fn system() -> SmallShop {
    SmallShop::of("systems/thin.toml")
}

impl SmallShop {
    fn of(file: &'static str) -> Self {
        let folder = Folder::empty()
            .write("job.toml", small::JOB)
            .write("book.toml", small::BOOK)
            .write("shop.toml", small::SHOP)
            .write("systems/thin.toml", small::FLOOR);
        Self { folder, file }
    }

    fn add(self, lines: &str) -> Self {
        let (file, text) = (self.file, self.folder.read(self.file) + lines);
        self.write(file, text)
    }

    /// Writes another of the shop's files.
    fn write(self, file: &str, text: impl AsRef<[u8]>) -> Self {
        Self { folder: self.folder.write(file, text), ..self }
    }

    /// Replaces a piece of text that stands in the file once.
    #[track_caller]
    fn replace(self, from: &str, to: &str) -> Self {
        Self { folder: self.folder.replace(self.file, from, to), ..self }
    }

    /// Takes the text out from one piece up to another.
    #[track_caller]
    fn cut(self, from: &str, until: &str) -> Self {
        let text = self.folder.read(self.file);
        let start = text.find(from).unwrap();
        let end = start + text[start..].find(until).unwrap();
        let file = self.file;
        self.write(file, format!("{}{}", &text[..start], &text[end..]))
    }

    /// Replaces a piece of text that stands once in another of the shop's files.
    #[track_caller]
    fn replace_in(self, file: &str, from: &str, to: &str) -> Self {
        Self { folder: self.folder.replace(file, from, to), ..self }
    }

    /// All that `check` prints of the mistakes.
    #[track_caller]
    fn printed(&self) -> String {
        dedented(&self.folder.run(&["check", "job.toml"]).code(2).complaint())
    }

    /// `check` finds this mistake and no other.
    #[track_caller]
    fn says(&self, block: &str) {
        let expected = format!("{}\n\n1 problem found; nothing was written", dedented(block));
        assert_eq!(self.printed(), expected);
    }

    /// `check` finds this mistake among others that follow from it.
    #[track_caller]
    fn says_among_others(&self, block: &str) {
        let (block, printed) = (dedented(block), self.printed());
        assert!(printed.contains(&block), "not there:\n{block}\n\nprinted:\n{printed}");
    }

    /// The first lines of all mistakes that `check` finds.
    #[track_caller]
    fn mistakes(&self) -> Vec<String> {
        let printed = self.printed();
        printed.lines().filter(|line| line.starts_with("error: ")).map(str::to_owned).collect()
    }
}

/// All mistakes in one run: by file, and by place in each.
#[test]
fn the_mistakes_of_several_files_come_in_their_order() {
    let printed = shop("")
        .replace(r##"accent = "#27566B""##, r#"accent = "blue""#)
        .replace_in("book.toml", "crew = 2", "crew = 0")
        .replace_in("job.toml", "daylight = true", r#"daylight = "yes""#)
        .replace_in("job.toml", r#"number = "2026-0142""#, r#"number = "a b""#)
        .printed();
    let places: Vec<&str> =
        printed.lines().filter_map(|line| line.trim_start().strip_prefix("--> ")).collect();
    assert_eq!(places, ["job.toml:1:10", "job.toml:32:12", "book.toml:9:8", "shop.toml:3:10"]);
    assert!(printed.ends_with("\n\n4 problems found; nothing was written"), "{printed}");
}

/// A file must not steer the terminal, not even by the line that a message shows.
#[test]
fn a_hidden_character_is_named_and_never_printed() {
    let turned = job("").replace(small::NAME, "name = \"Rosa\u{202e}Tannenwald\"");
    turned.says_among_others(
        "error: `name` holds a character that changes the direction of text (U+202E)\n --> job.toml:8:8",
    );
    assert!(!turned.printed().contains('\u{202e}'));
    let cleared = job("").replace("[slab]", "# \u{1b}[2J\n[slab]");
    cleared.says_among_others(
        "error: not TOML: invalid comment character, expected printable characters\n  --> job.toml:14:3",
    );
    assert!(!cleared.printed().contains('\u{1b}'));
}
