//! The line of a visit, read from its body without reading the rest.
//!
//! Reading the whole visit, strictly, costs as much as verifying its signature; it is done in the background, when the
//! visit is worked out again, and shows there as unreadable where it is. The keys are those of `bodies/BODIES.md`, frozen.

use bodies::{Confirmed, PersonId, VISIT_VERSION};
use minicbor::Decoder;
use minicbor::decode::Error as Unread;
use record::Entry;

use crate::VisitLine;

mod key {
    pub(super) const MODEL: u64 = 1;
    pub(super) const TECHNICIAN: u64 = 3;
    pub(super) const INSTRUMENT: u64 = 5;
    pub(super) const VERDICT: u64 = 9;
    pub(super) const TAG: u64 = 1;
    pub(super) const SITE: u64 = 5;
    pub(super) const SITE_NAME: u64 = 1;
}

/// The longest text that a list holds, in characters. The entry itself has all of it; a database's index does not take
/// a text of any length, and one long name must not keep the rest of its batch out.
const MOST_TEXT: usize = 200;

/// Cuts a text to what a list holds.
pub(crate) fn brief(text: &str) -> String {
    // PostgreSQL keeps no text with a zero in it.
    text.chars().take(MOST_TEXT).map(|letter| if letter == '\0' { '\u{fffd}' } else { letter }).collect()
}

/// Reads the line of a visit; none where it is of a newer version, or is none.
pub(crate) fn line(entry: &Entry<'_>) -> Option<VisitLine> {
    if !(1..=VISIT_VERSION).contains(&entry.header.body_version) {
        return None;
    }
    let mut raw = Raw::default();
    raw.read(&mut Decoder::new(entry.body)).ok()?;
    Some(VisitLine {
        tag: brief(raw.tag),
        site: brief(raw.site),
        claimed: entry.header.claimed.millis,
        verdict: brief(raw.verdict?),
        technician: PersonId(raw.person?.try_into().ok()?),
        confirmed: Confirmed::from_word(raw.confirmed?)?,
        model: raw.model?,
    })
}

/// The fields as they are met. Texts with nothing in them are left out of a body.
#[derive(Default)]
struct Raw<'b> {
    model: Option<u32>,
    person: Option<&'b [u8]>,
    confirmed: Option<&'b str>,
    tag: &'b str,
    site: &'b str,
    verdict: Option<&'b str>,
}

impl<'b> Raw<'b> {
    fn read(&mut self, from: &mut Decoder<'b>) -> Result<(), Unread> {
        for _ in 0..from.map()?.unwrap_or_default() {
            match from.u64()? {
                key::MODEL => self.model = Some(from.u32()?),
                key::TECHNICIAN => self.technician(from)?,
                key::INSTRUMENT => self.instrument(from)?,
                key::VERDICT => self.verdict = first(from)?,
                _ => from.skip()?,
            }
        }
        Ok(())
    }

    fn technician(&mut self, from: &mut Decoder<'b>) -> Result<(), Unread> {
        if from.array()? != Some(2) {
            return Err(Unread::message("a technician is a number and a word"));
        }
        self.person = Some(from.bytes()?);
        self.confirmed = Some(from.str()?);
        Ok(())
    }

    fn instrument(&mut self, from: &mut Decoder<'b>) -> Result<(), Unread> {
        for _ in 0..from.map()?.unwrap_or_default() {
            match from.u64()? {
                key::TAG => self.tag = from.str()?,
                key::SITE => self.site(from)?,
                _ => from.skip()?,
            }
        }
        Ok(())
    }

    fn site(&mut self, from: &mut Decoder<'b>) -> Result<(), Unread> {
        for _ in 0..from.map()?.unwrap_or_default() {
            match from.u64()? {
                key::SITE_NAME => self.site = from.str()?,
                _ => from.skip()?,
            }
        }
        Ok(())
    }
}

/// Reads the first text of a list and passes by what stands behind it.
fn first<'b>(from: &mut Decoder<'b>) -> Result<Option<&'b str>, Unread> {
    let count = from.array()?.unwrap_or_default();
    let text = if count > 0 { Some(from.str()?) } else { None };
    (1..count).try_for_each(|_| from.skip())?;
    Ok(text)
}

#[cfg(test)]
mod tests {
    use bodies::Visit;
    use record::{open, read_export};

    use super::*;

    /// The frozen examples of both versions, read in whole by `bodies` and in part here.
    #[test]
    fn a_line_says_what_the_whole_visit_says() {
        let one: &[u8] = include_bytes!("../../../../tests/suite/wire/v1/two-visits.headmark");
        let two: &[u8] = include_bytes!("../../../../tests/suite/wire/v2/visit.headmark");
        for file in [one, two] {
            let export = read_export(file).unwrap();
            let entry = open(export.entries[0].bytes).unwrap();
            let whole = Visit::of_entry(&entry).unwrap();
            let line = line(&entry).unwrap();
            assert!(!line.tag.is_empty() && !line.site.is_empty());
            assert_eq!(line.tag, whole.finished.instrument.tag);
            assert_eq!(line.site, whole.finished.instrument.site.name);
            assert_eq!(line.verdict, whole.finished.verdict.code);
            assert_eq!((line.technician, line.model), (whole.technician.person, whole.finished.model));
            assert_eq!(line.confirmed, whole.technician.confirmed);
            assert_eq!(line.claimed, entry.header.claimed.millis);
        }
    }

    #[test]
    fn a_text_is_cut_to_what_a_list_holds() {
        assert_eq!(brief("LT\0-201"), "LT\u{fffd}-201");
        assert_eq!(brief(&"\u{e9}".repeat(5_000)).chars().count(), 200);
    }
}
