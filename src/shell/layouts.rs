//! `layouts`: the layouts and words that papers are made with, and a shop's own over them.

use std::fs;
use std::path::{Path, PathBuf};

use slableaf::input::Input;
use slableaf::input::suggest::nearest;
use slableaf::layouts::{EMBEDDED, Layouts};
use slableaf::words::Words;

use crate::shell::Exit;
use crate::shell::args::LayoutsWanted;
use crate::shell::files::{self, Found, Kept};
use crate::shell::terminal;

/// The folder beside a shop file that holds its own layouts and words.
const FOLDER: &str = "layouts";

/// Folders within each other that are looked into.
const DEEPEST: usize = 4;

/// Layouts with the shop's own laid over them, and the words of its language.
pub fn with_words(found: &Found, input: &Input) -> Result<(Layouts, Words), Exit> {
    let own = found.shop_folder.join(FOLDER);
    let layouts = laid_over(&own)?;
    let words = Words::read(&layouts, &input.shop.language).map_err(|error| {
        let exit = terminal::words(&error);
        if own.join(&error.place).exists() {
            terminal::help(&format!("it is in your own {}", own.join(&error.place).display()));
        }
        exit
    })?;
    Ok((layouts, words))
}

fn laid_over(own: &Path) -> Result<Layouts, Exit> {
    let mut layouts = Layouts::default();
    for path in own_files(own)? {
        let name = name_of(&path);
        if name.starts_with("systems/") {
            terminal::error(&format!("{}: a floor system is no layout", path.display()));
            terminal::help("put it into a folder `systems` beside your book");
            return Err(Exit::Input);
        }
        let text = files::inside(own, &name).and_then(|bytes| {
            String::from_utf8(bytes).map_err(|_| "is not text in UTF-8".to_owned())
        });
        let text = text.map_err(|why| {
            terminal::error(&format!("{} {why}", own.join(&name).display()));
            Exit::Input
        })?;
        if !layouts.lay_over(&name, text) {
            terminal::error(&format!(
                "{}: there is no layout of that name",
                own.join(&name).display()
            ));
            match nearest(&name, EMBEDDED.iter().map(|(path, _)| *path)) {
                Some(near) => terminal::help(&format!("did you mean `{near}`?")),
                None => terminal::help("`slableaf layouts` lists them all"),
            }
            return Err(Exit::Input);
        }
    }
    Ok(layouts)
}

/// Paths of the files in a shop's folder, below it; none when there is no folder.
fn own_files(own: &Path) -> Result<Vec<PathBuf>, Exit> {
    let mut found = vec![];
    let mut folders = vec![(own.to_owned(), 0)];
    while let Some((folder, depth)) = folders.pop() {
        let Ok(entries) = fs::read_dir(&folder) else {
            if depth == 0 && !folder.exists() {
                return Ok(vec![]);
            }
            terminal::error(&format!("cannot read {}", folder.display()));
            return Err(Exit::Files);
        };
        for entry in entries.filter_map(Result::ok) {
            let path = entry.path();
            // A link is a file here; where it leads is looked at when it is read.
            let is_folder = entry.file_type().is_ok_and(|kind| kind.is_dir());
            if is_folder && depth < DEEPEST {
                folders.push((path, depth + 1));
            } else if path.extension().is_some_and(|end| end == "toml" || end == "typ") {
                found.extend(path.strip_prefix(own).map(Path::to_owned));
            }
        }
    }
    found.sort();
    Ok(found)
}

/// A path as the list of layouts writes it.
fn name_of(path: &Path) -> String {
    let parts: Vec<_> = path.components().map(|part| part.as_os_str().to_string_lossy()).collect();
    parts.join("/")
}

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
                Kept::Written => println!("wrote {}", to.display()),
                Kept::Exists => println!("there already: {}", to.display()),
            }
        }
        return Ok(Exit::Fine);
    }
    let shop = wanted.shop.clone().unwrap_or_else(|| PathBuf::from("shop.toml"));
    let own = shop.parent().unwrap_or(Path::new("")).join(FOLDER);
    let mine = if shop.exists() { own_files(&own)? } else { vec![] };
    let rows: Vec<Vec<String>> = chosen
        .iter()
        .map(|(path, _)| {
            let is_mine = mine.iter().any(|one| name_of(one) == *path);
            let origin =
                if is_mine { own.join(path).display().to_string() } else { "built in".to_owned() };
            vec![(*path).to_owned(), origin]
        })
        .collect();
    println!("{}", terminal::table(&rows));
    Ok(Exit::Fine)
}
