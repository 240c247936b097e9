//! The renderer: what outlives a document, so that the next one is made faster.
//!
//! A document is the same to the byte whether a renderer made it first or thousandth, alone or beside
//! others on other threads.

use std::sync::Arc;
use std::sync::atomic::{AtomicUsize, Ordering};

use jiff::civil::Date;
use serde::{Deserialize, Serialize};
use typst::foundations::Bytes;

use crate::base::layouts::Layouts;
use crate::read::limits;
use crate::typeset::fonts::Faces;
use crate::typeset::pdf::{
    Document, Failure, Manuscript, PagesWanted, PaperKind, compiled, first_uncovered, nowhere,
};
use crate::typeset::picture::Picture;
use crate::typeset::world::{LayoutSources, Sealed};

/// Documents that are in the making, on all threads and renderers: they share one memory of results.
static IN_THE_MAKING: AtomicUsize = AtomicUsize::new(0);

/// Stack of a thread that typesets: layouts nest deeply.
const STACK: usize = 16 << 20;

/// Typesets documents with one set of layouts and faces. May be used from several threads at once.
#[derive(Debug)]
pub struct Renderer {
    sheets: LayoutSources,
    faces: Arc<Faces>,
}

impl Renderer {
    /// A renderer with the embedded faces.
    pub fn new(layouts: Layouts) -> Self {
        Self::with_faces(layouts, Faces::embedded())
    }

    /// A renderer with faces of a shop's own beside the embedded ones.
    pub fn with_faces(layouts: Layouts, faces: Arc<Faces>) -> Self {
        Self { sheets: LayoutSources::new(layouts), faces }
    }

    pub fn faces(&self) -> &Faces {
        &self.faces
    }

    pub fn layouts(&self) -> &Layouts {
        self.sheets.layouts()
    }

    /// Typesets a document.
    ///
    /// # Errors
    /// [`Failure`]: a character without a glyph, text off the page, or a fault in a layout; a
    /// warning of the typesetter counts as a fault.
    pub fn pdf<P: Serialize>(&self, manuscript: Manuscript<'_, P>) -> Result<Document, Failure> {
        let (prepared, pictures) = self.begun(manuscript)?;
        self.run(&prepared, &pictures)
    }

    /// A document as far as it is known before any layout is run, its pictures ready.
    ///
    /// # Errors
    /// A character without a glyph; a picture that cannot be used.
    pub fn prepared<P: Serialize>(
        &self,
        manuscript: Manuscript<'_, P>,
    ) -> Result<Prepared, Failure> {
        let (prepared, pictures) = self.begun(manuscript)?;
        all_ready(&pictures)?;
        let ready = pictures.iter().filter_map(|one| Some((one.path.clone(), one.bytes().ok()?)));
        let (paths, bytes) = ready.map(|(path, bytes)| (path, bytes.to_vec())).unzip();
        Ok(Prepared { paths, bytes, ..prepared })
    }

    /// Runs the layouts.
    ///
    /// # Errors
    /// As [`Self::pdf`] has them.
    pub fn set(&self, mut prepared: Prepared) -> Result<Document, Failure> {
        let bytes = std::mem::take(&mut prepared.bytes);
        let pictures = std::mem::take(&mut prepared.paths).into_iter().zip(bytes);
        let pictures: Vec<Picture<'_>> =
            pictures.map(|(path, bytes)| Picture::of_bytes(path, bytes)).collect();
        self.run(&prepared, &pictures)
    }

    /// A document with its pictures beside it.
    fn begun<'p, P: Serialize>(
        &self,
        manuscript: Manuscript<'p, P>,
    ) -> Result<(Prepared, Vec<Picture<'p>>), Failure> {
        let Manuscript { kind, page, pictures, date, identity, drawn } = manuscript;
        let data = serde_json::to_value(page).map_err(|error| nowhere(&error.to_string()))?;
        if let Some((character, text)) = first_uncovered(&data, &self.faces) {
            return Err(Failure::Uncovered { character, text });
        }
        let phone = data.get("edition").and_then(serde_json::Value::as_str) == Some("phone");
        let most = if phone { limits::PHONE_PAGES } else { limits::PAGES };
        let (paths, bytes) = (vec![], vec![]);
        let page = data.to_string();
        Ok((Prepared { kind, page, most, date, identity, drawn, paths, bytes }, pictures))
    }

    fn run(&self, prepared: &Prepared, pictures: &[Picture<'_>]) -> Result<Document, Failure> {
        let Prepared { kind, page, most, date, identity, drawn, .. } = prepared;
        let page = Bytes::from_string(page.clone());
        let world = Sealed::new(&self.sheets, &self.faces, kind.layout(), page, pictures)
            .ok_or_else(|| nowhere("a file of the document has no plain name"))?;
        IN_THE_MAKING.fetch_add(1, Ordering::Relaxed);
        let result = std::thread::scope(|scope| {
            if !is_alone() {
                scope.spawn(|| world.prepare_pictures());
            }
            compiled(&world, *most, *date, identity, *drawn)
        });
        // A result is kept until the documents now in the making and one more are done. With fewer,
        // threads take from each other what a document comes back to, and each takes twice as long;
        // with more, memory grows and little is won.
        comemo::evict(IN_THE_MAKING.fetch_sub(1, Ordering::Relaxed) + 1);
        // A picture that cannot be used is what is wrong, whatever the layout made of it.
        all_ready(pictures)?;
        result
    }
}

/// Refuses pictures that cannot be used.
fn all_ready(pictures: &[Picture<'_>]) -> Result<(), Failure> {
    let fault = |one: &Picture<'_>| Some((one.path.clone(), one.bytes().err()?));
    let faults: Vec<_> = pictures.iter().filter_map(fault).collect();
    if faults.is_empty() { Ok(()) } else { Err(Failure::Pictures(faults)) }
}

/// A document that is ready to be set: everything but layouts and faces. It can be handed to another
/// process, with the bytes of its pictures beside it.
#[derive(Debug, Clone, Serialize, Deserialize)]
pub struct Prepared {
    kind: PaperKind,
    /// The page data as JSON: their text, so that it arrives to the letter.
    page: String,
    /// Pages that it may have.
    most: usize,
    #[serde(with = "day")]
    date: Date,
    identity: String,
    drawn: Option<PagesWanted>,
    /// The virtual paths of its pictures.
    paths: Vec<String>,
    /// The pictures themselves.
    #[serde(skip)]
    pub bytes: Vec<Vec<u8>>,
}

/// A day as text.
mod day {
    use jiff::civil::Date;
    use serde::{Deserialize, Deserializer, Serializer, de::Error};

    pub fn serialize<S: Serializer>(day: &Date, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_str(day)
    }

    pub fn deserialize<'de, D: Deserializer<'de>>(deserializer: D) -> Result<Date, D::Error> {
        String::deserialize(deserializer)?.parse().map_err(D::Error::custom)
    }
}

/// True on a thread of a batch: it has no other core to itself.
pub fn is_alone() -> bool {
    rayon::current_num_threads() == 1
}

/// Runs work on a thread whose typesetting stays on that thread.
///
/// The typesetter divides a document among all cores. That is right for one document; for many it is
/// better that each thread of a batch keeps to itself: threads do not wait for each other's
/// halves, and none takes up a second document within the first one's stack.
pub fn alone<T: Send>(work: impl FnOnce() -> T + Send) -> T {
    match rayon::ThreadPoolBuilder::new().num_threads(1).stack_size(STACK).build() {
        Ok(pool) => pool.install(work),
        Err(_) => work(),
    }
}
