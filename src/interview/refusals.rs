//! Typed lines that are not taken, and how that is said.

use crate::base::names::Key;
use crate::base::quantity::Share;
use crate::base::source::SourceFile;
use crate::interview::ask::{AnswerForm, Ask};
use crate::interview::started::share;
use crate::interview::typed::Untaken;
use crate::interview::{Interview, Reply};
use crate::read;
use crate::read::scalar::ValueFault;

impl Interview<'_> {
    /// Refuses a short name that a floor or a product of the book has.
    pub(super) fn name_taken(&self, id: &str, name: &str) -> Option<Reply> {
        let shared = &self.setting.shared;
        let (what, known) = match id {
            "system.key" => ("floor", shared.systems().iter().any(|one| one.key.0 == name)),
            "product.key" => {
                let (name_of_file, text) = (String::new(), self.setting.below.clone());
                let book = read::read_book(&SourceFile { name: name_of_file, text });
                ("product", book.is_ok_and(|book| book.product(&Key(name.to_owned())).is_some()))
            }
            _ => return None,
        };
        let taken = Untaken::new(format!("`{name}` is the short name of another {what} already"));
        known.then(|| taken.help(format!("give this {what} another one")).into())
    }

    /// Refuses a number that another job nearby has.
    pub(super) fn number_taken(&self, id: &str, number: &str) -> Option<Reply> {
        let same = |known: &&(String, String)| known.0.eq_ignore_ascii_case(number);
        let (number, place) =
            self.setting.taken.iter().filter(|_| id == "job.number").find(same)?;
        let free = &self.setting.number;
        let taken = Untaken::new(format!("`{number}` is the number of {place} already"));
        Some(taken.help(format!("give this job another one; `{free}` is free")).into())
    }

    /// Refuses a payment that is more than those before it leave of the price.
    pub(super) fn over_the_whole(&self, id: &str, typed: &str) -> Option<Reply> {
        let number: usize = id.strip_prefix("payment.share ")?.parse().ok()?;
        let before = (1..number).filter_map(|n| self.answers.get(&format!("payment.share {n}")));
        let before: f64 = before.filter_map(|text| share(text)).map(Share::as_percent).sum();
        let left = ((100.0 - before) * 100.0).round() / 100.0;
        let asked = share(typed)?.as_percent();
        // Shares that sum to the whole but for the last digit are the whole.
        if asked - left < 0.01 {
            return None;
        }
        let taken = Untaken::new(format!("`{typed}` is more than the {left} % that is left"));
        let help = format!("write at most {left} %, or `back` to change the one before");
        Some(taken.help(help).into())
    }
}

impl From<Untaken> for Reply {
    fn from(Untaken { message, help }: Untaken) -> Self {
        Self::Refused { message, help: help.into_iter().collect() }
    }
}

/// True when what was taken is worth telling: it was typed in another way, and not by its number.
pub(super) fn is_news(ask: &Ask, typed: &str, text: &str) -> bool {
    let typed = literal(typed);
    let by_number = !ask.kind.words().is_empty() && typed.chars().all(|c| !c.is_alphabetic());
    let same = text.eq_ignore_ascii_case(typed) || typed.is_empty() || text.is_empty();
    !same && !by_number && ask.kind.form != AnswerForm::YesNo
}

/// A word in quotes is an answer, whatever it means without them: `"done"`.
pub(super) fn literal(typed: &str) -> &str {
    let inside = in_quotes(typed).unwrap_or_default();
    let is_reserved = ["back", "done", "?", "help"].contains(&inside.to_lowercase().as_str());
    if is_reserved { inside } else { typed }
}

fn in_quotes(text: &str) -> Option<&str> {
    text.strip_prefix('"')?.strip_suffix('"')
}

/// A refusal by the reader of files, with the question's own example. Nobody types quotes here.
pub(super) fn refused(ask: &Ask, fault: ValueFault, example: &str) -> Reply {
    let usual = (ask.kind.usual_example)();
    let help = fault.help.map(|help| {
        let help = help.replace(&format!("`{usual}`"), &format!("`{example}`"));
        let parts = help.split('`').map(|part| in_quotes(part).unwrap_or(part));
        parts.collect::<Vec<_>>().join("`")
    });
    let message = format!("`{}` {}", ask.key, fault.message);
    Reply::Refused { message, help: help.into_iter().collect() }
}
