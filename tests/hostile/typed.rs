//! Text that looks like code, and characters that hide.

use super::bench::quoted;
use super::{DRAFT, folder, letters, set, write_draft};
use crate::readers::text;
use std::fs;

/// Text that is something else in the languages that a text may pass on its way: Typst, minijinja,
/// HTML, paths, shells, spreadsheets. Each stands at one key: file, key, which of that name.
const TYPED: &[(&str, &str, usize, &str)] = &[
    ("job.toml", "name", 0, r#"#panic("no") $x^2$ & \Söns"#),
    ("job.toml", "name", 1, r"{{ 7 * 7 }} {% for x in y %} {# c #}"),
    ("job.toml", "place", 0, "= Not a heading @ref <label>"),
    ("job.toml", "place", 1, "- not a list ~ -- --- ..."),
    ("job.toml", "place", 2, "+ 1. /term: [a] {b}"),
    ("job.toml", "instrument", 0, "https://x.example/?a=1&b=2#c // not a comment /* nor this */"),
    (
        "job.toml",
        "caption",
        0,
        r#"<script>alert("1")</script> <a href="javascript:x">mail</a> &amp; &#65;"#,
    ),
    ("job.toml", "caption", 1, "../../etc/passwd %2e%2e%2f ~/.ssh"),
    ("shop.toml", "name", 0, r"*not bold* _not slanted_ `raw` \ #sys.inputs"),
    ("shop.toml", "phone", 0, "'; DROP TABLE jobs; -- -> => <= !="),
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
    let mut folder = folder().replace("book.toml", "tax = ", "tax-name = \"Sales tax\"\ntax = ");
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
    // What it says in short would not be in these paragraphs.
    let folder =
        folder.write("shop.toml", shop).replace("shop.toml", "warranty-short = \"5 years\"\n", "");
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
            .code(2)
            .err_has(&format!("no font here can print `{character}` ({code}"))
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
