//! A shop's own font files, for names that the embedded faces cannot print.

use std::fs;
use std::path::Path;
use std::sync::Arc;

use slableaf::base::source::Diagnostic;
use slableaf::read::limits::{FONT_BYTES, FONT_FILES, FONTS_BYTES};
use slableaf::typeset::FontFile;

use crate::shell::store::{inside, is_hidden, read_plain, refusal};
use crate::shell::terminal::{Error, OrCannot as _, Result, shown};

/// The folder beside a shop file that holds its own fonts.
pub const FONTS_FOLDER: &str = "fonts";

/// A font file as it was read: its name and its bytes.
pub type FontBytes = (String, Vec<u8>);

/// Reads the font files in the folder `fonts` beside a shop file, by name; none when there is no such
/// folder. Files of another kind, as licenses are, are left alone.
///
/// # Errors
/// Every file that cannot be read, is too large or lies elsewhere, and a folder that holds too much.
pub fn read_fonts(shop_folder: &Path) -> Result<Vec<FontBytes>> {
    let root = shop_folder.join(FONTS_FOLDER);
    let (Ok(real), Ok(shop)) = (fs::canonicalize(&root), fs::canonicalize(shop_folder)) else {
        return Ok(vec![]);
    };
    let refuse = |message: String| Err(Error::problems(vec![Diagnostic::new(message)], vec![]));
    if !real.starts_with(&shop) {
        return refuse(format!("{} is a link that leads out of the folder", shown(&root)));
    }
    if !real.is_dir() {
        return Ok(vec![]);
    }
    let entries = fs::read_dir(&root).or_cannot("read", &root)?;
    let mut paths: Vec<_> = entries.flatten().map(|entry| entry.path()).collect();
    paths.retain(|path| is_font(path) && !is_hidden(path));
    paths.sort();
    if paths.len() > FONT_FILES {
        return refuse(format!(
            "{} holds {} font files, and the most accepted is {FONT_FILES}",
            shown(&root),
            paths.len()
        ));
    }
    let (mut fonts, mut problems, mut size) = (vec![], vec![], 0);
    for path in &paths {
        let name = path.file_name().unwrap_or_default().to_string_lossy().into_owned();
        match read_inside(path, &real) {
            Ok(bytes) => {
                size += bytes.len();
                fonts.push((name, bytes));
            }
            Err(why) => problems.push(Diagnostic::new(format!("{} {why}", shown(path)))),
        }
        if size > FONTS_BYTES {
            return refuse(format!(
                "the font files in {} have over {FONTS_BYTES} bytes, which is the most accepted",
                shown(&root)
            ));
        }
    }
    if problems.is_empty() { Ok(fonts) } else { Err(Error::problems(problems, vec![])) }
}

/// Understands font files; `shop_folder` is where they lie, for messages.
///
/// # Errors
/// Every file that is no sound font, or that may not be embedded.
pub fn parse_fonts(shop_folder: &Path, fonts: Vec<FontBytes>) -> Result<Vec<Arc<FontFile>>> {
    let (mut files, mut problems) = (vec![], vec![]);
    for (name, bytes) in fonts {
        match FontFile::read(&name, bytes) {
            Ok(file) => files.push(Arc::new(file)),
            Err(fault) => {
                let path = shop_folder.join(FONTS_FOLDER).join(&name);
                let problem = Diagnostic::new(format!("{} {fault}", shown(&path)));
                problems.push(problem.help(fault.help()));
            }
        }
    }
    if problems.is_empty() { Ok(files) } else { Err(Error::problems(problems, vec![])) }
}

fn is_font(path: &Path) -> bool {
    let end = path.extension().and_then(|end| end.to_str()).unwrap_or_default();
    ["ttf", "otf", "ttc", "otc"].iter().any(|known| end.eq_ignore_ascii_case(known))
}

/// The bytes of a file that lies in a folder, also after links are followed.
fn read_inside(path: &Path, folder: &Path) -> Result<Vec<u8>, String> {
    read_plain(&inside(path, folder)?, FONT_BYTES).map_err(|error| refusal(&error))
}
