//! People who write records: each with a log of their own, truly signed.

use bodies::{
    Confirmed, Grade, Observation, Observed, PersonId, Photo, PhotoHash, Receipt, Review, Technician, Visit,
};
use domain::visit::{Finished, Instrument, Moment, Said};
use hubstore::{Batch, NewEntry, NewLog};
use record::{Claimed, EntryId, Kind, Link, LogId, SecretKey, Signer, open, seal};

/// Somebody with a log.
pub(crate) struct Writer {
    key: SecretKey,
    pub(crate) link: Link,
}

impl Writer {
    /// The writer of this number.
    pub(crate) fn number(number: u8) -> Writer {
        Writer { key: SecretKey::take(&mut [number; 32]), link: Link::First }
    }

    pub(crate) fn log(&self) -> LogId {
        self.key.public().log()
    }

    pub(crate) fn known(&self) -> NewLog {
        NewLog { log: self.log(), key: self.key.public().cose().to_vec() }
    }

    /// Writes an entry of any kind; the body is a text.
    pub(crate) fn say(&mut self, kind: u32, text: &str) -> NewEntry {
        let mut body = vec![0x78, u8::try_from(text.len()).unwrap()];
        if text.len() < 24 {
            body = vec![0x60 + u8::try_from(text.len()).unwrap()];
        }
        body.extend_from_slice(text.as_bytes());
        self.write(Kind(kind), 1, &body)
    }

    /// Writes an entry.
    pub(crate) fn write(&mut self, kind: Kind, version: u32, body: &[u8]) -> NewEntry {
        let claimed = Claimed { millis: 1_790_000_000_000, offset_minutes: 0 };
        let new = record::NewEntry { link: self.link, kind, body_version: version, claimed, boot: None };
        let sealed = seal(&new, body, &self.key).unwrap();
        self.link = sealed.next();
        NewEntry::of(&open(&sealed.bytes).unwrap())
    }

    pub(crate) fn visit(&mut self, tag: &str, site: &str) -> NewEntry {
        self.write(bodies::VISIT, bodies::VISIT_VERSION, &visit(tag, site).encode().unwrap())
    }

    pub(crate) fn photo(&mut self, photo: PhotoHash, length: u64) -> NewEntry {
        let observation = Observation {
            app: "0.1.0".into(),
            technician: technician(),
            tag: "LT-201".into(),
            what: Observed::Photo,
            photo: Some(Photo { hash: photo, length, media_type: "image/jpeg".into() }),
            readings: vec![],
            note: String::new(),
            made_for: String::new(),
        };
        self.write(bodies::OBSERVATION, bodies::OBSERVATION_VERSION, &observation.encode().unwrap())
    }

    pub(crate) fn review(&mut self, subject: EntryId) -> NewEntry {
        let decision = bodies::Decision::Approved;
        let review = Review { subject, decision, note: String::new(), person: PersonId([9; 16]) };
        self.write(bodies::REVIEW, bodies::REVIEW_VERSION, &review.encode().unwrap())
    }

    pub(crate) fn receipt(&mut self, log: LogId, grade: Grade) -> NewEntry {
        self.receipt_of(log, grade, &[])
    }

    /// A receipt that names photos and nothing else.
    pub(crate) fn receipt_of(&mut self, log: LogId, grade: Grade, photos: &[PhotoHash]) -> NewEntry {
        // A relay has no epoch.
        let epoch = (grade != Grade::Relayed).then_some(bodies::Epoch([5; 16]));
        let photos = photos.iter().copied().collect();
        let receipt = Receipt { epoch, log, runs: vec![], photos, grade };
        self.write(bodies::RECEIPT, bodies::RECEIPT_VERSION, &receipt.encode().unwrap())
    }
}

/// A batch of entries whose writers somebody vouches for.
pub(crate) fn batch(known: &[&Writer], entries: &[NewEntry]) -> Batch {
    Batch {
        known: known.iter().map(|writer| writer.known()).collect(),
        entries: entries.to_vec(),
        ..Batch::default()
    }
}

fn technician() -> Technician {
    Technician { person: PersonId([4; 16]), confirmed: Confirmed::Pin }
}

fn visit(tag: &str, site: &str) -> Visit {
    Visit {
        technician: technician(),
        app: "0.1.0".into(),
        finished: Finished {
            model: 7,
            instrument: instrument(tag, site),
            begun: Moment(1_790_000_000_000),
            pieces: vec![],
            answers: vec![],
            results: vec![],
            verdict: Said { code: "verdict.inside".into(), text: String::new() },
            assumptions: vec![],
            warnings: vec![],
            working: vec![],
        },
        cited: vec![],
    }
}

fn instrument(tag: &str, site: &str) -> Instrument {
    let row = serde_json::json!({
        "tag": tag, "service": "Level", "serial": "S-1",
        "site": {"name": site, "latitude": "39.2", "altitude": "300 m", "liquid_temperature": "12 degC", "lengths": "metric"},
        "liquid": {"name": "water", "density": "", "at": "", "expansion": "", "uncertainty": ""},
        "unit": "m", "riser": "9.5 m", "riser_from": "tape", "span": "12 m", "lrv": "0", "urv": "12",
        "limits": {"lrl": "", "url": "", "min_span": "", "max_working": "", "trim_limit": "", "accuracy": "",
                   "zero_allowance": ""},
        "tolerance": "0.1 m", "trim_rule": "true_at_zero", "head_plan": "head_in_offset"
    });
    serde_json::from_value(row).unwrap()
}
