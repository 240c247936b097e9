//! Pictures that cannot be used.

use super::small::PHOTO;
use super::{SmallShop, job, shop};
use crate::fixture::dedented;

#[test]
#[rustfmt::skip]
fn a_picture_is_a_plain_name_inside_the_folder() {
    job(PHOTO).replace(r#"file = "photos/dome.jpg""#, r#"file = "/etc/hostname""#).says(r#"
        error: `file` is absolute: `/etc/hostname`
          --> job.toml:36:8
           |
        36 | file = "/etc/hostname"
           |        ^^^^^^^^^^^^^^^
           |
           = help: name a file inside the folder of the file you write this in, for example `"photos/door.jpg"`
    "#);
    job(PHOTO).replace(r#"file = "photos/dome.jpg""#, r#"file = "C:/photos/dome.jpg""#).says(r#"
        error: `file` is absolute: `C:/photos/dome.jpg`
          --> job.toml:36:8
           |
        36 | file = "C:/photos/dome.jpg"
           |        ^^^^^^^^^^^^^^^^^^^^
           |
           = help: name a file inside the folder of the file you write this in, for example `"photos/door.jpg"`
    "#);
    job(PHOTO).replace(r#"file = "photos/dome.jpg""#, r#"file = "photos\\dome.jpg""#).says(r#"
        error: `file` has a backslash: `photos\dome.jpg`
          --> job.toml:36:8
           |
        36 | file = "photos\\dome.jpg"
           |        ^^^^^^^^^^^^^^^^^^
           |
           = help: name a file inside the folder of the file you write this in, for example `"photos/door.jpg"`
    "#);
    job(PHOTO).replace(r#"file = "photos/dome.jpg""#, r#"file = "../dome.jpg""#).says(r#"
        error: `file` leaves the folder: `../dome.jpg`
          --> job.toml:36:8
           |
        36 | file = "../dome.jpg"
           |        ^^^^^^^^^^^^^
           |
           = help: name a file inside the folder of the file you write this in, for example `"photos/door.jpg"`
    "#);
    shop("").replace(r##"accent = "#27566B""##, r#"logo = "../logo.png""#).says(r#"
        error: `logo` leaves the folder: `../logo.png`
         --> shop.toml:3:8
          |
        3 | logo = "../logo.png"
          |        ^^^^^^^^^^^^^
          |
          = help: name a file inside the folder of the file you write this in, for example `"photos/door.jpg"`
    "#);
    for name in ["photos//dome.jpg", "photos/./dome.jpg"] {
        let line = format!("file = \"{name}\"");
        let mark = "^".repeat(name.len() + 2);
        job(PHOTO).replace(r#"file = "photos/dome.jpg""#, &line).says(&format!(r#"
        error: `file` has an empty part: `{name}`
          --> job.toml:36:8
           |
        36 | {line}
           |        {mark}
           |
           = help: name a file inside the folder of the file you write this in, for example `"photos/door.jpg"`
    "#));
    }
}

/// `write` finds this mistake in a picture and makes no paper.
#[track_caller]
fn refused(shop: &SmallShop, block: &str) {
    let expected = format!("{}\n\n1 problem found; nothing was written", dedented(block));
    let ran = shop.folder.run(&["write", "--draft", "job.toml"]).code(2);
    assert_eq!(dedented(&ran.complaint()), expected);
    assert!(!shop.folder.path("papers").exists());
}

#[test]
#[rustfmt::skip]
fn a_picture_that_cannot_be_used_is_shown_where_it_is_named() {
    refused(&job(PHOTO), r#"
        error: the picture `photos/dome.jpg` is not there: no such file in the folder of the file that names it
          --> job.toml:36:8
           |
        36 | file = "photos/dome.jpg"
           |        ^^^^^^^^^^^^^^^^^
    "#);
    refused(&job(PHOTO).write("photos/dome.jpg", "a letter"), r#"
        error: the picture `photos/dome.jpg` is neither a JPEG nor a PNG picture
          --> job.toml:36:8
           |
        36 | file = "photos/dome.jpg"
           |        ^^^^^^^^^^^^^^^^^
    "#);
    refused(&job(PHOTO).replace("photos/dome.jpg", "photos/dome.heic").write("photos/dome.heic", b"\0\0\0\x18ftypheic\0\0\0\0mif1heic"), r#"
        error: the picture `photos/dome.heic` is a HEIC picture, as many phones take them: open it where it can be seen, save or export it as JPEG, and name that file here
          --> job.toml:36:8
           |
        36 | file = "photos/dome.heic"
           |        ^^^^^^^^^^^^^^^^^^
    "#);
    refused(&job(PHOTO).replace("photos/dome.jpg", "photos").write("photos/dome.jpg", "a letter"), r#"
        error: the picture `photos` is not a plain file
          --> job.toml:36:8
           |
        36 | file = "photos"
           |        ^^^^^^^^
    "#);
    refused(&job(PHOTO).write("photos/dome.jpg", vec![0; 15_000_001]), r#"
        error: the picture `photos/dome.jpg` has 15000001 bytes, and the most accepted is 15000000
          --> job.toml:36:8
           |
        36 | file = "photos/dome.jpg"
           |        ^^^^^^^^^^^^^^^^^
    "#);
    refused(&shop("").replace(r##"accent = "#27566B""##, r#"logo = "logo.png""#), r#"
        error: the picture `logo.png` is not there: no such file in the folder of the file that names it
         --> shop.toml:3:8
          |
        3 | logo = "logo.png"
          |        ^^^^^^^^^^
    "#);
}

#[cfg(unix)]
#[test]
#[rustfmt::skip]
fn a_picture_behind_a_link_out_of_the_folder_is_refused() {
    use std::fs;
    use std::os::unix::fs::symlink;

    use crate::fixture::Folder;

    let (shop, elsewhere) = (job(PHOTO), Folder::new());
    fs::create_dir(shop.folder.path("photos")).unwrap();
    symlink(elsewhere.path("photos/dome.jpg"), shop.folder.path("photos/dome.jpg")).unwrap();
    refused(&shop, r#"
        error: the picture `photos/dome.jpg` is a link that leads out of the folder
          --> job.toml:36:8
           |
        36 | file = "photos/dome.jpg"
           |        ^^^^^^^^^^^^^^^^^
    "#);
}
