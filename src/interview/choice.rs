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
            match self.one(part) {
                Ok(word) => all.push(word),
                Err(whole) => {
                    let bits: Vec<&str> =
                        part.split_whitespace().filter(|bit| *bit != "and").collect();
                    if bits.len() < 2 && bits.first() == Some(&part) {
                        return Err(whole);
                    }
                    let mut here: Vec<String> = vec![];
                    for bit in bits {
                        // Two words may tell of one thing: `water pipes`.
                        let word = self.one(bit)?;
                        if !here.contains(&word) {
                            here.push(word);
                        }
                    }
                    all.extend(here);
                }
            }
        }
        if all.is_empty() { Err(self.none(typed)) } else { Ok(all) }
    }

    /// The words that what was typed may stand for. Each way is tried only when none before it gave one.
    fn fitting(&self, typed: &str) -> Vec<&str> {
        let words = || self.words.iter().map(String::as_str);
        if let Some(word) = typed.parse::<usize>().ok().and_then(|n| words().nth(n.wrapping_sub(1)))
        {
            return vec![word];
        }
        if let Some(word) = words().find(|word| *word == UNKNOWN && is_unknown(typed)) {
            return vec![word];
        }
        let said = parts(typed);
        if said.is_empty() {
            return vec![];
        }
        let both = || words().zip(self.meanings.iter().map(String::as_str));
        let ways: [Vec<&str>; 4] = [
            words().filter(|word| parts(word) == said).collect(),
            both().filter(|(_, meaning)| parts(meaning) == said).map(|(word, _)| word).collect(),
            words().filter(|word| parts(word).join(" ").starts_with(&said.join(" "))).collect(),
            words()
                .enumerate()
                .filter(|(at, word)| {
                    let meaning = self.meanings.get(*at).map_or("", String::as_str);
                    holds(word, &said) || holds(meaning, &said)
                })
                .map(|(_, word)| word)
                .collect(),
        ];
        ways.into_iter().find(|way| !way.is_empty()).unwrap_or_default()
    }

    fn none(&self, typed: &str) -> Untaken {
        let numbers = match self.words.len() {
            0 => return Untaken::new("there is nothing to choose from"),
            1 => "1".to_owned(),
            count @ 2..=4 => (1..=count).map(|n| n.to_string()).collect::<Vec<_>>().join(", "),
            count => format!("1 to {count}"),
        };
        let none = Untaken::new(format!(
            "`{typed}` is none of these; type {numbers} or a word of the list"
        ));
        let near = nearest(typed, self.words.iter().map(String::as_str)).or_else(|| {
            let meaning = nearest(typed, self.meanings.iter().map(String::as_str))?;
            let at = self.meanings.iter().position(|known| known == meaning)?;
            self.words.get(at).map(String::as_str)
        });
        match near {
            Some(near) => none.help(format!("did you mean `{near}`?")),
            None => none,
        }
    }
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
        let words: Vec<String> = list.iter().map(|(word, _)| (*word).to_owned()).collect();
        let meanings: Vec<String> = list.iter().map(|(_, said)| (*said).to_owned()).collect();
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
