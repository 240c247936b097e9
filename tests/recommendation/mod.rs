//! The rule by which one floor is recommended: what is not offered, moisture standing, wishes,
//! concerns of the slab, price, order. Each step is shown to decide in a case of its own, and
//! chemistry never does. Whole slabs, one after another, are in `slabs`.

mod examples;
mod moisture;
mod wishes;

use slableaf::base::names::Key;
use slableaf::base::source::SourceFile;
use slableaf::judge::recommend::{Headline, RuleStep};
use slableaf::judge::{Judged, judge};
use slableaf::read::{self, Input};

use crate::facts::example;

const DRY: &str = include_str!("../../examples/dry-and-quick/job.toml");
const OFFER: &str = "offer = [\"fast-cure\", \"barrier\", \"clear-epoxy\", \"water-kit\"]";
const WISHES: &str = "wishes = [\"quick\", \"lasting\"]";
const EXTRAS: &str = "[extras]\nclear-epoxy = [\"urethane-coat\"]\n";

/// The dry slab: three dishes between 1.3 and 1.6 lb, a plastic sheet under it.
struct Slab {
    job: String,
    book: String,
    systems: Vec<SourceFile>,
}

fn quoted(names: &[&str]) -> String {
    names.iter().map(|name| format!("\"{name}\"")).collect::<Vec<_>>().join(", ")
}

impl Slab {
    #[track_caller]
    fn offering(offer: &[&str], wishes: &[&str]) -> Self {
        let job = example::replaced(DRY, EXTRAS, "");
        let job = example::replaced(&job, OFFER, &format!("offer = [{}]", quoted(offer)));
        let job = example::replaced(&job, WISHES, &format!("wishes = [{}]", quoted(wishes)));
        Self { job, book: example::BOOK.to_owned(), systems: vec![] }
    }

    #[track_caller]
    fn job(mut self, old: &str, new: &str) -> Self {
        self.job = example::replaced(&self.job, old, new);
        self
    }

    #[track_caller]
    fn book(mut self, old: &str, new: &str) -> Self {
        self.book = example::replaced(&self.book, old, new);
        self
    }

    /// One text for another among the lines of the fast-cure primer.
    #[track_caller]
    fn primer(mut self, old: &str, new: &str) -> Self {
        let (before, rest) = self.book.split_once("key = \"polyurea-primer\"").expect("the primer");
        let (own, after) = rest.split_once("[[product]]").expect("another product");
        let own = example::replaced(own, old, new);
        self.book = format!("{before}key = \"polyurea-primer\"{own}[[product]]{after}");
        self
    }

    /// Every dish at so many pounds: what a dish gains in 72 hours over its 65.7 square inches.
    fn reading(mut self, pounds: f64) -> Self {
        // 1 lb is 453.592 g, 1000 ft2 are 144 000 in2.
        let gain = pounds * 453.592_37 * 65.7 / 144_000.0 * 70.5 / 24.0;
        let lines = self.job.lines().map(|line| {
            if line.starts_with("before") {
                "before = \"218 g\"".to_owned()
            } else if line.starts_with("after") {
                format!("after = \"{:.4} g\"", 218.0 + gain)
            } else {
                line.to_owned()
            }
        });
        self.job = lines.collect::<Vec<_>>().join("\n");
        self
    }

    fn untested(mut self) -> Self {
        let (before, rest) = self.job.split_once("[moisture.dishes]").unwrap();
        self.job = format!("{before}[air]{}", rest.split_once("[air]").unwrap().1);
        self
    }

    /// A system like a shipped one under another key.
    fn twin(mut self, of: &str, key: &str) -> Self {
        let files = example::files(example::JOB, example::BOOK, example::SHOP);
        let line = format!("key = \"{of}\"");
        let text = files
            .systems
            .into_iter()
            .find(|file| file.text.lines().any(|known| known == line))
            .unwrap()
            .text;
        // The first such line is the system's own key.
        let text = text.replacen(&line, &format!("key = \"{key}\""), 1);
        self.systems.push(SourceFile { name: format!("{key}.toml"), text });
        self
    }

    #[track_caller]
    fn input(&self) -> Input {
        let mut files = example::files(&self.job, &self.book, example::SHOP);
        files.systems.extend(self.systems.iter().cloned());
        read::read(&files).unwrap_or_else(|problems| panic!("{problems:#?}"))
    }

    #[track_caller]
    fn recommends(self, floor: &str) -> Self {
        let input = self.input();
        let judged = judge(&input);
        let found = judged.recommendation.floor.as_ref().map(|key| key.0.as_str());
        assert_eq!(found, Some(floor), "{:#?}", judged.recommendation.steps);
        self
    }

    /// The step that decided: the last that was taken, and it left one floor.
    #[track_caller]
    fn by(self, step: RuleStep) -> Self {
        self.see(|judged| {
            let found = &judged.recommendation;
            let last = found.steps.last().expect("a step");
            assert_eq!(last.rule, step, "{:#?}", found.steps);
            assert_eq!(last.left, found.floor.iter().cloned().collect::<Vec<_>>());
            assert!(last.decides());
        });
        self
    }

    #[track_caller]
    fn headline(self, headline: Headline) -> Self {
        self.see(|judged| assert_eq!(judged.recommendation.headline, headline));
        self
    }

    #[track_caller]
    fn see<R>(&self, look: impl FnOnce(&Judged<'_>) -> R) -> R {
        let input = self.input();
        look(&judge(&input))
    }
}

fn key(name: &str) -> Key {
    Key(name.to_owned())
}

fn keys(names: &[&str]) -> Vec<Key> {
    names.iter().map(|name| key(name)).collect()
}
