//! Reading. The bytes have passed the strict check before they come here, so lengths are closed and true.

use std::collections::BTreeMap;

use minicbor::Decoder;
use record::Seq;

use crate::Error;

/// What everything is read from.
pub(crate) type Read<'b> = Decoder<'b>;

/// The fields of a map that nobody has asked for yet.
pub(crate) struct Fields<'b> {
    place: &'static str,
    left: BTreeMap<u64, &'b [u8]>,
}

impl<'b> Fields<'b> {
    /// Reads a map and keeps its fields as bytes.
    pub(crate) fn read(from: &mut Read<'b>, place: &'static str) -> Result<Fields<'b>, Error> {
        let left = fields(from).map_err(|_| Error::at(place))?;
        Ok(Fields { place, left })
    }

    /// Returns a field that must be there.
    pub(crate) fn need<T>(
        &mut self,
        key: u64,
        read: impl FnOnce(&mut Read<'b>) -> Result<T, Error>,
    ) -> Result<T, Error> {
        let bytes = self.left.remove(&key).ok_or(Error::at(self.place))?;
        read(&mut Decoder::new(bytes))
    }

    /// Returns a field, none when it is left out.
    pub(crate) fn some<T>(
        &mut self,
        key: u64,
        read: impl FnOnce(&mut Read<'b>) -> Result<T, Error>,
    ) -> Result<Option<T>, Error> {
        if self.left.contains_key(&key) { self.need(key, read).map(Some) } else { Ok(None) }
    }

    /// Returns a text, empty when it is left out.
    pub(crate) fn text(&mut self, key: u64) -> Result<String, Error> {
        let place = self.place;
        if self.left.contains_key(&key) {
            self.need(key, |from| text(from, place))
        } else {
            Ok(String::new())
        }
    }

    /// Returns whether a flag is set.
    pub(crate) fn flag(&mut self, key: u64) -> Result<bool, Error> {
        let place = self.place;
        if !self.left.contains_key(&key) {
            return Ok(false);
        }
        self.need(key, |from| from.bool().map_err(|_| Error::at(place)))
    }

    /// Returns a list, empty when it is left out.
    pub(crate) fn list<T>(
        &mut self,
        key: u64,
        place: &'static str,
        each: impl FnMut(&mut Read<'b>) -> Result<T, Error>,
    ) -> Result<Vec<T>, Error> {
        if self.left.contains_key(&key) {
            self.need(key, |from| list(from, place, each))
        } else {
            Ok(Vec::new())
        }
    }

    /// Refuses fields that came after a version was frozen.
    pub(crate) fn none_after(&self, last: u64) -> Result<(), Error> {
        match self.left.keys().find(|key| **key > last) {
            None => Ok(()),
            Some(key) => Err(Error::UnknownField { place: self.place, key: *key }),
        }
    }

    /// Refuses fields that nobody asked for.
    pub(crate) fn end(self) -> Result<(), Error> {
        match self.left.keys().next() {
            None => Ok(()),
            Some(key) => Err(Error::UnknownField { place: self.place, key: *key }),
        }
    }
}

fn fields<'b>(from: &mut Read<'b>) -> Result<BTreeMap<u64, &'b [u8]>, minicbor::decode::Error> {
    let count = from.map()?.unwrap_or_default();
    let whole = from.input();
    (0..count)
        .map(|_| {
            let key = from.u64()?;
            let at = from.position();
            from.skip()?;
            Ok((key, whole.get(at..from.position()).unwrap_or_default()))
        })
        .collect()
}

/// Begins a list that always has the same number of places.
pub(crate) fn row(from: &mut Read<'_>, places: u64, place: &'static str) -> Result<(), Error> {
    match from.array() {
        Ok(Some(found)) if found == places => Ok(()),
        _ => Err(Error::at(place)),
    }
}

/// Reads a text.
pub(crate) fn text(from: &mut Read<'_>, place: &'static str) -> Result<String, Error> {
    Ok(from.str().map_err(|_| Error::at(place))?.to_owned())
}

/// Reads a list.
fn list<'b, T>(
    from: &mut Read<'b>,
    place: &'static str,
    mut each: impl FnMut(&mut Read<'b>) -> Result<T, Error>,
) -> Result<Vec<T>, Error> {
    let count = from.array().map_err(|_| Error::at(place))?.unwrap_or_default();
    (0..count).map(|_| each(from)).collect()
}

/// Reads bytes of one length.
pub(crate) fn bytes<const N: usize>(from: &mut Read<'_>, place: &'static str) -> Result<[u8; N], Error> {
    let bytes = from.bytes().ok().and_then(|bytes| bytes.try_into().ok());
    bytes.ok_or(Error::at(place))
}

/// Reads a place in a log.
pub(crate) fn seq(from: &mut Read<'_>, place: &'static str) -> Result<Seq, Error> {
    from.u64().ok().and_then(Seq::new).ok_or(Error::at(place))
}

/// Reads a word that stands for a choice of the program.
pub(crate) fn word<T>(
    from: &mut Read<'_>,
    place: &'static str,
    known: impl FnOnce(&str) -> Option<T>,
) -> Result<T, Error> {
    known(from.str().map_err(|_| Error::at(place))?).ok_or(Error::UnknownWord { place })
}
