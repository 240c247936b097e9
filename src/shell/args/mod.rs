//! Every verb and option of the command line, with its help.

mod choices;
mod new;
mod files;

use std::path::{Path, PathBuf};

use clap::{Args, Parser, Subcommand};
use clap_complete::Shell;
use jiff::civil::Date;
use slableaf::issued::Hash;

pub use choices::{
    Audience, ExplainFormat, Format, Pages, Paper, PaperEdition, Part, Requote, SchemaFormat,
    SchemaKind, TableFormat, day, hash,
};
pub use files::{JobFiles, Jobs, NearFiles, Roll};
pub use new::{New, NewFile, VisitSheet};

/// Writes honest, priced, readable proposals for garage floor coatings.
#[derive(Debug, Parser)]
#[command(
    name = "slableaf",
    version,
    about,
    max_term_width = 90,
    after_help = "Start here:\n  \
        slableaf new\n  \
        slableaf check job.toml\n  \
        slableaf estimate job.toml\n  \
        slableaf write job.toml\n\n\
        Exit codes: 0 fine; 1 a stop or a wait was found (check,\n  \
        prepare) or a difference (verify); 2 wrong usage or input;\n  \
        3 some jobs of many could not be read or written (write, reprice, roll);\n  \
        4 a paper would not fit or print; 5 a file could not be read or written;\n  \
        70 a fault of ours."
)]
pub struct Arguments {
    /// Without a verb the program greets.
    #[command(subcommand)]
    pub verb: Option<Verb>,
}

#[derive(Debug, Subcommand)]
pub enum Verb {
    /// Asks at the terminal what a visit found, and writes the job file; starts a shop file or book
    ///
    /// One plain question at a time; Enter takes the default or says that it is not known. `back`
    /// goes back, `?` says more, `done` stops early. Without a terminal, or with `--blank`, it
    /// asks nothing and writes a template with comments. A file that is there is never changed.
    #[command(
        verbatim_doc_comment,
        before_help = "Example: slableaf new jobs/quill\n\
        Example: slableaf new shop\n\
        Example: slableaf new book"
    )]
    New(New),
    /// Says what could go wrong on this job
    ///
    /// Exit code 0 when nothing was found that stops a floor or makes it wait, 1 otherwise, 2 when a file has mistakes.
    #[command(verbatim_doc_comment, before_help = "Example: slableaf check job.toml")]
    Check(Look),
    /// Shows materials, hours, cost, price and profit: for the shop only
    ///
    /// Never hand this to a customer: it holds costs and margin.
    #[command(verbatim_doc_comment, before_help = "Example: slableaf estimate job.toml")]
    Estimate(Estimate),
    /// Writes the papers for the customer as PDF: proposal, leaflet, care sheet
    ///
    /// An issued paper is never overwritten: when something has changed, the next revision is
    /// written beside it; when nothing has, nothing is written. What was issued is recorded in
    /// the folder `records` beside the job, for the shop alone. An accepted job is not revised.
    #[command(
        verbatim_doc_comment,
        before_help = "Example: slableaf write job.toml\n\
        Example: slableaf write job.toml --paper leaflet --paper care\n\
        Example: slableaf write job.toml --watch"
    )]
    Write(Write),
    /// Writes a mail draft for the customer, with the proposal attached
    ///
    /// Issues the proposal as `write` does, or attaches the latest revision when nothing has
    /// changed. The draft opens unsent in a mail program; a text beside it is for sending by
    /// hand. Nothing is sent. A draft is written anew when something has changed. After a
    /// signature it goes with the signed papers; once a handover is written, with that.
    #[command(verbatim_doc_comment, before_help = "Example: slableaf mail job.toml")]
    Mail(Mail),
    /// Checks the records of issued papers: hashes, figures, and if each still renders byte for byte
    ///
    /// A PATH is a job file, the folder of one record, a folder `records`, or a folder of jobs.
    /// Exit code 0 when all are sound, 1 when one is missing, was altered or renders otherwise, 5
    /// when one cannot be read. Seals and chain tell of what was changed or lost by accident. Who
    /// may write here can change a record and seal it anew, and take the latest away: against
    /// that, keep the hash of all that is printed where they cannot, and give it with `--expect`.
    #[command(
        verbatim_doc_comment,
        before_help = "Example: slableaf verify job.toml\n\
        Example: slableaf verify jobs"
    )]
    Verify(Verify),
    /// Writes the crew's papers for the chosen floor: crew sheet, buying list, days
    ///
    /// Crew sheet and buying list are for the shop alone; they hold costs and go into a folder
    /// apart from the customer's. The customer's days, a calendar file, go with the papers.
    #[command(
        verbatim_doc_comment,
        before_help = "Example: slableaf prepare job.toml --floor barrier"
    )]
    Prepare(Prepare),
    /// Shows which proposals in a folder new prices change, by how much and why; writes new ones
    ///
    /// Every job is held against what was issued last. Causes add up to the change. With `--dry-run`
    /// nothing is written; without it, open jobs whose price changes get a new revision, but for
    /// those with a price that an issued paper still promises. One broken job never stops the
    /// others: exit code 3 says that there was one. For the shop only.
    #[command(
        verbatim_doc_comment,
        before_help = "Example: slableaf reprice jobs --book books/2027.toml --dry-run"
    )]
    Reprice(Reprice),
    /// Lists the jobs of a folder: state, price, days, what is due, and crews that are wanted twice
    ///
    /// It reads job files and records, and reckons no price anew. Sums stand by state and by month.
    /// One broken job never stops the others: exit code 3 says that there was one. For the shop only.
    #[command(verbatim_doc_comment, before_help = "Example: slableaf roll jobs")]
    Roll(Roll),
    /// Edits a price book: announces a change of prices, works it into the prices, learns from your jobs
    ///
    /// Comments and layout of the file stay as they are. A book that would not load is refused.
    #[command(
        verbatim_doc_comment,
        before_help = "Example: slableaf book change book.toml --percent \"+4 %\" --from 2027-01-01 --in-place\n\
        Example: slableaf book settle book.toml --on 2027-01-01 --to book-2027.toml"
    )]
    Book(BookWanted),
    /// Explains a check: what it looks at, why, its limit, and how to clear it
    ///
    /// Without a name it lists all checks.
    #[command(verbatim_doc_comment, before_help = "Example: slableaf explain moisture-over-limit")]
    Explain(Explain),
    /// Prints the JSON Schema of a file that you write, or of what `--format json` gives
    ///
    /// Editors for TOML know the keys of a file that begins with `#:schema ./job.schema.json`
    /// when that schema lies beside it.
    #[command(
        verbatim_doc_comment,
        before_help = "Example: slableaf schema job --out .\n\
        Example: slableaf schema book --format markdown\n\
        Example: slableaf schema results-customer"
    )]
    Schema(Schema),
    /// Lists the layouts and words that papers are made with, or copies them out to be changed
    ///
    /// A folder `layouts` beside the shop file overrides them file by file, by the same paths.
    #[command(
        verbatim_doc_comment,
        before_help = "Example: slableaf layouts --copy layouts words/en/promise.toml"
    )]
    Layouts(LayoutsWanted),
    /// Prints shell completions for commands, options and files
    ///
    /// bash: put it into ~/.local/share/bash-completion/completions/slableaf
    /// zsh: into a file `_slableaf` in a folder of $fpath
    /// fish: into ~/.config/fish/completions/slableaf.fish
    /// powershell: add it to $PROFILE
    #[command(verbatim_doc_comment, before_help = "Example: slableaf completions bash")]
    Completions(Completions),
    /// Prints the manual page, or writes that of every verb into a folder
    ///
    /// `man -l slableaf.1` shows a page that lies in a file.
    #[command(
        verbatim_doc_comment,
        before_help = "Example: slableaf manual --out ~/.local/share/man/man1"
    )]
    Manual(Manual),
}

impl Verb {
    /// The one job that it is about.
    pub fn job(&self) -> Option<&Path> {
        let job = match self {
            Self::Check(look) => Some(&look.files.job),
            Self::Estimate(wanted) => Some(&wanted.look.files.job),
            Self::Mail(wanted) => Some(&wanted.files.job),
            Self::Prepare(wanted) => Some(&wanted.files.job),
            Self::Write(wanted) if wanted.jobs.paths.len() == 1 => wanted.jobs.paths.first(),
            _ => None,
        };
        job.map(PathBuf::as_path).filter(|path| path.as_os_str() != "-")
    }
}

#[derive(Debug, Args)]
pub struct Look {
    #[command(flatten)]
    pub files: JobFiles,
    /// How to print the result
    #[arg(long, value_enum, default_value = "text")]
    pub format: Format,
}

#[derive(Debug, Args)]
pub struct Estimate {
    #[command(flatten)]
    pub look: Look,
    /// Whom the result is for; a customer's holds no costs and is JSON only
    #[arg(long = "for", value_enum, default_value = "shop")]
    pub audience: Audience,
}

#[derive(Debug, Args)]
pub struct Write {
    #[command(flatten)]
    pub jobs: Jobs,
    #[command(flatten)]
    pub near: NearFiles,
    /// Which paper to write; may be given several times
    #[arg(long = "paper", value_enum, value_name = "PAPER", default_value = "proposal")]
    pub papers: Vec<Paper>,
    /// Put the prices into the leaflet
    #[arg(long)]
    pub with_prices: bool,
    /// The floor that the care sheet is for (default: the accepted one, else the recommended one)
    #[arg(long, value_name = "KEY")]
    pub floor: Option<String>,
    /// Folder for the papers (default: `papers` beside the job)
    #[arg(long, value_name = "DIR")]
    pub out: Option<PathBuf>,
    /// Folder for the records of what was issued (default: `records` beside the job)
    #[arg(long, value_name = "DIR")]
    pub records: Option<PathBuf>,
    /// Set the paper in large print, as `print = "large"` in the job does
    #[arg(long)]
    pub large_print: bool,
    /// Write the proposal and the leaflet on narrow pages for a telephone too, as `edition = "phone"` in
    /// the job does
    #[arg(long)]
    pub phone: bool,
    /// Write a marked draft, which may be overwritten
    #[arg(long)]
    pub draft: bool,
    /// Write a draft, and write it again on every save of the job, book, shop file, photos,
    /// layouts or words, until Ctrl-C
    #[arg(long, conflicts_with = "part")]
    pub watch: bool,
    /// Write the page data beside the PDF, as JSON, for designers and judges
    #[arg(long)]
    pub page_data: bool,
    /// Write pages as pictures beside the PDF too: all, or `--png=1`, or `--png=1-3`
    #[arg(
        long,
        value_name = "PAGES",
        num_args = 0..=1,
        require_equals = true,
        default_missing_value = "1-"
    )]
    pub png: Option<Pages>,
}

#[derive(Debug, Args)]
pub struct Explain {
    /// The check's name, as `check` prints it
    #[arg(value_name = "CHECK")]
    pub check: Option<String>,
    /// How to print it
    #[arg(long, value_enum, default_value = "text")]
    pub format: ExplainFormat,
}

#[derive(Debug, Args)]
pub struct Prepare {
    #[command(flatten)]
    pub files: JobFiles,
    /// The floor that the customer chose (default: the accepted one, else the recommended one)
    #[arg(long, value_name = "KEY")]
    pub floor: Option<String>,
    /// Folder for what only the shop may see (default: `shop-only` beside the job)
    #[arg(long, value_name = "DIR")]
    pub out: Option<PathBuf>,
    /// Folder for the customer's days (default: `papers` beside the job)
    #[arg(long, value_name = "DIR")]
    pub papers: Option<PathBuf>,
}

#[derive(Debug, Args)]
pub struct BookWanted {
    #[command(subcommand)]
    pub verb: BookVerb,
}

#[derive(Debug, Subcommand)]
pub enum BookVerb {
    /// Adds a change of prices, as a supplier's letter announces it
    ///
    /// Papers of that day and later are reckoned with it, earlier ones without.
    #[command(
        verbatim_doc_comment,
        before_help = "Example: slableaf book change book.toml --supplier \"Invented Resins\" --percent \"+4.5 %\" --from 2027-01-01 --in-place"
    )]
    Change(ChangeBook),
    /// Works the changes that are due into the prices, and takes them out of the list
    #[command(
        verbatim_doc_comment,
        before_help = "Example: slableaf book settle book.toml --on 2027-01-01 --in-place"
    )]
    Settle(SettleBook),
    /// Shows your own rates of work and your own record of floors, from jobs that were laid
    ///
    /// Hours come from `[[worked]]` of each job, failures from `[[failure]]`. Nothing is taken by itself: each rate
    /// that differs from the book is offered, and is written only when it is named with `--accept`.
    #[command(
        verbatim_doc_comment,
        before_help = "Example: slableaf book learn book.toml jobs\n\
        Example: slableaf book learn book.toml jobs --accept grind --accept roll --in-place"
    )]
    Learn(LearnBook),
}

#[derive(Debug, Args)]
pub struct ChangeBook {
    /// The price book
    #[arg(value_name = "BOOK")]
    pub book: PathBuf,
    /// The first day of papers that it is for
    #[arg(long, value_name = "DATE", value_parser = day)]
    pub from: Date,
    /// By how much, with its sign: "+4.5 %"
    #[arg(
        long,
        value_name = "PERCENT",
        allow_hyphen_values = true,
        required_unless_present = "amount",
        conflicts_with = "amount"
    )]
    pub percent: Option<String>,
    /// By how much on every kit, with its sign: "+$3.00"
    #[arg(long, value_name = "AMOUNT", allow_hyphen_values = true)]
    pub amount: Option<String>,
    /// Only this product (default: all)
    #[arg(long, value_name = "KEY", conflicts_with = "supplier")]
    pub product: Option<String>,
    /// Only what this supplier sells
    #[arg(long, value_name = "NAME")]
    pub supplier: Option<String>,
    #[command(flatten)]
    pub target: Target,
}

#[derive(Debug, Args)]
pub struct SettleBook {
    /// The price book
    #[arg(value_name = "BOOK")]
    pub book: PathBuf,
    /// Changes for papers of this day and earlier are due
    #[arg(long, value_name = "DATE", value_parser = day)]
    pub on: Date,
    #[command(flatten)]
    pub target: Target,
}

#[derive(Debug, Args)]
#[command(group = clap::ArgGroup::new("kept").args(["to", "in_place"]))]
pub struct LearnBook {
    /// The price book
    #[arg(value_name = "BOOK")]
    pub book: PathBuf,
    #[command(flatten)]
    pub jobs: Jobs,
    /// Write this rate into the book, by its name there; may be given several times
    #[arg(long, value_name = "RATE", requires = "kept")]
    pub accept: Vec<String>,
    /// Write the edited book into this new file
    #[arg(long, value_name = "FILE", requires = "accept")]
    pub to: Option<PathBuf>,
    /// Change the book itself
    #[arg(long, requires = "accept")]
    pub in_place: bool,
}

/// The place of an edited book. There is no default: a book is not changed by accident.
#[derive(Debug, Args)]
#[group(required = true, multiple = false)]
pub struct Target {
    /// Write the edited book into this new file
    #[arg(long, value_name = "FILE")]
    pub to: Option<PathBuf>,
    /// Change the book itself
    #[arg(long)]
    pub in_place: bool,
}

#[derive(Debug, Args)]
pub struct Reprice {
    #[command(flatten)]
    pub jobs: Jobs,
    /// The new price book (default: each job's own, held against what was issued last)
    #[arg(long, value_name = "FILE")]
    pub book: Option<PathBuf>,
    /// The day that prices are asked for (default: today)
    #[arg(long, value_name = "DATE", value_parser = day)]
    pub on: Option<Date>,
    /// Date the new papers on that day: `date` in their job files is set to it
    #[arg(long)]
    pub new_date: bool,
    /// Write new papers for these offers too; goes with `--new-date`
    #[arg(long, value_enum, value_name = "OFFERS", requires = "new_date")]
    pub requote: Option<Requote>,
    /// Write nothing
    #[arg(long)]
    pub dry_run: bool,
    /// How to print the result
    #[arg(long, value_enum, default_value = "table")]
    pub format: TableFormat,
}

#[derive(Debug, Args)]
pub struct Mail {
    #[command(flatten)]
    pub files: JobFiles,
    /// Attach the proposal on narrow pages for a telephone too, as `edition = "phone"` in the job does
    #[arg(long)]
    pub phone: bool,
    /// Folder for the draft (default: that of the papers)
    #[arg(long, value_name = "DIR")]
    pub out: Option<PathBuf>,
    /// Folder of the customer's papers (default: `papers` beside the job)
    #[arg(long, value_name = "DIR")]
    pub papers: Option<PathBuf>,
    /// Folder for the records of what was issued (default: `records` beside the job)
    #[arg(long, value_name = "DIR")]
    pub records: Option<PathBuf>,
}

#[derive(Debug, Args)]
pub struct Verify {
    /// Job files, folders of one record, folders of records, or folders of jobs
    #[arg(value_name = "PATH", required = true)]
    pub paths: Vec<PathBuf>,
    /// Folder of the records of a job file (default: `records` beside the job)
    #[arg(long, value_name = "DIR")]
    pub records: Option<PathBuf>,
    /// Folder of the customer's papers (default: `papers` beside the records)
    #[arg(long, value_name = "DIR")]
    pub papers: Option<PathBuf>,
    /// The hash of all records that was kept elsewhere, to be held against that of today
    #[arg(long, value_name = "HASH", value_parser = hash)]
    pub expect: Option<Hash>,
}

#[derive(Debug, Args)]
pub struct Schema {
    /// What the schema describes
    #[arg(value_enum, value_name = "KIND")]
    pub kind: SchemaKind,
    /// How to print the keys of a file
    #[arg(long, value_enum, default_value = "json")]
    pub format: SchemaFormat,
    /// Write the schema of a file into this folder, as KIND.schema.json
    #[arg(long, value_name = "DIR", conflicts_with = "format")]
    pub out: Option<PathBuf>,
}

#[derive(Debug, Args)]
pub struct LayoutsWanted {
    /// Copy files into this folder; what is there already stays as it is
    #[arg(long, value_name = "DIR")]
    pub copy: Option<PathBuf>,
    /// The shop file whose own files are listed (default: `shop.toml` here, if there is one)
    #[arg(long, value_name = "FILE")]
    pub shop: Option<PathBuf>,
    /// Only these files, or all below a folder (default: all)
    #[arg(value_name = "PATH")]
    pub paths: Vec<String>,
}

#[derive(Debug, Args)]
pub struct Completions {
    /// For which shell
    #[arg(value_enum, value_name = "SHELL")]
    pub shell: Shell,
}

#[derive(Debug, Args)]
pub struct Manual {
    /// Write the pages of the program and of each verb into this folder; those that are there are
    /// replaced
    #[arg(long, value_name = "DIR")]
    pub out: Option<PathBuf>,
}
