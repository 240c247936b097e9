//! The place at which a value was written, and the problems found there.

use std::cell::RefCell;
use std::ops::Range;

use serde::{Deserialize, Serialize};

/// A text file that a person wrote: its name as given, and its text.
#[derive(Debug, Clone)]
pub struct SourceFile {
    pub name: String,
    pub text: String,
}

/// A place in one of the files of a job: which file, and the bytes.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize, Deserialize)]
pub struct Span {
    pub file: String,
    pub bytes: Range<usize>,
}

/// A value and the place where it was written.
#[derive(Debug, Clone)]
pub struct Located<T> {
    pub value: T,
    pub span: Span,
}

/// Two values are the same wherever they stand.
impl<T: PartialEq> PartialEq for Located<T> {
    fn eq(&self, other: &Self) -> bool {
        self.value == other.value
    }
}

/// One thing that is wrong in the input.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Diagnostic {
    /// The problem: lower case, no full stop.
    pub message: String,
    pub span: Option<Span>,
    /// Text under the caret: what was expected.
    pub label: String,
    /// Advice on what to write instead.
    pub help: Vec<String>,
}

impl Diagnostic {
    /// A problem that has no place in a file.
    pub fn new(message: impl Into<String>) -> Self {
        Self { message: message.into(), span: None, label: String::new(), help: vec![] }
    }

    pub fn at(span: &Span, message: impl Into<String>) -> Self {
        Self { span: Some(span.clone()), ..Self::new(message) }
    }

    pub fn label(mut self, label: impl Into<String>) -> Self {
        self.label = label.into();
        self
    }

    pub fn help(mut self, help: impl Into<String>) -> Self {
        self.help.push(help.into());
        self
    }
}

/// All problems of one run, collected while reading goes on.
#[derive(Debug, Default)]
pub struct Problems(RefCell<Vec<Diagnostic>>);

impl Problems {
    pub fn add(&self, problem: Diagnostic) {
        self.0.borrow_mut().push(problem);
    }

    pub fn is_empty(&self) -> bool {
        self.0.borrow().is_empty()
    }

    /// The problems in the order in which they were found.
    pub fn into_inner(self) -> Vec<Diagnostic> {
        self.0.into_inner()
    }

    /// The problems in the order of the files, given by name, and of the places in them.
    pub fn into_sorted(self, files: &[&str]) -> Vec<Diagnostic> {
        let mut problems = self.0.into_inner();
        let rank = |d: &Diagnostic| {
            let file = d.span.as_ref().and_then(|s| files.iter().position(|f| *f == s.file));
            (file.unwrap_or(usize::MAX), d.span.as_ref().map_or(0, |s| s.bytes.start))
        };
        problems.sort_by_key(rank);
        problems.dedup();
        problems
    }
}
