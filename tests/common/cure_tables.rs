//! Rows of the reference tables, by column.

use std::collections::HashMap;

pub type Row = HashMap<String, String>;

pub fn table(name: &str) -> Vec<Row> {
    let path = format!("{}/data/reference/cure/{name}", env!("CARGO_MANIFEST_DIR"));
    csv::Reader::from_path(path)
        .unwrap()
        .deserialize()
        .collect::<Result<_, _>>()
        .unwrap()
}

pub fn number(row: &Row, key: &str) -> f64 {
    row[key]
        .parse()
        .unwrap_or_else(|_| panic!("{key} of {row:?}"))
}
