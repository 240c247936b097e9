//! The keys of a floor system's file.

use crate::base::names::Key;
use crate::base::quantity::{Spread, Thickness};
use crate::model::system::{Broadcast, Look};
use crate::read::keys::Rule::Apart;
use crate::read::keys::{Table, may, must, need, needed_list, once};
use crate::read::limits;

pub fn file() -> Table {
    must("", "A floor system: its coats over products of the book, and its words.")
        .keys([
            need::<Key>("key", "The short name that jobs use.").like("\"plain-clear\""),
            need::<u32>("life-from", "How many years such a floor usually serves, at least.")
                .like("2"),
            need::<u32>("life-to", "How many years it usually serves, at most.").like("4"),
            may::<bool>("one-day", "It is sold as a floor that is done in one day."),
        ])
        .tables([coat(), words()])
}

fn coat() -> Table {
    needed_list("coat", limits::COATS, "One coat, in the order in which they are laid.")
        .keys([
            need::<Key>("key", "Its name within the system.").like("\"primer\""),
            need::<Key>("product", "The product of the book.").like("\"epoxy-primer\""),
            need::<Look>("look", "How it is drawn.").like("\"primer\""),
            may::<Spread>("spread", "A wet coverage in place of the product's.")
                .above_zero()
                .like("\"300 ft2/gal\""),
            may::<Thickness>("film", "A dry film in place of the product's coverage.")
                .above_zero()
                .like("\"4 mil\""),
            may::<Broadcast>("broadcast", "For a flake: how it is thrown."),
            may::<Key>(
                "extra",
                "The name of the extra that adds this coat; else it is always there.",
            )
            .like("\"extra-primer\""),
        ])
        .rules([Apart("spread", "film")])
        .more(&[&[("key", "\"top\""), ("product", "\"polyaspartic-top\""), ("look", "\"top\"")]])
}

fn words() -> Table {
    let say = |name, what, example: &str| need::<String>(name, what).like(example);
    once("words", "What the papers say of it, for a system that does not ship.")
        .shown()
        .keys([
            say("name", "Its name.", "\"plain clear floor\""),
            say("the_name", "Its name with the article.", "\"the plain clear floor\""),
            say(
                "summary",
                "What it is, and what it is known for.",
                "\"A primer and a clear coat on ground concrete.\"",
            ),
            may::<String>("better_at", "What it does better, a sentence each.")
                .list()
                .like("[\"It is quick to lay.\"]"),
            may::<String>("harder_at", "What it does worse, a sentence each.")
                .list()
                .like("[\"It hides nothing.\"]"),
            say("choose_if", "Who should choose it.", "\"Choose this if you like bare concrete.\""),
            say("yellowing", "How it takes daylight.", "\"Keeps its color\""),
            say("tires", "How it takes hot tires.", "\"Holds once it is cured\""),
            say("smell", "How it smells while it is laid.", "\"Some smell on the day\""),
            say("damp", "How it takes a damp slab.", "\"Low limit: it is no vapor barrier\""),
        ])
        .tables([once("coats", "Words for each coat, by its key.").shown().tables([once(
            "primer",
            "Words for the coat of this key; every coat has some.",
        )
        .any_name()
        .more(&[&[
            ("", "top"),
            ("name", "\"Clear coat\""),
            ("does", "\"Keeps oil and salt off the concrete.\""),
        ]])
        .keys([
            say("name", "What the coat is called.", "\"Epoxy primer\""),
            say("does", "What it does.", "\"Gives the clear coat a bed to stick to.\""),
        ])])])
}
