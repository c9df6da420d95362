//! How names stand in messages: byte strings of their length, places as whole numbers, groups as arrays.

use std::collections::BTreeMap;

use bodies::{HeldRun, PersonId};
use minicbor::decode::Error as Unread;
use minicbor::encode::{Error as Unwritten, Write};
use minicbor::{Decode, Decoder, Encode, Encoder};
use record::{EntryId, LogId, PayloadHash, Seq};

use crate::have::HaveSet;
use crate::message::{About, Cursor, Refused};
use crate::page::Named;
use crate::run::Wanted;

fn array<const N: usize>(from: &mut Decoder<'_>) -> Result<[u8; N], Unread> {
    from.bytes()?.try_into().map_err(|_| Unread::message("a byte string of another length"))
}

fn place(from: &mut Decoder<'_>) -> Result<Seq, Unread> {
    Seq::new(from.u64()?).ok_or_else(|| Unread::message("no place of a log"))
}

/// Begins a group that always has the same number of places.
fn group(from: &mut Decoder<'_>, places: u64) -> Result<(), Unread> {
    if from.array()? == Some(places) { Ok(()) } else { Err(Unread::message("a group of another length")) }
}

/// Writes and reads a type of ours as given.
macro_rules! in_messages {
    ($name:ty, |$value:ident, $out:ident| $write:expr, |$from:ident| $read:expr) => {
        impl<C> Encode<C> for $name {
            fn encode<W: Write>(&self, $out: &mut Encoder<W>, _: &mut C) -> Result<(), Unwritten<W::Error>> {
                let $value = self;
                $write?;
                Ok(())
            }
        }

        impl<'b, C> Decode<'b, C> for $name {
            fn decode($from: &mut Decoder<'b>, _: &mut C) -> Result<$name, Unread> {
                $read
            }
        }
    };
}

in_messages!(
    Wanted,
    |wanted, out| {
        out.array(4)?.bytes(&wanted.log.0)?.u64(wanted.from.get())?;
        out.u64(wanted.to.get())?.bytes(&wanted.end.0)
    },
    |from| {
        group(from, 4)?;
        let (log, first, to) = (LogId(array(from)?), place(from)?, place(from)?);
        Ok(Wanted { log, from: first, to, end: PayloadHash(array(from)?) })
    }
);

in_messages!(Named, |named, out| out.array(2)?.bytes(&named.person.0)?.str(&named.name), |from| {
    group(from, 2)?;
    Ok(Named { person: PersonId(array(from)?), name: from.str()?.to_owned() })
});

in_messages!(Cursor, |cursor, out| out.array(2)?.str(&cursor.area)?.u64(cursor.version), |from| {
    group(from, 2)?;
    Ok(Cursor { area: from.str()?.to_owned(), version: from.u64()? })
});

in_messages!(
    About,
    |about, out| {
        out.array(2)?.bytes(&about.log.0)?.array(about.receipts.len() as u64)?;
        about.receipts.iter().try_for_each(|receipt| out.bytes(&receipt.0)?.ok())
    },
    |from| {
        group(from, 2)?;
        let log = LogId(array(from)?);
        let count = from.array()?.ok_or_else(|| Unread::message("a list without a length"))?;
        let receipts = (0..count).map(|_| array(from).map(PayloadHash)).collect::<Result<_, _>>()?;
        Ok(About { log, receipts })
    }
);

in_messages!(
    Refused,
    |refused, out| {
        out.array(4)?.bytes(&refused.id.log.0)?.u64(refused.id.seq.get())?;
        out.bytes(&refused.id.payload.0)?.str(&refused.code)
    },
    |from| {
        group(from, 4)?;
        let id = EntryId { log: LogId(array(from)?), seq: place(from)?, payload: PayloadHash(array(from)?) };
        Ok(Refused { id, code: from.str()?.to_owned() })
    }
);

impl<C> Encode<C> for HaveSet {
    fn encode<W: Write>(&self, out: &mut Encoder<W>, _: &mut C) -> Result<(), Unwritten<W::Error>> {
        out.map(self.0.len() as u64)?;
        for (log, runs) in &self.0 {
            out.bytes(&log.0)?.array(runs.len() as u64)?;
            for run in runs {
                out.array(3)?.u64(run.from.get())?.u64(run.to.get())?.bytes(&run.end.0)?;
            }
        }
        Ok(())
    }
}

impl<'b, C> Decode<'b, C> for HaveSet {
    fn decode(from: &mut Decoder<'b>, _: &mut C) -> Result<HaveSet, Unread> {
        let count = from.map()?.ok_or_else(|| Unread::message("a have set without a length"))?;
        let mut have = BTreeMap::new();
        for _ in 0..count {
            let log = LogId(array(from)?);
            let count = from.array()?.ok_or_else(|| Unread::message("a list without a length"))?;
            let runs = (0..count).map(|_| run(from)).collect::<Result<_, _>>()?;
            if have.insert(log, runs).is_some() {
                return Err(Unread::message("a log that stands twice in a have set"));
            }
        }
        Ok(HaveSet(have))
    }
}

fn run(from: &mut Decoder<'_>) -> Result<HeldRun, Unread> {
    group(from, 3)?;
    Ok(HeldRun { from: place(from)?, to: place(from)?, end: PayloadHash(array(from)?) })
}

/// An epoch.
pub(crate) mod epoch {
    use bodies::Epoch;

    use super::{Decoder, Encoder, Unread, Unwritten, Write, array};

    pub(crate) fn encode<C, W: Write>(
        epoch: &Epoch,
        out: &mut Encoder<W>,
        _: &mut C,
    ) -> Result<(), Unwritten<W::Error>> {
        out.bytes(&epoch.0)?.ok()
    }

    pub(crate) fn decode<C>(from: &mut Decoder<'_>, _: &mut C) -> Result<Epoch, Unread> {
        Ok(Epoch(array(from)?))
    }
}

/// An epoch that may not be known.
pub(crate) mod some_epoch {
    use bodies::Epoch;

    use super::{Decoder, Encoder, Unread, Unwritten, Write, epoch};

    pub(crate) fn encode<C, W: Write>(
        known: &Option<Epoch>,
        out: &mut Encoder<W>,
        ctx: &mut C,
    ) -> Result<(), Unwritten<W::Error>> {
        match known {
            Some(known) => epoch::encode(known, out, ctx),
            None => out.null()?.ok(),
        }
    }

    pub(crate) fn decode<C>(from: &mut Decoder<'_>, ctx: &mut C) -> Result<Option<Epoch>, Unread> {
        if from.datatype()? == minicbor::data::Type::Null {
            return from.null().map(|()| None);
        }
        epoch::decode(from, ctx).map(Some)
    }

    pub(crate) fn is_nil(known: &Option<Epoch>) -> bool {
        known.is_none()
    }

    pub(crate) fn nil() -> Option<Option<Epoch>> {
        Some(None)
    }
}
