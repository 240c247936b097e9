//! Choosing from a list: by the number, the word, a beginning that only one has, or the words that
//! are shown beside it.

use crate::interview::typed::{SKIPPED, UNKNOWN, Untaken};
use crate::read::suggest::nearest;

/// The words that may be chosen, and what is shown beside each; nothing where a word says what it is.
#[derive(Debug, Clone, Copy)]
pub struct List<'a> {
    pub words: &'a [String],
    pub meanings: &'a [String],
}

/// True for a word, with its meaning, that a typed text may stand for.
type Fits<'a> = dyn Fn(&str, &str) -> bool + 'a;

impl List<'_> {
    /// The word that is meant.
    ///
    /// # Errors
    /// [`Untaken`] when none is meant, or more than one.
    pub fn one(&self, typed: &str) -> Result<String, Untaken> {
        let typed = typed.trim();
        let found = self.fitting(typed);
        match found.as_slice() {
            [] => Err(self.none(typed)),
            [only] => Ok((*only).to_owned()),
            several => Err(Untaken::new(format!(
                "`{typed}` fits more than one of these: {}; type the number or the word",
                several.join(", ")
            ))),
        }
    }

    /// The words that are meant, in the order in which they were typed: with commas, `and` or blanks
    /// between.
    ///
    /// # Errors
    /// As [`List::one`], for the first that is not taken.
    pub fn several(&self, typed: &str) -> Result<Vec<String>, Untaken> {
        let parts =
            typed.split([',', ';', '&', '+']).map(str::trim).filter(|part| !part.is_empty());
        let mut all = vec![];
        for part in parts {
            let bits = part.split_whitespace().filter(|bit| *bit != "and");
            match self.one(part) {
                Ok(word) => all.push(word),
                Err(whole) if bits.clone().eq([part]) => return Err(whole),
                Err(_) => {
                    let first = all.len();
                    for bit in bits {
                        // Two words may tell of one thing: `water pipes`.
                        let word = self.one(bit)?;
                        if !all[first..].contains(&word) {
                            all.push(word);
                        }
                    }
                }
            }
        }
        if all.is_empty() { Err(self.none(typed)) } else { Ok(all) }
    }

    /// The words that what was typed may stand for. Each way is tried only when none before it gave one.
    fn fitting(&self, typed: &str) -> Vec<&str> {
        let unknown = || self.words.iter().find(|word| *word == UNKNOWN && is_unknown(typed));
        if let Some(word) = by_number(typed, self.words).or_else(unknown) {
            return vec![word];
        }
        let said = parts(typed);
        if said.is_empty() {
            return vec![];
        }
        let ways: [&Fits<'_>; 4] = [
            &|word, _| parts(word) == said,
            &|_, meaning| parts(meaning) == said,
            &|word, _| parts(word).join(" ").starts_with(&said.join(" ")),
            &|word, meaning| holds(word, &said) || holds(meaning, &said),
        ];
        let fitting = |way: &Fits<'_>| -> Vec<&str> {
            self.pairs()
                .filter(|(word, meaning)| way(word, meaning))
                .map(|(word, _)| word)
                .collect()
        };
        ways.into_iter().map(fitting).find(|words| !words.is_empty()).unwrap_or_default()
    }

    /// Each word with its meaning.
    fn pairs(&self) -> impl Iterator<Item = (&str, &str)> {
        let meanings = self.meanings.iter().map(String::as_str).chain(std::iter::repeat(""));
        self.words.iter().map(String::as_str).zip(meanings)
    }

    fn none(&self, typed: &str) -> Untaken {
        let numbers = match self.words.len() {
            0 => return Untaken::new("there is nothing to choose from"),
            1 => "1".to_owned(),
            count @ 2..=4 => (1..=count).map(|n| n.to_string()).collect::<Vec<_>>().join(", "),
            count => format!("1 to {count}"),
        };
        let near = nearest(typed, self.pairs().map(|(word, _)| word)).or_else(|| {
            let near = nearest(typed, self.pairs().map(|(_, meaning)| meaning))?;
            self.pairs().find(|(_, meaning)| *meaning == near).map(|(word, _)| word)
        });
        Untaken {
            message: format!("`{typed}` is none of these; type {numbers} or a word of the list"),
            help: near.map(|near| format!("did you mean `{near}`?")),
        }
    }
}

/// The word that a number stands for: its place in the list, from one.
pub fn by_number<'a>(typed: &str, words: &'a [String]) -> Option<&'a String> {
    words.get(typed.parse::<usize>().ok()?.checked_sub(1)?)
}

/// True for what people say when they do not know.
pub fn is_unknown(typed: &str) -> bool {
    SKIPPED.contains(&typed.to_lowercase().replace('\u{2019}', "'").as_str())
}

/// The words of a text in small letters, without what stands between them.
fn parts(text: &str) -> Vec<String> {
    let lower = text.to_lowercase();
    let parts = lower.split(|c: char| !c.is_alphanumeric()).filter(|part| !part.is_empty());
    parts.map(str::to_owned).collect()
}

/// Letters from which on a word may be cut short.
const CUT: usize = 3;

/// True when words stand in a text one after the other; the last may be cut short, and each may have
/// the `s` of more than one.
fn holds(text: &str, said: &[String]) -> bool {
    let text = parts(text);
    let same = |known: &str, word: &str| known == word || Some(known) == word.strip_suffix('s');
    text.windows(said.len()).any(|run| {
        run.iter().zip(said).enumerate().all(|(at, (known, word))| {
            let last = at + 1 == said.len();
            same(known, word) || (last && word.chars().count() >= CUT && known.starts_with(word))
        })
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    const DROP: &[(&str, &str)] =
        &[("soaks-in", "it soaks in"), ("beads", "it stays on top"), ("unknown", "nobody knows")];
    const MONEY: &[(&str, &str)] =
        &[("USD", "US dollar"), ("CAD", "Canadian dollar"), ("EUR", "euro")];
    const DAYS: &[(&str, &str)] =
        &[("monday", ""), ("saturday", ""), ("sunday", ""), ("thursday", ""), ("tuesday", "")];

    fn told<T>(list: &[(&str, &str)], ask: impl Fn(&List<'_>) -> T) -> T {
        let owned = |(word, meaning): &(&str, &str)| (word.to_string(), meaning.to_string());
        let (words, meanings): (Vec<_>, Vec<_>) = list.iter().map(owned).unzip();
        ask(&List { words: &words, meanings: &meanings })
    }

    #[test]
    fn a_word_is_taken_in_every_way_in_which_it_is_shown() {
        let all = ["1", "soaks-in", "Soaks in", "s", "SOAKS", "it soaks in", "It soaks", "soaks-"];
        for typed in all {
            assert_eq!(told(DROP, |list| list.one(typed)).unwrap(), "soaks-in", "{typed}");
        }
        for typed in ["stays", "on top", "it stays on top", "b", "top"] {
            assert_eq!(told(DROP, |list| list.one(typed)).unwrap(), "beads", "{typed}");
        }
        for typed in ["nobody knows", "not known", "don't know", "don\u{2019}t know", "-", "u"] {
            assert_eq!(told(DROP, |list| list.one(typed)).unwrap(), "unknown", "{typed}");
        }
        for (typed, code) in [("us dollars", "USD"), ("euros", "EUR"), ("Canadian", "CAD")] {
            assert_eq!(told(MONEY, |list| list.one(typed)).unwrap(), code, "{typed}");
        }
    }

    #[test]
    fn nonsense_is_refused_with_what_may_be_typed() {
        for typed in ["banana", "yes", "4", "0", "it", "soaks out", "st", "\u{1f3e0}", "!"] {
            let untaken = told(DROP, |list| list.one(typed)).unwrap_err();
            let first = untaken.message.starts_with(&format!("`{typed}` is none of these; "))
                || (typed == "it" && untaken.message.contains("more than one of these"));
            assert!(first, "{}", untaken.message);
        }
        let near = told(DROP, |list| list.one("baeds")).unwrap_err();
        assert_eq!(near.message, "`baeds` is none of these; type 1, 2, 3 or a word of the list");
        assert_eq!(near.help.as_deref(), Some("did you mean `beads`?"));
        let near = told(DROP, |list| list.one("nobudy knows")).unwrap_err();
        assert_eq!(near.help.as_deref(), Some("did you mean `unknown`?"));
        let both = told(MONEY, |list| list.one("dollars")).unwrap_err();
        assert!(both.message.contains("more than one of these: USD, CAD;"), "{}", both.message);
        assert!(told(DAYS, |list| list.one("9")).unwrap_err().message.contains("1 to 5"));
    }

    #[test]
    fn several_words_have_commas_and_or_blanks_between() {
        for typed in ["sat, sun", "sat and sun", "2 3", "Saturday; Sunday", "sat & sun", "sat,sun,"]
        {
            let taken = told(DAYS, |list| list.several(typed)).unwrap();
            assert_eq!(taken, ["saturday", "sunday"], "{typed}");
        }
        let untaken = told(DAYS, |list| list.several("sat, frid")).unwrap_err();
        assert!(untaken.message.starts_with("`frid` is none of these"), "{}", untaken.message);
        let untaken = told(DAYS, |list| list.several("s")).unwrap_err();
        assert!(untaken.message.contains("saturday, sunday"), "{}", untaken.message);
        assert!(told(DAYS, |list| list.several(" , ")).is_err());
        assert!(told(DAYS, |list| list.several("and")).is_err());
    }
}
