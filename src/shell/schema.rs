//! `schema`: the JSON Schema of what other verbs print as JSON, and of the files that a person
//! writes, with the reference of their keys.

use std::path::Path;

use slableaf::keys::{self, Kind};
use slableaf::results;
use slableaf::results::customer::CustomerForm;
use slableaf::results::findings::FindingsForm;
use slableaf::results::reprice::RepriceForm;
use slableaf::results::shop::ShopForm;

use crate::shell::args::{Schema, SchemaFormat, SchemaKind};
use crate::shell::{Exit, files, terminal};

pub fn schema(wanted: &Schema) -> Exit {
    let result = match wanted.kind {
        SchemaKind::Job => return of_file(Kind::Job, wanted),
        SchemaKind::Book => return of_file(Kind::Book, wanted),
        SchemaKind::Shop => return of_file(Kind::Shop, wanted),
        SchemaKind::System => return of_file(Kind::System, wanted),
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

fn of_file(kind: Kind, wanted: &Schema) -> Exit {
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

/// Puts the schema into a folder, for editors. An older one of ours is replaced, nothing else.
fn keep(kind: Kind, folder: &Path) -> Exit {
    let path = folder.join(kind.schema_file());
    let text = keys::schema_text(kind);
    let there = std::fs::read_to_string(&path).ok();
    let ours = there.as_deref().is_some_and(|there| is_ours(there, kind));
    if path.exists() && !ours {
        terminal::error(&format!("{} is there, and is no schema of slableaf", path.display()));
        terminal::help("move it away, or name another folder");
        return Exit::Files;
    }
    if let Err(exit) = files::keep(&path, text.as_bytes(), true) {
        return exit;
    }
    terminal::say(&format!("{} is written", path.display()));
    terminal::say(&format!("put this line first in a file beside it: {}", kind.schema_line()));
    Exit::Fine
}

/// True when a text is a schema of this program for such files, of whatever version.
pub fn is_ours(text: &str, kind: Kind) -> bool {
    let title = keys::schema(kind)["title"].clone();
    serde_json::from_str::<serde_json::Value>(text).is_ok_and(|there| there["title"] == title)
}
