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
use slableaf::results::roll::RollForm;
use slableaf::results::shop::ShopForm;

use crate::shell::args::{Schema, SchemaFormat, SchemaKind};
use crate::shell::store::{read_plain, write_file};
use crate::shell::terminal::{Error, Exit, Report, Result, json};

pub fn schema(wanted: &Schema, report: &mut Report) -> Result<Exit> {
    let result = match wanted.kind {
        SchemaKind::Job => return schema_of_file(FileKind::Job, wanted, report),
        SchemaKind::Book => return schema_of_file(FileKind::Book, wanted, report),
        SchemaKind::Shop => return schema_of_file(FileKind::Shop, wanted, report),
        SchemaKind::System => return schema_of_file(FileKind::System, wanted, report),
        SchemaKind::Results => results::schema::<ShopForm>(),
        SchemaKind::ResultsCustomer => results::schema::<CustomerForm>(),
        SchemaKind::Findings => results::schema::<FindingsForm>(),
        SchemaKind::Reprice => results::schema::<RepriceForm>(),
        SchemaKind::Roll => results::schema::<RollForm>(),
    };
    if wanted.format != SchemaFormat::Json || wanted.out.is_some() {
        let message = "results have no keys to write: their schema is printed, as JSON";
        return Err(Error::new(Exit::Input, message)
            .help("`--format` and `--out` go with `job`, `book`, `shop` and `system`"));
    }
    report.print(format!("{}\n", json(&result)));
    Ok(Exit::Fine)
}

fn schema_of_file(kind: FileKind, wanted: &Schema, report: &mut Report) -> Result<Exit> {
    let Some(folder) = &wanted.out else {
        report.print(match wanted.format {
            SchemaFormat::Json => keys::schema_text(kind),
            SchemaFormat::Markdown => keys::reference(kind),
            SchemaFormat::List => keys::list(kind),
        });
        return Ok(Exit::Fine);
    };
    let (path, put) = put_schema(kind, folder)?;
    let path = path.display();
    if put == Put::NotOurs {
        let message = format!("{path} is there, and is no schema of slableaf");
        return Err(Error::new(Exit::Files, message).help("move it away, or name another folder"));
    }
    report.say(format!("{path} is written"));
    report.say(format!("put this line first in a file beside it: {}", kind.schema_line(0)));
    Ok(Exit::Fine)
}

/// The result of putting a schema into a folder.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Put {
    Written,
    /// It was there already.
    Same,
    /// There is something else of that name, which was left as it is.
    NotOurs,
}

/// Puts the schema of a file into a folder. An older one of ours is replaced, nothing else.
pub fn put_schema(kind: FileKind, folder: &Path) -> Result<(PathBuf, Put)> {
    let (path, text) = (folder.join(kind.schema_file()), keys::schema_text(kind));
    let put = match read_plain(&path, FILE_BYTES as u64) {
        Ok(there) if there == text.as_bytes() => Put::Same,
        Ok(there) if is_ours(&there, kind) => Put::Written,
        Err(error) if error.kind() == ErrorKind::NotFound => Put::Written,
        _ => Put::NotOurs,
    };
    if put == Put::Written {
        write_file(&path, text.as_bytes())?;
    }
    Ok((path, put))
}

fn is_ours(there: &[u8], kind: FileKind) -> bool {
    let title = keys::schema(kind)["title"].clone();
    serde_json::from_slice::<serde_json::Value>(there).is_ok_and(|there| there["title"] == title)
}
