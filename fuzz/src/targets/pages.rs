//! The way from files to what leaves the shop: page data, mail, results; and a shop's own words.

use std::collections::BTreeSet;
use std::sync::LazyLock;

use mail_parser::{MessageParser, MimeHeaders};
use slableaf::base::layouts::Layouts;
use slableaf::base::money::Cents;
use slableaf::base::source::SourceFile;
use slableaf::issued::{Facts, agreed};
use slableaf::judge::checks::Severity;
use slableaf::judge::spaces::judge_spaces;
use slableaf::judge::{Judged, judge};
use slableaf::model::job::Accepted;
use slableaf::papers::after::{failure_sheet, handover, laid_floors};
use slableaf::papers::family::{
    bid_sheet, care_sheet, care_sheets, leaflet, leaflets, years_sheet,
};
use slableaf::papers::mail::{Enclosed, draft, letter};
use slableaf::papers::prepare::{buying_list, crew_days, crew_sheet, customer_days};
use slableaf::papers::proposal::page::Page;
use slableaf::papers::proposal::writer::Writer;
use slableaf::papers::proposal::{Issue, Spaces, page as proposal, page_of_spaces};
use slableaf::price::case::FloorOption;
use slableaf::read::{Input, Shared, read_job};
use slableaf::results::customer::CustomerForm;
use slableaf::results::shop::ShopForm;
use slableaf::say::overlay::{lay_over, locate};
use slableaf::say::words::{Words, WordsError};

use super::{BOOK, JOB, SHOP, file, refused, systems};

/// Stands for all that a shop keeps to itself: suppliers, notes for the crew.
const INNER: &str = "Quagmire-Canary";

static ENGLISH: LazyLock<Words> = LazyLock::new(|| built_in("en"));
static SPANISH: LazyLock<Words> = LazyLock::new(|| built_in("es"));
static LAYOUTS: LazyLock<Layouts> = LazyLock::new(Layouts::default);
static EXAMPLE: LazyLock<Shared> =
    LazyLock::new(|| Shared::read(&file("book.toml", BOOK), &file("shop.toml", SHOP), &systems()));

fn built_in(language: &str) -> Words {
    let words = Words::read(&LAYOUTS, language);
    words.unwrap_or_else(|error| panic!("the built-in words cannot be read: {error}"))
}

/// The files of an input: a job, then lines `=== book`, `=== shop` and `=== system` with what follows
/// them. What is left out is the example's; a system is one more beside those that are built in.
struct Given<'a> {
    job: &'a str,
    book: Option<&'a str>,
    shop: Option<&'a str>,
    system: Option<&'a str>,
}

impl<'a> Given<'a> {
    fn of(text: &'a str) -> Self {
        let (text, system) = split(text, "=== system\n");
        let (text, shop) = split(text, "=== shop\n");
        let (job, book) = split(text, "=== book\n");
        Self { job, book, shop, system }
    }

    /// What the files say, or `None` once their problems were seen to be showable.
    fn read(&self) -> Option<Input> {
        let job = file("job.toml", self.job);
        let book = file("book.toml", self.book.unwrap_or(BOOK));
        let shop = file("shop.toml", self.shop.unwrap_or(SHOP));
        let mut all_systems = systems();
        all_systems.extend(self.system.map(|text| file("systems/own.toml", text)));
        let read = read_job(&job);
        let joined = match (self.book, self.shop, self.system) {
            (None, None, None) => EXAMPLE.join(read, None),
            _ => Shared::read(&book, &shop, &all_systems).join(read, None),
        };
        match joined {
            Ok(input) => Some(input),
            Err(problems) => {
                let mut files = vec![&job, &book, &shop];
                files.extend(&all_systems);
                assert!(!refused(&problems, &files));
                None
            }
        }
    }

    fn typed(&self) -> String {
        let own = self.system.unwrap_or_default();
        [self.job, self.book.unwrap_or(BOOK), self.shop.unwrap_or(SHOP), own].join("\n")
    }
}

fn split<'a>(text: &'a str, line: &str) -> (&'a str, Option<&'a str>) {
    match text.split_once(line) {
        Some((before, after)) => (before, Some(after)),
        None => (text, None),
    }
}

/// A judged job whose prices are prices.
fn judged(input: &Input) -> Option<Judged<'_>> {
    let judged = judge(input);
    judged.exceeded_limit().is_none().then_some(judged)
}

fn issue(input: &Input) -> Issue {
    Issue {
        revision: Some(1),
        has_logo: input.shop.logo.is_some(),
        photos: input.job.photos.len(),
        ..Issue::default()
    }
}

#[track_caller]
fn said<T>(said: Result<T, WordsError>) -> T {
    said.unwrap_or_else(|error| panic!("the built-in words do not do: {error}"))
}

// ---------------------------------------------------------------------------------------- page

/// Job, book and shop to the data of papers: the proposal, the sheets of its family, the crew's papers,
/// and those of the time after the work where a floor on offer was signed for. Every figure is one,
/// prices add up, and nothing inner is in what a customer gets.
pub fn page(data: &[u8]) -> bool {
    let Ok(text) = std::str::from_utf8(data) else { return false };
    let given = Given::of(text);
    let Some(mut input) = given.read() else { return false };
    let typed = given.typed();
    input.job.crew_notes = vec![INNER.to_owned()];
    for product in &mut input.book.products {
        product.supplier = INNER.to_owned();
    }
    if input.job.spaces.is_empty() {
        page_of_one(&input, &typed)
    } else {
        page_of_several(&input, &typed)
    }
}

fn page_of_one(input: &Input, typed: &str) -> bool {
    let Some(judged) = judged(input) else { return false };
    adds_up(&judged);
    let secret = inner_amounts(&judged, &may_be_known(&judged));
    for words in [&*ENGLISH, &*SPANISH] {
        let w = Writer::new(&judged.case, &judged.findings, &judged.recommendation, words);
        let issue = issue(input);
        let page = said(proposal(&w, &issue));
        let form = said(CustomerForm::of(&w));
        let mut made = Made::of(&page, &form);
        made.outside.push(format!("{:?}", said(leaflet(&w, &issue, true))));
        made.outside.extend(said(bid_sheet(&w, &issue)).map(|sheet| format!("{sheet:?}")));
        made.outside.extend(said(years_sheet(&w, &issue)).map(|sheet| format!("{sheet:?}")));
        made.outside.extend(after_work(&w, input, &issue));
        made.inside.push(format!("{:?}", said(ShopForm::of(&w))));
        for option in w.offered() {
            made.outside.push(format!("{:?}", said(care_sheet(&w, option, &issue))));
            made.add_of_the_crew(&w, option, &issue);
        }
        made.keeps_its_promises(&secret, typed);
    }
    true
}

/// The same of a job of several spaces.
fn page_of_several(input: &Input, typed: &str) -> bool {
    let jobs = input.job.of_spaces();
    let judged = judge_spaces(input, &jobs);
    if judged.exceeded_limit().is_some() {
        return false;
    }
    let mut known: BTreeSet<i64> = judged.spaces.iter().flat_map(may_be_known).collect();
    known.insert(judged.total().0);
    if let Some(price) = &judged.price {
        let shares: Cents = price.shares.iter().map(|share| share.total()).sum();
        assert_eq!(shares, price.estimate.total(), "the spaces do not sum to the whole");
        known.extend([price.estimate.total().0, price.bill.total().0]);
    }
    let secret = judged.spaces.iter().flat_map(|space| inner_amounts(space, &known)).collect();
    for words in [&*ENGLISH, &*SPANISH] {
        let s = Spaces::new(&input.job, &judged, words);
        let issue = issue(input);
        let page = said(page_of_spaces(&s, &issue));
        let form = said(CustomerForm::of_spaces(&s));
        let mut made = Made::of(&page, &form);
        made.outside.push(format!("{:?}", said(leaflets(&s, &issue, true))));
        made.outside.push(format!("{:?}", said(care_sheets(&s, &issue))));
        made.inside.push(format!("{:?}", said(ShopForm::of_spaces(&s))));
        for w in &s.writers {
            w.offered().into_iter().for_each(|option| made.add_of_the_crew(w, option, &issue));
        }
        made.keeps_its_promises(&secret, typed);
    }
    true
}

/// Handover and failure sheet, where a floor that was signed for is on offer.
fn after_work(w: &Writer<'_>, input: &Input, issue: &Issue) -> Vec<String> {
    let job = &input.job;
    let Some(floor) = job.agreed_floor(None) else { return vec![] };
    let Some(signed) = job.accepted.clone() else { return vec![] };
    let signed = Accepted { floor, additions: vec![], ..signed };
    let Ok(agreed) = agreed(&said(Facts::of(w)), signed.on, &signed) else { return vec![] };
    let floors = laid_floors(w, None, &agreed);
    let handover = said(handover(w, job, &floors, &agreed, issue));
    let failure = said(failure_sheet(w, job, &floors, issue));
    vec![format!("{handover:?}"), format!("{failure:?}")]
}

/// What was made of a job: what a customer gets, and what the shop keeps.
struct Made {
    outside: Vec<String>,
    inside: Vec<String>,
}

impl Made {
    /// Begins with the proposal and the customer's results, in which no key is an inner one.
    fn of(page: &Page, form: &CustomerForm) -> Self {
        no_inner_key(&value(serde_json::to_value(form)));
        value(serde_json::to_value(page));
        Self { outside: vec![format!("{page:?}"), format!("{form:?}")], inside: vec![] }
    }

    fn add_of_the_crew(&mut self, w: &Writer<'_>, option: &FloorOption<'_>, issue: &Issue) {
        self.outside.extend(said(customer_days(w, option, 1)));
        self.inside.push(format!("{:?}", said(crew_sheet(w, option, issue))));
        self.inside.push(format!("{:?}", said(buying_list(w, option, issue))));
        self.inside.extend(said(crew_days(w, option, 1)));
    }

    /// Nothing inner gets out, and every figure is one.
    fn keeps_its_promises(&self, secret: &BTreeSet<String>, typed: &str) {
        for text in &self.outside {
            assert!(!text.contains(INNER), "something inner gets out");
            let shown = numbers(text);
            for amount in secret {
                // What a person typed is theirs to print.
                let gets_out = shown.contains(amount) && !numbers(typed).contains(amount);
                assert!(!gets_out, "{amount} gets out");
            }
        }
        for text in self.outside.iter().chain(&self.inside) {
            only_figures(text, typed);
        }
    }
}

fn value(json: serde_json::Result<serde_json::Value>) -> serde_json::Value {
    json.unwrap_or_else(|error| panic!("{error}"))
}

/// What the customer pays is the sum of its lines; an offered floor has no stop.
fn adds_up(judged: &Judged<'_>) {
    for option in &judged.case.options {
        let (quote, estimate) = (&option.quote, &option.estimate);
        let extras: Cents = quote.extras.iter().map(|one| one.price).sum();
        let items: Cents = quote.items.iter().map(|one| one.price).sum();
        let net = quote.floor.plus(extras).plus(items).minus(quote.discount);
        assert_eq!(net.plus(quote.tax), quote.total, "{quote:?}");
        assert_eq!(quote.total, estimate.total());
        assert_eq!(estimate.direct.plus(estimate.overhead), estimate.cost);
        assert!(quote.floor >= Cents::ZERO && quote.tax >= Cents::ZERO, "{quote:?}");
    }
    let order: Vec<Severity> = judged.findings.iter().map(|finding| finding.severity).collect();
    let stopped = order.contains(&Severity::Stop);
    assert!(stopped || judged.recommendation.floor.is_some(), "no floor and no stop");
}

/// Whole numbers of a text, as they stand in it.
fn numbers(text: &str) -> BTreeSet<String> {
    let mark = |c: char| c.is_ascii_digit() || matches!(c, '.' | ',');
    let runs = text.split(|c| !mark(c)).filter(|run| run.len() >= 7);
    runs.map(|run| run.trim_matches(['.', ',']).replace(',', "")).collect()
}

/// Amounts that a customer may see, and what follows from two of them.
fn may_be_known(judged: &Judged<'_>) -> BTreeSet<i64> {
    let mut known = BTreeSet::new();
    for option in &judged.case.options {
        let quote = &option.quote;
        known.extend(
            [quote.floor, quote.tax, quote.total, quote.total.minus(quote.tax)].map(|c| c.0),
        );
        known.extend(quote.extras.iter().map(|one| one.price.0));
        known.extend(quote.items.iter().map(|one| one.price.0));
        known.insert(quote.discount.0);
        known.extend(quote.could_add.iter().map(|could| could.adds.0));
    }
    let totals: Vec<i64> = judged.case.options.iter().map(|option| option.quote.total.0).collect();
    known.extend(totals.iter().flat_map(|one| totals.iter().map(move |other| one - other)));
    let payments = judged.case.options.iter().flat_map(|option| {
        let shop = judged.case.shop;
        slableaf::price::estimate::price::payments(option.quote.total, &shop.payments, &shop.limits)
    });
    known.extend(payments.map(|payment| payment.amount.0));
    known
}

/// What floors cost the shop, in amounts that are no round ones, as digits without groups.
fn inner_amounts(judged: &Judged<'_>, known: &BTreeSet<i64>) -> BTreeSet<String> {
    let of = judged.case.options.iter().map(|option| &option.estimate);
    let amounts = of.flat_map(|estimate| {
        [estimate.cost, estimate.direct, estimate.overhead, estimate.wanted, estimate.profit()]
    });
    let telling = amounts.filter(|cents| cents.0 >= 100_000 && cents.0 % 100 != 0);
    telling.filter(|cents| !known.contains(&cents.0)).map(|cents| cents.to_string()).collect()
}

/// Numbers that are none say so in a `Debug` form, and nobody typed it.
fn only_figures(text: &str, typed: &str) {
    fn words(text: &str) -> impl Iterator<Item = &str> {
        text.split(|c: char| !c.is_alphanumeric())
    }
    for none in ["inf", "NaN"] {
        if words(text).any(|word| word == none) {
            let theirs = typed.to_lowercase().contains(&none.to_lowercase());
            let around = text.find(none).unwrap_or_default();
            let around = text.get(around.saturating_sub(200)..around + 40).unwrap_or(text);
            assert!(theirs, "`{none}`: {around}");
        }
    }
}

fn no_inner_key(value: &serde_json::Value) {
    match value {
        serde_json::Value::Array(items) => items.iter().for_each(no_inner_key),
        serde_json::Value::Object(fields) => {
            for (key, value) in fields {
                for inner in ["cost", "margin", "profit", "wage", "overhead", "supplier", "labor"] {
                    assert!(!key.contains(inner), "{key}");
                }
                no_inner_key(value);
            }
        }
        _ => {}
    }
}

// ---------------------------------------------------------------------------------------- mail

/// Files to a draft: it reads back as what was put in, and what was typed is no HTML.
pub fn mail(data: &[u8]) -> bool {
    let Ok(text) = std::str::from_utf8(data) else { return false };
    let given = Given::of(text);
    let Some(input) = given.read() else { return false };
    let words = if input.customers_language() == "es" { &*SPANISH } else { &*ENGLISH };
    if input.job.spaces.is_empty() {
        let Some(judged) = judged(&input) else { return false };
        let w = Writer::new(&judged.case, &judged.findings, &judged.recommendation, words);
        return reads_back(&input, &w, &said(proposal(&w, &issue(&input))));
    }
    let jobs = input.job.of_spaces();
    let judged = judge_spaces(&input, &jobs);
    if judged.exceeded_limit().is_some() {
        return false;
    }
    let s = Spaces::new(&input.job, &judged, words);
    reads_back(&input, s.w(), &said(page_of_spaces(&s, &issue(&input))))
}

fn reads_back(input: &Input, w: &Writer<'_>, page: &Page) -> bool {
    let name = format!("{}-proposal-r1.pdf", input.job.number.0);
    let pdf = b"%PDF-1.7\n\x00\xFF\r\n--=_mail\r\n.\r\n%%EOF\n";
    let enclosed = Enclosed::proposal(1, &name, 12, pdf);
    let letter = said(letter(w, page, &enclosed));
    let html = said(letter.html(&LAYOUTS));
    only_known_tags(&html);
    let by_hand = said(letter.by_hand(w, &enclosed));
    assert!(by_hand.split("\r\n").all(|line| !line.contains(['\r', '\n'])), "{by_hand:?}");
    for to in input.job.customer.mail_to() {
        assert!(by_hand.contains(&to.0), "{by_hand}");
    }
    let Some(sender) = &input.shop.email else {
        assert!(draft(w, &letter, html, &enclosed).is_err());
        return false;
    };
    // Addresses were judged when the files were read.
    let eml = draft(w, &letter, html.clone(), &enclosed);
    let eml = eml.unwrap_or_else(|fault| panic!("{fault}"));
    assert!(eml.is_ascii());
    let lines = String::from_utf8_lossy(&eml);
    assert!(lines.split("\r\n").all(|line| !line.contains(['\r', '\n']) && line.len() <= 998));

    let parsed = MessageParser::default().parse(&eml);
    let parsed = parsed.unwrap_or_else(|| panic!("no mail: {lines}"));
    assert_eq!(parsed.subject(), Some(letter.subject.as_str()), "{lines}");
    let person = |field: Option<&mail_parser::Address<'_>>| {
        let all: Vec<(String, String)> = field
            .into_iter()
            .flat_map(|field| field.iter())
            .map(|one| {
                let text = |text: Option<&str>| text.unwrap_or_default().to_owned();
                (text(one.name()), text(one.address()))
            })
            .collect();
        all
    };
    // A phrase may not begin with a dot (RFC 5322, sections 3.2.5 and 4.1).
    let phrase = |name: &str| name.trim_start_matches(['.', ' ']).to_owned();
    assert_eq!(person(parsed.from()), [(phrase(&input.shop.name), sender.clone())], "{lines}");
    let customer = &input.job.customer;
    let to = customer.mail_to().map(|to| (phrase(&customer.full_name()), to.0.clone()));
    assert_eq!(person(parsed.to()), to.collect::<Vec<_>>(), "{lines}");
    assert!(parsed.bcc().is_none() && parsed.cc().is_none(), "{lines}");
    assert_eq!(parsed.body_text(0).as_deref(), Some(letter.text().as_str()));
    assert_eq!(parsed.body_html(0).map(|body| body.replace("\r\n", "\n")), Some(html));
    let attached: Vec<_> = parsed.attachments().collect();
    assert_eq!(attached.len(), 1);
    assert_eq!(attached[0].contents(), pdf);
    assert_eq!(attached[0].attachment_name(), Some(name.as_str()));
    true
}

/// Every tag of an HTML text is one of the layout's, so that nothing typed has become one.
fn only_known_tags(html: &str) {
    static KNOWN: LazyLock<BTreeSet<String>> = LazyLock::new(|| {
        let layout = LAYOUTS.text("mail.html").unwrap_or_default();
        tags(layout).map(|tag| tag.split("{{").next().unwrap_or_default().to_owned()).collect()
    });
    for tag in tags(html) {
        assert!(KNOWN.iter().any(|known| tag.starts_with(known)), "{tag}");
    }
}

fn tags(html: &str) -> impl Iterator<Item = &str> {
    html.split('<').skip(1).map(|rest| rest.split_once('>').map_or(rest, |(tag, _)| tag))
}

// ------------------------------------------------------------------------------------- wording

static INPUTS: LazyLock<Vec<Input>> = LazyLock::new(|| {
    let dry = include_str!("../../../examples/dry-and-quick/job.toml");
    let wet = include_str!("../../../examples/too-wet-yet/job.toml");
    [JOB, dry, wet].iter().filter_map(|job| Given::of(job).read()).collect()
});
static JUDGED: LazyLock<Vec<Judged<'static>>> =
    LazyLock::new(|| INPUTS.iter().map(judge).collect());

/// A shop's own word file, the path below `words/` in its first line: it is refused with a place, or
/// papers can be written with it, or what they lack is said with a place.
pub fn wording(data: &[u8]) -> bool {
    let Ok(text) = std::str::from_utf8(data) else { return false };
    let Some((name, text)) = text.split_once('\n') else { return false };
    let path = format!("words/{name}");
    let own = file(&format!("layouts/{path}"), text);
    let mut files: Vec<SourceFile> = LAYOUTS.source_files("words/");
    files.push(own.clone());
    let files: Vec<&SourceFile> = files.iter().collect();
    let layouts = match lay_over(vec![(path, own)]) {
        Ok(layouts) => layouts,
        Err(problems) => return refused(&problems, &files),
    };
    let language = name.split('/').next().unwrap_or_default();
    let words = Words::read(&layouts, language);
    let words = words.unwrap_or_else(|error| panic!("was laid over, and cannot be read: {error}"));
    let mut errors: Vec<WordsError> = vec![];
    errors.extend(slableaf::say::explain::explain_all(&words).err());
    assert_eq!(JUDGED.len(), 3);
    for (judged, input) in JUDGED.iter().zip(&*INPUTS) {
        let w = Writer::new(&judged.case, &judged.findings, &judged.recommendation, &words);
        let issue = issue(input);
        match proposal(&w, &issue) {
            Ok(page) => {
                let enclosed = Enclosed::proposal(1, "a.pdf", 1, b"");
                match letter(&w, &page, &enclosed) {
                    Ok(letter) => only_known_tags(&said(letter.html(&LAYOUTS))),
                    Err(error) => errors.push(error),
                }
            }
            Err(error) => errors.push(error),
        }
        let option = judged.case.options.first();
        let papers = [
            leaflet(&w, &issue, true).map(drop),
            CustomerForm::of(&w).map(drop),
            option.map_or(Ok(()), |option| care_sheet(&w, option, &issue).map(drop)),
            option.map_or(Ok(()), |option| crew_sheet(&w, option, &issue).map(drop)),
            option.map_or(Ok(()), |option| customer_days(&w, option, 1).map(drop)),
        ];
        errors.extend(papers.into_iter().filter_map(Result::err));
    }
    errors.is_empty()
        || refused(&errors.iter().map(|error| locate(error, &layouts)).collect::<Vec<_>>(), &files)
}
