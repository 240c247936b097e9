//! Lines that a person types, with the keys that one expects for mending them.

use rustyline::config::Configurer;
use rustyline::error::ReadlineError;
use rustyline::history::MemHistory;
use rustyline::{Config, Editor};

/// The result of waiting for a line.
pub enum Line {
    Typed(String),
    /// Ctrl-C for the first time: it may be a slip of the hand.
    Interrupted,
    /// Ctrl-C once more in a row.
    Stopped,
    /// Ctrl-D, or nobody is there any more.
    Ended,
    Failed(String),
}

pub struct Lines {
    editor: Editor<(), MemHistory>,
    interrupted: bool,
}

impl Lines {
    pub fn new() -> rustyline::Result<Self> {
        let mut editor = Editor::with_history(Config::default(), MemHistory::new())?;
        // An answer of this job is no help for the next question of it.
        editor.set_auto_add_history(false);
        Ok(Self { editor, interrupted: false })
    }

    pub fn read(&mut self, prompt: &str) -> Line {
        let before = std::mem::take(&mut self.interrupted);
        match self.editor.readline(prompt) {
            Ok(line) => Line::Typed(line),
            Err(ReadlineError::Interrupted) if before => Line::Stopped,
            Err(ReadlineError::Interrupted) => {
                self.interrupted = true;
                Line::Interrupted
            }
            Err(ReadlineError::Eof) => Line::Ended,
            Err(error) => Line::Failed(error.to_string()),
        }
    }
}
