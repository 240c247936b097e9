//! The mail of a handover: it goes with the handover once that was written, and says what the handover says.

use super::draft;
use super::signed::mail;
use crate::documents::on_page;
use crate::fixture::Folder;

const HANDOVER: &[&str] = &["write", "job.toml", "--paper", "handover", "--phone"];

/// The example of a whole story, laid; its change order is the last paper that was mailed.
fn laid(language: &str) -> (Folder, i64) {
    let (folder, total) = crate::after::laid();
    let language = format!("\nlanguage = \"{language}\"\nnumber = ");
    (folder.replace("job.toml", "\nnumber = ", &language), total)
}

#[test]
fn a_handover_goes_with_the_mail_once_it_was_written() {
    let (folder, total) = laid("en");
    draft(&folder).success();
    let (text, ..) = mail(&folder, "2026-0231-mail-change-order-r1");
    assert!(!text.contains("handover"), "{text}");
    folder.run(HANDOVER).success();
    draft(&folder).success().out_has("unchanged: papers/2026-0231-handover-r1.pdf");
    let (text, subject, papers) = mail(&folder, "2026-0231-mail-handover-r1");
    assert_eq!(papers, ["2026-0231-handover-r1.pdf", "2026-0231-handover-phone-r1.pdf"]);
    assert!(subject.contains("Your garage floor: handover"), "{subject}");
    let left = total - 46_221 - 184_884;
    let dollars = |cents: i64| on_page("$", &format!("{}.{:02}", cents / 100, cents % 100));
    for said in [
        "You can park on it from Wednesday, June 24, 5 pm.",
        "Walk on it: Tue, June 23, 5 pm",
        "One foot along the back wall stayed bare",
        "We fill the chip at the side door by July 3.",
        &format!("Price as agreed, with your change order: {}", dollars(total)),
        "Paid on June 22, 2026: $1,848.84",
        &format!("Left to pay: {}", dollars(left)),
        "Do not open a blister.",
        "The handover: 2026-0231-handover-r1.pdf",
    ] {
        assert!(text.contains(said), "no `{said}` in {text}");
    }
    draft(&folder).success().out_has("unchanged: mail/2026-0231-mail-handover-r1.eml");
}

/// A payment after the handover makes its next revision, and the mail goes with that.
#[test]
fn a_later_payment_is_in_the_next_mail() {
    let (folder, total) = laid("en");
    folder.run(HANDOVER).success();
    let left = total - 46_221 - 184_884;
    let paid = format!(
        "{}\n[[paid]]\non = 2026-06-26\namount = \"${}.{:02}\"\n",
        folder.read("job.toml"),
        left / 100,
        left % 100
    );
    let folder = folder.write("job.toml", paid);
    draft(&folder).success();
    let (text, _, papers) = mail(&folder, "2026-0231-mail-handover-r2");
    assert_eq!(papers, ["2026-0231-handover-r2.pdf"]);
    assert!(text.contains("Left to pay: $0.00"), "{text}");
    assert!(text.contains("Nothing is left to pay. Thank you."), "{text}");
}

#[test]
fn a_handover_is_mailed_in_spanish() {
    let (folder, _) = laid("es");
    folder.run(HANDOVER).success();
    draft(&folder).success();
    let (text, subject, _) = mail(&folder, "2026-0231-mail-handover-r1");
    assert!(subject.contains("entrega"), "{subject}");
    for said in ["Lea la hoja.", "con su orden de cambio", "La entrega: 2026-0231-handover-r1.pdf"]
    {
        assert!(text.contains(said), "no `{said}` in {text}");
    }
    for english in ["We laid", "Park on", "Left to pay", "signed"] {
        assert!(!text.contains(english), "{english}: {text}");
    }
}
