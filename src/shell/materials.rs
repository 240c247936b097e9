//! What a paper is made of: a job's files with their words, layouts and pictures, as they were read.

use std::path::Path;
use std::sync::Arc;

use slableaf::issued::{Hash, Leaf};
use slableaf::model::job::Print;
use slableaf::read::Input;

use crate::shell::Exit;
use crate::shell::args::{JobFiles, NearFiles};
use crate::shell::files::{self, Found, Originals};
use crate::shell::records::Kept;
use crate::shell::stock::{House, Stock};
use crate::shell::terminal;

/// Where a record keeps what was read.
const INPUTS: &str = "inputs";

pub struct Materials {
    pub found: Found,
    pub input: Input,
    pub originals: Originals,
    pub house: Arc<House>,
}

impl Materials {
    /// Reads all files of a job; says on the terminal what is wrong with them.
    pub fn read(wanted: &JobFiles, stock: &Stock) -> Result<Self, Exit> {
        let (found, input) = files::load(wanted, stock)?;
        Self::of(found, input, stock)
    }

    /// Reads what belongs to a job: pictures, layouts and words.
    pub fn of(found: Found, input: Input, stock: &Stock) -> Result<Self, Exit> {
        let originals = files::originals(&found, &input)?;
        let house = stock.house(&found, input.customers_language())?;
        Ok(Self { found, input, originals, house })
    }

    /// Reads what a record keeps, by the same way as a job's own files.
    pub fn of_record(kept: &Kept, stock: &Stock) -> Result<Self, Exit> {
        let file = |name: &str| kept.folder.join(INPUTS).join(name);
        let near = NearFiles { book: Some(file("book.toml")), shop: Some(file("shop.toml")) };
        let wanted = JobFiles { job: file("job.toml"), near };
        let mut then = Self::read(&wanted, stock)?;
        then.set_print(kept.record.options.large_print);
        Ok(then)
    }

    /// Large print when it was asked for; else as the job says.
    pub fn set_print(&mut self, large: bool) {
        if large {
            self.input.job.print = Print::Large;
        }
    }

    /// Every file that was read, by its path in a record, in the order of the paths.
    pub fn inputs(&self) -> Result<Vec<(Leaf, &[u8])>, Exit> {
        let texts = self.found.as_read.iter().chain(&self.house.own);
        let texts = texts.map(|file| (file.path.clone(), file.bytes.as_slice()));
        if let Some(one) = self.originals.all.iter().find(|one| one.name.starts_with("layouts/")) {
            let message = format!("the picture `{}` lies in a folder `layouts`", one.name);
            terminal::error(&message);
            terminal::help("that folder is for layouts and words: put the picture elsewhere");
            return Err(Exit::Input);
        }
        let pictures = self.originals.all.iter();
        let pictures = pictures.map(|one| (one.name.clone(), one.bytes.as_slice()));
        let mut all: Vec<(Leaf, &[u8])> = vec![];
        for (path, bytes) in texts.chain(pictures) {
            // The name as typed may hold dots and doubled strokes.
            let plain: Vec<_> = Path::new(&path)
                .components()
                .map(|part| part.as_os_str().to_string_lossy())
                .collect();
            let path = format!("{INPUTS}/{}", plain.join("/"));
            let leaf = Leaf { path, sha256: Hash::of(bytes) };
            match all.iter().find(|(known, _)| known.path == leaf.path) {
                None => all.push((leaf, bytes)),
                Some((known, _)) if *known == leaf => {}
                Some(_) => {
                    terminal::error(&format!(
                        "two different pictures are both called `{}`: one beside the job, one beside the shop file",
                        plain.join("/")
                    ));
                    terminal::help(
                        "a record keeps them in one folder: give one of them another name",
                    );
                    return Err(Exit::Input);
                }
            }
        }
        all.sort();
        Ok(all)
    }
}
