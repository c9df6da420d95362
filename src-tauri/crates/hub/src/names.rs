//! Names of things in addresses and answers: hexadecimal, read in one form only.

use record::{EntryId, LogId, PayloadHash, Seq};

/// Writes bytes.
#[must_use]
pub fn hex(bytes: &[u8]) -> String {
    bytes.iter().map(|byte| format!("{byte:02x}")).collect()
}

/// Reads so many bytes; capital letters are another form.
#[must_use]
pub fn unhex<const N: usize>(text: &str) -> Option<[u8; N]> {
    let digit = |byte: u8| match byte {
        b'0'..=b'9' => Some(byte - b'0'),
        b'a'..=b'f' => Some(byte - b'a' + 10),
        _ => None,
    };
    let bytes = text.as_bytes();
    if bytes.len() != 2 * N {
        return None;
    }
    let pairs = bytes.chunks_exact(2).map(|pair| match pair {
        [high, low] => Some(digit(*high)? << 4 | digit(*low)?),
        _ => None,
    });
    pairs.collect::<Option<Vec<u8>>>()?.try_into().ok()
}

/// Writes an entry's name: log, place and payload.
#[must_use]
pub fn entry_name(id: &EntryId) -> String {
    format!("{}-{}-{}", hex(&id.log.0), id.seq, hex(&id.payload.0))
}

/// Reads an entry's name.
#[must_use]
pub fn read_entry_name(text: &str) -> Option<EntryId> {
    let (log, rest) = text.split_once('-')?;
    let (seq, payload) = rest.split_once('-')?;
    let number: u64 = seq.parse().ok()?;
    // One form: no sign and no zeros before.
    let seq = Seq::new(number).filter(|_| number.to_string() == seq)?;
    Some(EntryId { log: LogId(unhex(log)?), seq, payload: PayloadHash(unhex(payload)?) })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_entrys_name_has_one_form() {
        let id = EntryId { log: LogId([0xa1; 32]), seq: Seq::FIRST, payload: PayloadHash([0x0f; 32]) };
        let name = entry_name(&id);
        assert_eq!(read_entry_name(&name), Some(id));
        let longer = name.replace("-1-", "-01-");
        for wrong in ["", "-", "../../x", &name.to_uppercase(), &longer, &name[1..]] {
            assert!(read_entry_name(wrong).is_none(), "{wrong}");
        }
    }
}
