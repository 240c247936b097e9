//! `schema`: the JSON Schema of what other verbs print as JSON, and of the files that a person
//! writes, with the reference of their keys.

use std::io::ErrorKind;
use std::path::{Path, PathBuf};

use slableaf::read::keys::{self, FileKind};
use slableaf::read::limits::FILE_BYTES;
use slableaf::results;
use slableaf::results::customer::CustomerForm;
use slableaf::results::findings::FindingsForm;
use slableaf::results::reprice::RepriceForm;
use slableaf::results::shop::ShopForm;

use crate::shell::args::{Schema, SchemaFormat, SchemaKind};
use crate::shell::{Exit, files, terminal};

pub fn schema(wanted: &Schema) -> Exit {
    let result = match wanted.kind {
        SchemaKind::Job => return of_file(FileKind::Job, wanted),
        SchemaKind::Book => return of_file(FileKind::Book, wanted),
        SchemaKind::Shop => return of_file(FileKind::Shop, wanted),
        SchemaKind::System => return of_file(FileKind::System, wanted),
        SchemaKind::Results => results::schema::<ShopForm>(),
        SchemaKind::ResultsCustomer => results::schema::<CustomerForm>(),
        SchemaKind::Findings => results::schema::<FindingsForm>(),
        SchemaKind::Reprice => results::schema::<RepriceForm>(),
    };
    if wanted.format != SchemaFormat::Json || wanted.out.is_some() {
        terminal::error("results have no keys to write: their schema is printed, as JSON");
        terminal::help("`--format` and `--out` go with `job`, `book`, `shop` and `system`");
        return Exit::Input;
    }
    println!("{}", terminal::json(&result));
    Exit::Fine
}

fn of_file(kind: FileKind, wanted: &Schema) -> Exit {
    if let Some(folder) = &wanted.out {
        return keep(kind, folder);
    }
    match wanted.format {
        SchemaFormat::Json => print!("{}", keys::schema_text(kind)),
        SchemaFormat::Markdown => print!("{}", keys::reference(kind)),
        SchemaFormat::List => print!("{}", keys::list(kind)),
    }
    Exit::Fine
}

/// Puts the schema into a folder, for editors.
fn keep(kind: FileKind, folder: &Path) -> Exit {
    let (path, put) = match put(kind, folder) {
        Ok(done) => done,
        Err(exit) => return exit,
    };
    if put == Put::NotOurs {
        terminal::error(&format!("{} is there, and is no schema of slableaf", path.display()));
        terminal::help("move it away, or name another folder");
        return Exit::Files;
    }
    terminal::say(&format!("{} is written", path.display()));
    terminal::say(&format!("put this line first in a file beside it: {}", kind.schema_line()));
    Exit::Fine
}

/// What became of a schema that was put into a folder.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Put {
    Written,
    /// It was there already.
    Same,
    /// There is something else of that name, which was left as it is.
    NotOurs,
}

/// Puts the schema of a file into a folder. An older one of ours is replaced, nothing else.
pub fn put(kind: FileKind, folder: &Path) -> Result<(PathBuf, Put), Exit> {
    let (path, text) = (folder.join(kind.schema_file()), keys::schema_text(kind));
    let put = match files::plain(&path, FILE_BYTES as u64) {
        Ok(there) if there == text.as_bytes() => Put::Same,
        Ok(there) if is_ours(&there, kind) => Put::Written,
        Err(error) if error.kind() == ErrorKind::NotFound => Put::Written,
        _ => Put::NotOurs,
    };
    if put == Put::Written {
        files::keep(&path, text.as_bytes(), true)?;
    }
    Ok((path, put))
}

fn is_ours(there: &[u8], kind: FileKind) -> bool {
    let title = keys::schema(kind)["title"].clone();
    serde_json::from_slice::<serde_json::Value>(there).is_ok_and(|there| there["title"] == title)
}
