//! JSON Schema of the results, made from their types: draft-07, which most programs read.

use schemars::generate::SchemaSettings;
use schemars::transform::RecursiveTransform;
use schemars::{JsonSchema, Schema};

/// The schema of a form.
pub fn schema<T: JsonSchema>() -> Schema {
    SchemaSettings::draft07()
        .for_serialize()
        .with_transform(RecursiveTransform(close_objects))
        .into_generator()
        .into_root_schema_for::<T>()
}

/// An object has the fields that are listed and no others.
fn close_objects(schema: &mut Schema) {
    if schema.get("properties").is_some() {
        schema.insert("additionalProperties".to_owned(), false.into());
    }
}
