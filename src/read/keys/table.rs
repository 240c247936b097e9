//! Descriptions of tables with all of their keys, and the macro `keys!` that declares them.

use crate::read::keys::spec::KeySpec;
use crate::read::limits;

/// A table of a file, or the whole file.
#[derive(Debug, Clone, Copy)]
pub struct TableSpec {
    /// Its place in the file: `moisture.dishes`; empty for the file. Where it stands in several
    /// places, the first.
    pub path: &'static str,
    /// The last name of its path is an example of one that a person chooses.
    pub free: bool,
    /// The number of times that it may or must stand in the file.
    pub stands: Stands,
    /// Its purpose in one sentence.
    pub what: &'static str,
    /// Advice where it is missing and has to stand.
    pub advice: Option<&'static str>,
    /// Its own keys, in the order in which people write them.
    pub keys: &'static [KeySpec],
    /// The tables below it.
    pub tables: &'static [TableSpec],
    /// The rules between its keys.
    pub rules: &'static [Rule],
    /// A blank file shows it ready to be filled in, though it may be left out.
    pub shown: bool,
    /// Usually written in one line, `kit = [{ size = "3 gal", price = "$276.00" }]`.
    pub inline: bool,
    /// A blank file and the reference leave out of it the tables that stand elsewhere too.
    pub brief: bool,
    /// More of it that a blank file shows, each with values in place of the examples; the value for
    /// no key is another name of the table.
    pub more: &'static [&'static [(&'static str, &'static str)]],
    /// Different keys by the first of these tables that stands below it, or by none of them. Empty
    /// for all tables that have one set of keys.
    pub versions: &'static [(Option<&'static str>, TableSpec)],
}

/// The number of times that a table stands in a file.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Stands {
    /// `[slab]`: at most once.
    Once { need: bool },
    /// `[[area]]`: as often as there are things to list. A file without any is refused when
    /// `least` is above zero.
    Listed { least: usize, most: usize },
}

/// A rule between keys, or tables, of one table.
#[derive(Debug, Clone, Copy)]
pub enum Rule {
    /// Not both; the second is refused, with this advice.
    Apart(&'static str, &'static str, &'static str),
    /// Both or neither. In the advice `{}` stands for the missing key with its example.
    Together(&'static str, &'static str, &'static str),
    /// Without the first, all of the others. Without advice each is missed by itself.
    Unless(&'static str, &'static [&'static str], Option<&'static str>),
    /// One of these at the least; the first is missed, with this advice.
    OneOf(&'static [&'static str], &'static str),
    /// Where the first table is listed, it holds the others: none of them may stand beside it, and none
    /// is missed. The last may stand, and are not missed either.
    Holds(&'static str, &'static [&'static str], &'static [&'static str]),
}

const fn table(path: &'static str, stands: Stands, what: &'static str) -> TableSpec {
    TableSpec {
        path,
        free: false,
        stands,
        what,
        advice: None,
        keys: &[],
        tables: &[],
        rules: &[],
        shown: false,
        inline: false,
        brief: false,
        more: &[],
        versions: &[],
    }
}

/// A table that may be left out.
pub const fn once(path: &'static str, what: &'static str) -> TableSpec {
    table(path, Stands::Once { need: false }, what)
}

/// A table that must be there.
pub const fn must(path: &'static str, what: &'static str) -> TableSpec {
    table(path, Stands::Once { need: true }, what)
}

/// A table that stands any number of times.
pub const fn listed(path: &'static str, what: &'static str) -> TableSpec {
    table(path, Stands::Listed { least: 0, most: limits::LIST }, what)
}

/// A table that stands once at least, and up to `most` times.
pub const fn needed_list(path: &'static str, most: usize, what: &'static str) -> TableSpec {
    table(path, Stands::Listed { least: 1, most }, what)
}

impl TableSpec {
    pub(super) const fn keys(mut self, keys: &'static [KeySpec]) -> Self {
        self.keys = keys;
        self
    }

    pub(super) const fn tables(mut self, tables: &'static [Self]) -> Self {
        self.tables = tables;
        self
    }

    pub(super) const fn rules(mut self, rules: &'static [Rule]) -> Self {
        self.rules = rules;
        self
    }

    /// Advice where it is missing and has to stand.
    pub(super) const fn advice(mut self, advice: &'static str) -> Self {
        self.advice = Some(advice);
        self
    }

    pub(super) const fn shown(mut self) -> Self {
        self.shown = true;
        self
    }

    pub(super) const fn inline(mut self) -> Self {
        self.inline = true;
        self
    }

    pub(super) const fn brief(mut self) -> Self {
        self.brief = true;
        self
    }

    pub(super) const fn any_name(mut self) -> Self {
        self.free = true;
        self
    }

    pub(super) const fn at_most(mut self, most: usize) -> Self {
        if let Stands::Listed { least, .. } = self.stands {
            self.stands = Stands::Listed { least, most };
        }
        self
    }

    pub(super) const fn more(
        mut self,
        more: &'static [&'static [(&'static str, &'static str)]],
    ) -> Self {
        self.more = more;
        self
    }

    pub(super) const fn versions(
        mut self,
        versions: &'static [(Option<&'static str>, Self)],
    ) -> Self {
        self.versions = versions;
        self
    }

    /// The name of the table itself; empty for the file.
    pub fn name(&self) -> &'static str {
        self.path.rsplit('.').next().unwrap_or_default()
    }

    /// True where a file without it is refused.
    /// True for a table that may stand more than once.
    pub fn is_list(&self) -> bool {
        matches!(self.stands, Stands::Listed { .. })
    }

    pub fn need(&self) -> bool {
        match self.stands {
            Stands::Once { need } => need,
            Stands::Listed { least, .. } => least > 0,
        }
    }

    /// True when its keys, or the tables below it, have names that a person chooses.
    pub fn has_free_names(&self) -> bool {
        self.keys.iter().any(|key| key.free) || self.tables.iter().any(|below| below.free)
    }

    /// Its own key of a name.
    pub fn key(&self, name: &str) -> Option<&'static KeySpec> {
        self.keys.iter().find(|key| key.name == name)
    }

    /// The names of its keys and of the tables below it.
    pub fn names(&self) -> impl Iterator<Item = &'static str> {
        let below = self.tables.iter().map(Self::name);
        self.keys.iter().map(|key| key.name).chain(below)
    }

    /// The version of it that a table with these names is.
    pub fn version(&self, has: impl Fn(&str) -> bool) -> &Self {
        let fits = |by: &Option<&'static str>| by.is_none_or(&has);
        self.versions.iter().find(|(by, _)| fits(by)).map_or(self, |(_, version)| version)
    }

    /// A table below this one, by its path.
    pub fn below(&self, path: &str) -> Option<&Self> {
        let mut steps = path.split('.').filter(|step| !step.is_empty());
        steps.try_fold(self, |table, step| table.tables.iter().find(|below| below.name() == step))
    }

    /// True for what the rules ask for when something else is left out.
    pub(super) fn preferred(&self, name: &str) -> bool {
        self.rules.iter().any(|rule| match rule {
            Rule::Unless(_, names, _) | Rule::Holds(_, names, _) => names.contains(&name),
            Rule::OneOf(names, _) => names.first() == Some(&name),
            Rule::Apart(..) | Rule::Together(..) => false,
        })
    }

    /// The keys and tables that may not stand beside this one.
    pub fn rivals(&self, name: &str) -> Vec<&'static str> {
        let rivals = |rule: &Rule| match *rule {
            Rule::Apart(a, b, _) => other(name, a, b).into_iter().collect(),
            Rule::Holds(holder, held, _) if holder == name => held.to_vec(),
            Rule::Holds(holder, held, _) if held.contains(&name) => vec![holder],
            _ => vec![],
        };
        self.rules.iter().flat_map(rivals).collect()
    }

    /// True for what is not missed, since a table that stands holds it.
    pub fn is_held(&self, name: &str, has: impl Fn(&str) -> bool) -> bool {
        self.rules.iter().any(|rule| match rule {
            Rule::Holds(holder, held, free) => {
                has(holder) && (held.contains(&name) || free.contains(&name))
            }
            _ => false,
        })
    }

    /// The tables below it that a blank file and the reference show at a path.
    pub(super) fn shown_below(&self, at: &str) -> impl Iterator<Item = &'static Self> {
        let (brief, at) = (self.brief, at.to_owned());
        let stands_here = move |below: &&Self| {
            !brief || below.path.rsplit_once('.').is_some_and(|(above, _)| above == at)
        };
        self.tables.iter().filter(stands_here)
    }

    /// The keys that have to stand beside this one.
    pub fn partners(&self, name: &str) -> Vec<&'static str> {
        let partner = |rule: &Rule| match *rule {
            Rule::Together(a, b, _) => other(name, a, b),
            _ => None,
        };
        self.rules.iter().filter_map(partner).collect()
    }
}

/// The other one of two, if this is one of them.
fn other(name: &str, a: &'static str, b: &'static str) -> Option<&'static str> {
    if a == name {
        Some(b)
    } else if b == name {
        Some(a)
    } else {
        None
    }
}

/// Declares tables: for each a module with a constant for every key, and `TABLE` with all of them.
/// The module's name is the group in which the words of its questions stand.
macro_rules! keys {
    ($($group:ident = $head:expr => { $($key:ident: $value:ty = $spec:expr;)* })*) => {$(
        #[allow(unused_imports)]
        pub mod $group {
            use super::*;
            const HEAD: TableSpec = $head;
            $(pub const $key: TypedKey<$value> = $spec.in_table(stringify!($group), HEAD.path);)*
            pub const TABLE: TableSpec = HEAD.keys(&[$($key.spec),*]);
        }
    )*};
}
