//! `layouts`: the layouts and words that papers are made with, and a shop's own over them.

use std::fs;
use std::path::{Path, PathBuf};

use slableaf::base::layouts::{EMBEDDED, Layouts};
use slableaf::base::source::{Diagnostic, SourceFile};
use slableaf::read::limits::{FILE_BYTES, LAYOUT_DEPTH, LAYOUT_FILES};
use slableaf::say::overlay::lay_over;
use slableaf::say::words::Words;

use crate::shell::Exit;
use crate::shell::args::LayoutsWanted;
use crate::shell::files::{self, AsRead, Found, Kept, cannot};
use crate::shell::terminal;
use crate::shell::texts::shown;

/// The folder beside a shop file that holds its own layouts and words.
pub const FOLDER: &str = "layouts";

pub fn layouts(wanted: &LayoutsWanted) -> Exit {
    listed(wanted).unwrap_or_else(|exit| exit)
}

fn listed(wanted: &LayoutsWanted) -> Result<Exit, Exit> {
    let known = |path: &&str| {
        let below =
            |folder: &String| path.starts_with(&format!("{}/", folder.trim_end_matches('/')));
        wanted.paths.is_empty() || wanted.paths.iter().any(|one| one == path || below(one))
    };
    let chosen: Vec<(&str, &str)> =
        EMBEDDED.iter().filter(|(path, _)| known(path)).copied().collect();
    if chosen.is_empty() {
        terminal::error("there is no layout of that name");
        terminal::help("`slableaf layouts` lists them all");
        return Err(Exit::Input);
    }
    if let Some(folder) = &wanted.copy {
        for (path, text) in chosen {
            let to = folder.join(path);
            match files::keep(&to, text.as_bytes(), false)? {
                Kept::Written => terminal::say(&format!("wrote {}", to.display())),
                Kept::Exists => terminal::say(&format!("there already: {}", to.display())),
            }
        }
        return Ok(Exit::Fine);
    }
    let shop = wanted.shop.clone().unwrap_or_else(|| PathBuf::from("shop.toml"));
    let layouts =
        if shop.exists() { of_shop(&files::folder_of(&shop))? } else { Layouts::default() };
    let origin = |path: &str| layouts.own(path).unwrap_or("built in").to_owned();
    let rows: Vec<Vec<String>> =
        chosen.iter().map(|(path, _)| vec![(*path).to_owned(), origin(path)]).collect();
    println!("{}", terminal::table(&rows));
    Ok(Exit::Fine)
}

/// Layouts with the shop's own laid over them, and the words of a language.
pub fn with_words(found: &Found, language: &str) -> Result<(Layouts, Words), Exit> {
    as_read_with_words(found, language).map(|(layouts, words, _)| (layouts, words))
}

/// The same, with the shop's own files to the byte.
pub fn as_read_with_words(
    found: &Found,
    language: &str,
) -> Result<(Layouts, Words, Vec<AsRead>), Exit> {
    let (layouts, as_read) = of_shop_as_read(&found.shop_folder)?;
    let words = words(&layouts, language)?;
    Ok((layouts, words, as_read))
}

/// The words of a language. Says on the terminal what is wrong with them.
pub fn words(layouts: &Layouts, language: &str) -> Result<Words, Exit> {
    Words::read(layouts, language).map_err(|error| terminal::words(&error, layouts))
}

/// The built-in layouts with those of a shop in their place: the files in the folder `layouts`
/// beside its shop file. Says on the terminal what is wrong with them.
pub fn of_shop(shop_folder: &Path) -> Result<Layouts, Exit> {
    of_shop_as_read(shop_folder).map(|(layouts, _)| layouts)
}

/// The shop's own files, to the byte.
pub fn own(shop_folder: &Path) -> Result<Vec<AsRead>, Exit> {
    of_shop_as_read(shop_folder).map(|(_, own)| own)
}

fn of_shop_as_read(shop_folder: &Path) -> Result<(Layouts, Vec<AsRead>), Exit> {
    let root = shop_folder.join(FOLDER);
    let (Ok(inside), Ok(shop)) = (fs::canonicalize(&root), fs::canonicalize(shop_folder)) else {
        return Ok((Layouts::default(), vec![]));
    };
    let mut walk =
        Walk { inside, shown: shown(&root), files: vec![], as_read: vec![], problems: vec![] };
    if !walk.inside.starts_with(&shop) {
        walk.problems.push(problem(&walk.shown, "is a link that leads out of the folder"));
    } else if walk.inside.is_dir() {
        walk.folder(&root, "", 1)?;
    }
    let Walk { files, problems, as_read, .. } = walk;
    let all: Vec<SourceFile> = files.iter().map(|(_, file)| file.clone()).collect();
    let laid = if problems.is_empty() { lay_over(files) } else { Err(problems) };
    match laid {
        Ok(layouts) => Ok((layouts, as_read)),
        Err(problems) => {
            terminal::problems(&problems, &all);
            Err(Exit::Input)
        }
    }
}

fn problem(name: &str, why: &str) -> Diagnostic {
    Diagnostic { message: format!("{name} {why}"), span: None, label: String::new(), help: vec![] }
}

/// The files below a shop's folder `layouts`, as they are found.
struct Walk {
    /// The folder itself, without links.
    inside: PathBuf,
    shown: String,
    files: Vec<(String, SourceFile)>,
    as_read: Vec<AsRead>,
    problems: Vec<Diagnostic>,
}

impl Walk {
    fn folder(&mut self, folder: &Path, below: &str, depth: usize) -> Result<(), Exit> {
        let entries = fs::read_dir(folder).map_err(|error| cannot("read", folder, &error))?;
        let mut names: Vec<String> = entries
            .filter_map(|entry| Some(entry.ok()?.file_name().to_string_lossy().into_owned()))
            // What an editor or a file manager keeps for itself is no layout.
            .filter(|name| !name.starts_with('.'))
            .collect();
        names.sort();
        for name in names {
            let path = folder.join(&name);
            let key = format!("{below}{name}");
            let shown = format!("{}/{key}", self.shown);
            match self.safe(&path) {
                Err(why) => self.problems.push(problem(&shown, &why)),
                Ok(real) if real.is_dir() && depth < LAYOUT_DEPTH => {
                    self.folder(&path, &format!("{key}/"), depth + 1)?;
                }
                Ok(real) if real.is_dir() => {
                    self.problems.push(problem(&shown, "lies deeper than any layout"));
                }
                Ok(_) if self.files.len() == LAYOUT_FILES => {
                    self.problems
                        .push(problem(&self.shown, &format!("holds over {LAYOUT_FILES} files")));
                    return Ok(());
                }
                Ok(real) => self.file(&real, key, shown),
            }
        }
        Ok(())
    }

    /// A path without links, when it does not lead out of the folder.
    fn safe(&self, path: &Path) -> Result<PathBuf, String> {
        let real = fs::canonicalize(path).map_err(|error| format!("cannot be read: {error}"))?;
        if real.starts_with(&self.inside) {
            Ok(real)
        } else {
            Err("is a link that leads out of the folder".into())
        }
    }

    fn file(&mut self, path: &Path, key: String, name: String) {
        match text(path) {
            Ok((text, bytes)) => {
                self.as_read.push(AsRead { path: format!("{FOLDER}/{key}"), bytes });
                self.files.push((key, SourceFile { name, text }));
            }
            Err(why) => self.problems.push(problem(&name, &why)),
        }
    }
}

/// A text file of no more than the size that is accepted, and its bytes.
fn text(path: &Path) -> Result<(String, Vec<u8>), String> {
    let unread = |error: std::io::Error| format!("cannot be read: {error}");
    let data = fs::metadata(path).map_err(unread)?;
    if !data.is_file() {
        return Err("is not a plain file".into());
    }
    if data.len() > FILE_BYTES as u64 {
        return Err(format!("has {} bytes, and the most accepted is {FILE_BYTES}", data.len()));
    }
    let bytes = fs::read(path).map_err(unread)?;
    let text = std::str::from_utf8(&bytes);
    let text = text.ok().filter(|text| !text.contains('\0'));
    let text = text.ok_or_else(|| "is not UTF-8 text; save it again as UTF-8".to_owned())?;
    Ok((text.strip_prefix('\u{FEFF}').unwrap_or(text).to_owned(), bytes))
}
