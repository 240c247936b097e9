//! `new`: asks at the terminal, and writes the file that the answers make.

mod conversation;
mod in_book;
mod in_job;
mod kept;
mod lines;
mod surroundings;
mod trial;
mod visit_sheet;

use std::io::IsTerminal;
use std::path::{Path, PathBuf};

use slableaf::base::layouts::Layouts;
use slableaf::interview::{Interview, InterviewKind, numbered};
use slableaf::read::keys;
use slableaf::say::words::InterviewText;

use crate::shell::args::{New, NewFile};
use crate::shell::commands::new::conversation::Conversation;
use crate::shell::commands::new::kept::Kept;
use crate::shell::commands::new::lines::Lines;
use crate::shell::commands::new::surroundings::{Surroundings, free_number, nearest_shared};
use crate::shell::commands::new::trial::try_to_write;
use crate::shell::commands::schema::{Put, put_schema};
use crate::shell::store::{Saved, folder_of, read_words, without_climbs, write_new_file};
use crate::shell::terminal::{Error, Exit, Report, Result, hints, shown};

pub fn new(wanted: &New, report: &mut Report) -> Result<Exit> {
    let (kind, path, blank) = match &wanted.file {
        Some(NewFile::VisitSheet(sheet)) => return visit_sheet::write(sheet, report),
        None => (InterviewKind::Job, &wanted.job, wanted.blank),
        Some(NewFile::Shop(shop)) => (InterviewKind::Shop, &shop.file, shop.blank || wanted.blank),
        Some(NewFile::Book(book)) => (InterviewKind::Book, &book.file, book.blank || wanted.blank),
        Some(NewFile::Product(new)) => {
            (InterviewKind::Product, &new.book, new.blank || wanted.blank)
        }
        Some(NewFile::System(new)) => (InterviewKind::System, &new.book, new.blank || wanted.blank),
        Some(NewFile::Laid(new)) => (InterviewKind::Laid, &new.job, wanted.blank),
    };
    let asks = !blank && std::io::stdin().is_terminal();
    match kind {
        InterviewKind::Product => return new_product(path.as_deref(), asks, report),
        InterviewKind::System => return new_floor(path.as_deref(), asks, report),
        InterviewKind::Laid => return new_records(path.as_deref(), asks, report),
        InterviewKind::Job | InterviewKind::Shop | InterviewKind::Book => {}
    }
    let path = chosen_path(kind, path.as_deref())?;
    if path.symlink_metadata().is_ok() {
        return Err(there_already(kind, &path));
    }
    if !asks {
        let blank = keys::template(kind.keys());
        let text = match kind {
            InterviewKind::Job => numbered(&blank, &free_number(&path)),
            _ => blank,
        };
        write_file(kind, &path, &text, report)?;
        write_schema(kind.keys(), &path, report)?;
        report.say("  a template: replace what it marks with your own");
        say_next_steps(kind, &path, report);
        return Ok(Exit::Fine);
    }
    ask(kind, &path, &path, report)
}

/// Asks for a product and puts it into the book.
fn new_product(book: Option<&Path>, asks: bool, report: &mut Report) -> Result<Exit> {
    if !asks {
        let message = "a product has no template of its own";
        return Err(Error::new(Exit::Line, message)
            .help("`slableaf new book --blank` writes a book with one of each kind"));
    }
    let book = in_book::book_path(book);
    ask(InterviewKind::Product, &book, &book, report)
}

/// Asks for a floor and writes it beside the book.
fn new_floor(book: Option<&Path>, asks: bool, report: &mut Report) -> Result<Exit> {
    let book = in_book::book_path(book);
    if !asks {
        let (path, text) = in_book::blank_floor(&book);
        write_file(InterviewKind::System, &path, &text, report)?;
        write_schema(keys::FileKind::System, &path, report)?;
        report.say("  a template: replace what it marks with your own");
        return Ok(Exit::Fine);
    }
    let path = in_book::floor_path(&book)?;
    ask(InterviewKind::System, &path, &book, report)
}

/// Asks for the coats of a floor as they were laid and puts them into its job.
fn new_records(job: Option<&Path>, asks: bool, report: &mut Report) -> Result<Exit> {
    let job = chosen_path(InterviewKind::Job, job)?;
    let open = in_job::to_record(&job)?;
    if !asks {
        let message = "how a floor was laid has no template of its own";
        return Err(Error::new(Exit::Line, message)
            .help("`slableaf schema job --format markdown` tells what `[[laid]]` may hold"));
    }
    if open == 0 {
        report.say(format!("every coat of the agreed floor is recorded in {}", shown(&job)));
        return Ok(Exit::Fine);
    }
    ask(InterviewKind::Laid, &job, &job, report)
}

/// Asks at the terminal, and writes what comes of it. `book` is the book that it is for, if it is for one.
fn ask(kind: InterviewKind, path: &Path, book: &Path, report: &mut Report) -> Result<Exit> {
    try_to_write(path)?;
    let layouts = Layouts::default();
    let words = read_words(&layouts, "en")?;
    let text = InterviewText::read(&layouts, "en");
    let text = text.map_err(|error| Error::words(&error, &layouts))?;
    let near = Surroundings::read(kind, path, book, &words)?;
    conversation::say_opening(kind, path, &near.notes, report);
    report.flush();
    let lines = Lines::new().map_err(|why| {
        Error::new(Exit::Files, format!("cannot read from this terminal: {why}"))
            .help("`--blank` writes a template without questions")
    })?;
    let interview = Interview::new(kind, &near.setting, &words, &text);
    let kept = Kept::beside(path, kind.name());
    let conversation = Conversation {
        kind,
        path,
        below: &near.setting.below,
        layouts: &layouts,
        interview,
        lines,
        kept,
        report,
    };
    conversation.hold()
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
        InterviewKind::System => "give the floor another short name".to_owned(),
        _ => {
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
    let below = matches!(kind, keys::FileKind::Job | keys::FileKind::System);
    levels.filter(|_| below).unwrap_or(0)
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
        InterviewKind::Product | InterviewKind::System => in_book::say_next(kind, report),
        InterviewKind::Laid => report.say(format!("  next: slableaf check {shown}")),
        InterviewKind::Shop | InterviewKind::Book => {
            let other = if kind == InterviewKind::Shop { "book" } else { "shop" };
            let lacks = nearest_shared(&folder_of(path), other).is_none();
            let next = if lacks { format!("new {other}") } else { "new".to_owned() };
            report.say(format!("  next: slableaf {next}"));
        }
    }
}
