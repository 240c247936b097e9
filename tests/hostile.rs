//! Text, numbers and pictures made to do harm: they end as letters on a page or as a message.

mod bench;
mod bounds;
mod photos;
mod shapes;
mod sweep;
mod texts;

use std::fs;
use std::path::Path;

use lopdf::{Document, Object};

use crate::fixture::{Folder, Ran};
use crate::readers::{everything, text};

const DRAFT: &str = "papers/2026-0151-proposal-draft.pdf";

/// The dry job: all four floors are on offer, so that every part of the paper has something to say.
fn folder() -> Folder {
    Folder::of("dry-and-quick")
}

fn write_draft(folder: &Folder) -> Ran {
    folder.run(&["write", "--draft", "job.toml"])
}

/// A text as TOML writes it.
fn quoted(text: &str) -> String {
    toml::Value::from(text).to_string()
}

/// No white space at all: a page breaks lines where it likes, also within a long word.
fn letters(text: &str) -> String {
    text.split_whitespace().collect()
}

/// Replaces the value of a key at its nth place in a file, counted from 0.
#[track_caller]
fn set(folder: Folder, file: &str, key: &str, nth: usize, value: &str) -> Folder {
    let text = folder.read(file);
    let lead = format!("{key} = ");
    let starts = |(at, _): &(usize, &str)| *at == 0 || text.as_bytes()[at - 1] == b'\n';
    let Some((at, _)) = text.match_indices(&lead).filter(starts).nth(nth) else {
        panic!("no `{key}` number {nth} in {file}");
    };
    let end = at + text[at..].find('\n').unwrap();
    let changed = format!("{}{lead}{value}{}", &text[..at], &text[end..]);
    folder.write(file, changed)
}

/// A run that ended by itself: no panic, no fault of ours, no signal.
#[track_caller]
fn ends_well(ran: Ran) -> Ran {
    let errors = ran.stderr();
    assert!(!errors.contains("panicked"), "{errors}");
    assert!(!errors.contains("a fault in slableaf"), "{errors}");
    ran
}

// -------------------------------------------------------------------------------------- text

/// Text that is something else in the languages that a text may pass on its way: Typst, minijinja,
/// HTML, paths, shells, spreadsheets. Each stands at one key: file, key, which of that name.
const TYPED: &[(&str, &str, usize, &str)] = &[
    ("job.toml", "name", 0, r#"#panic("no") $x^2$ & \Söns"#),
    ("job.toml", "name", 1, r"{{ 7 * 7 }} {% for x in y %} {# c #}"),
    ("job.toml", "place", 0, "= Not a heading @ref <label>"),
    ("job.toml", "place", 1, "- not a list ~ -- --- ..."),
    ("job.toml", "place", 2, "+ 1. /term: [a] {b}"),
    ("job.toml", "instrument", 0, "https://x.example/?a=1&b=2#c // not a comment /* nor this */"),
    ("job.toml", "caption", 0, r#"<script>alert("1")</script> &amp; &#65;"#),
    ("job.toml", "caption", 1, "../../etc/passwd %2e%2e%2f ~/.ssh"),
    ("shop.toml", "name", 0, r"*not bold* _not slanted_ `raw` \ #sys.inputs"),
    ("shop.toml", "phone", 0, "'; DROP TABLE jobs; -- -> => <= !="),
    ("shop.toml", "email", 0, r#"<a href="javascript:x">mail</a>"#),
    ("shop.toml", "license", 0, r"C:\Windows\system32 \n \u{41} \x41"),
    ("shop.toml", "when", 0, "#set page(fill: red); #hide[x]"),
    ("shop.toml", "when", 1, "{{ cost }} {{ margin }} {{ self }} {{ config }}"),
    ("shop.toml", "when", 2, "![image](http://x.example/a.png) [link](x)"),
    ("book.toml", "name", 0, "\"quoted\" 'single' \u{201c}curly\u{201d} ''' \"\"\""),
    ("book.toml", "tax-name", 0, "#context here().page()"),
];

/// The same in lists: file, key, the lines.
const LISTED: &[(&str, &str, &[&str])] = &[
    (
        "job.toml",
        "address",
        &["$(id) ${HOME} %PATH% `id`", "=1+1", "@SUM(A1:A9)", "+1|' /C calc'!A0"],
    ),
    ("job.toml", "ignition", &["=HYPERLINK(\"http://x.example\")", "{% raw %}lamp{% endraw %}"]),
    ("shop.toml", "address", &["%s %n %d {0} {} {name!r}", "-2+3+cmd"]),
];

const PARAGRAPHS: &[&str] = &[
    "#import \"/theme.typ\": * \\ #include \"/etc/passwd\" #read(\"/page.json\")",
    "{% include 'words' %}{% set x = 1 %}{{ x | safe }}{{ ''.__class__ }}",
    "]] } ) #let shop = none; /* <!-- --> <![CDATA[ ]]>",
];

#[test]
fn text_that_looks_like_code_is_printed_to_the_letter() {
    let mut folder = folder();
    let mut expected: Vec<String> = vec![];
    for (file, key, nth, typed) in TYPED {
        folder = set(folder, file, key, *nth, &quoted(typed));
        expected.push((*typed).to_owned());
    }
    for (file, key, lines) in LISTED {
        let list: Vec<String> = lines.iter().map(|line| quoted(line)).collect();
        folder = set(folder, file, key, 0, &format!("[{}]", list.join(", ")));
        expected.extend(lines.iter().map(|line| (*line).to_owned()));
    }
    let shop = folder.read("shop.toml");
    let (start, end) = (shop.find("warranty = [").unwrap(), shop.find("\n]\n").unwrap());
    let warranty: Vec<String> = PARAGRAPHS.iter().map(|text| quoted(text)).collect();
    let shop =
        format!("{}warranty = [{}]{}", &shop[..start], warranty.join(", "), &shop[end + 2..]);
    let folder = folder.write("shop.toml", shop);
    expected.extend(PARAGRAPHS.iter().map(|text| (*text).to_owned()));
    assert!(expected.len() >= 25, "{}", expected.len());

    write_draft(&folder).success();
    let printed = letters(&text(&folder.path(DRAFT)));
    let missing: Vec<&String> =
        expected.iter().filter(|text| !printed.contains(&letters(text))).collect();
    assert!(missing.is_empty(), "not to the letter: {missing:#?}");
}

/// A shop's own floor brings its own words; they are text like any other. The names of products
/// stay in the book.
#[test]
fn the_words_of_a_floor_of_the_shop_are_text_as_well() {
    let says = [
        ("name", "#eval(\"1\") floor"),
        ("the_name", "the {{ 6 * 7 }} floor"),
        ("summary", "A floor <b>of</b> $ours$ with _thin_ coats."),
        ("choose_if", "Choose this if {% if true %} #true."),
        ("yellowing", "*none* @here"),
        ("tires", "`holds` \\ well"),
        ("smell", "= faint"),
        ("damp", "- ask <us>"),
    ];
    let mut own = String::from(
        "key = \"own-floor\"\nlife-from = 5\nlife-to = 10\n\n\
         [[coat]]\nkey = \"base\"\nproduct = \"epoxy-primer\"\nlook = \"primer\"\n\n\
         [[coat]]\nkey = \"top\"\nproduct = \"polyaspartic-top\"\nlook = \"top\"\n\n[words]\n",
    );
    for (key, words) in says {
        own.push_str(&format!("{key} = {}\n", quoted(words)));
    }
    own.push_str(
        "better_at = [\"#a\", \"{{ b }}\", \"<c>\"]\nharder_at = [\"$d$\", \"*e*\", \"`f`\"]\n",
    );
    for coat in ["base", "top"] {
        own.push_str(&format!(
            "\n[words.coats.{coat}]\nname = \"#{coat}()\"\ndoes = \"{{{{ {coat} }}}} it.\"\n"
        ));
    }
    let folder = folder()
        .write("systems/own.toml", own)
        .replace("job.toml", r#""fast-cure", "barrier""#, r#""own-floor", "barrier""#)
        .replace("book.toml", r#"name = "Epoxy primer""#, r##"name = "#panic() {{ 1 }}""##);
    write_draft(&folder).success();
    let printed = letters(&text(&folder.path(DRAFT)));
    // The name and the article's form may start a line or a sentence.
    let printed = printed.to_lowercase();
    for (key, words) in says {
        assert!(printed.contains(&letters(words).to_lowercase()), "{key}: {words}");
    }
    for words in ["#base()", "{{ top }} it.", "{{ b }}", "<c>", "$d$", "*e*", "`f`"] {
        assert!(printed.contains(&letters(words)), "{words}");
    }
}

/// Hidden, reordering and control characters, at any place where text is typed.
#[test]
fn characters_that_hide_are_refused_with_their_place() {
    let places = [
        ("job.toml", "name", 0),
        ("job.toml", "name", 1),
        ("job.toml", "place", 1),
        ("job.toml", "caption", 0),
        ("shop.toml", "name", 0),
        ("shop.toml", "when", 1),
        ("book.toml", "name", 0),
    ];
    for (file, key, nth) in places {
        for code in [
            0x00, 0x08, 0x09, 0x1B, 0x7F, 0x9B, 0xAD, 0x200B, 0x200D, 0x202E, 0x2028, 0x2066,
            0xFEFF, 0xE000, 0xE0041,
        ] {
            let typed = format!("\"Rosa\\U{code:08X}Tannenwald\"");
            let folder = set(folder(), file, key, nth, &typed);
            let place = format!("--> {}\n", folder.place_of(file, &typed));
            let ran = folder.run(&["check", "job.toml"]).code(2);
            ran.err_has(&format!("(U+{code:04X})\n")).err_has(&place).err_has("1 problem found");
        }
    }
}

/// The embedded font has Latin, Greek and Cyrillic; anything else would print as empty boxes.
#[test]
fn a_character_that_no_font_has_is_named_and_nothing_is_written() {
    for (character, code) in
        [('\u{1F600}', "U+1F600"), ('\u{738B}', "U+738B"), ('\u{5D0}', "U+05D0")]
    {
        let folder = set(folder(), "job.toml", "name", 0, &quoted(&format!("Rosa {character}")));
        write_draft(&folder)
            .code(4)
            .err_has(&format!("no font here can print `{character}` ({code})"))
            .err_has(&format!("Rosa {character}"))
            .err_has("--> job.toml:");
        let papers = fs::read_dir(folder.path("papers")).map_or(0, Iterator::count);
        assert_eq!(papers, 0, "{code}");
    }
    let names = "Łukasz Ýř, Ελένη, Юлия, Nguyễn";
    let folder = set(folder(), "job.toml", "name", 0, &quoted(names));
    write_draft(&folder).success();
    assert!(letters(&text(&folder.path(DRAFT))).contains(&letters(names)));
}

// ------------------------------------------------------------------------------------- shape

#[track_caller]
fn job_is_refused(text: &str) -> String {
    let ran = folder().write("job.toml", text).run(&["check", "job.toml"]).code(2);
    ends_well(ran).stderr()
}

#[test]
fn nesting_without_end_is_refused() {
    let deep = 100_000;
    for text in [
        format!("x = {}{}", "[".repeat(deep), "]".repeat(deep)),
        format!("x = {}", "[".repeat(900_000)),
        format!("x = {}1{}", "{a=".repeat(deep), "}".repeat(deep)),
        format!("a{} = 1", ".a".repeat(4 * deep)),
        format!("[a{}]", ".a".repeat(4 * deep)),
        format!("[[a{}]]", ".a".repeat(4 * deep)),
    ] {
        let told = job_is_refused(&text);
        let line = "error: line 1 of the file is longer than any line of its kind";
        assert!(told.contains("error: not TOML: ") || told.contains(line), "{}", &text[..20]);
    }
    // Below the bound of a line it is the parser that stops, at the depth that is stated.
    let most = slableaf::read::limits::NESTING;
    let depth =
        |depth: usize| job_is_refused(&format!("x = {}{}", "[".repeat(depth), "]".repeat(depth)));
    assert!(depth(most - 2).contains("unknown key `x`"), "{}", depth(most - 2));
    assert!(depth(most + 1).contains("error: not TOML: "), "{}", depth(most + 1));
    job_is_refused(&format!("x = \"{}\"", "a".repeat(900_000)));
    job_is_refused(&"[[area]]\n".repeat(100_000));
}

/// Nobody reads thousands of messages, and printing each with its line takes ever longer.
#[test]
fn a_file_of_nothing_but_mistakes_ends_with_a_screenful() {
    let keys = |count: usize| (0..count).map(|at| format!("k{at:06}=1\n")).collect::<String>();
    let messages = |text: &str| job_is_refused(text).matches("error: ").count();
    for count in [4_000, 90_000] {
        let found = messages(&keys(count));
        assert!(found <= 100, "{found} messages for {count} keys");
    }
    assert!(messages(&"number = 1\n".repeat(80_000)) <= 100);
    assert!(messages(&"?\n".repeat(400_000)) <= 100);
}

#[test]
fn a_key_that_stands_twice_is_refused() {
    for (file, key) in
        [("job.toml", "number"), ("job.toml", "oil"), ("shop.toml", "name"), ("book.toml", "wage")]
    {
        let text = folder().read(file);
        let line = text.lines().find(|line| line.starts_with(&format!("{key} = "))).unwrap();
        let doubled = text.replacen(line, &format!("{line}\n{line}"), 1);
        let ran = folder().write(file, doubled).run(&["check", "job.toml"]).code(2);
        ends_well(ran).err_has("error: not TOML: duplicate key").err_has(&format!("--> {file}:"));
    }
}

// ----------------------------------------------------------------------------------- numbers

/// One key of each kind of number, with its unit: file, key, unit.
const NUMBERS: &[(&str, &str, &str)] = &[
    ("job.toml", "built", ""),
    ("job.toml", "poured-year", ""),
    ("job.toml", "date", ""),
    ("job.toml", "set", ""),
    ("job.toml", "thickness", "in"),
    ("job.toml", "surface-strength", "psi"),
    ("job.toml", "length", "ft"),
    ("job.toml", "height", "m"),
    ("job.toml", "scale", "g"),
    ("job.toml", "room-temperature", "F"),
    ("job.toml", "room-humidity", "%"),
    ("job.toml", "exposed", "in2"),
    ("job.toml", "before", "g"),
    ("job.toml", "after", "kg"),
    ("job.toml", "humidity", "%"),
    ("job.toml", "slab", "C"),
    ("book.toml", "good-for-days", ""),
    ("book.toml", "wage", "/h"),
    ("book.toml", "burden", "%"),
    ("book.toml", "crew", ""),
    ("book.toml", "day-starts", ""),
    ("book.toml", "set-up", "h"),
    ("book.toml", "clean-up", "min"),
    ("book.toml", "grind", "ft2/h"),
    ("book.toml", "edge", "ft/h"),
    ("book.toml", "texture", "um"),
    ("book.toml", "upright-loss", "%"),
    ("book.toml", "crack-depth", "in"),
    ("book.toml", "consumables", "/ft2"),
    ("book.toml", "per-job", ""),
    ("book.toml", "margin", "%"),
    ("book.toml", "minimum", ""),
    ("book.toml", "round-to", ""),
    ("book.toml", "tax", "%"),
    ("book.toml", "hold-days", ""),
    ("book.toml", "volume-solids", "%"),
    ("book.toml", "spread", "ft2/gal"),
    ("book.toml", "film", "mil"),
    ("book.toml", "loss", "%"),
    ("book.toml", "mver-limit", "lb/1000ft2/24h"),
    ("book.toml", "rh-limit", "%"),
    ("book.toml", "voc", "g/L"),
    ("book.toml", "slab-from", "F"),
    ("book.toml", "air-humidity-to", "%"),
    ("book.toml", "strength-from", "psi"),
    ("book.toml", "concrete-days", ""),
    ("book.toml", "content", "g/L"),
    ("book.toml", "molar-mass", "g/mol"),
    ("book.toml", "lel", "%"),
    ("book.toml", "exposure", "ppm"),
    ("book.toml", "full", "lb/ft2"),
    ("book.toml", "reclaimed", "%"),
    ("book.toml", "thickness", "mil"),
    ("shop.toml", "share", "%"),
    ("shop.toml", "voc", "g/L"),
    ("shop.toml", "deposit-share", "%"),
];

#[test]
fn numbers_that_are_none_are_refused_whatever_the_key() {
    for (file, key, unit) in NUMBERS {
        let digits = "9".repeat(400);
        let mut values: Vec<String> =
            ["nan", "-nan", "inf", "-inf", "1e308", "-1e308", "1e-308"].map(str::to_owned).to_vec();
        for number in ["nan", "inf", "1e308", "-1", "\u{2212}1", "0x10", "1_0", "\u{664}", &digits]
        {
            values.push(format!("\"{number} {unit}\""));
        }
        for value in values {
            let ran = set(folder(), file, key, 0, &value).run(&["check", "job.toml"]);
            // Below zero is fine for a temperature alone.
            if value.starts_with('"') && matches!(*unit, "F" | "C") {
                ends_well(ran);
            } else {
                ends_well(ran.code(2)).err_has(&format!("error: `{key}` "));
            }
        }
    }
}

#[test]
fn an_amount_of_nineteen_digits_is_refused() {
    for key in ["per-job", "minimum", "round-to"] {
        for amount in
            ["9223372036854775807", "$9,223,372,036,854,775,807.00", "1000000000000000000"]
        {
            let ran =
                set(folder(), "book.toml", key, 0, &quoted(amount)).run(&["check", "job.toml"]);
            ends_well(ran.code(2)).err_has(&format!("error: `{key}` is too large: `{amount}`"));
        }
    }
    let price = r#"price = "9223372036854775807""#;
    let ran =
        folder().replace("book.toml", r#"price = "$198.00""#, price).run(&["check", "job.toml"]);
    ends_well(ran.code(2)).err_has("error: `price` is too large");
}

/// The dry job with the largest floor, at the prices of the book.
fn vast() -> Folder {
    let folder = set(folder(), "job.toml", "length", 0, r#""1000 ft""#);
    set(folder, "job.toml", "width", 0, r#""1000 ft""#)
}

/// The largest floor with every amount of the book as large as it may be, but for these two.
fn large(wage: &str, consumables: &str) -> Folder {
    let mut folder = vast();
    for (key, value) in [
        ("wage", wage),
        ("consumables", consumables),
        ("per-job", "$10,000,000.00"),
        ("overhead", "100 %"),
        ("burden", "100 %"),
        ("margin", "94 %"),
        ("tax", "100 %"),
        ("minimum", "$10,000,000.00"),
        ("round-to", "$9,999,999.99"),
    ] {
        folder = set(folder, "book.toml", key, 0, &quoted(value));
    }
    folder
}

/// The sums come to an end, and the judging too; a stop is an answer as well.
#[track_caller]
fn sums_end(folder: &Folder) {
    ends_well(folder.run(&["estimate", "job.toml", "--format", "json"]).success());
    let ran = ends_well(folder.run(&["check", "job.toml"]));
    // Three tests are few on a floor like that: the floors wait for more.
    let verdict = |line: &str| line.starts_with("recommended: ") || line.starts_with("first: ");
    assert!(ran.stdout().lines().any(verdict), "{}", ran.stderr());
}

/// Work of more days than any floor takes is no plan.
#[track_caller]
fn days_are_refused(folder: &Folder) {
    for arguments in
        [&["estimate", "job.toml"][..], &["check", "job.toml"], &["write", "--draft", "job.toml"]]
    {
        ends_well(folder.run(arguments).code(2))
            .err_has("error: the work on a floor comes to more than 366 days\n");
    }
    assert!(!folder.path(DRAFT).exists());
}

/// Ten thousand million is the most that money can be here; a price at that bound is no price.
#[track_caller]
fn price_is_refused(folder: &Folder) {
    for arguments in
        [&["estimate", "job.toml"][..], &["check", "job.toml"], &["write", "--draft", "job.toml"]]
    {
        ends_well(folder.run(arguments).code(2))
            .err_has("error: a price comes to more than any floor can cost\n")
            .err_has("help: check the sizes of the areas, the prices and the rates\n");
    }
    assert!(!folder.path(DRAFT).exists());
}

#[test]
fn the_largest_floor_at_the_highest_prices_ends_well() {
    price_is_refused(&large("$10,000,000.00/h", "$10,000,000.00/ft2"));
    price_is_refused(&large("$100.00/h", "$135.00/ft2"));
    // A dollar less, and the dearest of the four floors stays just below the bound.
    let most = large("$100.00/h", "$134.00/ft2");
    sums_end(&most);
    ends_well(write_draft(&most).success()).out_has("wrote ");
}

/// Rates that make weeks of a garage are a price; those that make years of it are refused.
#[test]
fn work_at_almost_no_speed_ends_well() {
    let at = |rate: &str| {
        let mut slow = folder();
        for (key, unit) in [
            ("grind", "ft2/h"),
            ("edge", "ft/h"),
            ("roll", "ft2/h"),
            ("upright", "ft2/h"),
            ("broadcast", "ft2/h"),
            ("scrape", "ft2/h"),
        ] {
            slow = set(slow, "book.toml", key, 0, &quoted(&format!("{rate} {unit}")));
        }
        set(slow, "book.toml", "volume-solids", 0, "\"0.0001 %\"")
    };
    sums_end(&at("1.5"));
    for rate in ["0.001", "0.000000000001"] {
        ends_well(at(rate).run(&["estimate", "job.toml"]).code(2))
            .err_has("error: the work on a floor comes to more than 366 days\n")
            .err_has("help: check the sizes of the areas, the rates");
    }
}

/// Thousands of millions of pails: the search for the cheapest mix stops at its bound. In the
/// second list every mix costs the same for what it holds, so that none can be left out early.
#[test]
fn a_kit_of_almost_nothing_ends_well() {
    for kits in [
        r#"{ size = "0.001 mL", price = "$0.00" }, { size = "0.0013 mL", price = "$10,000,000.00" }, { size = "1000 gal", price = "$0.01" }"#,
        r#"{ size = "0.7 mL", price = "$0.07" }, { size = "1.1 mL", price = "$0.11" }, { size = "1.3 mL", price = "$0.13" }"#,
    ] {
        sums_end(&vast().replace(
            "book.toml",
            r#"kit = [{ size = "3 gal", price = "$276.00" }, { size = "15 gal", price = "$1,290.00" }]"#,
            &format!("kit = [{kits}]"),
        ));
    }
    // Ten million gallons are mixed for longer than any floor may take.
    days_are_refused(&set(vast(), "book.toml", "spread", 0, r#""0.1 ft2/gal""#));
    days_are_refused(&set(vast(), "book.toml", "spread", 0, r#""0.0001 ft2/gal""#));
}

// ---------------------------------------------------------------------------------- pictures

/// The photo of the dry job that is replaced.
const PHOTO: &str = "photos/dome.jpg";
const CUT_SHORT: &str = "is cut short; copy it again from the camera\n";

#[track_caller]
fn photo_is_refused(bytes: &[u8], why: &str) {
    let folder = folder().write(PHOTO, bytes);
    ends_well(write_draft(&folder).code(2))
        .err_has(&format!("error: the picture `{PHOTO}` {why}"))
        .err_has("--> job.toml:");
    assert!(!folder.path(DRAFT).exists());
}

fn crc32(bytes: &[u8]) -> u32 {
    !bytes.iter().fold(!0, |crc, byte| {
        (0..8).fold(crc ^ u32::from(*byte), |crc, _| {
            (crc >> 1) ^ (0xEDB8_8320 & (crc & 1).wrapping_neg())
        })
    })
}

/// A PNG of one color channel that promises a size and holds an empty stream (PNG, third edition,
/// clauses 5 and 11).
fn png(width: u32, height: u32) -> Vec<u8> {
    let mut file = b"\x89PNG\r\n\x1a\n".to_vec();
    let mut chunk = |kind: &[u8], data: &[u8]| {
        file.extend((data.len() as u32).to_be_bytes());
        let body = [kind, data].concat();
        file.extend(&body);
        file.extend(crc32(&body).to_be_bytes());
    };
    let head = [&width.to_be_bytes()[..], &height.to_be_bytes(), &[8, 0, 0, 0, 0]].concat();
    chunk(b"IHDR", &head);
    chunk(b"IDAT", &[0x78, 0x9C, 0x03, 0x00, 0x00, 0x00, 0x00, 0x01]);
    chunk(b"IEND", &[]);
    file
}

#[test]
fn a_picture_that_would_fill_the_memory_is_refused_by_its_head() {
    photo_is_refused(
        &png(30_000, 30_000),
        "has 900000000 pixels, and the most accepted is 40000000",
    );
    photo_is_refused(&png(u32::MAX, u32::MAX), "");
    // The height and width of a baseline JPEG stand five bytes after its marker (ITU-T T.81, B.2.2).
    let mut jpeg = folder().bytes(PHOTO);
    let frame = jpeg.windows(2).position(|pair| pair == [0xFF, 0xC0]).unwrap();
    jpeg[frame + 5..frame + 9].copy_from_slice(&[0xFD, 0xE8, 0xFD, 0xE8]);
    photo_is_refused(&jpeg, "has 4225000000 pixels, and the most accepted is 40000000");
}

#[test]
fn a_picture_without_its_pixels_is_refused() {
    photo_is_refused(&png(20, 20), "cannot be read: ");
    photo_is_refused(&png(0, 0), "cannot be read: ");
    let photo = folder().bytes(PHOTO);
    photo_is_refused(&photo[..200], CUT_SHORT);
    photo_is_refused(b"", "is neither a JPEG nor a PNG picture");
    photo_is_refused(b"\xff\xd8\xff", CUT_SHORT);
}

/// The lower half would print as gray: what an unfinished copy from a phone leaves.
#[test]
fn a_photo_cut_short_is_refused() {
    let photo = folder().bytes(PHOTO);
    photo_is_refused(&photo[..photo.len() / 2], CUT_SHORT);
    photo_is_refused(&photo[..photo.len() - 1], CUT_SHORT);
    let logo = folder().bytes("logo.png");
    photo_is_refused(&logo[..logo.len() / 2], CUT_SHORT);
}

/// `check` and `estimate` read the heads of pictures and follow their files to the end, but decode no
/// pixel: damage within the data is found by `write`, before anything is issued.
#[test]
fn check_and_estimate_find_a_photo_cut_short_and_leave_its_pixels_to_write() {
    let photo = folder().bytes(PHOTO);
    let cut = folder().write(PHOTO, &photo[..photo.len() / 2]);
    for verb in ["check", "estimate"] {
        ends_well(cut.run(&[verb, "job.toml"]).code(2))
            .err_has(&format!("error: the picture `{PHOTO}` {CUT_SHORT}"))
            .err_has("--> job.toml:");
    }
    let damaged = folder().write(PHOTO, png(20, 20));
    for verb in ["check", "estimate"] {
        damaged.run(&[verb, "job.toml"]).success();
    }
    ends_well(damaged.run(&["write", "job.toml"]).code(2))
        .err_has(&format!("error: the picture `{PHOTO}` cannot be read: "))
        .err_has("--> job.toml:");
    let records = fs::read_dir(damaged.path("records")).unwrap().map(|entry| entry.unwrap().path());
    assert!(records.into_iter().all(|path| path.extension().is_some_and(|end| end == "lock")));
    assert!(!damaged.path("papers").exists());
}

#[test]
fn a_picture_is_what_its_bytes_are_and_not_its_name() {
    let logo = folder().bytes("logo.png");
    write_draft(&folder().write(PHOTO, logo)).success();
    let photo = folder().bytes(PHOTO);
    write_draft(&folder().write("logo.png", photo)).success();
    let why = "is neither a JPEG nor a PNG picture";
    photo_is_refused(b"GIF89a\x01\x00\x01\x00\x80\x00\x00\x00\x00\x00\xff\xff\xff\x2c\x00\x00\x00\x00\x01\x00\x01\x00\x00\x02\x02\x44\x01\x00\x3b", why);
    photo_is_refused(
        b"<svg xmlns=\"http://www.w3.org/2000/svg\"><image href=\"/etc/passwd\"/></svg>",
        why,
    );
    photo_is_refused(b"%PDF-1.7\n", why);
    photo_is_refused(b"BM\x3a\x00\x00\x00\x00\x00\x00\x00\x36\x00\x00\x00", why);
    photo_is_refused(b"RIFF\x24\x00\x00\x00WEBPVP8 ", why);
}

const OWNER: &str = "CANARY-OWNER-4711";
const PLACE: &str = "CANARY-GPS-61N-5E";
const COMMENT: &str = "CANARY-COMMENT-0815";

/// An EXIF segment: turned by a quarter (orientation 6), the owner, and a GPS table with a place
/// (TIFF 6.0, section 2; Exif 2.3, 4.6.6).
fn exif() -> Vec<u8> {
    let entry = |tag: u16, kind: u16, count: usize, value: u32| {
        [
            &tag.to_be_bytes()[..],
            &kind.to_be_bytes(),
            &(count as u32).to_be_bytes(),
            &value.to_be_bytes(),
        ]
        .concat()
    };
    // Offsets from the start of the TIFF head: three entries, then the texts, then the GPS table.
    let owner_at = 8 + 2 + 3 * 12 + 4;
    let gps_at = owner_at + OWNER.len() as u32 + 1;
    let place_at = gps_at + 2 + 12 + 4;
    let (ascii, short, long, undefined) = (2, 3, 4, 7);
    let tiff = [
        b"MM\x00\x2a\x00\x00\x00\x08".to_vec(),
        3_u16.to_be_bytes().to_vec(),
        entry(0x0112, short, 1, 6 << 16),
        entry(0x013B, ascii, OWNER.len() + 1, owner_at),
        entry(0x8825, long, 1, gps_at),
        vec![0; 4],
        OWNER.as_bytes().to_vec(),
        vec![0],
        1_u16.to_be_bytes().to_vec(),
        entry(0x001C, undefined, PLACE.len(), place_at),
        vec![0; 4],
        PLACE.as_bytes().to_vec(),
    ]
    .concat();
    segment(0xE1, &[b"Exif\0\0", tiff.as_slice()].concat())
}

fn segment(marker: u8, data: &[u8]) -> Vec<u8> {
    [&[0xFF, marker], &(data.len() as u16 + 2).to_be_bytes()[..], data].concat()
}

/// Width and height of every picture in a paper.
fn pictures(path: &Path) -> Vec<(i64, i64)> {
    let document = Document::load(path).unwrap();
    let number = |object: &Object| object.as_i64().unwrap();
    let streams = document.objects.values().filter_map(|object| object.as_stream().ok());
    streams
        .filter(|stream| {
            stream.dict.get(b"Subtype").and_then(Object::as_name).is_ok_and(|kind| kind == b"Image")
        })
        .map(|stream| {
            (
                number(stream.dict.get(b"Width").unwrap()),
                number(stream.dict.get(b"Height").unwrap()),
            )
        })
        .collect()
}

/// A phone writes the owner and the place into a photo. The paper has the picture the right way
/// up, and neither.
#[test]
fn what_a_phone_writes_into_a_photo_stays_out_of_the_paper() {
    let photo = folder().bytes(PHOTO);
    let told = [&photo[..2], &exif(), &segment(0xFE, COMMENT.as_bytes()), &photo[2..]].concat();
    let plain = folder();
    write_draft(&plain).success();
    assert!(!pictures(&plain.path(DRAFT)).contains(&(750, 1000)));
    let folder = folder().write(PHOTO, &told);
    write_draft(&folder).success();
    // 1600 by 1200 lying, turned and at most 1000 high.
    assert!(
        pictures(&folder.path(DRAFT)).contains(&(750, 1000)),
        "{:?}",
        pictures(&folder.path(DRAFT))
    );
    let bytes = everything(&folder.path(DRAFT));
    for canary in [OWNER, PLACE, COMMENT, "Exif"] {
        assert!(told.windows(canary.len()).any(|piece| piece == canary.as_bytes()), "{canary}");
        assert!(!bytes.windows(canary.len()).any(|piece| piece == canary.as_bytes()), "{canary}");
    }
}

/// Whoever reads the output may stop reading, as `head` does.
#[cfg(unix)]
#[test]
fn output_that_nobody_reads_is_no_fault() {
    use std::process::{Command, Stdio};
    let folder = Folder::new();
    let mut child = Command::new(env!("CARGO_BIN_EXE_slableaf"))
        .args(["estimate", "job.toml"])
        .current_dir(folder.path("."))
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap();
    drop(child.stdout.take());
    let output = child.wait_with_output().unwrap();
    assert_eq!(output.status.code(), Some(0));
    assert!(output.stderr.is_empty(), "{}", String::from_utf8_lossy(&output.stderr));
}

/// Output that cannot be written is told as what it is.
#[cfg(target_os = "linux")]
#[test]
fn output_that_has_no_room_is_no_fault_of_ours() {
    use std::process::{Command, Stdio};
    let folder = Folder::new();
    for arguments in [&["estimate", "job.toml"][..], &["write", ".", "--draft"]] {
        let full = fs::OpenOptions::new().write(true).open("/dev/full").unwrap();
        let output = Command::new(env!("CARGO_BIN_EXE_slableaf"))
            .args(arguments)
            .current_dir(folder.path("."))
            .stdout(Stdio::from(full))
            .output()
            .unwrap();
        Ran::of(output).code(5).err_has("error: cannot write what was found: No space left");
    }
}

/// Nobody takes the complaints: the exit code still tells.
#[cfg(target_os = "linux")]
#[test]
fn complaints_that_nobody_takes_are_no_fault() {
    use std::process::{Command, Stdio};
    let folder = Folder::new().replace("job.toml", "units = \"us\"", "units = \"feet\"");
    let run = |errors: Stdio| {
        let mut command = Command::new(env!("CARGO_BIN_EXE_slableaf"));
        command.args(["check", "job.toml"]).current_dir(folder.path("."));
        command.stdout(Stdio::null()).stderr(errors).spawn().unwrap()
    };
    let full = fs::OpenOptions::new().write(true).open("/dev/full").unwrap();
    assert_eq!(run(Stdio::from(full)).wait().unwrap().code(), Some(2));
    let mut closed = run(Stdio::piped());
    drop(closed.stderr.take());
    assert_eq!(closed.wait().unwrap().code(), Some(2));
}
