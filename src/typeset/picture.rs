//! The pictures of a document: each is made ready when the typesetter first asks for it, or beside it on
//! another core, and once.

use std::sync::{Arc, OnceLock};

use typst::foundations::Bytes;

use crate::typeset::images::ImageFault;

/// Makes a picture ready for print.
pub type Prepare<'a> = Arc<dyn Fn() -> Result<Vec<u8>, ImageFault> + Send + Sync + 'a>;

/// A picture at its place in the document.
pub struct Picture<'a> {
    /// Its virtual path.
    pub path: String,
    prepare: Prepare<'a>,
    ready: OnceLock<Result<Bytes, ImageFault>>,
}

impl<'a> Picture<'a> {
    pub fn new(path: String, prepare: Prepare<'a>) -> Self {
        Self { path, prepare, ready: OnceLock::new() }
    }

    /// A picture that is ready.
    pub fn of_bytes(path: String, bytes: Vec<u8>) -> Self {
        Self::new(path, Arc::new(move || Ok(bytes.clone())))
    }

    /// The bytes to print. Whoever comes first makes them ready; others wait for that.
    ///
    /// # Errors
    /// The fault of a picture that cannot be used.
    pub fn bytes(&self) -> Result<Bytes, ImageFault> {
        self.ready.get_or_init(|| (self.prepare)().map(Bytes::new)).clone()
    }
}
