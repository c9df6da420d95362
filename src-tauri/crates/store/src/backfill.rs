//! What an upgrade takes over that SQL cannot say: the views of entries that are there already.

use rusqlite::Connection;
use serde_json::Value;

use crate::{Error, TagKey, Whereabouts, keys, settings, views, whereabouts};

/// Settings under which the first format kept what has tables of its own now.
const WHEREABOUTS: &str = "register.whereabouts";
pub(crate) const SIGNER: &str = "signer.";

/// Fills the tables of the second format.
pub(crate) fn many_logs(connection: &Connection) -> Result<(), Error> {
    signers(connection)?;
    stands(connection)?;
    views::rebuild(connection)
}

/// The public keys, which stood in settings as hexadecimal digits.
fn signers(connection: &Connection) -> Result<(), Error> {
    for (_, value) in settings::beginning_with(connection, SIGNER)? {
        key(&value).map_or(Ok(()), |key| keys::keep(connection, &key))?;
    }
    Ok(())
}

/// Reads a key that stood in a setting.
pub(crate) fn key(value: &str) -> Option<record::PublicKey> {
    from_hex(value).and_then(|cose| record::PublicKey::from_cose(&cose).ok())
}

/// Where instruments stand, which was one long text.
fn stands(connection: &Connection) -> Result<(), Error> {
    for (_, value) in settings::beginning_with(connection, WHEREABOUTS)? {
        let list: Vec<Value> = serde_json::from_str(&value).unwrap_or_default();
        for item in &list {
            if let Some(read) = read(item) {
                whereabouts::put(connection, &read)?;
            }
        }
    }
    connection.execute("DELETE FROM setting WHERE name = ?1", [WHEREABOUTS])?;
    Ok(())
}

fn read(item: &Value) -> Option<Whereabouts> {
    let text = |name: &str| item.get(name).and_then(Value::as_str).unwrap_or_default().to_owned();
    let key = Some(text("key")).filter(|key| !key.is_empty())?;
    let feet = item.get("feet").and_then(Value::as_bool).unwrap_or_default();
    Some(Whereabouts {
        key: TagKey(key),
        position: text("position"),
        due: text("due"),
        work: text("work"),
        feet,
    })
}

fn from_hex(text: &str) -> Option<Vec<u8>> {
    let digits: Vec<u8> = text
        .bytes()
        .map(|byte| char::from(byte).to_digit(16))
        .map(|digit| digit.and_then(|digit| u8::try_from(digit).ok()))
        .collect::<Option<_>>()?;
    let pairs = digits.chunks_exact(2);
    if !pairs.remainder().is_empty() {
        return None;
    }
    Some(pairs.map(|pair| pair.iter().fold(0, |sum, digit| sum << 4 | digit)).collect())
}
