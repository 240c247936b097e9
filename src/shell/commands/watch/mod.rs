//! `write --watch`: a draft, made again on every save.
//!
//! An event of the system is only a hint to look again: a draft is made when a file of the job has
//! another size or time than when it was last read. So a save by way of another name, many
//! events for one save, and a disk that tells nothing all come to the same.

mod changes;

use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};
use std::sync::mpsc::{self, Receiver, RecvTimeoutError};
use std::time::{Duration, SystemTime};

use notify::{RecommendedWatcher, RecursiveMode, Watcher as _};
use slableaf::read::limits::LAYOUT_DEPTH;

use walkdir::{DirEntry, WalkDir};

use crate::shell::args::{Jobs, Paper, Write};
use crate::shell::commands::watch::changes::Seen;
use crate::shell::commands::write::{papers_folder, with_papers, write_drafts};
use crate::shell::store::{
    Cache, FONTS_FOLDER, FoundJobs, JobPapers, LAYOUTS_FOLDER, SYSTEMS, all_jobs, folder_of,
    is_picture, nearest, read_text, single_job,
};
use crate::shell::terminal::{Error, Exit, Report, Result, shown};

/// The quiet that is waited for after a save: an editor writes in several steps.
const QUIET: Duration = Duration::from_millis(8);
/// The time between two looks at the files on a disk that tells nothing.
const LOOK: Duration = Duration::from_millis(700);

/// Files by path, with their size and time, of which a save changes one.
type Stamps = BTreeMap<PathBuf, (u64, Option<SystemTime>)>;

/// A draft that was written, a line about it, and the folders of its pictures.
struct Draft {
    seen: Seen,
    line: String,
    pictures: Vec<PathBuf>,
}

pub fn watch(wanted: &Write, papers: &[Paper], report: &mut Report) -> Result<Exit> {
    let job = &one_job(&wanted.jobs)?;
    read_text(job)?;
    let cache = Cache::default();
    let (sender, events) = mpsc::channel();
    let tell = move |_: notify::Result<notify::Event>| {
        // Nobody listens any more when the run ends.
        let _ = sender.send(());
    };
    let mut watcher =
        FolderWatcher { watcher: notify::recommended_watcher(tell).ok(), folders: vec![] };
    let mut places = Places::of(wanted, job);
    let mut stamps = places.stamps();
    let mut last = match draft(wanted, job, papers, &cache, None, report) {
        Ok(draft) => Some(draft),
        Err(error) => {
            report.error(&error);
            report.say("no draft yet: it is written when what is wrong is mended and saved");
            None
        }
    };
    report.say(
        "watching the job, its book, shop file, photos, layouts, words and fonts; Ctrl-C ends it",
    );
    loop {
        report.flush();
        if let Some(draft) = &last {
            places.pictures.clone_from(&draft.pictures);
            // Pictures that a save named are not news.
            for (path, stamp) in places.stamps().into_iter().filter(|(path, _)| is_picture(path)) {
                stamps.entry(path).or_insert(stamp);
            }
        }
        watcher.watch(&places);
        // A file may have been saved while the draft was made.
        let mut now = places.stamps();
        while now == stamps {
            wait(&events);
            places = Places { pictures: places.pictures, ..Places::of(wanted, job) };
            now = places.stamps();
        }
        stamps = now;
        cache.forget_changed();
        let before = last.as_ref().map(|draft| &draft.seen);
        match draft(wanted, job, papers, &cache, before, report) {
            Ok(next) => {
                report.say(&next.line);
                last = Some(next);
            }
            Err(error) => {
                report.error(&error);
                report.say(match last {
                    Some(_) => "not written again; the draft of the last good save stays",
                    None => "no draft yet",
                });
            }
        }
    }
}

/// The job that is watched: one that was named, or the only one in a folder.
fn one_job(wanted: &Jobs) -> Result<PathBuf> {
    if let Some(job) = single_job(wanted) {
        return Ok(job.to_owned());
    }
    let refused = |more: &str| {
        Err(Error::new(Exit::Input, format!("`--watch` is for one job at a time{more}"))
            .help("name one job file: `slableaf write job.toml --watch`"))
    };
    match wanted.paths.as_slice() {
        [folder] if folder.as_os_str() != "-" => {
            let FoundJobs { mut jobs, .. } = all_jobs(wanted)?;
            match (jobs.len(), jobs.pop()) {
                (1, Some(job)) => Ok(job),
                (count, _) => refused(&format!(", and {} holds {count}", shown(folder))),
            }
        }
        _ => refused(""),
    }
}

/// Writes the drafts; the first time it says so as every run does.
fn draft(
    wanted: &Write,
    job: &Path,
    papers: &[Paper],
    cache: &Cache,
    before: Option<&Seen>,
    report: &mut Report,
) -> Result<Draft> {
    let folder = papers_folder(wanted, &folder_of(job))?;
    with_papers(wanted, job, papers, cache, |job_papers| {
        let mut lines = Report::default();
        let written = write_drafts(wanted, job_papers, papers, &folder, &mut lines);
        if before.is_none() || written.is_err() {
            report.append(lines);
        }
        written?;
        let seen = match job_papers.spaces() {
            Some(spaces) => Seen::of_spaces(&spaces),
            None => Seen::of(job_papers.judged.first()),
        };
        let line = match before {
            None => "draft written".to_owned(),
            Some(before) => {
                let names: Vec<&str> = papers.iter().map(|paper| paper.name()).collect();
                let changes = seen.since(before, &job_papers.writer().figures);
                format!("{} written again: {changes}", names.join(", "))
            }
        };
        Ok(Draft { seen, line, pictures: picture_folders(job_papers) })
    })
}

/// The folders of a job's pictures.
fn picture_folders(job_papers: &JobPapers<'_>) -> Vec<PathBuf> {
    let files = &job_papers.job.files;
    let input = &job_papers.job.input;
    let photos = input.job.photos.iter().map(|photo| (&files.job_folder, &photo.file));
    let logo = input.shop.logo.iter().map(|logo| (&files.shop_folder, logo));
    let mut folders: Vec<PathBuf> =
        photos.chain(logo).map(|(folder, file)| folder_of(&folder.join(&file.value.0))).collect();
    folders.sort();
    folders.dedup();
    folders
}

/// The places of the files of a job.
#[derive(Debug, Clone, PartialEq, Eq)]
struct Places {
    job: PathBuf,
    /// Book and shop file, as far as they are there.
    near: Vec<PathBuf>,
    /// Folders of the shop's own systems, of its layouts and words, and of its fonts.
    own: Vec<PathBuf>,
    pictures: Vec<PathBuf>,
}

impl Places {
    fn of(wanted: &Write, job: &Path) -> Self {
        let near = |given: &Option<PathBuf>, name: &str| {
            given.clone().or_else(|| nearest(&folder_of(job), name).ok().flatten())
        };
        let book = near(&wanted.near.book, "book.toml");
        let shop = near(&wanted.near.shop, "shop.toml");
        let systems = book.iter().map(|book| folder_of(book).join(SYSTEMS));
        let layouts = shop.iter().map(|shop| folder_of(shop).join(LAYOUTS_FOLDER));
        let fonts = shop.iter().map(|shop| folder_of(shop).join(FONTS_FOLDER));
        Self {
            job: job.to_owned(),
            own: systems.chain(layouts).chain(fonts).collect(),
            near: book.iter().chain(&shop).cloned().collect(),
            pictures: vec![],
        }
    }

    /// The folders to watch.
    fn folders(&self) -> Vec<PathBuf> {
        let files = self.near.iter().chain([&self.job]).map(|file| folder_of(file));
        let mut folders: Vec<PathBuf> = files.chain(self.pictures.iter().cloned()).collect();
        for own in &self.own {
            folders.extend(entries_below(own, true));
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
            entries_below(own, false).for_each(|file| add(&file));
        }
        for folder in &self.pictures {
            for entry in fs::read_dir(folder).into_iter().flatten().flatten() {
                if is_picture(&entry.path()) && !is_own_picture(&entry.path()) {
                    add(&entry.path());
                }
            }
        }
        stamps
    }
}

/// Pages that `--png` draws may lie beside the photos.
fn is_own_picture(path: &Path) -> bool {
    let name = path.file_name().unwrap_or_default().to_string_lossy();
    name.contains("-draft.page-") || name.starts_with(".slableaf-")
}

/// Every folder from a folder down, with itself, or every other entry; links are not followed.
fn entries_below(folder: &Path, folders: bool) -> impl Iterator<Item = PathBuf> {
    let entries = WalkDir::new(folder).max_depth(LAYOUT_DEPTH).into_iter().flatten();
    let is_folder = |entry: &DirEntry| {
        entry.file_type().is_dir() || entry.depth() == 0 && entry.path().is_dir()
    };
    entries
        .filter(move |entry| is_folder(entry) == folders)
        .filter(move |entry| !folders || entry.depth() < LAYOUT_DEPTH)
        .map(DirEntry::into_path)
}

/// Watches the folders of a job.
struct FolderWatcher {
    /// None where the system cannot watch.
    watcher: Option<RecommendedWatcher>,
    folders: Vec<PathBuf>,
}

impl FolderWatcher {
    /// Watches the folders of a job, and no others.
    fn watch(&mut self, places: &Places) {
        let folders = places.folders();
        let Some(watcher) = &mut self.watcher else { return };
        // A folder that cannot be watched is looked at now and then all the same.
        for gone in self.folders.iter().filter(|folder| !folders.contains(folder)) {
            let _ = watcher.unwatch(gone);
        }
        for new in folders.iter().filter(|folder| !self.folders.contains(folder)) {
            let _ = watcher.watch(new, RecursiveMode::NonRecursive);
        }
        self.folders = folders;
    }
}

/// Waits until something may have been saved, and whoever saves it is done.
fn wait(events: &Receiver<()>) {
    match events.recv_timeout(LOOK) {
        Ok(()) => while events.recv_timeout(QUIET).is_ok() {},
        Err(RecvTimeoutError::Timeout) => {}
        // Nothing is watched.
        Err(RecvTimeoutError::Disconnected) => std::thread::sleep(LOOK),
    }
}
