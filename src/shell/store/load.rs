//! Loading a job: its own file, and those that it shares with others, found on disk and understood.

use std::path::{Path, PathBuf};

use slableaf::base::source::SourceFile;
use slableaf::read::{self, Files, Input};

use crate::shell::args::JobFiles;
use crate::shell::store::{
    Cache, FileBytes, SharedTexts, folder_of, nearest, own_folder, read_text,
};
use crate::shell::terminal::{Error, Exit, OrCannot as _, Result, shown};

/// The files of a job as they were found on disk.
pub struct LoadedFiles {
    pub files: Files,
    pub job_folder: PathBuf,
    pub shop_folder: PathBuf,
    /// The same files to the byte, by their paths in a record.
    pub bytes: Vec<FileBytes>,
    /// Job, book and shop file on disk, each by its path in a record.
    pub on_disk: Vec<(&'static str, PathBuf)>,
}

impl LoadedFiles {
    /// All files, for messages that show a line of one.
    pub fn all(&self) -> Vec<SourceFile> {
        let Files { job, book, shop, systems } = &self.files;
        [job, book, shop].into_iter().chain(systems).cloned().collect()
    }

    /// Looks once more at job, book and shop file: whoever waited for a lock may have read what is old by then.
    ///
    /// # Errors
    /// One of them is not what was read.
    pub fn are_as_read(&self) -> Result<()> {
        let changed = self.on_disk.iter().find(|(name, path)| {
            let as_read = self.bytes.iter().find(|file| file.path == *name);
            let now = read_text(path).ok().map(|(_, bytes)| bytes);
            now.as_ref() != as_read.map(|file| &file.bytes)
        });
        changed.map_or(Ok(()), |(_, path)| {
            let message = format!("{} was changed while this ran", shown(path));
            Err(Error::new(Exit::Files, message).help("nothing was issued; run this again"))
        })
    }

    /// The folder that an option names, or the one of that name beside the job.
    pub fn folder(&self, given: Option<&PathBuf>, name: &str, option: &str) -> Result<PathBuf> {
        own_folder(&self.job_folder, given, name, option)
    }
}

/// Reads and understands a job's files.
pub fn load_files(wanted: &JobFiles, cache: &Cache) -> Result<(LoadedFiles, Input)> {
    let (job, bytes) = read_text(&wanted.job)?;
    let mut all = vec![FileBytes { path: "job.toml".into(), bytes }];
    let job_folder = folder_of(&wanted.job);
    let book_path = given_or_nearest(wanted.near.book.as_ref(), &job_folder, "book")?;
    let shop_path = given_or_nearest(wanted.near.shop.as_ref(), &job_folder, "shop")?;
    let shared = cache.shared_files(&book_path, &shop_path)?;
    all.extend(shared.texts.bytes.iter().cloned());
    let input = shared.join(&job, read::read_job(&job), None)?;
    let SharedTexts { book, shop, systems, .. } = &shared.texts;
    let (book, shop, systems) = (book.clone(), shop.clone(), systems.clone());
    let files = Files { job, book, shop, systems };
    let shop_folder = folder_of(&shop_path);
    let on_disk =
        vec![("job.toml", wanted.job.clone()), ("book.toml", book_path), ("shop.toml", shop_path)];
    let loaded = LoadedFiles { files, job_folder, shop_folder, bytes: all, on_disk };
    Ok((loaded, input))
}

/// The file that was named, or the nearest one in the job's folder or above.
fn given_or_nearest(given: Option<&PathBuf>, job_folder: &Path, kind: &str) -> Result<PathBuf> {
    if let Some(path) = given {
        return Ok(path.clone());
    }
    let name = format!("{kind}.toml");
    let found = nearest(job_folder, &name).or_cannot("read", job_folder)?;
    found.ok_or_else(|| {
        let folder = job_folder.display();
        Error::new(Exit::Input, format!("no `{name}` in {folder} or any folder above it"))
            .help(format!("name one with `--{kind} FILE`, or start one: `slableaf new {kind}`"))
    })
}
