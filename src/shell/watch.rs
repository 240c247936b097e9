//! `write --watch`: a draft, made again on every save.
//!
//! What the system tells of a folder is only a hint to look again: what counts is whether a file of
//! the job has another size or time than when it was last read. So a save by way of another name, many
//! events for one save, and a disk that tells nothing all come to the same.

use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};
use std::sync::mpsc::{self, Receiver, RecvTimeoutError};
use std::time::{Duration, SystemTime};

use notify::{RecommendedWatcher, RecursiveMode, Watcher as _};
use slableaf::read::limits::LAYOUT_DEPTH;
use slableaf::say::figures::Figures;

use crate::shell::args::{Paper, Write};
use crate::shell::desk::Desk;
use crate::shell::folder::candidate;
use crate::shell::since::Seen;
use crate::shell::stock::Stock;
use crate::shell::write::{at_desk, draft, out};
use crate::shell::{Exit, batch, files, layouts, terminal};

/// How long it must have been quiet after a save: an editor writes in several steps.
const QUIET: Duration = Duration::from_millis(8);
/// How often the files are looked at on a disk that tells nothing.
const LOOK: Duration = Duration::from_millis(700);

/// Files by path, with what tells a save: size and time.
type Stamps = BTreeMap<PathBuf, (u64, Option<SystemTime>)>;

/// What a draft said, and the folders of its pictures.
struct Drawn {
    seen: Seen,
    line: String,
    pictures: Vec<PathBuf>,
}

pub fn watch(write: &Write, papers: &[Paper]) -> Result<Exit, Exit> {
    let Some(job) = batch::single(&write.jobs) else {
        terminal::error("`--watch` is for one job at a time");
        terminal::help("name one job file: `slableaf write job.toml --watch`");
        return Err(Exit::Input);
    };
    files::read_text(job)?;
    let stock = Stock::default();
    let (sender, events) = mpsc::channel();
    let tell = move |_: notify::Result<notify::Event>| {
        // Nobody listens any more when the run ends.
        let _ = sender.send(());
    };
    let mut eyes = Eyes { watcher: notify::recommended_watcher(tell).ok(), on: vec![] };
    let mut places = Places::of(write, job);
    let mut stamps = places.stamps();
    let mut last = drawn(write, job, papers, &stock, None).ok();
    if last.is_none() {
        terminal::say("no draft yet: it is written when what is wrong is mended and saved");
    }
    terminal::say(
        "watching the job, its book, shop file, photos, layouts and words; Ctrl-C ends it",
    );
    loop {
        if let Some(drawn) = &last {
            places.pictures.clone_from(&drawn.pictures);
            // Pictures that a save named are not news.
            places.stamps().into_iter().filter(|(path, _)| files::is_picture(path)).for_each(
                |(path, stamp)| {
                    stamps.entry(path).or_insert(stamp);
                },
            );
        }
        eyes.look_at(&places);
        // A file may have been saved while the draft was made.
        let mut now = places.stamps();
        while now == stamps {
            wait(&events);
            places = Places { pictures: places.pictures, ..Places::of(write, job) };
            now = places.stamps();
        }
        stamps = now;
        stock.renew();
        match drawn(write, job, papers, &stock, last.as_ref().map(|one| &one.seen)) {
            Ok(next) => {
                terminal::say(&next.line);
                last = Some(next);
            }
            Err(_) if last.is_some() => {
                terminal::say("not written again; the draft of the last good save stays");
            }
            Err(_) => terminal::say("no draft yet"),
        }
    }
}

/// Writes the drafts; the first time it says so as every run does.
fn drawn(
    write: &Write,
    job: &Path,
    papers: &[Paper],
    stock: &Stock,
    before: Option<&Seen>,
) -> Result<Drawn, Exit> {
    let folder = out(write, &files::folder_of(job))?;
    at_desk(write, job, papers, stock, |desk| {
        let seen = Seen::of(desk.judged);
        let Some(before) = before else {
            draft(write, desk, papers, &folder)?;
            let line = "draft written".to_owned();
            return Ok(Drawn { seen, line, pictures: pictures(desk) });
        };
        let (done, said) = terminal::kept(|| draft(write, desk, papers, &folder));
        if let Err(exit) = done {
            terminal::again(&said);
            return Err(exit);
        }
        let names: Vec<&str> = papers.iter().map(|paper| paper.name()).collect();
        let input = desk.input();
        let words = &desk.materials.house.words.figures;
        let figures = Figures { units: input.job.units, currency: &input.book.currency, words };
        let line = format!("{} written again: {}", names.join(", "), seen.since(before, &figures));
        Ok(Drawn { seen, line, pictures: pictures(desk) })
    })
}

/// The folders of a job's pictures.
fn pictures(desk: &Desk<'_>) -> Vec<PathBuf> {
    let found = &desk.materials.found;
    let input = desk.input();
    let photos = input.job.photos.iter().map(|photo| (&found.job_folder, &photo.file));
    let logo = input.shop.logo.iter().map(|logo| (&found.shop_folder, logo));
    let mut folders: Vec<PathBuf> = photos
        .chain(logo)
        .map(|(folder, file)| files::folder_of(&folder.join(&file.value.0)))
        .collect();
    folders.sort();
    folders.dedup();
    folders
}

/// Where the files of a job lie.
#[derive(Debug, Clone, PartialEq, Eq)]
struct Places {
    job: PathBuf,
    /// Book and shop file, as far as they are there.
    near: Vec<PathBuf>,
    /// Folders of the shop's own systems, and of its layouts and words.
    own: Vec<PathBuf>,
    pictures: Vec<PathBuf>,
}

impl Places {
    fn of(write: &Write, job: &Path) -> Self {
        let near = candidate(job);
        let book = write.near.book.clone().or(near.book);
        let shop = write.near.shop.clone().or(near.shop);
        let beside = |file: &Option<PathBuf>, name: &str| {
            file.as_ref().map(|file| files::folder_of(file).join(name))
        };
        let own = beside(&book, files::SYSTEMS).into_iter();
        Self {
            job: job.to_owned(),
            own: own.chain(beside(&shop, layouts::FOLDER)).collect(),
            near: book.into_iter().chain(shop).collect(),
            pictures: vec![],
        }
    }

    /// The folders to be told of.
    fn folders(&self) -> Vec<PathBuf> {
        let files = self.near.iter().chain([&self.job]).map(|file| files::folder_of(file));
        let mut folders: Vec<PathBuf> = files.chain(self.pictures.iter().cloned()).collect();
        for own in &self.own {
            below(own, LAYOUT_DEPTH, &mut |path, is_folder| {
                folders.extend(is_folder.then(|| path.to_owned()));
            });
        }
        folders.sort();
        folders.dedup();
        folders
    }

    fn stamps(&self) -> Stamps {
        let mut stamps = Stamps::new();
        let mut add = |path: &Path| {
            if let Ok(data) = fs::metadata(path) {
                stamps.insert(path.to_owned(), (data.len(), data.modified().ok()));
            }
        };
        self.near.iter().chain([&self.job]).for_each(|file| add(file));
        for own in &self.own {
            below(own, LAYOUT_DEPTH, &mut |path, is_folder| {
                if !is_folder {
                    add(path);
                }
            });
        }
        for folder in &self.pictures {
            for entry in fs::read_dir(folder).into_iter().flatten().flatten() {
                if files::is_picture(&entry.path()) && !is_of_ours(&entry.path()) {
                    add(&entry.path());
                }
            }
        }
        stamps
    }
}

/// Pages that `--png` draws may lie beside the photos.
fn is_of_ours(path: &Path) -> bool {
    let name = path.file_name().unwrap_or_default().to_string_lossy();
    name.contains("-draft.page-") || name.starts_with(".slableaf-")
}

/// Every folder and file from a folder down, links not followed.
fn below(folder: &Path, deep: usize, each: &mut impl FnMut(&Path, bool)) {
    if !folder.is_dir() {
        return;
    }
    each(folder, true);
    for entry in fs::read_dir(folder).into_iter().flatten().flatten() {
        match entry.file_type() {
            Ok(kind) if kind.is_dir() && deep > 1 => below(&entry.path(), deep - 1, each),
            Ok(kind) if !kind.is_dir() => each(&entry.path(), false),
            _ => {}
        }
    }
}

/// What tells of saves.
struct Eyes {
    /// None where the system has nothing that tells.
    watcher: Option<RecommendedWatcher>,
    on: Vec<PathBuf>,
}

impl Eyes {
    /// Sees to it that the folders of a job, and no others, are watched.
    fn look_at(&mut self, places: &Places) {
        let folders = places.folders();
        let Some(watcher) = &mut self.watcher else { return };
        // A folder that cannot be watched is looked at now and then all the same.
        for gone in self.on.iter().filter(|folder| !folders.contains(folder)) {
            let _ = watcher.unwatch(gone);
        }
        for new in folders.iter().filter(|folder| !self.on.contains(folder)) {
            let _ = watcher.watch(new, RecursiveMode::NonRecursive);
        }
        self.on = folders;
    }
}

/// Waits until something may have been saved, and whoever saves it is done.
fn wait(events: &Receiver<()>) {
    match events.recv_timeout(LOOK) {
        Ok(()) => while events.recv_timeout(QUIET).is_ok() {},
        Err(RecvTimeoutError::Timeout) => {}
        // Nothing tells.
        Err(RecvTimeoutError::Disconnected) => std::thread::sleep(LOOK),
    }
}
