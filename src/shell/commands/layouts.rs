//! `layouts`: lists or copies the layouts and words that papers are made with.

use std::path::PathBuf;

use slableaf::base::layouts::{EMBEDDED, Layouts};

use crate::shell::args::LayoutsWanted;
use crate::shell::store::{Saved, folder_of, read_layouts, write_new_file};
use crate::shell::terminal::{Error, Exit, Report, Result, table};

pub fn layouts(wanted: &LayoutsWanted, report: &mut Report) -> Result<Exit> {
    let known = |path: &&str| {
        let below =
            |folder: &String| path.starts_with(&format!("{}/", folder.trim_end_matches('/')));
        wanted.paths.is_empty() || wanted.paths.iter().any(|one| one == path || below(one))
    };
    let chosen: Vec<(&str, &str)> =
        EMBEDDED.iter().filter(|(path, _)| known(path)).copied().collect();
    if chosen.is_empty() {
        return Err(Error::new(Exit::Input, "there is no layout of that name")
            .help("`slableaf layouts` lists them all"));
    }
    if let Some(folder) = &wanted.copy {
        for (path, text) in chosen {
            let to = folder.join(path);
            report.say(match write_new_file(&to, text.as_bytes())? {
                Saved::Written => format!("wrote {}", to.display()),
                Saved::Exists => format!("there already: {}", to.display()),
            });
        }
        return Ok(Exit::Fine);
    }
    let shop = wanted.shop.clone().unwrap_or_else(|| PathBuf::from("shop.toml"));
    let layouts =
        if shop.exists() { read_layouts(&folder_of(&shop))?.0 } else { Layouts::default() };
    let origin = |path: &str| layouts.own(path).unwrap_or("built in").to_owned();
    let rows: Vec<Vec<String>> =
        chosen.iter().map(|(path, _)| vec![(*path).to_owned(), origin(path)]).collect();
    report.print(format!("{}\n", table(&rows)));
    Ok(Exit::Fine)
}
