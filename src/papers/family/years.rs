//! The sheet of years: what each floor costs over time, in stories that may come true, and in which years
//! another floor costs the least. It gives no odds.

use minijinja::context;
use serde::Serialize;

use crate::base::lists::grouped;
use crate::base::money::Cents;
use crate::base::names::Key;
use crate::papers::family::message::{Actor, Message, in_words, steps};
use crate::papers::family::what_if::{BarPiece, SwitchBar};
use crate::papers::proposal::page::{Frame, NextStep};
use crate::papers::proposal::writer::{Writer, capital, joined};
use crate::papers::proposal::{Issue, frame, share};
use crate::price::years::{
    Cheapest, CostRange, FloorYears, Outlook, Renewal, Story, Stretch, YearRange,
};
use crate::read::book::as_share;
use crate::say::words::WordsError;

/// The sheet as its layout sees it.
#[derive(Debug, Clone, Serialize)]
pub struct YearsSheet {
    #[serde(flatten)]
    pub frame: Frame,
    pub message: Message,
    pub intro: String,
    /// Heads of the columns, one for each story.
    pub columns: Vec<String>,
    pub lines: Vec<CostLine>,
    pub stories: Vec<StoryText>,
    /// Stories that are left out, and floors that wait; a sentence each.
    pub left_out: Vec<String>,
    /// A sentence on the lines of the table and on what is bold in it.
    pub key: String,
    pub note: String,
    pub next: Vec<NextStep>,
}

/// One story: which floor costs the least in it.
#[derive(Debug, Clone, Serialize)]
pub struct StoryText {
    pub title: String,
    pub says: String,
    /// A sentence on the floor that costs the least; empty where there is one floor alone.
    pub cheapest: String,
    /// The years in which another one does; empty where it is one in all of them.
    pub switch: String,
    /// The same as a drawing, with its caption; absent where it is one floor in all years.
    pub caption: String,
    pub bar: Option<SwitchBar>,
}

/// A floor with what it costs today, and over the years in each story.
#[derive(Debug, Clone, Serialize)]
pub struct CostLine {
    pub floor: String,
    pub today: String,
    /// What it costs in each story.
    pub stories: Vec<StoryCost>,
}

#[derive(Debug, Clone, Serialize)]
pub struct StoryCost {
    pub amount: String,
    /// The least and the most of it, as shares of the highest cost of all.
    pub from: f64,
    pub to: f64,
    /// This floor costs the least, as far as that can be said.
    pub cheapest: bool,
}

/// Puts the sheet into words; `None` where no floor has a price.
///
/// # Errors
/// [`WordsError`] when a sentence uses a value that it is not given.
pub fn years_sheet(w: &Writer<'_>, issue: &Issue) -> Result<Option<YearsSheet>, WordsError> {
    let (job, terms) = (w.case.job, &w.case.shop.years);
    let priced = w.priced();
    if priced.is_empty() {
        return Ok(None);
    }
    let sheet = Sheet { w, outlook: Outlook::of(w.case, &priced, terms) };
    let years = sheet.years(sheet.outlook.count);
    let title = w.say(
        "years.title",
        [("years", years.as_str()), ("customer", job.customer.name_on_paper().as_ref())],
    );
    let mut frame = frame(w, issue, title, w.words.labels_of("years"));
    if w.recommended().is_none() {
        frame.head.valid_until = None;
    }
    let (told, left_out) = sheet.told(terms.damp_in);
    let rate = as_share(terms.rate);
    let stay = job.house.stay_years.is_some();
    let intro = context! {
        years => years,
        stay => stay,
        rate => (!terms.rate.is_zero()).then(|| w.figure(rate)),
        source => terms.rate_source.clone(),
    };
    let stories: Vec<StoryText> = told.iter().map(|story| sheet.story(*story)).collect();
    w.checked(Some(YearsSheet {
        frame,
        message: sheet.message(&told),
        intro: w.say_with("years.intro", intro),
        columns: told.iter().map(|story| sheet.name("column", *story)).collect(),
        lines: sheet.outlook.floors.iter().map(|floor| sheet.line(floor, &told)).collect(),
        key: sheet.key(&told),
        next: steps(w, NEXT, &context! { stay => stay, call => w.contact() }),
        stories,
        left_out: left_out.into_iter().chain(sheet.waiting()).collect(),
        note: w.plain("years.note"),
    }))
}

const NEXT: [(Actor, &str); 3] = [
    (Actor::You, "years.next.mark"),
    (Actor::You, "years.next.stay"),
    (Actor::We, "years.next.again"),
];

struct Sheet<'a> {
    w: &'a Writer<'a>,
    outlook: Outlook,
}

impl Sheet<'_> {
    fn number(&self, years: u32) -> String {
        self.w.figures.number(f64::from(years), 0)
    }

    fn years(&self, years: u32) -> String {
        self.w.say("years.count", [("n", self.number(years))])
    }

    fn range(&self, (from, to): YearRange) -> String {
        let facts =
            [("from", self.number(from)), ("to", self.number(to)), ("years", self.years(to))];
        self.w.say("years.range", facts)
    }

    fn money(&self, amount: Cents) -> String {
        self.w.figures.whole_money(amount)
    }

    /// The least and the most of all costs that are told.
    fn ends(&self, told: &[Story]) -> CostRange {
        let floors = self.outlook.floors.iter();
        let costs =
            floors.flat_map(|floor| told.iter().map(|story| self.outlook.cost(floor, *story)));
        let fold = |all: CostRange, one: CostRange| CostRange {
            least: all.least.min(one.least),
            most: all.most.max(one.most),
        };
        costs.reduce(fold).unwrap_or(CostRange { least: Cents::ZERO, most: Cents::ZERO })
    }

    /// The floor that costs the least, or that this is not the same floor in each story; for a floor alone, what it
    /// may cost.
    fn message(&self, told: &[Story]) -> Message {
        let (w, outlook) = (self.w, &self.outlook);
        let name = |key: &Key| w.the_name(key);
        let even = || w.plain("years.even");
        let answers: Vec<(Story, String)> = told
            .iter()
            .filter_map(|story| Some((*story, outlook.cheapest(*story)?)))
            .map(|(story, found)| (story, found.floor().map_or_else(even, name)))
            .collect();
        let one = answers.first().filter(|(_, first)| answers.iter().all(|(_, it)| it == first));
        let each = answers.iter().map(|(story, floor)| {
            let facts = [("story", self.name("column", *story)), ("floor", floor.clone())];
            w.say("years.answer", facts)
        });
        let alone = outlook.floors.first().filter(|_| outlook.floors.len() == 1);
        let facts = context! {
            years => self.years(outlook.count),
            stories => told.len(),
            word => in_words(w, told.len()),
            alone => alone.map_or_else(String::new, |floor| name(&floor.floor)),
            amount => self.amount(self.ends(told)),
            one => one.map_or_else(String::new, |(_, floor)| floor.clone()),
            each => joined(each),
        };
        Message {
            lead: capital(&w.say_with("years.lead", facts.clone())),
            says: w.say_with("years.says", facts),
        }
    }

    /// What the lines of the table are, and what is bold in it.
    fn key(&self, told: &[Story]) -> String {
        let facts = context! {
            from => self.money(Cents::ZERO),
            to => self.money(self.ends(told).most),
            several => self.outlook.floors.len() > 1,
        };
        self.w.say_with("years.key", facts)
    }

    fn amount(&self, range: CostRange) -> String {
        let facts = [("least", self.money(range.least)), ("most", self.money(range.most))];
        self.w.say("years.amount", facts)
    }

    /// The stories that can be told, and what is said of those that cannot.
    fn told(&self, damp_in: u32) -> (Vec<Story>, Vec<String>) {
        let (w, outlook) = (self.w, &self.outlook);
        let mut told = vec![Story::Dry];
        let mut left_out = vec![];
        if outlook.after_damp.is_none() {
            left_out.push(w.plain("years.left_out.damp"));
        } else if damp_in > outlook.count {
            let late = [("year", self.number(damp_in)), ("years", self.years(outlook.count))];
            left_out.push(w.say("years.left_out.damp_late", late));
        } else {
            told.push(Story::Damp(damp_in));
        }
        if outlook.floors.iter().any(|floor| floor.renewal.is_some()) {
            told.push(Story::Renewed);
        } else {
            left_out.push(w.plain("years.left_out.renewed"));
        }
        (told, left_out)
    }

    /// The floors that wait, in a sentence; nothing where none does.
    fn waiting(&self) -> Option<String> {
        let w = self.w;
        let keys = self.outlook.floors.iter().map(|floor| floor.floor.clone());
        let wait: Vec<Key> = keys.filter(|key| w.recommendation.waits(key)).collect();
        (!wait.is_empty()).then(|| w.say("years.waits", [("floors", w.names(&wait))]))
    }

    fn line(&self, floor: &FloorYears, told: &[Story]) -> CostLine {
        let (w, outlook) = (self.w, &self.outlook);
        let most = self.ends(told).most;
        let of_most = |cost: Cents| share(cost.0 as f64 / (most.0 as f64).max(1.0));
        let stories = told.iter().map(|story| {
            let cost = outlook.cost(floor, *story);
            StoryCost {
                amount: self.amount(cost),
                from: of_most(cost.least),
                to: of_most(cost.most),
                cheapest: outlook.cheapest(*story).as_ref().and_then(Cheapest::floor)
                    == Some(&floor.floor),
            }
        });
        CostLine {
            floor: w.name(&floor.floor),
            today: w.money(floor.now),
            stories: stories.collect(),
        }
    }

    fn damp(&self) -> String {
        let after = self.outlook.after_damp.as_ref();
        after.map_or_else(String::new, |after| {
            let floor = self.w.the_name(&after.floor);
            self.w.say("years.says_of.damp", [("floor", floor), ("redo", self.money(after.redo))])
        })
    }

    fn dry(&self) -> String {
        let lives = self.alike(|floor| floor.life).into_iter().map(|(life, floors)| {
            let facts = [("floors", self.w.names(&floors)), ("years", self.range(life))];
            capital(&self.w.say("years.says_of.life", facts))
        });
        let lives: Vec<String> = lives.collect();
        self.w.say_with("years.says_of.dry", context! { lives => lives })
    }

    /// Floors of which the same is to be said, in the order of the first of each.
    fn alike<T: PartialEq>(&self, of: impl Fn(&FloorYears) -> T) -> Vec<(T, Vec<Key>)> {
        grouped(self.outlook.floors.iter().map(|floor| (of(floor), floor.floor.clone())))
    }

    fn renewed(&self) -> String {
        let w = self.w;
        let of = |(renewal, floors): (Option<Renewal>, Vec<Key>)| match renewal {
            Some(renewal) => {
                let facts = context! {
                    floors => w.names(&floors),
                    floors_count => floors.len(),
                    years => self.range(renewal.every),
                    price => self.money(renewal.price),
                    never => renewal.every.0 >= self.outlook.count,
                };
                capital(&w.say_with("years.says_of.renewal", facts))
            }
            None => capital(&w.say("years.says_of.no_renewal", [("floors", w.names(&floors))])),
        };
        let renewals: Vec<String> = self.alike(|floor| floor.renewal).into_iter().map(of).collect();
        w.say_with("years.says_of.renewed", context! { renewals => renewals })
    }

    /// The name of a story, with its year.
    fn name(&self, part: &str, story: Story) -> String {
        let (name, year) = match story {
            Story::Dry => ("dry", 0),
            Story::Damp(year) => ("damp", year),
            Story::Renewed => ("renewed", 0),
        };
        self.w.say(&format!("years.{part}.{name}"), [("year", self.number(year))])
    }

    fn story(&self, story: Story) -> StoryText {
        let (w, outlook) = (self.w, &self.outlook);
        let (says, kind, stretches, now) = match story {
            Story::Dry => (self.dry(), "counted", outlook.by_years_counted(story), None),
            Story::Damp(year) => (self.damp(), "damp", outlook.by_damp_year(), Some(year)),
            Story::Renewed => (self.renewed(), "counted", outlook.by_years_counted(story), None),
        };
        let cheapest = outlook.cheapest(story);
        StoryText {
            title: self.name("story", story),
            says,
            switch: self.switch(kind, &stretches),
            caption: w.plain_if(stretches.len() > 1, &format!("years.bar.{kind}")),
            bar: (stretches.len() > 1).then(|| self.bar(kind, &stretches, now)),
            cheapest: cheapest.map_or_else(String::new, |found| self.cheapest(&found)),
        }
    }

    fn cheapest(&self, cheapest: &Cheapest) -> String {
        let w = self.w;
        match cheapest {
            Cheapest::Surely(floor, by) => {
                let facts = [("floor", w.the_name(floor)), ("by", self.amount(*by))];
                capital(&w.say("years.cheapest.surely", facts))
            }
            Cheapest::InTheMiddle { floor, by, alike } => {
                let behind = Cents::ZERO.minus(alike.least);
                let facts = context! {
                    floor => w.the_name(floor),
                    by => self.money(*by),
                    alike => self.amount(*alike),
                    behind => (behind > Cents::ZERO).then(|| self.money(behind)),
                    ahead => self.money(alike.most),
                };
                capital(&w.say_with("years.cheapest.in_the_middle", facts))
            }
            Cheapest::Even => w.plain("years.cheapest.even"),
        }
    }

    /// The years of each floor, in words; nothing where one answer holds for all of them.
    fn switch(&self, kind: &str, stretches: &[Stretch]) -> String {
        if stretches.len() < 2 {
            return String::new();
        }
        let even = stretches.iter().any(|stretch| stretch.floor.is_none());
        let of_floors = stretches.iter().filter_map(|stretch| {
            let ends = [("from", self.number(stretch.from)), ("to", self.number(stretch.to))];
            Some((stretch.floor.as_ref()?, self.w.say("years.switch.range", ends)))
        });
        let said = grouped(of_floors).into_iter().map(|(floor, ranges)| {
            let facts =
                [("years", self.w.figures.list(&ranges)), ("floor", self.w.the_name(floor))];
            self.w.say(&format!("years.switch.{kind}"), facts)
        });
        let even = even.then(|| self.w.plain("years.switch.even"));
        joined(said.chain(even))
    }

    fn bar(&self, kind: &str, stretches: &[Stretch], now: Option<u32>) -> SwitchBar {
        let w = self.w;
        let all = f64::from(self.outlook.count);
        let even = || w.plain("years.bar.even");
        let pieces: Vec<BarPiece> = stretches
            .iter()
            .map(|stretch| BarPiece {
                label: stretch.floor.as_ref().map_or_else(even, |key| w.name(key)),
                share: f64::from(stretch.to + 1 - stretch.from) / all,
                offered: stretch.floor.is_some(),
            })
            .collect();
        let end = |year: u32| w.say("years.bar.end", [("year", self.number(year))]);
        let floors: Vec<String> = pieces.iter().map(|piece| piece.label.clone()).collect();
        let ends = (end(1), end(self.outlook.count));
        let facts = context! {
            title => w.plain(&format!("years.bar.{kind}")),
            from => ends.0.clone(), to => ends.1.clone(), floors => floors,
        };
        SwitchBar {
            alt: w.say_with("years.bar.alt", facts),
            pieces,
            // The middle of its year.
            now: now.map(|year| (f64::from(year) - 0.5) / all),
            now_label: now.map_or_else(String::new, |_| w.plain("years.bar.story")),
            ends,
        }
    }
}
