//! One thing observed, signed where it was: a photo, a dip, a reading. A visit cites it by its hash.

use domain::visit::Measured;
use record::Kind;

use crate::body::{Body, body_methods};
use crate::codec::{Fields, Map, Out, Read, Written, bytes, read_measured, row, text, word, write_measured};
use crate::{Error, PhotoHash, Technician};

/// The kind of entry that holds an observation.
pub const OBSERVATION: Kind = Kind(2);

/// The version of the observation's body that is written here.
pub const OBSERVATION_VERSION: u32 = 1;

/// The most bytes of a photo's file that are carried and kept: 256 MiB, which no phone takes in. An observation that names a
/// longer one is valid all the same; its photo does not come.
pub const PHOTO_BYTES: u64 = 256 * 1024 * 1024;

/// What was observed. The words are frozen: none ever gets a second meaning.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Observed {
    /// Something was photographed.
    Photo,
    /// The level was taken by tape, from above or below.
    Dip,
    /// A display or another instrument was read.
    Reading,
    /// Something else, told by the note.
    Other,
}

const OBSERVED: [Observed; 4] = [Observed::Photo, Observed::Dip, Observed::Reading, Observed::Other];

impl Observed {
    /// Returns the word in the body.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Observed::Photo => "photo",
            Observed::Dip => "dip",
            Observed::Reading => "reading",
            Observed::Other => "other",
        }
    }

    /// Returns what a word stands for.
    #[must_use]
    pub fn from_word(word: &str) -> Option<Observed> {
        OBSERVED.into_iter().find(|observed| observed.word() == word)
    }
}

/// A photo that is named and not held: its bytes travel by themselves.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Photo {
    /// The hash of its file.
    pub hash: PhotoHash,
    /// The length of its file in bytes.
    pub length: u64,
    /// What the file is, such as `image/jpeg`.
    pub media_type: String,
}

/// One reading of a series.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Reading {
    /// As typed.
    pub text: String,
    /// What it was read as.
    pub value: Measured,
}

/// An observation as it is signed.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Observation {
    /// The version of the app that wrote it.
    pub app: String,
    /// Who observed it.
    pub technician: Technician,
    /// The instrument's tag, as the register writes it; empty where it belongs to none.
    pub tag: String,
    /// What was observed.
    pub what: Observed,
    /// The photo; there is one where a photo is what was observed.
    pub photo: Option<Photo>,
    /// The readings, in the order they were taken; there is one at least where a dip or a reading was observed.
    pub readings: Vec<Reading>,
    /// What the person noted.
    pub note: String,
    /// The draft or visit it was made for; empty where it was made for none.
    pub made_for: String,
}

mod key {
    pub(super) const APP: u64 = 1;
    pub(super) const TECHNICIAN: u64 = 2;
    pub(super) const TAG: u64 = 3;
    pub(super) const WHAT: u64 = 4;
    pub(super) const PHOTO: u64 = 5;
    pub(super) const READINGS: u64 = 6;
    pub(super) const NOTE: u64 = 7;
    pub(super) const MADE_FOR: u64 = 8;
}

body_methods!(Observation);

impl Body for Observation {
    const KIND: Kind = OBSERVATION;
    const VERSION: u32 = OBSERVATION_VERSION;
    const NAME: &'static str = "observation";
    const VERSIONED: &'static str = "observation version";

    fn write(&self, map: &mut Map) -> Written {
        map.texts(&[
            (key::APP, &self.app),
            (key::TAG, &self.tag),
            (key::NOTE, &self.note),
            (key::MADE_FOR, &self.made_for),
        ])?;
        map.put(key::TECHNICIAN, |out| self.technician.write(out))?;
        map.put(key::WHAT, |out| Ok(out.str(self.what.word())?.ok()?))?;
        map.some(key::PHOTO, self.photo.as_ref(), write_photo)?;
        map.list(key::READINGS, &self.readings, write_reading)
    }

    fn read(map: &mut Fields<'_>, _: u32) -> Result<Observation, Error> {
        Ok(Observation {
            app: map.text(key::APP)?,
            technician: map.need(key::TECHNICIAN, Technician::read)?,
            tag: map.text(key::TAG)?,
            what: map.need(key::WHAT, |from| word(from, "observation.what", Observed::from_word))?,
            photo: map.some(key::PHOTO, read_photo)?,
            readings: map.list(key::READINGS, "observation.readings", read_reading)?,
            note: map.text(key::NOTE)?,
            made_for: map.text(key::MADE_FOR)?,
        })
    }

    fn check(&self) -> Result<(), &'static str> {
        // What is observed must be there, or it is no observation of that.
        match self.what {
            Observed::Photo if self.photo.is_none() => Err("observation.photo"),
            Observed::Dip | Observed::Reading if self.readings.is_empty() => Err("observation.readings"),
            Observed::Other if self.photo.is_none() && self.readings.is_empty() && self.note.is_empty() => {
                Err("observation.note")
            }
            _ => self.photo.as_ref().map_or(Ok(()), check_photo),
        }
    }
}

/// The greatest length that can be named: databases keep whole numbers with a sign.
const LONGEST: u64 = i64::MAX.unsigned_abs();

fn check_photo(photo: &Photo) -> Result<(), &'static str> {
    let sound = (1..=LONGEST).contains(&photo.length) && !photo.media_type.is_empty();
    if sound { Ok(()) } else { Err("observation.photo") }
}

fn write_photo(out: &mut Out, photo: &Photo) -> Written {
    let mut map = Map::default();
    map.put(1, |out| Ok(out.bytes(&photo.hash.0)?.ok()?))?;
    map.put(2, |out| Ok(out.u64(photo.length)?.ok()?))?;
    map.texts(&[(3, &photo.media_type)])?;
    map.write(out)
}

fn read_photo(from: &mut Read<'_>) -> Result<Photo, Error> {
    let place = "observation.photo";
    let mut map = Fields::read(from, place)?;
    let photo = Photo {
        hash: PhotoHash(map.need(1, |from| bytes(from, place))?),
        length: map.need(2, |from| from.u64().map_err(|_| Error::at(place)))?,
        media_type: map.text(3)?,
    };
    map.end()?;
    Ok(photo)
}

fn write_reading(out: &mut Out, reading: &Reading) -> Written {
    out.array(3)?.str(&reading.text)?;
    write_measured(out, &reading.value)
}

fn read_reading(from: &mut Read<'_>) -> Result<Reading, Error> {
    let place = "observation.readings";
    row(from, 3, place)?;
    Ok(Reading { text: text(from, place)?, value: read_measured(from, place)? })
}
