use crate::fixture::*;
use crate::readers;
#[test]
fn dump() {
    for e in EXAMPLES {
        let f = Folder::of(e);
        f.run(&["write", "job.toml", "--out", "out"]).success();
        let p = std::fs::read_dir(f.path("out")).unwrap().next().unwrap().unwrap().path();
        std::fs::write(format!("/tmp/doc/{e}.lopdf.txt"), readers::pages(&p).join("\n=====PAGE\n")).unwrap();
        std::fs::write(format!("/tmp/doc/{e}.lopdf.sq.txt"), readers::text(&p)).unwrap();
    }
}
