//! A body with one of its fields changed, written without the code under test.

use minicbor::{Decoder, Encoder};

/// The body with a field replaced, added, or taken away, keys rising.
pub(crate) fn with_field(body: &[u8], field: u64, value: Option<&[u8]>) -> Vec<u8> {
    let mut from = Decoder::new(body);
    let mut fields = std::collections::BTreeMap::new();
    for _ in 0..from.map().unwrap().unwrap() {
        let key = from.u64().unwrap();
        let at = from.position();
        from.skip().unwrap();
        fields.insert(key, body[at..from.position()].to_vec());
    }
    fields.remove(&field);
    fields.extend(value.map(|value| (field, value.to_vec())));
    let mut out = Encoder::new(Vec::new());
    out.map(fields.len() as u64).unwrap();
    for (key, value) in fields {
        out.u64(key).unwrap().writer_mut().extend_from_slice(&value);
    }
    out.into_writer()
}
