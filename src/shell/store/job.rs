//! A job, read with everything that its papers are made of: files, pictures, layouts and words.

use std::path::Path;
use std::sync::Arc;

use slableaf::base::money::Cents;
use slableaf::base::source::Diagnostic;
use slableaf::issued::{Hash, Leaf};
use slableaf::judge::spaces::{JudgedSpaces, judge_chosen, judge_spaces};
use slableaf::judge::{ExceededLimit, Judged, OverDiscounted, judge};
use slableaf::model::job::{Job, Print};
use slableaf::model::space::Space;
use slableaf::papers::change_order::WorkState;
use slableaf::papers::proposal::Spaces;
use slableaf::papers::proposal::writer::Writer;
use slableaf::price::case::FloorOption;
use slableaf::read::Input;
use slableaf::say::words::Words;
use slableaf::typeset::FontFile;
use slableaf::typeset::printable::needed_fonts;

use crate::shell::args::JobFiles;
use crate::shell::store::{
    Cache, FONTS_FOLDER, LAYOUTS_FOLDER, LoadedFiles, Originals, ShopLayouts, Unprinted,
    in_english, inspect_pictures, load_files, read_text,
};
use crate::shell::terminal::{Error, Exit, Report, Result};

/// The folder of a record that keeps what was read.
pub const INPUTS: &str = "inputs";

pub struct LoadedJob {
    pub files: LoadedFiles,
    pub input: Input,
    pub originals: Originals,
    pub layouts: Arc<ShopLayouts>,
    /// Texts that papers have a stand-in for.
    pub unprinted: Unprinted,
}

impl LoadedJob {
    /// Reads all files of a job, with the words of the customer's language.
    pub fn read(wanted: &JobFiles, cache: &Cache) -> Result<Self> {
        let (files, input) = load_files(wanted, cache)?;
        Self::of(files, input, cache)
    }

    /// Reads everything that belongs to a job: pictures, layouts, words and fonts.
    pub fn of(files: LoadedFiles, mut input: Input, cache: &Cache) -> Result<Self> {
        let originals = Originals::read(&files, &input)?;
        let layouts = cache.layouts(&files.shop_folder, input.customers_language())?;
        let unprinted = Unprinted::settle(&files, &mut input, &layouts)?;
        Ok(Self { files, input, originals, layouts, unprinted })
    }

    /// Large print when it was asked for; else as the job says.
    pub fn set_print(&mut self, large: bool) {
        if large {
            self.input.job.print = Print::Large;
        }
    }

    /// Every file that was read, by its path in a record, in the order of the paths.
    pub fn inputs(&self) -> Result<Vec<(Leaf, &[u8])>> {
        let texts = self.files.bytes.iter().chain(&self.layouts.own);
        let texts = texts.map(|file| (file.path.clone(), file.bytes.as_slice(), None));
        let fonts = self.needed_fonts();
        let fonts = fonts
            .iter()
            .map(|file| (format!("{FONTS_FOLDER}/{}", file.name), file.bytes.as_slice(), None));
        let pictures = self.originals.all.iter();
        let pictures =
            pictures.map(|one| (one.name.clone(), one.bytes.as_slice(), Some(one.sha256())));
        for (folder, holds) in [(LAYOUTS_FOLDER, "layouts and words"), (FONTS_FOLDER, "fonts")] {
            let start = format!("{folder}/");
            if let Some((name, ..)) = pictures.clone().find(|(name, ..)| name.starts_with(&start)) {
                let message = format!("the picture `{name}` lies in a folder `{folder}`");
                return Err(Error::new(Exit::Input, message)
                    .help(format!("that folder is for {holds}: put the picture elsewhere")));
            }
        }
        let mut all: Vec<(Leaf, &[u8])> = vec![];
        for (path, bytes, sha256) in texts.chain(fonts).chain(pictures) {
            // The name as typed may hold dots and doubled strokes.
            let parts = Path::new(&path).components();
            let parts: Vec<_> = parts.map(|part| part.as_os_str().to_string_lossy()).collect();
            let plain = parts.join("/");
            let sha256 = sha256.cloned().unwrap_or_else(|| Hash::of(bytes));
            let leaf = Leaf { path: format!("{INPUTS}/{plain}"), sha256 };
            match all.iter().find(|(known, _)| known.path == leaf.path) {
                None => all.push((leaf, bytes)),
                Some((known, _)) if *known == leaf => {}
                Some(_) => {
                    let message = format!(
                        "two different pictures are both called `{plain}`: one beside the job, one beside the shop file"
                    );
                    return Err(Error::new(Exit::Input, message)
                        .help("a record keeps them in one folder: give one of them another name"));
                }
            }
        }
        all.sort();
        Ok(all)
    }

    /// The font files that the papers may need.
    fn needed_fonts(&self) -> Vec<&FontFile> {
        let (faces, own) = (self.layouts.faces(), self.layouts.has_own_layouts());
        let needed = needed_fonts(&self.files.files, &self.layouts.own_words(), own, faces);
        needed.into_iter().filter_map(|at| faces.own().get(at)).map(AsRef::as_ref).collect()
    }
}

/// Reads a job with the words of the shop's language; its pictures are looked at and not decoded. Warns of
/// what cannot be printed.
pub fn read_for_shop(wanted: &JobFiles, report: &mut Report) -> Result<(Input, Arc<ShopLayouts>)> {
    let cache = Cache::default();
    let (files, mut input) = load_files(wanted, &cache)?;
    inspect_pictures(&files, &input)?;
    let layouts = cache.layouts(&files.shop_folder, &input.shop.language)?;
    Unprinted::settle(&files, &mut input, &layouts)?.warn(report);
    Ok((input, layouts))
}

/// The writer of a judged job's sentences and figures.
pub fn writer<'a>(judged: &'a Judged<'a>, words: &'a Words) -> Writer<'a> {
    Writer::new(&judged.case, &judged.findings, &judged.recommendation, words)
}

/// A job with its judgment, or with that of each of its spaces.
pub enum JudgedJob<'a> {
    One(Judged<'a>),
    Spaces(&'a Job, JudgedSpaces<'a>),
}

impl<'a> JudgedJob<'a> {
    /// The job, or its first space: for what is the same in all of them.
    pub fn first(&self) -> &Judged<'a> {
        match self {
            Self::One(judged) => judged,
            Self::Spaces(_, spaces) => &spaces.spaces[0],
        }
    }

    /// The job, or all of its spaces.
    pub fn all(&self) -> &[Judged<'a>] {
        match self {
            Self::One(judged) => std::slice::from_ref(judged),
            Self::Spaces(_, spaces) => &spaces.spaces,
        }
    }

    /// The floors that were accepted, each with the judgment of its space.
    pub fn accepted_floors(&self) -> Vec<(&Judged<'a>, &FloorOption<'a>)> {
        let floor = |judged: &'_ Judged<'a>| {
            let accepted = judged.case.job.accepted.as_ref()?;
            judged.case.options.iter().position(|option| *option.key() == accepted.floor)
        };
        let all = self.all().iter();
        all.filter_map(|judged| Some((judged, &judged.case.options[floor(judged)?]))).collect()
    }

    /// A signed job as a change order sees it: its floors, its items and what comes off.
    pub fn work_state(&'a self, job: &'a Job, words: &'a Words) -> WorkState<'a> {
        let floors = self.accepted_floors().into_iter();
        let floors: Vec<_> =
            floors.map(|(judged, option)| (writer(judged, words), option)).collect();
        let bill = match self {
            Self::One(_) => floors.first().map(|(_, option)| &option.estimate.bill),
            Self::Spaces(_, spaces) => spaces.price.as_ref().map(|price| &price.bill),
        };
        let items = bill.into_iter().flat_map(|bill| &bill.items);
        let items = items.map(|item| (item.name.clone(), item.price)).collect();
        let discount = bill.map_or(Cents::ZERO, |bill| bill.discount);
        WorkState { job, floors, items, discount }
    }

    /// What the pages of a job of several spaces are written from; `None` for a job of one.
    pub fn spaces(&'a self, words: &'a Words) -> Option<Spaces<'a>> {
        match self {
            Self::One(_) => None,
            Self::Spaces(job, judged) => Some(Spaces::new(job, judged, words)),
        }
    }
}

/// Computes and judges a job, or each of its spaces, which are those of [`Job::of_spaces`]; a price or work
/// past all bounds is refused.
pub fn judge_any<'a>(input: &'a Input, spaces: &'a [Job]) -> Result<JudgedJob<'a>> {
    if spaces.is_empty() {
        let judged = judge(input);
        let over = judged.over_discounted().map(|over| over_discounted(input, &over));
        return match over {
            Some(error) if judged.exceeded_limit() == Some(ExceededLimit::Discount) => Err(error),
            _ => Ok(JudgedJob::One(within_bounds(judged, Judged::exceeded_limit)?)),
        };
    }
    let judged = within_bounds(judge_spaces(input, spaces), JudgedSpaces::exceeded_limit)?;
    Ok(JudgedJob::Spaces(&input.job, judged))
}

/// Judges a job for its work: of several spaces those that were accepted, else those that are recommended.
pub fn judge_for_work<'a>(input: &'a Input, spaces: &'a [Job]) -> Result<JudgedJob<'a>> {
    let judged = judge_any(input, spaces)?;
    let JudgedJob::Spaces(job, all) = &judged else { return Ok(judged) };
    let floor = |(space, judged): (&Space, &Judged<'_>)| match &job.accepted {
        Some(accepted) => accepted.of(&space.place.name).map(|own| own.floor),
        None => judged.recommendation.recommended().cloned(),
    };
    let floors = job.spaces.iter().zip(&all.spaces).map(floor).collect();
    Ok(JudgedJob::Spaces(&input.job, judge_chosen(input, spaces, floors)))
}

/// The error of a discount that takes more off than a floor costs, with its place.
fn over_discounted(input: &Input, OverDiscounted { floor, price, off }: &OverDiscounted) -> Error {
    let [off, price] = [off, price].map(|cents| in_english(*cents, &input.book.currency));
    let message = format!(
        "the discount takes off {off}, and `{floor}` costs {price} before it and before tax"
    );
    let help = "write less under `[discount]`, or name under `floors` the floors that it is for";
    let Some(discount) = &input.job.discount else { return Error::new(Exit::Input, message) };
    let problem = Diagnostic::at(&discount.span, message).help(help);
    let file = read_text(Path::new(&discount.span.file)).map(|(file, _)| file);
    Error::problems(vec![problem], file.into_iter().collect())
}

fn within_bounds<T>(judged: T, exceeds: fn(&T) -> Option<ExceededLimit>) -> Result<T> {
    match exceeds(&judged) {
        None => Ok(judged),
        Some(beyond) => Err(Error::new(Exit::Input, beyond.to_string()).help(match beyond {
            ExceededLimit::Days => {
                "check the sizes of the areas, the rates, `day-starts` and `day-ends`"
            }
            ExceededLimit::Money => "check the sizes of the areas, the prices and the rates",
            ExceededLimit::Discount => {
                "write less under `[discount]`, or name the `floors` that it is for"
            }
        })),
    }
}
