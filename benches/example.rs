//! The main example as the benches take it, with other figures for each number.

#![allow(dead_code)]

use std::fs;
use std::path::{Path, PathBuf};

use slableaf::base::layouts::Layouts;
use slableaf::base::source::SourceFile;
use slableaf::judge::judge;
use slableaf::papers::proposal::page::Page;
use slableaf::papers::proposal::writer::Writer;
use slableaf::papers::proposal::{self, Issue, LOGO_PATH, photo_path};
use slableaf::read::{self, Files, Input};
use slableaf::say::words::Words;
use slableaf::typeset::picture::Picture;
use slableaf::typeset::{Manuscript, PaperKind, Renderer, images};

pub fn examples() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("examples")
}

pub fn bytes(name: &str) -> Vec<u8> {
    fs::read(examples().join(name)).unwrap_or_else(|error| panic!("{name}: {error}"))
}

pub fn text(name: &str) -> SourceFile {
    let text = String::from_utf8(bytes(name)).unwrap_or_else(|_| panic!("{name} is no UTF-8"));
    SourceFile { name: name.to_owned(), text }
}

/// The main example's files; customer, floor, air, cracks and a reading differ with the number.
pub fn files(number: usize) -> Files {
    let mut job = text("two-car-barrier/job.toml");
    let swaps = [
        ("Rosa and Emil Tannenwald", format!("Customer {number}")),
        ("[\"22 ft\", \"0 ft\"], [\"22 ft\", \"21 ft\"]", {
            let wide = 20 + number % 10;
            format!("[\"{wide} ft\", \"0 ft\"], [\"{wide} ft\", \"21 ft\"]")
        }),
        ("humidity = \"54 %\"", format!("humidity = \"{} %\"", 40 + number % 15)),
        ("length = \"38 ft\"", format!("length = \"{} ft\"", 20 + number % 40)),
        ("after = \"222.4 g\"", format!("after = \"22{}.{} g\"", 1 + number % 2, number % 10)),
    ];
    for (old, new) in swaps {
        assert!(job.text.contains(old), "{old}");
        job.text = job.text.replacen(old, &new, 1);
    }
    Files {
        job,
        book: text("book.toml"),
        shop: text("shop.toml"),
        systems: Layouts::default().source_files("systems/"),
    }
}

pub fn read(files: &Files) -> Input {
    read::read(files).unwrap_or_else(|_| panic!("the example cannot be read"))
}

pub fn page(input: &Input, words: &Words) -> Page {
    let judged = judge(input);
    let writer = Writer::new(&judged.case, &judged.findings, &judged.recommendation, words);
    let photos = input.job.photos.len();
    let issue = Issue { has_logo: true, photos, ..Issue::default() };
    proposal::page(&writer, &issue).unwrap_or_else(|error| panic!("{error}"))
}

/// Sets proposals of the main example with one renderer.
pub struct Printer {
    pub words: Words,
    pictures: Vec<(String, Vec<u8>)>,
    renderer: Renderer,
}

impl Printer {
    pub fn new() -> Self {
        let layouts = Layouts::default();
        let words = Words::read(&layouts, "en").unwrap_or_else(|error| panic!("{error}"));
        let made = |picture: Result<Vec<u8>, images::ImageFault>| {
            picture.unwrap_or_else(|fault| panic!("{fault}"))
        };
        let photos = ["overview", "dome", "crack"].iter().enumerate().map(|(at, name)| {
            let photo = bytes(&format!("two-car-barrier/photos/{name}.jpg"));
            (photo_path(at), made(images::photo(&photo)))
        });
        let logo = (LOGO_PATH.to_owned(), made(images::logo(&bytes("logo.png"))));
        let pictures = std::iter::once(logo).chain(photos).collect();
        Self { words, pictures, renderer: Renderer::new(layouts) }
    }

    /// The page of a customer. Each is another one: the same again would only be looked up.
    pub fn page(&self, number: usize) -> (Input, Page) {
        let input = read(&files(number));
        let page = page(&input, &self.words);
        (input, page)
    }

    pub fn print(&self, (input, page): (Input, Page)) -> usize {
        let pictures = self.pictures.iter();
        let made = self.renderer.pdf(Manuscript {
            kind: PaperKind::Proposal,
            page: &page,
            pictures: pictures
                .map(|(path, bytes)| Picture::of_bytes(path.clone(), bytes.clone()))
                .collect(),
            date: input.job.date,
            identity: input.job.number.0,
            drawn: None,
        });
        made.unwrap_or_else(|failure| panic!("{failure}")).pdf.len()
    }
}
