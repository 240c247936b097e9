//! The mail of a signed job: what was agreed, what comes next, and the papers that it goes with.

use super::{bodies, draft, read};
use crate::fixture::Folder;
use crate::readers;

/// The example of two cars, signed on 20 May; the vapor-barrier floor costs $5,410.20.
fn signed(language: &str) -> Folder {
    let language = format!("language = \"{language}\"");
    let folder = Folder::new().replace("shop.toml", "language = \"en\"", &language);
    folder.run(&["write", "job.toml"]).success();
    add(folder, "[accepted]\nrevision = 1\nfloor = \"barrier\"\non = 2026-05-20")
}

fn add(folder: Folder, lines: &str) -> Folder {
    let job = format!("{}\n{lines}\n", folder.read("job.toml"));
    folder.write("job.toml", job)
}

/// Text and subject of a draft, and the names of its papers in their order.
pub fn mail(folder: &Folder, name: &str) -> (String, String, Vec<String>) {
    let eml = folder.bytes(&format!("mail/{name}.eml"));
    let (text, html) = bodies(&eml);
    let letters = |text: &str| text.chars().filter(|c| c.is_alphanumeric()).collect::<String>();
    assert!(letters(&super::seen(&html)).contains(&letters(text.lines().last().unwrap())));
    let message = read(&eml);
    let names = message.attachments().map(|part| {
        use mail_parser::MimeHeaders as _;
        part.attachment_name().unwrap_or_default().to_owned()
    });
    (readers::squeezed(&text), message.subject().unwrap_or_default().to_owned(), names.collect())
}

#[track_caller]
fn has(text: &str, parts: &[&str]) {
    for part in parts {
        assert!(text.contains(part), "no `{part}` in {text}");
    }
}

#[test]
fn a_signed_job_has_the_words_of_what_was_agreed() {
    let folder = add(signed("en"), "[[paid]]\non = 2026-05-20\namount = \"$541.02\"");
    let ran = draft(&folder).success();
    assert!(!ran.stderr().contains("words"), "{}", ran.stderr());
    let (text, subject, papers) = mail(&folder, "2026-0142-mail-signed-r1");
    assert_eq!(papers, ["2026-0142-proposal-r1.pdf"]);
    assert!(subject.contains("your signed copy"), "{subject}");
    has(
        &text,
        &[
            "We agreed on the vapor-barrier floor",
            "revision 1, on May 20, 2026",
            "$5,410.20",
            "We have received $541.02 from you. $4,869.18 is left to pay.",
            "On the first day of work: $2,164.08",
            "empty the garage before",
            "The proposal you signed: 2026-0142-proposal-r1.pdf",
        ],
    );
    // Nothing of the choice is left.
    for offer in
        ["We recommend", "Your choices", "choose a floor", "sign both copies", "Good until"]
    {
        assert!(!text.contains(offer), "{offer}: {text}");
    }
}

/// An item of $180.00 adds $191.70 with its tax of 6.5 %: $5,601.90.
#[test]
fn a_change_order_goes_with_the_mail_before_and_after_it_is_signed() {
    let item = "[[item]]\nname = \"Moving the workbench\"\nprice = \"$180\"\n\n[[order]]\nwhat = \"Please move it\"";
    let folder = add(signed("en"), item);
    // While nobody has written the order, the mail is of what was signed.
    draft(&folder).success().err_has("not what was signed: items changed");
    folder.run(&["write", "job.toml", "--paper", "change-order"]).success();
    draft(&folder).success();
    let (text, subject, papers) = mail(&folder, "2026-0142-mail-change-order-r1");
    assert_eq!(papers, ["2026-0142-proposal-r1.pdf", "2026-0142-change-order-r1.pdf"]);
    assert!(subject.contains("change order 1 for you to sign"), "{subject}");
    has(&text, &["Change order 1 adds $191.70. With it the price is $5,601.90.", "$5,410.20"]);
    let folder = folder.replace(
        "job.toml",
        "what = \"Please",
        "revision = 1\non = 2026-05-22\nwhat = \"Please",
    );
    draft(&folder).success();
    let (text, subject, papers) = mail(&folder, "2026-0142-mail-change-order-r1");
    assert_eq!(papers, ["2026-0142-proposal-r1.pdf", "2026-0142-change-order-r1.pdf"]);
    assert!(subject.contains("your signed change order 1"), "{subject}");
    has(
        &text,
        &[
            "After that we both signed change order 1 on May 22, 2026.",
            "$5,601.90",
            "which you signed",
        ],
    );
    assert!(!text.contains("$5,410.20"), "{text}");
}

#[test]
fn money_beyond_the_price_is_told() {
    let folder = add(signed("en"), "[[paid]]\non = 2026-05-20\namount = \"$5,510.20\"");
    draft(&folder).success().err_has("$100.00 more than the agreed price was received");
    let (text, ..) = mail(&folder, "2026-0142-mail-signed-r1");
    has(&text, &["That is $100.00 more than the price, and we pay it back to you."]);
}

#[test]
fn a_signed_job_is_mailed_in_spanish() {
    let folder = signed("es");
    draft(&folder).success();
    let (text, subject, _) = mail(&folder, "2026-0142-mail-signed-r1");
    assert!(subject.contains("su copia firmada"), "{subject}");
    has(&text, &["Acordamos el piso con barrera de vapor", "Todavía no hay pagos."]);
    for english in ["We ", "agreed", "signed", "your"] {
        assert!(!text.contains(english), "{english}: {text}");
    }
}

#[test]
fn several_spaces_are_mailed_with_the_floor_of_each() {
    let folder = Folder::of("three-spaces");
    folder.run(&["write", "job.toml"]).success();
    let job: toml::Table = folder.read("job.toml").parse().unwrap();
    let recorded = folder
        .read(&format!("records/{}-proposal-r1/record.toml", job["number"].as_str().unwrap()));
    let recorded: toml::Table = recorded.parse().unwrap();
    let together = recorded["facts"]["recommended"].as_str().unwrap().to_owned();
    let floors = together.split(", ").map(|one| {
        let (space, floor) = one.split_once(" = ").unwrap();
        format!("\"{space}\" = \"{floor}\"")
    });
    let floors = floors.collect::<Vec<_>>().join(", ");
    let date = &job["date"];
    let folder =
        add(folder, &format!("[accepted]\nrevision = 1\non = {date}\nfloors = {{ {floors} }}"));
    draft(&folder).success();
    let names = crate::documents::files(&folder, "mail");
    let name = names.iter().find(|name| name.ends_with("signed-r1.eml")).unwrap();
    let (text, ..) = mail(&folder, name.trim_end_matches(".eml"));
    has(&text, &["We agreed on ", "use it in full from", "empty the spaces"]);
}
