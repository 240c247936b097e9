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
        self.set(self.prepared(manuscript)?)
    }

    /// A document as far as it is known before any layout is run.
    ///
    /// # Errors
    /// A character without a glyph.
    pub fn prepared<P: Serialize>(
        &self,
        manuscript: Manuscript<'_, P>,
    ) -> Result<Prepared, Failure> {
        let Manuscript { kind, page, pictures, date, identity, drawn } = manuscript;
        let data = serde_json::to_value(page).map_err(|error| nowhere(&error.to_string()))?;
        if let Some((character, text)) = first_uncovered(&data, &self.faces) {
            return Err(Failure::Uncovered { character, text });
        }
        let phone = data.get("edition").and_then(serde_json::Value::as_str) == Some("phone");
        let most = if phone { limits::PHONE_PAGES } else { limits::PAGES };
        let (paths, bytes) = pictures.into_iter().unzip();
        let page = data.to_string();
        Ok(Prepared { kind, page, most, date, identity, drawn, paths, bytes })
    }

    /// Runs the layouts.
    ///
    /// # Errors
    /// As [`Self::pdf`] has them.
    pub fn set(&self, prepared: Prepared) -> Result<Document, Failure> {
        let Prepared { kind, page, most, date, identity, drawn, paths, bytes } = prepared;
        let mut files = vec![("/page.json".to_owned(), Bytes::from_string(page))];
        let pictures = paths.into_iter().zip(bytes);
        files.extend(pictures.map(|(path, bytes)| (path, Bytes::new(bytes))));
        let world = Sealed::new(&self.sheets, &self.faces, kind.layout(), files)
            .ok_or_else(|| nowhere("a file of the document has no plain name"))?;
        IN_THE_MAKING.fetch_add(1, Ordering::Relaxed);
        let result = std::thread::scope(|scope| {
            if !is_alone() {
                scope.spawn(|| world.decode_pictures());
            }
            compiled(&world, most, date, &identity, drawn)
        });
        // A result is kept until the documents now in the making and one more are done. With fewer,
        // threads take from each other what a document comes back to, and each takes twice as long;
        // with more, memory grows and little is won.
        comemo::evict(IN_THE_MAKING.fetch_sub(1, Ordering::Relaxed) + 1);
        result
    }
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
