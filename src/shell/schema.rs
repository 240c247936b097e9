//! `schema`: the JSON Schema of what other verbs print as JSON.

use slableaf::results;
use slableaf::results::customer::CustomerForm;
use slableaf::results::findings::FindingsForm;
use slableaf::results::reprice::RepriceForm;
use slableaf::results::shop::ShopForm;

use crate::shell::args::{Schema, SchemaKind};
use crate::shell::{Exit, terminal};

pub fn schema(wanted: &Schema) -> Exit {
    let schema = match wanted.kind {
        SchemaKind::Results => results::schema::<ShopForm>(),
        SchemaKind::ResultsCustomer => results::schema::<CustomerForm>(),
        SchemaKind::Findings => results::schema::<FindingsForm>(),
        SchemaKind::Reprice => results::schema::<RepriceForm>(),
    };
    println!("{}", terminal::json(&schema));
    Exit::Fine
}
