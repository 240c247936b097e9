//! A renderer that outlives its documents makes each as a renderer of its own would, to the byte: in any
//! order, with other documents before it, and beside others on another thread.

use std::fs;
use std::path::Path;
use std::sync::Mutex;
use std::sync::atomic::{AtomicUsize, Ordering};

use slableaf::base::layouts::Layouts;
use slableaf::base::source::SourceFile;
use slableaf::judge::judge;
use slableaf::papers::proposal::writer::Writer;
use slableaf::papers::proposal::{self, Issue, LOGO_PATH, photo_path};
use slableaf::read::{self, Files, Input};
use slableaf::say::words::Words;
use slableaf::typeset::picture::Picture;
use slableaf::typeset::{Manuscript, PaperKind, Renderer, alone, picture_cache};

use crate::fixture::root;

const EXAMPLES: &[&str] =
    &["two-car-barrier", "dry-and-quick", "too-wet-yet", "metric-probes", "smallest"];

struct Job {
    input: Input,
    language: &'static str,
    pictures: Vec<(String, Vec<u8>)>,
}

fn text(path: &Path) -> SourceFile {
    let text =
        fs::read_to_string(path).unwrap_or_else(|error| panic!("{}: {error}", path.display()));
    SourceFile { name: path.display().to_string(), text }
}

/// An example as a job of some language, for a customer of some name.
fn job(example: &str, language: &'static str, customer: &str) -> Job {
    let examples = root().join("examples");
    let folder = examples.join(example);
    let near = |name: &str| {
        let own = folder.join(name);
        if own.exists() { own } else { examples.join(name) }
    };
    let systems = Layouts::default();
    let systems = systems.below("systems/");
    let files = Files {
        job: text(&folder.join("job.toml")),
        book: text(&near("book.toml")),
        shop: text(&near("shop.toml")),
        systems: systems
            .map(|(path, text)| SourceFile { name: path.into(), text: text.into() })
            .collect(),
    };
    let mut input = read::read(&files).unwrap_or_else(|_| panic!("{example} cannot be read"));
    input.job.customer.name = customer.to_owned();
    let logo = input.shop.logo.iter().map(|logo| {
        let bytes = fs::read(near("shop.toml").with_file_name(&logo.value.0)).unwrap();
        (LOGO_PATH.to_owned(), picture_cache::logo(&bytes).unwrap())
    });
    let photos = input.job.photos.iter().enumerate().map(|(at, photo)| {
        let bytes = fs::read(folder.join(&photo.file.value.0)).unwrap();
        (photo_path(at), picture_cache::photo(&bytes).unwrap())
    });
    let pictures = logo.chain(photos).collect();
    Job { input, language, pictures }
}

/// The proposal for a job, by a renderer or by one made for it alone.
fn paper(job: &Job, renderer: Option<&Renderer>) -> Vec<u8> {
    let layouts = Layouts::default();
    let words = Words::read(&layouts, job.language).unwrap();
    let judged = judge(&job.input);
    let writer = Writer::new(&judged.case, &judged.findings, &judged.recommendation, &words);
    let issue = Issue {
        revision: Some(1),
        has_logo: job.input.shop.logo.is_some(),
        photos: job.input.job.photos.len(),
        ..Issue::default()
    };
    let page = proposal::page(&writer, &issue).unwrap();
    let manuscript = Manuscript {
        kind: PaperKind::Proposal,
        page: &page,
        pictures: job
            .pictures
            .iter()
            .map(|(path, bytes)| Picture::of_bytes(path.clone(), bytes.clone()))
            .collect(),
        date: job.input.job.date,
        identity: format!("{} proposal 1", job.input.job.number.0),
        drawn: None,
    };
    let made = match renderer {
        Some(renderer) => renderer.pdf(manuscript),
        None => Renderer::new(layouts.clone()).pdf(manuscript),
    };
    made.unwrap().pdf
}

#[test]
fn papers_of_one_press_are_those_of_single_ones_on_one_thread_and_on_two() {
    let named = |name: &'static str| {
        EXAMPLES.iter().map(move |example| {
            let language = if name.starts_with('R') { "es" } else { "en" };
            job(example, language, name)
        })
    };
    let jobs: Vec<Job> = named("Ada Birchfen").chain(named("Runa Elmsgate")).collect();
    let singles: Vec<Vec<u8>> = jobs.iter().map(|job| paper(job, None)).collect();

    // Backwards, so that none has the same papers before it as above.
    let renderer = Renderer::new(Layouts::default());
    for (job, single) in jobs.iter().zip(&singles).rev() {
        assert!(paper(job, Some(&renderer)) == *single, "{}", job.input.job.number.0);
    }

    let renderer = Renderer::new(Layouts::default());
    let next = AtomicUsize::new(0);
    let made = Mutex::new(vec![None; jobs.len()]);
    std::thread::scope(|scope| {
        for _ in 0..2 {
            scope.spawn(|| {
                alone(|| {
                    while let Some((at, job)) = {
                        let at = next.fetch_add(1, Ordering::Relaxed);
                        jobs.get(at).map(|job| (at, job))
                    } {
                        made.lock().unwrap()[at] = Some(paper(job, Some(&renderer)));
                    }
                });
            });
        }
    });
    for ((made, single), job) in made.into_inner().unwrap().into_iter().zip(singles).zip(&jobs) {
        assert!(made == Some(single), "{}", job.input.job.number.0);
    }
}
