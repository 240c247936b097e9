//! Compiles and exports: tagged, PDF/UA-1 and PDF/A-2a, the same bytes for the same page.

use std::ops::Range;

use jiff::civil::Date;
use serde::{Deserialize, Serialize};
use typst::WorldExt;
use typst::diag::{SourceDiagnostic, Warned};
use typst::foundations::{Datetime, Smart};
use typst::syntax::DiagSpan;
use typst_layout::PagedDocument;
use typst_pdf::{PdfOptions, PdfStandard, PdfStandards, Timestamp};
use typst_render::RenderOptions;

use crate::base::source::{Diagnostic, Span};
use crate::typeset::fonts::Faces;
use crate::typeset::images::ImageFault;
use crate::typeset::overflow::overflow;
use crate::typeset::picture::Picture;
use crate::typeset::world::Sealed;

/// A finished document.
#[derive(Debug, Clone)]
pub struct Document {
    pub pdf: Vec<u8>,
    pub pages: usize,
    /// Pages as pictures (PNG), with their numbers; none unless they were asked for.
    pub pictures: Vec<(usize, Vec<u8>)>,
}

/// Pages to draw as pictures, from 1; one past the last page is no fault.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub struct PagesWanted {
    pub first: usize,
    pub last: usize,
}

/// Dots to the inch of a page as a picture: sharp on a phone, small enough for a message.
const DOTS_PER_INCH: f64 = 150.0;
const POINTS_PER_INCH: f64 = 72.0;

/// The reason for which there is no document.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub enum Failure {
    /// A character that no font at hand can print, and the text it stands in.
    Uncovered {
        character: char,
        text: String,
    },
    /// Text that does not fit on its page.
    Overflow {
        page: usize,
        text: String,
    },
    TooManyPages {
        pages: usize,
        most: usize,
    },
    /// Pictures that cannot be used, by their virtual paths.
    Pictures(Vec<(String, ImageFault)>),
    /// Faults in a layout, each with its place.
    Layout(Vec<Diagnostic>),
}

impl std::fmt::Display for Failure {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            Self::Uncovered { character, text } => write!(
                f,
                "no font here can print `{character}` (U+{:04X}) in `{text}`; write it with other letters",
                *character as u32
            ),
            Self::Overflow { page, text } => {
                write!(f, "a text does not fit on page {page}: `{text}`; make it shorter")
            }
            Self::TooManyPages { pages, most } => {
                write!(f, "the document has {pages} pages, and the most accepted is {most}")
            }
            Self::Pictures(faults) => faults
                .iter()
                .try_for_each(|(path, fault)| writeln!(f, "the picture `{path}` {fault}")),
            Self::Layout(faults) => {
                faults.iter().try_for_each(|fault| writeln!(f, "{}", fault.message))
            }
        }
    }
}

/// One of the documents that there are layouts for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub enum PaperKind {
    Proposal,
    Leaflet,
    CareSheet,
    ChangeOrder,
    Bids,
    WhatIf,
    Years,
    FailureSheet,
    Handover,
    CrewSheet,
    BuyingList,
    VisitSheet,
}

impl PaperKind {
    pub(super) fn layout(self) -> &'static str {
        match self {
            Self::Proposal => "proposal.typ",
            Self::Leaflet => "leaflet.typ",
            Self::CareSheet => "care.typ",
            Self::ChangeOrder => "change-order.typ",
            Self::Bids => "bids.typ",
            Self::WhatIf => "what-if.typ",
            Self::Years => "years.typ",
            Self::FailureSheet => "failure-sheet.typ",
            Self::Handover => "handover.typ",
            Self::CrewSheet => "crew-sheet.typ",
            Self::BuyingList => "buying-list.typ",
            Self::VisitSheet => "visit-sheet.typ",
        }
    }
}

/// Contents of a document beside the layouts.
pub struct Manuscript<'a, P> {
    pub kind: PaperKind,
    /// The page data.
    pub page: &'a P,
    /// The logo and the photos.
    pub pictures: Vec<Picture<'a>>,
    pub date: Date,
    /// Names this revision for ever.
    pub identity: String,
    /// Pages to draw as pictures beside the PDF.
    pub drawn: Option<PagesWanted>,
}

/// A fault that has no place in a layout.
pub(super) fn nowhere(message: &str) -> Failure {
    Failure::Layout(vec![Diagnostic {
        message: message.to_owned(),
        span: None,
        label: String::new(),
        help: vec![],
    }])
}

pub(super) fn compiled(
    world: &Sealed<'_>,
    most: usize,
    date: Date,
    identity: &str,
    drawn: Option<PagesWanted>,
) -> Result<Document, Failure> {
    let Warned { output, warnings } = typst::compile::<PagedDocument>(world);
    let faults = |diagnostics: &[SourceDiagnostic]| {
        Failure::Layout(diagnostics.iter().map(|d| located(world, d)).collect())
    };
    let document = output.map_err(|errors| faults(&errors))?;
    if !warnings.is_empty() {
        return Err(faults(&warnings));
    }
    let pages = document.pages().len();
    if pages > most {
        return Err(Failure::TooManyPages { pages, most });
    }
    if let Some((page, text)) = overflow(&document) {
        return Err(Failure::Overflow { page, text });
    }
    let options = options(date, identity).ok_or_else(|| nowhere("the PDF standards clash"))?;
    let pdf = typst_pdf::pdf(&document, &options).map_err(|errors| faults(&errors))?;
    Ok(Document {
        pdf,
        pages,
        pictures: drawn.map_or(Ok(vec![]), |some| pictures(&document, some))?,
    })
}

/// Pages as PNG, drawn from the same layout as the PDF.
fn pictures(
    document: &PagedDocument,
    wanted: PagesWanted,
) -> Result<Vec<(usize, Vec<u8>)>, Failure> {
    let scale = DOTS_PER_INCH / POINTS_PER_INCH;
    let options = RenderOptions { pixel_per_pt: scale.into(), ..RenderOptions::default() };
    let numbered = document.pages().iter().enumerate().map(|(at, page)| (at + 1, page));
    numbered
        .filter(|(number, _)| (wanted.first..=wanted.last).contains(number))
        .map(|(number, page)| match typst_render::render(page, &options).encode_png() {
            Ok(png) => Ok((number, png)),
            Err(error) => Err(nowhere(&error.to_string())),
        })
        .collect()
}

fn options(date: Date, identity: &str) -> Option<PdfOptions> {
    let noon = Datetime::from_ymd_hms(
        i32::from(date.year()),
        date.month() as u8,
        date.day() as u8,
        12,
        0,
        0,
    )?;
    Some(PdfOptions {
        ident: Smart::Custom(identity.into()),
        creator: Smart::Custom(Some(concat!("slableaf ", env!("CARGO_PKG_VERSION")).into())),
        timestamp: Some(Timestamp::new_utc(noon)),
        standards: PdfStandards::new(&[PdfStandard::Ua_1, PdfStandard::A_2a]).ok()?,
        ..PdfOptions::default()
    })
}

/// A typesetter's message with its place. A fault that shows in a built-in file may come from a
/// shop's own: the place is then the call in the shop's file, or else the shop's files are named.
fn located(world: &Sealed<'_>, fault: &SourceDiagnostic) -> Diagnostic {
    let layouts = world.layouts();
    let place = |span: DiagSpan| -> Option<(String, Range<usize>)> {
        let (id, bytes) = span.id().zip(world.range(span))?;
        Some((id.vpath().get_without_slash().to_owned(), bytes))
    };
    let calls = fault.trace.iter().map(|call| call.span.into());
    let places: Vec<_> = std::iter::once(fault.span).chain(calls).filter_map(place).collect();
    let own = places.iter().find(|(path, _)| layouts.own(path).is_some());
    let span = own
        .or(places.first())
        .map(|(path, bytes)| Span { file: layouts.name(path), bytes: bytes.clone() });
    let mut help: Vec<String> = fault.hints.iter().map(|hint| hint.v.to_string()).collect();
    let all_own: Vec<&str> = layouts.all_own().filter(|name| name.ends_with(".typ")).collect();
    if own.is_none() && !all_own.is_empty() {
        help.push(format!("look at the shop\u{2019}s own layouts: {}", all_own.join(", ")));
    }
    Diagnostic { message: fault.message.to_string(), span, label: String::new(), help }
}

/// The first character in any text of the page that no face can print.
pub(super) fn first_uncovered(value: &serde_json::Value, faces: &Faces) -> Option<(char, String)> {
    match value {
        serde_json::Value::String(text) => faces.uncovered(text).map(|c| (c, text.clone())),
        serde_json::Value::Array(items) => {
            items.iter().find_map(|item| first_uncovered(item, faces))
        }
        serde_json::Value::Object(fields) => {
            fields.values().find_map(|field| first_uncovered(field, faces))
        }
        _ => None,
    }
}
