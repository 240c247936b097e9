//! `new`: asks at the terminal, and writes the file that the answers make.

mod conversation;
mod lines;
mod surroundings;
mod trial;

use std::io::IsTerminal;
use std::path::{Path, PathBuf};

use slableaf::base::layouts::Layouts;
use slableaf::interview::{Interview, InterviewKind, numbered};
use slableaf::read::keys;
use slableaf::say::words::InterviewText;

use crate::shell::args::{New, NewFile};
use crate::shell::commands::new::conversation::Conversation;
use crate::shell::commands::new::lines::Lines;
use crate::shell::commands::new::surroundings::{Surroundings, free_number, nearest_shared};
use crate::shell::commands::new::trial::try_to_write;
use crate::shell::commands::schema::{Put, put_schema};
use crate::shell::store::{Saved, folder_of, read_words, without_climbs, write_new_file};
use crate::shell::terminal::{Error, Exit, Report, Result, hints, shown};

pub fn new(wanted: &New, report: &mut Report) -> Result<Exit> {
    let (kind, path, blank) = match &wanted.file {
        None => (InterviewKind::Job, &wanted.job, wanted.blank),
        Some(NewFile::Shop(shop)) => (InterviewKind::Shop, &shop.file, shop.blank || wanted.blank),
        Some(NewFile::Book(book)) => (InterviewKind::Book, &book.file, book.blank || wanted.blank),
    };
    let path = chosen_path(kind, path.as_deref())?;
    if path.symlink_metadata().is_ok() {
        return Err(there_already(kind, &path));
    }
    if blank || !std::io::stdin().is_terminal() {
        let blank = keys::template(kind.keys());
        let text = match kind {
            InterviewKind::Job => numbered(&blank, &free_number(&path)),
            InterviewKind::Shop | InterviewKind::Book => blank,
        };
        write_file(kind, &path, &text, report)?;
        write_schema(kind.keys(), &path, report)?;
        report.say("  a template: replace what it marks with your own");
        say_next_steps(kind, &path, report);
        return Ok(Exit::Fine);
    }
    try_to_write(&path)?;
    let layouts = Layouts::default();
    let words = read_words(&layouts, "en")?;
    let text = InterviewText::read(&layouts, "en");
    let text = text.map_err(|error| Error::words(&error, &layouts))?;
    let near = Surroundings::read(kind, &path, &words)?;
    conversation::say_opening(&path, &near.notes, report);
    report.flush();
    let lines = Lines::new().map_err(|why| {
        Error::new(Exit::Files, format!("cannot read from this terminal: {why}"))
            .help("`--blank` writes a template without questions")
    })?;
    let interview = Interview::new(kind, &near.setting, &words, &text);
    Conversation { kind, path: &path, layouts: &layouts, interview, lines, report }.hold()
}

/// The file that is meant: a folder gets a file of the usual name.
fn chosen_path(kind: InterviewKind, given: Option<&Path>) -> Result<PathBuf> {
    let usual = format!("{}.toml", kind.name());
    let Some(given) = given else { return Ok(PathBuf::from(usual)) };
    let is_file = given.extension().is_some_and(|end| end == "toml");
    let path = if given.is_dir() || !is_file { given.join(&usual) } else { given.to_owned() };
    let name = path.file_name().and_then(|name| name.to_str()).unwrap_or_default();
    for other in [InterviewKind::Book, InterviewKind::Shop] {
        if kind == InterviewKind::Job && name == format!("{}.toml", other.name()) {
            let verb = other.name();
            let message = format!("`{name}` is no name for a job: it is that of a {verb} file");
            return Err(Error::new(Exit::Input, message)
                .help(format!("`slableaf new {verb} {}` starts one", shown(&path))));
        }
    }
    Ok(path)
}

fn there_already(kind: InterviewKind, path: &Path) -> Error {
    let (name, path) = (kind.name(), shown(path));
    let message = format!("{path} is there already; nothing was written");
    Error::new(Exit::Files, message).help(match kind {
        InterviewKind::Job => {
            format!("`slableaf check {path}` looks at it; `slableaf new FOLDER` starts another job")
        }
        InterviewKind::Shop | InterviewKind::Book => {
            format!("open it in an editor, or name another: `slableaf new {name} FILE`")
        }
    })
}

/// Writes the file where there is none; its first line leads editors to its schema.
fn write_file(kind: InterviewKind, path: &Path, text: &str, report: &mut Report) -> Result<()> {
    let keys = kind.keys();
    let rest = text.strip_prefix(&keys.schema_line(0)).unwrap_or(text);
    let text = keys.schema_line(levels_below_root(keys, path)) + rest;
    match write_new_file(path, text.as_bytes())? {
        Saved::Written => report.say(format!("wrote {}", shown(path))),
        Saved::Exists => return Err(there_already(kind, path)),
    }
    Ok(())
}

/// Returns the number of folders by which a new file lies below the shop's root: the nearest folder with
/// a book or a shop file, else its own. One copy of each schema there serves all jobs.
fn levels_below_root(kind: keys::FileKind, path: &Path) -> usize {
    let folder = std::path::absolute(folder_of(path)).unwrap_or_default();
    let is_root =
        |folder: &Path| ["book.toml", "shop.toml"].iter().any(|name| folder.join(name).is_file());
    let levels = folder.ancestors().position(is_root);
    levels.filter(|_| kind == keys::FileKind::Job).unwrap_or(0)
}

/// Puts the schema into the shop's root, for editors. One of ours is brought up to date; a file of
/// that name that is not ours stays as it is.
fn write_schema(kind: keys::FileKind, path: &Path, report: &mut Report) -> Result<()> {
    let mut root = folder_of(path);
    root.extend(std::iter::repeat_n("..", levels_below_root(kind, path)));
    let root = without_climbs(&root).unwrap_or(root);
    if let (path, Put::Written) = put_schema(kind, &root)? {
        report.say(format!("wrote {}, by which an editor knows its keys", shown(&path)));
    }
    Ok(())
}

fn say_next_steps(kind: InterviewKind, path: &Path, report: &mut Report) {
    let shown = hints::as_typed(path);
    match kind {
        InterviewKind::Job => {
            let folder = folder_of(path);
            for (name, what) in [("book", "price book"), ("shop", "shop file")] {
                if nearest_shared(&folder, name).is_none() {
                    report.say(format!("  there is no {what} yet: `slableaf new {name}`"));
                }
            }
            report.say(format!("  next: slableaf check {shown}"));
            report.say(format!("        slableaf write {shown}"));
        }
        InterviewKind::Shop | InterviewKind::Book => {
            let other = if kind == InterviewKind::Shop { "book" } else { "shop" };
            let lacks = nearest_shared(&folder_of(path), other).is_none();
            let next = if lacks { format!("new {other}") } else { "new".to_owned() };
            report.say(format!("  next: slableaf {next}"));
        }
    }
}
