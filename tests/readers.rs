//! Independent readers of finished papers: text by page and all objects, decompressed, through
//! lopdf, which had no part in writing them.

use std::path::Path;

use lopdf::{Document, Object};

/// The text of each page.
pub fn pages(path: &Path) -> Vec<String> {
    let document = Document::load(path).unwrap();
    let numbers: Vec<u32> = document.get_pages().keys().copied().collect();
    numbers.iter().map(|number| document.extract_text(&[*number]).unwrap()).collect()
}

/// The text of the whole paper with every run of white space as one space.
pub fn text(path: &Path) -> String {
    squeezed(&pages(path).join(" "))
}

/// White space of any kind as one space: a page breaks lines where it likes.
pub fn squeezed(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// Everything in the file that could hold text: strings, names and decompressed streams of all
/// objects, whether a page shows them or not.
pub fn everything(path: &Path) -> Vec<u8> {
    let document = Document::load(path).unwrap();
    let mut out = std::fs::read(path).unwrap();
    for object in document.objects.values() {
        collect(object, &mut out);
    }
    collect(&Object::Dictionary(document.trailer.clone()), &mut out);
    out
}

fn collect(object: &Object, out: &mut Vec<u8>) {
    match object {
        Object::String(bytes, _) | Object::Name(bytes) => {
            out.extend(bytes);
            out.push(b'\n');
            // Text strings outside pages are UTF-16 with a mark in front.
            if let Some(wide) = bytes.strip_prefix(&[0xFE, 0xFF]) {
                let units: Vec<u16> = wide
                    .chunks_exact(2)
                    .map(|pair| u16::from_be_bytes([pair[0], pair[1]]))
                    .collect();
                out.extend(String::from_utf16_lossy(&units).bytes());
                out.push(b'\n');
            }
        }
        Object::Array(items) => items.iter().for_each(|item| collect(item, out)),
        Object::Dictionary(dictionary) => dictionary.iter().for_each(|(key, value)| {
            out.extend(key);
            out.push(b' ');
            collect(value, out);
        }),
        Object::Stream(stream) => {
            collect(&Object::Dictionary(stream.dict.clone()), out);
            out.extend(stream.decompressed_content().unwrap_or_else(|_| stream.content.clone()));
            out.push(b'\n');
        }
        _ => {}
    }
}
