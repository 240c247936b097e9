//! What was signed and what changed since: change orders with their money worked by hand, and a law of their
//! prices.

mod contacts;
mod law;
mod leaks;
mod promises;
mod roll;

use crate::fixture::Folder;
use crate::readers;

const WRITE: &[&str] = &["write", "job.toml"];
const ORDER: &[&str] = &["write", "job.toml", "--paper", "change-order"];

/// The example of two cars, written and signed on 20 May; the vapor-barrier floor costs $5,410.20.
fn signed() -> Folder {
    let folder = Folder::new();
    folder.run(WRITE).success().out_has("recommends barrier, $5,410.20");
    add(folder, "[accepted]\nrevision = 1\nfloor = \"barrier\"\non = 2026-05-20")
}

/// Adds lines to the job.
fn add(folder: Folder, lines: &str) -> Folder {
    let job = format!("{}\n{lines}\n", folder.read("job.toml"));
    folder.write("job.toml", job)
}

fn text(folder: &Folder, path: &str) -> String {
    let text = readers::text(&folder.path(path));
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

fn order_text(folder: &Folder, revision: u32) -> String {
    text(folder, &format!("papers/2026-0142-change-order-r{revision}.pdf"))
}

#[track_caller]
fn has(text: &str, parts: &[&str]) {
    for part in parts {
        assert!(text.contains(part), "no `{part}` in {text}");
    }
}

/// By hand, at a tax of 6.5 %: an item of $180.00 adds $191.70, so that $5,410.20 becomes $5,601.90. Of that
/// $541.02 was paid at the signature (10 %); 40 %, $2,164.08, is due on the first day, and what is left,
/// $2,896.80, at the end. A discount of $100.00 then takes off $106.50: $5,495.40.
#[test]
fn orders_add_up_by_hand_and_build_on_each_other() {
    let folder = add(signed(), "[[paid]]\non = 2026-05-20\namount = \"$541.02\"");
    let item = "[[item]]\nname = \"Moving the workbench\"\nprice = \"$180\"";
    let folder =
        add(folder, &format!("{item}\n\n[[order]]\nwhat = \"Please move the workbench too\""));
    folder
        .run(&["check", "job.toml"])
        .code(1)
        .err_has("not what was signed: items changed")
        .err_has("by the accepted price book +$191.70");
    folder.run(WRITE).success().out_has("stays as it was signed").err_has("items changed");
    folder.run(ORDER).success().out_has("+$191.70; the new price is $5,601.90");
    has(
        &order_text(&folder, 1),
        &[
            "This change adds $191.70. The new price is $5,601.90.",
            "Please move the workbench too",
            "Moving the workbench ($180.00)",
            "Paid on May 20, 2026 $541.02",
            "Left to pay $5,060.88",
            "On the first day of work $2,164.08",
            "$2,896.80",
            "revision 1 of May 12, 2026, on May 20, 2026",
            "Rosa Tannenwald",
            "Emil Tannenwald",
        ],
    );
    // Moving a bench takes no material.
    assert!(!order_text(&folder, 1).contains("kit of material"));
    folder.run(ORDER).success().out_has("unchanged: ");
    // Signed: nothing differs any more, and the sheet stays.
    let folder = folder.replace(
        "job.toml",
        "what = \"Please",
        "revision = 1\non = 2026-05-22\nwhat = \"Please",
    );
    let first = folder.bytes("papers/2026-0142-change-order-r1.pdf");
    folder.run(ORDER).success().out_has("stays as it was signed");
    let check = folder.run(&["check", "job.toml"]);
    assert!(!check.stderr().contains("not what was signed"), "{}", check.stderr());
    folder.run(&["roll", "."]).success().out_has("accepted").out_has("$5,601.90");
    // The next one builds on it, by the prices of the accepted book.
    let folder = folder.replace("book.toml", "margin = \"38 %\"", "margin = \"45 %\"");
    let folder = add(folder, "[discount]\namount = \"$100\"\nreason = \"A neighbor came too\"");
    folder.run(ORDER).success().out_has("\u{2212}$106.50; the new price is $5,495.40");
    has(
        &order_text(&folder, 2),
        &[
            "This change takes off $106.50. The new price is $5,495.40.",
            "After that we both signed change order 1 on May 22, 2026.",
            "Price as agreed before $5,601.90",
            "Left to pay $4,954.38",
            "$2,790.30",
        ],
    );
    assert!(folder.bytes("papers/2026-0142-change-order-r1.pdf") == first);
    folder.run(&["verify", "job.toml"]).success().out_has("3 records: 3 sound");
}

/// Paid in full, $5,410.20, and then less: $106.50 go back.
#[test]
fn money_that_was_received_may_pass_the_new_total() {
    let folder = add(signed(), "[[paid]]\non = 2026-05-20\namount = \"$5,410.20\"");
    let folder = add(folder, "[discount]\namount = \"$100\"\nreason = \"Thanks\"");
    folder.run(ORDER).success();
    let text = order_text(&folder, 1);
    has(&text, &["New price $5,303.70", "We pay back to you $106.50"]);
    assert!(!text.contains("How you pay the rest"), "{text}");
}

/// By hand: $5,500.00 received for a price of $5,410.20 is $89.80 too much. An order of $191.70 is then part of
/// the price: roll and reprice both name $5,601.90.
#[test]
fn money_beyond_the_price_is_due_back_and_one_price_stands_everywhere() {
    let folder = add(signed(), "[[paid]]\non = 2026-05-20\namount = \"$5,500\"");
    folder
        .run(&["check", "job.toml"])
        .err_has("$89.80 more than the agreed price was received: it is due back");
    folder.run(&["roll", "."]).success().out_has("$89.80 more than the price came in: due back");
    let json = folder.run(&["check", "job.toml", "--format", "json"]).stdout();
    let json: serde_json::Value = serde_json::from_str(&json).unwrap();
    assert_eq!(json["since_signed"]["due_back"], "89.80");
    let item = "[[item]]\nname = \"Moving the workbench\"\nprice = \"$180\"\n\n[[order]]\nwhat = \"Please\"";
    let folder = add(folder, item);
    folder.run(ORDER).success();
    let folder = folder.replace(
        "job.toml",
        "what = \"Please\"",
        "revision = 1\non = 2026-05-22\nwhat = \"Please\"",
    );
    folder.run(&["roll", "."]).success().out_has("$5,601.90");
    let reprice = folder.run(&["reprice", ".", "--dry-run"]).success();
    reprice.out_has("$5,601.90").out_has("accepted");
}

/// Sheets that help to choose are refused once a floor was signed for.
#[test]
fn a_sheet_for_choosing_is_refused_after_the_choice() {
    let folder = signed();
    for paper in ["bids", "what-if"] {
        folder
            .run(&["write", "job.toml", "--paper", paper])
            .code(2)
            .err_has(&format!(
                "the floor was signed for on 2026-05-20, and `{paper}` helps to choose"
            ))
            .err_has("--paper change-order");
    }
}

#[test]
fn another_floor_and_ticked_extras_are_ordered() {
    let folder = Folder::of("dry-and-quick");
    folder.run(WRITE).success().out_has("recommends fast-cure");
    let estimate = folder.run(&["estimate", "job.toml", "--format", "json"]).success().stdout();
    let estimate: serde_json::Value = serde_json::from_str(&estimate).unwrap();
    let floor = |key: &str| {
        let floors = estimate["floors"].as_array().unwrap();
        floors.iter().find(|floor| floor["floor"] == key).unwrap().clone()
    };
    let cents = |value: &serde_json::Value| -> i64 {
        value.as_str().unwrap().replace('.', "").parse().unwrap()
    };
    let folder = add(folder, "[accepted]\nrevision = 1\nfloor = \"fast-cure\"\non = 2026-06-05");
    let folder = add(folder, "[[order]]\nfloor = \"barrier\"");
    folder.run(ORDER).success();
    let text = text(&folder, "papers/2026-0151-change-order-r1.pdf");
    let change = cents(&floor("barrier")["total"]) - cents(&floor("fast-cure")["total"]);
    let way = if change > 0 { "adds" } else { "takes off" };
    let change =
        crate::documents::on_page("", &format!("{}.{:02}", change.abs() / 100, change.abs() % 100));
    has(
        &text,
        &[&format!("This change {way} ${change}."), "Fast-cure floor", "Vapor-barrier floor"],
    );
    // Until it is signed the crew lays what was signed.
    folder.run(&["prepare", "job.toml"]).success().err_has("not what was signed: floor changed");
    let sheet = readers::text(&folder.path("shop-only/2026-0151-crew-sheet-r1.pdf"));
    assert!(sheet.contains("Fast-cure floor"), "{sheet}");
    let folder =
        folder.replace("job.toml", "[[order]]\n", "[[order]]\nrevision = 1\non = 2026-06-06\n");
    folder.run(&["prepare", "job.toml"]).success();
    let sheet = readers::text(&folder.path("shop-only/2026-0151-crew-sheet-r2.pdf"));
    assert!(sheet.contains("Vapor-barrier floor"), "{sheet}");
}

/// Lengths are those of the job: its cracks, and a joint of 22 ft.
#[test]
fn each_part_of_what_was_signed_stands_as_it_was_and_as_it_is_to_be() {
    let cases = [
        (
            "length = \"11 ft\"",
            "length = \"14 ft\"",
            "Repairs Cracks: 11 ft; joints: 22 ft Cracks: 14 ft; joints: 22 ft",
        ),
        ("[customer]", "[customer]\ntax-exempt = \"EX-22\"", "Tax With tax No tax"),
        (
            "[accepted]",
            "[[order]]\nadditions = [\"grip\"]\n\n[accepted]",
            "Added by you None Grip on the steps",
        ),
    ];
    for (from, to, row) in cases {
        let folder = add(
            Folder::new(),
            "[[addition]]\nkey = \"grip\"\nname = \"Grip on the steps\"\nprice = \"$95\"",
        );
        folder.run(WRITE).success();
        let accepted = "[accepted]\nrevision = 1\nfloor = \"barrier\"\non = 2026-05-20";
        let folder = add(folder, accepted).replace("job.toml", from, to);
        folder.run(ORDER).success();
        has(&order_text(&folder, 1), &[row]);
    }
}

/// The clear-epoxy floor is signed with the coat of urethane that its price has, and then without.
#[test]
fn an_extra_in_the_price_may_be_left_out() {
    let folder = Folder::of("dry-and-quick");
    folder.run(WRITE).success();
    let accepted = "[accepted]\nrevision = 1\nfloor = \"clear-epoxy\"\non = 2026-06-05";
    let extras = "clear-epoxy = [\"urethane-coat\"]";
    let folder = add(folder, accepted).replace("job.toml", extras, "clear-epoxy = []");
    folder.run(ORDER).success();
    let text = text(&folder, "papers/2026-0151-change-order-r1.pdf");
    let row = text.split("Extras in the price ").nth(1).unwrap();
    let (before, after) = row.split_once(" None").unwrap();
    assert_eq!(before, "Urethane coat");
    assert!(!after.contains("Extras in the price"), "{after}");
}

#[test]
fn what_cannot_be_ordered_is_told() {
    let folder = Folder::new();
    folder.run(ORDER).code(2).err_has("a change order is for a job that was signed");
    let early = add(Folder::new(), "[[order]]\nfloor = \"barrier\"");
    early.run(&["check", "job.toml"]).err_has("and the job has no `[accepted]`");
    folder.run(WRITE).success();
    let folder = add(folder, "[accepted]\nrevision = 1\nfloor = \"barrier\"\non = 2026-05-20");
    folder.run(ORDER).code(2).err_has("nothing differs from what was signed");
    let waits = add(folder, "[[order]]\nrevision = 3\non = 2026-05-21\nfloor = \"barrier\"");
    waits.run(ORDER).code(5).err_has("change order 3 was signed, and there is no record of it");
    waits.run(&["check", "job.toml"]).err_has("what was signed cannot be looked up");
    // The crew's papers are of what was signed, or of nothing; the place is the order's own.
    waits
        .run(&["prepare", "job.toml"])
        .code(5)
        .err_has("change order 3 was signed, and there is no record of it")
        .err_has("[[order]]")
        .err_has("bring the record back from a backup");
}

/// What nobody has signed is marked so on the crew's papers; a signature without its paper is refused.
#[test]
fn crew_papers_say_what_is_not_signed() {
    let folder = Folder::new();
    folder.run(&["prepare", "job.toml"]).success().err_has("nobody has signed this job");
    let sheet = text(&folder, "shop-only/2026-0142-crew-sheet-r1.pdf");
    has(&sheet, &["Not signed yet. Plan with this sheet"]);
    let list = text(&folder, "shop-only/2026-0142-buying-list-r1.pdf");
    has(&list, &["Not signed yet.", "do not buy by it"]);
    let accepted = "[accepted]\nrevision = 1\nfloor = \"barrier\"\non = 2026-05-20";
    let unwritten = add(folder, accepted);
    unwritten
        .run(&["prepare", "job.toml"])
        .code(5)
        .err_has("revision 1 was accepted, and there is no record of it")
        .err_has("[accepted]")
        .err_has("leave `[accepted]` out");
    let folder = signed();
    let ran = folder.run(&["prepare", "job.toml"]).success();
    assert!(!ran.stderr().contains("signed"), "{}", ran.stderr());
    let sheet = text(&folder, "shop-only/2026-0142-crew-sheet-r1.pdf");
    has(&sheet, &["Proposal revision 1, May 20, 2026", "This sheet: revision 1"]);
    assert!(!sheet.contains("Not signed"), "{sheet}");
    folder.run(&["prepare", "job.toml", "--floor", "fast-cure"]).code(1);
}

/// A reading of 22 lb after the signature is over the 20 lb that the vapor-barrier floor is rated for.
#[test]
fn a_new_reading_over_a_limit_keeps_the_crew_at_home() {
    let folder = signed();
    folder.run(&["prepare", "job.toml"]).success();
    let folder = folder.replace("job.toml", "after = \"222.4 g\"", "after = \"232.4 g\"");
    folder
        .run(WRITE)
        .success()
        .out_has("stays as it was signed")
        .err_has("`barrier` was signed, and may not be laid as things are now");
    folder
        .run(&["prepare", "job.toml"])
        .code(1)
        .err_has("is not offered and cannot be laid as things are");
}

#[test]
fn a_signature_after_the_last_day_of_the_prices_is_said() {
    let folder = signed().replace("job.toml", "on = 2026-05-20", "on = 2026-06-20");
    folder
        .run(WRITE)
        .success()
        .err_has("it was signed on 2026-06-20, after its prices had ended on 2026-06-11");
    let folder = add(folder, "[discount]\namount = \"$100\"\nreason = \"Thanks\"");
    folder.run(ORDER).success();
    has(&order_text(&folder, 1), &["Its prices were good until June 11, 2026. We keep to them."]);
}

#[test]
fn a_change_order_is_set_in_each_edition_and_language() {
    for language in ["en", "es"] {
        let folder = Folder::new().replace(
            "shop.toml",
            "language = \"en\"",
            &format!("language = \"{language}\""),
        );
        folder.run(WRITE).success();
        let folder = add(folder, "[accepted]\nrevision = 1\nfloor = \"barrier\"\non = 2026-05-20");
        let folder = add(folder, "[[item]]\nname = \"Moving the workbench\"\nprice = \"$180\"");
        folder.run(&[ORDER, &["--phone"]].concat()).success().out_has("change-order-phone-r1.pdf");
        let pages = readers::pages(&folder.path("papers/2026-0142-change-order-r1.pdf")).len();
        // Spanish takes more room.
        assert!(pages == 1 || pages == 2 && language == "es", "{pages} pages in {language}");
        folder.run(&[ORDER, &["--draft", "--large-print"]].concat()).success();
        folder.run(&["verify", "job.toml"]).success();
    }
}

/// A notice of the place stands on the papers that the shop names, with its place and when it was read there.
#[test]
fn a_notice_stands_on_the_papers_that_it_is_for() {
    let shop = Folder::new().read("shop.toml")
        + "\n[[notice]]\ntitle = \"Invented notice of changes\"\ntext = [\"Each change is signed.\"]\n\
           place = \"State of Invented\"\nprinted-on = [\"change-order\"]\nsource = \"Invented code 7\"\nchecked = 2026-05-04\n";
    let folder = Folder::new().write("shop.toml", shop);
    folder.run(WRITE).success();
    let folder = add(folder, "[accepted]\nrevision = 1\nfloor = \"barrier\"\non = 2026-05-20");
    let folder = add(folder, "[[item]]\nname = \"Moving the workbench\"\nprice = \"$180\"");
    folder.run(ORDER).success();
    has(
        &order_text(&folder, 1),
        &[
            "Invented notice of changes",
            "Each change is signed.",
            "State of Invented. Source: Invented code 7, read on May 4, 2026.",
        ],
    );
    let proposal = text(&folder, "papers/2026-0142-proposal-r1.pdf");
    assert!(!proposal.contains("Invented notice"), "it is for the change order alone");
}

/// The shipped example, step by step as its head says.
#[test]
fn the_example_can_be_followed() {
    let folder = Folder::of("signed-and-changed");
    folder.run(&["check", "job.toml"]).success();
    folder.run(WRITE).success().out_has("2026-0188-proposal-r1.pdf");
    let signed = folder.read("job.toml").replace("\n#: ", "\n");
    let folder = folder.write("job.toml", signed);
    folder.run(ORDER).success().out_has("2026-0188-change-order-r1.pdf");
    has(
        &text(&folder, "papers/2026-0188-change-order-r1.pdf"),
        &[
            "Please coat the strip by the side door too.",
            "Monday, May 18, 2026",
            "400 sq ft 424 sq ft",
            "Paid on May 14, 2026 $450.00",
        ],
    );
    folder.run(&["roll", "."]).success().out_has("changed").out_has("North");
    folder.run(&["verify", "job.toml"]).success();
}
