//! The payload: the map that is signed. Its keys are frozen in `FORMAT.md`.

use minicbor::{Decoder, Encoder};

use crate::cbor;
use crate::{BodyHash, Error, Kind, LogId, Part, PayloadHash, Seq};

/// The number of the header's format that is written here.
pub const FORMAT: u64 = 1;

mod key {
    pub(super) const FORMAT: u64 = 1;
    pub(super) const LOG: u64 = 2;
    pub(super) const SEQ: u64 = 3;
    pub(super) const PREVIOUS: u64 = 4;
    pub(super) const KIND: u64 = 5;
    pub(super) const BODY_VERSION: u64 = 6;
    pub(super) const BODY_HASH: u64 = 7;
    pub(super) const BODY_LENGTH: u64 = 8;
    pub(super) const CLAIMED: u64 = 9;
    pub(super) const OFFSET: u64 = 10;
    pub(super) const SINCE_BOOT: u64 = 11;
    pub(super) const BOOT_MARK: u64 = 12;
}

/// Where an entry stands in its chain.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Link {
    /// The first of its log.
    First,
    /// Behind another.
    After {
        /// The place of the one before.
        seq: Seq,
        /// The hash of its payload.
        payload: PayloadHash,
    },
}

impl Link {
    /// Returns the place that this link leads to.
    ///
    /// # Errors
    ///
    /// [`Error::LogFull`] behind the very last place.
    pub fn seq(self) -> Result<Seq, Error> {
        match self {
            Link::First => Ok(Seq::FIRST),
            Link::After { seq, .. } => seq.next().ok_or(Error::LogFull),
        }
    }

    /// Returns the hash of the payload before, or none at the first place.
    #[must_use]
    pub fn previous(self) -> Option<PayloadHash> {
        match self {
            Link::First => None,
            Link::After { payload, .. } => Some(payload),
        }
    }
}

/// A moment as the phone's clock claimed it. It informs people and orders nothing.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Claimed {
    /// Milliseconds since 1970-01-01T00:00Z.
    pub millis: i64,
    /// Minutes by which the local time ran ahead of UTC, within 18 hours either way.
    pub offset_minutes: i16,
}

/// What a phone counts its time since boot under: any bytes, 1 to 32, that differ from boot to boot.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct BootMark(Vec<u8>);

impl BootMark {
    /// Returns a mark; `None` for no bytes, or more than 32.
    #[must_use]
    pub fn new(bytes: &[u8]) -> Option<BootMark> {
        (1..=32).contains(&bytes.len()).then(|| BootMark(bytes.to_vec()))
    }

    /// Returns the bytes.
    #[must_use]
    pub fn bytes(&self) -> &[u8] {
        &self.0
    }
}

/// The clock that nobody sets: between two entries under one mark the time that passed is known.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Boot {
    /// Milliseconds since boot, sleep included.
    pub elapsed_millis: u64,
    /// Which boot.
    pub mark: BootMark,
}

/// What is signed about an entry.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Header {
    /// The number of the header's format. Above [`FORMAT`] there may be more in the payload than is read here.
    pub format: u64,
    /// Whose log.
    pub log: LogId,
    /// Which place.
    pub seq: Seq,
    /// The hash of the payload before; none at the first place.
    pub previous: Option<PayloadHash>,
    /// What the body is.
    pub kind: Kind,
    /// The version of that kind of body.
    pub body_version: u32,
    /// The hash of the body.
    pub body: BodyHash,
    /// The length of the body in bytes.
    pub body_length: u64,
    /// When, by the phone's clock.
    pub claimed: Claimed,
    /// When, by the time since boot; none where the platform does not tell.
    pub boot: Option<Boot>,
}

impl Header {
    /// Writes the payload.
    pub(crate) fn encode(&self) -> Result<Vec<u8>, Error> {
        let mut out = Encoder::new(Vec::with_capacity(224));
        let keys = 9 + u64::from(self.previous.is_some()) + 2 * u64::from(self.boot.is_some());
        out.map(keys)?;
        out.u64(key::FORMAT)?.u64(self.format)?;
        out.u64(key::LOG)?.bytes(&self.log.0)?;
        out.u64(key::SEQ)?.u64(self.seq.get())?;
        if let Some(previous) = &self.previous {
            out.u64(key::PREVIOUS)?.bytes(&previous.0)?;
        }
        out.u64(key::KIND)?.u32(self.kind.0)?;
        out.u64(key::BODY_VERSION)?.u32(self.body_version)?;
        out.u64(key::BODY_HASH)?.bytes(&self.body.0)?;
        out.u64(key::BODY_LENGTH)?.u64(self.body_length)?;
        out.u64(key::CLAIMED)?.i64(self.claimed.millis)?;
        out.u64(key::OFFSET)?.i16(self.claimed.offset_minutes)?;
        if let Some(boot) = &self.boot {
            out.u64(key::SINCE_BOOT)?.u64(boot.elapsed_millis)?;
            out.u64(key::BOOT_MARK)?.bytes(boot.mark.bytes())?;
        }
        Ok(out.into_writer())
    }

    /// Reads the payload.
    pub(crate) fn decode(payload: &[u8]) -> Result<Header, Error> {
        cbor::check(payload).map_err(|fault| Error::Cbor {
            part: Part::Payload,
            at: fault.at,
            flaw: fault.flaw,
        })?;
        let mut raw = Raw::default();
        raw.read(&mut Decoder::new(payload)).map_err(|_| malformed("a field has the wrong type or size"))?;
        raw.header()
    }
}

fn malformed(what: &'static str) -> Error {
    Error::Malformed { part: Part::Payload, what }
}

/// The fields as they are met, not yet judged together.
#[derive(Default)]
struct Raw<'b> {
    format: Option<u64>,
    log: Option<&'b [u8]>,
    seq: Option<u64>,
    previous: Option<&'b [u8]>,
    kind: Option<u32>,
    body_version: Option<u32>,
    body: Option<&'b [u8]>,
    body_length: Option<u64>,
    claimed: Option<i64>,
    offset: Option<i16>,
    since_boot: Option<u64>,
    boot_mark: Option<&'b [u8]>,
    others: bool,
}

impl<'b> Raw<'b> {
    fn read(&mut self, from: &mut Decoder<'b>) -> Result<(), minicbor::decode::Error> {
        for _ in 0..from.map()?.unwrap_or_default() {
            match from.u64()? {
                key::FORMAT => self.format = Some(from.u64()?),
                key::LOG => self.log = Some(from.bytes()?),
                key::SEQ => self.seq = Some(from.u64()?),
                key::PREVIOUS => self.previous = Some(from.bytes()?),
                key::KIND => self.kind = Some(from.u32()?),
                key::BODY_VERSION => self.body_version = Some(from.u32()?),
                key::BODY_HASH => self.body = Some(from.bytes()?),
                key::BODY_LENGTH => self.body_length = Some(from.u64()?),
                key::CLAIMED => self.claimed = Some(from.i64()?),
                key::OFFSET => self.offset = Some(from.i16()?),
                key::SINCE_BOOT => self.since_boot = Some(from.u64()?),
                key::BOOT_MARK => self.boot_mark = Some(from.bytes()?),
                _ => {
                    self.others = true;
                    from.skip()?;
                }
            }
        }
        Ok(())
    }

    fn header(&self) -> Result<Header, Error> {
        let format = self.format.ok_or(malformed("the format number is missing"))?;
        if format == 0 || (format == FORMAT && self.others) {
            return Err(malformed("it has fields that this format does not have"));
        }
        let seq = self.seq.and_then(Seq::new).ok_or(malformed("the place is missing or out of range"))?;
        let previous = self.previous.map(hash).transpose()?.map(PayloadHash);
        if previous.is_some() == (seq == Seq::FIRST) {
            return Err(malformed("the first place names no forerunner, and every other place names one"));
        }
        Ok(Header {
            format,
            log: LogId(hash(self.log.unwrap_or_default())?),
            seq,
            previous,
            kind: Kind(self.kind.ok_or(malformed("the kind is missing"))?),
            body_version: self.body_version.ok_or(malformed("the body's version is missing"))?,
            body: BodyHash(hash(self.body.unwrap_or_default())?),
            body_length: self.body_length.ok_or(malformed("the body's length is missing"))?,
            claimed: self.claimed()?,
            boot: self.boot()?,
        })
    }

    fn claimed(&self) -> Result<Claimed, Error> {
        let millis = self.claimed.ok_or(malformed("the claimed time is missing"))?;
        let offset = self.offset.filter(|minutes| (-MAX_OFFSET..=MAX_OFFSET).contains(minutes));
        let offset_minutes = offset.ok_or(malformed("the offset from UTC is missing or above 18 h"))?;
        Ok(Claimed { millis, offset_minutes })
    }

    fn boot(&self) -> Result<Option<Boot>, Error> {
        match (self.since_boot, self.boot_mark) {
            (None, None) => Ok(None),
            (Some(elapsed_millis), Some(mark)) => {
                let mark = BootMark::new(mark).ok_or(malformed("the boot mark has no bytes or above 32"))?;
                Ok(Some(Boot { elapsed_millis, mark }))
            }
            _ => Err(malformed("time since boot and boot mark stand together or not at all")),
        }
    }
}

/// The largest offset from UTC, in minutes: 18 hours, as usual in time libraries.
pub(crate) const MAX_OFFSET: i16 = 18 * 60;

fn hash(bytes: &[u8]) -> Result<[u8; 32], Error> {
    bytes.try_into().map_err(|_| malformed("a hash is missing or has not 32 bytes"))
}
