//! Jobs that a customer has accepted.

use super::{WRITE, paper, recorded, small, wage};
use crate::fixture::Folder;
use crate::readers;
use std::fs::{self};

fn accepted(folder: Folder, lines: &str) -> Folder {
    let job = format!("{}\n[accepted]\n{lines}\n", folder.read("job.toml"));
    folder.write("job.toml", job)
}

const SIGNED: &str = "revision = 1\nfloor = \"barrier\"\non = 2026-05-20";

#[test]
fn an_accepted_job_stays_as_it_was_signed_whatever_book_and_layouts_say() {
    let folder = small();
    folder.run(WRITE).success();
    let signed = folder.bytes(&paper(1));
    let folder = wage(folder, 41);
    folder.run(WRITE).success().out_has(&paper(2));
    let folder = accepted(folder, SIGNED);
    let folder = wage(folder, 55).write("layouts/theme.typ", "#this is no layout");
    folder
        .run(WRITE)
        .success()
        .out_has(&format!("accepted: {} stays as it was signed", paper(1)))
        .out_has("accepted on 2026-05-20");
    fs::remove_file(folder.path(&paper(1))).unwrap();
    folder.run(WRITE).success().out_has("again, as it was signed");
    assert!(folder.bytes(&paper(1)) == signed);
    // Even without a book at all.
    fs::remove_file(folder.path("book.toml")).unwrap();
    folder.run(WRITE).success();
    assert_eq!(recorded(&folder.path(".")).len(), 2);
}

#[test]
fn a_mail_attaches_what_was_signed_and_prepare_takes_its_floor() {
    let folder = Folder::of("dry-and-quick");
    folder.run(WRITE).success().out_has("recommends fast-cure");
    let signed = folder.bytes("papers/2026-0151-proposal-r1.pdf");
    let signing = SIGNED.replace("2026-05-20", "2026-06-10");
    let folder = wage(accepted(folder, &signing), 41);
    folder.run(&["mail", "job.toml"]).success().out_has("stays as it was signed");
    let draft = folder.bytes("papers/2026-0151-mail-signed-r1.eml");
    let mail = mail_parser::MessageParser::default().parse(&draft[..]).unwrap();
    assert!(mail.attachment(0).unwrap().contents() == signed);
    folder.run(&["prepare", "job.toml"]).success();
    let sheet = readers::text(&folder.path("shop-only/2026-0151-crew-sheet-r1.pdf"));
    assert!(sheet.to_lowercase().contains("vapor-barrier floor"), "{sheet}");
}

#[test]
fn an_accepted_revision_without_a_record_is_an_error_with_advice() {
    let folder = accepted(small(), SIGNED);
    folder.run(WRITE).code(5).err_has("there is no record of it").err_has("help: ");
    assert!(!folder.path("papers").exists());
    let folder = small();
    folder.run(WRITE).success();
    let folder = accepted(folder, &SIGNED.replace("2026-05-20", "2026-05-02"));
    folder.run(WRITE).code(2).err_has("it is of 2026-05-12, and `on` is 2026-05-02");
}

#[track_caller]
fn refuses(lines: &str, message: &str) {
    let folder = accepted(small(), lines);
    folder.run(&["check", "job.toml"]).code(2).err_has("job.toml:").err_has(message);
}

#[test]
fn a_mistake_in_accepted_is_shown_with_its_line() {
    refuses(&SIGNED.replace("\"barrier\"", "\"barier\""), "did you mean `barrier`?");
    refuses(&SIGNED.replace("\"barrier\"", "\"water-kit\""), "on offer: barrier, fast-cure");
    refuses(&SIGNED.replace("= 1", "= 0"), "`revision` is not 1 to 999");
    refuses(&SIGNED.replace("2026-05-20", "\"May\""), "`on`");
    refuses("revision = 1\nfloor = \"barrier\"", "`on` is missing");
    refuses(&format!("{SIGNED}\nby = \"Ana\""), "unknown key `by`");
}
