//! Speed of the parts of the work, measured on the main example: `cargo bench --features bench`.
//!
//! `compare.sh` beside this file measures the whole program against others.

#![allow(clippy::disallowed_methods)]

mod example;

use std::fs;
use std::hint::black_box;
use std::io::Cursor;
use std::process::Command;
use std::sync::atomic::{AtomicUsize, Ordering};

use criterion::{BatchSize, Criterion};
use image::RgbImage;
use image::codecs::jpeg::JpegEncoder;
use slableaf::base::layouts::Layouts;
use slableaf::judge::judge;
use slableaf::read::{Shared, read_job};
use slableaf::say::words::Words;
use slableaf::typeset::{alone, images};

use crate::example::{Printer, bytes, files, page, read, text};

/// The core: what is worked out for a job before a word of it is written.
fn core(c: &mut Criterion) {
    let files = files(0);
    let input = read(&files);
    c.bench_function("core: parse", |b| b.iter(|| read(black_box(&files))));
    c.bench_function("core: estimate and checks", |b| {
        b.iter(|| judge(black_box(&input)).findings.len())
    });
    c.bench_function("core: parse, estimate and checks", |b| {
        b.iter(|| judge(&read(black_box(&files))).findings.len());
    });
    // In a run over many jobs the shop's files are read once.
    let shared = Shared::read(&files.book, &files.shop, &files.systems);
    c.bench_function("core: parse, estimate and checks, one job of many", |b| {
        b.iter(|| {
            let input = shared.join(read_job(black_box(&files.job)), None);
            let input = input.unwrap_or_else(|_| panic!("the example cannot be read"));
            judge(&input).findings.len()
        });
    });
}

fn words(c: &mut Criterion) {
    let layouts = Layouts::default();
    let words = Words::read(&layouts, "en").unwrap_or_else(|error| panic!("{error}"));
    let input = read(&files(0));
    c.bench_function("words of a language", |b| b.iter(|| Words::read(black_box(&layouts), "en")));
    c.bench_function("page data", |b| b.iter(|| page(black_box(&input), &words)));
}

fn pictures(c: &mut Criterion) {
    let photo = bytes("two-car-barrier/photos/dome.jpg");
    let logo = bytes("logo.png");
    let phone = phone_photo();
    c.bench_function("photo of 12 megapixels inspected", |b| {
        b.iter(|| images::inspect(&mut Cursor::new(black_box(&phone))));
    });
    c.bench_function("photo made ready", |b| b.iter(|| images::photo(black_box(&photo))));
    c.bench_function("logo made ready", |b| b.iter(|| images::logo(black_box(&logo))));
}

/// A photo of 12 megapixels as a phone takes it, some 5 MB.
fn phone_photo() -> Vec<u8> {
    let picture = RgbImage::from_fn(4000, 3000, |x, y| {
        let noise = x.wrapping_mul(2_654_435_761) ^ y.wrapping_mul(40_503);
        let value = |of: u32| (of * 200 / 4000) as u8 + (noise >> 8) as u8 % 24;
        image::Rgb([value(x), value(y), value(x.abs_diff(y))])
    });
    let mut bytes = vec![];
    let encoder = JpegEncoder::new_with_quality(&mut bytes, 92);
    picture.write_with_encoder(encoder).unwrap_or_else(|error| panic!("{error}"));
    bytes
}

/// The program's `check` of the main example: with no photo, and with three of a phone in their places.
/// Pictures are not decoded, so the two differ by little more than reading the files.
fn check(c: &mut Criterion) {
    let folder = tempfile::tempdir().unwrap_or_else(|error| panic!("{error}"));
    let put = |name: &str, bytes: &[u8]| {
        let path = folder.path().join(name);
        path.parent()
            .map(fs::create_dir_all)
            .transpose()
            .and_then(|_| fs::write(&path, bytes))
            .unwrap_or_else(|error| panic!("{}: {error}", path.display()));
    };
    for name in ["book.toml", "shop.toml", "logo.png"] {
        put(name, &bytes(name));
    }
    let job = text("two-car-barrier/job.toml").text;
    let paragraphs = job.split("\n\n").filter(|part| !part.starts_with("[[photo]]"));
    put("without/job.toml", paragraphs.collect::<Vec<_>>().join("\n\n").as_bytes());
    put("with/job.toml", job.as_bytes());
    let photo = phone_photo();
    for name in ["overview", "dome", "crack"] {
        put(&format!("with/photos/{name}.jpg"), &photo);
    }
    for (name, job) in [("no photo", "without"), ("three photos of 12 megapixels", "with")] {
        let job = folder.path().join(job).join("job.toml");
        c.bench_function(&format!("`check` of a job with {name}"), |b| {
            b.iter(|| {
                let ran =
                    Command::new(env!("CARGO_BIN_EXE_slableaf")).arg("check").arg(&job).output();
                let code = ran.unwrap_or_else(|error| panic!("{error}")).status.code();
                assert_eq!(code, Some(1), "the main example has a floor that is stopped");
            });
        });
    }
}

fn typesetting(c: &mut Criterion) {
    let printer = Printer::new();
    let number = AtomicUsize::new(0);
    let next = || printer.page(number.fetch_add(1, Ordering::Relaxed));
    c.bench_function("a proposal by a warm renderer, all cores", |b| {
        b.iter_batched(next, |page| printer.print(page), BatchSize::PerIteration);
    });
    // One core, as each thread of a batch has.
    c.bench_function("a proposal by a warm renderer, one core", |b| {
        alone(|| b.iter_batched(next, |page| printer.print(page), BatchSize::PerIteration));
    });
}

fn main() {
    let mut c = Criterion::default().configure_from_args();
    core(&mut c);
    words(&mut c);
    pictures(&mut c);
    check(&mut c);
    typesetting(&mut Criterion::default().sample_size(20).configure_from_args());
}
