//! Writing.

use std::collections::BTreeMap;

use minicbor::Encoder;

use crate::Error;

/// What everything is written into.
pub(crate) type Out = Encoder<Vec<u8>>;

/// What every writing function gives.
pub(crate) type Written = Result<(), Error>;

/// A map under way. Its fields may come in any order and are written by rising key; small numbers as keys sort
/// by value as they do by bytes.
#[derive(Default)]
pub(crate) struct Map(BTreeMap<u64, Vec<u8>>);

impl Map {
    /// Puts a field in.
    pub(crate) fn put(&mut self, key: u64, write: impl FnOnce(&mut Out) -> Written) -> Written {
        let mut value = Encoder::new(Vec::new());
        write(&mut value)?;
        self.0.insert(key, value.into_writer());
        Ok(())
    }

    /// Puts texts in; empty ones are left out.
    pub(crate) fn texts(&mut self, texts: &[(u64, &str)]) -> Written {
        let filled = texts.iter().filter(|(_, text)| !text.is_empty());
        filled.copied().try_for_each(|(key, text)| self.put(key, |out| Ok(out.str(text)?.ok()?)))
    }

    /// Puts true in; false is left out.
    pub(crate) fn flag(&mut self, key: u64, flag: bool) -> Written {
        if flag { self.put(key, |out| Ok(out.bool(true)?.ok()?)) } else { Ok(()) }
    }

    /// Puts a list in; an empty one is left out.
    pub(crate) fn list<'a, T: 'a>(
        &mut self,
        key: u64,
        list: impl IntoIterator<Item = &'a T, IntoIter: ExactSizeIterator>,
        mut each: impl FnMut(&mut Out, &T) -> Written,
    ) -> Written {
        let mut list = list.into_iter();
        if list.len() == 0 {
            return Ok(());
        }
        self.put(key, |out| {
            out.array(list.len() as u64)?;
            list.try_for_each(|item| each(out, item))
        })
    }

    /// Puts in what there is; nothing is left out.
    pub(crate) fn some<T>(
        &mut self,
        key: u64,
        value: Option<&T>,
        write: impl FnOnce(&mut Out, &T) -> Written,
    ) -> Written {
        value.map_or(Ok(()), |value| self.put(key, |out| write(out, value)))
    }

    /// Writes the map.
    pub(crate) fn write(self, out: &mut Out) -> Written {
        out.map(self.0.len() as u64)?;
        for (key, value) in self.0 {
            out.u64(key)?.writer_mut().extend_from_slice(&value);
        }
        Ok(())
    }
}
