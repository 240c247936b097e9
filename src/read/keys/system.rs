//! The keys of a floor system's file.

use crate::base::names::Key;
use crate::base::quantity::{Spread, Thickness};
use crate::model::system::{Broadcast, GritHow, Lay, Look};
use crate::read::keys::spec::*;
use crate::read::keys::table::*;
use crate::read::limits;

keys! {
    system = must("", "A floor system: its coats over products of the book, and its words.")
        .tables(&[coat::TABLE, words::TABLE])
        .rules(&[Rule::Together("renew-from", "renew-to", "add `{}`")]) => {
        KEY: Key = need("key", "The short name that jobs use.").like("plain-clear");
        LIFE_FROM: u32 =
            need("life-from", "How many years such a floor usually serves, at least.").like("2");
        LIFE_TO: u32 = need("life-to", "How many years it usually serves, at most.").like("4");
        RENEW_FROM: u32 =
            may("renew-from", "After how many years its topcoat is renewed, at the earliest.")
                .above_zero().advice("write a number of years, one or more").like("5");
        RENEW_TO: u32 =
            may("renew-to", "After how many years it is renewed, at the latest.")
                .above_zero().advice("write a number of years, one or more").like("8");
        ONE_DAY: bool = may("one-day", "It is sold as a floor that is done in one day.");
    }

    coat = needed_list("coat", limits::COATS, "One coat, in the order in which they are laid.")
        .advice("add a `[[coat]]` table for each coat, bottom first")
        .rules(&[Rule::Apart("spread", "film", "give one: a wet coverage or a dry film")])
        .more(&[&[
            ("key", "\"top\""),
            ("product", "\"polyaspartic-top\""),
            ("look", "\"top\""),
        ]]) => {
        KEY: Key = need("key", "Its name within the system.").like("primer");
        PRODUCT: Key = need("product", "The product of the book.").like("epoxy-primer");
        LOOK: Look = need("look", "How it is drawn.").like("primer");
        SPREAD: Spread =
            may("spread", "A wet coverage in place of the product's.").above_zero()
                .advice("write a value above zero")
                .like("300 ft2/gal");
        FILM: Thickness =
            may("film", "A dry film in place of the product's coverage.").above_zero()
                .advice("write a value above zero")
                .like("4 mil");
        BROADCAST: Broadcast = may("broadcast", "For a flake: how it is thrown.");
        GRIT: GritHow =
            may("grit", "For a grit: how it goes into the liquid coat that stands before it.")
                .like("thrown");
        LAY: Lay =
            may("lay", "How a liquid coat is laid, which decides its rate of work; without it rolled.")
                .like("poured");
        PIGMENT: Key =
            may("pigment", "The pigment that is stirred into a liquid coat: the key of a product.")
                .like("pigment-gray");
        EXTRA: Key =
            may("extra", "The name of the extra that adds this coat; else it is always there.")
                .like("extra-primer");
    }

    words = once("words", "What the papers say of it, for a system that does not ship.")
        .shown()
        .tables(&[coats::TABLE]) => {
        NAME: String = need("name", "Its name.").like("plain clear floor");
        THE_NAME: String = need("the_name", "Its name with the article.").like("the plain clear floor");
        SUMMARY: String =
            need("summary", "What it is, and what it is known for.")
                .like("A primer and a clear coat on ground concrete.");
        BETTER_AT: Vec<String> =
            list("better_at", "What it does better, a sentence each.")
                .like(r#"["It is quick to lay."]"#);
        HARDER_AT: Vec<String> =
            list("harder_at", "What it does worse, a sentence each.").like(r#"["It hides nothing."]"#);
        CHOOSE_IF: String =
            need("choose_if", "Who should choose it.").like("Choose this if you like bare concrete.");
        YELLOWING: String = need("yellowing", "How it takes daylight.").like("Keeps its color");
        TIRES: String = need("tires", "How it takes hot tires.").like("Holds once it is cured");
        SMELL: String = need("smell", "How it smells while it is laid.").like("Some smell on the day");
        DAMP: String =
            need("damp", "How it takes a damp slab.").like("Low limit: it is no vapor barrier");
    }

    coats = once("words.coats", "Words for each coat, by its key.")
        .shown()
        .tables(&[coat_words::TABLE]) => {}

    coat_words = once("words.coats.primer", "Words for the coat of this key; every coat has some.")
        .any_name()
        .more(&[&[
            ("", "top"),
            ("name", "\"Clear coat\""),
            ("does", "\"Keeps oil and salt off the concrete.\""),
        ]]) => {
        NAME: String = need("name", "What the coat is called.").like("Epoxy primer");
        DOES: String = need("does", "What it does.").like("Gives the clear coat a bed to stick to.");
    }
}
