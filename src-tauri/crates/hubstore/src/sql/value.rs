//! What goes into a statement and comes out of a row: whole numbers, text, bytes. Nothing is NULL.

use bodies::{Confirmed, PersonId, PhotoHash};
use record::{EntryId, Kind, LogId, PayloadHash, Seq};

use crate::{Arrival, Error, Version};

/// A value.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) enum Value {
    Int(i64),
    Text(String),
    Blob(Vec<u8>),
}

impl Value {
    pub(crate) fn blob(bytes: impl AsRef<[u8]>) -> Value {
        Value::Blob(bytes.as_ref().to_vec())
    }

    /// PostgreSQL keeps no text with a zero in it; the mark for what cannot be shown stands for it.
    pub(crate) fn text(text: impl AsRef<str>) -> Value {
        Value::Text(text.as_ref().replace('\0', "\u{fffd}"))
    }

    pub(crate) fn as_int(&self) -> Option<i64> {
        if let Value::Int(number) = self { Some(*number) } else { None }
    }

    pub(crate) fn as_text(&self) -> Option<&str> {
        if let Value::Text(text) = self { Some(text) } else { None }
    }

    pub(crate) fn as_blob(&self) -> Option<&[u8]> {
        if let Value::Blob(bytes) = self { Some(bytes) } else { None }
    }

    /// Numbers above 2^63 do not come up; the largest stands for them.
    pub(crate) fn count(number: u64) -> Value {
        Value::Int(i64::try_from(number).unwrap_or(i64::MAX))
    }

    pub(crate) fn flag(flag: bool) -> Value {
        Value::Int(i64::from(flag))
    }

    pub(crate) fn seq(seq: Seq) -> Value {
        Value::count(seq.get())
    }

    pub(crate) fn previous(previous: Option<PayloadHash>) -> Value {
        Value::Blob(previous.map(|hash| hash.0.to_vec()).unwrap_or_default())
    }

    /// The number that a list is continued below.
    pub(crate) fn below(before: Option<Arrival>) -> Value {
        before.map_or(Value::Int(i64::MAX), |arrival| Value::count(arrival.0))
    }

    /// The three values of an identity.
    pub(crate) fn id(id: EntryId) -> [Value; 3] {
        [Value::blob(id.log.0), Value::seq(id.seq), Value::blob(id.payload.0)]
    }
}

/// A row, read from its first column to its last.
#[derive(Debug)]
pub(crate) struct Row(std::vec::IntoIter<Value>);

impl Row {
    pub(crate) fn of(values: Vec<Value>) -> Row {
        Row(values.into_iter())
    }

    pub(crate) fn int(&mut self) -> Result<i64, Error> {
        match self.0.next() {
            Some(Value::Int(number)) => Ok(number),
            other => Err(wrong("a number", other.as_ref())),
        }
    }

    pub(crate) fn count(&mut self) -> Result<u64, Error> {
        let number = self.int()?;
        u64::try_from(number).map_err(|_| Error::unreadable(format!("a count of {number}")))
    }

    pub(crate) fn small(&mut self) -> Result<u32, Error> {
        let number = self.int()?;
        u32::try_from(number).map_err(|_| Error::unreadable(format!("a small number of {number}")))
    }

    pub(crate) fn flag(&mut self) -> Result<bool, Error> {
        Ok(self.int()? != 0)
    }

    pub(crate) fn text(&mut self) -> Result<String, Error> {
        match self.0.next() {
            Some(Value::Text(text)) => Ok(text),
            other => Err(wrong("a text", other.as_ref())),
        }
    }

    pub(crate) fn blob(&mut self) -> Result<Vec<u8>, Error> {
        match self.0.next() {
            Some(Value::Blob(bytes)) => Ok(bytes),
            other => Err(wrong("bytes", other.as_ref())),
        }
    }

    pub(crate) fn fixed<const N: usize>(&mut self) -> Result<[u8; N], Error> {
        let bytes = self.blob()?;
        let found = bytes.len();
        bytes.try_into().map_err(|_| Error::unreadable(format!("{found} bytes where {N} stand")))
    }

    pub(crate) fn log(&mut self) -> Result<LogId, Error> {
        self.fixed().map(LogId)
    }

    pub(crate) fn hash(&mut self) -> Result<PayloadHash, Error> {
        self.fixed().map(PayloadHash)
    }

    pub(crate) fn previous(&mut self) -> Result<Option<PayloadHash>, Error> {
        let bytes = self.blob()?;
        if bytes.is_empty() {
            return Ok(None);
        }
        let hash = bytes.try_into().map_err(|_| Error::unreadable("a hash that has not 32 bytes"))?;
        Ok(Some(PayloadHash(hash)))
    }

    pub(crate) fn seq(&mut self) -> Result<Seq, Error> {
        let number = self.count()?;
        Seq::new(number).ok_or_else(|| Error::unreadable("a place that is none"))
    }

    pub(crate) fn id(&mut self) -> Result<EntryId, Error> {
        Ok(EntryId { log: self.log()?, seq: self.seq()?, payload: self.hash()? })
    }

    pub(crate) fn kind(&mut self) -> Result<Kind, Error> {
        self.small().map(Kind)
    }

    pub(crate) fn arrival(&mut self) -> Result<Arrival, Error> {
        self.count().map(Arrival)
    }

    pub(crate) fn confirmed(&mut self) -> Result<Confirmed, Error> {
        let word = self.text()?;
        Confirmed::from_word(&word).ok_or_else(|| Error::unreadable(format!("confirmed by {word:?}")))
    }

    pub(crate) fn version(&mut self) -> Result<Version, Error> {
        self.count().map(Version)
    }

    pub(crate) fn photo(&mut self) -> Result<PhotoHash, Error> {
        self.fixed().map(PhotoHash)
    }

    pub(crate) fn person(&mut self) -> Result<PersonId, Error> {
        self.fixed().map(PersonId)
    }
}

fn wrong(expected: &str, found: Option<&Value>) -> Error {
    let found = match found {
        Some(Value::Int(_)) => "a number",
        Some(Value::Text(_)) => "a text",
        Some(Value::Blob(_)) => "bytes",
        None => "nothing",
    };
    Error::unreadable(format!("{found} in a column of {expected}"))
}
