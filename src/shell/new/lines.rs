//! Lines that a person types, with the keys that one expects for mending them.

use rustyline::config::Configurer;
use rustyline::error::ReadlineError;
use rustyline::history::MemHistory;
use rustyline::{Config, Editor};

/// What came of waiting for a line.
pub enum Line {
    Typed(String),
    /// Ctrl-C.
    Interrupted,
    /// Ctrl-D, or nobody is there any more.
    Ended,
    Failed(String),
}

pub struct Lines {
    editor: Editor<(), MemHistory>,
}

impl Lines {
    pub fn new() -> rustyline::Result<Self> {
        let mut editor = Editor::with_history(Config::default(), MemHistory::new())?;
        // An answer of this job is no help for the next question of it.
        editor.set_auto_add_history(false);
        Ok(Self { editor })
    }

    pub fn read(&mut self, prompt: &str) -> Line {
        match self.editor.readline(prompt) {
            Ok(line) => Line::Typed(line),
            Err(ReadlineError::Interrupted) => Line::Interrupted,
            Err(ReadlineError::Eof) => Line::Ended,
            Err(error) => Line::Failed(error.to_string()),
        }
    }
}
